"""The electrical side of a job: what its readings say, which part it is, what to read next."""

from __future__ import annotations

import math

from coldwright.diagnosis.result import Diagnosis
from coldwright.diagnosis.windings_answer import WindingsAnswer
from coldwright.electrical.evidence import STANDING_STILL
from coldwright.readings.job import Job
from coldwright.units import Dimension, show
from coldwright.usecases.windings import electrical_part as judged
from coldwright.web.odds.checks import check_row
from coldwright.web.odds.context import ElectricalPart
from coldwright.words.cautions import at_reading
from coldwright.words.report import Fact
from coldwright.words.wording import capital, count, percent, plain

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
    """
    answer = judged(job)
    stopped = sum(odds.probability for odds in now.faults if odds.faults == STANDING_STILL)
    heard = any(s.seen for s in job.signs if s.key in _SILENT)
    refrigerant = job.plate.refrigerant
    which = ", ".join(f"{plain(k.which)} {percent(k.probability)}" for k in answer.which)
    return ElectricalPart(
        pins_url=f"{job_url}/pins",
        state=_state(answer),
        open=heard or stopped >= OPEN_FROM,
        cautions=at_reading("winding_resistance_run", False, refrigerant),
        numbers=_numbers(answer),
        findings=findings(answer),
        which=capital(which) + ".",
        notes=answer.notes,
        checks=tuple(check_row(check, job_url, refrigerant, None) for check in answer.next_checks),
    )


def findings(answer: WindingsAnswer) -> tuple[Fact, ...]:
    """What each part's reading says, and how sure that is."""
    return tuple(
        Fact(capital(f.name), f"{f.sentence} ({percent(f.probability)})") for f in answer.findings
    )


def _state(answer: WindingsAnswer) -> str:
    if not answer.findings:
        return "nothing read yet"
    return f"{count(len(answer.findings), 'part', 'parts')} read"


def _numbers(answer: WindingsAnswer) -> tuple[Fact, ...]:
    rows = (
        ("Run winding at 20 °C", answer.run_at_20c_ohm, Dimension.RESISTANCE),
        ("Start winding at 20 °C", answer.start_at_20c_ohm, Dimension.RESISTANCE),
        ("Starting current is under", answer.most_starting_a, Dimension.CURRENT),
        ("Share of the plate current", answer.running_to_plate_fraction, Dimension.FRACTION),
    )
    return tuple(Fact(name, show(v, dim)) for name, v, dim in rows if math.isfinite(v))
