"""Compiled look-ups along the saturation line of `tables.Tables`.

Pressures outside the table are held at its edge: the solver keeps its
unknowns inside, and a result at an edge is flagged by the caller.
"""

from __future__ import annotations

from math import exp, log
from typing import NamedTuple

from coldwright.refrigerant.compiled import kernel


class SaturationStep(NamedTuple):
    """What a step along a capillary needs of saturated liquid (l) and vapour (v)."""

    t: float  # [K]
    h_l: float  # [J/kg]
    h_v: float
    v_l: float  # [m3/kg]
    v_v: float
    mu_l: float  # [Pa s]
    mu_v: float


class SaturationSlopes(NamedTuple):
    """`SaturationStep` with slopes along the line, each per pascal."""

    t: float
    h_l: float
    h_v: float
    v_l: float
    v_v: float
    mu_l: float
    mu_v: float
    h_l_slope: float
    h_v_slope: float
    v_l_slope: float
    v_v_slope: float


class Saturation(NamedTuple):
    """All of saturated liquid (l) and vapour (v), in the order of `tables.SATURATION_COLUMNS`."""

    t: float  # [K]
    h_l: float  # [J/kg]
    h_v: float
    v_l: float  # [m3/kg]
    v_v: float
    mu_l: float  # [Pa s]
    mu_v: float
    s_l: float  # [J/kg/K]
    s_v: float
    cp_l: float  # [J/kg/K]
    cp_v: float
    k_l: float  # [W/m/K]
    k_v: float
    sigma: float  # surface tension [N/m]
    rho_l_slope: float  # of the liquid with pressure at constant temperature, per pascal
    h_l_slope: float
    mu_l_slope: float


@kernel
def _place(tab, p):
    """Interval and distance of ln p in the saturation spline."""
    x = (log(p) - tab.ln_p_first) / tab.ln_p_step
    n = tab.saturation.shape[0]
    if x < 0.0:
        x = 0.0
    elif x > n:
        x = float(n)
    i = int(x)
    if i > n - 1:
        i = n - 1
    return i, (x - i) * tab.ln_p_step


@kernel
def _column(tab, i, d, c):
    s = tab.saturation
    return s[i, 0, c] + d * (s[i, 1, c] + d * (s[i, 2, c] + d * s[i, 3, c]))


@kernel
def saturation_temperature(tab, p):
    """Saturation temperature.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, inside the table. [Pa]

    Returns
    -------
    float
        Temperature. [K]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    i, d = _place(tab, p)
    return _column(tab, i, d, 0)


@kernel
def saturation_pressure(tab, t):
    """Saturation pressure; beyond the table's ends ln p goes on linearly in T.

    Parameters
    ----------
    tab : Tables
        Property tables.
    t : float
        Temperature. [K]

    Returns
    -------
    float
        Pressure. [Pa]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    n = tab.ln_p_of_t.shape[0]
    x = (t - tab.t_first) / tab.t_step
    i = int(min(max(x, 0.0), n - 1.0))
    d = t - tab.t_first - i * tab.t_step
    c = tab.ln_p_of_t
    beyond = 0.0
    if d < 0.0:
        beyond, d = d, 0.0
    elif d > tab.t_step:
        beyond, d = d - tab.t_step, tab.t_step
    ln_p = c[i, 0] + d * (c[i, 1] + d * (c[i, 2] + d * c[i, 3]))
    if beyond != 0.0:
        ln_p += beyond * (c[i, 1] + d * (2.0 * c[i, 2] + 3.0 * d * c[i, 3]))
    return exp(ln_p)


@kernel
def saturation_march(tab, p):
    """What a capillary step needs.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, inside the table. [Pa]

    Returns
    -------
    SaturationStep
        Named values. [SI]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    i, d = _place(tab, p)
    return SaturationStep(
        _column(tab, i, d, 0), _column(tab, i, d, 1), _column(tab, i, d, 2),
        _column(tab, i, d, 3), _column(tab, i, d, 4), _column(tab, i, d, 5),
        _column(tab, i, d, 6),
    )  # fmt: skip


@kernel
def _column_slope(tab, i, d, c):
    s = tab.saturation
    return s[i, 1, c] + d * (2.0 * s[i, 2, c] + 3.0 * d * s[i, 3, c])


@kernel
def saturation_march_slopes(tab, p):
    """`saturation_march` with slopes along the line.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, inside the table. [Pa]

    Returns
    -------
    SaturationSlopes
        Named values. [SI]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    i, d = _place(tab, p)
    return SaturationSlopes(
        _column(tab, i, d, 0), _column(tab, i, d, 1), _column(tab, i, d, 2),
        _column(tab, i, d, 3), _column(tab, i, d, 4), _column(tab, i, d, 5),
        _column(tab, i, d, 6), _column_slope(tab, i, d, 1) / p, _column_slope(tab, i, d, 2) / p,
        _column_slope(tab, i, d, 3) / p, _column_slope(tab, i, d, 4) / p,
    )  # fmt: skip


@kernel
def saturation_all(tab, p):
    """All columns of `tables.SATURATION_COLUMNS` at one pressure.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, inside the table. [Pa]

    Returns
    -------
    Saturation
        Named values. [SI]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    i, d = _place(tab, p)
    return Saturation(
        _column(tab, i, d, 0), _column(tab, i, d, 1), _column(tab, i, d, 2),
        _column(tab, i, d, 3), _column(tab, i, d, 4), _column(tab, i, d, 5),
        _column(tab, i, d, 6), _column(tab, i, d, 7), _column(tab, i, d, 8),
        _column(tab, i, d, 9), _column(tab, i, d, 10), _column(tab, i, d, 11),
        _column(tab, i, d, 12), _column(tab, i, d, 13), _column(tab, i, d, 14),
        _column(tab, i, d, 15), _column(tab, i, d, 16),
    )  # fmt: skip
