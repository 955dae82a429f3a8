"""A log reduced: worth of correlated samples, phases, cycles, the window, defrosts, signs."""

import math

import numpy as np
import pytest

from coldwright.errors import OutOfRange
from coldwright.logged.averages import mean_of, resolution_of, slope_of
from coldwright.logged.cycles import Cycle, run_fraction, settled
from coldwright.logged.phases import sensed_by, stretches_of
from coldwright.logged.reduce import course_of
from coldwright.readings.course import LoggedReading
from coldwright.readings.series import Column, Series


def autoregressive(shape, rho, rng):
    """Stationary first-order series of unit variance along the last axis."""
    x = rng.standard_normal(shape)
    fresh = math.sqrt(1.0 - rho * rho)
    for i in range(1, shape[-1]):
        x[..., i] = rho * x[..., i - 1] + fresh * x[..., i]
    return x


def log(minutes, step=1.0, started="", **columns):
    t = np.arange(0.0, minutes, step) * 60.0
    made = tuple(
        Column(k, np.broadcast_to(np.asarray(v, float), t.shape).copy(), "K")
        for k, v in columns.items()
    )
    return Series("x.csv", started, t, made)


def times(minutes, step=1.0):
    return np.arange(0.0, minutes, step)


def reading(course, key):
    return next((r for r in course.readings if r.key == key), None)


# averages


@pytest.mark.parametrize(("rho", "n"), [(0.0, 200), (0.5, 200), (0.8, 400), (0.95, 1000)])
def test_interval_of_a_mean_covers_at_its_rate(rho, n):
    """Nominal 90 % within three binomial standard deviations of 2000 series (0.020).

    The t law with n_eff - 1 degrees of freedom is itself approximate (Zwiers & von Storch 1995):
    0.01 is allowed for that.
    """
    x = autoregressive((2000, n), rho, np.random.default_rng(int(100 * rho) + n))
    covered = 0
    for row in x:
        low, high = mean_of(row).interval(0.9)
        covered += low <= 0.0 <= high
    assert covered / 2000 == pytest.approx(0.9, abs=0.03)


@pytest.mark.parametrize("rho", [0.3, 0.6, 0.9])
def test_a_thousand_samples_are_worth_what_their_correlation_leaves(rho):
    """n_eff = n (1 - rho) / (1 + rho), Priestley (1981), section 5.3 (from memory)."""
    rng = np.random.default_rng(9)
    worth = np.mean([mean_of(autoregressive((1000,), rho, rng)).worth for _ in range(40)])
    assert worth == pytest.approx(1000 * (1 - rho) / (1 + rho), rel=0.1)
    white = np.mean([mean_of(rng.standard_normal(1000)).worth for _ in range(40)])
    assert white > 940.0


def test_few_or_equal_samples():
    assert mean_of(np.array([3.0])).sd == 0.0
    assert mean_of(np.array([3.0, math.nan, 3.0])).value == 3.0
    assert mean_of(np.full(50, 2.5)).worth == 50.0
    two = mean_of(np.array([1.0, 2.0]))
    assert two.spread == pytest.approx(0.5)
    assert two.sd > two.spread  # Student's t with one degree of freedom
    with pytest.raises(OutOfRange):
        mean_of(np.array([math.nan]))


def test_slope_and_resolution():
    t = np.arange(10.0)
    assert slope_of(t, 3.0 - 0.5 * t) == pytest.approx(-0.5)
    assert slope_of(t[:2], t[:2]) == 0.0
    assert resolution_of(np.array([1.0, 1.5, 1.5, 3.0])) == pytest.approx(0.5)
    assert resolution_of(np.ones(4)) == 0.0


# phases


def cycling(minutes=720, on=20, period=50, high=90.0, low=6.0, seed=1):
    t = times(minutes)
    rng = np.random.default_rng(seed)
    running = (t + 13) % period < on
    return running, np.where(running, high, low) + rng.normal(0, 0.5, t.size)


@pytest.mark.parametrize("key", ["appliance_power", "compressor_power"])
def test_phases_by_power_are_the_true_ones(key):
    running, power = cycling()
    stretches = stretches_of(log(720, **{key: power}))
    truth = np.flatnonzero(np.diff(running.astype(int)))
    edges = [s.start_s / 60.0 for s in stretches[1:]]
    assert edges == pytest.approx(truth + 0.5)
    assert not stretches[0].whole
    assert not stretches[-1].whole
    assert all(s.whole for s in stretches[1:-1])


def test_phases_by_current_and_by_a_discharge_line():
    running, power = cycling()
    by_current = stretches_of(log(720, appliance_current=power / 200.0))
    x, line = 310.0, []
    for on in running:
        x += ((330.0 if on else 298.0) - x) / 15.0
        line.append(x)
    noisy = np.array(line) + np.random.default_rng(2).normal(0, 0.1, len(line))
    by_heat = stretches_of(log(720, discharge_line_temperature=noisy))
    inner = [s.start_s for s in by_current[2:-1]]
    assert [s.state for s in by_heat[1:]][: len(inner)] == [s.state for s in by_current[1:]][
        : len(inner)
    ]
    for start in inner:
        assert min(abs(start - s.start_s) for s in by_heat) <= 120.0


