"""`coldwright pulldown`: an appliance over hours, from the room's warmth to an ordinary day."""

from __future__ import annotations

import csv
import io
import math
import time
from collections.abc import Callable
from dataclasses import dataclass, fields
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from coldwright.bootstrap import pulldown_use_case
from coldwright.cli.as_json import dumped, plain
from coldwright.cli.command_simulate import fault_of
from coldwright.cli.options import COMMAND_LINE, choice, pair, quantity, system
from coldwright.cli.progress import Progress
from coldwright.cli.pulldown_text import hours_lines
from coldwright.errors import BadInput
from coldwright.units import Dimension as D

if TYPE_CHECKING:
    from coldwright.transient.hours import Hours
    from coldwright.transient.records import Goods, Sample
    from coldwright.usecases.pulldown import Asked

STARTING = "marching through the hours (the first run compiles the model)"
SILENCE_S = 1.0
BEGINS = ("room", "settled")
GOODS = "fresh_food=5 kg"


@dataclass(frozen=True, slots=True)
class Limits:
    """What an option takes, SI."""

    low: float
    high: float
    words: str


LIMITS = {
    "--hours": Limits(900.0, 864000.0, "15 min to 10 day"),
    "--every": Limits(1.0, 86400.0, "1 s to 24 h"),
    "--span": Limits(0.5, 15.0, "0.5 K to 15 K"),
    "--defrost": Limits(20.0, 1500.0, "20 W to 1500 W"),
    "--defrost-interval": Limits(3600.0, 172800.0, "1 h to 48 h of run time"),
    "--defrost-end": Limits(274.15, 313.15, "1 °C to 40 °C"),
    "--doors": Limits(0.0, 60.0, "0 to 60 an hour"),
    "--warm-load-after": Limits(0.0, 864000.0, "0 s to 10 day"),
    "--goods": Limits(0.01, 300.0, "10 g to 300 kg"),
    "--warm-load": Limits(0.01, 100.0, "10 g to 100 kg"),
}


