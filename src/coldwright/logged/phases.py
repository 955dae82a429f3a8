"""When the compressor ran, stood, and when a heater defrosted, told from a log.

By power or current: the levels are found in the log itself. Without either, by the discharge
line or the shell, which turn at every start and stop. Limits without a source are ours.
"""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from scipy.signal import find_peaks

from coldwright.logged.averages import slope_of
from coldwright.readings.course import Stretch
from coldwright.readings.series import Series

BY_POWER = ("compressor_power", "compressor_current", "appliance_power", "appliance_current")
BY_HEAT = ("discharge_line_temperature", "shell_temperature")
_OF_APPLIANCE = ("appliance_power", "appliance_current")
# Below these nothing pumps: fans, lamp and electronics draw as much
LEAST = {"compressor_power": 15.0, "appliance_power": 25.0,
         "compressor_current": 0.1, "appliance_current": 0.15}  # fmt: skip
_APART = 0.3  # of the running level that on and off must differ by
_HEATER = 1.6  # times the running level from which it is a heater's
_HEATER_S = (180.0, 3600.0)  # how long a defrost heats
_WARMED_K = 8.0  # rise of an evaporator in a defrost, to above freezing
_NO_PAUSE_S = 60.0  # a shorter pause is none: it could not start against the pressure
_TURN_K = 4.0  # swing of a discharge line or shell from which a turn is a start or a stop
_HOT_K = 8.0  # above the coolest it has been: a shell that is at work


def sensed_by(series: Series) -> str:
    """The reading that tells whether it runs, empty where none does.

    Parameters
    ----------
    series : Series
        The log.

    Returns
    -------
    str
        A column of the log, or empty.
    """
    for key in (*BY_POWER, *BY_HEAT):
        column = series.column(key)
        if column is not None and np.count_nonzero(np.isfinite(column.values)) >= 3:
            return key
    return ""


def stretches_of(series: Series) -> tuple[Stretch, ...]:
    """The log as stretches of running, off and defrost; empty where nothing tells them.

    Parameters
    ----------
    series : Series
        The log.

    Returns
    -------
    tuple of Stretch
        In order of time, or empty. [s]
    """
    key = sensed_by(series)
    if not key:
        return ()
    good = np.isfinite(series.values(key))
    t, x = series.time_s[good], series.values(key)[good]
    states = _by_power(key, t, x, series) if key in BY_POWER else _by_heat(t, x)
    return _joined(t, states)


def _by_power(key: str, t: np.ndarray, x: np.ndarray, series: Series) -> np.ndarray:
    """0 off, 1 running, 2 defrost, for each sample."""
    least = LEAST[key]
    heats = np.zeros(x.size, dtype=bool)
    at_work = x[x > least]
    if key in _OF_APPLIANCE and at_work.size:
        heats = _lasting(t, x > _HEATER * np.median(at_work), *_HEATER_S)
    rest = x[~heats]
    if rest.size == 0:
        return np.full(x.size, 2)
    low, high = np.quantile(rest, 0.02), np.quantile(rest, 0.98)
    # Levels as the means of what lies below and above the middle, turned until they stay.
    limit = 0.5 * (low + high)
    for _ in range(50):
        below, above = rest[rest <= limit], rest[rest > limit]
        if not (below.size and above.size):
            break
        new = 0.5 * (below.mean() + above.mean())
        if abs(new - limit) < 1e-9:
            break
        limit = new
    below, above = rest[rest <= limit], rest[rest > limit]
    two = below.size and above.size and above.mean() - below.mean() > max(
        0.6 * least, _APART * above.mean()
    )  # fmt: skip
    running = x > (max(limit, 0.5 * least) if two and above.mean() > least else least)
    states = np.where(heats, 2, np.where(running, 1, 0))
    return _warmed(t, states, series) if key in _OF_APPLIANCE else states


def _warmed(t: np.ndarray, states: np.ndarray, series: Series) -> np.ndarray:
    """A run in which the evaporator warms to above freezing is a heater of about its power."""
    keys = ("evaporator_inlet_temperature", "evaporator_outlet_temperature")
    coil = next((c.values for k in keys if (c := series.column(k)) is not None), None)
    if coil is None:
        return states
    out = states.copy()
    for first, last in _runs(states == 1):
        inside = (series.time_s >= t[first]) & (series.time_s <= t[last]) & np.isfinite(coil)
        long_enough = _HEATER_S[0] <= t[last] - t[first] <= _HEATER_S[1]
        if long_enough and np.count_nonzero(inside) >= 3:
            v = coil[inside]
            if v[-1] - v[0] >= _WARMED_K and v[-1] > 273.15:
                out[first : last + 1] = 2
    return out


def _by_heat(t: np.ndarray, x: np.ndarray) -> np.ndarray:
    """Rising from each low turn, falling from each high one."""
    tops = find_peaks(x, prominence=_TURN_K)[0]
    dips = find_peaks(-x, prominence=_TURN_K)[0]
    turns = sorted([(int(i), 0) for i in tops] + [(int(i), 1) for i in dips])
    if not turns:
        rising = slope_of(t, x) * (t[-1] - t[0]) > _TURN_K
        hot = float(np.median(x)) > 273.15 + 25.0 + _HOT_K
        return np.full(x.size, 1 if rising or hot else 0)
    states = np.full(x.size, 1 - turns[0][1])
    for i, state in turns:
        states[i:] = state
    return states


def _lasting(t: np.ndarray, on: np.ndarray, low: float, high: float) -> np.ndarray:
    """Only the runs of `on` that last between low and high. [s]"""
    out = np.zeros(on.size, dtype=bool)
    for first, last in _runs(on):
        start, end = _edges(t, first, last)
        if low <= end - start <= high:
            out[first : last + 1] = True
    return out


def _runs(on: np.ndarray) -> list[tuple[int, int]]:
    """First and last index of each run of True."""
    steps = np.diff(np.concatenate(([0], on.astype(int), [0])))
    return list(zip(np.flatnonzero(steps == 1), np.flatnonzero(steps == -1) - 1, strict=True))


def _edges(t: np.ndarray, first: int, last: int) -> tuple[float, float]:
    """Half way to the neighbouring samples."""
    start = t[first] if first == 0 else 0.5 * (t[first - 1] + t[first])
    end = t[last] if last == t.size - 1 else 0.5 * (t[last] + t[last + 1])
    return float(start), float(end)


def _joined(t: np.ndarray, states: np.ndarray) -> tuple[Stretch, ...]:
    names = ("off", "running", "defrost")
    pieces: list[tuple[int, float, float]] = []
    changes = np.flatnonzero(np.diff(states)) + 1
    bounds = [0, *changes.tolist(), states.size]
    for first, after in pairwise(bounds):
        start, end = _edges(t, first, after - 1)
        pieces.append((int(states[first]), start, end))
    merged: list[tuple[int, float, float]] = []
    for i, (state, start, end) in enumerate(pieces):
        inner = 0 < i < len(pieces) - 1
        blip = inner and state == 0 and end - start < _NO_PAUSE_S and pieces[i - 1][0] == 1
        if merged and (blip or state == merged[-1][0]):
            merged[-1] = (merged[-1][0], merged[-1][1], end)
        else:
            merged.append((state, start, end))
    last = len(merged) - 1
    return tuple(
        Stretch(names[state], start, end, 0 < i < last)
        for i, (state, start, end) in enumerate(merged)
    )
