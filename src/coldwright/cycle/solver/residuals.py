"""The closed circuit: residuals at a guess, with the whole state behind them.

Unknowns: ln of shell pressure, ln of condensing pressure, enthalpy at the
evaporator's outlet (in units of the heat of vaporisation above saturated
vapour), quality at the high side's end (negative when subcooled), and, where
the cabinet floats, the temperature of the air leaving the evaporator (in units
of 100 K).
Residuals: capillary length, enthalpy at the evaporator's outlet, charge,
enthalpy at the condenser's outlet, and the cabinet's balance. Carrying the
outlets as unknowns of their own keeps each residual mildly curved (the idea of
multiple shooting).
"""

from __future__ import annotations

from math import exp, log, pi

from coldwright.cycle.air_side import compartments
from coldwright.cycle.capillary.exchange import exchange
from coldwright.cycle.capillary.feed import capillary_residual, fed_beside_gas
from coldwright.cycle.compressor.physical import volumetric_efficiency
from coldwright.cycle.evaporator import evaporate
from coldwright.cycle.friction import churchill, muller_steinhagen_heck
from coldwright.cycle.high_side.loops import ends_in_loop
from coldwright.cycle.high_side.walk import high_side
from coldwright.cycle.inventory import oil_and_shell, two_phase_density
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import liquid, temperature, vapour
from coldwright.refrigerant.saturation import saturation_all

WETTING = 0.01  # quality over which the accumulator's first liquid is rounded, ours
FLOW_STEPS = 60