def test_one_level_is_told_by_what_nothing_pumps_below():
    assert {s.state for s in stretches_of(log(60, appliance_power=80.0))} == {"running"}
    assert {s.state for s in stretches_of(log(60, appliance_power=4.0))} == {"off"}
    assert stretches_of(log(60, freezer_temperature=255.0)) == ()
    assert sensed_by(log(60, freezer_temperature=255.0)) == ""
    assert sensed_by(log(60, shell_temperature=300.0, appliance_power=3.0)) == "appliance_power"


def test_a_dropped_sample_is_no_stop():
    power = np.full(600, 90.0)
    power[300] = 0.0
    stretches = stretches_of(log(100, step=1 / 6, appliance_power=power))
    assert [s.state for s in stretches] == ["running"]


def test_a_heater_is_a_defrost_and_an_inrush_is_none():
    _, power = cycling(minutes=1200)
    power[7] = 900.0  # at a start
    power[400:425] = 350.0
    freezer = np.where(times(1200) < 410, 262.0, 258.0)
    course = course_of(log(1200, appliance_power=power, freezer_temperature=freezer))
    (one,) = course.defrosts
    assert (one.start_s / 60.0, one.end_s / 60.0) == pytest.approx((399.5, 424.5))
    assert one.freezer_before_k - one.freezer_after_k == pytest.approx(4.0)
    assert sum(s.state == "defrost" for s in course.stretches) == 1


def test_a_weak_heater_is_told_by_the_warming_coil():
    _, power = cycling(minutes=600, on=30, period=60)
    power[300:330] = 100.0
    coil = np.full(600, 248.0)
    coil[300:330] = np.linspace(248.0, 281.0, 30)
    coil[330:345] = 270.0
    plain = course_of(log(600, appliance_power=power))
    told = course_of(log(600, appliance_power=power, evaporator_outlet_temperature=coil))
    assert plain.defrosts == ()
    assert len(told.defrosts) == 1


# cycles


def test_run_fraction_over_whole_cycles_with_its_doubt():
    _, power = cycling()
    course = course_of(log(720, appliance_power=power))
    share = reading(course, "run_fraction")
    assert course.cycles == 13
    assert share.value == pytest.approx(0.4, abs=0.002)
    assert 0.005 < share.sd < 0.05
    assert course.starts_per_hour == pytest.approx(14 / 12, abs=0.1)
    short = course_of(log(130, appliance_power=power[:130]))
    assert reading(short, "run_fraction").sd > 2.0 * share.sd


def test_doubt_of_the_run_fraction_is_the_real_scatter():
    """Means of 12 cycles drawn 1500 times scatter as much as is told, within a tenth."""
    rng = np.random.default_rng(3)
    shares, told = [], []
    for _ in range(1500):
        length = rng.normal(3000.0, 200.0, 12)
        run = length * np.clip(rng.normal(0.45, 0.15, 12), 0.05, 0.95)
        made = [Cycle(0.0, b, r) for b, r in zip(length, run, strict=True)]
        share, sd = run_fraction(made, 60.0)
        shares.append(share)
        told.append(sd)
    assert np.mean(told) == pytest.approx(np.std(shares), rel=0.1)


def test_drifting_cycles_are_not_settled():
    t = times(720)
    cycles = [Cycle(60.0 * a, 60.0 * (a + 50), 1200.0) for a in range(0, 700, 50)]
    assert settled(cycles, 60.0 * t, [np.full(720, 255.0)]) is True
    assert settled(cycles, 60.0 * t, [255.0 + t / 200.0]) is False
    assert settled(cycles[:2], 60.0 * t, []) is None


def test_running_all_the_time_is_a_run_fraction_of_one():
    course = course_of(log(300, appliance_power=80.0))
    assert reading(course, "run_fraction").value == 1.0
    assert reading(course_of(log(100, appliance_power=80.0)), "run_fraction") is None


# the window


def test_steady_window_of_a_long_run_has_the_known_means():
    t, rng = times(240), np.random.default_rng(8)
    on = t >= 30
    rise = 1.0 - np.exp(-np.maximum(t - 30, 0) / 10.0)
    series = log(
        240, appliance_power=np.where(on, 90.0, 5.0) + rng.normal(0, 0.3, 240),
        condenser_middle_temperature=298.0 + 14.0 * rise + rng.normal(0, 0.05, 240),
        freezer_temperature=268.0 + 0.0 * t,
    )  # fmt: skip
    course = course_of(series)
    assert course.steady
    assert course.running_s > 1800.0
    middle = reading(course, "condenser_middle_temperature")
    assert middle.value == pytest.approx(312.0, abs=4 * middle.sd)
    assert middle.sd < 0.2
    assert middle.start_s >= 60.0 * 60.0
    assert reading(course, "appliance_power").value == pytest.approx(90.0, abs=0.5)
    assert course.settled is None


