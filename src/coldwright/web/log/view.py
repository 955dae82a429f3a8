"""A job's log as its page shows it."""

from __future__ import annotations

from coldwright.readings.job import Job
from coldwright.web.log.context import LogPart
from coldwright.words.wording import count


def log_part(job: Job, name: str, error: str) -> LogPart:
    """What the log shows and gave.

    Parameters
    ----------
    job : Job
        With the log's readings where it could be used.
    name : str
        File name of the log, empty where there is none.
    error : str
        Why it, or one just sent, cannot be used.

    Returns
    -------
    LogPart
        The part's record.
    """
    if job.course is None:
        return LogPart("cannot be used" if error else "none", name, (), error)
    from coldwright.words.log import course_lines

    used = sum(reading.log is not None for reading in job.readings)
    state = f"{count(used, 'reading', 'readings')} from {name}"
    return LogPart(state, name, course_lines(job.course), error)
