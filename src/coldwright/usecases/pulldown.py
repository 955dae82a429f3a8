"""An appliance over hours: what `coldwright pulldown` and the page of hours show."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from coldwright.case.case import Case
from coldwright.catalogue.families import family_of
from coldwright.catalogue.sizing import DIMENSIONS, size_members
from coldwright.circuit.files import (
    circuit_from_geometry,
    geometry_keys,
    geometry_of,
    is_complete,
)
from coldwright.circuit.records import Circuit, EvaporatorKind
from coldwright.circuit.vector import unpack_circuit
from coldwright.cycle.medium import medium
from coldwright.diagnosis.subject import refuse_unmodelled
from coldwright.errors import BadInput, NotSolved
from coldwright.faults.registry import check_severity, effect_named
from coldwright.readings.job import Job
from coldwright.transient.hours import Hours
from coldwright.transient.masses import USUAL_LOAD, masses_of
from coldwright.transient.records import (
    Compartment,
    Defrost,
    Doors,
    Goods,
    Plan,
    Thermostat,
)
from coldwright.transient.run import pull_down
from coldwright.usecases.simulate import ONE_SPEED, faulty, surroundings_of

# The thermostat where nobody names it (all ours): finned coils are governed by the freezer's
# air, others by the fresh-food side's; spans as felt by a sensor in the air, chosen so that
# household appliances start one to three times an hour (common practice, no published source).
FRESH_FOOD_SPAN_K, FREEZER_SPAN_K, FINNED_SPAN_K = 2.0, 2.5, 5.0
LAG_S = 180.0
USUAL_HUMIDITY = 0.5
# A defrost: interval of run time, end and longest time (common practice, no published source)
INTERVAL_S, END_K, LONGEST_S, DRIP_S = 10.0 * 3600.0, 283.15, 1800.0, 300.0


@dataclass(frozen=True, slots=True)
class Asked:
    """What a client asks; None where it leaves the choice to us. SI."""

    hours: float = 24.0
    warm_start: bool = True
    sensor: Compartment | None = None
    span_k: float | None = None
    goods: tuple[Goods, ...] = ()
    heater_w: float | None = None
    interval_s: float = INTERVAL_S
    end_k: float = END_K
    doors_per_hour: float | None = None
    faults: tuple[tuple[str, float], ...] = ()
    charge_kg: float | None = None


def pulldown(
    job: Job, asked: Asked | None = None, progress: Callable[[str], None] | None = None
) -> Hours:
    """The job's appliance over hours.

    Parameters
    ----------
    job : Job
        With every key of the circuit, or with a plate alone: then the middle member of its
        family stands for the appliance.
    asked : Asked or None
        How long, from where, with what.
    progress : callable, optional
        Is told what is under way.

    Returns
    -------
    Hours
        Course over time, energy per day [kWh] and notes.

    Raises
    ------
    BadInput
        If something asked for does not fit the appliance.
    OutOfRange
        If a number lies outside.
    Refused
        If the appliance is of a kind that is not modelled.
    NotSolved
        If no state was found; with the last iterate.
    """
    wish = Asked() if asked is None else asked
    refuse_unmodelled(job, "no hours to show", (ONE_SPEED,))
    kinds = [effect_named(name) for name, _ in wish.faults]
    for kind, (_, severity) in zip(kinds, wish.faults, strict=True):
        check_severity(kind, severity)
    circuit, notes = _appliance(job, wish.charge_kg)
    surroundings, _ = surroundings_of(job)
    surroundings = replace(surroundings, fresh_food_k=math.nan, freezer_k=math.nan)
    altered, around = faulty(circuit, surroundings, wish.faults)
    # What is put in later, its warmth not told, comes from the room
    put_in = tuple(
        replace(g, temperature_k=around.room_k)
        if g.at_s > 0.0 and math.isnan(g.temperature_k)
        else g
        for g in wish.goods
    )
    plan = _plan(job, replace(wish, goods=put_in), circuit)
    plan = replace(
        plan, runs=all(k.runs for k in kinds), blocked=any(k.blocks for k in kinds)
    )  # fmt: skip
    plate = job.plate
    if wish.heater_w is not None:
        # The averaged heaters of a finned coil are mostly its defrosts: not counted twice
        altered = replace(altered, cabinet=replace(altered.cabinet, heater_power_w=0.0))
        notes = (*notes, "Defrosts one by one replace the circuit's averaged heater power.")
    if wish.doors_per_hour is not None:
        notes = (*notes, "Doors one by one replace the circuit's averaged opening power.")
    volumes = (plate.volume_fresh_food_m3, plate.volume_freezer_m3)
    masses = masses_of(altered, *volumes)
    result = pull_down(altered, around, masses, plan, progress)
    cabinet = circuit.cabinet
    two = cabinet.fresh_food_conductance_w_k > 0.0
    return Hours(
        result, plan, around.room_k, cabinet.fresh_food_set_k if two else math.nan,
        cabinet.freezer_set_k, (*notes, *result.notes),
    )  # fmt: skip


def _appliance(job: Job, charge_kg: float | None) -> tuple[Circuit, tuple[str, ...]]:
    """The circuit of the file, else the middle member of the family."""
    given = dict(job.circuit.geometry)
    if is_complete(given):
        charge = job.plate.charge_kg if charge_kg is None else charge_kg
        if charge is None:
            accepted = "the charge, such as '120 g'"
            raise BadInput(job.source, "plate.charge", "nothing", accepted)
        subject = Case(job).subject
        name = subject.refrigerants[0][0]
        circuit = circuit_from_geometry(given.items(), charge, name, file=job.source)
        return circuit, ()
    subject = Case(job).subject
    name = max(subject.refrigerants, key=lambda pair: pair[1])[0]
    members = size_members(medium(name), subject.known, np.zeros((1, DIMENSIONS)))
    if not members.good[0]:
        raise NotSolved("the middle member of the family", (), math.nan)
    sized = unpack_circuit(members.circuits[0])
    plate = job.plate.charge_kg if job.plate.charge_applies is not False else None
    charge = charge_kg if charge_kg is not None else plate
    if charge is None:
        charge = float(members.design_charge_kg[0])
    # What was measured stands; the charge is the plate's, the sizing its own best
    own = {k: v for k, v in given.items() if k in geometry_keys()}
    kept = tuple((dict(geometry_of(sized)) | own).items())
    circuit = circuit_from_geometry(kept, charge, name, file=job.source)
    kind = family_of(job.plate.kind).kind.replace("_", " ")
    return circuit, (
        f"The circuit is not fully given: the middle {kind} of its family, with {name}, stands "
        "for it. This very appliance may be a third slower or faster.",
    )  # fmt: skip


def _plan(job: Job, wish: Asked, circuit: Circuit) -> Plan:
    cabinet = circuit.cabinet
    two = cabinet.fresh_food_conductance_w_k > 0.0
    fan = EvaporatorKind(int(circuit.evaporator.kind_code)) is EvaporatorKind.FAN
    sensor = wish.sensor
    if sensor is None:
        sensor = Compartment.FRESH_FOOD if two and not fan else Compartment.FREEZER
    wanted = [("sensor", sensor)] + [("goods", g.compartment) for g in wish.goods]
    for what, compartment in wanted:
        if compartment is Compartment.FRESH_FOOD and not two:
            raise BadInput(job.source, what, "fresh_food", "freezer: it has no other compartment")
    middle = cabinet.fresh_food_set_k if sensor is Compartment.FRESH_FOOD else cabinet.freezer_set_k
    usual = FINNED_SPAN_K if fan else FREEZER_SPAN_K
    if sensor is Compartment.FRESH_FOOD:
        usual = FRESH_FOOD_SPAN_K
    span = usual if wish.span_k is None else wish.span_k
    thermostat = Thermostat(sensor, middle + 0.5 * span, middle - 0.5 * span, LAG_S)
    goods = wish.goods
    if not wish.warm_start and not any(g.at_s <= 0.0 for g in goods):
        goods = (*_usual_goods(job, circuit), *goods)
    doors = None
    if wish.doors_per_hour is not None:
        humidity = job.room.humidity_fraction
        doors = Doors(wish.doors_per_hour, USUAL_HUMIDITY if humidity is None else humidity)
    defrost = None
    if wish.heater_w is not None:
        if not fan:
            kind = EvaporatorKind(int(circuit.evaporator.kind_code)).name.lower()
            raise BadInput(job.source, "defrost heater", f"on a {kind} evaporator", "a fan one")
        defrost = Defrost(wish.interval_s, wish.heater_w, wish.end_k, LONGEST_S, DRIP_S)
    return Plan(wish.hours, thermostat, wish.warm_start, goods, defrost, doors, damper=fan and two)


def _usual_goods(job: Job, circuit: Circuit) -> Sequence[Goods]:
    masses = masses_of(circuit, job.plate.volume_fresh_food_m3, job.plate.volume_freezer_m3)
    both = (
        (Compartment.FRESH_FOOD, masses.fresh_food.volume_m3),
        (Compartment.FREEZER, masses.freezer.volume_m3),
    )
    return [Goods(where, USUAL_LOAD[where.value] * v) for where, v in both if v > 0.0]
