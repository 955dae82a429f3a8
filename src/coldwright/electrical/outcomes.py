"""Density of a reading for every outcome its part may have: what the likelihood is made of.

Outcomes are those of `catalogue.part_states.SOUND`. All densities of one
reading have the same measure, so only their ratios count. A reading that is no
evidence (a hot start disc, ohms that do not add up) gives None.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from types import MappingProxyType

import numpy as np

from coldwright.catalogue.motor import (
    EQUAL_RTOL,
    LOCKED_ROTOR_RATIO,
    OPEN_OHM,
    OVERLOAD_OPEN_OHM,
    PTC_COOL_MIN,
    PTC_OHM,
    PTC_OPEN_OHM,
    SPEED_SLIP,
    START_TO_RUN,
    SUM_OHM,
)
from coldwright.electrical.bands import LogBand, NearZero
from coldwright.electrical.copper import COPPER, HIGH_K, LOW_K, REFERENCE_K
from coldwright.electrical.meters import Held, Meters
from coldwright.electrical.pins import sum_margin

Densities = Mapping[str, float]
_LEAST = 1e-9  # no reading is quite impossible

# Every number below that is not from `catalogue.motor` is a judgement of ours.
_RATIO = LogBand.of(START_TO_RUN).times(1.0, 0.25)
_WINDING_TEMPERATURE_SPREAD = 0.08  # 20 K of doubt about the winding's temperature
_SHORTED_TO = np.geomspace(0.03, 0.9, 24)  # share of the ohms that shorted turns leave
_LEAST_OHM = 0.05  # a meter's last digit and its leads
# For each outcome, which of run, start, run to start is open.
_OPEN = {
    "sound": (False, False, False),
    "shorted": (False, False, False),
    "run_open": (True, False, True),
    "start_open": (False, True, True),
    "all_open": (True, True, True),
    "common_open": (True, True, False),
}


def windings(m: Meters, held: Held) -> Densities | None:
    """Of the winding resistances together.

    Parameters
    ----------
    m : Meters
        Readings.
    held : Held
        The machine.

    Returns
    -------
    dict of str to float, or None
        Outcome to density; None where nothing was read or it does not add up.

    References
    ----------
    .. [1] Ratio of the windings by `catalogue.motor`; bands of ours.
    """
    if all(r is None for r in m.ohms):
        return None
    if held.variable_speed:
        return _three_phase([r for r in m.ohms if r is not None])
    ohms = add_up(m)
    if ohms is None:
        return None
    opened = tuple(None if r is None else math.isinf(r) for r in ohms)
    run_band = _run_band(held)
    out = dict.fromkeys(_OPEN, _LEAST)
    for outcome, pattern in _OPEN.items():
        if any(o is not None and o != p for o, p in zip(opened, pattern, strict=True)):
            continue
        if outcome == "shorted":
            out[outcome] = _shorted(ohms, run_band)
        else:
            out[outcome] = max(_finite(ohms, run_band, _RATIO), _LEAST)
    return out


def _run_band(held: Held) -> LogBand:
    warm = COPPER.resistance_at(1.0, REFERENCE_K, min(max(held.winding_k, LOW_K), HIGH_K))
    return LogBand.of(held.motors.run_ohm).times(warm, _WINDING_TEMPERATURE_SPREAD)


def add_up(m: Meters) -> tuple[float | None, float | None, float | None] | None:
    """Run, start, run to start with a missing third filled in; None if they do not add up.

    Parameters
    ----------
    m : Meters
        Readings.

    Returns
    -------
    tuple of float or None
        Infinite where open, None where not told; None if they contradict. [ohm]

    Examples
    --------
    >>> add_up(Meters(run_ohm=10.0, start_ohm=20.0))
    (10.0, 20.0, 30.0)
    """
    run, start, both = (
        None if r is None else math.inf if r >= OPEN_OHM else max(r, _LEAST_OHM) for r in m.ohms
    )
    if run is not None and start is not None and both is not None:
        opened = [math.isinf(r) for r in (run, start, both)]
        if sum(opened) == 1:
            return None
        if not any(opened) and abs(both - run - start) > sum_margin(run + start):
            return None
        return run, start, both
    if run is not None and start is not None and not math.isinf(run) and not math.isinf(start):
        return run, start, run + start
    if both is not None and not math.isinf(both):
        if run is not None and not math.isinf(run):
            return (run, both - run, both) if both > run else None
        if start is not None and not math.isinf(start):
            return (both - start, start, both) if both > start else None
    return run, start, both


def _finite(
    ohms: tuple[float | None, ...], run_band: LogBand, ratio: LogBand
) -> float:  # fmt: skip
    """Density of those that read; the others are open, as the outcome wants them."""
    run, start, both = (None if r is None or math.isinf(r) else r for r in ohms)
    if run is not None and start is not None:
        # a named pair swapped by hand is the same pair of windings
        low, high = min(run, start), max(run, start)
        return run_band.density(low) * ratio.density(high / low) / low
    if run is not None:
        return run_band.density(run)
    if start is not None:
        return run_band.times(ratio.mid, ratio.spread).density(start)
    if both is not None:
        lever = ratio.mid / (1.0 + ratio.mid)
        return run_band.times(1.0 + ratio.mid, lever * ratio.spread).density(both)
    return 1.0


def _shorted(ohms: tuple[float | None, ...], run_band: LogBand) -> float:
    total = 0.0
    for left in _SHORTED_TO:
        f = float(left)
        run_shorted = _finite(ohms, run_band.times(f), _RATIO.times(1.0 / f))
        start_shorted = _finite(ohms, run_band, _RATIO.times(f))
        total += 0.5 * (run_shorted + start_shorted)
    return max(total / len(_SHORTED_TO), _LEAST)


def _three_phase(ohms: list[float]) -> Densities:
    """Three windings alike: any pair open or out of line is a burnt motor."""
    out = dict.fromkeys(_OPEN, 0.01)
    if any(r >= OPEN_OHM for r in ohms):
        return out | {"all_open": 1.0}
    even = max(ohms) - min(ohms) <= EQUAL_RTOL * max(ohms) + 0.5 * SUM_OHM
    return out | ({"sound": 1.0} if even and max(ohms) > SUM_OHM else {"shorted": 1.0})


def insulation(m: Meters, held: Held) -> Densities | None:  # noqa: ARG001
    """Of the resistance from the windings to the shell.

    Parameters
    ----------
    m : Meters
        Readings.
    held : Held
        The machine.

    Returns
    -------
    dict of str to float, or None
        Outcome to density; None where it was not read.

    References
    ----------
    .. [1] Bands of ours.
    """
    ohm = m.insulation_ohm
    if ohm is None:
        return None
    if ohm >= 1e9:  # beyond the meter; some faults to earth show at 500 V only
        return {"good": 0.5, "low": 0.08}
    ohm = max(ohm, 1.0)
    return {
        "good": 0.5 * LogBand(1e8, 1.6).density(ohm),
        "low": 0.92 * LogBand(1e4, 3.5).density(ohm),
    }


def start_device(m: Meters, held: Held) -> Densities | None:
    """Of a PTC start disc; None while it is hot.

    Parameters
    ----------
    m : Meters
        Readings.
    held : Held
        The machine.

    Returns
    -------
    dict of str to float, or None
        Outcome to density; None where it was not read or is hot.

    References
    ----------
    .. [1] Spans by `catalogue.motor`; bands and shares of ours.
    """
    ohm = m.start_device_ohm
    if ohm is None or held.since_stop_min < PTC_COOL_MIN:
        return None
    if ohm >= PTC_OPEN_OHM:
        return {"good": _LEAST, "open": 1.0, "short": _LEAST}
    ohm = max(ohm, _LEAST_OHM)
    small, large = (LogBand.of(span) for span in PTC_OHM)
    good = (
        0.7 * small.density(ohm) + 0.2 * large.density(ohm) + 0.1 * LogBand(9.0, 1.2).density(ohm)
    )
    # a cracked disc may still touch: far too many ohms, yet not open
    return {
        "good": good,
        "open": 0.15 * LogBand(200.0, 0.8).density(ohm),
        "short": NearZero(0.5).density(ohm),
    }


def overload(m: Meters, held: Held) -> Densities | None:  # noqa: ARG001
    """Of an overload outside the shell, read by itself.

    Parameters
    ----------
    m : Meters
        Readings.
    held : Held
        The machine.

    Returns
    -------
    dict of str to float, or None
        Outcome to density; None where it was not read.

    References
    ----------
    .. [1] Limit by `catalogue.motor`; bands of ours.
    """
    ohm = m.overload_ohm
    if ohm is None:
        return None
    if ohm >= OVERLOAD_OPEN_OHM:
        return {"closed": _LEAST, "open": 1.0}
    return {
        "closed": NearZero(0.5).density(ohm) + 0.05 * LogBand(3.0, 1.0).density(max(ohm, 1e-3)),
        "open": 0.1 * LogBand(20.0, 1.0).density(max(ohm, 1e-3)),
    }


def capacitor(m: Meters, held: Held) -> Densities | None:  # noqa: ARG001
    """Of a capacitor's share of its printed value.

    Parameters
    ----------
    m : Meters
        Readings.
    held : Held
        The machine.

    Returns
    -------
    dict of str to float, or None
        Outcome to density; None where it was not read.
    """
    share = m.capacitor_fraction
    if share is None:
        return None
    share = max(share, 1e-3)
    return {"good": LogBand(1.0, 0.06).density(share), "weak": LogBand(0.5, 0.6).density(share)}


def supply(m: Meters, held: Held) -> Densities | None:
    """Of the voltage under load against the plate's.

    Parameters
    ----------
    m : Meters
        Readings.
    held : Held
        The machine.

    Returns
    -------
    dict of str to float, or None
        Outcome to density; None where it was not read.

    References
    ----------
    .. [1] Bands of ours.
    """
    if m.supply_v is None:
        return None
    ratio = m.supply_v / held.nominal_v
    return {
        "normal": LogBand(1.0, 0.04).density(ratio),
        "low": LogBand(0.75, 0.12).density(ratio) if ratio < 1.0 else _LEAST,
        "high": LogBand(1.22, 0.06).density(ratio) if ratio > 1.0 else _LEAST,
        "absent": NearZero(0.05).density(ratio),
    }


def draw(m: Meters, held: Held) -> Densities | None:
    """Of the current: the one while starting if it was read, else the compressor's, the whole's.

    Parameters
    ----------
    m : Meters
        Readings.
    held : Held
        The machine.

    Returns
    -------
    dict of str to float, or None
        Outcome to density; None where no current was read.

    References
    ----------
    .. [1] Locked rotor's span by `catalogue.motor`; the other bands are ours.
    """
    amps = next((a for a in (m.starting_a, m.compressor_a, m.appliance_a) if a is not None), None)
    if amps is None:
        return None
    whole = m.starting_a is None and m.compressor_a is None
    ratio = amps / held.full_load_a
    extra = 0.0 if held.rated_a > 0.0 else 0.35  # full load taken from what is usual
    locked = LogBand.of(LOCKED_ROTOR_RATIO).times(1.0, extra)
    return {
        "none": NearZero(0.2 if whole else 0.04).density(ratio),
        "running": LogBand(0.75, 0.30).times(1.0, extra).density(ratio),
        "one_winding": LogBand(1.8, 0.5).times(1.0, extra).density(ratio),
        "locked": locked.density(ratio),
        "over": locked.times(2.0, 0.2).density(ratio),
    }


def speed(m: Meters, held: Held) -> Densities | None:
    """Of the compressor's speed.

    Parameters
    ----------
    m : Meters
        Readings.
    held : Held
        The machine.

    Returns
    -------
    dict of str to float, or None
        Outcome to density; None where it was not read.

    References
    ----------
    .. [1] Slip by `catalogue.motor`; bands of ours.
    """
    if m.speed_per_s is None:
        return None
    own = held.frequency_hz * (1.0 - SPEED_SLIP)
    turning = LogBand(45.0, 0.4) if held.variable_speed else LogBand(own, 0.04)
    return {
        "turning": turning.density(m.speed_per_s),
        "still": NearZero(0.5).density(m.speed_per_s),
    }


Rule = Callable[[Meters, Held], Densities | None]
RULES: Mapping[str, Rule] = MappingProxyType(
    {
        "windings": windings,
        "insulation": insulation,
        "start_device": start_device,
        "overload": overload,
        "capacitor": capacitor,
        "supply": supply,
        "draw": draw,
        "speed": speed,
    }
)
