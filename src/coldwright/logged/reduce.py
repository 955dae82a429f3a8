"""A log into its course: what happened when, and the readings it is worth."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from scipy.signal import find_peaks

from coldwright.logged.averages import mean_of, resolution_of, slope_of
from coldwright.logged.cycles import Cycle, run_fraction, settled, whole_cycles
from coldwright.logged.phases import BY_POWER, LEAST, sensed_by, stretches_of
from coldwright.logged.window import Window, window_of
from coldwright.readings.course import Course, Defrosted, LoggedReading, Stretch
from coldwright.readings.series import Series

COMPARTMENTS = ("fresh_food_temperature", "freezer_temperature")
_HOUR_S = 3600.0
STILL_S = 4.0 * _HOUR_S  # without a start for so long, it is taken as stopped, ours
ALL_THE_TIME_S = 3.0 * _HOUR_S  # of running without a stop, ours
_ALL_THE_TIME_SD = 0.03  # of the run fraction then, ours
_SHORT_S = 180.0  # a run so short was ended by its overload or a board, ours
_SHORT_RUNS = 3
_LONG_RUN_S = 600.0
_SWING_K = 8.0  # an evaporator that warms so much while it runs and cools again, ours
_SWINGS = 2
_FALL_S = 1800.0  # a freezer's fall is read over so long, ours
_ICE_FROM_S = 1800.0  # after a start


def course_of(series: Series) -> Course:
    """What a log says.

    Parameters
    ----------
    series : Series
        The log.

    Returns
    -------
    Course
        Stretches, readings to use and signs. [SI]
    """
    t = series.time_s
    step = float(np.median(np.diff(t)))
    key = sensed_by(series)
    stretches = stretches_of(series)
    cycles = whole_cycles(stretches)
    window = window_of(series, stretches)
    inside = [series.values(k) for k in COMPARTMENTS if series.column(k) is not None]
    even = settled(cycles, t, inside)
    span = float(t[-1] - t[0])
    starts = sum(s.state == "running" and s.start_s > t[0] for s in stretches)
    short = [s for s in stretches if s.state == "running" and s.whole and s.length_s < _SHORT_S]
    return Course(
        source=series.source,
        started=series.started,
        lines=t.size,
        start_s=float(t[0]),
        end_s=float(t[-1]),
        sensed_by=key,
        stretches=stretches,
        cycles=len(cycles),
        starts_per_hour=starts / (span / _HOUR_S) if key else math.nan,
        short_runs=len(short),
        readings=_readings(series, stretches, cycles, window, even is True, step),
        running_s=window.running_s if window else math.nan,
        steady=window.steady if window else False,
        why_not=window.why_not if window else _never(stretches),
        settled=even,
        freezer_k_h=_slope_last_hour(series),
        defrosts=_defrosts(series, stretches),
        signs=_signs(series, stretches, short),
    )


def _never(stretches: Sequence[Stretch]) -> str:
    return "it never runs in the log" if stretches else "nothing in the log tells when it runs"


def _readings(
    series: Series,
    stretches: Sequence[Stretch],
    cycles: Sequence[Cycle],
    window: Window | None,
    even: bool,
    step: float,
) -> tuple[LoggedReading, ...]:
    found = []
    if cycles:
        share, sd = run_fraction(cycles, step)
        found.append(
            LoggedReading("run_fraction", share, sd, cycles[0].start_s, cycles[-1].end_s,
                          len(cycles), float(len(cycles)), "%")
        )  # fmt: skip
    else:
        found += _all_the_time(stretches)
    span = _span(series, stretches, window)
    for column in series.columns:
        in_air = column.key in (*COMPARTMENTS, "ambient_temperature")
        if even and in_air:
            reading = _over_cycles(series, cycles, column.key, column.unit)
        elif window is None and not in_air and not _stopped(series, stretches):
            continue  # a coil at rest says nothing of the running machine
        else:
            lag = () if in_air or window is None else _lag(cycles, window)
            reading = _over(series, span, column.key, column.unit, lag)
        if reading is not None:
            found.append(reading)
    if not even and window is not None and _runs_through(stretches, window):
        found += _falling(series, window)
    return tuple(found)


def _runs_through(stretches: Sequence[Stretch], window: Window) -> bool:
    """Whether it ran all through the window and had done so for a while."""
    return any(
        s.state == "running" and s.start_s <= window.end_s - _FALL_S and s.end_s >= window.end_s
        for s in stretches
    )


def _falling(series: Series, window: Window) -> list[LoggedReading]:
    """How fast the freezer falls over the end of a run, falling counted as positive."""
    t, x = series.time_s, series.values("freezer_temperature")
    inside = (t >= window.end_s - _FALL_S) & (t <= window.end_s) & np.isfinite(x)
    if np.count_nonzero(inside) < 3:
        return []
    sd = math.hypot(resolution_of(x), 0.1) / _FALL_S
    column = series.column("freezer_temperature")
    unit = "°F/h" if column is not None and "F" in column.unit.upper() else "K/h"
    return [
        LoggedReading("freezer_cooling_rate", -slope_of(t[inside], x[inside]), sd,
                      window.end_s - _FALL_S, window.end_s, int(inside.sum()), 1.0, unit)
    ]  # fmt: skip


def _span(
    series: Series, stretches: Sequence[Stretch], window: Window | None
) -> tuple[float, float]:
    """The window; where there is none, the last hour, or half an hour of a stopped machine."""
    if window is not None:
        return window.start_s, window.end_s
    end = float(series.time_s[-1])
    back = 0.5 * _HOUR_S if _stopped(series, stretches) else _HOUR_S
    return max(end - back, float(series.time_s[0])), end


def _stopped(series: Series, stretches: Sequence[Stretch]) -> bool:
    """It never ran, for long enough that a thermostat would have called."""
    off = bool(stretches) and all(s.state == "off" for s in stretches)
    return off and float(series.time_s[-1] - series.time_s[0]) >= STILL_S


def _lag(cycles: Sequence[Cycle], window: Window) -> tuple[float, float, float]:
    since = math.inf if math.isnan(window.running_s) else window.running_s
    if not cycles:
        return since, math.nan, math.nan
    run = float(np.median([c.run_s for c in cycles]))
    rest = float(np.median([c.length_s - c.run_s for c in cycles]))
    return since, run, rest


def _over(
    series: Series, span: tuple[float, float], key: str, unit: str, lag: tuple[float, ...]
) -> LoggedReading | None:
    """Mean over a stretch: scatter by its worth, drift, and the logger's step."""
    inside = (series.time_s >= span[0]) & (series.time_s <= span[1])
    x, t = series.values(key)[inside], series.time_s[inside]
    good = np.isfinite(x)
    if not good.any():
        return None
    line = slope_of(t, x)
    flat = x - line * (t - np.mean(t[good]))
    mean = mean_of(flat)
    drift = abs(line) * (span[1] - span[0]) / math.sqrt(12.0)
    sd = math.hypot(mean.sd, drift, resolution_of(series.values(key)) / math.sqrt(12.0))
    floor = 1e-3 if key not in BY_POWER else 1e-3 * LEAST[key]
    return LoggedReading(
        key, float(np.mean(x[good])), max(sd, floor), span[0], span[1], mean.samples, mean.worth,
        unit, *lag,
    )  # fmt: skip


