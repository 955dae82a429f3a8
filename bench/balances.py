"""Mass, energy and charge of one running state, worked out again from the state's own fields.

Nothing here reads the solver's residual. From the pressures, temperatures and enthalpies
of a state the heat of both exchangers, the shell's heat, the pump's flow and the flow the
capillary passes (a root of its own) are worked out again and compared.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from coldwright.cycle.capillary.exchange import exchange
from coldwright.cycle.capillary.feed import capillary_residual, fed_beside_gas
from coldwright.cycle.compressor.physical import volumetric_efficiency
from coldwright.cycle.evaporator import evaporate
from coldwright.cycle.high_side.walk import pumped, rejected
from coldwright.cycle.inventory import oil_and_shell
from coldwright.cycle.state import PUMPED_DOWN, STATE
from coldwright.refrigerant.kernels import liquid, temperature
from coldwright.refrigerant.saturation import saturation_all

PLACES = (
    "charge_condenser_kg", "charge_evaporator_kg", "charge_liquid_line_kg", "charge_low_side_kg",
    "charge_shell_kg", "charge_oil_kg", "charge_loops_kg",
)  # fmt: skip
WIDEST = 8.0  # of ln flow, searched for the capillary's own


@dataclass(frozen=True, slots=True)
class Closures:
    """Relative errors of one state; NaN where a balance does not apply."""

    energy: float  # heat in + work - heat out, over heat in + work
    bond: float  # heat the capillary gives against heat the suction gas takes
    cabinet: float  # a floating cabinet's load against its cooling
    mass: float  # ln(flow of the pump / flow the capillary passes)
    charge: float  # masses by place against the charge
    places: float  # masses worked out again against those of the state


def closures_of(med, c, s, state, settled: bool) -> Closures:  # type: ignore[no-untyped-def]
    """Closures of one running state.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    c, s, state : record
        Elements of arrays of dtype CIRCUIT, SURROUNDINGS and STATE.
    settled : bool
        Thermostat in charge, so that a cabinet short of capacity floats.
    """
    if state["status_code"] == PUMPED_DOWN:
        return _pumped_down(c, s, state)
    tab = med.tables
    m, room = state["mass_flow_kg_s"], s["room_k"]
    ps, pe, pc = (state[f"{side}_pressure_pa"] for side in ("suction", "evaporating", "condensing"))
    # Beside a gas the refrigerant condenses at its own part of the discharge pressure
    pr = pc - state["gas_pressure_pa"]
    low, evaporating, condensing = (saturation_all(tab, p) for p in (ps, pe, pr))
    h_ei, h_eo = state["enthalpy_evaporator_in_j_kg"], state["enthalpy_evaporator_out_j_kg"]
    h_co, h_suc = state["enthalpy_condenser_out_j_kg"], state["enthalpy_suction_j_kg"]

    h_dis, q_oil = state["enthalpy_discharge_j_kg"], state["oil_cooler_heat_w"]
    around = (room, state["fresh_food_k"], state["freezer_k"])
    made = np.zeros(1, STATE)[0]
    h_out = rejected(
        med, c, pr, condensing, m, h_dis, state["discharge_line_k"], q_oil, *around, made
    )[0]  # fmt: skip
    inward = made["inward_heat_w"]
    share = c["cabinet"]["air_share_fraction"]
    air = share * state["fresh_food_k"] + (1.0 - share) * state["freezer_k"]
    warmed = evaporate(med, c, pe, evaporating, m, h_ei, air)
    shell = c["compressor"]["shell_conductance_w_k"] * (state["shell_k"] - room)

    hot = saturation_all(tab, pc)
    bond = c["capillary"]["bond_conductance_w_m_k"] * c["capillary"]["bonded_length_m"]
    q_x, skew = exchange(
        tab, ps, h_eo, temperature(tab, pc, h_co), (h_co - hot[1]) / (hot[2] - hot[1]), bond,
        _near_flow(c, low, ps, pc),
    )  # fmt: skip
    floats = settled and state["run_fraction"] >= 1.0
    work = state["compressor_power_w"]
    heat_in = m * (warmed[0] - h_ei) + m * (h_suc - h_eo - q_x)
    heat_out = m * (h_dis - h_out) + q_oil + shell

    pump = pumped(
        med, c, ps, pc, pr, condensing, h_eo + q_x, *around, np.zeros(1, STATE)[0]
    )[0]  # fmt: skip
    h_fed = fed_beside_gas(hot, condensing, h_co)[0] if pr < pc else h_co
    passed = _capillary_flow(tab, c, state, h_fed, min(temperature(tab, pc, h_co), condensing[0]),
                             q_x, skew)  # fmt: skip
    gas, dissolved = oil_and_shell(med, c, ps, state["shell_k"])
    again = (made["charge_condenser_kg"], warmed[4], gas, dissolved, made["charge_loops_kg"])
    kept = tuple(state[PLACES[i]] for i in (0, 1, 4, 5, 6))
    charge = float(c["charge_kg"])
    return Closures(
        energy=abs(heat_in + work - heat_out) / (abs(heat_in) + work),
        bond=abs(m * (h_co - h_ei) - m * q_x) / (abs(heat_in) + work),
        cabinet=_cabinet(c, s, state, inward, m * (warmed[0] - h_ei)) if floats else np.nan,
        mass=abs(np.log(pump / passed)) if passed > 0.0 else np.inf,
        charge=abs(_mass(state) / charge - 1.0),
        places=sum(abs(a - b) for a, b in zip(again, kept, strict=True)) / charge,
    )


def _near_flow(c, low, ps, pc) -> float:  # type: ignore[no-untyped-def]
    """The flow `residuals.residuals` takes the bond's exchange at."""
    k = c["compressor"]
    eta = volumetric_efficiency(pc / ps, k["clearance_fraction"], k["reexpansion_exponent"])
    full = k["displacement_m3"] * k["speed_1_s"] * k["flow_factor_fraction"]
    return float(eta * full / (1.25 * low[4]))


