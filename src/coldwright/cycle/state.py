"""The running state: all a reading could be compared with, and the evidence of the solve."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.circuit.vector import dtype_of

# Flags are floats: Numba compiles a copy of a kernel for every boolean or integer constant.
NO, YES = 0.0, 1.0

# `status_code`
SOLVED = 0.0
PUMPED_DOWN = 1.0  # no flow: blocked capillary
TRIPPED = 2.0  # condensing pressure above the table: the overload opens; state at that limit
UNSOLVED = 9.0


@dataclass(frozen=True, slots=True)
class RunningState:
    """Quasi-steady running state of one circuit."""

    suction_pressure_pa: float
    evaporating_pressure_pa: float
    condensing_pressure_pa: float  # discharge pressure, that of a gas included
    gas_pressure_pa: float  # part of it that is air or nitrogen
    evaporating_k: float
    condensing_k: float  # saturation at the discharge pressure: what a gauge tells
    mass_flow_kg_s: float
    compressor_power_w: float
    appliance_power_w: float  # with fans and controls running
    shell_k: float
    discharge_line_k: float  # at the shell
    condenser_inlet_k: float
    condenser_middle_k: float
    condenser_outlet_k: float
    drier_inlet_k: float
    drier_outlet_k: float
    evaporator_inlet_k: float
    evaporator_outlet_k: float
    suction_line_k: float  # at the shell
    door_frame_k: float  # flange, mean along its loop; NaN where none is described
    door_frame_outlet_k: float  # flange where the loop ends
    fresh_food_k: float
    freezer_k: float
    superheat_k: float  # evaporator outlet
    subcooling_k: float  # end of the high side
    condenser_outlet_quality: float  # end of the high side, negative when subcooled
    evaporator_outlet_quality: float  # above 1 when superheated
    evaporator_wetted_fraction: float
    frosted_fraction: float
    capillary_choked: float
    capillary_exit_pa: float
    cooling_w: float
    condenser_heat_w: float  # condenser and discharge line
    frame_heat_w: float  # of the frame loop
    frame_inward_w: float  # past the door frame into the cabinet, loop or none
    drain_pan_heat_w: float
    oil_cooler_heat_w: float  # from the shell's oil to the refrigerant
    inward_heat_w: float  # into the cabinet: skin condenser, frame, drain-pan loop
    exchange_w: float  # capillary to suction gas
    shell_heat_w: float
    stub_heat_w: float  # room to suction line
    load_w: float  # of the cabinet at these compartment temperatures
    run_fraction: float  # load / cooling, at most 1
    charge_condenser_kg: float
    charge_evaporator_kg: float
    charge_loops_kg: float  # frame loop, drain-pan loop, oil cooler
    charge_frame_loop_kg: float  # part of it
    charge_liquid_line_kg: float
    charge_low_side_kg: float  # accumulator and suction line
    charge_shell_kg: float  # gas in the shell
    charge_oil_kg: float  # dissolved
    enthalpy_discharge_j_kg: float
    enthalpy_condenser_out_j_kg: float
    enthalpy_evaporator_in_j_kg: float
    enthalpy_evaporator_out_j_kg: float
    enthalpy_suction_j_kg: float
    outside_range_code: float  # 1 = a state left the property tables
    residual: float  # largest scaled residual
    iterations: float
    status_code: float


STATE = dtype_of(RunningState)
