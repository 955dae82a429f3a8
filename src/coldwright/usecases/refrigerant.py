"""What is known of one refrigerant, and the sums a technician does with it at the appliance."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.catalogue.cautions import CAUTIONS, cautions_for
from coldwright.refrigerant.answer import Equivalent, RefrigerantAnswer
from coldwright.refrigerant.charge_work import (
    Contents,
    at_pressure,
    contents,
    equivalent_charge,
    saturation_at,
)
from coldwright.refrigerant.cylinders import fills
from coldwright.refrigerant.facts import Refrigerant, refrigerant_facts, uses_of
from coldwright.refrigerant.lines import Lines, load_lines
from coldwright.refrigerant.oil_choice import pairings_of, sayings_about
from coldwright.refrigerant.tables import FULL_REFRIGERANTS
from coldwright.units import air_pressure_at_altitude

# Shown where no temperature is asked for: evaporating, freezing, room, condensing [K].
USUAL_K = (248.15, 273.15, 298.15, 318.15)
CYLINDER_CAUTION = (
    "Weigh while filling: never above 80 % liquid, a cylinder full of liquid bursts as it warms.",
    "Never mix gases in one; only a cylinder rated for this refrigerant and in date.",
    "Stand it upright, keep it out of the sun.",
)
NOMINAL = (
    "Holds for the blend as formulated. A leak of vapour changes it: take the rest out and charge "
    "anew, as liquid."
)
MASS_GOVERNS = "The mass on the plate governs; equal liquid volume is only a check of plausibility."
NEVER_SWAP = (
    "This is a comparison, not leave to change over: a flammable refrigerant goes only into an "
    "appliance built for it, and any change needs its own oil, capillary and label."
)


@dataclass(frozen=True, slots=True)
class RefrigerantQuestion:
    """A name and whatever else is known; all SI, pressures absolute."""

    name: str
    temperature_k: float | None = None
    pressure_pa: float | None = None
    mass_kg: float | None = None
    volume_m3: float | None = None  # with mass and temperature: what is in it
    instead_of: str | None = None  # with mass: whose mass that is
    cylinder_m3: float | None = None
    altitude_m: float = 0.0


def refrigerant(question: RefrigerantQuestion) -> RefrigerantAnswer:
    """Facts, saturation and charge work of one refrigerant.

    Parameters
    ----------
    question : RefrigerantQuestion
        What is asked; a value without its partner (a volume without a mass) is not used.

    Returns
    -------
    RefrigerantAnswer
        The whole answer, SI inside.

    Raises
    ------
    BadInput
        If nothing is held under a name.
    Refused
        If it has no saturation line, such as "unknown".
    OutOfRange
        If a number lies outside the lines, or a mass would fill its volume with liquid.
    """
    lines = load_lines(question.name)
    facts = refrigerant_facts(lines.name)
    asked = question.temperature_k
    return RefrigerantAnswer(
        facts=facts,
        air_pressure_pa=air_pressure_at_altitude(question.altitude_m),
        full_model=facts.name in FULL_REFRIGERANTS,
        trust=lines.trust,
        uses=uses_of(facts.name),
        pairings=pairings_of(facts.name),
        sayings=sayings_about(facts.name),
        saturation=tuple(saturation_at(lines, t) for t in (USUAL_K if asked is None else (asked,))),
        at_pressure=None
        if question.pressure_pa is None
        else at_pressure(lines, question.pressure_pa, asked),
        contents=_contents(question, lines),
        equivalent=_equivalent(question, lines),
        fills=() if question.cylinder_m3 is None else fills(lines, question.cylinder_m3),
        notes=_notes(question, facts, lines),
        cautions=_cautions(question, facts.name),
    )


def _contents(question: RefrigerantQuestion, lines: Lines) -> Contents | None:
    t, mass, volume = question.temperature_k, question.mass_kg, question.volume_m3
    if t is None or mass is None or volume is None:
        return None
    return contents(lines, volume, t, mass)


def _equivalent(question: RefrigerantQuestion, lines: Lines) -> Equivalent | None:
    if question.instead_of is None or question.mass_kg is None:
        return None
    other = load_lines(question.instead_of)
    mass = equivalent_charge(lines, other, question.mass_kg)
    return Equivalent(other.name, question.mass_kg, mass)


def _notes(question: RefrigerantQuestion, facts: Refrigerant, lines: Lines) -> tuple[str, ...]:
    found: list[str] = []
    if lines.blend:
        found.append(NOMINAL)
        found.append(
            "Superheat counts from the dew point, subcooling from the bubble point. In an "
            "evaporator the mean lies about two thirds of the way to the dew point (ours)."
        )
    if facts.name not in FULL_REFRIGERANTS:
        found.append(
            f"No odds and no simulation with {facts.name}: pressures, temperatures, densities "
            "and charge work only."
        )
    if question.volume_m3 is not None:
        found.append("Oil is left out: with it in the volume the pressure is lower.")
    if question.instead_of is not None:
        found += [MASS_GOVERNS, NEVER_SWAP]
    return tuple(found)


def _cautions(question: RefrigerantQuestion, name: str) -> tuple[str, ...]:
    found = [CAUTIONS[key].text for key in cautions_for(name)]
    if question.pressure_pa is not None:
        found.append(CAUTIONS["opens_circuit"].text)
    if question.cylinder_m3 is not None:
        found.append(" ".join(CYLINDER_CAUTION))
    return tuple(found)
