"""At rest: one pressure everywhere, set by the coldest wetted spot or by the mass.

While free liquid is left it gathers at the coldest spot and the pressure is the
saturation pressure there: it says nothing of the mass. Without free liquid the
pressure follows from the mass in the gas spaces and in the oil. The oil takes up
refrigerant slowly, by diffusion into a still pool, so time since the stop counts.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp

import numpy as np

from coldwright.circuit.records import Circuit
from coldwright.circuit.vector import pack_circuit
from coldwright.cycle.batches import in_batches
from coldwright.cycle.medium import Medium, medium_of, require_medium
from coldwright.cycle.standstill.equalising import equalising_times
from coldwright.cycle.standstill.rest import (
    PLACES,
    SHELL_TIME,
    at_stop,
    gas_at_rest,
    oil_uptake,
    settle,
    standing_range,
)
from coldwright.cycle.state import STATE, RunningState
from coldwright.errors import NotSolved, require
from coldwright.refrigerant.saturation import saturation_pressure

__all__ = [
    "StandingState",
    "equalising_times",
    "solve_standing",
    "standing",
    "standing_pressures",
]

USUAL_WAIT = 3600.0  # since the stop, where nobody noted it; judgement of ours [s]


@dataclass(frozen=True, slots=True)
class StandingState:
    """A circuit at rest."""

    pressure_pa: float  # that of a gas included
    gas_pressure_pa: float  # part of it that is air or nitrogen
    coldest_k: float  # coldest spot of the circuit
    saturation_pressure_pa: float  # at the coldest spot
    evaporator_k: float
    room_k: float
    shell_k: float
    free_liquid_kg: float
    charge_evaporator_kg: float  # with accumulator, free liquid counted where it lies
    charge_high_side_kg: float  # discharge line, condenser, drier
    charge_suction_line_kg: float
    charge_shell_kg: float  # gas in the shell
    charge_oil_kg: float  # dissolved
    equalising_s: float  # from the stop until the sides are level; NaN where not asked
    pressure_tells_mass: bool


def standing_pressures(
    med: Medium,
    circuits: np.ndarray,
    evaporator_k: np.ndarray | float,
    room_k: np.ndarray | float,
    *,
    states: np.ndarray | None = None,
    stopped_s: float = USUAL_WAIT,
) -> np.ndarray:
    """Standing pressure of many circuits.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil and void model.
    circuits : ndarray
        Dtype CIRCUIT, shape (n,).
    evaporator_k : ndarray or float
        Evaporator temperature at rest, broadcast to (n,). [K]
    room_k : ndarray or float
        Room temperature, broadcast to (n,). [K]
    states : ndarray, optional
        Running states before the stop, dtype STATE, shape (n,); they give the shell's heat
        and what the oil held. Without them a usual run is taken.
    stopped_s : float
        Time since the stop, at least 0. [s]

    Returns
    -------
    ndarray
        Absolute pressure, shape (n,). [Pa]

    Raises
    ------
    Refused
        If a circuit holds another refrigerant or names another void model.

    References
    ----------
    .. [1] `settle`.
    """
    return standing(med, circuits, evaporator_k, room_k, states=states, stopped_s=stopped_s)[0]


def standing(
    med: Medium,
    circuits: np.ndarray,
    evaporator_k: np.ndarray | float,
    room_k: np.ndarray | float,
    *,
    states: np.ndarray | None = None,
    stopped_s: float = USUAL_WAIT,
) -> tuple[np.ndarray, np.ndarray]:
    """Standing pressure and free liquid of many circuits; parameters as `standing_pressures`.

    Returns
    -------
    tuple of ndarray
        Absolute pressure [Pa] and free liquid [kg], shape (n,); where liquid is left the
        pressure says nothing of the mass.

    Raises
    ------
    Refused
        If a circuit holds another refrigerant or names another void model.
    """
    require_medium(med, circuits)
    n = circuits.shape[0]
    t_evap = np.ascontiguousarray(np.broadcast_to(np.asarray(evaporator_k, float), (n,)))
    t_room = np.ascontiguousarray(np.broadcast_to(np.asarray(room_k, float), (n,)))
    p, free = np.empty(n), np.empty(n)
    before = np.zeros(1, STATE) if states is None else states
    known = states is not None

    def loop(first: int, last: int) -> None:
        standing_range(
            first, last, med, circuits, before, known, t_evap, t_room, stopped_s, p, free
        )

    in_batches(loop, n)
    return p, free


def solve_standing(
    circuit: Circuit,
    *,
    room_k: float,
    evaporator_k: float | None = None,
    running: RunningState | None = None,
    stopped_s: float = USUAL_WAIT,
) -> StandingState:
    """One circuit at rest, with its mass by place.

    Parameters
    ----------
    circuit : Circuit
        The circuit with its refrigerant and models.
    room_k : float
        Room temperature, 220 to 340. [K]
    evaporator_k : float or None
        Evaporator temperature at rest, 200 to 340; None = warmed to the room. [K]
    running : RunningState or None
        State before the stop; None = a usual run.
    stopped_s : float
        Time since the stop, at least 0. [s]

    Returns
    -------
    StandingState
        Pressure and mass by place.

    Raises
    ------
    OutOfRange
        If a temperature or the time lies outside.
    NotSolved
        If the mass balance does not close.

    References
    ----------
    .. [1] `settle`, `equalising.equalising_times`.
    """
    t_evap = room_k if evaporator_k is None else evaporator_k
    require("room temperature", room_k, "K", 220.0, 340.0)
    require("evaporator temperature", t_evap, "K", 200.0, 340.0)
    require("time since the stop", stopped_s, "s", 0.0, float("inf"))
    med, packed = medium_of(circuit), pack_circuit(circuit)
    state = np.zeros(1, STATE)
    if running is not None:
        for name in STATE.names or ():
            state[name] = getattr(running, name)
    hot, held = at_stop(med, packed[0], state[0], running is not None, room_k)
    shell = room_k + (hot - room_k) * exp(-stopped_s / SHELL_TIME)
    kg = np.empty(PLACES)
    p, free, error = settle(med, packed[0], t_evap, room_k, shell, held, oil_uptake(stopped_s), kg)
    if not error < 1e-6:
        raise NotSolved("standing state", (float(p),), float(error))
    coldest = min(t_evap, room_k, shell)
    seconds = float("nan")
    if running is not None:
        seconds = float(equalising_times(med, packed, state, room_k)[0])
    gas = float(gas_at_rest(packed[0], t_evap, room_k, shell)) if circuit.air_mol > 0.0 else 0.0
    return StandingState(
        pressure_pa=float(p) + gas,
        gas_pressure_pa=gas,
        coldest_k=coldest,
        saturation_pressure_pa=float(saturation_pressure(med.tables, coldest)),
        evaporator_k=t_evap,
        room_k=room_k,
        shell_k=shell,
        free_liquid_kg=float(free),
        charge_evaporator_kg=float(kg[0]),
        charge_high_side_kg=float(kg[1]),
        charge_suction_line_kg=float(kg[2]),
        charge_shell_kg=float(kg[3]),
        charge_oil_kg=float(kg[4]),
        equalising_s=seconds,
        pressure_tells_mass=bool(free <= 0.0),
    )
