"""The electrical side of a job: what its readings say, which part it is, what to read next."""

from __future__ import annotations

from coldwright.diagnosis.result import Diagnosis
from coldwright.diagnosis.windings_answer import WindingsAnswer
from coldwright.electrical.evidence import STANDING_STILL
from coldwright.readings.job import Job
from coldwright.usecases.windings import electrical_part as judged
from coldwright.web.odds.checks import check_row
from coldwright.web.odds.context import ElectricalPart
from coldwright.words.cautions import at_reading
from coldwright.words.windings import findings, numbers, which
from coldwright.words.wording import count

OPEN_FROM = 0.2  # odds of a stopped compressor from which the part stands open, ours
_SILENT = ("compressor_silent", "compressor_hums_and_trips")


def electrical_part(job: Job, now: Diagnosis, job_url: str) -> ElectricalPart:
    """Collapsed unless the compressor is in question.

    Parameters
    ----------
    job : Job
        Its electrical readings and signs.
    now : Diagnosis
        For the odds of a stopped compressor.
    job_url : str
        Address of the job's page.

    Returns
    -------
    ElectricalPart
        The part's record.
    """
    answer = judged(job)
    stopped = sum(odds.probability for odds in now.faults if odds.faults == STANDING_STILL)
    heard = any(s.seen for s in job.signs if s.key in _SILENT)
    refrigerant = job.plate.refrigerant
    return ElectricalPart(
        pins_url=f"{job_url}/pins",
        state=_state(answer),
        open=heard or stopped >= OPEN_FROM,
        cautions=at_reading("winding_resistance_run", False, refrigerant),
        numbers=numbers(answer),
        findings=findings(answer),
        which=which(answer),
        notes=answer.notes,
        checks=tuple(check_row(check, job_url, refrigerant, None) for check in answer.next_checks),
    )


def _state(answer: WindingsAnswer) -> str:
    if not answer.findings:
        return "nothing read yet"
    return f"{count(len(answer.findings), 'part', 'parts')} read"
