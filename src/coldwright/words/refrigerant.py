"""One refrigerant: facts, saturation, the sums asked for, what is said and known of it."""

from __future__ import annotations

from coldwright.refrigerant.answer import Equivalent, RefrigerantAnswer
from coldwright.refrigerant.charge_work import AtPressure, Contents, Phase, Saturation
from coldwright.refrigerant.cylinders import Fill
from coldwright.refrigerant.fact_records import Refrigerant
from coldwright.refrigerant.facts import Era
from coldwright.units import Dimension as D
from coldwright.units import System, figures, show
from coldwright.words.report import (
    Caution,
    Fact,
    Facts,
    Heading,
    Part,
    Points,
    Section,
    Text,
    section,
)


def refrigerant(
    answer: RefrigerantAnswer, notes: tuple[str, ...], system: System = System.SI
) -> tuple[Section, ...]:
    """The whole answer, cautions first.

    Parameters
    ----------
    answer : RefrigerantAnswer
        What is known.
    notes : tuple of str
        What is said beside it.
    system : System
        Units.

    Returns
    -------
    tuple of Section
        Sections in the order of reading.
    """
    air, blend = answer.air_pressure_pa, bool(answer.facts.components)
    trust = answer.trust
    trusted = (
        f"Trust: pressure within {100 * trust.pressure_relative:.2g} %, temperature within "
        f"{show(trust.temperature_k, D.TEMPERATURE_DIFFERENCE, system)}; {trust.why}."
    )
    remarks = tuple(f"{s.saying} {s.chemistry} ({s.known.value})" for s in answer.sayings)
    at, inside, equal = answer.at_pressure, answer.contents, answer.equivalent
    return (
        *section("Caution", Caution("", answer.cautions)),
        *section(
            "Saturation",
            *(part for one in answer.saturation for part in _saturation(one, system, air, blend)),
            *(() if at is None else _at_pressure(at, system, air)),
        ),
        *section(
            "Charge",
            *(() if inside is None else _contents(inside, system, air)),
            *(() if equal is None else _equivalent(equal, answer.facts.name, system)),
        ),
        *section("Cylinder, at most (its own stamp governs)",
                 Points(tuple(_fill(fill, system) for fill in answer.fills))),
        *section("Facts", Facts(_facts(answer))),
        *section("Said in the trade, and what is known", Points(remarks)),
        *section("Notes", Points((trusted, *notes))),
    )  # fmt: skip


def _saturation(point: Saturation, system: System, air: float, blend: bool) -> tuple[Part, ...]:
    def pressure(value: float) -> str:
        return both(value, system, air)

    title = f"At {show(point.temperature_k, D.TEMPERATURE, system)}"
    if blend:
        rows = [
            ("Bubble", pressure(point.bubble_pa)),
            ("Dew", pressure(point.dew_pa)),
            ("Glide", show(point.glide_k, D.TEMPERATURE_DIFFERENCE, system)),
        ]
    else:
        rows = [("Saturation", pressure(point.bubble_pa))]
    rows.append(("Liquid", f"{figures(point.liquid_density_kg_m3 * 1e-3, 4)} kg/l"))
    rows.append(("Vapour", f"{figures(point.vapour_density_kg_m3)} g/l"))
    return Heading(title), Facts(tuple(Fact(*row) for row in rows))


def _at_pressure(at: AtPressure, system: System, air: float) -> tuple[Part, ...]:
    rows = [
        ("Bubble", show(at.bubble_k, D.TEMPERATURE, system)),
        ("Dew", show(at.dew_k, D.TEMPERATURE, system)),
    ]
    if at.bubble_k == at.dew_k:
        rows = [("Saturation", show(at.dew_k, D.TEMPERATURE, system))]
    if at.temperature_k is not None and at.phase is not None:
        there = f"{at.phase.value} at {show(at.temperature_k, D.TEMPERATURE, system)}"
        if at.phase is Phase.SUPERHEATED and at.superheat_k is not None:
            there += f", superheat {show(at.superheat_k, D.TEMPERATURE_DIFFERENCE, system)}"
        elif at.phase is Phase.SUBCOOLED and at.subcooling_k is not None:
            there += f", subcooling {show(at.subcooling_k, D.TEMPERATURE_DIFFERENCE, system)}"
        rows.append(("There", there))
    return Heading(f"At {both(at.pressure_pa, system, air)}"), Facts(
        tuple(Fact(*row) for row in rows)
    )


