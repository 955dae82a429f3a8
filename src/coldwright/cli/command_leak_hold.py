"""`coldwright leak hold`: a pressure or vacuum hold, read."""

from __future__ import annotations

import math
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.cli.as_json import dumped
from coldwright.cli.options import COMMAND_LINE, choice, quantity, system
from coldwright.cli.text import items, percent, table, wrapped
from coldwright.errors import BadInput, OutOfRange
from coldwright.units import Dimension as D
from coldwright.units import System, figures, parse_pressure, show

if TYPE_CHECKING:
    from coldwright.leak.pressure_hold import PressureHold
    from coldwright.leak.vacuum_hold import VacuumHold
    from coldwright.readings.hold_log import HoldLog
    from coldwright.usecases.leak import HoldAnswer

PARTS = ("whole_circuit", "high_side", "low_side")


def hold(
    log: Annotated[
        Path | None, typer.Argument(metavar="[LOG.csv]", help="time, pressure, temperature.")
    ] = None,
    start: Annotated[str | None, typer.Option(help="First of two points.")] = None,
    end: Annotated[str | None, typer.Option(help="Pressure at the end.")] = None,
    after: Annotated[str | None, typer.Option(help='Time between, such as "24 h".')] = None,
    start_temperature: Annotated[str | None, typer.Option(help="Of the circuit.")] = None,
    end_temperature: Annotated[str | None, typer.Option(help="Of the circuit.")] = None,
    job: Annotated[Path | None, typer.Option(help="Refrigerant, room, volume, plate.")] = None,
    refrigerant: Annotated[str | None, typer.Option(help="Else the job's.")] = None,
    part: Annotated[str, typer.Option(help="whole_circuit, high_side, low_side.")] = PARTS[0],
    volume: Annotated[str | None, typer.Option(help="Held, hoses counted.")] = None,
    limit: Annotated[str | None, typer.Option(help="Loss that counts as leaking.")] = None,
    gauge: Annotated[str, typer.Option(help="digital or dial.")] = "digital",
    units: Annotated[str, typer.Option(help="si or us, for reading.")] = "si",
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Leak, tight or undecided; for a vacuum also moisture or gas from the oil."""
    from coldwright.usecases.leak import HoldWords, hold

    chosen = system(units)
    points = {
        "--start": start, "--end": end, "--after": after,
        "--start-temperature": start_temperature, "--end-temperature": end_temperature,
    }  # fmt: skip
    held = None if log is not None else _two_points(points)
    if log is not None and any(points.values()):
        named = ", ".join(o for o, text in points.items() if text)
        raise BadInput(COMMAND_LINE, named, "a log and two points", "one of the two")
    words = HoldWords(
        log=log,
        points=held,
        job=job,
        refrigerant=refrigerant,
        part=choice("--part", part, PARTS),
        volume_m3=None if volume is None else quantity("--volume", volume, D.VOLUME),
        limit_kg_s=None if limit is None else quantity("--limit", limit, D.MASS_FLOW),
        dial=choice("--gauge", gauge, ("digital", "dial")) == "dial",
    )
    try:
        answer = hold(words)
    except OutOfRange as error:
        accepted = f"{error.low:g} to {error.high:g} {error.unit}"
        read = f"{error.value:g} {error.unit}"
        raise BadInput(str(log or COMMAND_LINE), error.quantity, read, accepted) from None
    print(dumped(_json(answer)) if as_json else "\n".join(_lines(answer, chosen)))


def _two_points(points: dict[str, str | None]) -> HoldLog:
    from coldwright.readings.hold_log import HoldLog
    from coldwright.units import Basis

    for option in ("--start", "--end", "--after"):
        if points[option] is None:
            accepted = "a log file, or --start, --end and --after"
            raise BadInput(COMMAND_LINE, option, "nothing", accepted)
    ends = [parse_pressure(str(points[o]), file=COMMAND_LINE, key=o) for o in ("--start", "--end")]
    if (ends[0].basis is Basis.ABSOLUTE) != (ends[1].basis is Basis.ABSOLUTE):
        read = f"'{points['--start']}' and '{points['--end']}'"
        raise BadInput(COMMAND_LINE, "--end", read, "both gauge or both absolute")
    span = quantity("--after", str(points["--after"]), D.TIME)
    if not 60.0 <= span <= 31.0 * 86_400.0:
        raise BadInput(COMMAND_LINE, "--after", f"'{points['--after']}'", "1 min to 31 days")
    given = [points["--start-temperature"], points["--end-temperature"]]
    if (given[0] is None) != (given[1] is None):
        raise BadInput(COMMAND_LINE, "--end-temperature", "one temperature", "both or none")
    temperatures = tuple(
        quantity(o, str(points[o]), D.TEMPERATURE)
        for o in ("--start-temperature", "--end-temperature")
        if points[o] is not None
    )
    gauge = ends[0].basis is not Basis.ABSOLUTE
    notes = ("Pressures without a word are taken as gauge.",) if ends[0].gauge_assumed else ()
    return HoldLog(COMMAND_LINE, (0.0, span), tuple(p.pascal_absolute for p in ends),
                   temperatures, gauge, (), notes)  # fmt: skip


def _json(answer: HoldAnswer) -> dict[str, object]:
    question = answer.question
    return {
        "kind": answer.kind,
        "part": question.part,
        "verdict": answer.verdict,
        "volume_m3": question.volume_m3,
        "limit_gauge_pa": answer.limit.gauge_pa,
        "limit_because": answer.limit.because,
        "type_test_high_pa": answer.type_test_pa[0],
        "type_test_low_pa": answer.type_test_pa[1],
        "pressure": answer.pressure,
        "vacuum": answer.vacuum,
        "notes": answer.notes,
        "cautions": answer.cautions,
    }


def _lines(answer: HoldAnswer, chosen: System) -> list[str]:
    title = f"{answer.kind.replace('_', ' ')}, {answer.question.part.replace('_', ' ')}"
    lines = [title.upper()]
    if answer.pressure is not None:
        lines += _pressure_lines(answer.pressure, chosen)
    if answer.vacuum is not None:
        lines += _vacuum_lines(answer.vacuum, chosen)
    limit = show(answer.limit.gauge_pa, D.PRESSURE_DIFFERENCE, chosen)
    high, low = (show(p, D.PRESSURE_DIFFERENCE, chosen) for p in answer.type_test_pa)
    lines += wrapped(
        f"Never above {limit} gauge: {answer.limit.because}. The factory's type test (high {high}, "
        f"low {low}; IEC 60335-2-24, from memory) is no field pressure."
    )
    lines += ["", "NOTES", *items(answer.notes)] if answer.notes else []
    return [*lines, "", "CAUTION", *items(answer.cautions, "! ")]


def _pressure_lines(read: PressureHold, chosen: System) -> list[str]:
    lines = wrapped(f"{read.verdict.value.upper()}: {read.because}.")
    rows = [
        ("Start", show(read.pressure_start_pa, D.PRESSURE, chosen, digits=4)),
        ("End", show(read.pressure_end_pa, D.PRESSURE, chosen, digits=4)),
    ]
    if read.expected_end_pa is not None and read.expected_end_ideal_pa is not None:
        off = read.pressure_end_pa - read.expected_end_pa
        share = read.expected_end_pa - read.expected_end_ideal_pa
        rows.append(("By temperature", show(read.expected_end_pa, D.PRESSURE, chosen)))
        rows.append(("Beyond it", f"{off / 100.0:+.0f} mbar"))
        rows.append(("Real gas", f"{share / 100.0:+.1f} mbar of the compensation"))
    sd = read.rate_sd_pa_m3_s
    rows.append(("Rate", f"{read.rate_pa_m3_s:.1e} ± {sd:.1e} Pa·m³/s"))
    lines += ["", *table(rows), ""]
    low, high = (figures(g, 2) for g in read.refrigerant_g_yr)
    if read.verdict.value == "leak":
        lines += wrapped(f"As refrigerant, standing: {low} to {high} g/yr, by which law it flows.")
    else:
        lines += wrapped(f"It leaves room for a leak of up to {low} to {high} g/yr, standing.")
    if read.verdict.value == "undecided":
        lines += wrapped(f"Still needed: {_time(read.still_needed_s)}.")
    seen = tuple(figures(g, 2) for g in read.smallest_seen_g_yr)
    lines += wrapped(
        f"This hold shows leaks from {seen[0]} to {seen[1]} g/yr up. Of a 5 g/yr leak it says "
        f"nothing: in this circuit that takes {_time(read.small_leak_needs_s)}."
    )
    return lines


def _vacuum_lines(read: VacuumHold, chosen: System) -> list[str]:
    lines = wrapped(f"{read.verdict.upper()}: {read.because}.")
    lines += ["", *table([
        ("Start", _vacuum(read.start_pa, chosen)),
        ("End", f"{_vacuum(read.end_pa, chosen)} after {_time(read.span_s)}"),
        ("Water at room temperature", _vacuum(read.water_pa, chosen)),
    ]), "", "EVIDENCE"]  # fmt: skip
    lines += table((e.name.replace("_", " "), percent(e.probability)) for e in read.explanations)
    lines.append("")
    if read.leak_g_yr[1] > 0.0:
        low, high = (figures(g, 2) for g in read.leak_g_yr)
        lines += wrapped(f"Such a leak would lose {low} to {high} g/yr of refrigerant, standing.")
    if read.verdict == "undecided":
        lines += wrapped(f"Keep on: they part after {_time(read.still_needed_s)} more.")
    low, high = (figures(g, 2) for g in read.smallest_seen_g_yr)
    lines += wrapped(
        f"This hold shows air coming in from {read.smallest_seen_pa_m3_s:.1e} Pa·m³/s up; the same "
        f"leak would lose {low} to {high} g/yr of refrigerant. Of a 5 g/yr leak it says nothing."
    )
    return lines


def _vacuum(pascal: float, chosen: System) -> str:
    return show(pascal, D.PRESSURE, chosen) if chosen is System.US else f"{figures(pascal)} Pa"


def _time(seconds: float) -> str:
    if not math.isfinite(seconds):
        return "longer than any hold"
    return show(seconds, D.TIME, digits=2)
