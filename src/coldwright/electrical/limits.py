"""Verdicts by a limit the trade or a standard names, where there is one."""

from __future__ import annotations

import math

from coldwright.catalogue.motor import (
    CAPACITOR_RTOL,
    INSULATION_GOOD_OHM,
    LOCKED_FROM,
    OVERLOAD_CLOSED_OHM,
    OVERLOAD_OPEN_OHM,
    SUPPLY_RTOL,
)
from coldwright.electrical.meters import Held, Meters

_ABSENT = 0.3  # of the plate voltage; below it nothing feeds the socket, ours


def verdict(part: str, m: Meters, held: Held) -> str:
    """Outcome by limit, empty where no limit decides.

    Parameters
    ----------
    part : str
        A key of `catalogue.part_states.SOUND`.
    m : Meters
        Readings.
    held : Held
        The machine.

    Returns
    -------
    str
        An outcome of the part, or empty.

    Examples
    --------
    >>> from coldwright.electrical.meters import Held, Meters
    >>> verdict("supply", Meters(supply_v=190.0), Held(nominal_v=230.0))
    'low'
    """
    if part == "supply" and m.supply_v is not None:
        ratio = m.supply_v / held.nominal_v
        if ratio < _ABSENT:
            return "absent"
        if ratio < 1.0 - SUPPLY_RTOL:
            return "low"
        return "normal" if ratio <= 1.0 + SUPPLY_RTOL else "high"
    if part == "insulation" and m.insulation_ohm is not None:
        return "good" if m.insulation_ohm >= INSULATION_GOOD_OHM else "low"
    if part == "capacitor" and m.capacitor_fraction is not None:
        return "weak" if m.capacitor_fraction < 1.0 - CAPACITOR_RTOL else "good"
    if part == "overload" and m.overload_ohm is not None:
        if m.overload_ohm <= OVERLOAD_CLOSED_OHM:
            return "closed"
        return "open" if m.overload_ohm >= OVERLOAD_OPEN_OHM else ""
    return ""


def most_starting_a(m: Meters, held: Held) -> float:
    """The most current that can flow at a start: supply over both windings in parallel. [A]

    Resistance alone bounds it; the windings' inductance makes it less. NaN where a
    winding was not read or is open.

    Parameters
    ----------
    m : Meters
        Readings.
    held : Held
        The machine.

    Returns
    -------
    float
        Current; NaN where it cannot be told. [A]

    References
    ----------
    .. [1] Ohm's law.

    Examples
    --------
    >>> from coldwright.electrical.meters import Held, Meters
    >>> round(most_starting_a(Meters(run_ohm=10.0, start_ohm=20.0), Held(nominal_v=230.0)), 1)
    34.5
    """
    run, start = m.run_ohm, m.start_ohm
    if run is None or start is None or not (0.0 < run < math.inf and 0.0 < start < math.inf):
        return math.nan
    volts = m.supply_v if m.supply_v is not None else held.nominal_v
    return volts * (1.0 / run + 1.0 / start)


def running_above_plate(m: Meters, held: Held) -> float:
    """Running current over the plate's. [-] NaN where one is not known or the rotor is locked.

    Parameters
    ----------
    m : Meters
        Readings.
    held : Held
        The machine.

    Returns
    -------
    float
        Ratio; NaN where it cannot be told. [-]
    """
    if m.compressor_a is None or not held.rated_a > 0.0:
        return math.nan
    ratio = m.compressor_a / held.rated_a
    return ratio if ratio <= LOCKED_FROM else math.nan
