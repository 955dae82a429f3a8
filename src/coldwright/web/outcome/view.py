"""What was found at a job, and what the shop's proven jobs teach."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from coldwright.readings.job import Job
from coldwright.readings.jobfile import JobFile
from coldwright.readings.outcome import FINDABLE, PROVEN_BY
from coldwright.web.outcome.context import OutcomePart, ShareRow
from coldwright.web.pieces import Choice, Field
from coldwright.words.report import Fact
from coldwright.words.wording import capital, fault, percent

if TYPE_CHECKING:
    from coldwright.learning.learned import Learned
    from coldwright.learning.proven import Proven

_SHARES_SHOWN = 6
_SEVERITY_HINT = "If it was measured, such as '60 %' of the charge left or '30 W' of heat."


@dataclass(frozen=True, slots=True)
class OutcomeDraft:
    """What stood in a refused form, and why it was refused."""

    texts: Mapping[str, str] = field(default_factory=dict)
    error: str = ""


def outcome_part(file: JobFile, draft: OutcomeDraft, proven: Proven | None) -> OutcomePart:
    """What was entered, the form, and the shares learned.

    Parameters
    ----------
    file : JobFile
        The job.
    draft : OutcomeDraft
        A refused form, or nothing.
    proven : Proven or None
        What the shop has proven; None where nothing counts it.

    Returns
    -------
    OutcomePart
        The part's record.
    """
    job, texts = file.job, {**_as_written(file), **draft.texts}
    known = _learned(job, proven)
    return OutcomePart(
        _state(job),
        _facts(job, texts),
        _fields(texts),
        draft.error,
        known.sentence if known else "",
        _rows(known) if known else (),
    )


def _learned(job: Job, proven: Proven | None) -> Learned | None:
    if proven is None or job.plate.refrigerant == "unknown":
        return None
    from coldwright.learning.learned import learned

    others = proven.without(job)
    if not any(j.refrigerant == job.plate.refrigerant for j in others.jobs):
        return None
    return learned(others, job.plate.refrigerant, job.plate.kind)


def _rows(known: Learned) -> tuple[ShareRow, ...]:
    leading = sorted(known.shares, key=lambda s: -s.after)[:_SHARES_SHOWN]
    return tuple(
        ShareRow(
            fault(s.faults),
            f"{percent(s.before)} before, {percent(s.after)} now"
            f" ({percent(s.low)} to {percent(s.high)})",
            f"found in {s.found_in_kind:g} of this kind,"
            f" {s.found_in_refrigerant:g} of its refrigerant",
        )
        for s in leading
    )


def _state(job: Job) -> str:
    if job.outcome is None:
        return "not entered yet"
    found = " and ".join(fault(f) for f in job.outcome.found)
    return f"{found}, {PROVEN_BY[job.outcome.proven_by]}"


def _facts(job: Job, texts: Mapping[str, str]) -> tuple[Fact, ...]:
    if job.outcome is None:
        return ()
    told = [
        Fact("Found", " and ".join(fault(f) for f in job.outcome.found)),
        Fact("Known by", capital(PROVEN_BY[job.outcome.proven_by])),
    ]
    if job.outcome.severity is not None:
        told.append(Fact("How bad", texts["severity"]))
    if job.outcome.date:
        told.append(Fact("Proven on", job.outcome.date))
    return tuple(told)


def _fields(texts: Mapping[str, str]) -> tuple[Field, ...]:
    faults = {name: fault(name).replace(": ", ", ") for name in FINDABLE}
    ways = {name: capital(words) for name, words in PROVEN_BY.items()}
    return (
        _choose("found", "What was found", texts, faults, "choose"),
        _choose("found_too", "And a second fault", texts, faults, "no second fault"),
        _choose("proven_by", "How it is known", texts, ways, "choose"),
        Field("severity", "How bad", texts.get("severity", ""), _SEVERITY_HINT, "", ()),
        Field("date", "Proven on", texts.get("date", ""), "Such as 2026-05-12.", "", ()),
    )


def _choose(
    name: str, label: str, texts: Mapping[str, str], words: Mapping[str, str], none: str
) -> Field:
    now = texts.get(name, "")
    choices = (Choice("", none, now == ""),
               *(Choice(word, said, word == now) for word, said in words.items()))  # fmt: skip
    return Field(name, label, now, "", "", choices)


def _as_written(file: JobFile) -> dict[str, str]:
    table = file.tables.get("outcome", {})
    found = table.get("found", [])
    faults = [*(found if isinstance(found, list) else [found]), "", ""]
    texts = {key: str(table.get(key, "")) for key in ("severity", "proven_by", "date")}
    return {"found": faults[0], "found_too": faults[1], **texts}
