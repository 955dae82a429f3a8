"""Record of the diagram of a run over time, thinned to what a sheet can show."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import nan

import numpy as np

from coldwright.readings.logfile import Log
from coldwright.transient.hours import Hours
from coldwright.transient.records import Phase, Sample

SHEET_POINTS = 700  # the sheet has about as many steps across


@dataclass(frozen=True, slots=True)
class Line:
    """One temperature over time."""

    words: str
    time_s: tuple[float, ...]
    temperature_k: tuple[float, ...]
    logged: bool = False


@dataclass(frozen=True, slots=True)
class OverTime:
    """Temperatures, when the compressor ran, and what was logged beside."""

    title: str
    hours: float
    lines: tuple[Line, ...]
    ran_s: tuple[tuple[float, float], ...]  # from, to
    defrosted_s: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Beside:
    """A logged temperature against the simulated one, over the time they share."""

    words: str
    points: int
    mean_difference_k: float  # logged less simulated
    largest_difference_k: float


def over_time(hours: Hours, title: str, log: Log | None = None) -> OverTime:
    """The record of the diagram.

    Parameters
    ----------
    hours : Hours
        A run.
    title : str
        What is shown.
    log : Log or None
        Logged temperatures to draw beside.
    """
    samples = hours.result.samples
    kept = _thinned(samples)
    lines = [
        Line(words, tuple(s.time_s for s in kept), tuple(of(s) for s in kept))
        for words, of in _temperatures(hours)
    ]
    if log is not None:
        end = samples[-1].time_s
        for words, values in _logged(log):
            pairs = [(t, v) for t, v in zip(log.time_s, values, strict=True) if v == v and t <= end]
            if pairs:
                lines.append(
                    Line(f"{words}, logged", tuple(t for t, _ in pairs),
                         tuple(v for _, v in pairs), logged=True)
                )  # fmt: skip
    return OverTime(
        title, samples[-1].time_s / 3600.0, tuple(lines), _spans(samples, Phase.RUNNING),
        _spans(samples, Phase.DEFROST),
    )  # fmt: skip


def beside(hours: Hours, log: Log) -> tuple[Beside, ...]:
    """How far logged temperatures lie from the simulated ones.

    Parameters
    ----------
    hours : Hours
        A run.
    log : Log
        Logged temperatures, time counted from the run's begin.
    """
    samples = hours.result.samples
    times = np.array([s.time_s for s in samples])
    found = []
    simulated = {"fresh food": lambda s: s.fresh_food_k, "freezer": lambda s: s.freezer_k}
    for words, values in _logged(log):
        of: Callable[[Sample], float] = simulated[words]
        ours = np.interp(log.time_s, times, [of(s) for s in samples], right=nan)
        gaps = np.array(values) - ours
        gaps = gaps[np.isfinite(gaps)]
        if gaps.size:
            worst = float(gaps[np.argmax(np.abs(gaps))])
            found.append(Beside(words, int(gaps.size), float(np.mean(gaps)), worst))
    return tuple(found)


def _temperatures(hours: Hours) -> list[tuple[str, Callable[[Sample], float]]]:
    out: list[tuple[str, Callable[[Sample], float]]] = []
    if hours.fresh_food_set_k == hours.fresh_food_set_k:
        out.append(("fresh food", lambda s: s.fresh_food_k))
    out += [("freezer", lambda s: s.freezer_k), ("evaporator", lambda s: s.evaporator_k)]
    if any(s.goods_k == s.goods_k for s in hours.result.samples):
        out.append(("warmest goods", lambda s: s.goods_k))
    return out


def _logged(log: Log) -> tuple[tuple[str, tuple[float, ...]], ...]:
    return ("fresh food", log.fresh_food_k), ("freezer", log.freezer_k)


def _thinned(samples: Sequence[Sample]) -> list[Sample]:
    gap = samples[-1].time_s / SHEET_POINTS
    kept = [samples[0]]
    for s in samples[1:]:
        if s.time_s - kept[-1].time_s >= gap or s.phase is not kept[-1].phase:
            kept.append(s)
    return kept


def _spans(samples: Sequence[Sample], phase: Phase) -> tuple[tuple[float, float], ...]:
    spans, since = [], None
    for s in samples:
        if s.phase is phase and since is None:
            since = s.time_s
        elif s.phase is not phase and since is not None:
            spans.append((since, s.time_s))
            since = None
    if since is not None:
        spans.append((since, samples[-1].time_s))
    return tuple(spans)
