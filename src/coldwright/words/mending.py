"""Numbers and phrases of a repair report."""

from __future__ import annotations

from collections.abc import Sequence

from coldwright.repair.refrigerant_change import ChangeOfRefrigerant
from coldwright.repair.simulated import Band
from coldwright.units import Dimension, System, show
from coldwright.words.wording import NBSP, capital
from coldwright.worth.flips import Flip
from coldwright.worth.report import Parts, RepairReport


def spread_words(mid: str, low: str, high: str) -> str:
    """A middle with its ends in brackets, the unit once where all three share it.

    Parameters
    ----------
    mid : str
        Middle, with its unit.
    low : str
        Low end, with its unit.
    high : str
        High end, with its unit.

    Returns
    -------
    str
        Such as '0.66 mm (0.6 to 0.7 mm)'.

    Examples
    --------
    >>> spread_words("5 g", "5 g", "5 g")
    '5 g'
    """
    units = {text.partition(" ")[2] for text in (mid, low, high)}
    if low == high:
        return mid
    if len(units) == 1:
        low, high = (text.partition(" ")[0] for text in (low, high))
    return f"{mid} ({low} to {high})"


def old_capillary(parts: Parts, system: System = System.SI) -> str:
    """Bore and length of the old capillary, with the spread where it was not measured.

    Parameters
    ----------
    parts : Parts
        Parts of the repair.
    system : System
        Units to show.

    Returns
    -------
    str
        One phrase; empty where there is none.
    """
    c, spread = parts.capillary, parts.spreads
    if c is None:
        return ""
    bore, length = (show(v, Dimension.LENGTH, system) for v in (c.old_bore_m, c.old_length_m))
    if c.measured:
        return f"{bore} x {length} (measured)"
    if spread.capillary_bore_m is None or spread.capillary_length_m is None:
        return f"{bore} x {length} (not measured: measure it)"
    ends = [
        " to ".join(show(v, Dimension.LENGTH, system) for v in (band.low, band.high))
        for band in (spread.capillary_bore_m, spread.capillary_length_m)
    ]
    return f"{bore} x {length} (not measured, may be {ends[0]} x {ends[1]}: measure it)"


def old_displacement(parts: Parts) -> str:
    """Displacement of the old compressor, with the spread where no label was read.

    Parameters
    ----------
    parts : Parts
        Parts of the repair.

    Returns
    -------
    str
        One phrase; empty where there is none.
    """
    w, spread = parts.compressor, parts.spreads.displacement_m3
    if w is None:
        return ""
    said = f"{1e6 * w.displacement_m3:.2f} cm3"
    if w.displacement_known or spread is None:
        return said
    ends = f"{1e6 * spread.low:.2f} to {1e6 * spread.high:.2f}"
    return f"{said} (may be {ends}: read its label)"


def refrigerant_lines(changes: Sequence[ChangeOfRefrigerant]) -> tuple[str, ...]:
    """What may go in and what may not, those of the same reason together.

    Parameters
    ----------
    changes : sequence of ChangeOfRefrigerant
        Rulings on other refrigerants.

    Returns
    -------
    tuple of str
        Sentences.
    """
    said: dict[tuple[bool, str], list[str]] = {}
    for change in changes:
        texts = [r.text for r in change.rulings if r.refused != change.allowed]
        # One refusal is enough; a leave holds under all its conditions.
        text = "; ".join(texts) if change.allowed else texts[0]
        text = text.removeprefix(f"{change.wanted}: ").removeprefix(f"{change.wanted} ")
        if not change.allowed:
            text = text.replace(change.wanted, "it")
        said.setdefault((change.allowed, text), []).append(change.wanted)
    return tuple(
        f"{', '.join(names)}: {'may go in' if allowed else 'NO'}{': ' if text else ''}{text}."
        for (allowed, text), names in said.items()
    )


def money(value: float, report: RepairReport) -> str:
    """A sum in the shop's currency.

    Parameters
    ----------
    value : float
        The sum. [currency]
    report : RepairReport
        For the currency's name.

    Returns
    -------
    str
        Such as '120 EUR', the currency as the shop names it.
    """
    whole = f"{value:,.0f}".replace(",", NBSP)
    return f"{whole}{NBSP}{report.shop.currency}".rstrip(NBSP)


def short(value: float) -> str:
    """A number with three figures at most and no empty ones.

    Parameters
    ----------
    value : float
        The number. [any]

    Returns
    -------
    str
        Such as '0.125'.

    Examples
    --------
    >>> short(0.1254)
    '0.125'
    """
    if abs(value) >= 1000.0:
        return f"{value:,.0f}".replace(",", NBSP)
    return f"{value:.3g}"


def band(values: Band, dimension: Dimension, system: System = System.SI) -> str:
    """A spread over the members.

    Parameters
    ----------
    values : Band
        Median and ends. [SI]
    dimension : Dimension
        What kind of quantity.
    system : System
        Units to show.

    Returns
    -------
    str
        Middle with its ends.
    """
    mid, low, high = (show(v, dimension, system) for v in (values.median, values.low, values.high))
    return spread_words(mid, low, high)


def flip(f: Flip, report: RepairReport) -> str:
    """One sentence on where the answer changes.

    Parameters
    ----------
    f : Flip
        Lever and values at which the answer changes.
    report : RepairReport
        The report.

    Returns
    -------
    str
        One sentence.
    """
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
