"""Reading a nitrogen hold: leak, tight to a limit, or undecided and how long still."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

import numpy as np

from coldwright.leak.flow import Across
from coldwright.leak.gases import GAS_CONSTANT, GASES
from coldwright.leak.hold_reach import (
    NO_RECORD_SD_K,
    ONE_SIDED,
    HoldNoise,
    as_refrigerant,
    smallest_seen,
    throughput_of_grams,
    time_needed,
)
from coldwright.leak.nitrogen import compensated, concentration
from coldwright.leak.sides import Setting
from coldwright.readings.hold_log import HoldLog

RISES_SCORES = 3.0  # amount of gas growing by so many sd is no leak outwards but a mistake; ours
SMALL_LEAK_G_YR = 5.0  # the leak that a hold is often believed to exclude


class Verdict(Enum):
    """What a hold says."""

    LEAK = "leak"
    TIGHT = "tight"
    UNDECIDED = "undecided"


@dataclass(frozen=True, slots=True)
class PressureHold:
    """The reading of one hold. Rates are throughputs of nitrogen at the gas temperature."""

    verdict: Verdict
    because: str
    span_s: float
    pressure_start_pa: float
    pressure_end_pa: float
    expected_end_pa: float | None  # by temperature alone, real gas; None without a record
    expected_end_ideal_pa: float | None  # by p T2/T1
    rate_pa_m3_s: float
    rate_sd_pa_m3_s: float
    refrigerant_g_yr: tuple[float, float]  # of the upper end for tight, of the estimate for a leak
    limit_g_yr: float
    limit_pa_m3_s: float
    still_needed_s: float  # infinite: not by a hold
    smallest_seen_g_yr: tuple[float, float]  # by this hold, laws' band
    small_leak_needs_s: float  # for SMALL_LEAK_G_YR in this circuit
    notes: tuple[str, ...]


def read_pressure_hold(
    log: HoldLog, setting: Setting, volume_m3: float, limit_g_yr: float, noise: HoldNoise
) -> PressureHold:
    """Read a hold.

    Parameters
    ----------
    log : HoldLog
        Pressures and, where logged, temperatures.
    setting : Setting
        The appliance whose refrigerant will be in it.
    volume_m3 : float
        Volume held, hoses counted. [m3]
    limit_g_yr : float
        Loss of refrigerant, standing, above which it counts as leaking. [g/yr]
    noise : HoldNoise
        How well it was read.

    Returns
    -------
    PressureHold
        Verdict, pressures [Pa], rates [Pa m3/s] and notes.
    """
    notes = list(log.notes)
    recorded = bool(log.temperatures_k)
    if not recorded:
        noise = HoldNoise(noise.pressure_sd_pa, NO_RECORD_SD_K, noise.gauge)
        notes.append("No temperature was logged: the room may have moved by some kelvin.")
    room = setting.room_k
    temperatures = np.array(log.temperatures_k or [room] * len(log.times_s))
    pressures, times = np.array(log.pressures_pa), np.array(log.times_s)
    amounts = np.array([concentration(p, t) for p, t in zip(pressures, temperatures, strict=True)])
    mean_k = float(temperatures.mean())
    slope, slope_sd = _slope(times, amounts, pressures, temperatures, log, noise)
    to_rate = -volume_m3 * GAS_CONSTANT * mean_k
    rate, sd = slope * to_rate, abs(slope_sd * to_rate)
    held = Across(GASES["nitrogen"], float(pressures[0]), setting.air_pa, mean_k)
    limit = throughput_of_grams(limit_g_yr, held, setting)[0]
    start = float(pressures[0])
    still, because, verdict = 0.0, "", Verdict.UNDECIDED
    jump = _jump_at_gap(log, amounts, noise, mean_k)
    if jump is not None:
        because = jump
    elif rate < -RISES_SCORES * sd or (not recorded and pressures[-1] > pressures[0]):
        because = _rise(recorded, float(pressures[-1] - pressures[0]))
    elif rate - ONE_SIDED * sd > 0.0:
        verdict = Verdict.LEAK
        because = "it loses more than pressure, temperature and air pressure can play"
    elif rate + ONE_SIDED * sd < limit:
        verdict = Verdict.TIGHT
        because = f"a leak of {limit_g_yr:g} g/yr would have shown"
    else:
        because = f"a leak of {limit_g_yr:g} g/yr and none look alike so far"
    if verdict is Verdict.UNDECIDED:
        whole = time_needed(
            HoldNoise(noise.pressure_sd_pa, HoldNoise().temperature_sd_k, noise.gauge),
            start, mean_k, volume_m3, limit,
        )  # fmt: skip
        again = jump is not None or (rate < 0.0 and "cannot" in because)
        still = whole if again else max(whole - log.span_s, 0.0)
    shown = rate if verdict is Verdict.LEAK else max(rate, 0.0) + ONE_SIDED * sd
    least = smallest_seen(noise, start, mean_k, volume_m3, log.span_s)
    small = throughput_of_grams(SMALL_LEAK_G_YR, held, setting)[0]
    good = HoldNoise(noise.pressure_sd_pa, HoldNoise().temperature_sd_k, noise.gauge)
    return PressureHold(
        verdict=verdict,
        because=because,
        span_s=log.span_s,
        pressure_start_pa=start,
        pressure_end_pa=float(pressures[-1]),
        expected_end_pa=_expected(start, temperatures, ideal=False) if recorded else None,
        expected_end_ideal_pa=_expected(start, temperatures, ideal=True) if recorded else None,
        rate_pa_m3_s=rate,
        rate_sd_pa_m3_s=sd,
        refrigerant_g_yr=as_refrigerant(shown, held, setting),
        limit_g_yr=limit_g_yr,
        limit_pa_m3_s=limit,
        still_needed_s=still,
        smallest_seen_g_yr=as_refrigerant(least, held, setting),
        small_leak_needs_s=time_needed(good, start, mean_k, volume_m3, small),
        notes=tuple(notes),
    )


def _expected(start_pa: float, temperatures: np.ndarray, *, ideal: bool) -> float:
    return compensated(start_pa, float(temperatures[0]), float(temperatures[-1]), ideal)


def _slope(
    times: np.ndarray,
    amounts: np.ndarray,
    pressures: np.ndarray,
    temperatures: np.ndarray,
    log: HoldLog,
    noise: HoldNoise,
) -> tuple[float, float]:
    """Slope of the amount and its sd [mol/m3/s]: least squares, and what the fit cannot see."""
    centred = times - times.mean()
    spread = float((centred**2).sum())
    slope = float((centred * amounts).sum() / spread)
    mean = float(amounts.mean())
    per_reading = mean * noise.pressure_sd_pa / float(pressures.mean())
    if len(times) > 3:
        left = amounts - amounts.mean() - slope * centred
        per_reading = max(per_reading, float(np.sqrt((left**2).sum() / (len(times) - 2))))
    slow = HoldNoise(0.0, noise.temperature_sd_k, noise.gauge)
    common = mean * slow.amount_sd(float(pressures.mean()), float(temperatures.mean()), log.span_s)
    return slope, math.hypot(per_reading / math.sqrt(spread), common / log.span_s)


def _jump_at_gap(log: HoldLog, amounts: np.ndarray, noise: HoldNoise, mean_k: float) -> str | None:
    """What to say where the amount before and after a gap does not lie on one line."""
    times = np.array(log.times_s)
    for start, end in log.gaps_s:
        before, after = times <= start, times >= end
        if min(before.sum(), after.sum()) < 2:
            continue
        slope = np.polyfit(times[before], amounts[before], 1)
        expected = float(np.polyval(slope, end))
        found = float(amounts[after][0])
        reading = noise.pressure_sd_pa / log.pressures_pa[0]
        sd = abs(expected) * math.hypot(2.0 * reading, noise.temperature_sd_k / mean_k)
        if abs(found - expected) > RISES_SCORES * sd:
            return (
                "the amount of gas jumps in the time that was not logged, so this cannot be "
                "read as one hold: start again"
            )
    return None


def _rise(recorded: bool, change_pa: float) -> str:
    if not recorded:
        return (
            f"the pressure rose by {change_pa / 100.0:.0f} mbar and no temperature was logged: "
            "it warmed, or gas came in, and a leak cannot be told from that"
        )
    return (
        "there is more gas than at the start, which cannot be: a bottle valve that passes, "
        "a thermometer that is not where the gas is, or a gauge that drifts"
    )
