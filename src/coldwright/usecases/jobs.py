"""A job as a file gives it, its log read in."""

from __future__ import annotations

from pathlib import Path

from coldwright.logged.with_log import job_with_log
from coldwright.readings.job import Job
from coldwright.readings.jobfile import load_job


def load(path: str | Path, log: Path | None = None) -> Job:
    """The job of a file with the log that it names or that is given.

    Parameters
    ----------
    path : str or Path
        A job file.
    log : Path, optional
        A log named on the spot.

    Returns
    -------
    Job
        The job, its log read.

    Raises
    ------
    BadInput
        If file or log cannot be used.
    """
    file = Path(path)
    return job_with_log(load_job(file), file.parent, log)