def _capillary_flow(tab, c, state, h_fed, t_l, q_x, skew) -> float:  # type: ignore[no-untyped-def]
    """Flow that drier, restriction and capillary pass, the nearest; 0 where none is found."""
    pc, pe, m = (
        state["condensing_pressure_pa"], state["evaporating_pressure_pa"], state["mass_flow_kg_s"]
    )  # fmt: skip
    mu = liquid(tab, pc, t_l)[2]

    def excess(x: float) -> float:
        return float(capillary_residual(tab, c, pc, h_fed, pe, q_x, skew, mu, m * np.exp(x))[0])

    here = excess(0.0)
    if here == 0.0:
        return float(m)
    # Nearest root on either side: close to choking in the bond there may be three.
    near, far = 0.0, 1e-10
    while far < WIDEST:
        for way in (1.0, -1.0):
            if excess(way * far) * here <= 0.0:
                root = brentq(excess, way * near, way * far, xtol=1e-14, rtol=1e-13)
                return float(m * np.exp(root))
        near, far = far, 4.0 * far
    return 0.0


def _cabinet(c, s, state, inward, cooling) -> float:  # type: ignore[no-untyped-def]
    """Load of a cabinet that floats against its cooling."""
    k = c["cabinet"]
    load = (
        k["fresh_food_conductance_w_k"] * (s["room_k"] - state["fresh_food_k"])
        + k["freezer_conductance_w_k"] * (s["room_k"] - state["freezer_k"])
        + k["heater_power_w"] + k["opening_power_w"] + k["evaporator_fan_power_w"]
        + s["heat_load_w"] + inward
    )  # fmt: skip
    return float(abs(load - cooling) / (abs(cooling) + 20.0))


def _mass(state) -> float:  # type: ignore[no-untyped-def]
    return float(sum(state[place] for place in PLACES))


def _pumped_down(c, s, state) -> Closures:  # type: ignore[no-untyped-def]
    """No flow, so no balance of it; the charge lies somewhere all the same."""
    work = state["compressor_power_w"]
    shell = c["compressor"]["shell_conductance_w_k"] * (state["shell_k"] - s["room_k"])
    charge = float(c["charge_kg"])
    return Closures(
        energy=float(abs(work - shell) / work),  # the idle power leaves by the shell
        bond=np.nan,
        cabinet=np.nan,
        mass=np.nan if state["mass_flow_kg_s"] == 0.0 else np.inf,
        charge=abs(_mass(state) / charge - 1.0),
        places=np.nan,
    )
