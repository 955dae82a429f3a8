"""What is told, in sections: frozen, in words, for whichever client shows it.

A use case's result becomes one report; the terminal and the page each know how to show the
kinds of part below and add nothing to them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution where its step is shown."""

    title: str
    lines: tuple[str, ...]
    kind: ClassVar[str] = "caution"


@dataclass(frozen=True, slots=True)
class Fact:
    """A name and what is known under it."""

    name: str
    value: str


@dataclass(frozen=True, slots=True)
class Facts:
    """Names and values side by side."""

    rows: tuple[Fact, ...]
    kind: ClassVar[str] = "facts"


@dataclass(frozen=True, slots=True)
class Text:
    """One paragraph; `tone` is 'strong', 'quiet' or empty."""

    text: str
    tone: str = ""
    kind: ClassVar[str] = "text"


@dataclass(frozen=True, slots=True)
class Points:
    """Lines of a list; `tone` as a paragraph's."""

    lines: tuple[str, ...]
    tone: str = ""
    kind: ClassVar[str] = "points"


@dataclass(frozen=True, slots=True)
class Heading:
    """Over what follows within a section."""

    text: str
    note: str = ""
    kind: ClassVar[str] = "heading"


@dataclass(frozen=True, slots=True)
class Barred:
    """What must not be done here, and why."""

    lines: tuple[str, ...]
    kind: ClassVar[str] = "barred"


@dataclass(frozen=True, slots=True)
class Chance:
    """One of several possibilities; `share` is its probability in percent, for a bar."""

    name: str
    figure: str
    share: float


@dataclass(frozen=True, slots=True)
class Chances:
    """Possibilities under each other, likeliest first."""

    rows: tuple[Chance, ...]
    kind: ClassVar[str] = "chances"


@dataclass(frozen=True, slots=True)
class Bar:
    """From where to where a number may be, and its mean, in percent of the widest."""

    start: float
    end: float
    mark: float


@dataclass(frozen=True, slots=True)
class Way:
    """One of several ways beside the others; `key` names it to the client, if it leads on."""

    name: str
    figure: str
    lines: tuple[str, ...]
    details: tuple[str, ...] = ()
    facts: tuple[Fact, ...] = ()
    bar: Bar | None = None
    best: bool = False
    key: str = ""
    kind: ClassVar[str] = "way"


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a sheet, its cautions before what is done."""

    number: int
    title: str
    time: str
    cautions: tuple[Caution, ...]
    do: tuple[str, ...]
    tools: str = ""
    hold: str = ""
    source: str = ""
    done: bool = False
    kind: ClassVar[str] = "step"


@dataclass(frozen=True, slots=True)
class Table:
    """Rows under the heads of their columns."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    kind: ClassVar[str] = "table"


@dataclass(frozen=True, slots=True)
class Blanks:
    """Lines to be filled in by hand."""

    names: tuple[str, ...]
    kind: ClassVar[str] = "blanks"


Part = Caution | Chances | Facts | Text | Points | Heading | Barred | Way | Step | Table | Blanks


@dataclass(frozen=True, slots=True)
class Section:
    """Parts under a title; a folded one is shown when asked for, where a client can."""

    title: str
    parts: tuple[Part, ...]
    folded: bool = False


def section(title: str, *parts: Part, folded: bool = False) -> tuple[Section, ...]:
    """A section of those parts that say something; none where none does.

    Parameters
    ----------
    title : str
        Over it.
    *parts : Part
        In order.
    folded : bool
        Whether it may wait to be asked for.

    Returns
    -------
    tuple of Section
        One section or none.
    """
    said = tuple(part for part in parts if not _empty(part))
    return (Section(title, said, folded),) if said else ()


def _empty(part: Part) -> bool:
    match part:
        case Text():
            return not part.text
        case Facts() | Chances():
            return not part.rows
        case Points() | Barred() | Caution():
            return not part.lines
    return False
