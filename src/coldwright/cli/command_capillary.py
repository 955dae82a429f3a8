"""`coldwright capillary`: flow for a length, or length for a flow."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.circuit.records import FlashKind
from coldwright.cli.as_json import dumped
from coldwright.cli.options import COMMAND_LINE, choice, outside, quantity, system
from coldwright.cli.progress import Progress
from coldwright.cli.text import items, table
from coldwright.cycle.capillary.records import FLOW_RANGE_KG_S, LENGTH_RANGE_M, CapillaryTube
from coldwright.errors import BadInput, OutOfRange, require
from coldwright.readings.keys import REFRIGERANTS
from coldwright.units import Dimension as D
from coldwright.units import System, parse_pressure, show

if TYPE_CHECKING:
    from coldwright.usecases.capillary import CapillaryAnswer


def capillary(
    refrigerant: Annotated[str, typer.Option(help="R134a, R600a, R12, R290 or R22.")],
    bore: Annotated[str, typer.Option(help='Inside diameter, such as "0.66 mm".')],
    inlet_pressure: Annotated[
        str, typer.Option(help='Before the tube, such as "10 bar absolute".')
    ],
    length: Annotated[str | None, typer.Option(help='Such as "2.9 m"; gives the flow.')] = None,
    flow: Annotated[str | None, typer.Option(help='Such as "4.2 kg/h"; gives the length.')] = None,
    subcooling: Annotated[
        str | None, typer.Option(help='Of the liquid before the tube, such as "5 K".')
    ] = None,
    inlet_quality: Annotated[
        str | None, typer.Option(help="Vapour before the tube by mass, such as 0.05.")
    ] = None,
    evaporating: Annotated[str, typer.Option(help="Evaporating temperature.")] = "-25 °C",
    roughness: Annotated[str, typer.Option(help="Of the wall; the default is ours.")] = "0.5 µm",
    entrance_loss: Annotated[str, typer.Option(help="Velocity heads lost at the mouth.")] = "0.5",
    flashing: Annotated[
        str, typer.Option(help="equilibrium, or delayed: metastable liquid.")
    ] = "equilibrium",
    units: Annotated[str, typer.Option(help="si or us, for reading.")] = "si",
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Mass flow of a capillary tube, or the length for a flow."""
    chosen = system(units)
    given = {
        "--bore": (bore, D.LENGTH),
        "--inlet-pressure": (inlet_pressure, D.PRESSURE),
        "--length": (length, D.LENGTH),
        "--flow": (flow, D.MASS_FLOW),
        "--subcooling": (subcooling, D.TEMPERATURE_DIFFERENCE),
        "--inlet-quality": (inlet_quality, D.FRACTION),
        "--evaporating": (evaporating, D.TEMPERATURE),
        "--roughness": (roughness, D.LENGTH),
        "--entrance-loss": (entrance_loss, D.NUMBER),
    }
    for one, other in (("--length", "--flow"), ("--subcooling", "--inlet-quality")):
        if (given[one][0] is None) == (given[other][0] is None):
            read = "neither" if given[one][0] is None else "both"
            raise BadInput(COMMAND_LINE, f"{one}, {other}", read, "exactly one of the two")
    written = {o: (text, d) for o, (text, d) in given.items() if text is not None}
    values = {o: quantity(o, text, d) for o, (text, d) in written.items()}
    known = choice("--refrigerant", refrigerant, REFRIGERANTS)
    kinds = [kind.name.lower() for kind in FlashKind]
    late = choice("--flashing", flashing, kinds) == FlashKind.DELAYED.name.lower()
    try:
        tube = _checked_tube(values, late)
        with Progress("starting the capillary model (the first run compiles it)") as say:
            answer = _answer(known, tube, values, say)
    except OutOfRange as error:
        raise outside(error, written, chosen) from None
    notes = answer.notes
    pressure = parse_pressure(inlet_pressure)
    if pressure.gauge_assumed:
        absolute = f"{pressure.pascal_absolute * 1e-5:.2f} bar absolute"
        notes = (f"Inlet pressure '{inlet_pressure}' taken as gauge: {absolute}.", *notes)
    if as_json:
        print(dumped(_json(answer, notes)))
    else:
        print("\n".join(_lines(answer, notes, chosen)))


def _checked_tube(values: Mapping[str, float], late: bool) -> CapillaryTube:
    """The tube; here also the length or flow is held to its range, before anything slow."""
    if "--length" in values:
        require("length", values["--length"], "m", *LENGTH_RANGE_M)
    else:
        require("flow", values["--flow"], "kg/s", *FLOW_RANGE_KG_S)
    return CapillaryTube(
        bore_m=values["--bore"],
        roughness_m=values["--roughness"],
        entrance_loss_fraction=values["--entrance-loss"],
        flash_delay_fraction=1.0 if late else 0.0,
    )


def _answer(
    refrigerant: str, tube: CapillaryTube, values: Mapping[str, float], say: Progress
) -> CapillaryAnswer:
    from coldwright.usecases import capillary as case

    question = case.CapillaryQuestion(
        refrigerant=refrigerant,
        tube=tube,
        inlet_pressure_pa=values["--inlet-pressure"],
        subcooling_k=values.get("--subcooling", 0.0),
        quality_fraction=values.get("--inlet-quality", 0.0),
        evaporating_k=values["--evaporating"],
        length_m=values.get("--length"),
        mass_flow_kg_s=values.get("--flow"),
    )
    return case.capillary(question, say)


def _json(answer: CapillaryAnswer, notes: tuple[str, ...]) -> dict[str, object]:
    flow = answer.flow
    return {
        "mass_flow_kg_h": flow.mass_flow_kg_s * 3600.0,
        "choked": flow.choked,
        "exit_pressure_pa": flow.exit_pressure_pa,
        "exit_quality": flow.exit_quality_fraction,
        "length_liquid_m": flow.length_liquid_m,
        "length_two_phase_m": flow.length_two_phase_m,
        "notes": notes,
    }


def _lines(answer: CapillaryAnswer, notes: tuple[str, ...], chosen: System) -> list[str]:
    flow, inlet = answer.flow, answer.inlet
    if inlet.subcooling_k > 0.0:
        before = f"subcooled by {show(inlet.subcooling_k, D.TEMPERATURE_DIFFERENCE, chosen)}"
    elif inlet.quality_fraction > 0.0:
        before = f"{show(inlet.quality_fraction, D.FRACTION, digits=2)} vapour"
    else:
        before = "saturated liquid"
    behind = f"{show(answer.exit_saturation_k, D.TEMPERATURE, chosen)} there"
    vapour = show(flow.exit_quality_fraction, D.FRACTION, digits=2)
    rows = (
        ("Before", f"{show(inlet.pressure_pa, D.PRESSURE, chosen)}, {before}"),
        ("Flow", show(flow.mass_flow_kg_s, D.MASS_FLOW, chosen)),
        ("Length", show(flow.length_m, D.LENGTH, chosen)),
        ("  liquid", show(flow.length_liquid_m, D.LENGTH, chosen)),
        ("  two-phase", show(flow.length_two_phase_m, D.LENGTH, chosen)),
        ("Choked", "yes, at the end" if flow.choked else "no"),
        ("End", f"{show(flow.exit_pressure_pa, D.PRESSURE, chosen)}, {behind}, {vapour} vapour"),
    )
    title = f"{answer.refrigerant} through a {show(answer.tube.bore_m, D.LENGTH, chosen)} capillary"
    return [title, *table(rows), "", *items(notes)]