def _contents(inside: Contents, system: System, air: float) -> tuple[Part, ...]:
    mass, volume = show(inside.mass_kg, D.MASS, system), show(inside.volume_m3, D.VOLUME, system)
    share = show(inside.liquid_share_of_volume, D.FRACTION, digits=2)
    rows = (
        ("Pressure", both(inside.pressure_pa, system, air)),
        ("Liquid", f"{show(inside.liquid_kg, D.MASS, system)}, {share} of the volume"),
        ("Vapour", show(inside.vapour_kg, D.MASS, system)),
    )
    at = show(inside.temperature_k, D.TEMPERATURE, system)
    return Heading(f"{mass} in {volume} at {at}"), Facts(tuple(Fact(*row) for row in rows))


def _equivalent(equal: Equivalent, name: str, system: System) -> tuple[Part, ...]:
    mass, other = (show(kg, D.MASS, system) for kg in (equal.mass_kg, equal.mass_of_it_kg))
    ratio = equal.mass_kg / equal.mass_of_it_kg
    text = (
        f"{mass} of {name} fills as much room as liquid as {other} of {equal.instead_of} "
        f"(at 25 °C; mass ratio {ratio:.2f})."
    )
    return (Text(text),)


def _fill(fill: Fill, system: System) -> str:
    share = show(fill.liquid_share_at_50_c, D.FRACTION, digits=2)
    full = "hotter than is held here"
    if fill.liquid_full_k is not None:
        full = f"at {show(fill.liquid_full_k, D.TEMPERATURE, system)}"
    return (
        f"{show(fill.mass_kg, D.MASS, system)}: {fill.rule}; {share} liquid at 50 °C, "
        f"full of liquid {full} ({fill.source}; {fill.known.value})"
    )


def _facts(answer: RefrigerantAnswer) -> tuple[Fact, ...]:
    facts = answer.facts
    rows = [("Class", f"{facts.safety_class}, {facts.safety_class_known.value}")]
    limit = facts.lowest_lfl_kg_m3
    if limit is not None:
        rows.append(("Burns", f"from {1e3 * limit.value:.3g} g/m3 on ({limit.known.value})"))
    if facts.components:
        rows.append(("Made of", composition(facts)))
    sets = ", ".join(f"{figures(gwp.value)} {gwp.set_name}" for gwp in facts.gwp100)
    rows.append(("GWP 100 a", sets))
    if facts.odp is not None:
        rows.append(("ODP", figures(facts.odp.value, 2)))
    rows += [
        (
            "Oil" if i == 0 else "",
            f"{pairing.oil}: {pairing.miscibility.value}"
            + (f"; {pairing.remark}" if pairing.remark else "")
            + f" ({pairing.known.value})",
        )
        for i, pairing in enumerate(answer.pairings)
    ]
    rows += [("Used" if i == 0 else "", era_text(era)) for i, era in enumerate(answer.uses)]
    return tuple(Fact(*row) for row in rows)


def composition(facts: Refrigerant) -> str:
    """Parts by mass.

    Parameters
    ----------
    facts : Refrigerant
        Of the refrigerant.

    Returns
    -------
    str
        Such as 'A 50 % / B 50 %'.
    """
    return " / ".join(
        f"{part.name} {figures(100.0 * part.mass_fraction)} %" for part in facts.components
    )


def era_text(era: Era) -> str:
    """Years, place and role of one era.

    Parameters
    ----------
    era : Era
        Years, region and role.

    Returns
    -------
    str
        One phrase.
    """
    years = f"{era.first_year} to {era.last_year}" if era.last_year else f"from {era.first_year}"
    return f"{years}, {era.region}: {era.role.value} ({era.known.value})"


def both(value: float, system: System, air: float) -> str:
    """A pressure as a gauge at that place shows it, and absolute.

    Parameters
    ----------
    value : float
        The pressure. [Pa absolute]
    system : System
        Units.
    air : float
        Air pressure there. [Pa]

    Returns
    -------
    str
        Two figures with units.
    """
    shown = show(value, D.PRESSURE, system, ambient_pa=air)
    if "absolute" in shown:
        return shown
    return f"{shown} ({value * 1e-5:.2f} bar absolute)"
