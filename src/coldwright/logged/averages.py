"""The mean of a stretch of a log, and what it is worth: neighbouring samples say the same.

A series whose neighbours correlate by rho (first-order autoregressive) has the mean of
n_eff = n (1 - rho) / (1 + rho) readings free of each other.

References
----------
.. [1] Priestley, Spectral Analysis and Time Series, Academic Press 1981, section 5.3 (variance
   of the mean; from memory).
.. [2] Marriott & Pope (1954), Biometrika 41, 390; Kendall (1954), same volume, 403: an estimated
   rho is too small by (1 + 3 rho) / n where the mean is estimated too (from memory).
.. [3] Zwiers & von Storch (1995), J. Climate 8, 336 (t law with n_eff - 1 degrees of freedom).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.stats import t as student

from coldwright.errors import require

_LARGEST = 0.995  # of rho: beyond, the stretch is shorter than its own memory
_FEWEST = 2.0  # readings that any stretch is worth, so that its spread is not taken as zero
ONE_SD = 0.6826894921370859  # probability within one standard deviation of a normal law


@dataclass(frozen=True, slots=True)
class Mean:
    """A mean with its worth."""

    value: float
    spread: float  # standard deviation of the mean before its own doubt, see `interval`
    samples: int
    worth: float  # n_eff
    correlation: float  # rho

    def interval(self, level: float) -> tuple[float, float]:
        """Interval that holds the true mean with this probability.

        Parameters
        ----------
        level : float
            Probability, between 0 and 1. [-]
        """
        half = float(student.ppf(0.5 + 0.5 * level, max(self.worth - 1.0, 1.0))) * self.spread
        return self.value - half, self.value + half

    @property
    def sd(self) -> float:
        """Half of the 68 % interval, so that few readings count as wide as they are. [SI]"""
        low, high = self.interval(ONE_SD)
        return 0.5 * (high - low)


def mean_of(values: np.ndarray) -> Mean:
    """Mean of evenly spaced samples; those that are not finite are left out.

    Parameters
    ----------
    values : ndarray
        Samples in order of time, one finite at least. [SI]

    Returns
    -------
    Mean
        Mean, its spread [SI], how many samples and how many independent ones they are worth [-].

    Raises
    ------
    OutOfRange
        If no sample is finite.

    References
    ----------
    .. [1] Priestley (1981), 5.3; rho by Marriott & Pope (1954) and Kendall (1954), from memory.

    Examples
    --------
    >>> mean_of(np.array([1.0, 2.0, 3.0])).value
    2.0
    """
    x = np.asarray(values, dtype=float)
    x = x[np.isfinite(x)]
    n = x.size
    require("samples in the stretch", float(n), "-", 1.0, math.inf)
    middle = float(np.mean(x))
    d = x - middle
    scatter = float(d @ d)
    if n < 4 or scatter <= (1e-12 * max(abs(middle), 1.0)) ** 2 * n:
        worth = float(max(n, 1))
        spread = math.sqrt(scatter / max(n * (n - 1), 1))
        return Mean(middle, spread, n, worth, 0.0)
    raw = float(d[:-1] @ d[1:]) / scatter
    rho = min(max((n * raw + 1.0) / (n - 3.0), 0.0), _LARGEST)
    worth = max(n * (1.0 - rho) / (1.0 + rho), _FEWEST)
    # The scatter about the sample's own mean misses the share 1 / n_eff of the variance.
    spread = math.sqrt(scatter / n / (worth - 1.0))
    return Mean(middle, spread, n, worth, rho)


def resolution_of(values: np.ndarray) -> float:
    """The logger's step: the least difference between values that differ. [SI]

    Parameters
    ----------
    values : ndarray
        Samples. [SI]

    Returns
    -------
    float
        Step; 0 where all values are the same. [SI]

    Examples
    --------
    >>> resolution_of(np.array([20.0, 20.5, 22.0]))
    0.5
    """
    x = np.unique(np.round(np.asarray(values, dtype=float)[np.isfinite(values)], 6))
    return float(np.min(np.diff(x))) if x.size > 1 else 0.0


def slope_of(time_s: np.ndarray, values: np.ndarray) -> float:
    """Slope of the least-squares line, 0 where fewer than three samples are finite. [SI/s]

    Parameters
    ----------
    time_s : ndarray
        Times. [s]
    values : ndarray
        Samples. [SI]

    Returns
    -------
    float
        Slope. [SI/s]

    Examples
    --------
    >>> round(slope_of(np.array([0.0, 60.0, 120.0]), np.array([280.0, 279.4, 278.8])), 6)
    -0.01
    """
    good = np.isfinite(values)
    if np.count_nonzero(good) < 3:
        return 0.0
    t = time_s[good] - np.mean(time_s[good])
    return float(t @ values[good] / (t @ t))
