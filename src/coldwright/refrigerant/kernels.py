"""Compiled property look-ups over `tables.Tables`.

Pressures outside the table are held at its edge: the solver keeps its
unknowns inside, and a result at an edge is flagged by the caller.
"""

from __future__ import annotations

from math import exp, log

from numba import njit


@njit(cache=True, nogil=True, error_model="numpy")
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


@njit(cache=True, nogil=True, error_model="numpy")
def _column(tab, i, d, c):
    s = tab.saturation
    return s[i, 0, c] + d * (s[i, 1, c] + d * (s[i, 2, c] + d * s[i, 3, c]))


@njit(cache=True, nogil=True, error_model="numpy")
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


@njit(cache=True, nogil=True, error_model="numpy")
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


@njit(cache=True, nogil=True, error_model="numpy")
def saturation_march(tab, p):
    """What a capillary step needs: (T, hl, hv, vl, vv, mul, muv), SI.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, inside the table. [Pa]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    i, d = _place(tab, p)
    return (
        _column(tab, i, d, 0), _column(tab, i, d, 1), _column(tab, i, d, 2),
        _column(tab, i, d, 3), _column(tab, i, d, 4), _column(tab, i, d, 5),
        _column(tab, i, d, 6),
    )  # fmt: skip


@njit(cache=True, nogil=True, error_model="numpy")
def _column_slope(tab, i, d, c):
    s = tab.saturation
    return s[i, 1, c] + d * (2.0 * s[i, 2, c] + 3.0 * d * s[i, 3, c])


@njit(cache=True, nogil=True, error_model="numpy")
def saturation_march_slopes(tab, p):
    """`saturation_march` with the slopes of (hl, hv, vl, vv) along the line, per pascal, SI.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, inside the table. [Pa]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    i, d = _place(tab, p)
    return (
        _column(tab, i, d, 0), _column(tab, i, d, 1), _column(tab, i, d, 2),
        _column(tab, i, d, 3), _column(tab, i, d, 4), _column(tab, i, d, 5),
        _column(tab, i, d, 6), _column_slope(tab, i, d, 1) / p, _column_slope(tab, i, d, 2) / p,
        _column_slope(tab, i, d, 3) / p, _column_slope(tab, i, d, 4) / p,
    )  # fmt: skip


@njit(cache=True, nogil=True, error_model="numpy")
def saturation_all(tab, p):
    """All 17 columns of `tables.SATURATION_COLUMNS` at one pressure, SI.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, inside the table. [Pa]

    References
    ----------
    .. [1] Bell et al. (2014), CoolProp, through `tables.build`.
    """
    i, d = _place(tab, p)
    return (
        _column(tab, i, d, 0), _column(tab, i, d, 1), _column(tab, i, d, 2),
        _column(tab, i, d, 3), _column(tab, i, d, 4), _column(tab, i, d, 5),
        _column(tab, i, d, 6), _column(tab, i, d, 7), _column(tab, i, d, 8),
        _column(tab, i, d, 9), _column(tab, i, d, 10), _column(tab, i, d, 11),
        _column(tab, i, d, 12), _column(tab, i, d, 13), _column(tab, i, d, 14),
        _column(tab, i, d, 15), _column(tab, i, d, 16),
    )  # fmt: skip


@njit(cache=True, nogil=True, error_model="numpy")
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


@njit(cache=True, nogil=True, error_model="numpy")
def _patch(c, x, y):
    r0 = c[0] + y * (c[1] + y * (c[2] + y * c[3]))
    r1 = c[4] + y * (c[5] + y * (c[6] + y * c[7]))
    r2 = c[8] + y * (c[9] + y * (c[10] + y * c[11]))
    r3 = c[12] + y * (c[13] + y * (c[14] + y * c[15]))
    return r0 + x * (r1 + x * (r2 + x * r3))


@njit(cache=True, nogil=True, error_model="numpy")
def _share_cell(tab, u):
    m = tab.vapour.shape[1]
    y = min(max(u, 0.0), 1.0) * m
    j = int(y)
    if j > m - 1:
        j = m - 1
    return j, y - j


@njit(cache=True, nogil=True, error_model="numpy")
def vapour(tab, p, t):
    """Superheated vapour: (h, v, s, cp, mu, k), SI; colder than saturation gives saturation.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, inside the table. [Pa]
    t : float
        Temperature, up to the table's hottest isotherm. [K]

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
    return h, v, s, cp, _patch(cells[4], x, y), _patch(cells[5], x, y)


@njit(cache=True, nogil=True, error_model="numpy")
def vapour_hvs(tab, p, ts, t):
    """As `vapour`, but only (h, v, s, cp) and with the saturation temperature given.

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
    return h, v, _patch(cells[2], x, y) - tab.gas_constant * lp, cp


@njit(cache=True, nogil=True, error_model="numpy")
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


@njit(cache=True, nogil=True, error_model="numpy")
def liquid(tab, p, t):
    """Subcooled liquid by first-order expansion from saturation at t: (h, v, mu), SI.

    Parameters
    ----------
    tab : Tables
        Property tables.
    p : float
        Pressure, at or above saturation at t. [Pa]
    t : float
        Temperature. [K]

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
    return h, v, _column(tab, i, d, 5) + dp * _column(tab, i, d, 16)


@njit(cache=True, nogil=True, error_model="numpy")
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


@njit(cache=True, nogil=True, error_model="numpy")
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
    for _ in range(6):
        t = min(max(t, tab.t_first), ts)
        ps = saturation_pressure(tab, t)
        i, d = _place(tab, ps)
        hh = _column(tab, i, d, 1) + max(p - ps, 0.0) * _column(tab, i, d, 15)
        step = (h - hh) / _column(tab, i, d, 9)
        t += step
        if abs(step) < 1e-7:
            break
    return min(t, ts)


@njit(cache=True, nogil=True, error_model="numpy")
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