def pulldown(
    circuit: Annotated[
        str, typer.Argument(metavar="CIRCUIT.toml", help="A circuit file, or a job file.")
    ],
    hours: Annotated[str, typer.Option(help="How long.")] = "24 h",
    begin: Annotated[str, typer.Option(help="room (all warm) or settled (at its settings).")] = (
        "room"
    ),
    fault: Annotated[
        list[str] | None, typer.Option(help='Such as undercharge=0.6 or heat_load="30 W".')
    ] = None,
    charge: Annotated[str | None, typer.Option(help="Instead of the plate's.")] = None,
    sensor: Annotated[
        str | None, typer.Option(help="fresh_food or freezer: whose air the thermostat feels.")
    ] = None,
    span: Annotated[str | None, typer.Option(help="Cut-in less cut-out, such as 3 K.")] = None,
    goods: Annotated[
        list[str] | None, typer.Option(help=f'Inside from the begin: "{GOODS}".')
    ] = None,
    warm_load: Annotated[
        list[str] | None, typer.Option(help=f'Put in later, as warm as the room: "{GOODS}".')
    ] = None,
    warm_load_after: Annotated[str, typer.Option(help="When.")] = "2 h",
    defrost: Annotated[str | None, typer.Option(help="A defrost heater, such as 250 W.")] = None,
    defrost_interval: Annotated[str, typer.Option(help="Run time between defrosts.")] = "10 h",
    defrost_end: Annotated[str, typer.Option(help="Evaporator's temperature that ends it.")] = (
        "10 °C"
    ),
    doors: Annotated[str | None, typer.Option(help="Openings an hour.")] = None,
    log: Annotated[
        str | None, typer.Option(help="Logged temperatures (CSV) to compare with.")
    ] = None,
    svg: Annotated[str | None, typer.Option(help="Write the diagram to this file.")] = None,
    every: Annotated[str, typer.Option(help="Spacing of --csv and of JSON samples.")] = "5 min",
    units: Annotated[str, typer.Option(help="si or us, for reading.")] = "si",
    as_csv: Annotated[bool, typer.Option("--csv", help="Print the course as CSV.")] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Pull-down, cycling, defrosts and a warm load over hours; energy per day."""
    from coldwright.readings.jobfile import load_job
    from coldwright.readings.logfile import load_log

    chosen = system(units)
    if as_csv and as_json:
        raise BadInput(COMMAND_LINE, "--csv, --json", "both", "one of the two")
    gap = _held("--every", every, D.TIME)
    job = load_job(Path(circuit))
    logged = None if log is None else load_log(Path(log))
    asked = _asked(
        hours=_held("--hours", hours, D.TIME) / 3600.0,
        warm_start=choice("--begin", begin, BEGINS) == "room",
        sensor=sensor,
        span_k=None if span is None else _held("--span", span, D.TEMPERATURE_DIFFERENCE),
        goods=(
            *(_goods("--goods", text, 0.0) for text in goods or ()),
            *(
                _goods("--warm-load", text, _held("--warm-load-after", warm_load_after, D.TIME))
                for text in warm_load or ()
            ),
        ),
        heater_w=None if defrost is None else _held("--defrost", defrost, D.POWER),
        interval_s=_held("--defrost-interval", defrost_interval, D.TIME),
        end_k=_held("--defrost-end", defrost_end, D.TEMPERATURE),
        doors_per_hour=None if doors is None else _held("--doors", doors, D.NUMBER),
        faults=tuple(fault_of(text) for text in fault or ()),
        charge_kg=None if charge is None else quantity("--charge", charge, D.MASS),
    )
    with Progress(STARTING) as say:
        found = pulldown_use_case()(job, asked, progress=_now_and_then(say))
    from coldwright.logged.over_time import beside, over_time

    compared = () if logged is None else beside(found, logged)
    if svg is not None:
        from coldwright.figures.hours import over_time_svg

        drawn = over_time_svg(over_time(found, job.title or job.source, logged))
        Path(svg).write_text(drawn, encoding="utf-8")
    if as_csv:
        print(_csv(found, gap), end="")
    elif as_json:
        print(dumped(_json(job.source, asked, found, gap) | {"beside_log": compared}))
    else:
        print("\n".join(hours_lines(job.title or job.source, asked, found, compared, chosen)))


def _now_and_then(say: Callable[[str], None]) -> Callable[[str], None]:
    """Pass on a line when a second has gone since the last."""
    last = time.monotonic()

    def told(line: str) -> None:
        nonlocal last
        if time.monotonic() - last > SILENCE_S:
            last = time.monotonic()
            say(line)

    return told


def _asked(*, sensor: str | None, **rest: Any) -> Asked:
    from coldwright.transient.records import Compartment
    from coldwright.usecases.pulldown import Asked

    named = [c.value for c in Compartment]
    felt = None if sensor is None else Compartment(choice("--sensor", sensor, named))
    return Asked(sensor=felt, **rest)


def _held(option: str, text: str, dimension: D) -> float:
    value = quantity(option, text, dimension)
    limits = LIMITS[option]
    if not limits.low <= value <= limits.high:
        raise BadInput(COMMAND_LINE, option, f"'{text}'", limits.words)
    return value


def _goods(option: str, text: str, at_s: float) -> Goods:
    from coldwright.transient.records import Compartment, Goods

    name, mass = pair(option, text, GOODS)
    where = Compartment(choice(option, name, [c.value for c in Compartment]))
    return Goods(where, _held(option, mass, D.MASS), at_s=at_s)


def _thinned(found: Hours, gap: float) -> list[Sample]:
    kept: list[Sample] = []
    for sample in found.result.samples:
        if not kept or sample.time_s >= kept[-1].time_s + gap - 1e-6:
            kept.append(sample)
    if kept[-1] is not found.result.samples[-1]:
        kept.append(found.result.samples[-1])
    return kept


def _json(source: str, asked: Asked, found: Hours, gap: float) -> dict[str, Any]:
    result = {f.name: getattr(found.result, f.name) for f in fields(found.result)}
    result["samples"] = _thinned(found, gap)
    result["notes"] = found.notes
    return {
        "job": source,
        "faults": [{"fault": name, "severity": value} for name, value in asked.faults],
        "plan": plain(found.plan),
        "room_k": found.room_k,
        "fresh_food_set_k": found.fresh_food_set_k,
        "freezer_set_k": found.freezer_set_k,
        **result,
    }


def _csv(found: Hours, gap: float) -> str:
    """One line a sample; heads are the fields' names, which carry their units."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    rows = _thinned(found, gap)
    names = [f.name for f in fields(rows[0])]
    writer.writerow(names)
    for row in rows:
        writer.writerow([_cell(getattr(row, name)) for name in names])
    return out.getvalue()


def _cell(value: Any) -> str:
    if isinstance(value, Enum):
        return str(value.value)
    return f"{value:.6g}" if math.isfinite(value) else ""
