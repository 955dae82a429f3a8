"""Reading a vacuum hold by the shape of its rise: tight, leak, moisture, outgassing.

Each explanation is a curve with unknown parameters; its evidence is the likelihood of the
log averaged over what the parameters may be (D. MacKay, Information Theory, 2003, ch. 28).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from coldwright.errors import require
from coldwright.leak.flow import Across
from coldwright.leak.gases import GASES
from coldwright.leak.hold_reach import ONE_SIDED, as_refrigerant
from coldwright.leak.sides import Setting
from coldwright.leak.water import water_vapour_pressure
from coldwright.readings.hold_log import HoldLog

# A thermal vacuum gauge, one reading against the next; ours. Its scale may be off as a whole.
READING_SD_PA, READING_RELATIVE_SD = 1.5, 0.02
START_SD_PA = 50.0  # how far the true start may lie from the first reading
SURE = 0.8  # probability from which a name is given; ours
# Throughputs of air that a leak may have here, and how gas comes off; ranges are ours.
LEAK_RANGE_PA_M3_S = (1e-6, 1e-1)
GAS_RANGE_PA, TIME_RANGE_S = (10.0, 5000.0), (30.0, 7200.0)
WETTEST_BELOW_ROOM_K = 30.0  # the wet spot cools itself, ice included
# Chances before the log is seen; ours. A leak and gas from oil may come together.
PRIOR = {
    "tight": 0.25,
    "leak": 0.25,
    "moisture": 0.2,
    "outgassing": 0.15,
    "leak_and_outgassing": 0.15,
}
_LOG_AT = math.log(11.0)  # the level of a logarithmic rise is its height after ten times tau
_MOST_POINTS = 40


@dataclass(frozen=True, slots=True)
class Explanation:
    """One reading of the rise with its probability and its best curve."""

    name: str
    probability: float
    leak_pa_m3_s: float  # of air, best fit; 0 where it has none
    levels_at_pa: float  # infinite where it never levels
    time_constant_s: float  # infinite where it has none
    logarithmic: bool  # gas that comes off ever more slowly, without an end
    misfit: float  # root mean square of residuals over their sd [-]


@dataclass(frozen=True, slots=True)
class VacuumHold:
    """The reading of one vacuum hold."""

    verdict: str  # tight, leak, moisture, outgassing or undecided
    because: str
    explanations: tuple[Explanation, ...]  # most likely first
    leak_probability: float  # alone or with outgassing
    span_s: float
    start_pa: float
    end_pa: float
    water_pa: float  # vapour pressure at room temperature
    leak_g_yr: tuple[float, float]  # refrigerant the leak would lose standing; (0, 0) without
    smallest_seen_pa_m3_s: float  # air that this hold would have shown
    smallest_seen_g_yr: tuple[float, float]
    still_needed_s: float  # until the two likeliest part; 0 where decided
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Curves:
    """p = gain * p0 + rise for every parameter set; see `parameters`."""

    name: str
    gain: np.ndarray  # (sets, points)
    rise: np.ndarray
    parameters: np.ndarray  # (sets, 4): leak, level, time, logarithmic


def read_vacuum_hold(log: HoldLog, setting: Setting, volume_m3: float) -> VacuumHold:
    """Read a vacuum hold, pump valved off.

    Parameters
    ----------
    log : HoldLog
        At least four readings.
    setting : Setting
        The appliance; its room temperature is that of the wet spot at most.
    volume_m3 : float
        Volume under vacuum. [m3]

    Returns
    -------
    VacuumHold
        Verdict with probability [-], pressures [Pa] and explanations.

    Raises
    ------
    OutOfRange
        If there are fewer than four readings, or no vacuum.
    """
    require("number of readings", float(len(log.times_s)), "-", 4.0, 1e6)
    require("first pressure", log.pressures_pa[0], "Pa", 0.0, 1e4)
    times, pressures, sd = _averaged(log)
    water = water_vapour_pressure(setting.room_k)
    curves = list(_curves(times, volume_m3, setting.room_k))
    evidence = {c.name: _evidence(c, pressures, sd) for c in curves}
    weights = {n: math.log(PRIOR[n]) + e[0] for n, e in evidence.items()}
    top = max(weights.values())
    total = math.fsum(math.exp(w - top) for w in weights.values())
    found = [
        Explanation(
            n,
            math.exp(weights[n] - top) / total,
            float(evidence[n][1][0]),
            float(evidence[n][1][1]),
            float(evidence[n][1][2]),
            bool(evidence[n][1][3]),
            evidence[n][2],
        )
        for n in weights
    ]
    found.sort(key=lambda e: -e.probability)
    leaks = [e for e in found if e.name in ("leak", "leak_and_outgassing")]
    leak = math.fsum(e.probability for e in leaks)
    chances = {"leak": leak} | {
        e.name: e.probability for e in found if e.name not in ("leak", "leak_and_outgassing")
    }
    best = max(chances, key=lambda n: chances[n])
    verdict = best if chances[best] >= SURE else "undecided"
    air = Across(GASES["air"], pressures[0], setting.air_pa, setting.room_k)
    smallest = _smallest(times, sd, volume_m3)
    rate = max(leaks, key=lambda e: e.probability).leak_pa_m3_s if best == "leak" else 0.0
    still = _parts_after(found, times, pressures, volume_m3) if verdict == "undecided" else 0.0
    notes = [*log.notes]
    fit = found[0].misfit
    if fit > 2.5:
        notes.append("No curve here fits the log well: look at the hoses, the valve and the gauge.")
    return VacuumHold(
        verdict=verdict,
        because=_because(verdict, found[0], water),
        explanations=tuple(found),
        leak_probability=leak,
        span_s=log.span_s,
        start_pa=log.pressures_pa[0],
        end_pa=log.pressures_pa[-1],
        water_pa=water,
        leak_g_yr=as_refrigerant(rate, air, setting) if rate > 0.0 else (0.0, 0.0),
        smallest_seen_pa_m3_s=smallest,
        smallest_seen_g_yr=as_refrigerant(smallest, air, setting),
        still_needed_s=still,
        notes=tuple(notes),
    )


def _averaged(log: HoldLog) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Times, pressures and their sd, neighbours averaged where there are many."""
    blocks = np.array_split(np.arange(len(log.times_s)), min(len(log.times_s), _MOST_POINTS))
    times = np.array([np.mean([log.times_s[i] for i in block]) for block in blocks])
    pressures = np.array([np.mean([log.pressures_pa[i] for i in block]) for block in blocks])
    count = np.array([len(block) for block in blocks])
    return times, pressures, np.hypot(READING_SD_PA, READING_RELATIVE_SD * pressures) / count**0.5


