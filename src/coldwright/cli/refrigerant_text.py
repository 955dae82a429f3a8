"""One refrigerant's answer as narrow text and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coldwright.cli.text import items, table, wrapped
from coldwright.refrigerant.charge_work import AtPressure, Contents, Phase, Saturation
from coldwright.refrigerant.cylinders import Fill
from coldwright.refrigerant.fact_records import Refrigerant
from coldwright.refrigerant.facts import Era
from coldwright.units import Dimension as D
from coldwright.units import System, figures, show

if TYPE_CHECKING:
    from coldwright.refrigerant.answer import Equivalent, RefrigerantAnswer


def answer_lines(answer: RefrigerantAnswer, notes: tuple[str, ...], chosen: System) -> list[str]:
    """Text for reading, within the width of a phone."""
    air = answer.air_pressure_pa
    lines = [answer.facts.name]
    if answer.cautions:
        lines += ["", *items(answer.cautions, "! ")]
    for point in answer.saturation:
        lines += ["", *_saturation(point, chosen, air, bool(answer.facts.components))]
    if answer.at_pressure is not None:
        lines += ["", *_at_pressure(answer.at_pressure, chosen, air)]
    if answer.contents is not None:
        lines += ["", *_contents(answer.contents, chosen, air)]
    if answer.equivalent is not None:
        lines += ["", *_equivalent(answer.equivalent, answer.facts.name, chosen)]
    if answer.fills:
        lines += ["", "Cylinder, at most (its own stamp governs)"]
        for fill in answer.fills:
            lines += _fill(fill, chosen)
    lines += ["", *table(_facts(answer))]
    remarks = [f"{said.saying} {said.chemistry} ({said.known.value})" for said in answer.sayings]
    if remarks:
        lines += ["", "Said in the trade, and what is known", *items(remarks)]
    trust = answer.trust
    trusted = (
        f"Trust: pressure within {100 * trust.pressure_relative:.2g} %, temperature within "
        f"{show(trust.temperature_k, D.TEMPERATURE_DIFFERENCE, chosen)}; {trust.why}."
    )
    return [*lines, "", *items([trusted, *notes])]


def _saturation(point: Saturation, chosen: System, air: float, blend: bool) -> list[str]:
    def pressure(value: float) -> str:
        return _both(value, chosen, air)

    title = f"At {show(point.temperature_k, D.TEMPERATURE, chosen)}"
    if blend:
        rows = [
            ("Bubble", pressure(point.bubble_pa)),
            ("Dew", pressure(point.dew_pa)),
            ("Glide", show(point.glide_k, D.TEMPERATURE_DIFFERENCE, chosen)),
        ]
    else:
        rows = [("Saturation", pressure(point.bubble_pa))]
    rows.append(("Liquid", f"{figures(point.liquid_density_kg_m3 * 1e-3, 4)} kg/l"))
    rows.append(("Vapour", f"{figures(point.vapour_density_kg_m3)} g/l"))
    return [title, *table(rows, "  ")]


def _at_pressure(at: AtPressure, chosen: System, air: float) -> list[str]:
    rows = [
        ("Bubble", show(at.bubble_k, D.TEMPERATURE, chosen)),
        ("Dew", show(at.dew_k, D.TEMPERATURE, chosen)),
    ]
    if at.bubble_k == at.dew_k:
        rows = [("Saturation", show(at.dew_k, D.TEMPERATURE, chosen))]
    if at.temperature_k is not None and at.phase is not None:
        there = f"{at.phase.value} at {show(at.temperature_k, D.TEMPERATURE, chosen)}"
        if at.phase is Phase.SUPERHEATED and at.superheat_k is not None:
            there += f", superheat {show(at.superheat_k, D.TEMPERATURE_DIFFERENCE, chosen)}"
        elif at.phase is Phase.SUBCOOLED and at.subcooling_k is not None:
            there += f", subcooling {show(at.subcooling_k, D.TEMPERATURE_DIFFERENCE, chosen)}"
        rows.append(("There", there))
    return [f"At {_both(at.pressure_pa, chosen, air)}", *table(rows, "  ")]


def _contents(inside: Contents, chosen: System, air: float) -> list[str]:
    mass, volume = show(inside.mass_kg, D.MASS, chosen), show(inside.volume_m3, D.VOLUME, chosen)
    share = show(inside.liquid_share_of_volume, D.FRACTION, digits=2)
    rows = (
        ("Pressure", _both(inside.pressure_pa, chosen, air)),
        ("Liquid", f"{show(inside.liquid_kg, D.MASS, chosen)}, {share} of the volume"),
        ("Vapour", show(inside.vapour_kg, D.MASS, chosen)),
    )
    at = show(inside.temperature_k, D.TEMPERATURE, chosen)
    return [f"{mass} in {volume} at {at}", *table(rows, "  ")]


def _equivalent(equal: Equivalent, name: str, chosen: System) -> list[str]:
    mass, other = (show(kg, D.MASS, chosen) for kg in (equal.mass_kg, equal.mass_of_it_kg))
    ratio = equal.mass_kg / equal.mass_of_it_kg
    text = (
        f"{mass} of {name} fills as much room as liquid as {other} of {equal.instead_of} "
        f"(at 25 °C; mass ratio {ratio:.2f})."
    )
    return wrapped(text)


def _fill(fill: Fill, chosen: System) -> list[str]:
    share = show(fill.liquid_share_at_50_c, D.FRACTION, digits=2)
    full = "hotter than is held here"
    if fill.liquid_full_k is not None:
        full = f"at {show(fill.liquid_full_k, D.TEMPERATURE, chosen)}"
    text = (
        f"{show(fill.mass_kg, D.MASS, chosen)}: {fill.rule}; {share} liquid at 50 °C, "
        f"full of liquid {full} ({fill.source}; {fill.known.value})"
    )
    return items([text])


def _facts(answer: RefrigerantAnswer) -> list[tuple[str, str]]:
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
    return rows


def composition(facts: Refrigerant) -> str:
    """Parts by mass."""
    return " / ".join(
        f"{part.name} {figures(100.0 * part.mass_fraction)} %" for part in facts.components
    )


def era_text(era: Era) -> str:
    """Years, place and role of one era."""
    years = f"{era.first_year} to {era.last_year}" if era.last_year else f"from {era.first_year}"
    return f"{years}, {era.region}: {era.role.value} ({era.known.value})"


def _both(value: float, chosen: System, air: float) -> str:
    """As a gauge shows it and absolute."""
    shown = show(value, D.PRESSURE, chosen, ambient_pa=air)
    if "absolute" in shown:
        return shown
    return f"{shown} ({value * 1e-5:.2f} bar absolute)"


def answer_json(answer: RefrigerantAnswer, notes: tuple[str, ...]) -> dict[str, object]:
    """Everything; keys carry the unit, what was not asked is null."""
    at = answer.at_pressure
    found: dict[str, object] = {
        "refrigerant": answer.facts.name,
        "facts": answer.facts,
        "full_model": answer.full_model,
        "trust": answer.trust,
        "air_pressure_pa": answer.air_pressure_pa,
        "saturation": answer.saturation,
        "at_pressure": None,
        "contents": answer.contents,
        "equivalent": answer.equivalent,
        "cylinder": answer.fills,
        "uses": answer.uses,
        "oils": answer.pairings,
        "sayings": answer.sayings,
        "notes": notes,
        "cautions": answer.cautions,
    }
    if at is not None:
        found["at_pressure"] = {
            "pressure_pa": at.pressure_pa,
            "bubble_k": at.bubble_k,
            "dew_k": at.dew_k,
            "temperature_k": at.temperature_k,
            "superheat_k": at.superheat_k,
            "subcooling_k": at.subcooling_k,
            "phase": at.phase,
        }
    return found
