"""Every fault in scope, once: all that names, weighs, simulates or mends faults derives from here.

A new fault is one record in a module of this room, and its line in `RECORDS`.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from coldwright.errors import BadInput, OutOfRange
from coldwright.faults.air_and_load import CONDENSER_AIR, EVAPORATOR_AIR, HEAT_LOAD
from coldwright.faults.compressor import COMPRESSOR_NOT_RUNNING, WEAK_COMPRESSOR
from coldwright.faults.control import CONTROL
from coldwright.faults.drain import DRAIN_BLOCKED
from coldwright.faults.earlier_repair import WRONG_FILL
from coldwright.faults.effects import Effect
from coldwright.faults.filling import MOISTURE, NON_CONDENSABLES, OVERCHARGE, UNDERCHARGE
from coldwright.faults.record import Fault
from coldwright.faults.restrictions import (
    CAPILLARY_BLOCKED,
    CAPILLARY_RESTRICTED,
    DRIER_RESTRICTED,
)
from coldwright.faults.sound import NOTHING_WRONG

# The order is that of the odds and of the random draws.
RECORDS: tuple[Fault, ...] = (
    NOTHING_WRONG,
    UNDERCHARGE,
    OVERCHARGE,
    CAPILLARY_RESTRICTED,
    CAPILLARY_BLOCKED,
    DRIER_RESTRICTED,
    WEAK_COMPRESSOR,
    CONDENSER_AIR,
    EVAPORATOR_AIR,
    HEAT_LOAD,
    COMPRESSOR_NOT_RUNNING,
    NON_CONDENSABLES,
    MOISTURE,
    CONTROL,
    WRONG_FILL,
    DRAIN_BLOCKED,
)
FAULTS: Mapping[str, Fault] = MappingProxyType({fault.identifier: fault for fault in RECORDS})


def _effects() -> Mapping[str, Effect]:
    own = [fault.effect for fault in RECORDS if fault.effect is not None]
    taken = [way.effect for fault in RECORDS for way in fault.ways]
    found: dict[str, Effect] = {}
    for effect in (*own, *taken):
        found.setdefault(effect.identifier, effect)
    return MappingProxyType(found)


# Whatever a circuit can be simulated with: faults first, then ways named ``fault:way``.
EFFECTS: Mapping[str, Effect] = _effects()
RESTRICTIONS = tuple(f.identifier for f in RECORDS if f.asked_as == CAPILLARY_RESTRICTED.asked_as)


def fault_named(identifier: str) -> Fault:
    """The record of a fault.

    Parameters
    ----------
    identifier : str
        Such as "undercharge".

    Returns
    -------
    Fault
        Its record.

    Raises
    ------
    BadInput
        If there is none.

    Examples
    --------
    >>> fault_named("undercharge").sealed
    True
    """
    if identifier not in FAULTS:
        raise BadInput("input", "fault", identifier, ", ".join(FAULTS))
    return FAULTS[identifier]


def effect_named(identifier: str) -> Effect:
    """What a fault, or one way of a fault, alters.

    Parameters
    ----------
    identifier : str
        Such as "undercharge" or "control:damper_shut".

    Returns
    -------
    Effect
        Alters circuits and surroundings in place.

    Raises
    ------
    BadInput
        If there is none.
    """
    if identifier not in EFFECTS:
        raise BadInput("input", "fault", identifier, ", ".join(EFFECTS))
    return EFFECTS[identifier]


def check_severity(effect: Effect, severity: float) -> float:
    """The severity if the effect takes it.

    Parameters
    ----------
    effect : Effect
        A fault's or a way's.
    severity : float
        Within its limits. [the effect's unit]

    Returns
    -------
    float
        The same. [the effect's unit]

    Raises
    ------
    OutOfRange
        If it lies outside the effect's limits.
    """
    if effect.unit is not None and not effect.low <= severity <= effect.high:
        raise OutOfRange(
            f"severity of {effect.identifier}", severity, effect.low, effect.high, effect.unit
        )
    return severity
