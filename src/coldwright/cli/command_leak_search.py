"""`coldwright leak search`: where to look first, with what, and what that promises."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.cli.as_json import dumped
from coldwright.cli.options import COMMAND_LINE, system
from coldwright.cli.text import capital, items, percent, table, wrapped
from coldwright.errors import BadInput, one_line
from coldwright.leak.rounds import in_rounds
from coldwright.units import Dimension as D
from coldwright.units import System, figures, show

if TYPE_CHECKING:
    from coldwright.leak.search import SearchReport, SearchStep

PLACES_SHOWN = 8
ROUNDS_SHOWN = 8
INSIDE = {
    "any": "Whatever is inside",
    "refrigerant": "with its refrigerant inside",
    "nitrogen": "under nitrogen",
    "hydrogen_mixture": "under 5 % hydrogen in nitrogen",
    "helium": "under helium",
    "vacuum": "under vacuum",
}
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
    from coldwright.readings.jobfile import JobFile
    from coldwright.usecases.leak import leak_search

    chosen = system(units)
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
    low, high = report.pace.span()
    lines = wrapped(report.title or report.job)
    lines += ["", "CAUTION", *items(report.cautions, "! ")]
    lines += ["", "HOW FAST IT LEAKS"]
    lines += wrapped(
        f"{figures(low, 2)} to {figures(high, 2)} g/yr in ordinary use: {report.pace.because}."
    )
    lines += ["", "WHERE IT MAY BE"]
    shown = report.places[:PLACES_SHOWN]
    lines += table(
        (p.place.replace("_", " ") + (" (foam)" if p.in_foam else ""), percent(p.probability))
        for p in shown
    )
    rest = sum(p.probability for p in report.places[PLACES_SHOWN:])
    lines += table([("elsewhere", percent(rest)), ("no leak", percent(report.nothing_to_find))])
    if report.steps:
        lines += ["", "LOOK IN THIS ORDER", *_rounds(report.steps)]
        if report.by_exclusion:
            lines += wrapped(f"If all say no, it is the {_words(report.by_exclusion)}.")
        lines += ["", *_promise(report)]
    elif not report.located and not report.by_exclusion:
        lines += ["", *wrapped("Nothing left is worth its minutes: think again about the fault.")]
    lines += ["", "WHAT A NITROGEN HOLD CANNOT SEE", *_sight(report)]
    limit = show(report.test_limit.gauge_pa, D.PRESSURE_DIFFERENCE, chosen)
    lines += wrapped(f"Never above {limit} gauge: {report.test_limit.because}.")
    lines += ["", "NOT HERE"]
    lines += items(f"{capital(m.replace('_', ' '))}: {why}." for m, why in report.barred)
    return [*lines, "", "NOTES", *items(report.notes)] if report.notes else lines


def _rounds(steps: tuple[SearchStep, ...]) -> list[str]:
    """Steps with the same thing inside as one round; a hold is a round of its own."""
    lines: list[str] = []
    rounds = in_rounds(steps)
    told: set[str] = set()
    for number, steps_of in enumerate(rounds[:ROUNDS_SHOWN], start=1):
        inside = next((s.circuit_holds for s in steps_of if s.circuit_holds != "any"), "any")
        lines += wrapped(f"{capital(INSIDE.get(inside, inside))}:", first=f"{number}. ")
        for method in dict.fromkeys(s.method for s in steps_of):
            names = ", ".join(s.place.replace("_", " ") for s in steps_of if s.method == method)
            with_ = capital(method.replace("_", " "))
            if steps_of[0].hold_hours:
                with_ += f", {show(steps_of[0].hold_hours * 3600.0, D.TIME, digits=2)}"
            lines += wrapped(f"{with_}: {names}", first="   ")
        minutes = sum(s.minutes for s in steps_of)
        found, last = sum(s.chance_found for s in steps_of), steps_of[-1]
        lines += wrapped(
            f"{minutes:.0f} min, finds it {percent(found)}; by then {percent(last.chance_so_far)} "
            f"in {last.minutes_so_far:.0f} min",
            first="   ",
        )
        if steps_of[0].after_yes:
            lines += wrapped(f"If it says yes: {'; '.join(steps_of[0].after_yes)}", first="   ")
        new = [c for s in steps_of for c in s.cautions if c not in told]
        told.update(new)
        lines += [line for c in dict.fromkeys(new) for line in wrapped(c, first="   ! ")]
    more = len(rounds) - ROUNDS_SHOWN
    if more > 0:
        lines.append(f"   and {more} more rounds (--json has all)")
    return lines


def _words(piece: str) -> str:
    return piece.replace("_", " ")


def _promise(report: SearchReport) -> list[str]:
    return wrapped(
        f"Whole plan: {percent(report.chance_found)} found, {report.expected_minutes:.0f} min "
        f"expected, {report.longest_minutes:.0f} min at most. After "
        f"{report.pays_until_minutes:.0f} min the next job earns more. Chances rest on weights and "
        "coverages that are ours; enter each result and ask again."
    )


def _sight(report: SearchReport) -> list[str]:
    lines = table(
        (show(s.hours * 3600.0, D.TIME, digits=2),
         f"leaks under {figures(s.from_g_yr[0], 2)} to {figures(s.from_g_yr[1], 2)} g/yr")
        for s in report.hold_sight
    )  # fmt: skip
    days = report.small_leak_hold_s / 86_400.0
    needs = f"{figures(days, 2)} days" if days < 31.0 else "longer than any hold"
    return lines + wrapped(f"A 5 g/yr leak takes {needs} in this circuit.")
