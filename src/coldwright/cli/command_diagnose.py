"""`coldwright diagnose`: odds, reasons and next checks for job files."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated, Any

import typer

from coldwright.bootstrap import (
    DEADLINE_S,
    diagnose_use_case,
    inside_figures,
    inside_use_case,
    settings,
    this_year,
)
from coldwright.cli.as_json import dumped
from coldwright.cli.diagnosis_json import diagnoses_json
from coldwright.cli.diagnosis_text import diagnosis_lines
from coldwright.cli.options import COMMAND_LINE, system, whole
from coldwright.cli.progress import Progress
from coldwright.cli.simulation_files import write_file
from coldwright.diagnosis.result import Diagnosis
from coldwright.errors import BadInput
from coldwright.readings.job import Job

MEMBERS = (100, 200_000)  # fewer say nothing, more do not fit a laptop; ours
SEEDS = (0, 2**63 - 1)
STARTING = "simulating the appliance (the first run compiles the model)"


def diagnose(
    jobs: Annotated[list[str], typer.Argument(metavar="JOB.toml...", help="Job files.")],
    seed: Annotated[str | None, typer.Option(help="Of the random numbers.")] = None,
    members: Annotated[str | None, typer.Option(help="Appliances simulated.")] = None,
    shop: Annotated[
        Path | None, typer.Option(help="Shop file: what a check is worth; or COLDWRIGHT_SHOP.")
    ] = None,
    log: Annotated[
        Path | None, typer.Option(help="Logged readings (CSV); [taken] log names one too.")
    ] = None,
    proven: Annotated[
        Path | None,
        typer.Option(help="Folder of proven jobs that move the odds; COLDWRIGHT_PROVEN names it."),
    ] = None,
    deadline: Annotated[
        str, typer.Option(help="Seconds for drawing nearer; then the odds so far are told.")
    ] = str(DEADLINE_S),
    figures: Annotated[
        str | None, typer.Option(help="Folder to draw the leading fault's inside into.")
    ] = None,
    units: Annotated[str, typer.Option(help="si or us, for reading.")] = "si",
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Odds of each fault, how bad, why, and what to check next."""
    options: dict[str, Any] = {"system": system(units).value}
    if seed is not None:
        options["seed"] = whole("--seed", seed, *SEEDS)
    if members is not None:
        options["members"] = whole("--members", members, *MEMBERS)
    options["deadline_s"] = float(whole("--deadline", deadline, 1, 86_400))
    options |= shop_option(shop)
    folder = proven if proven is not None else settings().proven_folder
    if folder is not None:
        from coldwright.usecases.outcomes import ProvenFiles

        options["proven"] = ProvenFiles([folder]).read()
    if figures is not None and len(jobs) > 1:
        raise BadInput(COMMAND_LINE, "--figures", f"{len(jobs)} job files", "one job file")
    # Every file is read before anything is computed.
    if log is not None and len(jobs) > 1:
        raise BadInput(COMMAND_LINE, "--log", f"'{log}' and {len(jobs)} jobs", "one job beside it")
    loaded, bad = read_all(jobs, log)
    done: list[Diagnosis] = []
    for number, job in enumerate(loaded):
        done.append(diagnosed(job, options))
        if not as_json:
            if number:
                print()
            show(job, done[-1], options["system"])
    if as_json and done:
        print(dumped(diagnoses_json(done)))
    if figures is not None:
        draw_inside(loaded[0], options, figures)
    if bad is not None:
        raise bad


def read_all(jobs: list[str], log: Path | None) -> tuple[list[Job], BadInput | None]:
    """The jobs that can be read; of several a bad one is told and the others are answered.

    Parameters
    ----------
    jobs : list of str
        Paths.
    log : Path or None
        Log of the only job.

    Returns
    -------
    list of Job, BadInput or None
        The last slip is raised once the others are answered; a single bad file is raised at once.
    """
    from coldwright.usecases.jobs import load

    loaded: list[Job] = []
    slips: list[BadInput] = []
    for path in jobs:
        try:
            loaded.append(load(path, log))
        except BadInput as error:
            if len(jobs) == 1:
                raise
            slips.append(error)
    for slip in slips[:-1]:
        print(f"coldwright: {slip}", file=sys.stderr)
    return loaded, slips[-1] if slips else None


def shop_option(named: Path | None) -> dict[str, Any]:
    """The shop's rates and prices where a file is named or set; none otherwise.

    Parameters
    ----------
    named : Path or None
        File named on the command line, if any.

    Returns
    -------
    dict
        Arguments for the use case; empty where there is no shop.
    """
    file = named if named is not None else settings().shop_file
    if file is None:
        return {}
    from coldwright.readings.shop import load_shop

    return {"shop": load_shop(file), "this_year": this_year()}


def diagnosed(job: Job, options: dict[str, Any]) -> Diagnosis:
    """The diagnosis of one job, with progress on standard error.

    Parameters
    ----------
    job : Job
        What is known.
    options : dict
        `system`, and `seed`, `members` and `shop` where they were given.

    Returns
    -------
    Diagnosis
        The diagnosis.
    """
    with Progress(STARTING) as say:
        return diagnose_use_case()(job, progress=say, **options)


def draw_inside(job: Job, options: dict[str, Any], folder: str) -> None:
    """Write drawings of the leading fault's best-fitting appliance beside itself sound.

    Parameters
    ----------
    job : Job
        What is known.
    options : dict
        As in `diagnosed`.
    folder : str
        Where to.
    """
    from coldwright.words import phrases as words

    asked = {name: value for name, value in options.items() if name not in ("system", "deadline_s")}
    with Progress(STARTING) as say:
        found = inside_use_case()(job, progress=say, **asked)
    title, named = job.title or job.source, words.fault(found.faults)
    drawn = inside_figures().figures_inside(found, title, named)
    if not drawn:
        print("nothing flows in it: no drawing", file=sys.stderr)
    for name, text in drawn.items():
        write_file(Path(folder) / name, text, "--figures")


def show(job: Job, result: Diagnosis, system: str) -> None:
    """Print one diagnosis for reading, in 'si' or 'us' units.

    Parameters
    ----------
    job : Job
        The job, read and checked.
    result : Diagnosis
        What came of it.
    system : str
        Units, 'si' or 'us'.
    """
    print("\n".join(diagnosis_lines(job, result, system)), flush=True)
