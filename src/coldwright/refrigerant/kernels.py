"""Compiled property look-ups over `tables.Tables`.

Pressures outside the table are held at its edge: the solver keeps its
unknowns inside, and a result at an edge is flagged by the caller.
"""

from __future__ import annotations

from math import exp, log
from typing import NamedTuple

from coldwright.refrigerant.compiled import kernel
from coldwright.refrigerant.saturation import (
    _column,
    _column_slope,
    _place,
    saturation_pressure,
    saturation_temperature,
)


class VapourState(NamedTuple):
    """Vapour without its transport properties."""

    h: float  # [J/kg]
    v: float  # [m3/kg]
    s: float  # [J/kg/K]
    cp: float  # [J/kg/K]


class Vapour(NamedTuple):
    """Vapour with its transport properties."""

    h: float  # [J/kg]
    v: float  # [m3/kg]
    s: float  # [J/kg/K]
    cp: float  # [J/kg/K]
    mu: float  # [Pa s]
    k: float  # [W/m/K]


class Liquid(NamedTuple):
    """Liquid at a pressure."""

    h: float  # [J/kg]
    v: float  # [m3/kg]
    mu: float  # [Pa s]


@kernel
def _vapour_cell(tab, p):
    x = (log(p) - tab.ln_p_first) / tab.vapour_ln_p_step
    n = tab.vapour.shape[0]
    if x < 0.0:
        x = 0.0
    elif x > n:
        x = float(n)
    i = int(x)
    if i > n - 1:
        i = n - 1
    return i, x - i


@kernel
def _patch(c, x, y):
    r0 = c[0] + y * (c[1] + y * (c[2] + y * c[3]))
    r1 = c[4] + y * (c[5] + y * (c[6] + y * c[7]))
    r2 = c[8] + y * (c[9] + y * (c[10] + y * c[11]))
    r3 = c[12] + y * (c[13] + y * (c[14] + y * c[15]))
    return r0 + x * (r1 + x * (r2 + x * r3))


@kernel
def _share_cell(tab, u):
    m = tab.vapour.shape[1]
    y = min(max(u, 0.0), 1.0) * m
    j = int(y)
    if j > m - 1:
        j = m - 1
    return j, y - j


@kernel
def vapour(tab, p, t):
    """Superheated vapour; colder than saturation gives saturation.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, inside the table. [Pa]
    t : float
        Temperature, up to the table's hottest isotherm. [K]

    Returns
    -------
    Vapour
        Named values. [SI]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    ts = saturation_temperature(tab, p)
    i, x = _vapour_cell(tab, p)
    tt = max(t, ts)
    j, y = _share_cell(tab, (tt - ts) / (tab.t_hottest - ts))
    cells = tab.vapour[i, j]
    h = _patch(cells[0], x, y)
    cp = _patch(cells[3], x, y)
    if tt > tab.t_hottest:  # hotter than the table: perfect gas from its edge
        h += cp * (tt - tab.t_hottest)
    v = _patch(cells[1], x, y) * tab.gas_constant * tt / p
    s = _patch(cells[2], x, y) - tab.gas_constant * log(p)
    return Vapour(h, v, s, cp, _patch(cells[4], x, y), _patch(cells[5], x, y))


@kernel
def vapour_hvs(tab, p, ts, t):
    """As `vapour`, without transport properties and with the saturation temperature given.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, inside the table. [Pa]
    ts : float
        Saturation temperature at p. [K]
    t : float
        Temperature. [K]

    Returns
    -------
    VapourState
        Named values. [SI]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    lp = log(p)
    n = tab.vapour.shape[0]
    x = min(max((lp - tab.ln_p_first) / tab.vapour_ln_p_step, 0.0), float(n))
    i = min(int(x), n - 1)
    x -= i
    tt = max(t, ts)
    j, y = _share_cell(tab, (tt - ts) / (tab.t_hottest - ts))
    cells = tab.vapour[i, j]
    h = _patch(cells[0], x, y)
    cp = _patch(cells[3], x, y)
    if tt > tab.t_hottest:
        h += cp * (tt - tab.t_hottest)
    v = _patch(cells[1], x, y) * tab.gas_constant * tt / p
    return VapourState(h, v, _patch(cells[2], x, y) - tab.gas_constant * lp, cp)