def test_a_short_run_is_told_and_its_drift_widens_the_doubt():
    running, power = cycling()
    x, line = 300.0, []
    for on in running:
        x += ((330.0 if on else 298.0) - x) / 15.0
        line.append(x)
    course = course_of(log(720, appliance_power=power, shell_temperature=np.array(line)))
    assert not course.steady
    assert "30 min" in course.why_not
    shell = reading(course, "shell_temperature")
    assert shell.sd > 1.0
    assert shell.since_s < 1200.0
    assert (shell.run_s, shell.rest_s) == pytest.approx((1200.0, 1800.0), abs=60.0)


def test_lag_left_in_a_cycling_machine_is_the_periodic_solution():
    """First-order lag under a square wave, marched until periodic."""
    tau, run, rest, since = 2700.0, 1200.0, 1800.0, 900.0
    gap, dt = 1.0, 1.0  # share of the way from rest to steady still to go
    for _ in range(60):
        for i in range(int(run + rest)):
            target = 0.0 if i < run else 1.0
            if i == int(since):
                seen = gap
            gap += (target - gap) * dt / tau
    mean = LoggedReading("shell_temperature", 300.0, 0.1, 0.0, 1.0, 5, 2.0, "K", since, run, rest)
    assert mean.lag_left(tau) == pytest.approx(seen, rel=2e-3)
    alone = LoggedReading("shell_temperature", 300.0, 0.1, 0.0, 1.0, 5, 2.0, "K", since)
    assert alone.lag_left(tau) == pytest.approx(math.exp(-since / tau))


def test_a_machine_that_never_runs_is_read_after_four_hours_only():
    short = course_of(log(120, appliance_power=3.0, shell_temperature=296.0))
    assert reading(short, "appliance_power") is None
    long = course_of(log(300, appliance_power=3.0, shell_temperature=296.0))
    assert reading(long, "appliance_power").value == pytest.approx(3.0)
    assert reading(long, "shell_temperature").value == pytest.approx(296.0)
    assert not long.steady


def test_without_power_or_shell_only_the_air_is_read():
    series = log(120, freezer_temperature=255.0, condenser_outlet_temperature=300.0)
    course = course_of(series)
    assert [r.key for r in course.readings] == ["freezer_temperature"]


def test_quantised_readings_keep_half_a_step_of_doubt():
    x = np.where(times(200) % 2 < 1, 255.0, 255.5)
    freezer = reading(course_of(log(200, appliance_power=80.0, freezer_temperature=x)),
                      "freezer_temperature")  # fmt: skip
    assert freezer.sd >= 0.5 / math.sqrt(12.0)


# signs


def test_short_runs_alone_are_an_overload_that_trips():
    t = times(120)
    power = np.where(t % 12 < 1, 600.0, 3.0)
    course = course_of(log(120, appliance_power=power))
    assert ("compressor_hums_and_trips", True) in course.signs
    assert course.short_runs >= 3
    _, ordinary = cycling()
    assert course_of(log(720, appliance_power=ordinary)).signs == ()


def test_ice_that_comes_and_goes_is_a_sign():
    t = times(600)
    coil = 245.0 + 25.0 * np.clip(np.sin(2 * np.pi * t / 150.0), 0.0, None) ** 2
    course = course_of(log(600, appliance_power=80.0, evaporator_outlet_temperature=coil))
    assert ("cools_again_after_warming", True) in course.signs
    steady = course_of(log(600, appliance_power=80.0, evaporator_outlet_temperature=245.0))
    assert steady.signs == ()


def test_freezers_slope_of_the_last_hour():
    t = times(240)
    course = course_of(log(240, appliance_power=80.0, freezer_temperature=280.0 - t / 30.0))
    assert course.freezer_k_h == pytest.approx(-2.0)


# the pace of a cabinet on its way


def test_a_freezer_that_falls_while_it_runs_gives_its_pace():
    t = times(240)
    course = course_of(log(240, appliance_power=90.0, freezer_temperature=280.0 - 2.4 * t / 60.0))
    pace = reading(course, "freezer_cooling_rate")
    assert pace.value == pytest.approx(2.4 / 3600.0, rel=0.02)
    assert pace.end_s - pace.start_s == pytest.approx(1800.0)
    assert 0.0 < pace.sd < 0.5 / 3600.0
    warming = course_of(log(240, appliance_power=90.0, freezer_temperature=280.0 + t / 60.0))
    assert reading(warming, "freezer_cooling_rate").value == pytest.approx(-1.0 / 3600.0, rel=0.02)


def test_no_pace_where_it_cycles_or_rests():
    t = times(600)
    power = np.where(t % 60 < 30, 90.0, 3.0)
    cycles = course_of(log(600, appliance_power=power, freezer_temperature=255.0))
    assert cycles.settled
    assert reading(cycles, "freezer_cooling_rate") is None
    rest = course_of(log(300, appliance_power=3.0, freezer_temperature=270.0 + times(300) / 60.0))
    assert reading(rest, "freezer_cooling_rate") is None
