"""The bracket all searches share."""

import math

import pytest

from coldwright.cycle.roots import Bracket, narrowed, trial


def close_in(function, a, b, margin=0.0, most=80):
    """Root of a rising function, and the calls it took."""
    inside = Bracket(a, function(a), b, function(b), 0.0)
    for calls in range(1, most):
        x = trial(inside, margin)
        assert inside.a < x < inside.b
        f = function(x)
        if abs(f) < 1e-12 or inside.b - inside.a < 1e-13:
            return x, calls
        inside = narrowed(inside, x, f)
    raise AssertionError("not closed")


@pytest.mark.parametrize("margin", [0.0, 1e-3])
@pytest.mark.parametrize(
    ("function", "a", "b", "root"),
    [
        (lambda x: x**3 - 2.0, 0.0, 2.0, 2.0 ** (1.0 / 3.0)),
        (lambda x: math.exp(8.0 * x) - 2.0, -1.0, 3.0, math.log(2.0) / 8.0),
        (lambda x: math.atan(40.0 * (x - 0.9)), -5.0, 1.0, 0.9),
        (lambda x: 1.0 if x > 0.3 else -1.0, 0.0, 1.0, 0.3),  # a jump
    ],
)
def test_it_closes_on_the_root(function, a, b, root, margin):
    x, calls = close_in(function, a, b, margin)
    assert x == pytest.approx(root, abs=1e-10)
    assert calls < 60


def test_false_position_alone_would_creep_where_one_end_sticks():
    _, calls = close_in(lambda x: x**9 - 1e-4, 0.0, 2.0)
    assert calls < 40
