"""After a stop: how long the high side takes to empty itself through the capillary.

Three parts, one after the other (an estimate of ours; common practice, no published
source, puts a healthy household circuit at 3 to 8 minutes):

1. liquid runs out at the running flow, which falls with the driving pressure;
2. liquid that stays behind in the condenser's passes boils at room temperature and
   leaves as gas;
3. the gas left blows down to the low side.

Gas flow through a long tube with losses in series is isothermal, perfect gas:
p1^2 - p2^2 = m^2 R T (f L / (D A^2) + 2 K). A volume V that empties through it takes
V / (R T) sqrt(R T (...)) arcosh(p1 / p2), which is finite.
"""

from __future__ import annotations

from math import acosh, inf, pi

import numpy as np

from coldwright.cycle.batches import in_batches
from coldwright.cycle.capillary.feed import restriction_coefficient
from coldwright.cycle.friction import churchill
from coldwright.cycle.high_side.loops import high_side_volume
from coldwright.cycle.medium import Medium, require_medium
from coldwright.cycle.standstill.rest import PLACES, settle
from coldwright.cycle.state import PUMPED_DOWN
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure

LEFT_BEHIND = 0.3  # of the high side's liquid, held in its passes; judgement of ours
# Warming of the evaporator by what flows into it: some 11 kJ into 1.5 kJ/K (ours) [K]
EVAPORATOR_RISE = 7.0
FRICTION_PASSES = 4


@kernel
def gas_resistance(cap, loss, p1, p2, gas, mu):
    """Resistance of capillary and losses to isothermal gas flow, (p1^2 - p2^2) / m^2.

    Parameters
    ----------
    cap : record
        `circuit.records.Capillary`.
    loss : float
        Loss coefficient before it, of pressure loss = K m^2 v. [1/m4]
    p1, p2 : float
        Pressures at its ends, p1 > p2. [Pa]
    gas : float
        Pressure times specific volume of the gas. [J/kg]
    mu : float
        Viscosity of the gas. [Pa s]

    Returns
    -------
    float
        Resistance. [Pa2 s2/kg2]

    References
    ----------
    .. [1] Isothermal flow with friction, White (2011), Fluid Mechanics, eq. (9.73), its
       small logarithm left out; Churchill (1977) friction.
    """
    d = cap.bore_m
    area = 0.25 * pi * d * d
    difference = p1 * p1 - p2 * p2
    f = 0.03
    out = 1.0
    for _ in range(FRICTION_PASSES):
        tube = f * cap.length_m / (d * area * area)
        out = gas * (tube + 2.0 * loss)
        m = max((difference / out) ** 0.5, 1e-9)
        stretch = restriction_coefficient(cap, mu, m)
        out = gas * (tube + 2.0 * (loss + stretch))
        m = max((difference / out) ** 0.5, 1e-9)
        f = churchill(m / area * d / mu, cap.roughness_m / d)
    return out


@kernel
def equalising_time(med, c, o, t_room, kg):
    """Time from the stop until both sides are level.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    o : record
        `cycle.state.RunningState` before the stop.
    t_room : float
        Room temperature. [K]
    kg : ndarray
        Scratch, shape (6,). [kg]

    Returns
    -------
    float
        Time; infinite where the capillary is blocked. [s]

    References
    ----------
    .. [1] Estimate of ours, see the module.
    """
    if o.status_code == PUMPED_DOWN or o.mass_flow_kg_s <= 0.0:
        return inf
    tab = med.tables
    # Level the low side ends at: evaporator part wetted, part at its compartment's air
    wet = o.evaporator_wetted_fraction
    air = min(o.freezer_k, t_room)
    t_evap = min(wet * o.evaporating_k + (1.0 - wet) * air + EVAPORATOR_RISE, t_room)
    held = o.charge_oil_kg / max(o.charge_oil_kg + c.compressor.oil_mass_kg, 1e-9)
    p2, _, _ = settle(med, c, t_evap, t_room, max(o.shell_k, t_room), held, 0.0, kg)
    p_run = o.condensing_pressure_pa
    p_room = min(saturation_pressure(tab, t_room), p_run)
    sat = saturation_all(tab, p_run)
    volume = high_side_volume(c)
    high = o.charge_condenser_kg + o.charge_loops_kg + o.charge_liquid_line_kg
    liquid = max(high - volume / sat[4], 0.0) / (1.0 - sat[3] / sat[4])
    liquid = min(liquid, volume / sat[3])
    falls = (max(p_room - p2, 0.0) / max(p_run - p2, 1.0)) ** 0.5
    t1 = (1.0 - LEFT_BEHIND) * liquid / (o.mass_flow_kg_s * 0.5 * (1.0 + min(falls, 1.0)))
    if p_room <= p2 * 1.001:
        return t1
    at = saturation_all(tab, p_room)
    gas = p_room * at[4]
    resistance = gas_resistance(c.capillary, c.drier.loss_coefficient_1_m4, p_room, p2, gas, at[6])
    t2 = LEFT_BEHIND * liquid * (resistance / (p_room * p_room - p2 * p2)) ** 0.5
    t3 = volume / gas * resistance**0.5 * acosh(p_room / p2)
    return t1 + t2 + t3


@kernel
def equalising_range(first, last, med, c, o, t_room, seconds):
    """`equalising_time` over members first..last-1.

    Parameters
    ----------
    first, last : int
        Range of members. [-]
    med : Medium
        Refrigerant, oil, void model.
    c, o : ndarray
        Circuits and running states, shape (n,).
    t_room : ndarray
        Room temperature, shape (n,). [K]
    seconds : ndarray
        Out, shape (n,). [s]

    References
    ----------
    .. [1] `equalising_time`.
    """
    kg = np.empty(PLACES)
    for i in range(first, last):
        seconds[i] = equalising_time(med, c[i], o[i], t_room[i], kg)


def equalising_times(
    med: Medium, circuits: np.ndarray, states: np.ndarray, room_k: np.ndarray | float
) -> np.ndarray:
    """Time from a stop until high and low side are level, of many circuits.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil and void model.
    circuits : ndarray
        Dtype CIRCUIT, shape (n,).
    states : ndarray
        Running states before the stop, dtype STATE, shape (n,).
    room_k : ndarray or float
        Room temperature, broadcast to (n,). [K]

    Returns
    -------
    ndarray
        Time, shape (n,); infinite where no refrigerant flows. [s]

    Raises
    ------
    Refused
        If a circuit holds another refrigerant or names another void model.

    References
    ----------
    .. [1] Estimate of ours, `equalising_time`.
    """
    require_medium(med, circuits)
    n = circuits.shape[0]
    t_room = np.ascontiguousarray(np.broadcast_to(np.asarray(room_k, float), (n,)))
    seconds = np.empty(n)

    def loop(first: int, last: int) -> None:
        equalising_range(first, last, med, circuits, states, t_room, seconds)

    in_batches(loop, n)
    return seconds
