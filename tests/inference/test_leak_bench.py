"""A small sample of the leak study: the plan against fixed orders, and its promises.

The whole of it is `python -m bench.leaks`; its results stand in docs/leaks.md.
"""

import numpy as np
import pytest

from bench.leaks import ORDERS, PLAN, TIMES, calibration, draw, play


@pytest.fixture(scope="module")
def played():
    rng = np.random.default_rng(41)
    return play([draw(rng) for _ in range(40)])


def test_no_order_finds_more_by_any_time(played):
    scores, _ = played
    plan, *others = scores
    assert plan.name == PLAN
    assert len(others) == len(ORDERS) == 10
    for time in TIMES:
        # With the same luck for all, two finds of forty are chance.
        assert plan.found[time] >= max(o.found[time] for o in others) - 2
    for time in TIMES[:2]:
        assert plan.per_hour(time) >= 0.93 * max(o.per_hour(time) for o in others)


def test_promises_are_kept(played):
    _, promise = played
    # Forty jobs: the mean kept share has a standard error of at most 0.08.
    off = promise.promised.mean(0) - promise.kept.mean(0)
    assert np.all(np.abs(off) < 0.2)
    assert np.all(np.diff(promise.promised, axis=1) >= -1e-9)
    rows = calibration(promise, (0.0, 0.5, 1.01))
    assert sum(n for _, _, n in rows) == promise.promised.size


def test_it_hardly_ever_points_at_a_sound_piece(played):
    scores, _ = played
    assert scores[0].wrong <= 3
