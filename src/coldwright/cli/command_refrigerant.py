"""`coldwright refrigerant`: facts, bubble and dew point, and charge work of one refrigerant."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.cli.as_json import dumped
from coldwright.cli.options import COMMAND_LINE, choice, outside, quantity, system
from coldwright.cli.report_text import report_lines
from coldwright.errors import BadInput, OutOfRange, require
from coldwright.readings.keys import REFRIGERANTS
from coldwright.units import Dimension as D
from coldwright.units import air_pressure_at_altitude, parse_pressure

HIGHEST_M, LOWEST_M = 6000.0, -450.0  # from the Dead Sea up to the highest towns

if TYPE_CHECKING:
    from coldwright.refrigerant.answer import RefrigerantAnswer


def refrigerant(
    name: Annotated[str, typer.Argument(help="Such as R134a or R401A.")],
    temperature: Annotated[
        str | None, typer.Option(help='Such as "24 °C"; else four usual ones are shown.')
    ] = None,
    pressure: Annotated[
        str | None, typer.Option(help='Such as "0.6 bar absolute" or "2 psig".')
    ] = None,
    mass: Annotated[str | None, typer.Option(help='Such as "140 g".')] = None,
    volume: Annotated[
        str | None, typer.Option(help='The mass is in it at --temperature, such as "2.4 l".')
    ] = None,
    instead_of: Annotated[
        str | None, typer.Option(help="The refrigerant that --mass is of, such as R12.")
    ] = None,
    cylinder: Annotated[
        str | None, typer.Option(help='Water capacity of a cylinder, such as "12.3 l".')
    ] = None,
    altitude: Annotated[
        str, typer.Option(help="Of the place; gauge pressures count from the air there.")
    ] = "0 m",
    units: Annotated[str, typer.Option(help="si or us, for reading.")] = "si",
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """What a refrigerant is, its bubble and dew point, and what a mass of it does."""
    from coldwright.usecases import refrigerant as case

    chosen = system(units)
    given = {
        "--temperature": (temperature, D.TEMPERATURE),
        "--pressure": (pressure, D.PRESSURE),
        "--mass": (mass, D.MASS),
        "--volume": (volume, D.VOLUME),
        "--cylinder": (cylinder, D.VOLUME),
        "--altitude": (altitude, D.ALTITUDE),
    }
    written = {o: (text, d) for o, (text, d) in given.items() if text is not None}
    known = choice("NAME", name, REFRIGERANTS)
    other = None if instead_of is None else choice("--instead-of", instead_of, REFRIGERANTS)
    _partners(given, other)
    values = {o: quantity(o, text, d) for o, (text, d) in written.items() if o != "--pressure"}
    try:
        require("altitude", values["--altitude"], "m", LOWEST_M, HIGHEST_M)
        air = air_pressure_at_altitude(values["--altitude"])
        said = None
        if pressure is not None:
            said = parse_pressure(pressure, ambient_pa=air, file=COMMAND_LINE, key="--pressure")
        answer = case.refrigerant(
            case.RefrigerantQuestion(
                name=known,
                temperature_k=values.get("--temperature"),
                pressure_pa=None if said is None else said.pascal_absolute,
                mass_kg=values.get("--mass"),
                volume_m3=values.get("--volume"),
                instead_of=other,
                cylinder_m3=values.get("--cylinder"),
                altitude_m=values["--altitude"],
            )
        )
    except OutOfRange as error:
        raise outside(error, written, chosen) from None
    notes = answer.notes
    if said is not None and said.gauge_assumed:
        absolute = f"{said.pascal_absolute * 1e-5:.2f} bar absolute"
        notes = (f"Pressure '{pressure}' taken as gauge: {absolute}.", *notes)
    if as_json:
        print(dumped(_json(answer, notes)))
    else:
        from coldwright.words.refrigerant import refrigerant as told

        print("\n".join([answer.facts.name, *report_lines(told(answer, notes, chosen))]))


def _partners(given: dict[str, tuple[str | None, D]], other: str | None) -> None:
    """A number that needs another to mean anything comes with it."""
    has = {option for option, (text, _) in given.items() if text is not None}
    if "--volume" in has and not {"--mass", "--temperature"} <= has:
        raise BadInput(COMMAND_LINE, "--volume", "no --mass or no --temperature", "all three")
    if other is not None and "--mass" not in has:
        raise BadInput(COMMAND_LINE, "--instead-of", "no --mass", f'--mass of {other}, as "140 g"')
    if "--mass" in has and "--volume" not in has and other is None:
        raise BadInput(COMMAND_LINE, "--mass", "nothing to do with it", "--volume or --instead-of")


def _json(answer: RefrigerantAnswer, notes: tuple[str, ...]) -> dict[str, object]:
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
