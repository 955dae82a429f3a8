"""What a diagram of a running circuit shows, taken from its state and the property tables.

Two records, both plain numbers and words: `figures` draws them and computes nothing.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import exp

import numpy as np

from coldwright.circuit.records import Circuit
from coldwright.cycle.state import RunningState
from coldwright.errors import require
from coldwright.refrigerant.saturation import saturation_all
from coldwright.refrigerant.tables import Tables

DOME_POINTS = 60
DOME_SPAN = 3.0  # of the dome beyond the circuit's two pressures, as a factor
LEAST_FLOW = 1e-9  # below it the circuit is blocked or at rest [kg/s]
UNKNOWN_LINE_M = 1.0  # drawn length of a line whose length no record holds, ours


@dataclass(frozen=True, slots=True)
class Spot:
    """One place of the circuit on the pressure-enthalpy diagram."""

    words: str
    pressure_pa: float
    enthalpy_j_kg: float


@dataclass(frozen=True, slots=True)
class PressureEnthalpy:
    """The running circuit on pressure and enthalpy."""

    title: str
    dome_pressure_pa: tuple[float, ...]
    dome_liquid_j_kg: tuple[float, ...]
    dome_vapour_j_kg: tuple[float, ...]
    spots: tuple[Spot, ...]  # in the order of flow, from the shell's inlet
    unseen: tuple[int, ...]  # stretches after these spots that are not straight


@dataclass(frozen=True, slots=True)
class Reading:
    """Temperature at one place along the tube."""

    words: str
    metre: float
    temperature_k: float


@dataclass(frozen=True, slots=True)
class Stretch:
    """A named part of the tube."""

    words: str
    start_m: float
    end_m: float


@dataclass(frozen=True, slots=True)
class Level:
    """A temperature to compare with."""

    words: str
    temperature_k: float


@dataclass(frozen=True, slots=True)
class AlongCircuit:
    """Temperatures along the tube from the shell round to the shell."""

    title: str
    readings: tuple[Reading, ...]
    stretches: tuple[Stretch, ...]
    levels: tuple[Level, ...]


def pressure_enthalpy(state: RunningState, tables: Tables, title: str) -> PressureEnthalpy:
    """The record of the pressure-enthalpy diagram.

    Parameters
    ----------
    state : RunningState
        A solved state with flow.
    tables : Tables
        Property tables of its refrigerant.
    title : str
        What is shown.

    Returns
    -------
    PressureEnthalpy
        Pressures [Pa] and enthalpies [J/kg] of dome and cycle.

    Raises
    ------
    OutOfRange
        If nothing flows: the places then have no enthalpy to show.
    """
    require("mass flow", state.mass_flow_kg_s, "kg/s", LEAST_FLOW, float("inf"))
    low, high = state.suction_pressure_pa, state.condensing_pressure_pa
    first = exp(tables.ln_p_first)
    last = exp(tables.ln_p_first + tables.ln_p_step * tables.saturation.shape[0])
    pressures = np.geomspace(max(low / DOME_SPAN, first), min(high * DOME_SPAN, last), DOME_POINTS)
    dome = [saturation_all(tables, float(p)) for p in pressures]
    evaporating = state.evaporating_pressure_pa
    return PressureEnthalpy(
        title,
        tuple(float(p) for p in pressures),
        tuple(float(s.h_l) for s in dome),
        tuple(float(s.h_v) for s in dome),
        (
            Spot("suction line at the shell", low, state.enthalpy_suction_j_kg),
            Spot("discharge line", high, state.enthalpy_discharge_j_kg),
            Spot("condenser outlet", high, state.enthalpy_condenser_out_j_kg),
            Spot("evaporator inlet", evaporating, state.enthalpy_evaporator_in_j_kg),
            Spot("evaporator outlet", evaporating, state.enthalpy_evaporator_out_j_kg),
        ),
        (0, 2),  # inside the shell and along the capillary
    )


def along_circuit(state: RunningState, circuit: Circuit, room_k: float, title: str) -> AlongCircuit:
    """The record of temperatures along the tube.

    Parameters
    ----------
    state : RunningState
        A solved state with flow.
    circuit : Circuit
        The circuit it is of.
    room_k : float
        Room temperature. [K]
    title : str
        What is shown.

    Returns
    -------
    AlongCircuit
        Temperatures [K] at places along the tube.
    """
    lengths = (
        ("discharge line", UNKNOWN_LINE_M),
        ("condenser", circuit.condenser.tube_length_m),
        ("capillary", circuit.capillary.length_m),
        ("evaporator", circuit.evaporator.tube_length_m),
        ("suction line", circuit.suction_line.length_m),
    )
    stretches, at = [], 0.0
    for words, length in lengths:
        stretches.append(Stretch(words, at, at + length))
        at += length
    line, condenser, capillary, evaporator, suction = stretches
    wetted = evaporator.start_m + state.evaporator_wetted_fraction * (
        evaporator.end_m - evaporator.start_m
    )
    readings = (
        Reading("discharge line", line.start_m, state.discharge_line_k),
        Reading("condenser inlet", condenser.start_m, state.condenser_inlet_k),
        Reading(
            "condenser middle", 0.5 * (condenser.start_m + condenser.end_m),
            state.condenser_middle_k,
        ),
        Reading("condenser outlet", condenser.end_m, state.condenser_outlet_k),
        Reading("drier outlet", capillary.start_m, state.drier_outlet_k),
        Reading("evaporator inlet", evaporator.start_m, state.evaporator_inlet_k),
        Reading("end of the wetted part", wetted, state.evaporating_k),
        Reading("evaporator outlet", evaporator.end_m, state.evaporator_outlet_k),
        Reading("suction line", suction.end_m, state.suction_line_k),
    )  # fmt: skip
    levels = (
        Level("condensing", state.condensing_k),
        Level("room", room_k),
        Level("fresh food", state.fresh_food_k),
        Level("freezer", state.freezer_k),
        Level("evaporating", state.evaporating_k),
    )
    one_box = circuit.cabinet.fresh_food_conductance_w_k == 0.0
    return AlongCircuit(
        title, readings, tuple(stretches),
        tuple(x for x in levels if not (one_box and x.words == "fresh food")),
    )  # fmt: skip
