"""The blocked circuit: no flow, the low side pumped to the pump's limit."""

from __future__ import annotations

from math import exp

from coldwright.cycle.air_side import compartments
from coldwright.cycle.high_side.loops import bare_frame, high_side_volume
from coldwright.cycle.high_side.walk import GAS_CONSTANT
from coldwright.cycle.inventory import oil_and_shell
from coldwright.cycle.state import NO, PUMPED_DOWN
from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.kernels import vapour
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure


@kernel
def pumped_down(med, c, s, settled, out):
    """State with the capillary blocked: no flow, low side pumped to the pump's limit.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c : record
        `circuit.records.Circuit`.
    s : record
        `circuit.records.Surroundings`.
    settled : bool
        Whether the compartments have drifted to the room's temperature.
    out : record
        `cycle.state.RunningState`.

    References
    ----------
    .. [1] Volumetric efficiency zero at the clearance limit (Stoecker & Jones 1982,
       eq. 11.3); mass balance between the sides.
    """
    tab = med.tables
    k = c.compressor
    if settled:
        s.fresh_food_k, s.freezer_k = s.room_k, s.room_k
    tf, tz, t_air, load, duty = compartments(c, s, 0.0, NO)
    limit = ((1.0 + k.clearance_fraction) / k.clearance_fraction) ** k.reexpansion_exponent
    # A pump that leaks holds less of a vacuum.
    limit = 1.0 + (limit - 1.0) * k.flow_factor_fraction
    t_shell = s.room_k + k.idle_power_w / k.shell_conductance_w_k
    pc = saturation_pressure(tab, s.room_k)
    sat = saturation_all(tab, pc)
    first = exp(tab.ln_p_first)
    ps = max(pc / limit, first * 1.02)
    low_volume = (
        c.evaporator.volume_m3 + c.accumulator.volume_m3
        + c.suction_line.length_m * 0.785 * c.suction_line.bore_m**2
    )  # fmt: skip
    gas, dissolved = oil_and_shell(med, c, ps, t_shell)
    low = low_volume / vapour(tab, ps, t_air)[1]
    high_volume = high_side_volume(c)
    high = max(c.charge_kg - gas - dissolved - low, 0.0)
    vapour_only = high_volume / sat[4]
    if high < vapour_only:
        pc *= max(high / vapour_only, 0.02)
        ps = max(pc / limit, first * 1.02)
    own = saturation_all(tab, pc)
    sate = saturation_all(tab, ps)
    liquid_mass = max(high - high_volume / own[4], 0.0)
    # All of a gas lies beside the refrigerant on the high side (Dalton)
    space = max(high_volume - liquid_mass * own[3], 0.05 * high_volume)
    out.gas_pressure_pa = c.air_mol * GAS_CONSTANT * s.room_k / space
    pc = min(
        pc + out.gas_pressure_pa, exp(tab.ln_p_first + tab.ln_p_step * tab.saturation.shape[0])
    )
    sat = saturation_all(tab, pc) if c.air_mol > 0.0 else own
    w = k.idle_power_w
    out.suction_pressure_pa, out.evaporating_pressure_pa, out.condensing_pressure_pa = ps, ps, pc
    out.evaporating_k, out.condensing_k = sate[0], sat[0]
    out.mass_flow_kg_s = 0.0
    out.compressor_power_w = w
    fans = c.cabinet.evaporator_fan_power_w + c.cabinet.condenser_fan_power_w
    out.appliance_power_w = w + fans + c.cabinet.controls_power_w
    out.shell_k = t_shell
    out.discharge_line_k = s.room_k + 0.5 * (t_shell - s.room_k)
    out.condenser_inlet_k, out.condenser_middle_k = s.room_k, s.room_k
    out.condenser_outlet_k, out.drier_inlet_k, out.drier_outlet_k = s.room_k, s.room_k, s.room_k
    out.evaporator_inlet_k, out.evaporator_outlet_k = t_air, t_air
    out.suction_line_k = s.room_k
    out.fresh_food_k, out.freezer_k = tf, tz
    out.superheat_k = t_air - sate[0]
    out.subcooling_k = sat[0] - s.room_k
    out.condenser_outlet_quality = 0.0 if liquid_mass > 0.0 else 1.0
    out.evaporator_outlet_quality = 2.0
    out.evaporator_wetted_fraction, out.frosted_fraction = 0.0, 0.0
    out.capillary_choked, out.capillary_exit_pa = 0.0, ps
    out.cooling_w, out.condenser_heat_w = 0.0, 0.0
    out.frame_heat_w, out.drain_pan_heat_w, out.oil_cooler_heat_w = 0.0, 0.0, 0.0
    out.door_frame_k, behind = bare_frame(c, s.room_k, tf, tz)
    out.door_frame_outlet_k, out.frame_inward_w = out.door_frame_k, 0.0
    if c.frame_loop.cabinet_conductance_w_k > 0.0:
        out.frame_inward_w = c.frame_loop.cabinet_conductance_w_k * (out.door_frame_k - behind)
    out.inward_heat_w = out.frame_inward_w
    out.exchange_w, out.stub_heat_w = 0.0, 0.0
    out.shell_heat_w = w
    out.load_w = load
    out.run_fraction = 1.0
    out.charge_condenser_kg = high
    out.charge_evaporator_kg, out.charge_low_side_kg = low, 0.0
    out.charge_liquid_line_kg, out.charge_loops_kg, out.charge_frame_loop_kg = 0.0, 0.0, 0.0
    out.charge_shell_kg, out.charge_oil_kg = gas, dissolved
    out.enthalpy_discharge_j_kg, out.enthalpy_condenser_out_j_kg = sat[2], sat[1]
    out.enthalpy_evaporator_in_j_kg, out.enthalpy_evaporator_out_j_kg = sat[1], sate[2]
    out.enthalpy_suction_j_kg = sate[2]
    out.residual, out.iterations, out.status_code = 0.0, 0.0, PUMPED_DOWN
