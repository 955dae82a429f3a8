"""Members drawn near the evidence, on targets whose answer is known."""

import numpy as np
import pytest
from scipy import integrate, stats

from coldwright.catalogue.sizing import DIMENSIONS
from coldwright.diagnosis.population import Population
from coldwright.diagnosis.sampler import (
    NEIGHBOURS,
    Judged,
    draw_nearer,
    effective,
    joined,
    linear_posterior,
    tempered,
)
from tests.inference.invented import population

READ = np.array([4.0, -3.0, 1.5])  # two to four of the prior's deviations away
NOISE = np.diag([0.5, 0.3, 0.4]) ** 2
SLOPE = np.array([[1.5, 0.0, 0.5], [0.0, 1.0, -0.8], [0.3, 0.3, 0.3]])
START, COUNT = 300, 200
RUNS = 30


def _shown_linear(z: np.ndarray) -> np.ndarray:
    return np.asarray(0.2 + z[:, :3] @ SLOPE.T)


def _shown_kinked(z: np.ndarray) -> np.ndarray:
    """An outlet that stays at a floor until a score is large: flooded, then superheated."""
    out = _shown_linear(z)
    out[:, 0] = 3.0 * np.maximum(z[:, 0] - 0.5, 0.0)
    return out


def _judge(shown_of):
    def judge(p: Population) -> Judged:
        shown = shown_of(p.scores)
        log_l = stats.multivariate_normal(np.zeros(3), NOISE).logpdf(READ - shown)
        return Judged(np.where(p.solved, log_l, -np.inf), shown)

    return judge


def _simulate(z: np.ndarray) -> Population:
    return population("undercharge", z)


def _noise(p: Population, i: int) -> np.ndarray:
    assert p.scores.shape[0] > i
    return NOISE


def _drawn(seed: int, shown_of=_shown_linear, simulate=_simulate, enough=200.0):
    rng = np.random.default_rng(seed)
    start = simulate(rng.standard_normal((START, DIMENSIONS)))
    judge = _judge(shown_of)
    p = draw_nearer(start, simulate, judge, READ, _noise, rng, COUNT, enough)
    log_w = judge(p).log_target + p.log_base
    return p, log_w


def _log_evidence(p: Population, log_w: np.ndarray) -> float:
    top = log_w.max()
    return float(top + np.log(np.exp(log_w - top).sum() / p.stands_for))


def _closed_form():
    """Posterior of the scores seen, and the evidence, by completing the square."""
    spread = SLOPE @ SLOPE.T + NOISE
    gain = SLOPE.T @ np.linalg.inv(spread)
    mean = gain @ (READ - 0.2)
    log_z = stats.multivariate_normal(np.zeros(3), spread).logpdf(READ - 0.2)
    return mean, np.eye(3) - gain @ SLOPE, float(log_z)


@pytest.fixture(scope="module")
def runs():
    return [_drawn(seed) for seed in range(RUNS)]


def test_linear_fit_of_linear_members_is_the_kalman_update():
    rng = np.random.default_rng(0)
    z = rng.standard_normal((4000, DIMENSIONS))
    law = linear_posterior(z, np.full(4000, 1 / 4000), _shown_linear(z), READ, NOISE)
    mean, cov, _ = _closed_form()
    assert law.mean[:3] == pytest.approx(mean, abs=0.03)
    assert np.abs(law.mean[3:]).max() < 0.03
    got = law.root @ law.root.T
    # The law is deliberately wider than the fit by a tenth of what the fit knows
    assert got[:3, :3] == pytest.approx(cov + 0.1 * (np.eye(3) - cov), abs=0.03)


def test_evidence_is_that_of_the_closed_form(runs):
    want = _closed_form()[2]
    ratio = np.exp(np.array([_log_evidence(*r) for r in runs]) - want)
    assert abs(ratio.mean() - 1.0) < 4.0 * ratio.std(ddof=1) / np.sqrt(RUNS)
    assert ratio.std(ddof=1) < 0.15


