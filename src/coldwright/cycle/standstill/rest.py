"""Kernels of the circuit at rest: mass by place at a pressure, and the pressure that fits.

Liquid gathers at the coldest spot; what is gas or in the oil follows the pressure.
"""

from __future__ import annotations

from math import exp, pi

import numpy as np

from coldwright.cycle.high_side.loops import high_side_volume
from coldwright.cycle.high_side.walk import GAS_CONSTANT
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import vapour_hvs
from coldwright.refrigerant.oils import dissolved_ratio
from coldwright.refrigerant.saturation import (
    saturation_all,
    saturation_pressure,
    saturation_temperature,
)

# Diffusion into the oil's pool: depth of a household sump, and the order of magnitude of
# light gases in thin oils near 30 degC (both judgements of ours).
OIL_DEPTH = 0.03  # [m]
OIL_DIFFUSIVITY = 1e-9  # [m2/s]
SHELL_TIME = 2700.0  # time constant of a cooling shell, as in the readings' rules [s]
# Where no running state is at hand: what the oil held, and the shell's heat (ours)
RUN_EVAPORATING = 248.15  # [K]
RUN_SHELL_RISE = 35.0  # [K]
OIL_COLDEST = 220.0  # no household oil is colder [K]
LEAST_CHARGE = 1e-6  # below it the circuit is taken as empty [kg]
CLOSED = 1e-9  # relative mass balance
MOST_TRIALS = 60
PLACES = 6


@kernel
def oil_uptake(seconds):
    """Share of the way to equilibrium that a still oil pool has gone.

    Parameters
    ----------
    seconds : float
        Time since the stop. [s]

    Returns
    -------
    float
        0 at the stop, 1 after weeks. [-]

    References
    ----------
    .. [1] Crank (1975), The Mathematics of Diffusion, eq. (4.20): plane sheet, its
       short-time law 2 sqrt(D t / pi) / L, bent over to 1 by a form of ours.
    """
    fourier = OIL_DIFFUSIVITY * max(seconds, 0.0) / OIL_DEPTH**2
    return (1.0 - exp(-4.0 * fourier / pi)) ** 0.5


@kernel
def oil_fraction(med, p, t):
    """Mass fraction of refrigerant in oil at equilibrium.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    p : float
        Pressure. [Pa]
    t : float
        Oil temperature. [K]

    Returns
    -------
    float
        Mass of refrigerant over mass of solution. [-]

    References
    ----------
    .. [1] `refrigerant.oils.dissolved_ratio`.
    """
    tab = med.tables
    tt = max(t, OIL_COLDEST)
    ratio = dissolved_ratio(
        p, tt, saturation_pressure(tab, tt), med.size_ratio, med.chi0, med.chi1, tab.molar_mass,
        med.oil_molar_mass,
    )  # fmt: skip
    return ratio / (1.0 + ratio)


@kernel
def places_at(med, c, p, t_evap, t_room, t_shell, held, uptake, kg):
    """Refrigerant by place at a pressure, all of it gas or in the oil; returns the total [kg].

    Refrigerant leaves the oil at once (it foams) and enters it slowly.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    p : float
        Pressure, not above saturation at the coldest place. [Pa]
    t_evap, t_room, t_shell : float
        Temperatures of evaporator, room and shell. [K]
    held : float
        Mass fraction in the oil at the stop. [-]
    uptake : float
        From `oil_uptake`. [-]
    kg : ndarray
        Out, shape (6,): evaporator with accumulator, high side, suction line, shell, oil,
        and the total. [kg]

    References
    ----------
    .. [1] Mass balance; the suction line is taken at room temperature (ours).
    """
    tab = med.tables
    line = c.suction_line
    ts = saturation_temperature(tab, p)
    v_room = vapour_hvs(tab, p, ts, t_room)[1]
    v_evap = vapour_hvs(tab, p, ts, t_evap)[1]
    kg[0] = (c.evaporator.volume_m3 + c.accumulator.volume_m3) / v_evap
    kg[1] = high_side_volume(c) / v_room
    kg[2] = 0.25 * pi * line.bore_m**2 * line.length_m / v_room
    kg[3] = c.compressor.shell_volume_m3 / vapour_hvs(tab, p, ts, t_shell)[1]
    w = oil_fraction(med, p, t_shell)
    if w > held:
        w = held + uptake * (w - held)
    kg[4] = c.compressor.oil_mass_kg * w / (1.0 - w)
    kg[5] = kg[0] + kg[1] + kg[2] + kg[3] + kg[4]
    return kg[5]


