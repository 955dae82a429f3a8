"""Odds of each fault before any reading: how a record's share and factors combine.

Shares and factors stand in the records of `faults`; what is known moves the odds by a factor,
and the odds are then scaled to one.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from coldwright.catalogue.tools import pick
from coldwright.errors import OutOfRange, require
from coldwright.faults.record import COMPLAINTS, CONDENSERS, EVAPORATORS, Fault
from coldwright.faults.registry import FAULTS

# Complaint to each fault's factor.
COMPLAINT_FACTORS: Mapping[str, Mapping[str, float]] = MappingProxyType(
    {
        complaint: MappingProxyType(
            {name: fault.factors.complaints.get(complaint, 1.0) for name, fault in FAULTS.items()}
        )
        for complaint in COMPLAINTS
    }
)
_HALF_MONTHS = 2.0  # since it worked well, half way of what grows with that
_HALF_AGE_S = 12.0 * 31_557_600.0  # half way of what grows from new to old
_COILS = {
    "evaporator": MappingProxyType({kind: kind for kind in EVAPORATORS}),
    "condenser": MappingProxyType({kind: kind for kind in CONDENSERS}),
}


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
    for factor in _factors(complaint, background):
        for name, fault in FAULTS.items():
            odds[name] *= factor(fault)
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
    return pick("fault", fault, FAULTS).severities(u)


Factor = Callable[[Fault], float]


def _factors(complaint: str | None, known: Background) -> Iterator[Factor]:
    if complaint is not None:
        told = pick("complaint", complaint, COMPLAINT_FACTORS)
        yield lambda fault: told[fault.identifier]
    topped_up = (known.charge_added_kg or 0.0) > 0.0
    if known.earlier_repair or topped_up:
        yield lambda fault: fault.factors.repaired
    elif known.earlier_repair is False:
        yield lambda fault: fault.factors.never_opened
    if topped_up:
        yield lambda fault: fault.factors.topped_up
    if known.months_since_ok is not None:
        months = _grown("months since it worked well", known.months_since_ok, _HALF_MONTHS)
        yield lambda fault: _between(fault.factors.months, months)
    if known.age_s is not None:
        age = _grown("age in seconds", known.age_s, _HALF_AGE_S)
        yield lambda fault: _between(fault.factors.age, age)
    if known.evaporator is not None:
        coil = pick("evaporator", known.evaporator, _COILS["evaporator"])
        yield lambda fault: fault.factors.evaporator.get(coil, 1.0)
    if known.condenser is not None:
        panel = pick("condenser", known.condenser, _COILS["condenser"])
        yield lambda fault: fault.factors.condenser.get(panel, 1.0)


def _grown(what: str, time: float, half: float) -> float:
    require(what, time, "-", 0.0, math.inf)
    return 1.0 if math.isinf(time) else time / (time + half)


def _between(ends: tuple[float, float], grown: float) -> float:
    return ends[0] + (ends[1] - ends[0]) * grown
