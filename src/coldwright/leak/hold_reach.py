"""What a hold can see at all in this circuit, and how long it takes; and of what refrigerant."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coldwright.leak.flow import FREE, VISCOUS, Across, FlowLaw, scaled
from coldwright.leak.rates import rate_from_throughput
from coldwright.leak.sides import Setting

# Judgements of ours: what two readings some hours apart may differ by though nothing leaks.
GAS_TEMPERATURE_SD_K = 0.5  # the gas against the thermometer, start against end
NO_RECORD_SD_K = 8.0  # room, van or sun over some hours where nobody looked
BAROMETER_SD_PA_DAY = 500.0  # air pressure over a day; grows with the root of time
BAROMETER_MOST_PA = 1500.0
ONE_SIDED = 1.645  # standard normal score of 95 %
LONGEST_S = 30.0 * 86_400.0  # beyond this a hold is no method
LAWS: tuple[FlowLaw, ...] = (VISCOUS, FREE)


@dataclass(frozen=True, slots=True)
class HoldNoise:
    """How well a hold is read; one standard deviation each."""

    pressure_sd_pa: float = 1000.0  # one reading against the next, digital gauge; ours
    temperature_sd_k: float = GAS_TEMPERATURE_SD_K
    gauge: bool = True  # the air pressure's changes are in the readings

    def amount_sd(self, pressure_pa: float, temperature_k: float, time_s: float) -> float:
        """Relative sd of the change of the amount of gas over a time [-], two readings."""
        barometer = 0.0
        if self.gauge:
            grown = BAROMETER_SD_PA_DAY * math.sqrt(time_s / 86_400.0)
            barometer = min(grown, BAROMETER_MOST_PA)
        reading = math.hypot(math.sqrt(2.0) * self.pressure_sd_pa, barometer) / pressure_pa
        return math.hypot(reading, self.temperature_sd_k / temperature_k)


def smallest_seen(
    noise: HoldNoise, pressure_pa: float, temperature_k: float, volume_m3: float, time_s: float
) -> float:
    """Least throughput that a hold tells from nothing [Pa m3/s]: missed once in 20, false once
    in 20.

    Parameters
    ----------
    noise : HoldNoise
        How well it is read.
    pressure_pa : float
        Absolute pressure at the start. [Pa]
    temperature_k : float
        Gas temperature. [K]
    volume_m3 : float
        Volume held. [m3]
    time_s : float
        Length of the hold. [s]

    Returns
    -------
    float
        Throughput. [Pa m3/s]
    """
    relative = noise.amount_sd(pressure_pa, temperature_k, time_s)
    return 2.0 * ONE_SIDED * relative * pressure_pa * volume_m3 / time_s


def time_needed(
    noise: HoldNoise,
    pressure_pa: float,
    temperature_k: float,
    volume_m3: float,
    q_pa_m3_s: float,
) -> float:
    """How long a hold must last to tell that throughput from nothing [s]; infinite beyond a month.

    Parameters
    ----------
    noise : HoldNoise
        How well it is read.
    pressure_pa : float
        Absolute pressure at the start. [Pa]
    temperature_k : float
        Gas temperature. [K]
    volume_m3 : float
        Volume held. [m3]
    q_pa_m3_s : float
        Throughput to be told. [Pa m3/s]

    Returns
    -------
    float
        Time, infinite beyond a month. [s]
    """
    if smallest_seen(noise, pressure_pa, temperature_k, volume_m3, LONGEST_S) > q_pa_m3_s:
        return math.inf
    low, high = 1.0, LONGEST_S
    for _ in range(60):
        middle = math.sqrt(low * high)
        if smallest_seen(noise, pressure_pa, temperature_k, volume_m3, middle) > q_pa_m3_s:
            low = middle
        else:
            high = middle
    return high


def as_refrigerant(q_pa_m3_s: float, state: Across, setting: Setting) -> tuple[float, float]:
    """Refrigerant the same leak loses standing at room temperature, least and most [g/yr].

    Parameters
    ----------
    q_pa_m3_s : float
        Throughput in the hold, positive, at the gas temperature. [Pa m3/s]
    state : Across
        Gas and pressures of the hold; air coming in has the lower pressure inside.
    setting : Setting
        The appliance with its charge complete.

    Returns
    -------
    tuple
        Least and most. [g/yr]
    """
    full = Setting(setting.gas, setting.room_k, setting.air_pa, setting.total_m3, setting.high_m3)
    standing = Across(full.gas, full.standing_pa(), full.air_pa, full.room_k)
    grams = [
        rate_from_throughput(
            q_pa_m3_s * abs(scaled(law, state, standing)), full.gas, state.temperature_k
        ).g_yr
        for law in LAWS
    ]
    return float(min(grams)), float(max(grams))


def throughput_of_grams(g_yr: float, state: Across, setting: Setting) -> tuple[float, float]:
    """The inverse: throughputs in the hold that may stand for that loss, least and most.

    Parameters
    ----------
    g_yr : float
        Refrigerant lost standing at room temperature. [g/yr]
    state : Across
        Gas and pressures of the hold.
    setting : Setting
        The appliance.

    Returns
    -------
    tuple
        Least and most. [Pa m3/s]
    """
    low, high = as_refrigerant(1.0, state, setting)
    return g_yr / high, g_yr / low
