"""Plain text that a phone shows without scrolling sideways."""

from __future__ import annotations

import re
import sys
import textwrap
from collections.abc import Iterable

from coldwright.words import wording
from coldwright.words.wording import capital as capital

WIDTH = 60
_BAR = 16  # characters of a full bar
_NBSP = "\N{NO-BREAK SPACE}"  # not a break to textwrap
_UNIT_AHEAD = re.compile(
    r"(?<=\d) (?=(?:%|°[CF]|K|W|g|kg|oz|kg/h|m|mm|ft|in|bar|psig|inHg|min|h)\b|%)"
)
_SOLID, _ASCII = "█", "#"


def wrapped(text: str, *, first: str = "", rest: str | None = None) -> list[str]:
    """Text in lines of at most `WIDTH`; `first` before the first, `rest` before the others.

    A number and its unit stay on one line.

    Parameters
    ----------
    text : str
        One paragraph.
    first : str
        Before the first line, such as a number or a dash.
    rest : str, optional
        Before every other line; blanks as long as `first` where not given.

    Returns
    -------
    list of str
        Lines of at most `WIDTH` characters.

    Examples
    --------
    >>> wrapped("too warm", first="- ")
    ['- too warm']
    """
    later = " " * len(first) if rest is None else rest
    glued = _UNIT_AHEAD.sub(_NBSP, text)
    lines = textwrap.wrap(glued, WIDTH, initial_indent=first, subsequent_indent=later) or [first]
    return [line.replace(_NBSP, " ") for line in lines]


def items(lines: Iterable[str], mark: str = "- ") -> list[str]:
    """Each text as an item with a mark in front.

    Parameters
    ----------
    lines : iterable of str
        Texts, one per item.
    mark : str
        Before each item.

    Returns
    -------
    list of str
        Lines.

    Examples
    --------
    >>> items(["too warm", "loud"])
    ['- too warm', '- loud']
    """
    return [line for text in lines for line in wrapped(text, first=mark)]


def table(rows: Iterable[tuple[str, str]], indent: str = "") -> list[str]:
    """Label and value side by side; a value too long goes on below itself.

    Parameters
    ----------
    rows : Iterable[tuple[str, str]]
        Label and value.
    indent : str
        Before each line.

    Returns
    -------
    list of str
        Lines.
    """
    pairs = list(rows)
    column = max((len(label) for label, _ in pairs), default=0) + 2
    return [
        line
        for label, value in pairs
        for line in wrapped(value, first=indent + label.ljust(column))
    ]


def percent(probability: float) -> str:
    """A probability in whole percent; never a false 0 or 100.

    Parameters
    ----------
    probability : float
        Between 0 and 1. [-]

    Returns
    -------
    str
        Such as '45 %'.

    Examples
    --------
    >>> percent(0.452)
    '45 %'
    """
    return wording.percent(probability).replace(_NBSP, " ")


def bar(probability: float) -> str:
    """A bar as long as the probability, of a character that the terminal can show.

    Parameters
    ----------
    probability : float
        Between 0 and 1. [-]

    Returns
    -------
    str
        Characters.
    """
    encoding = getattr(sys.stdout, "encoding", None) or "ascii"
    try:
        _SOLID.encode(encoding)
        character = _SOLID
    except (UnicodeEncodeError, LookupError):
        character = _ASCII
    return character * round(_BAR * min(max(probability, 0.0), 1.0))
