"""The ten-coefficient compressor: flow and power by polynomials, the rest by the shell's balance.

Inside the range the coefficients are stated for, flow and power of the rated gas are the
polynomials'. Beyond it they go on from the range's edge with the clearance law of the
physical compressor, so that a starved or a blocked circuit still has a solution; the
answer says so (`ranges`). Gas that is not as warm as the rated gas is allowed for by
Dabiri & Rice (1981). Shell, oil and discharge line are those of the physical compressor.
"""

from __future__ import annotations

from math import exp

from coldwright.cycle.compressor.physical import (
    HOTTEST,
    WET_GAIN,
    compress,
    isentropic_work,
    volumetric_efficiency,
)
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import vapour_hvs, vapour_temperature
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure

KELVIN = 273.15
DENSITY_SHARE = 0.75  # of a change of suction density that reaches the cylinder, Dabiri & Rice
LEAST_FLOW = 1e-9  # keeps a polynomial that turns negative from ending the search [kg/s]
PASSES = 40
CLOSED = 1e-11


@kernel
def ten_terms(p, e, c):
    """Flow and power of the two polynomials.

    Parameters
    ----------
    p : record
        `circuit.records.CompressorPolynomial`.
    e, c : float
        Evaporating and condensing temperature. [°C]

    Returns
    -------
    tuple
        flow [kg/s], power [W].

    References
    ----------
    .. [1] EN 12900; AHRI 540 (form read in two secondary sources).
    """
    e2, c2 = e * e, c * c
    flow = (
        p.flow_c1_number + p.flow_c2_number * e + p.flow_c3_number * c + p.flow_c4_number * e2
        + p.flow_c5_number * e * c + p.flow_c6_number * c2 + p.flow_c7_number * e2 * e
        + p.flow_c8_number * c * e2 + p.flow_c9_number * e * c2 + p.flow_c10_number * c2 * c
    )  # fmt: skip
    power = (
        p.power_c1_number + p.power_c2_number * e + p.power_c3_number * c + p.power_c4_number * e2
        + p.power_c5_number * e * c + p.power_c6_number * c2 + p.power_c7_number * e2 * e
        + p.power_c8_number * c * e2 + p.power_c9_number * e * c2 + p.power_c10_number * c2 * c
    )  # fmt: skip
    return max(flow * p.flow_unit_number, LEAST_FLOW), max(power, 0.0)


@kernel
def rated(tab, c, p1, p2, sat, sat2):
    """Flow and power with gas at the rated temperature, and that gas.

    Parameters
    ----------
    tab : Tables
        Property tables.
    c : record
        `circuit.records.Circuit`.
    p1, p2 : float
        Pressures in the shell and of the discharge. [Pa]
    sat, sat2 : tuple
        `saturation_all` at each.

    Returns
    -------
    tuple
        flow [kg/s], power [W], specific volume of the rated gas [m3/kg], its isentropic
        work [J/kg].

    References
    ----------
    .. [1] `ten_terms`; beyond the range `physical.volumetric_efficiency` (ours).
    """
    k, p = c.compressor, c.compressor_polynomial
    te = min(max(sat[0], p.least_evaporating_k), p.most_evaporating_k)
    tc = min(max(sat2[0], p.least_condensing_k), p.most_condensing_k)
    flow, power = ten_terms(p, te - KELVIN, tc - KELVIN)
    t_gas = max(p.return_gas_k, sat[0])
    h, v, s, cp = vapour_hvs(tab, p1, sat[0], t_gas)
    work = isentropic_work(tab, h, s, sat2, p1, p2)
    if te != sat[0] or tc != sat2[0]:
        q1, q2 = saturation_pressure(tab, te), saturation_pressure(tab, tc)
        h_e, v_e, s_e, cp_e = vapour_hvs(tab, q1, te, max(p.return_gas_k, te))
        work_e = isentropic_work(tab, h_e, s_e, saturation_all(tab, q2), q1, q2)
        there = volumetric_efficiency(p2 / p1, k.clearance_fraction, k.reexpansion_exponent)
        edge = volumetric_efficiency(q2 / q1, k.clearance_fraction, k.reexpansion_exponent)
        scale = there / edge * v_e / v
        flow = flow * scale
        above = max(power - k.idle_power_w, 0.0)
        power += above * (scale * work / max(work_e, 1.0) - 1.0)
    return flow, power, v, work


