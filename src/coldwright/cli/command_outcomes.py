"""`coldwright outcomes`: what proven jobs teach, and on how many of them each share rests."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.bootstrap import settings
from coldwright.cli.as_json import dumped
from coldwright.cli.options import COMMAND_LINE
from coldwright.cli.progress import Progress
from coldwright.cli.text import capital, items, percent, wrapped
from coldwright.errors import BadInput

if TYPE_CHECKING:
    from coldwright.learning.learned import Learned
    from coldwright.usecases.outcomes import OutcomesReport


def outcomes(
    places: Annotated[
        list[Path] | None,
        typer.Argument(
            metavar="[FOLDER...]", help="Folders of job files, or files; else COLDWRIGHT_PROVEN."
        ),
    ] = None,
    families: Annotated[
        bool,
        typer.Option("--families", help="Work out what jobs say of their families, and keep it."),
    ] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Jobs proven by their outcome, and the shares of faults they give."""
    from coldwright.usecases.outcomes import outcomes as report_on

    known = settings().proven_folder
    chosen = places or ([known] if known is not None else [])
    if not chosen:
        raise BadInput(COMMAND_LINE, "FOLDER", "nothing", "a folder of job files")
    if families:
        with Progress("simulating the proven appliances") as say:
            report = report_on(chosen, families=True, progress=say)
    else:
        report = report_on(chosen)
    print(dumped(report) if as_json else "\n".join(outcomes_lines(report)))


def outcomes_lines(report: OutcomesReport) -> list[str]:
    """The report for reading.

    Parameters
    ----------
    report : OutcomesReport
        The report.

    Returns
    -------
    list of str
        Lines.
    """
    lines = ["PROVEN JOBS", *wrapped(", ".join(report.places))]
    lines += wrapped(
        f"{report.proven} count, {len(report.uncounted)} do not, {report.without_outcome} have no"
        " outcome yet."
    )
    for group in report.groups:
        lines += ["", *_group(group)]
    if report.families:
        lines += ["", "INTENTIONS OF FAMILIES"]
        lines += items(
            f"{shift.kind.replace('_', ' ').capitalize()}: {shift.sentence}"
            for shift in report.families
        )
    if report.silent:
        lines += ["", "SAY NOTHING OF THEIR FAMILY"]
        lines += items(f"{job.source}: {job.reason}." for job in report.silent)
    if report.uncounted:
        lines += ["", "NOT COUNTED"]
        lines += items(f"{job.source}: {job.reason}" for job in report.uncounted)
    return [*lines, "", "NOTES", *items(report.notes)] if report.notes else lines


def _group(group: Learned) -> list[str]:
    kind = group.kind.replace("_", " ").upper()
    lines = wrapped(f"{group.refrigerant} {kind}")
    lines += wrapped(group.sentence)
    lines.append("share before -> after (90 % interval), found, rests on")
    for share in sorted(group.shares, key=lambda s: -s.after):
        lines += wrapped(capital(" with ".join(share.faults).replace("_", " ")))
        lines += wrapped(
            f"{percent(share.before)} -> {percent(share.after)} ({percent(share.low)} to"
            f" {percent(share.high)}), found {share.found_in_kind:g} of this kind,"
            f" {share.found_in_refrigerant:g} of {group.refrigerant}; {share.rests_on:.0f} jobs",
            first="  ",
        )
    return lines
