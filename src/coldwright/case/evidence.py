"""What a job's readings and signs say, in the form the weights need."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from coldwright.catalogue.instruments import Instrument, instruments, of_a_log
from coldwright.catalogue.signs import SIGN_MODELS
from coldwright.diagnosis.ensemble import Evidence
from coldwright.diagnosis.predict import COLUMNS, says_nothing
from coldwright.diagnosis.subject import Subject
from coldwright.electrical.from_job import electrical_of, locked_keys
from coldwright.readings.job import Job, Reading

_AT_ONCE_S = 1e-3  # time constant of a lag that has died out
WHOLE = frozenset({"appliance_power", "appliance_current"})
# Watts that come and go and are in no simulated state, with their plain words
HEATERS = {"lamp": "lamp", "defrost_heater": "defrost heater", "frame_heater": "frame heater"}


def chosen_instruments(job: Job) -> dict[str, Instrument]:
    """Instruments the readings were taken with.

    Parameters
    ----------
    job : Job
        With `taken.instrument`.

    Returns
    -------
    dict of str to Instrument
        By reading.
    """
    used = job.taken.instrument
    return dict(instruments(thermometer=used.thermometer, gauge=used.gauge, meter=used.meter))


def not_alone(job: Job) -> frozenset[str]:
    """Readings of the whole appliance that something else was in: no evidence.

    Parameters
    ----------
    job : Job
        With `taken.also_running`.

    Returns
    -------
    frozenset of str
        Keys of readings.
    """
    return WHOLE if any(one in HEATERS for one in job.taken.also_running) else frozenset()


def evidence_of(job: Job, subject: Subject, tools: Mapping[str, Instrument]) -> Evidence:
    """Readings the model predicts and signs, without those used as boundaries.

    Parameters
    ----------
    job : Job
        As entered.
    subject : Subject
        As it was read.
    tools : mapping
        Reading to instrument, from `chosen_instruments`.

    Returns
    -------
    Evidence
        Values in SI, arrays of shape (readings,).
    """
    boundary = says_nothing(subject.settled)
    boundary |= not_alone(job)
    boundary |= locked_keys(job)  # drawn by a rotor that does not turn: no running state has it
    used = [r for r in job.readings if r.key in COLUMNS and r.key not in boundary]
    signs = [s for s in job.signs if s.key in SIGN_MODELS]
    # A fan that is not there cannot be seen to stop: such a "no" says nothing.
    skip = set()
    if job.circuit.condenser not in (None, "fan"):
        skip.add("condenser_fan_stopped")
    if job.circuit.evaporator not in (None, "fan"):
        skip.add("evaporator_fan_stopped")
    return Evidence(
        keys=tuple(r.key for r in used),
        values=np.array([r.value for r in used], dtype=float),
        stated_sd=stated_sd_of(used),
        instruments=instruments_of(used, tools, subject.running_s),
        signs=tuple((s.key, s.seen) for s in signs if s.key not in skip),
        running_s=subject.running_s,
        electrical=electrical_of(job),
    )


def stated_sd_of(readings: Sequence[Reading]) -> np.ndarray:
    """Stated standard deviations, NaN where the instrument's own or the log's counts. [SI]

    Parameters
    ----------
    readings : sequence of Reading
        Readings of the visit.

    Returns
    -------
    ndarray
        Shape (r,). [SI]
    """
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

    Returns
    -------
    tuple of Instrument
        One per reading, in their order.
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
