"""Appliances the checks are made on, and the few ways they are run."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np

import coldwright
from coldwright.catalogue.families import family_of
from coldwright.catalogue.sizing import DIMENSIONS, Known, size_members
from coldwright.circuit.files import circuit_from_geometry
from coldwright.circuit.records import Circuit, CondenserKind, EvaporatorKind, Surroundings
from coldwright.circuit.vector import pack_circuit, pack_surroundings, unpack_circuit
from coldwright.cycle.medium import Medium, medium, medium_of
from coldwright.cycle.solver.running import Status, solve_running
from coldwright.cycle.state import RunningState
from coldwright.errors import NotSolved
from coldwright.faults.registry import effect_named
from coldwright.readings.jobfile import load_job

FOLDER = Path(coldwright.__file__).parent / "examples"
ROOM_K = 298.15
NAN = float("nan")
HOURS = 24.0


@dataclass(frozen=True, slots=True)
class Appliance:
    """A circuit and what flows in it."""

    name: str
    circuit: Circuit

    @property
    def refrigerant(self) -> str:
        """What it is filled with."""
        return self.circuit.refrigerant

    @property
    def med(self) -> Medium:
        """Properties of what flows in it."""
        return medium_of(self.circuit)

    def charged(self, share: float) -> Appliance:
        """With its charge times a share."""
        return replace(
            self, circuit=replace(self.circuit, charge_kg=self.circuit.charge_kg * share)
        )

    def without_accumulator(self) -> Appliance:
        """With no liquid trap on the low side."""
        bare = replace(self.circuit.accumulator, volume_m3=0.0)
        return replace(self, circuit=replace(self.circuit, accumulator=bare))

    def with_capillary(self, share: float) -> Appliance:
        """With the capillary's length times a share; the bond stays."""
        tube = replace(self.circuit.capillary, length_m=self.circuit.capillary.length_m * share)
        return replace(self, circuit=replace(self.circuit, capillary=tube))

    def filled_with(self, refrigerant: str, displacement_share: float = 1.0) -> Appliance:
        """The same steel and copper with another refrigerant and a larger or smaller pump."""
        pump = self.circuit.compressor
        pump = replace(pump, displacement_m3=pump.displacement_m3 * displacement_share)
        circuit = replace(self.circuit, compressor=pump)
        return Appliance(self.name, replace(circuit, refrigerant=refrigerant))


@cache
def shipped(stem: str) -> Appliance:
    """One of the example circuits that ship with the package (invented appliances)."""
    job = load_job(FOLDER / f"{stem}.toml")
    assert job.plate.charge_kg is not None
    assert job.plate.refrigerant is not None
    circuit = circuit_from_geometry(
        job.circuit.geometry, job.plate.charge_kg, job.plate.refrigerant
    )
    return Appliance(stem, circuit)


@cache
def all_shipped() -> tuple[Appliance, ...]:
    """Every example of layout plain."""
    return tuple(shipped(path.stem) for path in sorted(FOLDER.glob("plain_*.toml")))


@cache
def middle_member(
    kind: str,
    refrigerant: str,
    year: int,
    fresh_food_m3: float = NAN,
    freezer_m3: float = NAN,
    hertz: float = 50.0,
) -> Appliance:
    """The middle member of a family with a static condenser and a plate, sized as ever."""
    known = Known(
        family_of(kind), year, NAN, fresh_food_m3, freezer_m3, NAN, NAN, hertz,
        CondenserKind.STATIC, EvaporatorKind.PLATE,
    )  # fmt: skip
    med = medium(refrigerant)
    members = size_members(med, known, np.zeros((1, DIMENSIONS)))
    if not members.good[0]:
        raise RuntimeError(f"{kind}, {refrigerant}, {year}: the middle member was not sized")
    circuit = unpack_circuit(members.circuits[0])
    return Appliance(f"{kind} {year}", circuit)


def settled(a: Appliance, room_k: float = ROOM_K) -> RunningState:
    """Thermostat in charge, doors closed."""
    return _solved(a, Surroundings(room_k, 230.0, NAN, NAN, 0.0), thermostat=True)


def held(a: Appliance, room_k: float = ROOM_K, warmer_k: float = 0.0) -> RunningState:
    """Compartments held at their settings, or warmer by so much, whatever the capacity."""
    box = a.circuit.cabinet
    around = Surroundings(
        room_k, 230.0, box.fresh_food_set_k + warmer_k, box.freezer_set_k + warmer_k, 0.0
    )
    return _solved(a, around, thermostat=False)


def with_fault(a: Appliance, fault: str, severity: float) -> Appliance:
    """The appliance with one fault of the sealed circuit or its air."""
    c, s = pack_circuit(a.circuit), pack_surroundings(Surroundings(ROOM_K, 230.0, NAN, NAN, 0.0))
    effect_named(fault).apply(a.med, c, s, np.array([severity]))
    return replace(a, circuit=unpack_circuit(c[0]))


def _solved(a: Appliance, around: Surroundings, *, thermostat: bool) -> RunningState:
    found = solve_running(a.circuit, around, settled=thermostat)
    if found.status is not Status.SOLVED:
        raise NotSolved(f"{a.name}: {found.status.value}", found.unknowns, found.residual)
    return found.state


def cop(s: RunningState) -> float:
    """Cooling over the compressor's input. [-]"""
    return s.cooling_w / s.compressor_power_w


def mean_power(s: RunningState) -> float:
    """Compressor input averaged over running and rest. [W]"""
    return s.run_fraction * s.compressor_power_w


def kwh_a_day(s: RunningState) -> float:
    """Energy of a day, fans and controls with the compressor. [kWh]"""
    return s.run_fraction * s.appliance_power_w * HOURS / 1e3


@dataclass(frozen=True, slots=True)
class Optimum:
    """The charge of least energy."""

    charge_kg: float
    power_w: float  # mean over running and rest


def optimum(a: Appliance, room_k: float = ROOM_K, low: float = 0.4, high: float = 2.0) -> Optimum:
    """Charge of least mean compressor power, thermostat in charge, to one percent of the charge."""
    coarse = np.arange(low, high + 1e-9, 0.05)
    middle = _least(a, room_k, coarse)[0]
    share, power = _least(a, room_k, middle + np.arange(-0.05, 0.0501, 0.01))
    return Optimum(share * a.circuit.charge_kg, power)


def at_optimum(a: Appliance, room_k: float = ROOM_K) -> Appliance:
    """The appliance with its own optimum charge."""
    return a.charged(optimum(a, room_k).charge_kg / a.circuit.charge_kg)


def _least(
    a: Appliance, room_k: float, shares: Sequence[float] | np.ndarray
) -> tuple[float, float]:
    found = [(_power_or_none(a.charged(float(x)), room_k), float(x)) for x in shares]
    power, share = min(found)
    if not math.isfinite(power):
        raise RuntimeError(f"{a.name}: no charge holds the cabinet at its setting")
    return share, power


def _power_or_none(a: Appliance, room_k: float) -> float:
    """Infinite where the cabinet cannot be held or no state was found."""
    try:
        s = settled(a, room_k)
    except NotSolved:
        return math.inf
    return mean_power(s) if s.run_fraction < 1.0 else math.inf
