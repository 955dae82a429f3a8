"""`coldwright simulate`: the running and standing state of a fully specified circuit."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from coldwright.bootstrap import simulate_use_case
from coldwright.cli.as_json import dumped, plain
from coldwright.cli.model_options import chosen_models
from coldwright.cli.options import COMMAND_LINE, choice, pair, quantity, system, whole
from coldwright.cli.progress import Progress
from coldwright.cli.simulation_files import write_one, write_sweep
from coldwright.cli.simulation_text import simulation_lines, sweep_lines
from coldwright.cli.sweep import Case, Point, cases_of
from coldwright.errors import BadInput, NotSolved
from coldwright.units import Dimension as D

if TYPE_CHECKING:
    from coldwright.cycle.simulation import Simulation

POINTS = (2, 200)
STARTING = "simulating (the first run compiles the model)"
FAULT_EXAMPLE = "undercharge=0.6"
WITHOUT = ("frame_loop",)
_DIMENSIONS = {
    "W": D.POWER, "fraction": D.FRACTION, "mol": D.NUMBER, "K": D.TEMPERATURE_DIFFERENCE,
}  # fmt: skip


def simulate(
    circuit: Annotated[str, typer.Argument(metavar="CIRCUIT.toml", help="Every key given.")],
    fault: Annotated[
        list[str] | None, typer.Option(help=f'Such as {FAULT_EXAMPLE} or heat_load="30 W".')
    ] = None,
    charge: Annotated[str | None, typer.Option(help="Instead of the plate's.")] = None,
    without: Annotated[
        str | None, typer.Option(help="By-pass a loop: frame_loop; shows what changes.")
    ] = None,
    compressor: Annotated[
        str | None,
        typer.Option(help="physical, polynomial (of the file), or fitted: ten coefficients."),
    ] = None,
    capillary: Annotated[str | None, typer.Option(help="march or generalised.")] = None,
    flashing: Annotated[str | None, typer.Option(help="equilibrium or delayed.")] = None,
    void: Annotated[
        str | None, typer.Option(help="premoli, rouhani, zivi, homogeneous or baroczy.")
    ] = None,
    vary: Annotated[
        str | None, typer.Option(help='A sweep, such as "capillary.bore=0.6..0.8 mm".')
    ] = None,
    points: Annotated[str, typer.Option(help="Of the sweep.")] = "9",
    csv: Annotated[str | None, typer.Option(help="Write a table here, SI units.")] = None,
    figures: Annotated[str | None, typer.Option(help="Folder to write drawings into.")] = None,
    units: Annotated[str, typer.Option(help="si or us, for reading.")] = "si",
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Every reading predicted, running and at rest; with faults; swept."""
    from coldwright.readings.jobfile import load_job

    chosen = system(units)
    count = whole("--points", points, *POINTS)
    job = load_job(Path(circuit))
    case = Case(
        job=job,
        faults=tuple(fault_of(text) for text in fault or ()),
        charge_kg=None if charge is None else quantity("--charge", charge, D.MASS),
        without=None if without is None else choice("--without", without, WITHOUT),
        choice=chosen_models(compressor, capillary, flashing, void),
    )
    if vary is None:
        with Progress(STARTING):
            result = _simulated(case)
        write_one(case, result, csv, figures)
        print(
            dumped({"job": job.source, "faults": _faults(case), **plain(result)})
            if as_json
            else "\n".join(simulation_lines(case, result, chosen))
        )
        return
    sweep, cases = cases_of(case, vary, count)
    with Progress(STARTING) as say:
        found = _swept(sweep.values, cases, say)
    write_sweep(case, sweep, found, csv, figures, chosen)
    if as_json:
        models = next(p.result.models for p in found if p.result is not None)
        print(
            dumped(
                {
                    "job": job.source,
                    "faults": _faults(case),
                    "vary": {"key": sweep.key, "unit": sweep.dimension.si_unit},
                    "points": [_point(p) for p in found],
                    "models": models,
                }
            )
        )
    else:
        print("\n".join(sweep_lines(case, sweep, found, chosen)))


def _simulated(case: Case) -> Simulation:
    return simulate_use_case()(
        case.job, faults=case.faults, charge_kg=case.charge_kg, without=case.without,
        choice=case.choice,
    )  # fmt: skip


def _swept(values: Sequence[float], cases: Sequence[Case], say: Progress) -> list[Point]:
    """Every point; one that is not solved is told as such, none solved is an error."""
    found: list[Point] = []
    for number, (value, case) in enumerate(zip(values, cases, strict=True), start=1):
        try:
            found.append(Point(value, _simulated(case), ""))
        except NotSolved as error:
            say(f"point {number}: {error}")
            found.append(Point(value, None, str(error)))
            last = error
    if all(point.result is None for point in found):
        raise last
    return found


def fault_of(text: str) -> tuple[str, float]:
    """Fault and severity in SI; NaN for a fault that has none.

    Parameters
    ----------
    text : str
        As written: NAME or NAME=VALUE.

    Returns
    -------
    tuple
        Fault and severity, in the fault's SI unit.

    Raises
    ------
    BadInput
        If the fault or its severity is none that is known.
    """
    from coldwright.faults.registry import EFFECTS

    units = {name: effect.unit for name, effect in EFFECTS.items()}
    if "=" not in text:
        name = choice("--fault", text, units)
        if units[name] is not None:
            accepted = f"NAME=VALUE such as {FAULT_EXAMPLE}"
            raise BadInput(COMMAND_LINE, "--fault", f"'{text}', without a severity", accepted)
        return name, math.nan
    written, value = pair("--fault", text, FAULT_EXAMPLE)
    name = choice("--fault", written, units)
    unit = units[name]
    if unit is None:
        raise BadInput(COMMAND_LINE, "--fault", f"'{text}'", f"{name} alone, it has no severity")
    return name, quantity("--fault", value, _DIMENSIONS[unit])


def _faults(case: Case) -> list[dict[str, Any]]:
    return [{"fault": name, "severity": severity} for name, severity in case.faults]


def _point(point: Point) -> dict[str, Any]:
    if point.result is None:
        return {"value": point.value, "not_solved": point.not_solved}
    return {
        "value": point.value,
        "running": point.result.running,
        "standing": point.result.standing,
        "outside": point.result.outside,
    }