def test_weighted_members_have_the_posterior_mean_and_spread(runs):
    mean, cov, _ = _closed_form()
    moments = []
    for p, log_w in runs:
        w = np.exp(log_w - log_w.max())
        w /= w.sum()
        m = w @ p.scores
        moments.append((m, w @ (p.scores - m) ** 2))
    means, variances = (np.array(x) for x in zip(*moments, strict=True))
    error = means.std(axis=0, ddof=1) / np.sqrt(RUNS)
    assert np.all(np.abs(means.mean(axis=0)[:3] - mean) < 4.0 * error[:3])
    assert np.all(np.abs(means.mean(axis=0)[3:]) < 4.5 * error[3:])
    assert variances.mean(axis=0)[:3] == pytest.approx(np.diag(cov), rel=0.1)
    assert variances.mean(axis=0)[3:] == pytest.approx(1.0, abs=0.1)


def test_far_more_members_carry_weight_than_of_the_priors_own(runs):
    for p, log_w in runs:
        own = effective(_judge(_shown_linear)(p).log_target[:START])
        assert effective(log_w) > 150.0
        assert own < 15.0


def test_a_kink_costs_members_but_not_the_evidence():
    """The proposal is wrong at a kink; the weights make up for it."""
    rest = SLOPE[1:]

    def given_first(z0: float) -> float:
        # The other two scores are linear: integrate them out in closed form
        shown0 = 3.0 * max(z0 - 0.5, 0.0)
        mean = 0.2 + rest[:, 0] * z0
        spread = rest[:, 1:] @ rest[:, 1:].T + NOISE[1:, 1:]
        like = stats.norm(shown0, NOISE[0, 0] ** 0.5).pdf(READ[0])
        return float(
            stats.norm.pdf(z0) * like * stats.multivariate_normal(mean, spread).pdf(READ[1:])
        )

    want = integrate.quad(given_first, -6.0, 6.0, points=(0.5, 1.8), epsabs=1e-14)[0]
    got = np.array([_log_evidence(*_drawn(seed, _shown_kinked)) for seed in range(RUNS)])
    ratio = np.exp(got) / want
    assert abs(ratio.mean() - 1.0) < 4.0 * ratio.std(ddof=1) / np.sqrt(RUNS)


def test_members_that_cannot_be_built_do_not_dilute_the_evidence():
    """A third of the prior cannot be built whatever the readings: the odds do not feel it."""

    def simulate(z: np.ndarray) -> Population:
        return population("undercharge", z, z[:, 5] < stats.norm.ppf(2.0 / 3.0))

    want = _closed_form()[2]
    ratio = np.exp([_log_evidence(*_drawn(seed, simulate=simulate)) - want for seed in range(RUNS)])
    assert abs(ratio.mean() - 1.0) < 4.0 * ratio.std(ddof=1) / np.sqrt(RUNS)


def test_the_priors_own_members_suffice_where_they_are_enough():
    p, _ = _drawn(1, enough=1.0)
    assert p.laws == ()
    assert p.scores.shape[0] == START
    assert p.stands_for == START


def test_the_same_seed_gives_the_same_members():
    a, b = _drawn(3)[0], _drawn(3)[0]
    assert np.array_equal(a.scores, b.scores)
    assert np.array_equal(a.log_base, b.log_base)


def test_members_drawn_from_the_prior_again_weigh_as_much_as_the_first():
    class Prior:
        def log_over_prior(self, z: np.ndarray) -> np.ndarray:
            return np.zeros(z.shape[0])

    rng = np.random.default_rng(5)
    a = _simulate(rng.standard_normal((40, DIMENSIONS)))
    b = _simulate(rng.standard_normal((60, DIMENSIONS)))
    both = joined(a, b, Prior())
    assert both.log_base == pytest.approx(np.zeros(100), abs=1e-12)
    assert both.stands_for == 100.0


def test_tempering_stops_where_too_few_members_would_be_left():
    rng = np.random.default_rng(6)
    log_l = -0.5 * (40.0 * rng.standard_normal(500)) ** 2
    w = tempered(np.zeros(500), log_l, np.ones(500, bool))
    assert 1.0 / np.sum(w**2) == pytest.approx(NEIGHBOURS, rel=1e-3)
    flat = tempered(np.zeros(500), np.zeros(500), np.arange(500) < 400)
    assert flat[:400] == pytest.approx(1 / 400)
    assert flat[400:].max() < 1e-12
