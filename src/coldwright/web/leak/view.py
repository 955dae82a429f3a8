"""The leak search of a job as its page shows it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from coldwright.readings import keys
from coldwright.readings.job import Job, tried_identities
from coldwright.web.leak.context import LeakForm, LeakPart, LeakTried
from coldwright.web.pieces import Choice, Field
from coldwright.words.wording import capital, count, percent, plain

if TYPE_CHECKING:
    from coldwright.leak.search import SearchReport


@dataclass(frozen=True, slots=True)
class LeakDraft:
    """A step that was typed but not kept, and why."""

    typed: Mapping[str, str] = field(default_factory=dict)
    error: str = ""


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

    Returns
    -------
    LeakPart
        The part's record.
    """
    from coldwright.words import leak_search as words
    from coldwright.words.leak_search import method_words

    return LeakPart(
        state=_state(report, job),
        outcome=words.outcome(report),
        where=words.where(report),
        plan=words.search_plan(report),
        tried=tuple(
            LeakTried(
                f"{capital(method_words(t.method))} at the {plain(t.place)}, {t.minutes:g} min",
                "yes" if t.found else "no",
                f"{url}/tried/{identity}/remove",
            )
            for identity, t in zip(tried_identities(job.tried), job.tried, strict=True)
        ),
        form=_form(report, url, draft),
        cautions=words.general_cautions(report),
    )


def _state(report: SearchReport, job: Job) -> str:
    tried = count(len(job.tried), "step tried", "steps tried")
    if report.located:
        return f"found at the {plain(report.located)}"
    best = report.places[0]
    return f"{tried}; likeliest: {plain(best.place)}, {percent(best.probability)}"


def _form(report: SearchReport, url: str, draft: LeakDraft) -> LeakForm:
    from coldwright.words.leak_search import method_words

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
