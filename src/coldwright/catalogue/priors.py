"""Odds of each fault before any reading, and how its severity is spread.

No shares of faults among household appliances that do not cool are published
that we know of. Every number here is a judgement of ours, with its reason;
what is known moves the odds by a factor, and the odds are then scaled to one.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from coldwright.catalogue.tools import pick
from coldwright.errors import OutOfRange, require


@dataclass(frozen=True, slots=True)
class Severity:
    """Range of a fault's severity, flat in the number or (`by_ratio`) in its logarithm."""

    low: float
    high: float
    unit: str  # "fraction", "W" or "mol"
    by_ratio: bool = False


@dataclass(frozen=True, slots=True)
class Fault:
    """A fault in scope: its share among appliances that do not cool as they should."""

    identifier: str
    share: float
    severity: Severity | None
    why: str


_FLOW = Severity(0.05, 0.9, "fraction")
_FAULTS = (
    Fault("nothing_wrong", 0.12, None, "hot room, setting, use: a common call"),
    Fault("undercharge", 0.175, Severity(0.15, 0.95, "fraction"),
          "leaks are the usual end of a sealed circuit"),
    Fault("overcharge", 0.02, Severity(1.05, 1.6, "fraction"), "only after somebody added some"),
    Fault("capillary_restricted", 0.05, _FLOW, "debris, oil wax, a kink; rarer than leaks"),
    Fault("capillary_blocked", 0.028, None, "the end of a restriction"),
    Fault("drier_restricted", 0.036, _FLOW, "crumbling desiccant, debris on the screen"),
    Fault("weak_compressor", 0.055, Severity(0.1, 0.9, "fraction"), "worn valves, old machines"),
    Fault("condenser_air", 0.083, Severity(0.1, 0.9, "fraction"), "dust and built-in cabinets"),
    Fault("evaporator_air", 0.18, Severity(0.05, 0.9, "fraction"),
          "defrost parts and fans of frost-free machines fail often"),
    Fault("heat_load", 0.08, Severity(5.0, 150.0, "W", by_ratio=True),
          "seals and doors; gasket air 1.5-29 W (quoted in gasket studies), stuck heater above"),
    Fault("compressor_not_running", 0.095, None, "starting device, supply, winding, seized"),
    Fault("non_condensables", 0.006, Severity(0.002, 0.05, "mol", by_ratio=True),
          "a hasty evacuation; air drawn in by a leak comes with a lost charge"),
    Fault("moisture", 0.01, None, "circuits that were opened, or leak below atmospheric pressure"),
    Fault("control", 0.075, None, "thermostat, air flap, defrost control: sound circuits all"),
    Fault("wrong_fill", 0.006, None, "only after somebody worked on it"),
)  # fmt: skip
FAULTS: Mapping[str, Fault] = MappingProxyType({fault.identifier: fault for fault in _FAULTS})

_ORDER = tuple(FAULTS)
# One factor per fault in the order of FAULTS: nothing, under-, overcharge, capillary restricted,
# blocked, drier, weak compressor, condenser air, evaporator air, heat load, not running,
# non-condensables, moisture, control, wrong fill.
_COMPLAINTS = {
    "nothing_cold": (0.3, 1.3, 0.5, 1.2, 2.5, 1.2, 1.2, 0.6, 0.4, 0.3, 2.5, 0.8, 1.5, 1.0, 1.0),
    "fresh_food_warm_freezer_good": (
        1.2, 0.5, 0.5, 0.5, 0.05, 0.5, 0.3, 0.5, 3.0, 1.0, 0.03, 0.4, 0.3, 3.0, 0.5,
    ),
    "both_too_warm": (
        0.6, 1.3, 1.0, 1.3, 0.7, 1.3, 1.4, 1.3, 0.9, 1.0, 0.6, 1.3, 1.2, 0.7, 1.2,
    ),
    "runs_all_the_time": (
        1.2, 1.3, 1.3, 1.2, 0.6, 1.2, 1.3, 1.5, 1.0, 1.8, 0.03, 1.5, 0.8, 0.7, 1.2,
    ),
    "does_not_start": (
        1.0, 0.15, 0.2, 0.15, 0.2, 0.15, 0.2, 0.3, 0.15, 0.1, 10.0, 0.3, 0.15, 2.0, 0.3,
    ),
    "trips_the_breaker": (
        1.0, 0.2, 0.3, 0.2, 0.2, 0.2, 0.3, 0.3, 0.3, 0.5, 8.0, 0.3, 0.2, 0.5, 0.5,
    ),
    "freezer_warm_fresh_food_good": (
        2.0, 1.2, 0.5, 0.8, 0.2, 0.8, 0.8, 0.7, 1.2, 0.8, 0.05, 0.7, 0.7, 1.3, 0.8,
    ),
    # too cold is what a contact, sensor or flap does that does not let go, or a setting
    "too_cold": (1.8, 0.3, 0.7, 0.2, 0.02, 0.2, 0.1, 0.2, 0.6, 0.3, 0.03, 0.2, 0.1, 9.0, 0.3),
    "fresh_food_freezes": (
        1.6, 0.6, 0.7, 0.3, 0.02, 0.3, 0.1, 0.2, 0.6, 0.3, 0.03, 0.2, 0.1, 9.0, 0.3,
    ),
    "noise": (2.5, 0.6, 1.5, 0.7, 0.6, 0.7, 1.2, 1.3, 1.5, 0.6, 0.8, 1.5, 0.6, 0.5, 1.0),
    "frost_or_water": (
        1.2, 0.8, 2.5, 0.5, 0.2, 0.5, 0.4, 0.5, 2.5, 2.0, 0.3, 0.5, 0.5, 1.0, 1.0,
    ),
}  # fmt: skip
COMPLAINT_FACTORS: Mapping[str, Mapping[str, float]] = MappingProxyType(
    {
        complaint: MappingProxyType(dict(zip(_ORDER, factors, strict=True)))
        for complaint, factors in _COMPLAINTS.items()
    }
)
# New joints leak, flux and debris stay behind, charges are put in by feel.
_REPAIRED = {
    "overcharge": 8.0,
    "undercharge": 1.8,
    "capillary_restricted": 2.5,
    "drier_restricted": 2.5,
    "capillary_blocked": 2.0,
    "weak_compressor": 1.3,
    "non_condensables": 4.0,
    "moisture": 4.0,
    "wrong_fill": 8.0,
}
_NEVER_OPENED = {
    "overcharge": 0.05, "non_condensables": 0.2, "moisture": 0.4, "wrong_fill": 0.02,
}  # fmt: skip
# It leaked then; was the leak found?
_TOPPED_UP = {"overcharge": 3.0, "undercharge": 2.5, "wrong_fill": 1.5}
# Growth from 0 to many months since it worked well, half way at 2 months.
_SLOW = {
    "undercharge": (0.7, 1.6),  # a slow leak starves it over months
    "condenser_air": (0.8, 1.2),
    "weak_compressor": (0.8, 1.2),
    "heat_load": (0.8, 1.2),
    "capillary_blocked": (1.5, 0.6),
    "compressor_not_running": (1.6, 0.6),
}
_HALF_MONTHS = 2.0
# Growth from new to old, half way at 12 years: valves wear, steel rusts, seals harden.
_AGEING = {"weak_compressor": (0.5, 2.0), "undercharge": (0.8, 1.3), "heat_load": (0.7, 1.4)}
_HALF_AGE_S = 12.0 * 31_557_600.0
_EVAPORATORS = {"fan": 1.3, "plate": 0.4, "cold_wall": 0.4}  # factor on evaporator_air
_CONDENSERS = {"fan": 1.3, "static": 1.0, "skin": 0.4}  # factor on condenser_air


