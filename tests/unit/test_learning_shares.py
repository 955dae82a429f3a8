"""Shares of faults after proven jobs, held to hand work, to an exact sampler, to known shares."""

import numpy as np
import pytest

from coldwright.errors import OutOfRange
from coldwright.learning.shares import updated

M = np.array([0.2, 0.3, 0.5])


def one_hot(found, size):
    return np.eye(size)[np.asarray(found)]


def test_equal_factors_give_the_dirichlet_mean_worked_by_hand():
    # Gelman et al. (2013), section 3.4: (A m + n) / (A + N); A = 40, n = (3, 1, 3), N = 7.
    found = one_hot([0, 0, 1, 2, 2, 2, 0], 3)
    after = updated(M, 40.0, found, np.full((7, 3), 2.5))
    assert after.mean == pytest.approx([11 / 47, 13 / 47, 23 / 47], rel=1e-9)
    assert after.worth == pytest.approx([47.0] * 3, rel=1e-9)
    low, high = after.interval()
    # Marginals of a Dirichlet are Beta(a, A - a): Beta(11, 36) from its distribution function
    from scipy.stats import beta

    assert beta.cdf(low[0], 11, 36) == pytest.approx(0.05)
    assert beta.cdf(high[0], 11, 36) == pytest.approx(0.95)


def test_no_job_leaves_the_shares_and_their_worth():
    after = updated(M, 40.0, np.zeros((0, 3)), np.zeros((0, 3)))
    assert after.mean == pytest.approx(M)
    assert after.worth == pytest.approx([40.0] * 3)


def test_a_complaint_that_calls_for_a_fault_is_divided_out():
    # Jobs whose complaint makes fault 0 nine times likelier show it as often as that predicts.
    factors = np.tile([9.0, 1.0, 1.0], (100, 1))
    p = M * factors[0] / (M @ factors[0])
    found = one_hot(np.repeat([0, 1, 2], np.round(100 * p).astype(int)), 3)
    divided = updated(M, 40.0, found, factors[: len(found)])
    counted = updated(M, 40.0, found, np.ones_like(found))
    assert divided.mean == pytest.approx(M, abs=0.01)
    assert counted.mean[0] > 0.5


def test_scale_of_a_jobs_factors_does_not_matter():
    rng = np.random.default_rng(4)
    factors, found = np.exp(rng.normal(size=(30, 3))), one_hot(rng.integers(0, 3, 30), 3)
    scaled = factors * np.exp(rng.normal(size=(30, 1)))
    plain, other = updated(M, 40.0, found, factors), updated(M, 40.0, found, scaled)
    assert other.mean == pytest.approx(plain.mean, rel=1e-8)
    assert other.worth == pytest.approx(plain.worth, rel=1e-8)


def test_mean_and_interval_agree_with_the_exact_posterior():
    """Gibbs sampler with exponential latents (Caron & Doucet 2012, J. Comput. Graph. Stat. 21)."""
    rng = np.random.default_rng(7)
    m, worth, n = np.array([0.1, 0.2, 0.3, 0.4]), 40.0, 80
    factors = np.exp(rng.normal(size=(n, 4)))
    p = m * factors
    found = one_hot([rng.choice(4, p=row / row.sum()) for row in p], 4)
    after = updated(m, worth, found, factors)
    rates, alpha, kept = m * worth, m * worth + found.sum(axis=0), []
    for step in range(12_000):
        latent = rng.exponential(1.0 / (factors @ rates))
        rates = rng.gamma(alpha, 1.0 / (1.0 + latent @ factors))
        if step >= 1000:
            kept.append(rates / rates.sum())
    draws = np.array(kept)
    assert after.mean == pytest.approx(draws.mean(axis=0), abs=0.006)
    low, high = after.interval()
    exact_low, exact_high = np.quantile(draws, [0.05, 0.95], axis=0)
    assert low == pytest.approx(exact_low, abs=0.012)
    assert high == pytest.approx(exact_high, abs=0.012)


def test_two_hundred_outcomes_of_known_shares_are_recovered():
    """The 90 % intervals hold the truth at their rate: of 40 shops times 11 shares.

    True shares drawn from the prior itself, as the rule supposes; complaints differ by job.
    Binomial: 440 x 0.90 = 396, five standard deviations are 31 (shares of one shop are not
    independent, hence five).
    """
    rng, inside = np.random.default_rng(11), 0
    m = np.array([12, 20, 2, 7, 4, 5, 9, 9, 16, 8, 8]) / 100.0
    for _ in range(40):
        true = rng.dirichlet(40.0 * m)
        factors = np.exp(0.8 * rng.normal(size=(200, 11)))
        p = true * factors
        found = one_hot([rng.choice(11, p=row / row.sum()) for row in p], 11)
        after = updated(m, 40.0, found, factors)
        low, high = after.interval()
        inside += int(np.sum((low <= true) & (true <= high)))
    assert abs(inside - 396) < 31


def test_many_jobs_outweigh_a_wrong_catalogue():
    rng = np.random.default_rng(3)
    true = np.array([0.7, 0.2, 0.1])
    found = one_hot(rng.choice(3, size=5000, p=true), 3)
    after = updated(M, 40.0, found, np.ones((5000, 3)))
    assert after.mean == pytest.approx(true, abs=0.025)


@pytest.mark.parametrize(
    ("prior", "worth", "factor"), [(M, 0.0, 1.0), ([0.0, 0.5, 0.5], 40.0, 1.0), (M, 40.0, 0.0)]
)
def test_what_cannot_be_is_refused(prior, worth, factor):
    with pytest.raises(OutOfRange):
        updated(np.array(prior), worth, one_hot([0], 3), np.full((1, 3), factor))
