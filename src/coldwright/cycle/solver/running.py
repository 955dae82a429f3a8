"""The running state of one fully specified circuit, without a design point to start from.

Generic guesses go to the damped Newton solver one after the other. Where none
leads home, the same circuit without its restrictions and blocked air is solved
first and followed to the one wanted (`members.solve_member`, which falls back on
nested brackets and lets a cabinet float that is short of capacity).
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from enum import Enum
from math import isnan, log

import numpy as np

from coldwright.circuit.records import Circuit, Surroundings
from coldwright.circuit.vector import (
    CIRCUIT,
    SURROUNDINGS,
    pack_circuit,
    pack_surroundings,
)
from coldwright.cycle.high_side.loops import bare_frame
from coldwright.cycle.medium import Medium, medium_of
from coldwright.cycle.solver.members import flat, solve_member, still
from coldwright.cycle.solver.newton import ACCEPTED, IMPOSED, newton
from coldwright.cycle.standstill.standing import StandingState
from coldwright.cycle.state import NO, PUMPED_DOWN, SOLVED, STATE, TRIPPED, RunningState
from coldwright.errors import NotSolved, require
from coldwright.refrigerant.saturation import saturation_pressure

# Guesses, ours: evaporating below the air [K], condensing above the room [K], superheat in
# heats of vaporisation [-], quality at the condenser's outlet [-]. From a sound circuit to a
# starved, a flooded and a hot one.
GUESSES = (
    (10.0, 13.0, 0.02, -0.05),
    (8.0, 12.0, -0.02, -0.03),
    (20.0, 8.0, 0.15, 0.10),
    (14.0, 20.0, 0.05, -0.15),
    (6.0, 25.0, -0.10, -0.20),
    (35.0, 5.0, 0.25, 0.40),
)
AIR_NEAR_EVAPORATOR = 3.0  # supply air below the return air, first guess [K]
EASY_DRIER = 4e11  # loss of a clean drier, as `catalogue.sizing` [1/m4]
EASY_ROOM_K = 298.15
LEAST_CHARGE, MOST_CHARGE = 1e-4, 5.0  # [kg]


class Status(Enum):
    """What kind of answer a running state is."""

    SOLVED = "running"
    PUMPED_DOWN = "no flow: the low side is pumped down"
    TRIPPED = "condensing pressure beyond the tables: the overload opens; state at that limit"
    STOPPED = "the compressor does not turn"


@dataclass(frozen=True, slots=True)
class Running:
    """A running state with the evidence of its solve."""

    state: RunningState
    residual: float
    iterations: int  # residual evaluations
    status: Status
    unknowns: tuple[float, ...]  # of `residuals.residuals`, a start for a nearby circuit


_STATUS = {SOLVED: Status.SOLVED, PUMPED_DOWN: Status.PUMPED_DOWN, TRIPPED: Status.TRIPPED}


def solve_running(
    circuit: Circuit,
    surroundings: Surroundings,
    *,
    start: np.ndarray | None = None,
    settled: bool,
    blocked: bool = False,
) -> Running:
    """Running state of a circuit.

    Parameters
    ----------
    circuit : Circuit
        The circuit with its refrigerant and models; charge from 0.1 g to 5 kg.
    surroundings : Surroundings
        Room from 253 to 333 K; a compartment that is NaN stands at its setting. [K]
    start : ndarray or None
        Unknowns of a nearby solution, shape (5,). [-]
    settled : bool
        Thermostat in charge: the compartments stand at their temperatures while the
        capacity allows, else they float to their balance.
    blocked : bool
        No flow through the capillary.

    Returns
    -------
    Running
        State with residual, iterations and status.

    Raises
    ------
    OutOfRange
        If charge or a temperature lies outside.
    NotSolved
        With the last iterate.

    References
    ----------
    .. [1] `cycle.solver.residuals`, `cycle.solver.newton`, `cycle.solver.members`.
    """
    require("charge", circuit.charge_kg, "kg", LEAST_CHARGE, MOST_CHARGE)
    require("room temperature", surroundings.room_k, "K", 253.15, 333.15)
    med = medium_of(circuit)
    c, s = pack_circuit(circuit), pack_surroundings(surroundings)
    for name, setting in (
        ("fresh_food_k", circuit.cabinet.fresh_food_set_k),
        ("freezer_k", circuit.cabinet.freezer_set_k),
    ):
        if isnan(float(s[name][0])):
            s[name] = setting
        require(name.removesuffix("_k").replace("_", " "), float(s[name][0]), "K", 203.15, 343.15)
    out = np.zeros(1, STATE)
    c0, s0, u, calls = c, s, np.zeros(5), 0
    if not blocked:
        u, calls, found = _first(med, c, s, start, out)
        if not found:
            c_easy, s_easy = eased(c, s)
            u_easy, n, found = _first(med, c_easy, s_easy, None, out)
            calls += n
            if found:
                c0, s0, u = c_easy, s_easy, u_easy
    work_c, work_s = np.zeros(1, CIRCUIT), np.zeros(1, SURROUNDINGS)
    solve_member(
        med, flat(c0)[0], flat(s0)[0], flat(c)[0], flat(s)[0], flat(work_c)[0], flat(work_s)[0],
        work_c[0], work_s[0], settled, blocked, u, out[0],
    )  # fmt: skip
    state = state_of(out[0])
    status = _STATUS.get(state.status_code)
    if status is None or not np.isfinite(state.shell_k):
        raise NotSolved("running state", tuple(float(x) for x in u), state.residual)
    state = replace(state, iterations=state.iterations + calls)
    return Running(state, state.residual, int(state.iterations), status, tuple(float(x) for x in u))


def _first(
    med: Medium, c: np.ndarray, s: np.ndarray, start: np.ndarray | None, out: np.ndarray
) -> tuple[np.ndarray, int, bool]:
    """Unknowns of the first guess that leads to a solution, else of the first guess; calls."""
    guesses = ([] if start is None else [np.array(start, float)]) + [
        _guess(med, c, s, *numbers) for numbers in GUESSES
    ]
    calls = 0
    for guess in guesses:
        u = guess.copy()
        residual, n = newton(med, c[0], s[0], u, IMPOSED, NO, still(c, s), out[0])
        calls += int(n)
        if residual < ACCEPTED:
            return u, calls, True
    return guesses[0], calls, False


def eased(c: np.ndarray, s: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The circuit clear of dirt and gas, its pump tight, its room mild: an easier neighbour.

    Parameters
    ----------
    c, s : ndarray
        Circuit and surroundings, shape (1,), dtypes CIRCUIT and SURROUNDINGS.

    Returns
    -------
    tuple of ndarray
        Altered copies of both.
    """
    c, s = c.copy(), s.copy()
    loss = c["drier"]["loss_coefficient_1_m4"]
    c["drier"]["loss_coefficient_1_m4"] = np.minimum(loss, EASY_DRIER)
    c["capillary"]["stretch_bore_m"] = c["capillary"]["bore_m"]
    for part, field in (
        ("condenser", "air_factor_fraction"),
        ("evaporator", "air_factor_fraction"),
        ("compressor", "flow_factor_fraction"),
    ):
        c[part][field] = 1.0
    c["air_mol"] = 0.0
    s["room_k"] = EASY_ROOM_K
    s["fresh_food_k"], s["freezer_k"] = (
        c["cabinet"]["fresh_food_set_k"],
        c["cabinet"]["freezer_set_k"],
    )
    return c, s