def _over_cycles(
    series: Series, cycles: Sequence[Cycle], key: str, unit: str
) -> LoggedReading | None:
    """Mean over whole cycles: each cycle's mean is one reading."""
    t, x = series.time_s, series.values(key)
    means, samples = [], 0
    for cycle in cycles:
        inside = (t >= cycle.start_s) & (t < cycle.end_s) & np.isfinite(x)
        if inside.any():
            means.append(float(np.mean(x[inside])))
            samples += int(np.count_nonzero(inside))
    if not means:
        return None
    mean = mean_of(np.array(means))
    sd = math.hypot(mean.sd, resolution_of(x) / math.sqrt(12.0))
    return LoggedReading(
        key, mean.value, max(sd, 1e-3), cycles[0].start_s, cycles[-1].end_s, samples, mean.worth,
        unit,
    )  # fmt: skip


def _all_the_time(stretches: Sequence[Stretch]) -> list[LoggedReading]:
    longest = max(
        (s for s in stretches if s.state == "running"), key=lambda s: s.length_s, default=None
    )
    if longest is None or longest.length_s < ALL_THE_TIME_S or longest is not stretches[-1]:
        return []
    return [
        LoggedReading("run_fraction", 1.0, _ALL_THE_TIME_SD, longest.start_s, longest.end_s, 1,
                      1.0, "%")
    ]  # fmt: skip


def _slope_last_hour(series: Series) -> float:
    x = series.values("freezer_temperature")
    last = (series.time_s >= series.time_s[-1] - _HOUR_S) & np.isfinite(x)
    if np.count_nonzero(last) < 3:
        return math.nan
    return slope_of(series.time_s[last], x[last]) * _HOUR_S


def _defrosts(series: Series, stretches: Sequence[Stretch]) -> tuple[Defrosted, ...]:
    t, x = series.time_s, series.values("freezer_temperature")

    def mean(start: float, end: float) -> float:
        inside = (t >= start) & (t <= end) & np.isfinite(x)
        whole = t[0] <= start and end <= t[-1]
        return float(np.mean(x[inside])) if whole and inside.any() else math.nan

    return tuple(
        Defrosted(s.start_s, s.end_s, mean(s.start_s - _HOUR_S, s.start_s),
                  mean(s.end_s + _HOUR_S, s.end_s + 2.0 * _HOUR_S))
        for s in stretches if s.state == "defrost"
    )  # fmt: skip


def _signs(
    series: Series, stretches: Sequence[Stretch], short: Sequence[Stretch]
) -> tuple[tuple[str, bool], ...]:
    """What the log shows as plainly as a person would see or hear it."""
    signs = []
    long_runs = any(s.state == "running" and s.length_s >= _LONG_RUN_S for s in stretches)
    if len(short) >= _SHORT_RUNS and not long_runs:
        signs.append(("compressor_hums_and_trips", True))
    if _swings(series, stretches) >= _SWINGS:
        signs.append(("cools_again_after_warming", True))
    return tuple(signs)


def _swings(series: Series, stretches: Sequence[Stretch]) -> int:
    """Times that an evaporator warmed and cooled again while the compressor ran."""
    count = 0
    for key in ("evaporator_outlet_temperature", "evaporator_inlet_temperature"):
        if series.column(key) is None:
            continue
        tops = 0
        for s in stretches:
            if s.state != "running":
                continue
            x = series.values(key)
            inside = (series.time_s >= s.start_s + _ICE_FROM_S) & (series.time_s <= s.end_s)
            inside &= np.isfinite(x)
            if np.count_nonzero(inside) >= 5:
                tops += find_peaks(x[inside], prominence=_SWING_K)[0].size
        count = max(count, tops)
    return count
