"""Where in a log a reading comes from, in words."""

from __future__ import annotations

from datetime import datetime, timedelta

from coldwright.readings.course import Course, LoggedReading


def window_words(course: Course, reading: LoggedReading) -> str:
    """Where in the log a reading comes from and what it is worth.

    Parameters
    ----------
    course : Course
        The log.
    reading : LoggedReading
        One of its readings.
    """
    start, end = clock(course, reading.start_s), clock(course, reading.end_s)
    day, _, hour = end.rpartition(" ")
    where = f"{start} to {hour if course.started and start.startswith(day) else end}"
    if reading.key == "run_fraction":
        cycles = "cycle" if reading.samples == 1 else "cycles"
        return (
            f"log, {where}: ran all the time" if course.cycles == 0
            else f"log, {where}: {reading.samples} whole {cycles}"
        )  # fmt: skip
    return f"log, {where}: {reading.samples} samples, worth {reading.worth:.0f}"


def clock(course: Course, time_s: float) -> str:
    """A time of the log: by its stamps, else elapsed.

    Parameters
    ----------
    course : Course
        The log.
    time_s : float
        Of the log. [s]
    """
    if course.started:
        stamp = datetime.fromisoformat(course.started) + timedelta(seconds=time_s)
        return stamp.strftime("%Y-%m-%d %H:%M")
    hours, minutes = divmod(round(time_s / 60.0), 60)
    return f"{hours}:{minutes:02d} h"
