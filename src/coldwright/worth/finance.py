"""Present value and annuity. Yearly payments at the end of each year; part years allowed."""

from __future__ import annotations

import numpy as np

from coldwright.errors import require

MOST_RATE = 0.5


def annuity_factor(rate: float, years: np.ndarray | float) -> np.ndarray:
    """Present value of one a year over so many years. [a]

    Parameters
    ----------
    rate : float
        Yearly discount rate, 0 to 0.5. [-]
    years : ndarray or float
        How long. [a]

    Returns
    -------
    ndarray
        Shape of `years`. [a]

    Raises
    ------
    OutOfRange
        If the discount rate is out of range.

    References
    ----------
    .. [1] (1 - (1 + r)^-n) / r, any textbook of engineering economy; n at r = 0.

    Examples
    --------
    >>> round(float(annuity_factor(0.05, 10.0)), 3)
    7.722
    """
    require("discount rate", rate, "-", 0.0, MOST_RATE)
    n = np.asarray(years, dtype=float)
    if rate < 1e-9:
        return n
    return np.asarray(-np.expm1(-n * np.log1p(rate)) / rate)


def discount(rate: float, years: np.ndarray | float) -> np.ndarray:
    """Present value of one, due after so many years. [-]

    Parameters
    ----------
    rate : float
        Yearly discount rate, 0 to 0.5. [-]
    years : ndarray or float
        When. [a]

    Returns
    -------
    ndarray
        Shape of `years`. [-]

    Raises
    ------
    OutOfRange
        If the discount rate is out of range.

    Examples
    --------
    >>> round(float(discount(0.05, 10.0)), 4)
    0.6139
    """
    require("discount rate", rate, "-", 0.0, MOST_RATE)
    return np.asarray(np.exp(-np.asarray(years, dtype=float) * np.log1p(rate)))


def yearly_payment(price: float, rate: float, years: float) -> float:
    """Yearly payment that is worth a price over so many years.

    Parameters
    ----------
    price : float
        Paid now. [currency]
    rate : float
        Yearly discount rate, 0 to 0.5. [-]
    years : float
        Life over which it is used, above 0. [a]

    Returns
    -------
    float
        Payment a year. [currency]

    Raises
    ------
    OutOfRange
        If the life is out of range.

    Examples
    --------
    >>> round(yearly_payment(1000.0, 0.05, 10.0), 2)
    129.5
    """
    require("life", years, "a", 0.1, 100.0)
    return price / float(annuity_factor(rate, years))
