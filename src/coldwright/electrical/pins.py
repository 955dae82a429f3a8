"""Three readings between three pins nobody has named: which is common, run, start.

Both windings meet at the common pin, so run to start reads their sum and is the
largest; the smallest is the run winding. (A series circuit; common practice.)
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from coldwright.catalogue.motor import (
    EQUAL_RTOL,
    OPEN_OHM,
    START_TO_RUN,
    SUM_OHM,
    SUM_RTOL,
    TWINS_RATIO,
)
from coldwright.electrical.bands import LogBand
from coldwright.errors import Refused, require

PAIRS = ((1, 2), (1, 3), (2, 3))


class Pattern(Enum):
    """What three readings look like together."""

    WINDINGS = "two windings in series"
    SHORTED = "next to no resistance"
    THREE_EQUAL = "three equal windings"
    ONE_PAIR = "one pair reads, the others are open"
    ALL_OPEN = "all pairs are open"
    INCONSISTENT = "the three do not fit together"


@dataclass(frozen=True, slots=True)
class Pins:
    """Pins by number (0 where not told) and ohms between them; infinite where open."""

    pattern: Pattern
    common: int
    run: int
    start: int
    run_ohm: float
    start_ohm: float
    run_to_start_ohm: float
    computed: str  # 'run', 'start', 'run_to_start' where that one follows from the other two
    sum_error_ohm: float  # the largest less the sum of the other two; NaN where one is computed
    probability: float  # that the pins are so named, where more than one naming fits
    note: str


def name_pins(readings: tuple[float | None, float | None, float | None]) -> tuple[Pins, ...]:
    """Every naming that fits, the likeliest first.

    Parameters
    ----------
    readings : tuple of float or None
        Ohms between pins 1 and 2, 1 and 3, 2 and 3; None where not read, infinite or
        above `OPEN_OHM` where open. [ohm]

    Returns
    -------
    tuple of Pins
        At least one; two or more where a missing resistance leaves it open.

    Raises
    ------
    OutOfRange
        If a resistance is negative or not a number.
    Refused
        If fewer than two were read.

    Examples
    --------
    >>> pins = name_pins((30.0, 10.0, 20.0))[0]
    >>> pins.common, pins.run, pins.start
    (3, 1, 2)
    """
    for ohm in readings:
        if ohm is not None:
            require("winding resistance", ohm, "ohm", 0.0, math.inf)
    missing = [n for n, ohm in enumerate(readings) if ohm is None]
    if len(missing) > 1:
        raise Refused("pins cannot be named from one resistance", ("read two pairs or three",))
    if missing:
        return _with_one_missing(readings, missing[0])
    a, b, c = (math.inf if r is None or r >= OPEN_OHM else r for r in readings)
    return (_of_three((a, b, c)),)


def sum_margin(total_ohm: float) -> float:
    """How far the largest may lie from the sum of the other two. [ohm]

    Parameters
    ----------
    total_ohm : float
        The sum. [ohm]

    Returns
    -------
    float
        Margin either way. [ohm]

    References
    ----------
    .. [1] Both margins are ours.
    """
    return SUM_OHM + SUM_RTOL * total_ohm


def _of_three(ohms: tuple[float, float, float]) -> Pins:
    opened = [math.isinf(r) for r in ohms]
    if all(opened):
        return _unnamed(Pattern.ALL_OPEN, ohms, "Cold, it is a burnt pin or both windings.")
    if sum(opened) == 2:
        i, j = PAIRS[opened.index(False)]
        alone = ({1, 2, 3} - {i, j}).pop()
        note = (
            f"Pin {alone} has no way to the others: an open overload on a hot shell if it is"
            " common, else an open winding. Let it cool and read again."
        )
        return _unnamed(Pattern.ONE_PAIR, ohms, note)
    if sum(opened) == 1:
        note = "Two pairs that share a pin conduct, so the third must: read it again."
        return _unnamed(Pattern.INCONSISTENT, ohms, note)
    largest = max(range(3), key=lambda n: ohms[n])
    rest = [n for n in range(3) if n != largest]
    total = ohms[rest[0]] + ohms[rest[1]]
    if ohms[largest] <= SUM_OHM:
        note = "Every pair reads next to nothing: shorted, or the meter's leads touch."
        return _unnamed(Pattern.SHORTED, ohms, note)
    if max(ohms) - min(ohms) <= EQUAL_RTOL * max(ohms) + 0.5 * SUM_OHM:
        note = (
            "Three equal windings: a variable-speed compressor, no pin is common. Only its drive"
            " may feed it; never put it on the mains."
        )
        return _unnamed(Pattern.THREE_EQUAL, ohms, note)
    error = ohms[largest] - total
    if abs(error) > sum_margin(total):
        note = (
            f"The largest reads {ohms[largest]:.3g} ohm, the other two make {total:.3g} ohm: they"
            " must agree. Clean the pins, pull every lead, zero the meter's leads, read again."
        )
        return _unnamed(Pattern.INCONSISTENT, ohms, note, error)
    return _named(ohms, largest, "", error, 1.0)


def _named(
    ohms: tuple[float, float, float], largest: int, computed: str, error: float, odds: float
) -> Pins:
    rest = sorted((n for n in range(3) if n != largest), key=lambda n: ohms[n])
    common = ({1, 2, 3} - set(PAIRS[largest])).pop()
    run, start = (({*PAIRS[n]} - {common}).pop() for n in rest)
    run_ohm, start_ohm = ohms[rest[0]], ohms[rest[1]]
    note = ""
    if start_ohm < TWINS_RATIO * run_ohm:
        note = "Run and start are too alike to be told by ohms alone: follow the start device."
    return Pins(
        Pattern.WINDINGS, common, run, start, run_ohm, start_ohm, ohms[largest], computed, error,
        odds, note,
    )  # fmt: skip


def _unnamed(
    pattern: Pattern, ohms: tuple[float, float, float], note: str, error: float = math.nan
) -> Pins:
    return Pins(pattern, 0, 0, 0, *ohms, "", error, 1.0, note)


def _with_one_missing(readings: tuple[float | None, ...], missing: int) -> tuple[Pins, ...]:
    """The third is the sum of the two, or their difference: both fit, one is likelier."""
    known = [n for n in range(3) if n != missing]
    pair = [math.inf if (r := readings[n]) is None or r >= OPEN_OHM else r for n in known]
    if any(math.isinf(r) for r in pair):
        raise Refused(
            "two readings with one open do not name the pins", ("read the third pair as well",)
        )
    small, large = sorted(pair)
    found = []
    ratio = LogBand.of(START_TO_RUN)
    weights = []
    for value in (small + large, large - small):
        ohms = [0.0, 0.0, 0.0]
        for n, ohm in zip(known, pair, strict=True):
            ohms[n] = ohm
        ohms[missing] = value
        biggest = max(range(3), key=lambda n: ohms[n])
        rest = sorted(ohms[n] for n in range(3) if n != biggest)
        if rest[0] <= 0.5 * SUM_OHM:
            continue
        weights.append(ratio.density(rest[1] / rest[0]))
        found.append((ohms, biggest))
    if not found:
        raise Refused("two readings of next to nothing name no pin", ("zero the meter's leads",))
    whole = sum(weights)
    out = []
    for (ohms, biggest), weight in zip(found, weights, strict=True):
        pins = _named((ohms[0], ohms[1], ohms[2]), biggest, "", math.nan, weight / whole)
        which = next(
            name for name, pair_of in (
                ("run", {pins.common, pins.run}),
                ("start", {pins.common, pins.start}),
                ("run_to_start", {pins.run, pins.start}),
            ) if pair_of == set(PAIRS[missing])
        )  # fmt: skip
        out.append(_computed(pins, which, PAIRS[missing]))
    return tuple(sorted(out, key=lambda p: -p.probability))


def _computed(pins: Pins, which: str, pair: tuple[int, int]) -> Pins:
    how = "sum" if which == "run_to_start" else "difference"
    note = f"Pins {pair[0]} and {pair[1]} were not read: their ohms are the {how} of the other two."
    return Pins(
        pins.pattern, pins.common, pins.run, pins.start, pins.run_ohm, pins.start_ohm,
        pins.run_to_start_ohm, which, math.nan, pins.probability, f"{note} {pins.note}".strip(),
    )  # fmt: skip
