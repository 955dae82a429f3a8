"""Hermetic reciprocating compressor with the heat balance of its shell.

Flow by displacement, clearance re-expansion and valve tightness; work from the
isentropic work and two efficiencies above an idle power (the linear form of
Hermes & Melo 2008, from memory); the gas is warmed by the shell before the
cylinder and the discharge tube warms the shell after it.
"""

from __future__ import annotations

from math import exp

from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import vapour_hvs, vapour_temperature
from coldwright.refrigerant.saturation import saturation_all

SHELL_PASSES = 2  # property evaluations; a third changes the shell by under 0.1 K
LEAST_VOLUMETRIC = 1e-4  # below it the pump no longer pumps; keeps the flow positive
WET_GAIN = 5.0  # liquid on the shell's wall boils better than gas warms; judgement of ours
HOTTEST = 470.0  # oil and motor are long destroyed; bounds the search [K]


@kernel
def volumetric_efficiency(pressure_ratio, clearance, exponent):
    """Clearance volumetric efficiency.

    Parameters
    ----------
    pressure_ratio : float
        Discharge over suction pressure. [-]
    clearance : float
        Dead volume over swept volume. [-]
    exponent : float
        Polytropic exponent of re-expansion. [-]

    Returns
    -------
    float
        Efficiency, not below a small positive floor. [-]

    References
    ----------
    .. [1] Stoecker & Jones (1982), eq. (11.3).
    """
    eta = 1.0 + clearance - clearance * pressure_ratio ** (1.0 / exponent)
    if eta < 0.02:
        # Falls towards the floor smoothly, so a blocked circuit still has a solution.
        eta = 0.02 * exp((eta - 0.02) / 0.02)
    return max(eta, LEAST_VOLUMETRIC)


@kernel
def isentropic_work(tab, h1, s1, sat, p1, p2):
    """Specific isentropic work and the enthalpy after it.

    Parameters
    ----------
    tab : Tables
        Property tables.
    h1 : float
        Enthalpy before. [J/kg]
    s1 : float
        Entropy before. [J/kg/K]
    sat : tuple
        `saturation_all` at the discharge pressure.
    p1 : float
        Suction pressure. [Pa]
    p2 : float
        Discharge pressure. [Pa]

    Returns
    -------
    float
        Work, 0 where p2 is not above p1. [J/kg]

    References
    ----------
    .. [1] Definition: h(p2, s1) - h1.
    """
    if p2 <= p1:
        return 0.0
    if s1 <= sat[8]:
        return max(sat[2] - (sat[8] - s1) * sat[0] - h1, 0.0)
    t = sat[0] * exp((s1 - sat[8]) / (1.05 * sat[10]))
    h = sat[2]
    for _ in range(2):
        # dh = T ds at constant pressure carries the last step's error to second order.
        t = min(t, tab.t_hottest)
        h, v, s, cp = vapour_hvs(tab, p2, sat[0], t)
        h += t * (s1 - s)
        t += (s1 - s) * t / cp
    return max(h - h1, 0.0)


