"""One fully specified circuit, running and at rest: what `coldwright simulate` shows."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence

import numpy as np

from coldwright.catalogue.unmeasured import UNMEASURED
from coldwright.circuit.files import circuit_from_geometry
from coldwright.circuit.layout import layout_of, stretches, without_frame_loop
from coldwright.circuit.records import Circuit, CondenserKind, EvaporatorKind, Surroundings
from coldwright.circuit.vector import pack_circuit, pack_surroundings, unpack_circuit
from coldwright.cycle.cannot_be import cannot_be
from coldwright.cycle.high_side.door_frame import door_frame
from coldwright.cycle.medium import medium_of, void_of
from coldwright.cycle.model_choice import (
    AS_FILED,
    ModelChoice,
    capillary_models,
    compressor_model,
    with_models,
)
from coldwright.cycle.ranges import outside_ranges
from coldwright.cycle.simulation import Simulation
from coldwright.cycle.solver.running import solve_running, stopped
from coldwright.cycle.standstill.standing import USUAL_WAIT, solve_standing
from coldwright.cycle.state import RunningState
from coldwright.diagnosis.subject import refuse_unmodelled
from coldwright.errors import BadInput
from coldwright.faults.registry import check_severity, effect_named
from coldwright.figures.circuit import along_circuit_svg, pressure_enthalpy_svg
from coldwright.figures.diagrams import along_circuit, pressure_enthalpy
from coldwright.figures.simulation import rows_of as rows_of
from coldwright.figures.simulation import sweep_figure as sweep_figure
from coldwright.readings.job import Job
from coldwright.refrigerant.oils import usual_oil
from coldwright.refrigerant.tables import FULL_REFRIGERANTS
from coldwright.refrigerant.transport import LEVELS

WITHOUT = ("frame_loop",)
FREEZING_K = 273.15
ONE_SPEED = "one speed of it, given as compressor.speed with compressor_drive fixed_speed"


def simulate(
    job: Job,
    *,
    faults: Sequence[tuple[str, float]] = (),
    charge_kg: float | None = None,
    without: str | None = None,
    choice: ModelChoice | None = None,
) -> Simulation:
    """Running and standing state of the job's circuit.

    Parameters
    ----------
    job : Job
        A job whose [circuit] gives every key of the geometry, with refrigerant and charge.
    faults : sequence of (str, float)
        Faults in the order they are applied, severities in SI; NaN where a fault has none. [SI]
    charge_kg : float or None
        Instead of the plate's. [kg]
    without : str or None
        'frame_loop' to by-pass it; the charge is then less by what the sound loop held,
        unless `charge_kg` says otherwise.
    choice : ModelChoice or None
        Other objects than the circuit's own file names.

    Returns
    -------
    Simulation
        States, energies, and what lies outside a range.

    Raises
    ------
    BadInput
        If the circuit is not fully specified or a fault is unknown.
    OutOfRange
        If a severity, the charge or a temperature lies outside.
    Refused
        If the appliance is of a kind that is not modelled, or has no such loop.
    NotSolved
        If no state was found; with the last iterate.
    """
    name = _refrigerant(job)
    refuse_unmodelled(job, "nothing to simulate", (ONE_SPEED,))
    charge = _charge(job, charge_kg if without is None else None)
    filed = circuit_from_geometry(job.circuit.geometry, charge, name, file=job.source)
    _check_layout(job, filed)
    wish = AS_FILED if choice is None else choice
    circuit, fit = with_models(filed, wish, job.source)
    found = _chosen(job, circuit, faults, charge_kg, without)
    return dataclasses.replace(found, chosen=wish, fit=fit)


def _chosen(
    job: Job,
    circuit: Circuit,
    faults: Sequence[tuple[str, float]],
    charge_kg: float | None,
    without: str | None,
) -> Simulation:
    if without is None:
        return _simulated(job, circuit, faults)
    if without not in WITHOUT:
        raise BadInput("input", "without", without, "one of " + ", ".join(WITHOUT))
    altered = without_frame_loop(circuit)
    before = _simulated(job, circuit, faults)
    if charge_kg is None:
        sound = _simulated(job, circuit, ()) if faults else before
        charge_kg = circuit.charge_kg - sound.running.charge_frame_loop_kg
    after = _simulated(job, dataclasses.replace(altered, charge_kg=charge_kg), faults)
    return dataclasses.replace(after, before=before)


def _simulated(job: Job, circuit: Circuit, faults: Sequence[tuple[str, float]]) -> Simulation:
    surroundings, settled = surroundings_of(job)
    kinds = [effect_named(name) for name, _ in faults]
    for kind, (_, severity) in zip(kinds, faults, strict=True):
        check_severity(kind, severity)
    altered, around = faulty(circuit, surroundings, faults)
    wait, evaporator = _rest_of(job)
    room = around.room_k
    thawed: RunningState | None = None
    if not all(kind.runs for kind in kinds):
        if evaporator is None and not math.isnan(around.freezer_k):
            evaporator = around.freezer_k
        at_rest = solve_standing(altered, room_k=room, evaporator_k=evaporator, stopped_s=wait)
        called = all(kind.called for kind in kinds)
        running = stopped(altered, around, at_rest, called=called).state
        for kind, (_, severity) in zip(kinds, faults, strict=True):
            if kind.heats_coil:
                # The heater's watts; what it thaws is not followed here
                power = running.appliance_power_w + severity
                running = dataclasses.replace(running, appliance_power_w=power)
    else:
        blocked = any(kind.blocks and not kind.comes_and_goes for kind in kinds)
        running = solve_running(altered, around, settled=settled, blocked=blocked).state
        if any(kind.comes_and_goes for kind in kinds) and running.evaporating_k < FREEZING_K:
            # The plug forms at the capillary's outlet, which is as cold as the evaporator
            thawed = running
            running = solve_running(altered, around, settled=settled, blocked=True).state
        # Not told, the evaporator of an appliance just stopped is near its air's temperature
        at_rest = solve_standing(
            altered,
            room_k=room,
            evaporator_k=min(running.freezer_k, room) if evaporator is None else evaporator,
            running=running,
            stopped_s=wait,
        )
    return Simulation(
        running=running,
        standing=at_rest,
        models=models_in_use(altered),
        charge_kg=circuit.charge_kg,
        layout=layout_of(altered).value,
        high_side=tuple(stretch.name for stretch in stretches(altered)),
        door_frame=door_frame(altered, running, room, _humidity(job)),
        thawed=thawed,
        before=None,
        outside=cannot_be(running) + outside_ranges(altered, running),
    )


def altered_circuit(
    job: Job, faults: Sequence[tuple[str, float]], result: Simulation
) -> tuple[Circuit, Surroundings]:
    """The circuit a result is of, faults in and a by-passed loop out, with what surrounds it.

    Parameters
    ----------
    job : Job
        As in `simulate`.
    faults : sequence
        As in `simulate`. [unit of the fault]
    result : Simulation
        What came of them.

    Returns
    -------
    tuple
        Circuit and surroundings.
    """
    filed = circuit_from_geometry(
        job.circuit.geometry, result.charge_kg, _refrigerant(job), file=job.source
    )
    circuit, _ = with_models(filed, result.chosen, job.source)
    if result.before is not None:
        circuit = dataclasses.replace(without_frame_loop(circuit), charge_kg=result.charge_kg)
    return faulty(circuit, surroundings_of(job)[0], faults)


def figures_of(
    job: Job,
    result: Simulation,
    *,
    faults: Sequence[tuple[str, float]] = (),
) -> dict[str, str]:
    """File name to SVG: the circuit on pressure and enthalpy, temperatures along the tube.

    Parameters
    ----------
    job : Job
        What was simulated.
    result : Simulation
        What came of it.
    faults : sequence
        As in `simulate`. [unit of the fault]

    Returns
    -------
    dict
        SVG by file name.

    Raises
    ------
    OutOfRange
        If nothing flows: the places then have no enthalpy to show.
    """
    circuit, around = altered_circuit(job, faults, result)
    tables = medium_of(circuit).tables
    title = job.title or job.source
    return {
        "pressure-enthalpy.svg": pressure_enthalpy_svg(
            pressure_enthalpy(result.running, tables, title)
        ),
        "along-the-circuit.svg": along_circuit_svg(
            along_circuit(result.running, circuit, around.room_k, title)
        ),
    }


def models_in_use(circuit: Circuit) -> tuple[str, ...]:
    """Names of the closures behind a state, each with its author.

    Parameters
    ----------
    circuit : Circuit
        The circuit.

    Returns
    -------
    tuple of str
        In words.
    """
    refrigerant = circuit.refrigerant
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
        f"void fraction: {void_of(circuit).name}",
        *capillary_models(circuit),
        "low-side pressure loss: Müller-Steinhagen & Heck (1986), Churchill (1977)",
        "condensing inside: Shah (1979)",
        "boiling inside: Gungor & Winterton (1987)",
        "one phase inside: Gnielinski (2013)",
        f"condenser outside: {outside}",
        f"evaporator outside: {air_side}",
        *_loop_models(circuit),
        compressor_model(circuit),
        f"oil: {usual_oil(refrigerant).name}, Flory (1942) and Huggins (1942)",
        "equalising time: isothermal gas flow, estimate of ours",
    )


def _loop_models(circuit: Circuit) -> tuple[str, ...]:
    found = []
    if circuit.oil_cooler.conductance_w_k > 0.0:
        found.append("oil cooler: one conductance from the shell's oil, zone by zone")
    if circuit.frame_loop.room_conductance_w_k > 0.0:
        found.append("door frame: balance of its flange between loop, room and cabinet")
        found.append("dew point: Alduchov & Eskridge (1996)")
    if circuit.drain_pan_loop.tube_length_m > 0.0:
        found.append("drain-pan loop: one conductance to the room and one to the cabinet")
    if circuit.air_mol > 0.0:
        found.append("gas: Dalton's law, all of it in the condenser while running")
    return tuple(found)


def _check_layout(job: Job, circuit: Circuit) -> None:
    """Refuse a layout's name that the tables contradict."""
    named, made = job.circuit.layout, layout_of(circuit).value
    if named is not None and named != made:
        accepted = f"{made}, which is what the tables of the circuit make"
        raise BadInput(job.source, "circuit.layout", named, accepted)


