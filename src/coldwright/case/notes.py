"""What a diagnosis says of its input: taken as what, used as what, not used and why."""

from __future__ import annotations

from coldwright.case.evidence import HEATERS, not_alone
from coldwright.diagnosis.ensemble import Evidence
from coldwright.diagnosis.predict import COMPARTMENTS, says_nothing
from coldwright.diagnosis.subject import Subject
from coldwright.electrical.evidence import ELECTRICAL_READINGS
from coldwright.electrical.from_job import notes_of
from coldwright.readings.job import Job
from coldwright.readings.keys import READINGS

DEAD_V = 20.0  # a floating meter shows some volts, ours


def _restore_mains(job: Job) -> list[str]:
    sign, volts = job.sign("no_mains"), job.reading("supply_voltage")
    dead = (sign is not None and sign.seen) or (volts is not None and volts.value < DEAD_V)
    words = (
        "No mains at the socket: restore the mains first (fuse, breaker, residual-current device,"
        " socket, by whoever may do that), then come back; until then nothing else can be judged."
    )
    return [words] if dead else []


def _questions_back(evidence: Evidence) -> list[str]:
    """What each finding that was seen still has to be asked."""
    return [
        f"{a.told[0].upper()}{a.told[1:]}: {a.model.confirm} Answer it as confirmed, yes or no."
        for a in evidence.findings.answers
        if a.seen and not a.confirmed and a.model.confirm
    ]


def visit_notes(job: Job, evidence: Evidence, subject: Subject) -> list[str]:
    """Notes in the order of the readings.

    Parameters
    ----------
    job : Job
        As entered.
    evidence : Evidence
        What of it counts.
    subject : Subject
        As it was read.

    Returns
    -------
    list of str
        Sentences.
    """
    notes = _restore_mains(job) + _questions_back(evidence)
    for r in job.readings:
        if r.gauge_assumed:
            notes.append(f"{READINGS[r.key].label}: {r.entered} taken as gauge pressure.")
    entered = {r.key for r in job.readings}
    boundary = [r for r in job.readings if r.key in COMPARTMENTS and not subject.settled]
    if boundary:
        names = ", ".join(READINGS[r.key].label for r in boundary)
        notes.append(f"Used as the conditions the machine works in, not as evidence: {names}.")
    beside = entered & not_alone(job)
    if beside:
        on = " and ".join(HEATERS[one] for one in job.taken.also_running if one in HEATERS)
        names = ", ".join(READINGS[key].label for key in sorted(beside))
        notes.append(f"Read with the {on} on, so not used in the odds: {names}.")
    used = {*evidence.keys, *ELECTRICAL_READINGS, "ambient_temperature", *beside}
    apart = COMPARTMENTS | says_nothing(subject.settled)
    idle = [r for r in job.readings if r.key not in used and r.key not in apart]
    if idle:
        names = ", ".join(READINGS[r.key].label for r in idle)
        notes.append(f"Kept, not used in the odds yet: {names}.")
    if subject.settled and "freezer_cooling_rate" in entered:
        notes.append(
            "In a settled cabinet the freezer's fall while it runs says nothing: kept."
            if entered & COMPARTMENTS
            else "The freezer's fall counts with the temperature it falls from: enter the freezer"
            " as well. Without it the cabinet is taken as settled."
        )
    told = [
        name for name, value in (("door openings", job.taken.doors_opened),) if value is not None
    ]
    if told:
        notes.append(f"Kept, not used in the odds: {', '.join(told)}.")
    return [*notes, *notes_of(job), *log_notes(job)]


def log_notes(job: Job) -> tuple[str, ...]:
    """What of the odds comes from a log.

    Parameters
    ----------
    job : Job
        The job, read and checked.

    Returns
    -------
    tuple of str
        Sentences; empty where there is no log.
    """
    course = job.course
    if course is None:
        return ()
    used = [r for r in job.readings if r.log is not None]
    text = f"{len(used)} readings come from the log {course.source}"
    if not course.steady:
        text += f", whose best stretch is not steady ({course.why_not})"
    notes = [text + "; samples that repeat each other count as fewer."]
    if course.passed_over:
        notes.append("What was entered by hand goes before the log's.")
    return tuple(notes)