def _curves(times: np.ndarray, volume_m3: float, room_k: float) -> Iterable[_Curves]:
    t = times[None, :]
    one = np.ones_like(t)
    nothing = np.array([[0.0, math.inf, math.inf, 0.0]])
    yield _Curves("tight", one, 0.0 * t, nothing)
    rates = np.geomspace(*LEAK_RANGE_PA_M3_S, 400)
    never = np.full(len(rates), math.inf)
    # The pressure inside stays far below the air's, so the flow is constant.
    yield _Curves(
        "leak",
        np.repeat(one, len(rates), 0),
        rates[:, None] / volume_m3 * t,
        np.column_stack([rates, never, never, 0.0 * rates]),
    )
    taus = np.geomspace(*TIME_RANGE_S, 60)
    spots = np.linspace(room_k - WETTEST_BELOW_ROOM_K, room_k, 60)
    levels = np.array([water_vapour_pressure(k) for k in spots])
    yield _levelling("moisture", t, np.array([0.0]), levels, taus, volume_m3, towards=True)
    gas = np.geomspace(*GAS_RANGE_PA, 60)
    yield _levelling("outgassing", t, np.array([0.0]), gas, taus, volume_m3, towards=False)
    few = np.geomspace(*LEAK_RANGE_PA_M3_S, 48)
    both = "leak_and_outgassing"
    yield _levelling(both, t, few, gas[::2], taus[::3], volume_m3, towards=False)


