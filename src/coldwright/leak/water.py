"""Vapour pressure of water and ice."""

from __future__ import annotations

import math

from coldwright.errors import require

TRIPLE_K = 273.16


def water_vapour_pressure(temperature_k: float) -> float:
    """Saturation pressure over water, below 0 degC over ice [Pa].

    Parameters
    ----------
    temperature_k : float
        Temperature, 180 to 350 K. [K]

    Returns
    -------
    float
        Pressure. [Pa]

    Raises
    ------
    OutOfRange
        Outside these.

    References
    ----------
    .. [1] D. M. Murphy and T. Koop, Q. J. R. Meteorol. Soc. 131 (2005) 1539, eqs. 7 and 10.
    """
    require("temperature", temperature_k, "K", 180.0, 350.0)
    t = temperature_k
    ln_t = math.log(t)
    if t < TRIPLE_K:
        return math.exp(9.550426 - 5723.265 / t + 3.53068 * ln_t - 0.00728332 * t)
    cold = 53.878 - 1331.22 / t - 9.44523 * ln_t + 0.014025 * t
    blend = math.tanh(0.0415 * (t - 218.8))
    return math.exp(54.842763 - 6763.22 / t - 4.210 * ln_t + 0.000367 * t + blend * cold)
