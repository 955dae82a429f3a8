"""The error law against scipy's densities and against the catalogue's covariance."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from coldwright.catalogue.reading_errors import covariance, shown, unsettled_share
from coldwright.diagnosis.likelihood import (
    DEGREES,
    LAG_DOUBT,
    MODEL_SHARED,
    _moments,
    draw_readings,
    log_likelihood,
    setup,
)
from coldwright.diagnosis.predict import COLUMNS
from tests.inference.invented import TOOLS

NAN = float("nan")
KEYS = sorted(COLUMNS)
LOG_ATOL = 1e-9  # two ways of rounding a Cholesky factor
MOMENT_RTOL = 1e-12


def _usual(key: str) -> float:
    """A value of the right size for a reading."""
    return {
        "power": 90.0, "current": 0.8, "fraction": 0.6, "time": 300.0, "pressure": 3e5,
        "mass": 0.1, "temperature": 285.0, "rate": 7e-4,
    }[key.rsplit("_", 1)[1]]  # fmt: skip


def _draw(rng: np.random.Generator, members: int):
    """Random readings, instruments, stated uncertainties and members."""
    keys = list(rng.choice(KEYS, size=int(rng.integers(1, 11)), replace=False))
    chosen = [TOOLS[k] for k in keys]
    middle = np.array([_usual(k) for k in keys])
    truth = middle * (1.0 + 0.05 * rng.standard_normal((members, len(keys))))
    air = middle * (1.0 + 0.05 * rng.standard_normal((members, len(keys))))
    stated = np.where(rng.random(len(keys)) < 0.3, 0.01 * middle, NAN)
    read = middle * (1.0 + 0.05 * rng.standard_normal(len(keys)))
    return chosen, stated, truth, air, read


def _kernel_moments(setting, truth, air, start):
    r = truth.shape[0]
    mean, cov = np.empty(r), np.empty((r, r))
    _moments(
        truth, air, start, setting.numbers, setting.bias_group, setting.model_group,
        MODEL_SHARED, LAG_DOUBT, mean, cov,
    )  # fmt: skip
    return mean, cov


@pytest.mark.parametrize("seed", range(12))
def test_kernel_moments_are_those_of_the_catalogue(seed):
    chosen, stated, truth, air, _ = _draw(np.random.default_rng(seed), 5)
    setting = setup(chosen, stated, float("inf"))
    for t, a in zip(truth, air, strict=True):
        mean, cov = _kernel_moments(setting, t, a, t)
        assert mean == pytest.approx(shown(chosen, t, a), rel=MOMENT_RTOL)
        want = covariance(chosen, t, a, stated)
        scale = np.sqrt(np.outer(np.diag(want), np.diag(want)))
        assert np.max(np.abs(cov - want) / scale) < MOMENT_RTOL


@pytest.mark.parametrize("seed", range(12))
def test_density_is_scipys_multivariate_t(seed):
    chosen, stated, truth, air, read = _draw(np.random.default_rng(100 + seed), 5)
    log_l, distance = log_likelihood(setup(chosen, stated, float("inf")), read, truth, air, truth)
    for t, a, got, d2 in zip(truth, air, log_l, distance, strict=True):
        mean, cov = shown(chosen, t, a), covariance(chosen, t, a, stated)
        # In units of each reading's own spread: pascal and kilogram in one matrix are
        # beyond scipy's eigenvalue cut.
        unit = np.sqrt(np.diag(cov))
        even = cov / np.outer(unit, unit)
        law = stats.multivariate_t(mean / unit, even * (DEGREES - 2.0) / DEGREES, df=DEGREES)
        want = law.logpdf(read / unit) - np.log(unit).sum()
        assert got == pytest.approx(want, rel=1e-10, abs=LOG_ATOL)
        gap = (read - mean) / unit
        assert d2 == pytest.approx(gap @ np.linalg.solve(even, gap), rel=1e-9)


def test_readings_before_settling_lie_between_start_and_end():
    keys = ["discharge_line_temperature", "condenser_middle_temperature", "appliance_power"]
    chosen = [TOOLS[k] for k in keys]
    truth, air = np.array([340.0, 312.0, 90.0]), np.array([298.0, 298.0, 90.0])
    start = np.array([298.0, 298.0, 90.0])
    seconds = 1200.0
    left = unsettled_share(chosen, seconds)
    assert left[0] > left[1] > 0.0
    mean, cov = _kernel_moments(setup(chosen, np.full(3, NAN), seconds), truth, air, start)
    lag = (start - truth) * left
    assert mean == pytest.approx(shown(chosen, truth + lag, air), rel=MOMENT_RTOL)
    want = covariance(chosen, truth + lag, air) + np.diag((LAG_DOUBT * lag) ** 2)
    assert cov == pytest.approx(want, rel=1e-11)


def test_conjugate_case():
    """Normal prior, two readings, normal limit of the t: posterior and evidence in closed form."""
    chosen = [TOOLS["fresh_food_temperature"], TOOLS["freezer_temperature"]]
    m0, s0, apart = 278.0, 2.0, 20.0
    theta = np.linspace(m0 - 9.0 * s0, m0 + 9.0 * s0, 8001)
    truth = np.column_stack([theta, theta - apart])
    read = np.array([281.0, 259.5])
    setting = replace(setup(chosen, np.full(2, NAN), float("inf")), degrees=1e7)
    log_l, _ = log_likelihood(setting, read, truth, truth, truth)
    weight = np.exp(log_l) * stats.norm.pdf(theta, m0, s0)
    step = theta[1] - theta[0]
    evidence = weight.sum() * step
    mean = (weight * theta).sum() * step / evidence
    variance = (weight * (theta - mean) ** 2).sum() * step / evidence

    cov = covariance(chosen, truth[0], truth[0])
    precision = np.linalg.inv(cov)
    assert abs(cov[0, 1]) > 0.1 * cov[0, 0]  # the visit's bias is shared, or this tests little
    ones = np.ones(2)
    want_variance = 1.0 / (1.0 / s0**2 + ones @ precision @ ones)
    want_mean = want_variance * (m0 / s0**2 + ones @ precision @ (read + np.array([0.0, apart])))
    marginal = stats.multivariate_normal([m0, m0 - apart], cov + s0**2)
    assert mean == pytest.approx(want_mean, abs=1e-5)
    assert variance == pytest.approx(want_variance, rel=1e-5)
    assert evidence == pytest.approx(marginal.pdf(read), rel=1e-5)


def test_drawn_readings_follow_the_law():
    keys = ["appliance_power", "condenser_middle_temperature", "condenser_outlet_temperature"]
    chosen = [TOOLS[k] for k in keys]
    truth, air = np.array([90.0, 312.0, 306.0]), np.array([90.0, 298.0, 298.0])
    setting = setup(chosen, np.full(3, NAN), float("inf"))
    rng = np.random.default_rng(3)
    drawn = np.array([draw_readings(setting, truth, air, truth, rng) for _ in range(4000)])
    mean, cov = shown(chosen, truth, air), covariance(chosen, truth, air)
    assert np.all(np.abs(drawn.mean(axis=0) - mean) < 4.0 * np.sqrt(np.diag(cov) / 4000))
    gap = drawn - mean
    d2 = np.einsum("ni,ni->n", gap @ np.linalg.inv(cov), gap)
    scaled = d2 * DEGREES / (DEGREES - 2.0) / 3.0
    assert stats.kstest(scaled, stats.f(3, DEGREES).cdf).pvalue > 0.01


def test_one_wild_reading_costs_less_than_under_a_normal_law():
    chosen = [TOOLS["freezer_temperature"], TOOLS["evaporator_inlet_temperature"]]
    truth = np.array([[258.0, 245.0]])
    setting = setup(chosen, np.full(2, NAN), float("inf"))
    near, _ = log_likelihood(setting, truth[0], truth, truth, truth)
    wild, d2 = log_likelihood(setting, truth[0] + [15.0, 0.0], truth, truth, truth)
    assert near[0] - wild[0] < 0.35 * 0.5 * d2[0]


def test_member_without_a_number_carries_no_weight():
    chosen = [TOOLS["suction_pressure"]]
    setting = setup(chosen, np.array([NAN]), float("inf"))
    truth = np.array([[1.1e5], [NAN]])
    log_l, _ = log_likelihood(setting, np.array([1.1e5]), truth, truth, truth)
    assert np.isfinite(log_l[0])
    assert np.exp(log_l[1]) == 0.0


def test_no_reading_says_nothing():
    setting = setup([], np.zeros(0), float("inf"))
    log_l, d2 = log_likelihood(setting, np.zeros(0), *(np.zeros((4, 0)),) * 3)
    assert log_l.tolist() == [0.0] * 4
    assert d2.tolist() == [0.0] * 4