@kernel
def residuals(med, c, s, u, floating, r, out):
    """Fill `r` with the scaled residuals and `out` with the state at guess `u`.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    s : record
        `circuit.records.Surroundings`.
    u : ndarray
        Unknowns, shape (5,); the fifth is used only when floating. [-]
    floating : float
        YES where the cabinet's balance is solved, else NO. [-]
    r : ndarray
        Residuals out, shape (5,). [-]
    out : record
        `cycle.state.RunningState`.

    References
    ----------
    .. [1] Component modules of this package.
    """
    tab = med.tables
    cap = c.capillary
    ps, pc = exp(u[0]), exp(u[1])
    low = saturation_all(tab, ps)
    h_eo = low[2] + u[2] * (low[2] - low[1])
    sat = saturation_all(tab, pc)
    h_co = sat[1] + u[3] * (sat[2] - sat[1])
    t_co = temperature(tab, pc, h_co)
    # Exchange at the flow the pump would have with gas as warm as the room; the heat is
    # per mass, so whatever the flow, both sides of the bond see the same.
    k = c.compressor
    m_near = (
        volumetric_efficiency(pc / ps, k.clearance_fraction, k.reexpansion_exponent)
        * k.displacement_m3 * k.speed_1_s * k.flow_factor_fraction / (1.25 * low[4])
    )  # fmt: skip
    q_x, skew = exchange(
        tab, ps, h_eo, t_co, u[3], cap.bond_conductance_w_m_k * cap.bonded_length_m, m_near
    )
    h_hot = h_eo + q_x
    tf, tz, t_air, load, duty = compartments(c, s, u[4] * 100.0, floating)
    got, end = high_side(med, c, ps, pc, sat, h_hot, s.room_k, tf, tz, out)
    m, w_el, h_suc, t_suc, h_dis, t_dis, t_shell, q_shell, q_oil = got
    h_calc, t_calc, t_ci = end
    q_in = out.inward_heat_w

    # Low side pressure loss: evaporator by Muller-Steinhagen & Heck, suction line by Churchill
    e, line = c.evaporator, c.suction_line
    x_guess = min(max((h_co - 0.15 * (sat[2] - sat[1]) - low[1]) / (low[2] - low[1]), 0.05), 0.9)
    x_mid = 0.5 * (x_guess + 1.0)
    loss = (
        e.tube_length_m
        * 0.5
        * muller_steinhagen_heck(
            m, x_mid, 1.0 / low[3], 1.0 / low[4], low[5], low[6], e.tube_bore_m
        )
    )
    area = 0.25 * pi * line.bore_m**2
    g = m / area
    v_line = low[4] * 1.1
    loss += (
        churchill(g * line.bore_m / low[6], 1e-4)
        * line.length_m / line.bore_m * 0.5 * g * g * v_line
    )  # fmt: skip
    loss = min(loss, 0.5 * ps)
    pe = ps + loss
    sate = saturation_all(tab, pe)

    # Drier, restricted stretch, capillary
    own, h_fed, x_co = sat, h_co, (h_co - sat[1]) / (sat[2] - sat[1])
    if c.air_mol > 0.0:
        own = saturation_all(tab, pc - out.gas_pressure_pa)
        h_fed, x_co = fed_beside_gas(sat, own, h_co)
    t_l = min(t_co, own[0])
    h_l, v_l, mu_l = liquid(tab, pc, t_l)
    r[0], p_cap, p_exit, choked = capillary_residual(tab, c, pc, h_fed, pe, q_x, skew, mu_l, m)
    # All of the exchange reaches the evaporator, also where the march choked inside the bond
    h_ei = h_co - q_x

    h_eo_calc, t_eo, wetted, frosted, charge_e, x_mean = evaporate(med, c, pe, sate, m, h_ei, t_air)
    hfg_e = sate[2] - sate[1]

    # Charge outside the exchangers
    x_eo = (h_eo - sate[1]) / hfg_e
    dry = 1.0 - x_eo
    wet = 0.5 * (dry + (dry * dry + WETTING * WETTING) ** 0.5)
    fill = wet / (wet + c.accumulator.half_full_wetness_fraction)
    rho_v = 1.0 / vapour(tab, pe, t_eo)[1]
    charge_a = c.accumulator.volume_m3 * (fill / sate[3] + (1.0 - fill) * rho_v)
    rho_line = two_phase_density(
        med.void_code, min(x_eo, 1.0), min(x_eo + 0.3, 1.0), sate, g, line.bore_m
    )
    charge_a += area * line.length_m * (rho_line if x_eo < 1.0 else rho_v)
    rho_co = 1.0 / v_l
    if x_co > 0.0:
        rho_co = two_phase_density(
            med.void_code, x_co, x_co, own, m / (0.25 * pi * c.condenser.tube_bore_m**2),
            c.condenser.tube_bore_m,
        )  # fmt: skip
    length_cap = cap.length_m * 0.25 * pi * cap.bore_m**2
    charge_l = (
        c.drier.volume_m3 * rho_co
        + length_cap * 0.8 * rho_co
        + c.discharge_line.volume_m3 / vapour(tab, pc, max(t_ci, sat[0]))[1]
    )
    gas, dissolved = oil_and_shell(med, c, ps, t_shell)
    total = out.charge_condenser_kg + charge_e + charge_a + charge_l + gas + dissolved
    total += out.charge_loops_kg

    q_e = m * (h_eo - h_ei)
    r[1] = (h_eo_calc - h_eo) / hfg_e
    r[2] = log(total / c.charge_kg)
    r[3] = (h_calc - h_co) / (sat[2] - sat[1])
    # Heat that the high side sends inward reaches the evaporator with the air.
    r[4] = (q_e - duty - q_in) / (abs(q_e) + 20.0) if floating else 0.0
    load += q_in

    fans = c.cabinet.evaporator_fan_power_w + c.cabinet.condenser_fan_power_w
    out.suction_pressure_pa = ps
    out.evaporating_pressure_pa = pe
    out.condensing_pressure_pa = pc
    out.evaporating_k = sate[0]
    out.condensing_k = sat[0]
    out.mass_flow_kg_s = m
    out.compressor_power_w = w_el
    out.appliance_power_w = w_el + fans + c.cabinet.controls_power_w
    out.shell_k = t_shell
    out.discharge_line_k = t_dis
    # Beside a gas the refrigerant is colder than the total pressure tells
    t_end = t_calc if c.air_mol > 0.0 else t_co
    if not ends_in_loop(c):
        out.condenser_outlet_k = t_end
    out.drier_inlet_k = t_end
    # The drier's loss takes the refrigerant's own part of the pressure in proportion
    p_own = p_cap * (1.0 - out.gas_pressure_pa / pc)
    out.drier_outlet_k = temperature(tab, p_own, h_co)
    out.evaporator_inlet_k = temperature(tab, pe, h_ei)
    out.evaporator_outlet_k = t_eo
    out.suction_line_k = t_suc
    out.fresh_food_k = tf
    out.freezer_k = tz
    out.superheat_k = t_eo - sate[0]
    out.subcooling_k = sat[0] - t_end
    out.condenser_outlet_quality = x_co
    out.evaporator_outlet_quality = x_eo
    out.evaporator_wetted_fraction = wetted
    out.frosted_fraction = frosted
    out.capillary_choked = choked
    out.capillary_exit_pa = p_exit
    out.cooling_w = q_e
    out.condenser_heat_w = m * (h_dis - h_co) + q_oil - out.frame_heat_w - out.drain_pan_heat_w
    out.exchange_w = m * q_x
    out.shell_heat_w = q_shell
    out.stub_heat_w = m * (h_suc - h_hot)
    out.load_w = load
    out.run_fraction = min(max(load / q_e, 0.0), 1.0) if q_e > 0.0 else 1.0
    out.charge_evaporator_kg = charge_e
    out.charge_liquid_line_kg = charge_l
    out.charge_low_side_kg = charge_a
    out.charge_shell_kg = gas
    out.charge_oil_kg = dissolved
    out.enthalpy_discharge_j_kg = h_dis
    out.enthalpy_condenser_out_j_kg = h_co
    out.enthalpy_evaporator_in_j_kg = h_ei
    out.enthalpy_evaporator_out_j_kg = h_eo
    out.enthalpy_suction_j_kg = h_suc