@kernel
def vapour_temperature(tab, p, h):
    """Temperature of superheated vapour from enthalpy, by Newton steps on the table.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, inside the table. [Pa]
    h : float
        Specific enthalpy, at or above that of saturated vapour. [J/kg]

    Returns
    -------
    float
        Temperature. [K]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    i0, d0 = _place(tab, p)
    ts = _column(tab, i0, d0, 0)
    hv = _column(tab, i0, d0, 2)
    cpv = _column(tab, i0, d0, 10)
    if h <= hv:
        return ts
    i, x = _vapour_cell(tab, p)
    span = tab.t_hottest - ts
    t = ts + (h - hv) / cpv
    for _ in range(6):
        tt = min(max(t, ts), tab.t_hottest)
        j, y = _share_cell(tab, (tt - ts) / span)
        cells = tab.vapour[i, j]
        hh = _patch(cells[0], x, y)
        cp = _patch(cells[3], x, y)
        if t > tab.t_hottest:
            hh += cp * (t - tab.t_hottest)
        step = (h - hh) / cp
        t += step
        if abs(step) < 1e-7:
            break
    return max(t, ts)


@kernel
def liquid(tab, p, t):
    """Subcooled liquid by first-order expansion from saturation at t.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, at or above saturation at t. [Pa]
    t : float
        Temperature. [K]

    Returns
    -------
    Liquid
        Named values. [SI]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    ps = saturation_pressure(tab, t)
    i, d = _place(tab, ps)
    dp = max(p - ps, 0.0)
    v0 = _column(tab, i, d, 3)
    v = v0 / (1.0 + dp * _column(tab, i, d, 14) * v0)
    h = _column(tab, i, d, 1) + dp * _column(tab, i, d, 15)
    return Liquid(h, v, _column(tab, i, d, 5) + dp * _column(tab, i, d, 16))


@kernel
def liquid_heat_capacity(tab, t):
    """Isobaric heat capacity of saturated liquid.

    Parameters
    ----------
    tab : Tables
        Property tables.
    t : float
        Temperature. [K]

    Returns
    -------
    float
        Heat capacity. [J/kg/K]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    i, d = _place(tab, saturation_pressure(tab, t))
    return _column(tab, i, d, 9)


@kernel
def liquid_temperature(tab, p, h):
    """Temperature of subcooled liquid from enthalpy, by Newton steps.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, inside the table. [Pa]
    h : float
        Specific enthalpy, at or below that of saturated liquid. [J/kg]

    Returns
    -------
    float
        Temperature. [K]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    i, d = _place(tab, p)
    ts = _column(tab, i, d, 0)
    hl = _column(tab, i, d, 1)
    if h >= hl:
        return ts
    t = ts + (h - hl) / _column(tab, i, d, 9)
    n = tab.ln_p_of_t.shape[0]
    m = tab.saturation.shape[0]
    for _ in range(6):
        t = min(max(t, tab.t_first), ts)
        k = int(min((t - tab.t_first) / tab.t_step, n - 1.0))
        e = t - tab.t_first - k * tab.t_step
        c = tab.ln_p_of_t
        ln_p = c[k, 0] + e * (c[k, 1] + e * (c[k, 2] + e * c[k, 3]))
        rise = c[k, 1] + e * (2.0 * c[k, 2] + 3.0 * e * c[k, 3])
        ps = exp(ln_p)
        i = int(min(max((ln_p - tab.ln_p_first) / tab.ln_p_step, 0.0), m - 1.0))
        d = ln_p - tab.ln_p_first - i * tab.ln_p_step
        slope = _column(tab, i, d, 15)
        dp = max(p - ps, 0.0)
        hh = _column(tab, i, d, 1) + dp * slope
        grow = rise * (_column_slope(tab, i, d, 1) + dp * _column_slope(tab, i, d, 15) - ps * slope)
        step = (h - hh) / grow
        t += step
        if abs(step) < 1e-7:
            break
    return min(t, ts)


@kernel
def temperature(tab, p, h):
    """Temperature at any phase from pressure and enthalpy.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, inside the table. [Pa]
    h : float
        Specific enthalpy. [J/kg]

    Returns
    -------
    float
        Temperature. [K]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    i, d = _place(tab, p)
    if h < _column(tab, i, d, 1):
        return liquid_temperature(tab, p, h)
    if h > _column(tab, i, d, 2):
        return vapour_temperature(tab, p, h)
    return _column(tab, i, d, 0)
