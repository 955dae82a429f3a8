"""Tempering and moves on targets whose answer is known in closed form."""

import numpy as np
import pytest

from coldwright.catalogue.sizing import DIMENSIONS
from coldwright.diagnosis.population import Population
from coldwright.diagnosis.sampler import KEPT, effective, next_step, refine, systematic
from tests.inference.invented import population

AT = np.array([2.0, -1.5, 1.0])  # where the target sits, first three scores
WIDTH = np.array([0.4, 0.6, 0.8])
RUNS, PARTICLES = 30, 500


def _simulate(z: np.ndarray) -> Population:
    return population("undercharge", z)


def _log_target(p: Population) -> np.ndarray:
    return np.asarray(-0.5 * np.sum(((p.scores[:, :3] - AT) / WIDTH) ** 2, axis=1))


def _refined(seed: int, target=_log_target):
    rng = np.random.default_rng(seed)
    start = _simulate(rng.standard_normal((PARTICLES, DIMENSIONS)))
    return refine(start, _simulate, target, rng, PARTICLES)


@pytest.fixture(scope="module")
def runs():
    return [_refined(seed) for seed in range(RUNS)]


def test_mean_and_variance_of_a_known_posterior(runs):
    """Standard normal prior times a Gaussian target: Gaussian, by completing the square."""
    want_mean = AT / (1.0 + WIDTH**2)
    want_variance = WIDTH**2 / (1.0 + WIDTH**2)
    means = np.array([r.population.scores[:, :3].mean(axis=0) for r in runs])
    variances = np.array([r.population.scores[:, :3].var(axis=0) for r in runs])
    for got, want in ((means, want_mean), (variances, want_variance)):
        error = got.std(axis=0, ddof=1) / np.sqrt(RUNS)
        # Resampled members are alike: variances come out a little low, by under 5 %.
        assert np.all(np.abs(got.mean(axis=0) - want) < 4.0 * error + 0.05 * np.abs(want))
        assert np.all(error < 0.1 * np.abs(want))


def test_scores_the_evidence_does_not_touch_keep_their_prior(runs):
    rest = np.array([r.population.scores[:, 3:] for r in runs])
    assert abs(rest.mean()) < 0.02
    assert rest.var() == pytest.approx(1.0, abs=0.04)


def test_evidence_of_a_known_target(runs):
    want = np.sum(0.5 * np.log(WIDTH**2 / (1.0 + WIDTH**2)) - 0.5 * AT**2 / (1.0 + WIDTH**2))
    got = np.array([r.log_evidence for r in runs])
    ratio = np.exp(got - want)
    assert abs(ratio.mean() - 1.0) < 4.0 * ratio.std(ddof=1) / np.sqrt(RUNS) + 0.03
    assert got.std(ddof=1) < 0.5


def test_tempering_took_steps_and_moves_were_accepted(runs):
    assert min(r.steps for r in runs) >= 2
    assert all(0.05 < r.acceptance < 0.95 for r in runs)
    assert min(r.distinct for r in runs) > PARTICLES // 3


def test_flat_target_needs_one_step_and_has_evidence_one():
    out = _refined(1, lambda p: np.zeros(p.scores.shape[0]))
    assert out.steps == 1
    assert out.log_evidence == 0.0
    assert out.acceptance == 1.0


def test_members_without_a_solution_are_left_behind():
    """A target of nothing for half of the members: the other half's prior, evidence one half."""

    def half(p: Population) -> np.ndarray:
        return np.where(p.scores[:, 0] > 0.0, 0.0, -np.inf)

    out = [_refined(seed, half) for seed in range(20)]
    assert all(np.all(r.population.scores[:, 0] > 0.0) for r in out)
    evidence = np.exp([r.log_evidence for r in out])
    assert evidence.mean() == pytest.approx(0.5, abs=4.0 * 0.5 / np.sqrt(20 * PARTICLES))
    means = np.array([r.population.scores[:, 0].mean() for r in out])
    assert means.mean() == pytest.approx(np.sqrt(2.0 / np.pi), abs=0.03)


def test_same_generator_same_members():
    a, b = _refined(5), _refined(5)
    assert a.log_evidence == b.log_evidence
    assert np.array_equal(a.population.scores, b.population.scores)


def test_systematic_resampling_is_unbiased():
    """Each member is taken floor or ceiling of its share, and its share on average."""
    rng = np.random.default_rng(2)
    w = rng.random(40) ** 3
    share = 200 * w / w.sum()
    counts = np.array([np.bincount(systematic(w, 200, rng), minlength=40) for _ in range(3000)])
    assert np.all(counts.sum(axis=1) == 200)
    assert np.all((counts >= np.floor(share)) & (counts <= np.ceil(share)))
    part = share - np.floor(share)
    error = np.sqrt(part * (1.0 - part) / 3000)
    assert np.all(np.abs(counts.mean(axis=0) - share) < 4.5 * error + 1e-9)


def test_step_leaves_the_wanted_share_effective():
    log_l = -0.5 * (6.0 * np.random.default_rng(4).standard_normal(2000)) ** 2
    step = next_step(log_l, 0.0)
    assert 0.0 < step < 1.0
    assert effective(step * log_l) == pytest.approx(KEPT * 2000, rel=1e-6)
    assert next_step(0.01 * log_l, 0.3) == pytest.approx(0.7)


def test_effective_number():
    assert effective(np.zeros(7)) == pytest.approx(7.0)
    assert effective(np.array([0.0, 0.0, -np.inf])) == pytest.approx(2.0)
    assert effective(np.full(3, -np.inf)) == 0.0
