"""The high side walked stretch by stretch, from the shell's discharge to the drier.

Order of flow: loops before the condenser, its first section, the oil cooler, loops
between, its second section, loops after; of two loops at one place the drain pan's comes
first. A plain circuit is one section. Enthalpy is carried from stretch to stretch at one
pressure; charge and heat are added up in the state.
"""

from __future__ import annotations

from math import exp, pi

from coldwright.cycle.compressor.polynomial import compress_as_chosen
from coldwright.cycle.high_side.condensing import pass_tube, section
from coldwright.cycle.high_side.loops import bare_frame, loop_volume
from coldwright.cycle.high_side.oil_cooling import heated, oil_cooler_charge
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import temperature, vapour_temperature
from coldwright.refrigerant.saturation import saturation_all

# Stations: drain pan, frame, first section | drain pan, frame, second section | drain pan, frame
FIRST, OIL, ALL = 0, 3, 8
OIL_PASSES = 14  # compressor and oil cooler against each other; one where its inlet is wet
OIL_CLOSED = 1e-9  # of the shell's heat
GAS_CONSTANT = 8.314462618  # [J/mol/K], exact (SI 2019)
GAS_PASSES = 30
GAS_CLOSED = 1e-10  # of the discharge pressure
MOST_GAS = 0.9  # of the discharge pressure, bounds the search
MOST_LIQUID = 0.95  # of the condenser's volume, bounds the search


