"""What is known of a job's refrigerant, and its saturation at the temperatures of this job."""

from __future__ import annotations

from coldwright.readings.job import Job
from coldwright.web.refrigerant.context import RefrigerantPart
from coldwright.words.cautions import flammable
from coldwright.words.refrigerant_of_job import refrigerant_of


def refrigerant_part(job: Job) -> RefrigerantPart:
    """Class, oil, warming, saturation at this job's temperatures and pressures.

    Parameters
    ----------
    job : Job
        The job, read and checked.

    Returns
    -------
    RefrigerantPart
        The part's record.
    """
    state, facts, notes = refrigerant_of(job)
    return RefrigerantPart(state, facts, flammable(job.plate.refrigerant), notes)
