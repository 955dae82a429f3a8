"""One job as its page shows it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from coldwright.readings import keys
from coldwright.readings.job import Job
from coldwright.readings.jobfile import JobFile
from coldwright.web.addresses import job_url
from coldwright.web.deps import ShelfRow
from coldwright.web.drawing.build import Appliance, draw
from coldwright.web.drawing.pins import TagText
from coldwright.web.drawing.records import Drawing
from coldwright.web.fields import entered, facts, first_errors, groups, revision
from coldwright.web.job.context import AppliancePart, JobPage
from coldwright.web.jobs.context import JobRow
from coldwright.web.leak.context import LeakPart, PendingLeak
from coldwright.web.leak.view import LeakDraft
from coldwright.web.log.view import log_part
from coldwright.web.odds.context import OddsPage, PendingOdds
from coldwright.web.outcome.context import OutcomePart
from coldwright.web.outcome.view import OutcomeDraft
from coldwright.web.readings.view import Draft, readings_part
from coldwright.web.refrigerant.view import refrigerant_part
from coldwright.web.shelf import named
from coldwright.web.signs.view import SignDraft, signs_part
from coldwright.words.cautions import before_power, handled_as
from coldwright.words.report import Caution
from coldwright.words.wording import capital, count, plain


@dataclass(frozen=True, slots=True)
class Asked:
    """What the address or a refused form asks the page to show."""

    reading: Draft = field(default_factory=Draft)
    sign: SignDraft = field(default_factory=SignDraft)
    details: Mapping[str, str] = field(default_factory=dict)  # texts of a refused form
    details_errors: Mapping[str, str] = field(default_factory=dict)
    leak: LeakDraft | None = None
    log_error: str = ""  # why a log just sent was not kept
    outcome: OutcomeDraft = field(default_factory=OutcomeDraft)


def job_page(
    file: JobFile,
    name: str,
    *,
    invented: bool,
    asked: Asked,
    odds: OddsPage | PendingOdds,
    leak: LeakPart | PendingLeak,
    outcome: OutcomePart,
    log: tuple[str, str] = ("", ""),
) -> JobPage:
    """The whole page.

    Parameters
    ----------
    file : JobFile
        The job as its file stands.
    name : str
        Its name on the shelf.
    invented : bool
        An untouched demonstration job.
    asked : Asked
        What to show in the forms.
    odds : OddsPage or PendingOdds
        The diagnosis, or what stands in its place.
    leak : LeakPart or PendingLeak
        The leak search, or what stands in its place.
    outcome : OutcomePart
        What was found.
    log : tuple of str
        File name of its log, and why it cannot be used; empty where neither.

    Returns
    -------
    JobPage
        The page's record.
    """
    job = named(file.job, name)
    cautions = before_power(job.plate.refrigerant)
    return JobPage(
        url=job_url(name),
        title=job.title,
        invented=invented,
        summary=_summary(job),
        cautions=cautions,
        cautions_state=_cautions_state(job, cautions),
        appliance=appliance_part(file, asked),
        refrigerant=refrigerant_part(job),
        drawing=drawing(job),
        readings=readings_part(file, asked.reading),
        signs=signs_part(job, asked.sign),
        odds=odds,
        leak=leak,
        outcome=outcome,
        log=log_part(job, log[0], asked.log_error or log[1]),
    )


def appliance_part(file: JobFile, asked: Asked) -> AppliancePart:
    """Plate, circuit, room, history and circumstances, with the form that changes them.

    Parameters
    ----------
    file : JobFile
        The job file.
    asked : Asked
        What the request asks to be open or in error.

    Returns
    -------
    AppliancePart
        The part's record.
    """
    values = entered(file)
    known = facts(values)
    form = {**values, **asked.details}
    return AppliancePart(
        _appliance_state(values, len(known)),
        known,
        groups(form, asked.details_errors, with_main=True),
        first_errors(asked.details_errors),
        revision(file),
    )


def _appliance_state(values: Mapping[str, str], known: int) -> str:
    main = [values[name] for name in ("plate.refrigerant", "plate.charge") if name in values]
    if "room.temperature" in values:
        main.append(f"room {values['room.temperature']}")
    return ", ".join([*main, f"{count(known, 'fact', 'facts')} known"])


def drawing(job: Job) -> Drawing:
    """The appliance with its readings at their points.

    Parameters
    ----------
    job : Job
        The job, read and checked.

    Returns
    -------
    Drawing
        Shapes and tags.
    """
    seen = Appliance(
        job.plate.kind,
        capital(plain(job.plate.kind)),
        job.circuit.condenser,
        job.circuit.evaporator,
        job.circuit.layout,
    )
    texts = {reading.key: reading.entered for reading in job.readings}
    return draw(seen, TagText(texts, lambda key: capital(keys.READINGS[key].label)))


def job_row(row: ShelfRow) -> JobRow:
    """A line in the list of jobs.

    Parameters
    ----------
    row : ShelfRow
        A job on the shelf, or what is wrong with its file.

    Returns
    -------
    JobRow
        The line's record.
    """
    if row.job is None:
        return JobRow("", row.name, "", row.fault)
    return JobRow(job_url(row.name), row.job.title, _summary(row.job), "")


def _summary(job: Job) -> str:
    parts = [capital(plain(job.plate.kind))]
    if job.plate.year is not None:
        parts.append(str(job.plate.year))
    known = job.plate.refrigerant != "unknown"
    parts.append(job.plate.refrigerant if known else "refrigerant unknown")
    if job.history.complaint is not None:
        parts.append(plain(job.history.complaint))
    parts.append(count(len(job.readings), "reading", "readings"))
    return ", ".join(parts)


def _cautions_state(job: Job, cautions: tuple[Caution, ...]) -> str:
    if handled_as(job.plate.refrigerant).flammable:
        return f"{cautions[0].title}; mains voltage"
    return f"{job.plate.refrigerant} does not burn; mains voltage"
