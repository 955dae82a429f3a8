"""A log beside a job: its readings go where nothing was entered by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

from coldwright.logged.reduce import course_of
from coldwright.logged.window_words import window_words
from coldwright.readings.course import Course, LoggedReading
from coldwright.readings.job import Job, Reading, Sign, Taken
from coldwright.readings.keys import READINGS
from coldwright.readings.series import Series, load_series
from coldwright.units import Dimension as D
from coldwright.units import parse

_DECIMALS = {D.TEMPERATURE: 1, D.POWER: 1, D.CURRENT: 2, D.FRACTION: 0, D.TEMPERATURE_RATE: 1}


def with_log(job: Job, series: Series) -> Job:
    """The job with a log's readings, circumstances and signs; what was entered stays.

    Parameters
    ----------
    job : Job
        As entered.
    series : Series
        The log.
    """
    return with_course(job, course_of(series))


def with_course(job: Job, course: Course) -> Job:
    """The same from the log's course.

    Parameters
    ----------
    job : Job
        As entered.
    course : Course
        From `logged.reduce.course_of`.
    """
    entered = {r.key for r in job.readings}
    if job.room.temperature_k is not None:
        entered.add("ambient_temperature")
    used = [r for r in course.readings if r.key not in entered]
    passed = tuple(r.key for r in course.readings if r.key in entered)
    readings = tuple(
        Reading(r.key, r.value, r.sd, written(r), window_words(course, r), log=r) for r in used
    )
    checked = {s.key for s in job.signs}
    signs = tuple(Sign(key, seen) for key, seen in course.signs if key not in checked)
    return replace(
        job,
        readings=(*job.readings, *readings),
        signs=(*job.signs, *signs),
        taken=_taken(job.taken, course),
        course=replace(course, passed_over=passed),
    )


def log_path(job: Job, folder: Path, given: Path | None = None) -> Path | None:
    """Where a job's log lies: as given, else `taken.log` beside the job; None where neither.

    Parameters
    ----------
    job : Job
        The job.
    folder : Path
        Of its file.
    given : Path, optional
        Named on the spot.
    """
    if given is not None:
        return given
    return folder / job.taken.log if job.taken.log else None


def job_with_log(job: Job, folder: Path, given: Path | None = None) -> Job:
    """The job with the log that it names or that is given; as it is where there is none.

    Parameters
    ----------
    job : Job
        The job.
    folder : Path
        Of its file.
    given : Path, optional
        A log named on the spot.

    Raises
    ------
    BadInput
        If the log cannot be used.
    """
    path = log_path(job, folder, given)
    return job if path is None else with_log(job, load_series(path))


def written(reading: LoggedReading) -> str:
    """A log's reading in the unit of the log.

    Parameters
    ----------
    reading : LoggedReading
        From a course.
    """
    dimension = READINGS[reading.key].dimension
    origin = parse(f"0 {reading.unit}", dimension)
    worth = parse(f"1 {reading.unit}", dimension) - origin
    value = (reading.value - origin) / worth
    return f"{value:.{_DECIMALS[dimension]}f} {reading.unit}"


def _taken(taken: Taken, course: Course) -> Taken:
    """Circumstances that the log tells and nobody entered."""
    told = taken
    if told.minutes_since_start is None and math.isfinite(course.running_s):
        told = replace(told, minutes_since_start=course.running_s / 60.0)
    if told.settled is None and course.settled:
        told = replace(told, settled=True)
    if told.minutes_since_defrost is None and course.defrosts:
        since = (course.end_s - course.defrosts[-1].end_s) / 60.0
        told = replace(told, minutes_since_defrost=since)
    return told
