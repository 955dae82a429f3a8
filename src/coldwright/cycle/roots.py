"""One way to close in on a root that lies between two points.

The caller evaluates; the kernels keep the bracket. Illinois weights (the value kept twice
counts half) make false position close from both sides, halving breaks what still sticks.
"""

from __future__ import annotations

from typing import NamedTuple

from coldwright.refrigerant.compiled import kernel

STUCK = 2  # times the same end may be replaced before the bracket is halved


class Bracket(NamedTuple):
    """Two points between which a function rises through zero; of a falling one take -f."""

    a: float
    f_a: float  # below 0, by its weight
    b: float
    f_b: float  # above 0, by its weight
    side: float  # how often in a row a (positive) or b (negative) was replaced


@kernel
def narrowed(bracket, x, f):
    """The bracket with the value `f` found at `x`.

    Parameters
    ----------
    bracket : Bracket
        As it was.
    x : float
        Where the function was evaluated. [any]
    f : float
        Its value there. [any]

    Returns
    -------
    Bracket
        With x as its new b where f is above 0, else as its new a.

    References
    ----------
    .. [1] Illinois false position, Dahlquist & Bjorck (1974).
    """
    side = bracket.side
    if f > 0.0:
        f_a = bracket.f_a * (0.5 if side < 0.0 else 1.0)
        return Bracket(bracket.a, f_a, x, f, min(side, 0.0) - 1.0)
    f_b = bracket.f_b * (0.5 if side > 0.0 else 1.0)
    return Bracket(x, f, bracket.b, f_b, max(side, 0.0) + 1.0)


@kernel
def trial(bracket, margin):
    """Where to look next.

    Parameters
    ----------
    bracket : Bracket
        As it stands.
    margin : float
        Share of its width that a trial keeps from either end, 0 to 0.5. [-]

    Returns
    -------
    float
        By false position, else the middle. [any]

    References
    ----------
    .. [1] Illinois false position, Dahlquist & Bjorck (1974).
    """
    a, b = bracket.a, bracket.b
    x = b - bracket.f_b * (b - a) / (bracket.f_b - bracket.f_a)
    keep = margin * (b - a)
    if not (a + keep < x < b - keep) or bracket.side > STUCK or bracket.side < -STUCK:
        x = 0.5 * (a + b)
    return x