def _levelling(
    name: str,
    t: np.ndarray,
    rates: np.ndarray,
    levels: np.ndarray,
    taus: np.ndarray,
    volume_m3: float,
    *,
    towards: bool,
) -> _Curves:
    """A rise that levels: towards a pressure (moisture), or by an amount (gas that comes off)."""
    q, level, tau = (a.ravel() for a in np.meshgrid(rates, levels, taus, indexing="ij"))
    left = np.exp(-t / tau[:, None])
    line = q[:, None] / volume_m3 * t
    rise = level[:, None] * (1.0 - left) + line
    found = np.column_stack([q, level, tau, 0.0 * q])
    if towards:
        return _Curves(name, left, rise, found)
    # Gas from an oil film or a wall comes off as 1/t (vacuum textbooks, from memory): half each.
    slow = level[:, None] * np.log1p(t / tau[:, None]) / _LOG_AT + line
    return _Curves(
        name,
        np.ones((2 * len(q), t.shape[1])),
        np.concatenate([rise, slow]),
        np.concatenate([found, np.column_stack([q, level, tau, 1.0 + 0.0 * q])]),
    )


def _evidence(
    curves: _Curves, pressures: np.ndarray, sd: np.ndarray
) -> tuple[float, np.ndarray, float]:
    """Log evidence, parameters and misfit of the best curve; the start is integrated out."""
    weight = 1.0 / sd**2
    off = pressures[None, :] - curves.rise - curves.gain * pressures[0]
    # p0 = first reading + d, d ~ N(0, START_SD): a one-dimensional Gaussian integral.
    a = (curves.gain**2 * weight).sum(1) + 1.0 / START_SD_PA**2
    b = (curves.gain * off * weight).sum(1)
    square = (off**2 * weight).sum(1) - b**2 / a
    log_like = -0.5 * square - 0.5 * np.log(a * START_SD_PA**2)
    best = int(np.argmax(log_like))
    top = float(log_like[best])
    mean = top + math.log(float(np.exp(log_like - top).mean()))
    return mean, curves.parameters[best], math.sqrt(float(square[best]) / len(pressures))


def _smallest(times: np.ndarray, sd: np.ndarray, volume_m3: float) -> float:
    """Air whose straight rise this log would tell from nothing, once in 20 either way."""
    centred = times - times.mean()
    return 2.0 * ONE_SIDED * float(sd.mean()) / math.sqrt(float((centred**2).sum())) * volume_m3


def _parts_after(
    found: Sequence[Explanation], times: np.ndarray, pressures: np.ndarray, volume_m3: float
) -> float:
    """Time from now until the two likeliest curves part [s]; infinite beyond a day."""
    first, second = found[0], found[1]
    p0 = float(pressures[0])

    def at(e: Explanation, t: float) -> float:
        p = p0 + e.leak_pa_m3_s / volume_m3 * t
        if math.isfinite(e.time_constant_s):
            level = e.levels_at_pa - p0 if e.name == "moisture" else e.levels_at_pa
            if e.logarithmic:
                p += level * math.log1p(t / e.time_constant_s) / _LOG_AT
            else:
                p += level * (1.0 - math.exp(-t / e.time_constant_s))
        return p

    end = float(times[-1])
    for t in np.geomspace(max(end, 60.0), 86_400.0, 60):
        one, two = at(first, t), at(second, t)
        sd = math.hypot(READING_SD_PA, READING_RELATIVE_SD * max(one, two))
        if abs(one - two) > 3.0 * sd * math.sqrt(2.0):
            return max(float(t) - end, 60.0)
    return math.inf


def _because(verdict: str, best: Explanation, water_pa: float) -> str:
    if verdict == "undecided":
        return "more than one explanation fits the rise so far"
    if verdict == "tight":
        return "it does not rise more than the gauge wanders"
    if verdict == "moisture":
        return (
            f"it levels near {best.levels_at_pa:.0f} Pa, which water or ice in it would give "
            f"(at most {water_pa:.0f} Pa at room temperature)"
        )
    if verdict == "outgassing":
        return "it rises ever more slowly: gas coming out of the oil"
    return "it goes on rising in a straight line"