@kernel
def residuals_by_flow(med, c, s, u, floating, r, out):
    """As `residuals`, but r[0] = ln(pumped flow / flow the capillary passes).

    Where the flow in the bond is about to choke, or to be liquid again, the needed length
    changes by metres within a thousandth of the flow; the flow it passes changes smoothly.
    Costs some ten marches, so it is for the states where the length fails.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    s : record
        `circuit.records.Surroundings`.
    u : ndarray
        Unknowns, shape (5,). [-]
    floating : float
        YES where the cabinet's balance is solved, else NO. [-]
    r : ndarray
        Residuals out, shape (5,). [-]
    out : record
        `cycle.state.RunningState`.

    References
    ----------
    .. [1] False position with halving, Dahlquist & Bjorck (1974).
    """
    residuals(med, c, s, u, floating, r, out)
    tab, cap = med.tables, c.capillary
    m = out.mass_flow_kg_s
    if not abs(r[0]) < 1e300:
        return
    pc, pe = out.condensing_pressure_pa, out.evaporating_pressure_pa
    h_co = out.enthalpy_condenser_out_j_kg
    t_co = temperature(tab, pc, h_co)
    k = c.compressor
    ps = out.suction_pressure_pa
    m_near = (
        volumetric_efficiency(pc / ps, k.clearance_fraction, k.reexpansion_exponent)
        * k.displacement_m3 * k.speed_1_s * k.flow_factor_fraction
        / (1.25 * saturation_all(tab, ps)[4])
    )  # fmt: skip
    q_x, skew = exchange(
        tab, ps, out.enthalpy_evaporator_out_j_kg, t_co, u[3],
        cap.bond_conductance_w_m_k * cap.bonded_length_m, m_near,
    )  # fmt: skip
    h_fed, t_most = h_co, out.condensing_k
    if c.air_mol > 0.0:
        own = saturation_all(tab, pc - out.gas_pressure_pa)
        h_fed, t_most = fed_beside_gas(saturation_all(tab, pc), own, h_co)[0], own[0]
    _, _, mu = liquid(tab, pc, min(t_co, t_most))
    a = b = 0.0  # ln(flow / pumped flow) below and above the answer
    fa = fb = r[0]
    stride = 0.02
    x = 0.0
    f = r[0]
    has_a, has_b = f > 0.0, f <= 0.0
    side = 0
    for _ in range(FLOW_STEPS):
        if has_a and has_b:
            if b - a < 1e-11:
                break
            x = b - fb * (b - a) / (fb - fa)
            if side > 1 or side < -1 or not a < x < b:
                x = 0.5 * (a + b)
        elif has_a:
            x = a + stride
            stride *= 2.0
        else:
            x = b - stride
            stride *= 2.0
        if x > 8.0 or x < -8.0:
            break
        f = capillary_residual(tab, c, pc, h_fed, pe, q_x, skew, mu, m * exp(x))[0]
        if abs(f) < 1e-11:
            break
        if f > 0.0:
            side = max(side, 0) + 1
            a, fa, has_a = x, min(f, 1.0), True
        else:
            side = min(side, 0) - 1
            b, fb, has_b = x, max(f, -1.0), True
    r[0] = -x
