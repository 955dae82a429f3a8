"""Whole cycles of a thermostat: run fraction with its doubt, and whether they drift."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from coldwright.logged.averages import slope_of
from coldwright.readings.course import Stretch

# Spread of one cycle's running time before any is seen: 15 % of the cycle, worth two cycles, ours
_USUAL, _USUAL_WORTH = 0.15, 2.0
_FEWEST = 3  # whole cycles from which settling is judged, ours
_DRIFT_K = 1.0  # of a compartment from the first cycles to the last, ours
_LENGTH_RATIO = 3.0  # a cycle so much longer than the others is no ordinary one, ours


@dataclass(frozen=True, slots=True)
class Cycle:
    """From one start to the next."""

    start_s: float
    end_s: float
    run_s: float

    @property
    def length_s(self) -> float:
        """From start to start. [s]"""
        return self.end_s - self.start_s


def whole_cycles(stretches: Sequence[Stretch]) -> tuple[Cycle, ...]:
    """Cycles with both starts seen and no defrost in them.

    Parameters
    ----------
    stretches : sequence of Stretch
        In order of time.

    Returns
    -------
    tuple of Cycle
        From start to start. [s]
    """
    starts = [
        i for i, s in enumerate(stretches)
        if s.state == "running" and i > 0 and stretches[i - 1].state == "off"
    ]  # fmt: skip
    found = []
    for first, after in pairwise(starts):
        inside = stretches[first:after]
        if any(s.state == "defrost" for s in inside):
            continue
        run = sum(s.length_s for s in inside if s.state == "running")
        found.append(Cycle(stretches[first].start_s, stretches[after].start_s, run))
    return tuple(found)


def run_fraction(cycles: Sequence[Cycle], step_s: float) -> tuple[float, float]:
    """Share of the time it runs, over whole cycles, and its standard deviation.

    A ratio of sums [1]_; its spread from cycle to cycle is pooled with a usual one worth two
    cycles, so that two alike cycles do not pass for certainty. Each start and stop is known to
    the log's step.

    Parameters
    ----------
    cycles : sequence of Cycle
        One at least.
    step_s : float
        Between samples. [s]

    Returns
    -------
    tuple of float
        Run fraction and its standard deviation. [-]

    References
    ----------
    .. [1] Cochran, Sampling Techniques, 3rd ed., Wiley 1977, section 2.11 (ratio estimator).
    """
    run = np.array([c.run_s for c in cycles])
    length = np.array([c.length_s for c in cycles])
    n, share = run.size, float(run.sum() / length.sum())
    off = (run - share * length) / length.mean()
    variance = (_USUAL_WORTH * (_USUAL * 2.0 * math.sqrt(share * (1.0 - share))) ** 2
                + float(off @ off)) / (_USUAL_WORTH + n - 1.0)  # fmt: skip
    edges = step_s * step_s / 6.0 / float(length.mean()) ** 2
    return share, math.sqrt((variance + edges) / n)


def settled(
    cycles: Sequence[Cycle], time_s: np.ndarray, compartments: Sequence[np.ndarray]
) -> bool | None:
    """Cycling without drift; None where there are too few cycles to tell.

    Parameters
    ----------
    cycles : sequence of Cycle
        In order of time.
    time_s : ndarray
        Of the log, shape (n,). [s]
    compartments : sequence of ndarray
        Compartment temperatures, each shape (n,). [K]

    Returns
    -------
    bool or None
        None where there are too few cycles to tell.
    """
    if len(cycles) < _FEWEST:
        return None
    lengths = [c.length_s for c in cycles]
    if max(lengths) > _LENGTH_RATIO * float(np.median(lengths)):
        return False
    begin, end = cycles[0].start_s, cycles[-1].end_s
    inside = (time_s >= begin) & (time_s <= end)
    drifts = [slope_of(time_s[inside], v[inside]) * (end - begin) for v in compartments]
    return all(abs(d) <= _DRIFT_K for d in drifts)