@kernel
def compress_by_polynomial(med, c, p1, p2, h_hot, room, oil_ua, oil_t):
    """As `physical.compress`, flow and power by the ten coefficients.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    p1, p2 : float
        Pressures in the shell and of the discharge. [Pa]
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
        As `physical.compress`.

    References
    ----------
    .. [1] A. E. Dabiri, C. K. Rice, A compressor simulation model with corrections for the
       level of suction gas superheat, ASHRAE Transactions 87(2), 1981 (from memory): flow by
       1 + 0.75 (density / rated density - 1), power by flow and isentropic work. Here the
       idle power stays as it is (ours).
    """
    tab = med.tables
    k = c.compressor
    sat = saturation_all(tab, p1)
    sat2 = saturation_all(tab, p2)
    ts, hv = sat[0], sat[2]
    cp_sat = sat[10]
    f = k.flow_factor_fraction
    work_per_kg = k.leak_work_share_fraction / f + 1.0 - k.leak_work_share_fraction
    m_map, w_map, v_map, work_map = rated(tab, c, p1, p2, sat, sat2)
    idle = min(k.idle_power_w, w_map)
    t_hot = vapour_temperature(tab, p1, h_hot) if h_hot > hv else ts
    stub = c.suction_line.room_conductance_w_k
    ua_s, ua_d, ua_r = (
        k.suction_conductance_w_k, k.discharge_conductance_w_k, k.shell_conductance_w_k
    )  # fmt: skip

    m = f * m_map
    t_shell = room + 30.0
    h_suc, t_suc, w_el = h_hot, t_hot, w_map
    old_t, old_y = 0.0, 0.0
    for i in range(PASSES):
        h_suc, t_suc, left = h_hot, t_hot, 1.0
        if h_hot < hv:
            q_stub = stub * max(room - ts, 0.0) / m
            left = max(1.0 - (hv - h_hot) / max(q_stub, 1e-9), 0.0)
            h_suc = min(h_hot + q_stub, hv)
        if left > 0.0:
            gain = (room - t_hot) * (1.0 - exp(-left * stub / (m * cp_sat)))
            t_suc = t_hot + gain
            h_suc += cp_sat * gain
        if h_suc > hv:
            t1 = vapour_temperature(tab, p1, h_suc)
            h1, v1, s1, cp1 = vapour_hvs(tab, p1, ts, t1)
        else:
            h1, v1, s1, cp1 = vapour_hvs(tab, p1, ts, ts)
            wet = (sat[4] - sat[3]) / (hv - sat[1])
            v1 = max(v1 + wet * (h_suc - hv), 0.2 * v1)
        work = isentropic_work(tab, h1, s1, sat2, p1, p2)
        m_new = f * m_map * (1.0 + DENSITY_SHARE * (v_map / v1 - 1.0))
        moved = abs(m_new / m - 1.0)
        m = m_new
        w_el = idle + (w_map - idle) * m / m_map * work / max(work_map, 1.0) * work_per_kg
        w_ind = k.motor_efficiency_fraction * (w_el - idle)
        # Shell, as the physical compressor has it
        h_cyl, share = h_suc, 1.0
        if h_suc < hv and t_shell > ts:
            q_wet = WET_GAIN * ua_s * (t_shell - ts)
            need = m * (hv - h_suc)
            h_cyl, share = h_suc + q_wet / m, 0.0
            if q_wet > need:
                h_cyl, share = hv, 1.0 - need / q_wet
        if share > 0.0:
            h_cyl += cp1 * (t_shell - t_suc) * (1.0 - exp(-share * ua_s / (m * cp1)))
        h2 = h_cyl + w_ind / m
        t2 = vapour_temperature(tab, p2, h2)
        cp2 = vapour_hvs(tab, p2, sat2[0], t2)[3]
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
        if abs(step) < 1e-9 and moved < CLOSED:
            break
    q_oil = oil_ua * (t_shell - oil_t)
    # The balance itself defines the discharge state, so energy closes exactly.
    h_dis = h_suc + (w_el - ua_r * (t_shell - room) - q_oil) / m
    t_dis = vapour_temperature(tab, p2, h_dis)
    return m, w_el, h_suc, t_suc, h_dis, t_dis, t_shell, ua_r * (t_shell - room), q_oil


@kernel
def compress_as_chosen(med, c, p1, p2, h_hot, room, oil_ua, oil_t):
    """The compressor the circuit names.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    p1, p2 : float
        Pressures in the shell and of the discharge. [Pa]
    h_hot : float
        Enthalpy of the suction stream after the bond. [J/kg]
    room : float
        Room temperature. [K]
    oil_ua : float
        As in `physical.compress`. [W/K]
    oil_t : float
        As there. [K]

    Returns
    -------
    tuple
        As `physical.compress`.

    References
    ----------
    .. [1] `physical.compress`, `compress_by_polynomial`.
    """
    if c.models.compressor_code == 1.0:
        return compress_by_polynomial(med, c, p1, p2, h_hot, room, oil_ua, oil_t)
    return compress(med, c, p1, p2, h_hot, room, oil_ua, oil_t)