@dataclass(frozen=True, slots=True)
class Background:
    """What is known beside the complaint; None where it is not."""

    age_s: float | None = None
    months_since_ok: float | None = None
    earlier_repair: bool | None = None
    charge_added_kg: float | None = None
    condenser: str | None = None
    evaporator: str | None = None


UNTOLD = Background()


def fault_prior(complaint: str | None = None, background: Background = UNTOLD) -> dict[str, float]:
    """Odds of each fault in scope before any reading or sign.

    Parameters
    ----------
    complaint : str or None
        What the owner says, a key of `COMPLAINT_FACTORS`.
    background : Background
        Age, history and kinds of coil.

    Returns
    -------
    dict
        Fault to probability, in the order of `FAULTS`; they sum to one. [-]

    Raises
    ------
    BadInput
        If the complaint or a kind of coil is not known.
    OutOfRange
        If an age or a number of months is negative.
    """
    odds = {name: fault.share for name, fault in FAULTS.items()}
    for factors in _factors(complaint, background):
        for name, factor in factors.items():
            odds[name] *= factor
    whole = sum(odds.values())
    return {name: weight / whole for name, weight in odds.items()}


def severity_from_uniform(fault: str, u: np.ndarray) -> np.ndarray:
    """Severities from uniform numbers; rises with them, flat over the fault's range.

    Parameters
    ----------
    fault : str
        A key of `FAULTS`.
    u : ndarray
        Uniform numbers in 0..1, any shape. [-]

    Returns
    -------
    ndarray
        Severity as in the glossary (fraction or watt), NaN for a fault without one.

    Raises
    ------
    BadInput
        If the fault is not known.
    OutOfRange
        If a number lies outside 0..1 or is none.
    """
    u = np.asarray(u, dtype=float)
    wrong = u[~((u >= 0.0) & (u <= 1.0))]
    if wrong.size:
        raise OutOfRange("uniform number", float(wrong.flat[0]), 0.0, 1.0, "-")
    spread = pick("fault", fault, FAULTS).severity
    if spread is None:
        return np.full(u.shape, np.nan)
    if spread.by_ratio:
        return np.asarray(spread.low * (spread.high / spread.low) ** u)
    return spread.low + (spread.high - spread.low) * u


def _factors(complaint: str | None, known: Background) -> Iterator[Mapping[str, float]]:
    if complaint is not None:
        yield pick("complaint", complaint, COMPLAINT_FACTORS)
    topped_up = (known.charge_added_kg or 0.0) > 0.0
    if known.earlier_repair or topped_up:
        yield _REPAIRED
    elif known.earlier_repair is False:
        yield _NEVER_OPENED
    if topped_up:
        yield _TOPPED_UP
    if known.months_since_ok is not None:
        yield _grown("months since it worked well", known.months_since_ok, _HALF_MONTHS, _SLOW)
    if known.age_s is not None:
        yield _grown("age in seconds", known.age_s, _HALF_AGE_S, _AGEING)
    if known.evaporator is not None:
        yield {"evaporator_air": pick("evaporator", known.evaporator, _EVAPORATORS)}
    if known.condenser is not None:
        yield {"condenser_air": pick("condenser", known.condenser, _CONDENSERS)}


def _grown(
    what: str, time: float, half: float, ends: Mapping[str, tuple[float, float]]
) -> dict[str, float]:
    require(what, time, "-", 0.0, math.inf)
    grown = 1.0 if math.isinf(time) else time / (time + half)
    return {name: start + (end - start) * grown for name, (start, end) in ends.items()}
