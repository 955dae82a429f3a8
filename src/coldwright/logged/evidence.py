"""How readings from a log err: the mean's own doubt, the instrument's bias, the lag left."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from coldwright.catalogue.instruments import Instrument, of_a_log
from coldwright.readings.job import Job, Reading

_AT_ONCE_S = 1e-3  # time constant of a lag that has died out


def stated_sd_of(readings: Sequence[Reading]) -> np.ndarray:
    """Stated standard deviations, NaN where the instrument's own or the log's counts. [SI]"""
    return np.array(
        [np.nan if r.sd is None or r.log is not None else r.sd for r in readings], dtype=float
    )


def instruments_of(
    readings: Sequence[Reading], tools: Mapping[str, Instrument], running_s: float
) -> tuple[Instrument, ...]:
    """One instrument for each reading; those of a log average, and lag by their own time.

    Parameters
    ----------
    readings : sequence of Reading
        In the order of the evidence.
    tools : mapping
        Reading identifier to instrument.
    running_s : float
        Time since the start that the lag of all readings counts from. [s]
    """
    return tuple(
        tools[r.key] if r.log is None else _averaged(tools[r.key], r, running_s) for r in readings
    )


def _averaged(tool: Instrument, reading: Reading, running_s: float) -> Instrument:
    assert reading.log is not None
    left = reading.log.lag_left(tool.settling_s)
    settling = _AT_ONCE_S
    if math.isfinite(running_s) and left > 1e-9:
        settling = max(running_s, 1.0) / max(-math.log(left), 1e-6)
    return of_a_log(tool, reading.log.sd, settling)


def log_notes(job: Job) -> tuple[str, ...]:
    """What of the odds comes from a log."""
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
