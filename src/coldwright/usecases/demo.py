"""The invented repair shop: its appliances, owners and readings are made up for showing."""

from __future__ import annotations

from dataclasses import dataclass, replace
from importlib.resources import files
from pathlib import Path

from coldwright.errors import BadInput, nearest
from coldwright.readings.job import Job
from coldwright.readings.jobfile import load_job

INVENTED = (
    "An invented repair shop: the appliances, their owners and the readings are made up. "
    "The readings come from the simulator, with noise, at appliances that the diagnosis "
    "has not seen."
)
SHOWN_FIRST = "hall-refrigerator"


@dataclass(frozen=True, slots=True)
class DemoJob:
    """One invented job: file stem, title and what it holds."""

    name: str
    job: Job


def demo_folder() -> Path:
    """Where the package keeps the invented shop's job files.

    Returns
    -------
    Path
        The folder.

    Examples
    --------
    >>> demo_folder().name
    'demo'
    """
    return Path(str(files("coldwright") / "demo"))


def demo_jobs(folder: Path | None = None) -> tuple[DemoJob, ...]:
    """All jobs of the invented shop, by name; a job's source is its file's name alone.

    Parameters
    ----------
    folder : Path, optional
        Another folder of job files.

    Returns
    -------
    tuple of DemoJob
        Name and job of each.
    """
    paths = sorted((folder or demo_folder()).glob("*.toml"))
    return tuple(DemoJob(path.stem, _with_its_log(path)) for path in paths)


def _with_its_log(path: Path) -> Job:
    job = replace(load_job(path), source=path.name)
    if not job.taken.log:
        return job
    from coldwright.logged.with_log import job_with_log

    return job_with_log(job, path.parent)


def pick_demo(jobs: tuple[DemoJob, ...], name: str | None) -> DemoJob:
    """The job of that name; where none is named `SHOWN_FIRST`, or else the first.

    Parameters
    ----------
    jobs : tuple of DemoJob
        Of `demo_jobs`.
    name : str or None
        Name asked for, if any.

    Returns
    -------
    DemoJob
        The job.

    Raises
    ------
    BadInput
        If there is none of that name, or none at all.
    """
    names = [job.name for job in jobs]
    if not names:
        raise BadInput("demo", "", "no job files", "a package with its demo folder")
    if name is None:
        name = SHOWN_FIRST if SHOWN_FIRST in names else names[0]
    plain = name.removesuffix(".toml")
    if plain not in names:
        accepted = "one of " + ", ".join(names)
        raise BadInput("demo", "NAME", name, accepted, nearest(plain, names))
    return jobs[names.index(plain)]
