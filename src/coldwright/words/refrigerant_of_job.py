"""What is known of a job's refrigerant, and its saturation at the temperatures of this job."""

from __future__ import annotations

from coldwright.catalogue.unmeasured import UNMEASURED
from coldwright.errors import OutOfRange
from coldwright.readings import keys
from coldwright.readings.job import Job
from coldwright.refrigerant.charge_work import Saturation, at_pressure, saturation_at
from coldwright.refrigerant.facts import Refrigerant, refrigerant_facts
from coldwright.refrigerant.lines import TRUST, Lines, load_lines
from coldwright.refrigerant.oil_choice import pairings_of
from coldwright.refrigerant.tables import FULL_REFRIGERANTS
from coldwright.units import Dimension as D
from coldwright.units import System, figures, show
from coldwright.words.refrigerant import both, composition
from coldwright.words.report import Fact
from coldwright.words.wording import capital

_COMPARTMENTS = ("fresh_food_temperature", "freezer_temperature")
_PRESSURES = ("suction_pressure", "discharge_pressure", "standing_pressure")
_UNNAMED = (
    "No saturation pressure without its name: read the plate, or the label of what was charged. "
    "Never guess from a pressure: several lie close together."
)
_AT_REST = (
    "At rest, with liquid left, the circuit stands at the saturation pressure of its coldest spot: "
    "it says nothing of how much is left. Below that pressure no liquid is left; above it, air "
    "or another gas is in it, or another refrigerant."
)
_BLEND = (
    "A blend: superheat counts from the dew point, subcooling from the bubble point. Once vapour "
    "has leaked it is no longer what its name says: take the rest out and charge anew, as liquid."
)


def refrigerant_of(job: Job) -> tuple[str, tuple[Fact, ...], tuple[str, ...]]:
    """In short, facts and notes: class, oil, saturation at this job's temperatures and pressures.

    Parameters
    ----------
    job : Job
        Its plate, room and readings.

    Returns
    -------
    tuple
        Short text, facts, notes.
    """
    name = job.plate.refrigerant
    if name not in TRUST:
        return "not known", (), (_UNNAMED,)
    held, lines = refrigerant_facts(name), load_lines(name)
    without = f"No odds for the sealed circuit with {name}; these figures hold all the same."
    trust = lines.trust
    notes = (
        _AT_REST,
        *((_BLEND,) if lines.blend else ()),
        *(() if name in FULL_REFRIGERANTS else (without,)),
        f"Pressures within {100 * trust.pressure_relative:.2g} %: {trust.why}.",
    )
    facts = (*_saturations(job, lines), *_pressures(job, lines), *_facts(job, held))
    return f"{name}, class {held.safety_class}", facts, notes


def _saturations(job: Job, lines: Lines) -> list[Fact]:
    ambient = job.reading("ambient_temperature")
    room = ambient.value if ambient is not None else job.room.temperature_k
    usual = ("23 °C, room not given", UNMEASURED.room_k)
    places = [("room", room)] if room is not None else [usual]
    for key in _COMPARTMENTS:
        reading = job.reading(key)
        if reading is not None:
            places.append((keys.READINGS[key].label.removesuffix(" temperature"), reading.value))
    found = []
    for place, t in places:
        where = f"At the {place}" if place[0].isalpha() else f"At {place}"
        if place[0].isalpha():
            where += f", {show(t, D.TEMPERATURE)}"
        try:
            said = _saturation(saturation_at(lines, t), lines.blend, job.room.air_pressure_pa)
        except OutOfRange:
            said = "outside what is held"
        found.append(Fact(where, said))
    return found


def _saturation(at: Saturation, blend: bool, air: float) -> str:
    if not blend:
        return both(at.bubble_pa, System.SI, air)
    return f"bubble {both(at.bubble_pa, System.SI, air)}; dew {both(at.dew_pa, System.SI, air)}"


def _pressures(job: Job, lines: Lines) -> list[Fact]:
    found = []
    for key in _PRESSURES:
        reading = job.reading(key)
        if reading is None:
            continue
        try:
            at = at_pressure(lines, reading.value)
        except OutOfRange:
            said = "outside what is held"
        else:
            said = f"saturation at {show(at.dew_k, D.TEMPERATURE)}"
            if lines.blend:
                bubble, dew = (show(t, D.TEMPERATURE) for t in (at.bubble_k, at.dew_k))
                said = f"bubble point {bubble}, dew point {dew}"
        found.append(Fact(f"{capital(keys.READINGS[key].label)}, {reading.entered}", said))
    return found


def _facts(job: Job, held: Refrigerant) -> list[Fact]:
    found = [Fact("Safety class (ASHRAE 34)", held.safety_class or "not known")]
    limit = held.lowest_lfl_kg_m3
    if limit is not None:
        found.append(Fact("Burns in air from", f"{1e3 * limit.value:.3g} g/m³"))
    if held.components:
        found.append(Fact("Made of", composition(held)))
    oils = [f"{pair.oil} ({pair.miscibility.value})" for pair in pairings_of(held.name)]
    found.append(Fact("Oil", "; ".join(oils) + ". What the plate or the maker states governs."))
    if held.gwp100:
        sets = ", ".join(f"{figures(g.value)} ({g.set_name})" for g in held.gwp100)
        if job.plate.charge_kg is not None:
            first = held.gwp100[0]
            kg = show(first.value * job.plate.charge_kg, D.MASS)
            sets += f"; plate charge as {kg} of CO₂ ({first.set_name})"
        found.append(Fact("Warming, 100 years", sets))
    return found
