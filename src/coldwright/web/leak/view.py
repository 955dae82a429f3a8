"""The leak search of a job as its page shows it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from coldwright.catalogue.leak_cautions import leak_cautions
from coldwright.catalogue.leak_methods import METHODS
from coldwright.readings import keys
from coldwright.readings.job import Job
from coldwright.units import Dimension as D
from coldwright.units import figures, show
from coldwright.web.leak.context import LeakForm, LeakPart, LeakPlace, LeakRound, LeakTried
from coldwright.web.pieces import Choice, Field
from coldwright.words.report import Caution, Fact
from coldwright.words.wording import capital, count, percent, plain

if TYPE_CHECKING:
    from coldwright.leak.search import SearchReport, SearchStep

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


@dataclass(frozen=True, slots=True)
class LeakDraft:
    """A step that was typed but not kept, and why."""

    typed: Mapping[str, str] = field(default_factory=dict)
    error: str = ""


def method_words(identifier: str) -> str:
    """A method in words."""
    known = METHODS.get(identifier)
    return known.words if known is not None else plain(identifier)


def leak_part(report: SearchReport, job: Job, url: str, draft: LeakDraft) -> LeakPart:
    """The whole part.

    Parameters
    ----------
    report : SearchReport
        The plan.
    job : Job
        Whose search it is.
    url : str
        Of the job's page.
    draft : LeakDraft
        What was typed and not kept.
    """
    low, high = (figures(g, 2) for g in report.pace.span())
    shown = report.places[:PLACES_SHOWN]
    rest = sum(p.probability for p in report.places[PLACES_SHOWN:])
    return LeakPart(
        state=_state(report, job),
        outcome=_outcome(report),
        pace=f"{low} to {high} g/yr in ordinary use ({report.pace.because}).",
        places=tuple(
            LeakPlace(
                capital(plain(p.place)) + (", in foam" if p.in_foam else ""),
                percent(p.probability),
                f"{100.0 * p.probability:.1f}",
            )
            for p in shown
        ),
        rest=f"Elsewhere {percent(rest)}; no leak to find {percent(report.nothing_to_find)}.",
        rounds=_rounds(report),
        promise=_promise(report),
        tried=tuple(
            LeakTried(
                f"{capital(method_words(t.method))} at the {plain(t.place)}, {t.minutes:g} min",
                "yes" if t.found else "no",
                f"{url}/tried/{number}/remove",
            )
            for number, t in enumerate(job.tried)
        ),
        form=_form(report, url, draft),
        sight=_sight(report),
        barred=tuple(
            Fact(capital(method_words(m)), f"{capital(why)}.") for m, why in report.barred
        ),
        notes=report.notes,
        cautions=_shown(job.plate.refrigerant, instrument=True),
    )


def _state(report: SearchReport, job: Job) -> str:
    tried = count(len(job.tried), "step tried", "steps tried")
    if report.located:
        return f"found at the {plain(report.located)}"
    best = report.places[0]
    return f"{tried}; likeliest: {plain(best.place)}, {percent(best.probability)}"


def _outcome(report: SearchReport) -> str:
    if report.located:
        return f"Found at the {plain(report.located)}. Mend it, then prove it."
    if report.by_exclusion and not report.steps:
        return f"All else excluded: it is the {plain(report.by_exclusion)}."
    if not report.steps:
        return "Nothing left is worth its minutes: think again about the fault."
    return ""


def _rounds(report: SearchReport) -> tuple[LeakRound, ...]:
    from coldwright.leak.rounds import in_rounds

    rounds = in_rounds(report.steps)[:ROUNDS_SHOWN]
    told = {c.title for c in _shown(report.refrigerant, instrument=True)}
    return tuple(_round(steps, report, told) for steps in rounds)


def _round(steps: list[SearchStep], report: SearchReport, told: set[str]) -> LeakRound:
    inside = next((s.circuit_holds for s in steps if s.circuit_holds != "any"), "any")
    methods = []
    for method in dict.fromkeys(s.method for s in steps):
        names = ", ".join(plain(s.place) for s in steps if s.method == method)
        words = capital(method_words(method))
        if steps[0].hold_hours:
            words += f", {show(steps[0].hold_hours * 3600.0, D.TIME, digits=2)}"
        methods.append(Fact(words, names))
    minutes = sum(s.minutes for s in steps)
    found, last = sum(s.chance_found for s in steps), steps[-1]
    after = steps[0].after_yes
    opens = any(s.opens_circuit for s in steps)
    pressed = opens and inside in ("nitrogen", "hydrogen_mixture", "helium")
    powered = any(s.method in METHODS and METHODS[s.method].powered for s in steps)
    new = tuple(
        c
        for c in _shown(report.refrigerant, nitrogen=pressed, opens=opens, instrument=powered)
        if (opens or powered) and c.title not in told
    )
    told.update(c.title for c in new)
    return LeakRound(
        title=_INSIDE.get(inside, capital(plain(inside)))
        + ("; opens the circuit" if opens else ""),
        methods=tuple(methods),
        worth=(
            f"{minutes:.0f} min, finds it {percent(found)}; by then "
            f"{percent(last.chance_so_far)} in {last.minutes_so_far:.0f} min"
        ),
        after_yes="; ".join(after),
        cautions=new,
    )


def _shown(
    refrigerant: str, *, nitrogen: bool = False, opens: bool = False, instrument: bool = False
) -> tuple[Caution, ...]:
    found = leak_cautions(refrigerant, nitrogen=nitrogen, opens=opens, instrument=instrument)
    return tuple(Caution(c.title, c.sentences) for c in found)


def _promise(report: SearchReport) -> str:
    if not report.steps:
        return ""
    end = ""
    if report.by_exclusion:
        end = f" If all say no, it is the {plain(report.by_exclusion)}."
    return (
        f"Whole plan: {percent(report.chance_found)} found, {report.expected_minutes:.0f} min "
        f"expected, {report.longest_minutes:.0f} min at most; after "
        f"{report.pays_until_minutes:.0f} min the next job earns more.{end} "
        "Chances rest on weights and coverages that are ours."
    )


def _form(report: SearchReport, url: str, draft: LeakDraft) -> LeakForm:
    first = report.steps[0] if report.steps else None
    place = draft.typed.get("place", first.place if first else "")
    method = draft.typed.get("method", first.method if first else "")
    here = [p.place for p in report.places] + list(keys.LEAK_PARTS)
    order = [p for p in keys.LEAK_PLACES if p in here]
    barred = {m for m, _ in report.barred}
    return LeakForm(
        url=f"{url}/tried",
        place=Field("place", "Where", place, "", "",
                    tuple(Choice(p, capital(plain(p)), p == place) for p in order)),
        method=Field("method", "With what", method, "", "",
                     tuple(Choice(m, capital(method_words(m)), m == method)
                           for m in keys.LEAK_METHODS if m not in barred)),
        minutes=Field("minutes", "Minutes it took",
                      draft.typed.get("minutes", f"{max(first.minutes, 1):.0f}" if first else ""),
                      "A hold: its length.", "", ()),
        next_step="" if first is None else (
            f"Next: {method_words(first.method)} at the {plain(first.place)}, "
            f"{first.minutes:.0f} min with what it takes to get there."
        ),
        error=draft.error,
    )  # fmt: skip


def _sight(report: SearchReport) -> tuple[str, ...]:
    lines = [
        f"A hold of {show(s.hours * 3600.0, D.TIME, digits=2)} shows no leak under "
        f"{figures(s.from_g_yr[0], 2)} to {figures(s.from_g_yr[1], 2)} g/yr."
        for s in report.hold_sight
    ]
    days = report.small_leak_hold_s / 86_400.0
    needs = f"{figures(days, 2)} days" if days < 31.0 else "longer than any hold"
    limit = report.test_limit
    return (
        *lines,
        f"A leak of 5 g/yr takes {needs} in this circuit.",
        f"Never above {limit.gauge_pa / 1e5:.1f} bar gauge: {limit.because}.",
    )
