"""Sentences of a repair report that command line and pages share."""

from __future__ import annotations

from collections.abc import Sequence

from coldwright.repair.refrigerant_change import ChangeOfRefrigerant
from coldwright.units import Dimension, System, show
from coldwright.worth.report import Parts


def spread_words(mid: str, low: str, high: str) -> str:
    """A middle with its ends in brackets, the unit once where all three share it."""
    units = {text.partition(" ")[2] for text in (mid, low, high)}
    if low == high:
        return mid
    if len(units) == 1:
        low, high = (text.partition(" ")[0] for text in (low, high))
    return f"{mid} ({low} to {high})"


def old_capillary(parts: Parts, system: System = System.SI) -> str:
    """Bore and length of the old capillary, with the spread where it was not measured."""
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
    """Displacement of the old compressor, with the spread where no label was read."""
    w, spread = parts.compressor, parts.spreads.displacement_m3
    if w is None:
        return ""
    said = f"{1e6 * w.displacement_m3:.2f} cm3"
    if w.displacement_known or spread is None:
        return said
    ends = f"{1e6 * spread.low:.2f} to {1e6 * spread.high:.2f}"
    return f"{said} (may be {ends}: read its label)"


def refrigerant_lines(changes: Sequence[ChangeOfRefrigerant]) -> tuple[str, ...]:
    """What may go in and what may not, those of the same reason together."""
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
