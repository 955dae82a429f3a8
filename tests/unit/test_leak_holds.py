"""Holds read from simulated logs: the truth comes out as often as is claimed."""

import numpy as np
import pytest

from coldwright.errors import OutOfRange
from coldwright.leak.flow import Across
from coldwright.leak.gases import GAS_CONSTANT, GASES
from coldwright.leak.hold_reach import (
    BAROMETER_SD_PA_DAY,
    GAS_TEMPERATURE_SD_K,
    HoldNoise,
    throughput_of_grams,
)
from coldwright.leak.nitrogen import compensated, concentration
from coldwright.leak.pressure_hold import Verdict, read_pressure_hold
from coldwright.leak.sides import Setting
from coldwright.leak.vacuum_hold import (
    PRIOR,
    READING_RELATIVE_SD,
    READING_SD_PA,
    read_vacuum_hold,
)
from coldwright.leak.water import water_vapour_pressure
from coldwright.readings.hold_log import HoldLog

SETTING = Setting(GASES["R134a"], 296.15)
VOLUME = 2.2e-3
START = 11.01325e5


def hold_log(rng, hours, q, *, points=25, swing_k=2.0, recorded=True, noise=True):
    """A nitrogen hold that leaks q [Pa m3/s] in a room that swings, with instrument errors."""
    t = np.linspace(0.0, hours * 3600.0, points)
    gas = 296.15 + swing_k * np.sin(t / 14_000.0)
    amount = concentration(START, 296.15) - q * t / (GAS_CONSTANT * 296.15 * VOLUME)
    p = np.array([
        compensated(a / concentration(START, 296.15) * START, 296.15, k)
        for a, k in zip(amount, gas, strict=True)
    ])  # fmt: skip
    shown = gas.copy()
    if noise:
        p = p + rng.normal(0.0, HoldNoise().pressure_sd_pa, points)
        drift = rng.normal(0.0, BAROMETER_SD_PA_DAY * (hours / 24.0) ** 0.5)
        p = p + drift * t / t[-1]
        shown = shown + rng.normal(0.0, GAS_TEMPERATURE_SD_K) * t / t[-1]
    temperatures = tuple(shown) if recorded else ()
    return HoldLog("log", tuple(t), tuple(p), temperatures, gauge=True)


def test_without_noise_the_rate_is_recovered():
    log = hold_log(None, 12.0, 3e-4, noise=False)
    read = read_pressure_hold(log, SETTING, VOLUME, 40.0, HoldNoise())
    assert read.rate_pa_m3_s == pytest.approx(3e-4, rel=0.01)
    assert read.verdict is Verdict.LEAK
    assert read.expected_end_pa == pytest.approx(log.pressures_pa[-1], abs=8000.0)


def test_verdicts_err_as_rarely_as_they_say():
    """A tight circuit is called leaking, and a leak at the limit tight, once in 20 at most."""
    rng = np.random.default_rng(7)
    held = Across(GASES["nitrogen"], START, temperature_k=296.15)
    limit = throughput_of_grams(200.0, held, SETTING)[0]
    false = missed = decided = 0
    for _ in range(150):
        log = hold_log(rng, 24.0, 0.0)
        read = read_pressure_hold(log, SETTING, VOLUME, 200.0, HoldNoise())
        false += read.verdict is Verdict.LEAK
        decided += read.verdict is not Verdict.UNDECIDED
        log = hold_log(rng, 24.0, limit)
        read = read_pressure_hold(log, SETTING, VOLUME, 200.0, HoldNoise())
        missed += read.verdict is Verdict.TIGHT
    # 150 at 5 % each: 7.5 expected, sd 2.7; 15 is beyond three of them.
    assert false <= 15
    assert missed <= 15
    assert decided > 100


def test_short_hold_is_undecided_and_says_how_long():
    rng = np.random.default_rng(3)
    read = read_pressure_hold(hold_log(rng, 1.0, 0.0), SETTING, VOLUME, 40.0, HoldNoise())
    assert read.verdict is Verdict.UNDECIDED
    assert 12 * 3600.0 < read.still_needed_s < 20 * 86_400.0
    assert read.smallest_seen_g_yr[0] > 40.0
    assert read.small_leak_needs_s > read.still_needed_s
    whole = hold_log(rng, read.still_needed_s / 3600.0 + 1.5, 0.0, points=60)
    again = read_pressure_hold(whole, SETTING, VOLUME, 40.0, HoldNoise())
    assert again.smallest_seen_g_yr[0] < 60.0


def test_rise_without_record_is_no_proof_of_tightness():
    log = HoldLog("log", (0.0, 86_400.0), (START, START + 9000.0), (), gauge=True)
    read = read_pressure_hold(log, SETTING, VOLUME, 1e4, HoldNoise())
    assert read.verdict is Verdict.UNDECIDED
    assert "no temperature was logged" in read.because
    assert read.still_needed_s > 0.0


def test_more_gas_than_before_is_a_mistake_not_tightness():
    log = HoldLog("log", (0.0, 86_400.0), (START, START + 9000.0), (296.15, 296.15), gauge=True)
    read = read_pressure_hold(log, SETTING, VOLUME, 1e4, HoldNoise())
    assert read.verdict is Verdict.UNDECIDED
    assert "bottle valve" in read.because


