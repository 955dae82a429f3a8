"""How long an appliance still lasts, given its age."""

from __future__ import annotations

from collections.abc import Mapping
from math import gamma
from types import MappingProxyType

import numpy as np

from coldwright.errors import require

# Mean lives: US DOE rulemaking support document (2011), from memory, medium confidence.
MEAN_LIFE_YEARS: Mapping[str, float] = MappingProxyType(
    {
        "single_door": 17.4,
        "top_mount": 17.4,
        "bottom_mount": 17.4,
        "side_by_side": 17.4,
        "upright_freezer": 22.3,
        "chest_freezer": 22.3,
        "compact": 5.6,
    }
)
# The document's Weibull shapes were not obtained; a third of those replaced being over 20
# years old (Young 2007, abstract) fits about 2.6 at 17.4 years. Judgement of ours.
SHAPE = 2.6


def scale_of(mean: float) -> float:
    """Weibull scale of a mean life. [a]

    Parameters
    ----------
    mean : float
        Mean life. [a]

    Returns
    -------
    float
        Scale. [a]

    Examples
    --------
    >>> 15.0 < scale_of(15.0) < 18.0
    True
    """
    return mean / gamma(1.0 + 1.0 / SHAPE)


def remaining_life(mean: float, age: float, uniform: np.ndarray) -> np.ndarray:
    """Remaining years of appliances that have reached an age. [a]

    Parameters
    ----------
    mean : float
        Mean life when new. [a]
    age : float
        Reached. [a]
    uniform : ndarray
        Uniform draws in 0..1. [-]

    Returns
    -------
    ndarray
        Shape of `uniform`. [a]

    Raises
    ------
    OutOfRange
        If the age is out of range.

    References
    ----------
    .. [1] Conditional Weibull: T = scale ((a/scale)^k - ln u)^(1/k) - a.
    """
    require("age", age, "a", 0.0, 110.0)
    scale = scale_of(mean)
    log_u = np.log(np.clip(uniform, 1e-12, 1.0))
    return np.asarray(scale * ((age / scale) ** SHAPE - log_u) ** (1.0 / SHAPE) - age)
