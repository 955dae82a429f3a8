"""One fully specified circuit, running and at rest: what `coldwright simulate` shows."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from coldwright.circuit.files import circuit_from_geometry
from coldwright.circuit.records import Circuit, CondenserKind, EvaporatorKind, Surroundings
from coldwright.circuit.vector import pack_circuit, pack_surroundings, unpack_circuit
from coldwright.cycle.medium import Medium, medium
from coldwright.cycle.running import solve_running, stopped
from coldwright.cycle.standing import USUAL_WAIT, StandingState, solve_standing
from coldwright.cycle.state import RunningState
from coldwright.cycle.void import DEFAULT
from coldwright.errors import BadInput, Refused
from coldwright.faults.kinds import check_severity, fault_named
from coldwright.readings.job import Job
from coldwright.refrigerant.oils import usual_oil
from coldwright.refrigerant.tables import FULL_REFRIGERANTS
from coldwright.refrigerant.transport import LEVELS

USUAL_ROOM_K = 298.15  # where the job names none: the healthy range is stated at 25 degC


@dataclass(frozen=True, slots=True)
class Simulation:
    """Running and standing state, and the names of the models behind them."""

    running: RunningState
    standing: StandingState
    models: tuple[str, ...]


def simulate(
    job: Job, *, faults: Sequence[tuple[str, float]] = (), charge_kg: float | None = None
) -> Simulation:
    """Running and standing state of the job's circuit.

    Parameters
    ----------
    job : Job
        A job whose [circuit] gives every key of the geometry, with refrigerant and charge.
    faults : sequence of (str, float)
        Faults in the order they are applied, severities in SI; NaN where a fault has none.
    charge_kg : float or None
        Instead of the plate's. [kg]

    Raises
    ------
    BadInput
        If the circuit is not fully specified or a fault is unknown.
    OutOfRange
        If a severity, the charge or a temperature lies outside.
    Refused
        If the appliance is of a kind that is not modelled.
    NotSolved
        If no state was found; with the last iterate.
    """
    _refuse_unmodelled(job)
    med = medium(_refrigerant(job))
    circuit = circuit_from_geometry(job.circuit.geometry, _charge(job, charge_kg), file=job.source)
    surroundings, settled = _surroundings(job)
    kinds = [fault_named(name) for name, _ in faults]
    for kind, (_, severity) in zip(kinds, faults, strict=True):
        check_severity(kind, severity)
    altered, around = _faulty(med, circuit, surroundings, faults)
    wait, evaporator = _rest_of(job)
    room = around.room_k
    if not all(kind.runs for kind in kinds):
        if evaporator is None and not math.isnan(around.freezer_k):
            evaporator = around.freezer_k
        at_rest = solve_standing(altered, med, room_k=room, evaporator_k=evaporator, stopped_s=wait)
        running = stopped(altered, around, at_rest).state
    else:
        blocked = any(kind.blocks for kind in kinds)
        running = solve_running(altered, around, med, settled=settled, blocked=blocked).state
        # Not told, the evaporator of an appliance just stopped is near its air's temperature
        at_rest = solve_standing(
            altered,
            med,
            room_k=room,
            evaporator_k=min(running.freezer_k, room) if evaporator is None else evaporator,
            running=running,
            stopped_s=wait,
        )
    return Simulation(running, at_rest, models_in_use(altered, job.plate.refrigerant))


def models_in_use(circuit: Circuit, refrigerant: str) -> tuple[str, ...]:
    """Names of the closures behind a state, each with its author.

    Parameters
    ----------
    circuit : Circuit
        The circuit.
    refrigerant : str
        Its refrigerant.
    """
    outside = {
        CondenserKind.STATIC: "natural convection on wire and tube of Tagliafico & Tanda (1997)",
        CondenserKind.SKIN: "plate convection of Churchill & Chu (1975) on the cabinet's wall",
        CondenserKind.FAN: "one coefficient and the fan's air flow",
    }[CondenserKind(int(circuit.condenser.kind_code))]
    air_side = {
        EvaporatorKind.PLATE: "plate convection of Churchill & Chu (1975) with radiation",
        EvaporatorKind.COLD_WALL: "plate convection of Churchill & Chu (1975) with radiation",
        EvaporatorKind.FAN: "one coefficient and the fan's air flow",
    }[EvaporatorKind(int(circuit.evaporator.kind_code))]
    return (
        f"properties: CoolProp tables for {refrigerant}"
        + (", viscosity of the VDI Heat Atlas" if refrigerant in LEVELS else ""),
        f"void fraction: {DEFAULT.name}",
        "capillary: homogeneous march, friction of Churchill (1977) at the two-phase "
        "viscosity of McAdams (1942)",
        "low-side pressure loss: Müller-Steinhagen & Heck (1986), Churchill (1977)",
        "condensing inside: Shah (1979)",
        "boiling inside: Gungor & Winterton (1987)",
        "one phase inside: Gnielinski (2013)",
        f"condenser outside: {outside}",
        f"evaporator outside: {air_side}",
        "compressor: clearance, two efficiencies above an idle power, shell balance",
        f"oil: {usual_oil(refrigerant).name}, Flory (1942) and Huggins (1942)",
        "equalising time: isothermal gas flow, estimate of ours",
    )


def _refuse_unmodelled(job: Job) -> None:
    seen = job.circuit
    still = ("air side, electrics and temperatures by hand",)
    if seen.layout not in (None, "plain"):
        raise Refused(
            f"a circuit with layout {seen.layout} is not modelled yet, only plain",
            ("give all of the condenser's tube under [circuit.condenser] and layout plain", *still),
        )
    if seen.evaporators not in (None, "one"):
        raise Refused("more than one evaporator is not modelled yet", still)
    if seen.compressor_drive == "variable_speed":
        raise Refused(
            "a variable-speed drive is not modelled yet",
            ("one speed of it, given as compressor.speed with compressor_drive fixed_speed",),
        )


def _refrigerant(job: Job) -> str:
    name = job.plate.refrigerant
    if name not in FULL_REFRIGERANTS:
        accepted = "one with full properties: " + ", ".join(FULL_REFRIGERANTS)
        raise BadInput(job.source, "plate.refrigerant", name, accepted)
    return name


def _charge(job: Job, charge_kg: float | None) -> float:
    if charge_kg is not None:
        return charge_kg
    if job.plate.charge_kg is None:
        raise BadInput(job.source, "plate.charge", "nothing", "the charge, such as '120 g'")
    return job.plate.charge_kg


def _surroundings(job: Job) -> tuple[Surroundings, bool]:
    """What is imposed, and whether the thermostat is in charge."""
    readings = {reading.key: reading.value for reading in job.readings}
    room = job.room.temperature_k
    if room is None:
        room = readings.get("ambient_temperature", USUAL_ROOM_K)
    imposed = [readings.get(f"{name}_temperature") for name in ("fresh_food", "freezer")]
    settled = job.taken.settled is True or imposed == [None, None]
    fresh_food, freezer = (math.nan if settled or t is None else t for t in imposed)
    volts = job.plate.voltage_v or math.nan
    return Surroundings(room, volts, fresh_food, freezer, 0.0), settled


def _faulty(
    med: Medium,
    circuit: Circuit,
    surroundings: Surroundings,
    faults: Sequence[tuple[str, float]],
) -> tuple[Circuit, Surroundings]:
    if not faults:
        return circuit, surroundings
    c, s = pack_circuit(circuit), pack_surroundings(surroundings)
    for name, severity in faults:
        fault_named(name).apply(med, c, s, np.array([severity]))
    changed = {f.name: float(s[f.name][0]) for f in dataclasses.fields(Surroundings)}
    return unpack_circuit(c[0]), Surroundings(**changed)


def _rest_of(job: Job) -> tuple[float, float | None]:
    """Seconds since the stop and the evaporator's temperature at rest, as far as told."""
    minutes = job.taken.minutes_since_stop
    wait = USUAL_WAIT if minutes is None else 60.0 * minutes
    return wait, job.taken.standing_evaporator_temperature_k
