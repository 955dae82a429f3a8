"""`coldwright leak search`: where to look first, with what, and what that promises."""

from __future__ import annotations

from contextlib import nullcontext
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.cli.as_json import dumped
from coldwright.cli.options import COMMAND_LINE, system
from coldwright.cli.report_text import report_lines
from coldwright.cli.text import wrapped
from coldwright.errors import BadInput, one_line
from coldwright.units import System
from coldwright.words.report import section

if TYPE_CHECKING:
    from coldwright.leak.search import SearchReport

_ANSWERS = {"yes": True, "found": True, "no": False, "nothing": False}


def search(
    job: Annotated[Path, typer.Argument(metavar="JOB.toml", help="The job file.")],
    tried: Annotated[
        list[str] | None,
        typer.Option(help='Keep a step: "PLACE METHOD MINUTES yes|no"; may be given again.'),
    ] = None,
    shop: Annotated[
        Path | None, typer.Option(help="Folder of the shop's jobs, whose finds count in.")
    ] = None,
    units: Annotated[str, typer.Option(help="si or us, for reading.")] = "si",
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Where the leak may be, what to try in which order, and the chance that it is found."""
    from coldwright.durable import held
    from coldwright.readings.jobfile import JobFile
    from coldwright.usecases.leak import leak_search

    chosen = system(units)
    # A page on the same folder may be writing too
    with held(job.parent) if tried else nullcontext():
        file = JobFile.open(job)
        for step in tried or ():
            file.add_tried(*_step(step))
        if tried:
            file.save()
    report = leak_search(file.job, _finds(shop, job))
    if as_json:
        print(dumped(report))
    else:
        print("\n".join(_lines(report, chosen)))


def _step(text: str) -> tuple[str, str, float, bool]:
    accepted = '"PLACE METHOD MINUTES yes|no", such as "drier_joint bubble_test 3 no"'
    words = text.split()
    try:
        place, method, minutes, answer = words
        spent = float(minutes)
        return place, method, spent, _ANSWERS[answer.lower()]
    except (ValueError, KeyError):
        raise BadInput(COMMAND_LINE, "--tried", f"'{one_line(text)}'", accepted) from None


def _finds(shop: Path | None, job: Path) -> dict[str, int]:
    """Finds of the shop's other jobs; a file that is no job is passed over."""
    from coldwright.readings.jobfile import load_job
    from coldwright.usecases.leak import shop_finds

    if shop is None:
        return {}
    if not shop.is_dir():
        raise BadInput(COMMAND_LINE, "--shop", f"'{shop}'", "a folder of job files")
    jobs = []
    for path in sorted(shop.glob("*.toml")):
        if path.resolve() == job.resolve():
            continue
        try:
            jobs.append(load_job(path))
        except BadInput:
            continue
    return shop_finds(jobs)


def _lines(report: SearchReport, chosen: System) -> list[str]:
    from coldwright.words import leak_search as words

    told = words.outcome(report)
    return [
        *wrapped(report.title or report.job),
        *report_lines(section("Caution", *words.general_cautions(report))),
        *(["", *wrapped(told)] if told else []),
        *report_lines((*words.where(report), *words.search_plan(report, chosen))),
    ]
