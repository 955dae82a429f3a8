"""What a job's readings and signs say, in the form the weights need."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from coldwright.catalogue.instruments import Instrument, instruments, of_a_log
from coldwright.catalogue.signs import SIGN_MODELS
from coldwright.diagnosis.ensemble import Evidence
from coldwright.diagnosis.findings import findings_of
from coldwright.diagnosis.predict import COLUMNS, says_nothing
from coldwright.diagnosis.subject import Subject
from coldwright.electrical.from_job import electrical_of, locked_keys
from coldwright.readings.job import Job, Reading

# A rotor that does not turn heats its shell: no running state, and no state at rest, has that
_HEATED_BY_TRYING = frozenset({"shell_temperature", "discharge_line_temperature"})
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
    tripped = job.sign("compressor_hums_and_trips")
    if tripped is not None and tripped.seen:
        boundary |= _HEATED_BY_TRYING
    used = [r for r in job.readings if r.key in COLUMNS and r.key not in boundary]
    signs = [s for s in job.signs if s.key in SIGN_MODELS]
    findings = findings_of(job, subject.room_k)
    electrical = replace(electrical_of(job, heard=False), seen=findings.state_logs())
    return Evidence(
        keys=tuple(r.key for r in used),
        values=np.array([r.value for r in used], dtype=float),
        stated_sd=stated_sd_of(used),
        instruments=instruments_of(used, tools, subject.running_s),
        signs=tuple((s.key, s.seen) for s in signs),
        running_s=subject.running_s,
        electrical=electrical,
        findings=findings,
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