def _humidity(job: Job) -> float | None:
    reading = job.reading("ambient_humidity")
    return job.room.humidity_fraction if reading is None else reading.value


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


def surroundings_of(job: Job) -> tuple[Surroundings, bool]:
    """What is imposed, and whether the thermostat is in charge.

    Parameters
    ----------
    job : Job
        The job, read and checked.

    Returns
    -------
    tuple
        Temperatures [K] and supply [V]; whether the cabinet is settled.
    """
    readings = {reading.key: reading.value for reading in job.readings}
    room = job.room.temperature_k
    if room is None:
        room = readings.get("ambient_temperature", UNMEASURED.room_k)
    imposed = [readings.get(f"{name}_temperature") for name in ("fresh_food", "freezer")]
    settled = job.taken.settled is True or imposed == [None, None]
    fresh_food, freezer = (math.nan if settled or t is None else t for t in imposed)
    volts = job.plate.voltage_v or math.nan
    return Surroundings(room, volts, fresh_food, freezer, 0.0), settled


def faulty(
    circuit: Circuit,
    surroundings: Surroundings,
    faults: Sequence[tuple[str, float]],
) -> tuple[Circuit, Surroundings]:
    """Circuit and surroundings with the faults applied in their order.

    Parameters
    ----------
    circuit : Circuit
        The circuit as built.
    surroundings : Surroundings
        What is imposed.
    faults : sequence
        Identifier and severity. [unit of the fault]

    Returns
    -------
    tuple
        Both, changed.
    """
    if not faults:
        return circuit, surroundings
    med = medium_of(circuit)
    c, s = pack_circuit(circuit), pack_surroundings(surroundings)
    for name, severity in faults:
        effect_named(name).apply(med, c, s, np.array([severity]))
    changed = {f.name: float(s[f.name][0]) for f in dataclasses.fields(Surroundings)}
    return unpack_circuit(c[0]), Surroundings(**changed)


def _rest_of(job: Job) -> tuple[float, float | None]:
    """Seconds since the stop and the evaporator's temperature at rest, as far as told."""
    minutes = job.taken.minutes_since_stop
    wait = USUAL_WAIT if minutes is None else 60.0 * minutes
    return wait, job.taken.standing_evaporator_temperature_k
