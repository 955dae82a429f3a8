"""Water in air: saturation pressure, dew point, density of the vapour."""

from __future__ import annotations

from math import exp, log

from coldwright.errors import require

# Alduchov & Eskridge (1996), J. Applied Meteorology 35, 601, eqs. (21) over water and (23) over
# ice: pressure at 0 degC [Pa], factor [-], offset [K]; 0.4 % in -40..50 degC.
OVER_WATER = (610.94, 17.625, 243.04)
OVER_ICE = (611.21, 22.587, 273.86)
FREEZING_K = 273.15
GAS_CONSTANT_WATER = 461.5  # [J/(kg K)]
LEAST_HUMIDITY = 0.001


def vapour_pressure(t_k: float, over: tuple[float, float, float] = OVER_WATER) -> float:
    """Saturation pressure of water.

    Parameters
    ----------
    t_k : float
        Temperature, 233 to 333. [K]
    over : tuple of float
        OVER_WATER, also below 0 degC, or OVER_ICE.

    Returns
    -------
    float
        Pressure. [Pa]

    References
    ----------
    .. [1] Magnus form of Alduchov & Eskridge (1996), J. Applied Meteorology 35, 601.

    Examples
    --------
    >>> round(vapour_pressure(293.15))
    2333
    """
    at_zero, factor, offset = over
    t = t_k - FREEZING_K
    return at_zero * exp(factor * t / (offset + t))


def dew_point(t_k: float, humidity: float) -> float:
    """Temperature at which air of that state begins to wet a surface.

    Parameters
    ----------
    t_k : float
        Air temperature, 233 to 333. [K]
    humidity : float
        Relative, 0.001 to 1. [-]

    Returns
    -------
    float
        Dew point over liquid water, also below 0 degC. [K]

    Raises
    ------
    OutOfRange
        If a value lies outside.

    References
    ----------
    .. [1] Alduchov & Eskridge (1996), eq. (21), inverted.

    Examples
    --------
    >>> round(dew_point(298.15, 0.5) - 273.15, 1)
    13.9
    """
    require("air temperature", t_k, "K", 233.15, 333.15)
    require("relative humidity", humidity, "-", LEAST_HUMIDITY, 1.0)
    _, factor, offset = OVER_WATER
    t = t_k - FREEZING_K
    gamma = log(humidity) + factor * t / (offset + t)
    return FREEZING_K + offset * gamma / (factor - gamma)


def vapour_density(t_k: float, humidity: float) -> float:
    """Water in air.

    Parameters
    ----------
    t_k : float
        Air temperature, 220 to 333. [K]
    humidity : float
        Relative, over water above 0 degC and over ice below. [-]

    Returns
    -------
    float
        Density of the vapour. [kg/m3]

    References
    ----------
    .. [1] `vapour_pressure`; ideal gas.

    Examples
    --------
    >>> round(1e3 * vapour_density(298.15, 1.0), 1)
    23.0
    """
    p = vapour_pressure(t_k, OVER_WATER if t_k >= FREEZING_K else OVER_ICE)
    return humidity * p / (GAS_CONSTANT_WATER * t_k)
