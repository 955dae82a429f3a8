"""`coldwright repair`: alternatives with their worth, joints, parts and steps."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from coldwright.bootstrap import repair_use_case, settings, this_year
from coldwright.cli.as_json import dumped
from coldwright.cli.command_diagnose import MEMBERS, SEEDS
from coldwright.cli.options import COMMAND_LINE, quantity, system, whole
from coldwright.cli.progress import Progress
from coldwright.cli.report_text import report_lines
from coldwright.cli.text import wrapped
from coldwright.errors import BadInput
from coldwright.units import Dimension as D
from coldwright.units import System

if TYPE_CHECKING:
    from coldwright.worth.report import RepairReport

YEAR_S = 31_557_600.0
YEARS = (1.0, 40.0)


def repair(
    jobs: Annotated[list[str], typer.Argument(metavar="JOB.toml...", help="Job files.")],
    shop: Annotated[
        Path | None, typer.Option(help="Shop file; COLDWRIGHT_SHOP names it too.")
    ] = None,
    alternative: Annotated[
        str | None, typer.Option(help="Whose sheet to show; else the cheapest one's.")
    ] = None,
    years: Annotated[str | None, typer.Option(help='Years compared, such as "10 year".')] = None,
    brief: Annotated[bool, typer.Option("--brief", help="Without steps, joints, parts.")] = False,
    proven: Annotated[
        Path | None,
        typer.Option(help="Folder of proven jobs that move the odds; COLDWRIGHT_PROVEN names it."),
    ] = None,
    seed: Annotated[str | None, typer.Option(help="Of the random numbers.")] = None,
    members: Annotated[str | None, typer.Option(help="Appliances simulated.")] = None,
    units: Annotated[str, typer.Option(help="si or us, for reading.")] = "si",
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Mend or replace: what each alternative is worth, and the sheet for the bench."""
    from coldwright.readings.shop import NO_SHOP, load_shop
    from coldwright.usecases.jobs import load

    chosen = system(units)
    options: dict[str, Any] = {"alternative": alternative, "this_year": this_year()}
    if years is not None:
        options["years"] = _years(years)
    if seed is not None:
        options["seed"] = whole("--seed", seed, *SEEDS)
    if members is not None:
        options["members"] = whole("--members", members, *MEMBERS)
    loaded = [load(path) for path in jobs]
    file = shop if shop is not None else settings().shop_file
    options["shop"] = load_shop(file) if file is not None else NO_SHOP
    folder = proven if proven is not None else settings().proven_folder
    if folder is not None:
        from coldwright.usecases.outcomes import ProvenFiles

        options["proven"] = ProvenFiles([folder]).read()
    done = []
    for number, job in enumerate(loaded):
        with Progress("simulating the appliance (the first run compiles the model)") as say:
            done.append(repair_use_case()(job, progress=say, **options))
        if not as_json:
            if number:
                print()
            print("\n".join(repair_lines(done[-1], chosen, full=not brief)), flush=True)
    if as_json:
        from coldwright.cli.repair_json import reports_json

        print(dumped(reports_json(done)))


def repair_lines(report: RepairReport, system: System, *, full: bool) -> list[str]:
    """The comparison as text; with its sheet if `full`.

    Parameters
    ----------
    report : RepairReport
        What came of it.
    system : System
        Units.
    full : bool
        With joints, parts and steps of the sheet.

    Returns
    -------
    list of str
        Lines.
    """
    from coldwright.words.comparison import comparison
    from coldwright.words.sheet import sheet

    head = [*wrapped(report.title or report.job), *(wrapped(report.job) if report.title else [])]
    told = comparison(report, system) + (sheet(report, system) if full else ())
    return head + report_lines(told)


def _years(text: str) -> float:
    value = quantity("--years", text, D.TIME) / YEAR_S
    if not YEARS[0] <= value <= YEARS[1]:
        accepted = f"{YEARS[0]:.0f} to {YEARS[1]:.0f} years, such as '10 year'"
        raise BadInput(COMMAND_LINE, "--years", f"'{text}'", accepted)
    return value
