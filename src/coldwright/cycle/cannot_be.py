"""States a solver can reach and an appliance cannot: flagged by name, without weight in odds.

Limits are ours: far beyond what a thermal protector, an oil or a cabinet allows, so
that no state of a real appliance, however faulty, lies outside.
"""

from __future__ import annotations

import numpy as np

from coldwright.cycle.ranges import Outside
from coldwright.cycle.state import RunningState

MODEL = "what an appliance can be"
# Field of the state, in words, least, most, unit
LIMITS = (
    ("superheat_k", "superheat at the evaporator outlet", -2.0, 120.0, "K"),
    ("fresh_food_k", "fresh-food compartment", 200.0, 353.15, "K"),
    ("freezer_k", "freezer compartment", 190.0, 353.15, "K"),
    # Mineral oil cokes and valves carbonise from about 150 degC; protectors open before
    ("discharge_line_k", "discharge line", 200.0, 503.15, "K"),
    ("shell_k", "compressor shell", 200.0, 453.15, "K"),
)


def cannot_be(state: RunningState) -> tuple[Outside, ...]:
    """What of a running state no appliance can show.

    Parameters
    ----------
    state : RunningState
        Solved.

    Returns
    -------
    tuple of Outside
        Empty where all of it can be; NaN is no statement.
    """
    told = ((Outside(MODEL, words, float(getattr(state, field)), low, high, unit))
            for field, words, low, high, unit in LIMITS)  # fmt: skip
    return tuple(one for one in told if one.value < one.low or one.value > one.high)


def can_be(states: np.ndarray) -> np.ndarray:
    """Which of many running states an appliance can show, bool, shape (n,).

    Parameters
    ----------
    states : ndarray
        dtype STATE, shape (n,).

    Returns
    -------
    ndarray
        Bool, shape (n,); false where a value lies outside `LIMITS`.
    """
    good = np.ones(states.shape, bool)
    for field, _, low, high, _ in LIMITS:
        values = states[field]
        good &= ~((values < low) | (values > high))
    return good