def test_jump_in_a_gap_is_not_read_as_one_hold():
    t = [0.0, 300.0, 600.0, 900.0, 1200.0, 20_000.0, 20_300.0, 20_600.0]
    p = [START] * 5 + [START - 60_000.0] * 3
    log = HoldLog("log", tuple(t), tuple(p), (296.15,) * 8, True, ((1200.0, 20_000.0),))
    read = read_pressure_hold(log, SETTING, VOLUME, 40.0, HoldNoise())
    assert read.verdict is Verdict.UNDECIDED
    assert "not logged" in read.because


def vacuum_log(rng, curve, minutes=30, points=31):
    t = np.linspace(0.0, minutes * 60.0, points)
    p = curve(t)
    p = p + rng.normal(0.0, np.hypot(READING_SD_PA, READING_RELATIVE_SD * p))
    return HoldLog("log", tuple(t), tuple(np.maximum(p, 0.1)))


CURVES = {
    "tight": lambda t: 66.0 + 0.0 * t,
    "leak": lambda t: 66.0 + 3e-4 / VOLUME * t,
    "moisture": lambda t: 1500.0 - 1434.0 * np.exp(-t / 400.0),
    "outgassing": lambda t: 66.0 + 120.0 * (1.0 - np.exp(-t / 300.0)),
}


@pytest.mark.parametrize("name", CURVES)
def test_clear_shapes_are_named(name):
    found = read_vacuum_hold(vacuum_log(np.random.default_rng(5), CURVES[name]), SETTING, VOLUME)
    assert found.verdict == name
    assert sum(e.probability for e in found.explanations) == pytest.approx(1.0)
    assert found.still_needed_s == 0.0
    if name == "leak":
        assert found.leak_g_yr[0] < found.leak_g_yr[1]
        best = found.explanations[0]
        assert best.leak_pa_m3_s == pytest.approx(3e-4, rel=0.1)
    else:
        assert found.leak_g_yr == (0.0, 0.0)


def test_probabilities_are_calibrated():
    """Shapes drawn from what is held possible: the mean chance given to the truth's rivals
    matches how often they are true."""
    rng = np.random.default_rng(11)
    names = tuple(PRIOR)
    given = dict.fromkeys(names, 0.0)
    true = dict.fromkeys(names, 0)
    score = 0.0
    for _ in range(80):
        name = str(rng.choice(names, p=list(PRIOR.values())))
        q = float(np.exp(rng.uniform(np.log(1e-6), np.log(1e-1))))
        tau = float(np.exp(rng.uniform(np.log(30.0), np.log(7200.0))))
        level = float(np.exp(rng.uniform(np.log(10.0), np.log(5000.0))))
        spot = water_vapour_pressure(296.15 - rng.uniform(0.0, 30.0))
        curves = {
            "tight": lambda t: 66.0 + 0.0 * t,
            "leak": lambda t, q=q: 66.0 + q / VOLUME * t,
            "moisture": lambda t, s=spot, u=tau: s - (s - 66.0) * np.exp(-t / u),
            "outgassing": lambda t, a=level, u=tau: 66.0 + a * (1.0 - np.exp(-t / u)),
            "leak_and_outgassing": lambda t, a=level, u=tau, q=q: (
                66.0 + q / VOLUME * t + a * (1.0 - np.exp(-t / u))
            ),
        }
        found = read_vacuum_hold(vacuum_log(rng, curves[name]), SETTING, VOLUME)
        true[name] += 1
        for e in found.explanations:
            given[e.name] += e.probability
            score += np.log(max(e.probability, 1e-3)) * (e.name == name)
    # A chance of one in five each would score ln 0.2 = -1.61 a log.
    assert score / 80 > -1.0
    for name in names:
        assert abs(given[name] - true[name]) < 12.0  # three sd of a count near 16 of 80


def test_short_ambiguous_rise_asks_for_more_time():
    log = vacuum_log(np.random.default_rng(2), lambda t: 66.0 + 0.1 * t, minutes=8, points=9)
    found = read_vacuum_hold(log, SETTING, VOLUME)
    assert found.verdict == "undecided"
    assert found.still_needed_s > 60.0


def test_vacuum_hold_needs_a_shape():
    with pytest.raises(OutOfRange):
        read_vacuum_hold(HoldLog("log", (0.0, 60.0), (66.0, 70.0)), SETTING, VOLUME)
    with pytest.raises(OutOfRange):
        read_vacuum_hold(HoldLog("log", (0.0, 1.0, 2.0, 3.0), (1e5,) * 4), SETTING, VOLUME)


def test_what_it_could_have_seen_grows_with_shortness():
    rng = np.random.default_rng(2)
    short = read_vacuum_hold(vacuum_log(rng, CURVES["tight"], 5, 6), SETTING, VOLUME)
    long = read_vacuum_hold(vacuum_log(rng, CURVES["tight"], 60, 61), SETTING, VOLUME)
    assert short.smallest_seen_pa_m3_s > 5.0 * long.smallest_seen_pa_m3_s
    assert long.smallest_seen_g_yr[0] > 5.0  # even an hour says nothing of 5 g/yr
