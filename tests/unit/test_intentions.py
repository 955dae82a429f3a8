"""Intentions of families after proven jobs: the conjugate rule by hand, and its coverage."""

import numpy as np
import pytest

from coldwright.catalogue.families import family_of
from coldwright.learning.intentions import UNKNOWN_SHARE, Told, shift_of
from coldwright.learning.told_store import ToldStore
from coldwright.readings.jobfile import job_from_text
from tests.unit.test_outcomes import job

EYE = ((1.0, 0.0), (0.0, 1.0))


def told(number, mean, variance, refrigerant="R600a", kind="top_mount"):
    return Told(f"{number}", refrigerant, kind, mean, variance)


def seen_by(z, precision, rng):
    """Posterior of scores under the standard normal prior after one measurement of each."""
    y = z + rng.standard_normal(2) / np.sqrt(precision)
    variance = 1.0 / (1.0 + precision)
    return tuple(variance * precision * y), tuple(map(tuple, np.diag(variance).tolist()))


def test_one_job_by_hand():
    # v = 0.2: L = 4, y = m / (1 - v) = 1.5; y ~ N(d, 1/4 + 0.7); prior precision 1/0.3
    shift = shift_of([told(1, (1.2, 0.0), ((0.2, 0.0), (0.0, 1.0)))], "R600a", "top_mount")
    weight, prior = 1.0 / (0.25 + 1.0 - UNKNOWN_SHARE), 1.0 / UNKNOWN_SHARE
    assert shift.mean[0] == pytest.approx(weight * 1.5 / (prior + weight))
    assert shift.sd[0] == pytest.approx((prior + weight) ** -0.5)
    assert shift.mean[1] == pytest.approx(0.0)
    assert shift.sd[1] == pytest.approx(UNKNOWN_SHARE**0.5)


def test_a_job_that_was_told_nothing_moves_nothing():
    for variance in (EYE, ((1.3, 0.0), (0.0, 1.05))):
        shift = shift_of([told(1, (0.4, -0.7), variance)], "R600a", "top_mount")
        assert shift.mean == pytest.approx((0.0, 0.0))
        assert shift.sd == pytest.approx((UNKNOWN_SHARE**0.5,) * 2)


def test_nothing_proven_leaves_the_family_as_it_is():
    family = family_of("top_mount")
    after = shift_of([], "R600a", "top_mount").applied(family)
    assert after.run_fraction.mean == pytest.approx(family.run_fraction.mean)
    assert after.run_fraction.sd == pytest.approx(family.run_fraction.sd)
    assert after.evaporating_k.sd == pytest.approx(family.evaporating_k.sd)


def test_other_refrigerants_and_kinds_do_not_count():
    sharp = ((0.1, 0.0), (0.0, 0.1))
    others = [told(1, (1.0, 1.0), sharp, refrigerant="R134a"),
              told(2, (1.0, 1.0), sharp, kind="compact")]  # fmt: skip
    assert shift_of(others, "R600a", "top_mount").mean == (0.0, 0.0)
    assert shift_of(others, "R134a", "top_mount").jobs == 1


def test_order_does_not_matter():
    rng = np.random.default_rng(2)
    jobs = [told(i, *seen_by(rng.standard_normal(2), np.array([3.0, 1.0]), rng)) for i in range(9)]
    assert shift_of(jobs, "R600a", "top_mount") == shift_of(jobs[::-1], "R600a", "top_mount")


def test_intervals_hold_the_family_mean_at_their_rate():
    """800 families: d ~ N(0, T), eight appliances each, scores N(d, 1 - T), measured unequally.

    68.3 % within one sd: binomial sd of 800 is 1.6 %.
    """
    rng, inside = np.random.default_rng(5), np.zeros(2)
    for _ in range(800):
        d = np.sqrt(UNKNOWN_SHARE) * rng.standard_normal(2)
        jobs = []
        for i in range(8):
            z = d + np.sqrt(1.0 - UNKNOWN_SHARE) * rng.standard_normal(2)
            jobs.append(told(i, *seen_by(z, rng.uniform(0.2, 8.0, 2), rng)))
        shift = shift_of(jobs, "R600a", "top_mount")
        inside += np.abs(np.array(shift.mean) - d) < np.array(shift.sd)
    assert inside / 800 == pytest.approx([0.683, 0.683], abs=0.05)


def test_many_jobs_find_the_mean_and_narrow_the_spread_but_never_to_nothing():
    rng = np.random.default_rng(6)
    jobs = [
        told(i, *seen_by(np.array([0.8, -0.5]) + 0.84 * rng.standard_normal(2),
                         np.array([4.0, 4.0]), rng))
        for i in range(400)
    ]  # fmt: skip
    family = family_of("top_mount")
    shift = shift_of(jobs, "R600a", "top_mount")
    assert shift.mean == pytest.approx((0.8, -0.5), abs=0.15)
    after = shift.applied(family)
    sd = family.run_fraction.sd
    assert after.run_fraction.mean == pytest.approx(family.run_fraction.mean + shift.mean[0] * sd)
    assert 0.8 * sd < after.run_fraction.sd < 0.86 * sd
    assert (after.run_fraction.low, after.run_fraction.high) == (
        family.run_fraction.low, family.run_fraction.high,
    )  # fmt: skip
    assert "400 proven jobs of R600a" in shift.sentence


def test_what_was_told_is_kept_on_disk_for_the_very_same_job(tmp_path):
    store, one = ToldStore(tmp_path), job(1)
    assert store.known(one) is None
    said = Told("x", "R600a", "top_mount", (0.1, 0.2), ((0.5, 0.1), (0.1, 0.6)))
    store.keep(one, said)
    found = store.known(one)
    assert isinstance(found, Told)
    assert (found.mean, found.variance) == (said.mean, said.variance)
    other = job_from_text('[plate]\nkind = "compact"\n', "y")
    assert store.known(other) is None
    store.keep(other, "two faults")
    assert store.known(other) == "two faults"
    for path in (tmp_path / "told").iterdir():
        path.write_text("{broken", encoding="utf-8")
    assert store.known(one) is None