@kernel
def compress(med, c, p1, p2, h_hot, room, oil_ua, oil_t):
    """Compressor with its suction stub and shell, at given pressures.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    p1 : float
        Pressure in the shell. [Pa]
    p2 : float
        Discharge pressure. [Pa]
    h_hot : float
        Enthalpy of the suction stream after the bond. [J/kg]
    room : float
        Room temperature. [K]
    oil_ua : float
        Heat the oil cooler takes per kelvin of the shell above `oil_t`; 0 = none. [W/K]
    oil_t : float
        Temperature of its refrigerant. [K]

    Returns
    -------
    tuple
        flow [kg/s], electrical power [W], enthalpy at the shell [J/kg], temperature
        there [K], discharge enthalpy [J/kg], discharge temperature [K], shell
        temperature [K], shell heat to room [W], heat to the oil cooler [W].

    References
    ----------
    .. [1] Hermes & Melo (2008), Int. J. Refrigeration 31, 685 (form of the power law,
       from memory); energy balances.
    """
    tab = med.tables
    k = c.compressor
    sat = saturation_all(tab, p1)
    sat2 = saturation_all(tab, p2)
    ts, hv = sat[0], sat[2]
    hfg = hv - sat[1]
    cp_sat = sat[10]
    sweep = k.displacement_m3 * k.speed_1_s
    eta = volumetric_efficiency(p2 / p1, k.clearance_fraction, k.reexpansion_exponent)
    full = eta * sweep
    f = k.flow_factor_fraction
    # Lost flow is compressed again and again: part of its work stays.
    work_per_kg = k.leak_work_share_fraction / f + 1.0 - k.leak_work_share_fraction
    t_hot = vapour_temperature(tab, p1, h_hot) if h_hot > hv else ts
    stub = c.suction_line.room_conductance_w_k
    ua_s, ua_d = k.suction_conductance_w_k, k.discharge_conductance_w_k
    ua_r = k.shell_conductance_w_k

    t_shell = room + 30.0
    h_cyl = max(h_hot, hv) + cp_sat * 0.5 * max(t_shell - t_hot, 0.0)
    m = f * full / sat[4] * 0.85
    h_suc, t_suc = h_hot, t_hot
    h_dis, t_dis, w_el, w_ind, q_oil = h_cyl, t_shell, k.idle_power_w, 0.0, 0.0
    for _ in range(SHELL_PASSES):
        # Exact properties at this pass's cylinder state; the rest of the pass is linear about it.
        # Wet gas is not linear about a dry state, so the base is never wet and the volume
        # bends where it turns dry; else the flow would jump there between two passes.
        t1 = vapour_temperature(tab, p1, max(h_cyl, hv))
        h1, v1, s1, cp1 = vapour_hvs(tab, p1, ts, t1)
        v_slope = v1 / (cp1 * t1)
        v_dry = v1 + v_slope * (hv - h1)
        wet_slope = (sat[4] - sat[3]) / hfg
        work1 = isentropic_work(tab, h1, s1, sat2, p1, p2) / k.indicated_efficiency_fraction
        h2a = h1 + work1 * work_per_kg
        t2a = vapour_temperature(tab, p2, h2a)
        cp2 = vapour_hvs(tab, p2, sat2[0], t2a)[3]
        old_t, old_y = 0.0, 0.0
        for i in range(12):
            # Suction stub takes heat from the room, then the gas from the shell.
            h_suc, t_suc, left = h_hot, t_hot, 1.0
            if h_hot < hv:
                q_stub = stub * max(room - ts, 0.0) / m
                left = max(1.0 - (hv - h_hot) / max(q_stub, 1e-9), 0.0)  # stretch with dry gas
                h_suc = min(h_hot + q_stub, hv)
            if left > 0.0:
                gain = (room - t_hot) * (1.0 - exp(-left * stub / (m * cp_sat)))
                t_suc = t_hot + gain
                h_suc += cp_sat * gain
            h_cyl = h_suc
            share = 1.0
            if h_suc < hv and t_shell > ts:
                q_wet = WET_GAIN * ua_s * (t_shell - ts)
                need = m * (hv - h_suc)
                if q_wet <= need:
                    h_cyl = h_suc + q_wet / m
                    share = 0.0
                else:
                    h_cyl = hv
                    share = 1.0 - need / q_wet
            warm = (t_shell - t_suc) * (1.0 - exp(-share * ua_s / (m * cp1)))
            if share > 0.0:
                h_cyl += cp1 * warm
            v = v1 + v_slope * (h_cyl - h1)
            if h_cyl < hv:
                v = max(v_dry + wet_slope * (h_cyl - hv), 0.2 * v_dry)
            m_new = f * full / v
            m = 0.5 * (m + m_new) if i == 0 else m_new
            w_gas = work1 * v / v1 * work_per_kg
            w_ind = m * w_gas
            w_el = k.idle_power_w + w_ind / k.motor_efficiency_fraction
            t2 = t2a + (h_cyl + w_gas - h2a) / cp2
            cool = 1.0 - exp(-ua_d / (m * cp2))
            q_d = m * cp2 * cool * (t2 - t_shell)
            y = (w_el - w_ind) + q_d - m * (h_cyl - h_suc) - ua_r * (t_shell - room)
            y -= oil_ua * (t_shell - oil_t)
            slope = -(ua_r + oil_ua + m * cp2 * cool + 0.3 * m * cp1)
            if i > 0 and abs(t_shell - old_t) > 1e-12 and y != old_y:
                secant = (y - old_y) / (t_shell - old_t)
                if secant < 0.2 * slope:
                    slope = secant
            old_t, old_y = t_shell, y
            step = -y / slope
            t_shell = min(max(t_shell + min(max(step, -40.0), 40.0), 200.0), HOTTEST)
            if abs(step) < 1e-9:
                break
        # The balance itself defines the discharge state, so energy closes exactly.
        q_oil = oil_ua * (t_shell - oil_t)
        h_dis = h_suc + (w_el - ua_r * (t_shell - room) - q_oil) / m
    t_dis = vapour_temperature(tab, p2, h_dis)
    return m, w_el, h_suc, t_suc, h_dis, t_dis, t_shell, ua_r * (t_shell - room), q_oil
