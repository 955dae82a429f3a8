"""A leak search: where it may be, in which order to look, what a hold cannot see."""

from __future__ import annotations

from coldwright.catalogue.leak_cautions import leak_cautions
from coldwright.catalogue.leak_methods import METHODS
from coldwright.leak.rounds import in_rounds
from coldwright.leak.search import SearchReport, SearchStep
from coldwright.units import Dimension as D
from coldwright.units import System, figures, show
from coldwright.words.report import (
    Caution,
    Chance,
    Chances,
    Fact,
    Facts,
    Points,
    Section,
    Step,
    Text,
    section,
)
from coldwright.words.wording import capital, percent, plain

PLACES_SHOWN = 8
ROUNDS_SHOWN = 6
_INSIDE = {
    "any": "Whatever is inside",
    "refrigerant": "With its refrigerant inside",
    "nitrogen": "Under nitrogen",
    "hydrogen_mixture": "Under 5 % hydrogen in nitrogen",
    "helium": "Under helium",
    "vacuum": "Under vacuum",
}
_PRESSED = ("nitrogen", "hydrogen_mixture", "helium")


def method_words(identifier: str) -> str:
    """A method in words.

    Parameters
    ----------
    identifier : str
        Of the method.

    Returns
    -------
    str
        Words.
    """
    known = METHODS.get(identifier)
    return known.words if known is not None else plain(identifier)


def general_cautions(report: SearchReport) -> tuple[Caution, ...]:
    """What to know before any step.

    Parameters
    ----------
    report : SearchReport
        The report.

    Returns
    -------
    tuple of Caution
        Cautions.
    """
    return _cautions(report.refrigerant, instrument=True)


def outcome(report: SearchReport) -> str:
    """Found, or left by exclusion; empty while searching.

    Parameters
    ----------
    report : SearchReport
        The report.

    Returns
    -------
    str
        One sentence, or empty.
    """
    if report.located:
        return f"Found at the {plain(report.located)}. Mend it, then prove it."
    if report.by_exclusion and not report.steps:
        return f"All else excluded: it is the {plain(report.by_exclusion)}."
    if not report.steps:
        return "Nothing left is worth its minutes: think again about the fault."
    return ""


def where(report: SearchReport) -> tuple[Section, ...]:
    """How fast it leaks, and the places with their chances.

    Parameters
    ----------
    report : SearchReport
        The report.

    Returns
    -------
    tuple of Section
        One section.
    """
    low, high = (figures(g, 2) for g in report.pace.span())
    rest = sum(p.probability for p in report.places[PLACES_SHOWN:])
    nothing = percent(report.nothing_to_find)
    return section(
        "Where it may be",
        Text(f"It leaks {low} to {high} g/yr in ordinary use ({report.pace.because}).", "quiet"),
        Chances(tuple(
            Chance(capital(plain(p.place)) + (", in foam" if p.in_foam else ""),
                   percent(p.probability), 100.0 * p.probability)
            for p in report.places[:PLACES_SHOWN]
        )),
        Text(f"Elsewhere {percent(rest)}; no leak to find {nothing}.", "quiet"),
    )  # fmt: skip


def search_plan(report: SearchReport, system: System = System.SI) -> tuple[Section, ...]:
    """In which order to look, what a hold cannot see, what is barred.

    Parameters
    ----------
    report : SearchReport
        The plan.
    system : System
        Units.

    Returns
    -------
    tuple of Section
        Sections in the order of reading.
    """
    rounds = in_rounds(report.steps)
    told = {c.title for c in general_cautions(report)}
    more = len(rounds) - ROUNDS_SHOWN
    return (
        *section(
            "Look in this order",
            *(_round(n, steps, report, told) for n, steps in enumerate(rounds[:ROUNDS_SHOWN], 1)),
            Text(f"And {more} more rounds." if more > 0 else ""),
            Text(_promise(report)),
        ),
        *section("What a nitrogen hold cannot see here", Points(_sight(report, system))),
        *section("Not on this circuit", Facts(tuple(
            Fact(capital(method_words(m)), f"{capital(why)}.") for m, why in report.barred
        ))),
        *section("Taken for granted", Points(report.notes)),
    )  # fmt: skip


def _cautions(
    refrigerant: str, *, nitrogen: bool = False, opens: bool = False, instrument: bool = False
) -> tuple[Caution, ...]:
    found = leak_cautions(refrigerant, nitrogen=nitrogen, opens=opens, instrument=instrument)
    return tuple(Caution(c.title, c.sentences) for c in found)


def _round(number: int, steps: list[SearchStep], report: SearchReport, told: set[str]) -> Step:
    """Steps with the same thing inside; a caution told before is not told again."""
    inside = next((s.circuit_holds for s in steps if s.circuit_holds != "any"), "any")
    do = []
    for method in dict.fromkeys(s.method for s in steps):
        words = capital(method_words(method))
        if steps[0].hold_hours:
            words += f", {show(steps[0].hold_hours * 3600.0, D.TIME, digits=2)}"
        do.append(f"{words}: " + ", ".join(plain(s.place) for s in steps if s.method == method))
    if steps[0].after_yes:
        do.append(f"If it says yes: {'; '.join(steps[0].after_yes)}")
    opens = any(s.opens_circuit for s in steps)
    powered = any(s.method in METHODS and METHODS[s.method].powered for s in steps)
    pressed = opens and inside in _PRESSED
    new = tuple(
        c
        for c in _cautions(report.refrigerant, nitrogen=pressed, opens=opens, instrument=powered)
        if (opens or powered) and c.title not in told
    )
    told.update(c.title for c in new)
    minutes, found = sum(s.minutes for s in steps), sum(s.chance_found for s in steps)
    by_then, spent = percent(steps[-1].chance_so_far), steps[-1].minutes_so_far
    return Step(
        number,
        _INSIDE.get(inside, capital(plain(inside))) + ("; opens the circuit" if opens else ""),
        f"{minutes:.0f} min, finds it {percent(found)}; by then {by_then} in {spent:.0f} min",
        new,
        tuple(do),
    )


def _promise(report: SearchReport) -> str:
    if not report.steps:
        return ""
    end = ""
    if report.by_exclusion:
        end = f" If all say no, it is the {plain(report.by_exclusion)}."
    return (
        f"Whole plan: {percent(report.chance_found)} found, {report.expected_minutes:.0f} min "
        f"expected, {report.longest_minutes:.0f} min at most; after "
        f"{report.pays_until_minutes:.0f} min the next job earns more.{end} Chances rest on "
        "weights and coverages that are ours; enter each result and ask again."
    )


def _sight(report: SearchReport, system: System) -> tuple[str, ...]:
    lines = [
        f"A hold of {show(s.hours * 3600.0, D.TIME, digits=2)} shows no leak under "
        f"{figures(s.from_g_yr[0], 2)} to {figures(s.from_g_yr[1], 2)} g/yr."
        for s in report.hold_sight
    ]
    days = report.small_leak_hold_s / 86_400.0
    needs = f"{figures(days, 2)} days" if days < 31.0 else "longer than any hold"
    limit = show(report.test_limit.gauge_pa, D.PRESSURE_DIFFERENCE, system)
    return (
        *lines,
        f"A leak of 5 g/yr takes {needs} in this circuit.",
        f"Never above {limit} gauge: {report.test_limit.because}.",
    )
