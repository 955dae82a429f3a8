"""Numbers of a repair report in words."""

from __future__ import annotations

from coldwright.repair.simulated import Band
from coldwright.units import Dimension, show
from coldwright.words.mending import spread_words
from coldwright.words.wording import NBSP, capital
from coldwright.worth.flips import Flip
from coldwright.worth.report import RepairReport


def money(value: float, report: RepairReport) -> str:
    """A sum in the shop's currency.

    Parameters
    ----------
    value : float
        The sum. [currency]
    report : RepairReport
        For the currency's name.
    """
    whole = f"{value:,.0f}".replace(",", NBSP)
    return f"{whole}{NBSP}{report.shop.currency}".rstrip(NBSP)


def short(value: float) -> str:
    """A number with three figures at most and no empty ones.

    Parameters
    ----------
    value : float
        The number. [any]
    """
    if abs(value) >= 1000.0:
        return f"{value:,.0f}".replace(",", NBSP)
    return f"{value:.3g}"


def band(values: Band, dimension: Dimension) -> str:
    """A spread over the members."""
    mid, low, high = (show(v, dimension) for v in (values.median, values.low, values.high))
    return spread_words(mid, low, high)


def flip(f: Flip, report: RepairReport) -> str:
    """One sentence on where the answer changes."""
    scale, unit = (100.0, "%") if f.unit == "fraction" else (1.0, f.unit)
    unit = "years" if unit == "year" else unit

    def said(value: float) -> str:
        return f"{short(scale * value)}{NBSP}{unit}".rstrip(NBSP)

    ends = [
        f"{word} {said(value)} the cheapest is: {report.of(to).alternative.title.lower()}"
        for word, value, to in (("below", f.below, f.below_to), ("above", f.above, f.above_to))
        if value is not None and to is not None
    ]
    if not ends:
        ends = [f"no change between {said(f.searched_low)} and {said(f.searched_high)}"]
    return f"{capital(f.quantity)}, now {said(f.now)}: {'; '.join(ends)}."
