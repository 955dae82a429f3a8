"""The stretch of a log that a steady model can be held to: the last one that keeps the rule.

The rule (docs/physics.md): 30 min of running, then power within 2 % and coils within 0.5 K
over 10 min. Where nothing keeps it, the stretch that comes nearest, and why it does not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from coldwright.logged.averages import slope_of
from coldwright.logged.phases import BY_POWER
from coldwright.readings.course import Stretch
from coldwright.readings.series import Series

RUN_S = 1800.0
LENGTH_S = 600.0
POWER_SHARE = 0.02
COIL_K = 0.5
_LONGEST_S = 3600.0  # a steady stretch is averaged over no more than this, ours
_SAMPLES = 5  # a window holds so many, however slow the logger
_TRIES = 60  # windows looked at in one run
_RUNS = 6  # of the latest runs
_BETTER = 0.8  # an earlier window is taken only where it is so much nearer to the rule, ours
COILS = (
    "condenser_inlet_temperature", "condenser_middle_temperature", "condenser_outlet_temperature",
    "drier_inlet_temperature", "drier_outlet_temperature",
    "evaporator_inlet_temperature", "evaporator_outlet_temperature",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Window:
    """Part of a run. `running_s` counts from its start, NaN where the log began later."""

    start_s: float
    end_s: float
    running_s: float
    steady: bool
    why_not: str


def window_of(series: Series, stretches: Sequence[Stretch]) -> Window | None:
    """The window to read from; None where it never ran.

    Parameters
    ----------
    series : Series
        The log.
    stretches : sequence of Stretch
        From `phases.stretches_of`.

    Returns
    -------
    Window or None
        The latest steady one, else the nearest to steady; None where it never ran.

    References
    ----------
    .. [1] The rule of docs/physics.md; the search for it is ours.
    """
    step = float(np.median(np.diff(series.time_s)))
    length = max(LENGTH_S, _SAMPLES * step)
    best: tuple[float, Window] | None = None
    runs = [(i, s) for i, s in enumerate(stretches) if s.state == "running"]
    for i, run in list(reversed(runs))[:_RUNS]:
        begun_before = i == 0
        span = min(length, 0.5 * run.length_s) if run.length_s < 2.0 * length else length
        if span < min(LENGTH_S, 3.0 * step) and len(runs) > 1:
            continue
        ends = np.linspace(run.end_s, run.start_s + span, _TRIES)
        for end in ends:
            window, fault = _judged(series, run, end - span, end, begun_before)
            if window.steady:
                return _lengthened(series, run, window, begun_before)
            if best is None or fault < _BETTER * best[0]:
                best = (fault, window)
            if run.length_s < 2.0 * length:
                break
    return best[1] if best else None


def _lengthened(series: Series, run: Stretch, window: Window, begun_before: bool) -> Window:
    """The window drawn backwards as long as all of it keeps the rule."""
    start = window.start_s
    while window.end_s - start < _LONGEST_S:
        earlier = start - LENGTH_S
        if earlier < run.start_s + (0.0 if begun_before else RUN_S):
            break
        longer, _ = _judged(series, run, earlier, window.end_s, begun_before)
        if not longer.steady:
            break
        start, window = earlier, longer
    return window


def _judged(
    series: Series, run: Stretch, start: float, end: float, begun_before: bool
) -> tuple[Window, float]:
    """A window with how far it is from the rule: 1 is just kept."""
    since = 0.5 * (start + end) - run.start_s
    faults = {}
    if not begun_before:
        faults["it had not run for 30 min"] = RUN_S / max(end - run.start_s, 1.0)
    elif end - run.start_s < RUN_S:
        faults["the log does not show 30 min of running"] = RUN_S / max(end - run.start_s, 1.0)
    inside = (series.time_s >= start) & (series.time_s <= end)
    t = series.time_s[inside]
    for key in BY_POWER:
        if series.column(key) is not None:
            x = series.values(key)[inside]
            if np.any(np.isfinite(x)):
                level = abs(float(np.nanmean(x)))
                moved = abs(slope_of(t, x)) * (end - start) / max(level, 1e-9)
                faults["its power still moves"] = moved / POWER_SHARE
                break
    for key in COILS:
        if series.column(key) is not None:
            moved = abs(slope_of(t, series.values(key)[inside])) * (end - start)
            reason = "its coils still move"
            faults[reason] = max(faults.get(reason, 0.0), moved / COIL_K)
    worst = float(max(faults.values(), default=0.0))
    why = "; ".join(reason for reason, size in faults.items() if size > 1.0)
    running = float("nan") if begun_before and since < RUN_S else float(since)
    return Window(float(start), float(end), running, worst <= 1.0, why), worst
