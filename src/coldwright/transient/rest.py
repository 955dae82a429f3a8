"""After a stop: pressures level out, refrigerant moves to the cold evaporator, the oil takes some.

Heat that comes with it: the liquid of the high side runs in at the condensing temperature and
cools to the evaporator's; what is left behind boils at room temperature, comes as gas and
condenses. That heat, the shortage of the high side at the next start and the time the pump
needs to make it good are the migration losses of Krause & Bullard (1994, ACRC TR-58) and
Coulter & Bullard (1995, ACRC TR-77), abstracts read; the split in parts is ours.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, inf, isfinite

import numpy as np

from coldwright.cycle.medium import Medium
from coldwright.cycle.standstill.equalising import LEFT_BEHIND, equalising_times
from coldwright.cycle.standstill.rest import PLACES, at_stop, oil_uptake, settle
from coldwright.cycle.state import STATE
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure

# The equalising time is when the sides are level for a gauge: four time constants (ours)
LEVEL = 4.0
WARMEST_REST = 330.0  # of the tables' ends, a guard [K]


@dataclass(frozen=True, slots=True)
class Stop:
    """What a stop leaves behind."""

    equalising_s: float
    suction_pressure_pa: float
    discharge_pressure_pa: float
    high_side_kg: float
    moving_kg: float  # from the high side, in the end
    heat_j: float  # that it brings into the evaporator, in the end
    already_displaced_kg: float
    held_fraction: float  # refrigerant in the oil at the stop


def stop(
    med: Medium,
    circuit: np.ndarray,
    state: np.ndarray,
    *,
    evaporator_k: float,
    room_k: float,
    shell_k: float,
    displaced_kg: float,
) -> Stop:
    """What moves after a stop.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil and void model.
    circuit : ndarray
        Dtype CIRCUIT with its whole charge, shape (1,).
    state : ndarray
        Running state at the stop, dtype STATE, shape (1,).
    evaporator_k : float
        Evaporator's wall. [K]
    room_k : float
        Room. [K]
    shell_k : float
        Shell. [K]
    displaced_kg : float
        Not yet back on the high side. [kg]

    References
    ----------
    .. [1] `cycle.standstill.equalising`, `cycle.standstill.rest`.
    """
    seconds = float(equalising_times(med, circuit, state, room_k)[0])
    o = state[0]
    high = float(o["charge_condenser_kg"] + o["charge_liquid_line_kg"])
    _, held = at_stop(med, circuit[0], o, True, room_k)
    p_s, p_d = float(o["suction_pressure_pa"]), float(o["condensing_pressure_pa"])
    if not isfinite(seconds):
        return Stop(inf, p_s, p_d, high, 0.0, 0.0, displaced_kg, held)
    kg = np.empty(PLACES)
    settle(med, circuit[0], evaporator_k, room_k, max(shell_k, room_k), held, 0.0, kg)
    moving = max(high - float(kg[1]), 0.0)
    sat = saturation_all(med.tables, p_d)
    cold = saturation_all(med.tables, saturation_pressure(med.tables, evaporator_k))
    volume = float(
        circuit["condenser"]["volume_m3"][0]
        + circuit["drier"]["volume_m3"][0]
        + circuit["discharge_line"]["volume_m3"][0]
    )
    liquid = max(high - volume / sat[4], 0.0) / (1.0 - sat[3] / sat[4])
    runs = min((1.0 - LEFT_BEHIND) * liquid, moving)
    warm = saturation_all(med.tables, saturation_pressure(med.tables, room_k))
    heat = runs * max(float(o["enthalpy_condenser_out_j_kg"]) - cold[1], 0.0)
    heat += (moving - runs) * max(warm[2] - cold[1], 0.0)
    return Stop(seconds, p_s, p_d, high, moving, heat, displaced_kg, held)


def long_at_rest(med: Medium, circuit: np.ndarray, room_k: float) -> Stop:
    """A circuit that has stood level for long, after a usual run.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil and void model.
    circuit : ndarray
        Dtype CIRCUIT, shape (1,).
    room_k : float
        Room. [K]
    """
    _, held = at_stop(med, circuit[0], np.zeros(1, STATE)[0], False, room_k)
    return Stop(1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, held)


def gone(after: Stop, seconds: float) -> float:
    """Share of the way to level pressures. [-]

    Parameters
    ----------
    after : Stop
        The stop.
    seconds : float
        Since then. [s]
    """
    if not isfinite(after.equalising_s):
        return 0.0
    return 1.0 - exp(-LEVEL * seconds / max(after.equalising_s, 1.0))


def pressures(
    med: Medium,
    circuit: np.ndarray,
    after: Stop,
    *,
    seconds: float,
    evaporator_k: float,
    room_k: float,
    shell_k: float,
) -> tuple[float, float, float]:
    """Low and high side's pressure at rest [Pa], and what the high side lacks [kg].

    Parameters
    ----------
    med : Medium
        Refrigerant, oil and void model.
    circuit : ndarray
        Dtype CIRCUIT with its whole charge, shape (1,).
    after : Stop
        The stop.
    seconds : float
        Since then. [s]
    evaporator_k, room_k, shell_k : float
        Evaporator's wall, room, shell. [K]

    References
    ----------
    .. [1] `cycle.standstill.rest.settle`; the way there an exponential of ours.
    """
    kg = np.empty(PLACES)
    p, _, _ = settle(
        med, circuit[0], min(evaporator_k, WARMEST_REST), room_k, shell_k, after.held_fraction,
        oil_uptake(seconds), kg,
    )  # fmt: skip
    share = gone(after, seconds)
    low = after.suction_pressure_pa + (p - after.suction_pressure_pa) * share
    high = after.discharge_pressure_pa + (p - after.discharge_pressure_pa) * share
    displaced = after.already_displaced_kg + share * max(after.high_side_kg - float(kg[1]), 0.0)
    if not isfinite(after.equalising_s):
        return after.suction_pressure_pa, after.discharge_pressure_pa, displaced
    return low, high, displaced