@kernel
def gas_at_rest(c, t_evap, t_room, t_shell):
    """Pressure that non-condensable gas adds once it has spread through the circuit.

    Parameters
    ----------
    c : record
        `circuit.records.Circuit`.
    t_evap, t_room, t_shell : float
        Temperatures of evaporator, room and shell. [K]

    Returns
    -------
    float
        Pressure. [Pa]

    References
    ----------
    .. [1] Dalton's law, n R / sum(V / T); the room that liquid takes is left out (ours).
    """
    line = c.suction_line
    room = high_side_volume(c) + 0.25 * pi * line.bore_m**2 * line.length_m
    space = (c.evaporator.volume_m3 + c.accumulator.volume_m3) / t_evap + room / t_room
    return c.air_mol * GAS_CONSTANT / (space + c.compressor.shell_volume_m3 / t_shell)


@kernel
def settle(med, c, t_evap, t_room, t_shell, held, uptake, kg):
    """Standing pressure of one circuit.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    t_evap, t_room, t_shell : float
        Temperatures of evaporator, room and shell. [K]
    held : float
        Mass fraction in the oil at the stop. [-]
    uptake : float
        From `oil_uptake`. [-]
    kg : ndarray
        Refrigerant by place out, shape (6,), as `places_at`, free liquid included. [kg]

    Returns
    -------
    tuple
        pressure [Pa], free liquid [kg], relative error of the mass balance [-].

    References
    ----------
    .. [1] Mass balance; Illinois false position, Dahlquist & Bjorck (1974).
    """
    tab = med.tables
    mass = max(c.charge_kg, LEAST_CHARGE)
    coldest = min(t_evap, min(t_room, t_shell))
    p_sat = saturation_pressure(tab, coldest)
    total = places_at(med, c, p_sat, t_evap, t_room, t_shell, held, uptake, kg)
    if total <= mass:
        # Liquid takes the room of gas where it lies
        sat = saturation_all(tab, p_sat)
        free = (mass - total) / (1.0 - sat[3] / sat[4])
        added = mass - total
        kg[0 if t_evap <= coldest else (1 if t_room <= coldest else 3)] += added
        kg[5] += added
        return p_sat, free, abs(kg[5] / mass - 1.0)
    # Empty at no pressure: gas goes with p and the oil gives all of it back
    a, b, fa, fb = 0.0, p_sat, -1.0, total / mass - 1.0
    p, f = b, fb
    side = 0
    for k in range(MOST_TRIALS):
        p = b - fb * (b - a) / (fb - fa) if k % 8 != 7 else 0.5 * (a + b)
        f = places_at(med, c, p, t_evap, t_room, t_shell, held, uptake, kg) / mass - 1.0
        if abs(f) < CLOSED:
            break
        if f > 0.0:
            b, fb = p, f
            fa *= 0.5 if side > 0 else 1.0
            side = 1
        else:
            a, fa = p, f
            fb *= 0.5 if side < 0 else 1.0
            side = -1
    return p, 0.0, abs(f)


@kernel
def at_stop(med, c, state, known, t_room):
    """Shell temperature and oil's mass fraction at the moment of the stop.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    state : record
        `cycle.state.RunningState` before the stop.
    known : bool
        Whether `state` is real; if not, a usual run is taken.
    t_room : float
        Room temperature. [K]

    Returns
    -------
    tuple
        shell temperature [K], mass fraction in the oil [-].

    References
    ----------
    .. [1] Usual run: judgement of ours.
    """
    if known:
        dissolved = state.charge_oil_kg
        return state.shell_k, dissolved / max(dissolved + c.compressor.oil_mass_kg, 1e-9)
    hot = t_room + RUN_SHELL_RISE
    return hot, oil_fraction(med, saturation_pressure(med.tables, RUN_EVAPORATING), hot)


@kernel
def standing_range(first, last, med, c, states, known, t_evap, t_room, seconds, p, free):
    """`settle` over members first..last-1.

    Parameters
    ----------
    first, last : int
        Range of members. [-]
    med : Medium
        Refrigerant, oil, void model.
    c : ndarray
        Circuits, shape (n,).
    states : ndarray
        Running states before the stop, shape (n,) or, when not known, (1,).
    known : bool
        Whether `states` are real.
    t_evap, t_room : ndarray
        Temperatures, shape (n,). [K]
    seconds : float
        Time since the stop. [s]
    p, free : ndarray
        Pressure [Pa] and free liquid [kg] out, shape (n,).

    References
    ----------
    .. [1] `settle`.
    """
    kg = np.empty(PLACES)
    uptake = oil_uptake(seconds)
    cooled = exp(-seconds / SHELL_TIME)
    for i in range(first, last):
        hot, held = at_stop(med, c[i], states[i if known else 0], known, t_room[i])
        shell = t_room[i] + (hot - t_room[i]) * cooled
        p[i], free[i], _ = settle(med, c[i], t_evap[i], t_room[i], shell, held, uptake, kg)
        if c[i].air_mol > 0.0:
            p[i] += gas_at_rest(c[i], t_evap[i], t_room[i], shell)