def _guess(
    med: Medium,
    c: np.ndarray,
    s: np.ndarray,
    below_air: float,
    above_room: float,
    superheat: float,
    quality: float,
) -> np.ndarray:
    share = float(c["cabinet"]["air_share_fraction"][0])
    room, ff, fz = (float(s[name][0]) for name in ("room_k", "fresh_food_k", "freezer_k"))
    air = share * ff + (1.0 - share) * fz
    tables = med.tables
    return np.array(
        [
            log(saturation_pressure(tables, min(air, room) - below_air)),
            log(saturation_pressure(tables, room + above_room)),
            superheat,
            quality,
            0.01 * (air - AIR_NEAR_EVAPORATOR),
        ]
    )


def state_of(row: np.void) -> RunningState:
    """The frozen record of one element of a state array.

    Parameters
    ----------
    row : record
        Dtype `cycle.state.STATE`. [SI]

    Returns
    -------
    RunningState
        The same numbers.
    """
    return RunningState(**{f.name: float(row[f.name]) for f in fields(RunningState)})


def stopped(
    circuit: Circuit, surroundings: Surroundings, rest: StandingState, *, called: bool = True
) -> Running:
    """State of a circuit whose compressor does not turn: everything at its surroundings.

    Parameters
    ----------
    circuit : Circuit
        The circuit.
    surroundings : Surroundings
        Room and compartments; a compartment that is NaN has drifted to the room.
    rest : StandingState
        The circuit at rest.
    called : bool
        Whether the control asks for cold; then the fans turn.

    Returns
    -------
    Running
        Status STOPPED, without unknowns.
    """
    room = surroundings.room_k
    ff, fz = (room if isnan(t) else t for t in (surroundings.fresh_food_k, surroundings.freezer_k))
    values = {f.name: 0.0 for f in fields(RunningState)}
    for name in (
        "shell_k", "discharge_line_k", "condenser_inlet_k", "condenser_middle_k",
        "condenser_outlet_k", "drier_inlet_k", "drier_outlet_k", "suction_line_k",
    ):  # fmt: skip
        values[name] = room
    cabinet = circuit.cabinet
    fans = cabinet.evaporator_fan_power_w + cabinet.condenser_fan_power_w if called else 0.0
    frame, behind = bare_frame(pack_circuit(circuit)[0], room, ff, fz)
    leak = circuit.frame_loop.cabinet_conductance_w_k
    values |= {
        "door_frame_k": frame,
        "door_frame_outlet_k": frame,
        "frame_inward_w": leak * (frame - behind) if leak > 0.0 else 0.0,
        "gas_pressure_pa": rest.gas_pressure_pa,
        "evaporator_inlet_k": rest.evaporator_k,
        "evaporator_outlet_k": rest.evaporator_k,
        "evaporating_k": rest.coldest_k,
        "condensing_k": rest.coldest_k,
        "fresh_food_k": ff,
        "freezer_k": fz,
        "suction_pressure_pa": rest.pressure_pa,
        "evaporating_pressure_pa": rest.pressure_pa,
        "condensing_pressure_pa": rest.pressure_pa,
        "capillary_exit_pa": rest.pressure_pa,
        "appliance_power_w": cabinet.controls_power_w + fans,
        "condenser_outlet_quality": 1.0,
        "evaporator_outlet_quality": 1.0,
        "charge_condenser_kg": rest.charge_high_side_kg,
        "charge_evaporator_kg": rest.charge_evaporator_kg,
        "charge_low_side_kg": rest.charge_suction_line_kg,
        "charge_shell_kg": rest.charge_shell_kg,
        "charge_oil_kg": rest.charge_oil_kg,
    }
    return Running(RunningState(**values), 0.0, 0, Status.STOPPED, ())
