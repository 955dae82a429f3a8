"""Compressors and coils of a family's members, as large as their cooling asks."""

from __future__ import annotations

import numpy as np

from coldwright.catalogue.families import indicated_efficiency, motor_efficiency
from coldwright.catalogue.loops import oil_coolers
from coldwright.catalogue.prior_table import Drawing
from coldwright.circuit.records import CondenserKind, EvaporatorKind

USUAL_W = 110.0  # cooling capacity the table states sizes for
USUAL_EFFICIENCY = 0.64  # indicated times motor efficiency there


def compressors(
    c: np.ndarray, drawn: Drawing, frequency_hz: float, capacity: np.ndarray, fan: np.ndarray
) -> None:
    """Give each member its compressor, discharge line and oil cooler, in place.

    Parameters
    ----------
    c : ndarray
        Circuits, shape (n,).
    drawn : Drawing
        Members' values.
    frequency_hz : float
        Of the supply. [Hz]
    capacity : ndarray
        Cooling at the design point, shape (n,). [W]
    fan : ndarray
        Whether the condenser's fan blows over the shell, bool, shape (n,).
    """
    k = c["compressor"]
    k["displacement_m3"] = 4e-6 * capacity / USUAL_W  # where the sizing starts
    k["speed_1_s"] = drawn["slip_speed"] * frequency_hz
    k["clearance_fraction"] = drawn["clearance"]
    k["reexpansion_exponent"] = drawn["reexpansion"]
    k["flow_factor_fraction"] = 1.0
    k["leak_work_share_fraction"] = drawn["leak_work"]
    eta_i = indicated_efficiency(drawn.year) * drawn["indicated"]
    eta_m = motor_efficiency(drawn.year) * drawn["motor"]
    k["indicated_efficiency_fraction"] = np.clip(eta_i, 0.5, 0.93)
    k["motor_efficiency_fraction"] = np.clip(eta_m, 0.45, 0.93)
    k["idle_power_w"] = drawn["idle"] * capacity
    scale = (capacity / USUAL_W) ** drawn["size_growth"]
    # Shells grow with the input they must give away: no maker lets the windings cook
    heat = (capacity / USUAL_W * USUAL_EFFICIENCY / (eta_i * eta_m)) ** drawn["shell_growth"]
    k["suction_conductance_w_k"] = drawn["suction_gas"] * heat
    k["discharge_conductance_w_k"] = drawn["discharge_tube"] * heat
    k["shell_conductance_w_k"] = drawn.pick("shell", fan=fan) * heat
    k["shell_volume_m3"] = drawn["shell_volume"] * scale
    k["oil_mass_kg"] = drawn["oil"] * scale
    k["power_factor_fraction"] = drawn["power_factor"]
    c["discharge_line"]["conductance_w_k"] = drawn["discharge_line_loss"] * scale
    c["discharge_line"]["volume_m3"] = drawn["discharge_line_volume"]
    oil_coolers(c, heat, scale)


def exchangers(
    c: np.ndarray,
    drawn: Drawing,
    cond: np.ndarray,
    evap: np.ndarray,
    capacity: np.ndarray,
    rise: np.ndarray,
    panel: np.ndarray,
) -> None:
    """Give each member its coils, in place; their areas are found by the sizing.

    Parameters
    ----------
    c : ndarray
        Circuits, shape (n,).
    drawn : Drawing
        Members' values.
    cond, evap : ndarray
        Codes of condenser and evaporator, shape (n,).
    capacity : ndarray
        Cooling at the design point, shape (n,). [W]
    rise : ndarray
        Condensing above the room there, shape (n,). [K]
    panel : ndarray
        Conductance of the wall under a skin condenser, shape (n,). [W/K]
    """
    fan_c, skin = cond == int(CondenserKind.FAN), cond == int(CondenserKind.SKIN)
    fan_e, cold = evap == int(EvaporatorKind.FAN), evap == int(EvaporatorKind.COLD_WALL)
    hold, tilt = drawn["holdup"], drawn["holdup_split"]
    size = (capacity / USUAL_W) ** (drawn["size_growth"] * drawn["tube_growth"]) * hold
    d, e = c["condenser"], c["evaporator"]
    d["kind_code"] = cond
    d["tube_bore_m"] = drawn["condenser_bore"]
    d["tube_length_m"] = drawn.pick("condenser_tube", skin=skin, fan=fan_c) * size * tilt
    d["area_m2"] = capacity / USUAL_W
    d["height_m"] = drawn.pick("condenser_height", skin=skin)
    d["tube_diameter_m"], d["wire_diameter_m"] = drawn["tube_outside"], drawn["wire"]
    d["tube_pitch_m"], d["wire_pitch_m"] = drawn["tube_pitch"], drawn["wire_pitch"]
    d["emissivity_fraction"] = drawn["emissivity"]
    d["surface_efficiency_fraction"] = drawn.pick("condenser_surface", skin=skin)
    d["fan_coefficient_w_m2_k"] = drawn["condenser_fan_law"]
    air = drawn["rejected"] * capacity / (drawn["condenser_air_rise"] * rise)
    d["air_capacity_w_k"] = np.where(fan_c, air, 0.0)
    d["inward_conductance_w_k"] = panel
    d["air_factor_fraction"] = 1.0
    e["kind_code"] = evap
    e["tube_bore_m"] = drawn.pick("evaporator_bore", fan=fan_e, cold=cold)
    e["tube_length_m"] = drawn.pick("evaporator_tube", fan=fan_e, cold=cold) * size / tilt
    e["area_m2"] = np.where(fan_e, 1.3, 0.9) * capacity / USUAL_W
    e["height_m"] = drawn.pick("evaporator_height", fan=fan_e, cold=cold)
    e["emissivity_fraction"] = np.where(fan_e, 0.0, drawn["emissivity"])
    e["surface_efficiency_fraction"] = drawn.pick("evaporator_surface", cold=cold)
    e["fan_coefficient_w_m2_k"] = drawn["evaporator_fan_law"]
    e["frost_resistance_k_w"] = drawn["frost_resistance"] * USUAL_W / capacity
    e["air_factor_fraction"] = 1.0
    for part in (d, e):
        part["volume_m3"] = 0.25 * np.pi * part["tube_bore_m"] ** 2 * part["tube_length_m"]
