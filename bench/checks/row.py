"""One row of the page of checks, and the few ways a row is judged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from math import isfinite


class Verdict(Enum):
    """What a check says of the model."""

    KIND = "kind"
    UNKIND = "unkind"
    NOT_YET = "not yet"


class Known(Enum):
    """How the published figure is known to us."""

    FULL_TEXT = "full text"
    ABSTRACT = "abstract"
    SECONDARY = "secondary source"
    MEMORY = "from memory"
    COMPUTED = "computed with a general-purpose library"
    PRACTICE = "common practice"
    NOTHING = "nothing found"


@dataclass(frozen=True, slots=True)
class Source:
    """Where a figure was published."""

    text: str
    known: Known


NOTHING = 1e-12  # a deviation no print could show

PRACTICE = Source("common practice, no published source", Known.PRACTICE)


@dataclass(frozen=True, slots=True)
class Row:
    """One check with its verdict."""

    key: str  # stands for the row in tests
    held: str
    source: Source
    published: str
    ours: str
    deviation: str
    allowed: str
    verdict: Verdict
    value: float  # what was judged; NaN where nothing was computed
    note: str = ""  # why, as far as known


@dataclass(frozen=True, slots=True)
class Part:
    """A headed group of rows."""

    title: str
    words: str  # how the figures of this part were computed
    rows: tuple[Row, ...]


def near(
    key: str,
    held: str,
    source: Source,
    published: float,
    ours: float,
    *,
    allowed: float,
    why: str,
    unit: str = "",
    digits: int = 4,
    note: str = "",
) -> Row:
    """Our figure against one published figure, by relative deviation."""
    off = ours / published - 1.0
    shown = "rounding" if abs(off) < NOTHING else f"{100.0 * off:+.2g} %"
    return Row(
        key, held, source, _with(published, unit, digits), _with(ours, unit, digits),
        shown, _limit(100.0 * allowed, "%", why), _judged(abs(off) <= allowed), ours, note,
    )  # fmt: skip


def between(
    key: str,
    held: str,
    source: Source,
    low: float,
    high: float,
    ours: float,
    *,
    why: str = "the published range",
    published: str = "",
    unit: str = "",
    digits: int = 3,
    note: str = "",
) -> Row:
    """Our figure against a published range."""
    if low <= ours <= high:
        off = "inside"
    else:
        edge = low if ours < low else high
        measure = "points" if unit == "%" else unit
        off = f"{ours - edge:+.{digits}g} {measure} from its edge".replace("  ", " ")
    stated = f"{low:.{digits}g} to {high:.{digits}g} {unit}".strip()
    return Row(
        key, held, source, published or stated, _with(ours, unit, digits), off,
        f"{stated} ({why})" if published else why, _judged(low <= ours <= high), ours, note,
    )  # fmt: skip


def most(
    key: str,
    held: str,
    source: Source,
    ours: float,
    *,
    allowed: float,
    why: str,
    published: str,
    digits: int = 2,
    scale: float = 100.0,
    unit: str = "%",
    note: str = "",
) -> Row:
    """A deviation that must stay below a limit."""
    shown = "rounding" if ours < NOTHING else f"{scale * ours:.{digits}g} {unit}".strip()
    return Row(
        key, held, source, published, "see deviation", shown,
        _limit(scale * allowed, unit, why), _judged(ours <= allowed), ours, note,
    )  # fmt: skip


def counted(
    key: str,
    held: str,
    source: Source,
    published: str,
    agrees: Sequence[bool],
    ours: str,
    *,
    note: str = "",
) -> Row:
    """Statements that must hold in every case of a list."""
    right = sum(map(bool, agrees))
    return Row(
        key, held, source, published, ours, f"{right} of {len(agrees)} agree", "all must agree",
        _judged(right == len(agrees)), right / len(agrees), note,
    )  # fmt: skip


def not_yet(key: str, held: str, source: Source, published: str, why: str) -> Row:
    """A published figure the model cannot be held to."""
    return Row(key, held, source, published, "-", "-", "-", Verdict.NOT_YET, float("nan"), why)


def _limit(value: float, unit: str, why: str) -> str:
    return why if why == "rounding" else f"{value:.3g} {unit} ({why})"


def _judged(good: bool) -> Verdict:
    return Verdict.KIND if good else Verdict.UNKIND


def _with(value: float, unit: str, digits: int) -> str:
    if not isfinite(value):
        return "none"
    shown = f"{value:.{digits}g}"
    if "e" in shown:
        shown = f"{value:.0f}"
    return f"{shown} {unit}".strip()