@kernel
def walk(med, c, pc, sat, m, h, t, room, tf, tz, start, stop, out):
    """Follow the refrigerant through stations start..stop-1; adds to `out`.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    pc : float
        Condensing pressure. [Pa]
    sat : tuple
        `saturation_all` there.
    m : float
        Mass flow. [kg/s]
    h, t : float
        Enthalpy [J/kg] and temperature [K] before the first station.
    room, tf, tz : float
        Temperatures of room, fresh-food and freezer compartment. [K]
    start, stop : int
        Stations. [-]
    out : record
        `cycle.state.RunningState`.

    Returns
    -------
    tuple
        enthalpy [J/kg], temperature [K] after the last station.

    References
    ----------
    .. [1] `condensing.pass_tube`.
    """
    d, frame, pan = c.condenser, c.frame_loop, c.drain_pan_loop
    divided = c.oil_cooler.conductance_w_k > 0.0
    divided = divided or (frame.tube_length_m > 0.0 and frame.position_code == 1.0)
    divided = divided or (pan.tube_length_m > 0.0 and pan.position_code == 1.0)
    s1 = d.first_section_fraction if divided else 1.0
    s2 = 1.0 - s1
    for station in range(start, stop):
        place = station % 3
        if place == 2:
            share = s1 if station == 2 else s2
            if share <= 0.0:
                continue
            x_top = 1.0
            if station == 2:
                out.condenser_inlet_k = t
                at = 0.5 / s1
            else:
                at = (0.5 - s1) / s2
                x_top = min(max((h - sat[1]) / (sat[2] - sat[1]), 0.02), 1.0)
            h, t, t_at, q_in, charge, t_wall = section(
                med, d, pc, sat, m, h, room, tz, share, x_top, min(max(at, 0.0), 1.0)
            )
            if 0.0 <= at <= 1.0:
                out.condenser_middle_k = t_at
            out.condenser_outlet_k = t
            out.inward_heat_w += q_in
            out.charge_condenser_kg += charge
            continue
        slot = float(station // 3)
        h_in = h
        if place == 0 and pan.tube_length_m > 0.0 and pan.position_code == slot:
            volume = 0.25 * pi * pan.tube_bore_m**2 * pan.tube_length_m
            g, g_in, inside = pan.room_conductance_w_k, pan.cabinet_conductance_w_k, tz
            bore, length, bond = pan.tube_bore_m, pan.tube_length_m, 0.0
        elif place == 1 and frame.tube_length_m > 0.0 and frame.position_code == slot:
            volume = 0.25 * pi * frame.tube_bore_m**2 * frame.tube_length_m
            g, g_in = frame.room_conductance_w_k, frame.cabinet_conductance_w_k
            bore, length = frame.tube_bore_m, frame.tube_length_m
            bond = 1.0 / (frame.bond_conductance_w_m_k * length)
            bare, inside = bare_frame(c, room, tf, tz)
        else:
            continue
        x_top = min(max((h - sat[1]) / (sat[2] - sat[1]), 0.02), 1.0)
        h, t, t_at, q_in, charge, t_wall = pass_tube(
            med, pc, sat, m, h, bore, length, volume, bond, g, g, g, g_in, room, inside, x_top, 0.5
        )
        out.charge_loops_kg += charge
        if place == 0:
            out.inward_heat_w += q_in
            out.drain_pan_heat_w = m * (h_in - h)
        else:
            out.charge_frame_loop_kg = charge
            out.frame_heat_w = m * (h_in - h)
            out.frame_inward_w = q_in
            out.door_frame_k = bare + out.frame_heat_w / (g + g_in)
            out.door_frame_outlet_k = t_wall
    return h, t


@kernel
def _clear(out):
    out.inward_heat_w, out.charge_condenser_kg, out.charge_loops_kg = 0.0, 0.0, 0.0
    out.frame_heat_w, out.frame_inward_w, out.drain_pan_heat_w = 0.0, 0.0, 0.0
    out.charge_frame_loop_kg = 0.0


@kernel
def after_shell(med, c, pc, sat, m, h_dis, t_dis, room):
    """Discharge line: exponential approach to the room.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    pc : float
        Condensing pressure. [Pa]
    sat : tuple
        `saturation_all` there.
    m : float
        Mass flow. [kg/s]
    h_dis, t_dis : float
        At the shell. [J/kg], [K]
    room : float
        Room temperature. [K]

    Returns
    -------
    tuple
        enthalpy [J/kg], temperature [K] at the line's end.

    References
    ----------
    .. [1] Incropera et al. (2007), ch. 8.
    """
    if h_dis <= sat[2]:
        return h_dis, t_dis
    cp = max((h_dis - sat[2]) / max(t_dis - sat[0], 0.01), 300.0)
    drop = (t_dis - room) * (1.0 - exp(-c.discharge_line.conductance_w_k / (m * cp)))
    h_ci = h_dis - cp * drop
    return h_ci, vapour_temperature(med.tables, pc, h_ci)


@kernel
def rejected(med, c, pc, sat, m, h_dis, t_dis, q_oil, room, tf, tz, out):
    """From the shell's discharge to the drier, the oil cooler's heat being known.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    pc : float
        Condensing pressure. [Pa]
    sat : tuple
        `saturation_all` there.
    m : float
        Mass flow. [kg/s]
    h_dis, t_dis : float
        At the shell. [J/kg], [K]
    q_oil : float
        Heat from the oil. [W]
    room, tf, tz : float
        Temperatures of room, fresh-food and freezer compartment. [K]
    out : record
        `cycle.state.RunningState`.

    Returns
    -------
    tuple
        enthalpy [J/kg], temperature [K] at the drier, temperature at the discharge
        line's end [K].

    References
    ----------
    .. [1] `walk`.
    """
    h, t = after_shell(med, c, pc, sat, m, h_dis, t_dis, room)
    _clear(out)
    out.door_frame_k, inside = bare_frame(c, room, tf, tz)
    out.door_frame_outlet_k = out.door_frame_k
    t_end = t
    if c.oil_cooler.conductance_w_k > 0.0:
        h, t = walk(med, c, pc, sat, m, h, t, room, tf, tz, FIRST, OIL, out)
        x_in = (h - sat[1]) / (sat[2] - sat[1])
        h += q_oil / m
        t = temperature(med.tables, pc, h)
        out.charge_loops_kg += oil_cooler_charge(med, c, pc, sat, m, x_in, h, t)
        h, t = walk(med, c, pc, sat, m, h, t, room, tf, tz, OIL, ALL, out)
    else:
        h, t = walk(med, c, pc, sat, m, h, t, room, tf, tz, FIRST, ALL, out)
    out.oil_cooler_heat_w = q_oil
    if not c.frame_loop.tube_length_m > 0.0 and c.frame_loop.cabinet_conductance_w_k > 0.0:
        out.frame_inward_w = c.frame_loop.cabinet_conductance_w_k * (out.door_frame_k - inside)
    out.inward_heat_w += out.frame_inward_w
    return h, t, t_end


@kernel
def pumped(med, c, ps, pc, pr, sat, h_hot, room, tf, tz, out):
    """Compressor, with the oil cooler's heat agreed upon between shell and first section.

    Where wet refrigerant enters the oil cooler the heat is linear in the shell's temperature
    and one pass is exact; else the two are repeated until they agree.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    ps, pc : float
        Pressures in the shell and of the discharge. [Pa]
    pr : float
        The refrigerant's own pressure in the condenser, `pc` less that of a gas. [Pa]
    sat : tuple
        `saturation_all` at `pr`.
    h_hot : float
        Suction enthalpy after the bond. [J/kg]
    room, tf, tz : float
        Temperatures of room, fresh-food and freezer compartment. [K]
    out : record
        Scratch, `cycle.state.RunningState`.

    Returns
    -------
    tuple
        As `physical.compress`.

    References
    ----------
    .. [1] Fixed point with secants, Dahlquist & Bjorck (1974).
    """
    ua = c.oil_cooler.conductance_w_k
    ua_now, t_ref = ua, sat[0]
    got = compress_as_chosen(med, c, ps, pc, h_hot, room, ua_now, t_ref)
    if not ua > 0.0:
        return got
    x0, y0 = 0.0, 0.0
    for i in range(OIL_PASSES):
        m, t_shell, q = got[0], got[6], got[8]
        h, t = after_shell(med, c, pr, sat, m, got[4], got[5], room)
        _clear(out)
        h, t = walk(med, c, pr, sat, m, h, t, room, tf, tz, FIRST, OIL, out)
        take = heated(med.tables, pr, sat, m, h, ua, t_shell)
        miss = take - q
        if abs(miss) < OIL_CLOSED * (abs(q) + 1.0):
            break
        # More heat taken cools the shell, which gives the less: first step by that slope
        x = q + miss / (1.0 + ua / (c.compressor.shell_conductance_w_k + 1.0))
        if i > 0 and miss != y0:
            x = q - miss * (q - x0) / (miss - y0)
            x = min(max(x, q - 2.0 * abs(miss)), q + 2.0 * abs(miss))
        x0, y0 = q, miss
        # As a given heat: `compress` takes a conductance, here tiny against a far reference
        ua_now = 1e-6 * ua
        t_ref = t_shell - x / ua_now
        got = compress_as_chosen(med, c, ps, pc, h_hot, room, ua_now, t_ref)
    return got


@kernel
def gas_pressure(c, sat, out):
    """Partial pressure of non-condensable gas in condenser and loops.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    sat : tuple
        `saturation_all` at the refrigerant's own pressure.
    out : record
        `cycle.state.RunningState` with the charge of condenser and loops.

    Returns
    -------
    float
        Pressure. [Pa]

    References
    ----------
    .. [1] Dalton's law: all of the gas in the space that liquid leaves it, at the
       condensing temperature; what leaves with vapour is not taken off (ours).
    """
    volume = c.condenser.volume_m3 + loop_volume(c)
    mass = out.charge_condenser_kg + out.charge_loops_kg
    liquid_volume = (mass - volume / sat[4]) / (1.0 / sat[3] - 1.0 / sat[4])
    space = volume - min(max(liquid_volume, 0.0), MOST_LIQUID * volume)
    return c.air_mol * GAS_CONSTANT * sat[0] / space


@kernel
def _beside_gas(med, c, ps, pc, p_gas, h_hot, room, tf, tz, out):
    """High side with the gas at a guessed pressure, and by how much that guess is short."""
    pr = pc - p_gas
    own = saturation_all(med.tables, pr)
    got = pumped(med, c, ps, pc, pr, own, h_hot, room, tf, tz, out)
    end = rejected(med, c, pr, own, got[0], got[4], got[5], got[8], room, tf, tz, out)
    return got, end, gas_pressure(c, own, out) - p_gas


@kernel
def high_side(med, c, ps, pc, sat, h_hot, room, tf, tz, out):
    """Compressor and everything to the drier, non-condensable gas included.

    Gas is swept to the condenser and adds its partial pressure to the refrigerant's own:
    the pump works against the sum, the refrigerant condenses at its own part of it.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    ps, pc : float
        Pressures in the shell and of the discharge. [Pa]
    sat : tuple
        `saturation_all` at the discharge pressure.
    h_hot : float
        Suction enthalpy after the bond. [J/kg]
    room, tf, tz : float
        Temperatures of room, fresh-food and freezer compartment. [K]
    out : record
        `cycle.state.RunningState`.

    Returns
    -------
    tuple
        as `physical.compress`; as `rejected`.

    References
    ----------
    .. [1] `pumped`, `rejected`, `gas_pressure`; fixed point.
    """
    out.gas_pressure_pa = 0.0
    if not c.air_mol > 0.0:
        got = pumped(med, c, ps, pc, pc, sat, h_hot, room, tf, tz, out)
        end = rejected(med, c, pc, sat, got[0], got[4], got[5], got[8], room, tf, tz, out)
        return got, end
    volume = c.condenser.volume_m3 + loop_volume(c)
    low, high = 0.0, MOST_GAS * pc
    x0, miss0 = 0.0, 0.0
    x = min(c.air_mol * GAS_CONSTANT * sat[0] / volume, high)
    got, end, miss = _beside_gas(med, c, ps, pc, x, h_hot, room, tf, tz, out)
    for i in range(GAS_PASSES):
        if abs(miss) < GAS_CLOSED * pc or high - low < GAS_CLOSED * pc:
            break
        # More gas pressure, less refrigerant condensed, more space for the gas: one root
        if miss > 0.0:
            low = x
        else:
            high = x
        new = x + miss
        if i > 0 and miss != miss0:
            new = x - miss * (x - x0) / (miss - miss0)
        if not low < new < high:
            new = 0.5 * (low + high)
        x0, miss0 = x, miss
        x = new
        got, end, miss = _beside_gas(med, c, ps, pc, x, h_hot, room, tf, tz, out)
    out.gas_pressure_pa = x
    return got, end
