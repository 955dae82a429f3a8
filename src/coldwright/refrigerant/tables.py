"""Property tables for the compiled kernels, built once from CoolProp and kept on disk.

CoolProp (Bell et al. 2014, doi 10.1021/ie4033999) is the only source of the
numbers but R22's viscosity (`transport`); importing it costs seconds, so it is
imported only to build a table.
The saturation line is a cubic spline in ln p; the vapour is a bicubic patch in
(ln p, share of the way from saturation to the table's hottest isotherm);
the subcooled liquid is the first-order expansion from the saturation line at
the same temperature.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import numpy as np

from coldwright import cache_folder
from coldwright.durable import keep, kept, sweep
from coldwright.refrigerant.full import FULL_REFRIGERANTS, refrigerant_code
from coldwright.refrigerant.transport import ViscosityLevel, level_of

FORMAT = 5  # raise when the meaning of a stored column changes
T_COLDEST = 193.15  # -80 degC, colder than any household low side [K]
T_HOTTEST_SATURATION = 368.15  # 95 degC [K]
CRITICAL_MARGIN = 3.0  # splines lose their accuracy nearer the critical point [K]
T_HOTTEST_VAPOUR = 480.0  # discharge gas of a failing compressor stays below [K]
LIQUID_STEP = 8e5  # a condenser's pressure above saturation of its subcooled end [Pa]
N_SATURATION = 321
N_PRESSURE = 61
N_SUPERHEAT = 41

__all__ = ["FULL_REFRIGERANTS", "Tables", "build", "load_tables"]

# Columns of the saturation spline, in the order the kernels index them.
SATURATION_COLUMNS = (
    "T", "hl", "hv", "vl", "vv", "mul", "muv", "sl", "sv", "cpl", "cpv", "kl", "kv",
    "sigma", "drhol_dp", "dhl_dp", "dmul_dp",
)  # fmt: skip
VAPOUR_COLUMNS = ("h", "z", "s_plus_r_ln_p", "cp", "mu", "k")


class Tables(NamedTuple):
    """Arrays of one refrigerant, in the shape the kernels read."""

    saturation: np.ndarray  # (intervals, 4, columns): cubic coefficients in ln p
    ln_p_first: float
    ln_p_step: float
    ln_p_of_t: np.ndarray  # (intervals, 4): ln p as a cubic in T
    t_first: float
    t_step: float
    vapour: np.ndarray  # (pressure cells, superheat cells, columns, 16)
    vapour_ln_p_step: float
    t_hottest: float
    gas_constant: float  # of this gas [J/kg/K]
    p_critical: float
    t_critical: float
    molar_mass: float  # [kg/mol]


_loaded: dict[str, Tables] = {}


def load_tables(name: str, progress: Callable[[str], None] | None = None) -> Tables:
    """Tables of one refrigerant, from disk if they are there, else built and stored.

    Parameters
    ----------
    name : str
        One of FULL_REFRIGERANTS.
    progress : callable, optional
        Told one line before a build of some seconds starts.

    Returns
    -------
    Tables
        Shared by all who ask: read, never written.

    Raises
    ------
    Refused
        If the refrigerant has no full tables.
    """
    if name in _loaded:
        return _loaded[name]
    refrigerant_code(name)  # refuses one without tables
    path = cache_folder() / f"tables-{FORMAT}-{name}.kept"
    tables = _read(path)
    if tables is None:
        if progress is not None:
            progress(f"making property tables for {name} (once, a few seconds)")
        tables = build(name)
        _write(path, tables)
    _loaded[name] = tables
    return tables


def _read(path: Path) -> Tables | None:
    payload = kept(path)
    if payload is None:
        return None
    try:
        with np.load(io.BytesIO(payload)) as z:
            return Tables(
                *(z[f] if z[f].ndim else float(z[f]) for f in Tables._fields)  # type: ignore[arg-type]
            )
    except Exception:
        return None  # whole, but not what is wanted here: build it again


def _write(path: Path, tables: Tables) -> None:
    made = io.BytesIO()
    np.savez(made, **tables._asdict())
    sweep(path.parent)
    keep(path, made.getvalue())


def build(name: str) -> Tables:
    """Make the tables of one refrigerant from CoolProp (slow; use `load_tables`)."""
    import CoolProp
    from scipy.interpolate import CubicSpline

    state = CoolProp.AbstractState("HEOS", name)
    t_crit = state.T_critical()
    gas_constant = state.gas_constant() / state.molar_mass()
    t_hot = min(T_HOTTEST_SATURATION, t_crit - CRITICAL_MARGIN)
    state.update(CoolProp.QT_INPUTS, 0.0, T_COLDEST)
    p_low = state.p()
    state.update(CoolProp.QT_INPUTS, 0.0, t_hot)
    p_high = state.p()

    ln_p = np.linspace(np.log(p_low), np.log(p_high), N_SATURATION)
    level = level_of(name)
    rows = np.array([_saturation_row(CoolProp, state, float(np.exp(v)), level) for v in ln_p])
    for column in range(rows.shape[1]):
        rows[:, column] = _fill(rows[:, column])
    spline = CubicSpline(ln_p, rows)
    saturation = np.ascontiguousarray(np.transpose(spline.c[::-1], (1, 0, 2)))

    t_grid = np.linspace(T_COLDEST, t_hot, N_SATURATION)
    ln_p_t = []
    for t in t_grid:
        state.update(CoolProp.QT_INPUTS, 0.0, float(t))
        ln_p_t.append(np.log(state.p()))
    inverse = CubicSpline(t_grid, np.array(ln_p_t))

    ln_pv = np.linspace(np.log(p_low), np.log(p_high), N_PRESSURE)
    t_sat = spline(ln_pv)[:, 0]
    vapour = _vapour_patches(CoolProp, state, ln_pv, t_sat, gas_constant, level)
    return Tables(
        saturation=saturation,
        ln_p_first=float(ln_p[0]),
        ln_p_step=float(ln_p[1] - ln_p[0]),
        ln_p_of_t=np.ascontiguousarray(inverse.c[::-1].T),
        t_first=T_COLDEST,
        t_step=float(t_grid[1] - t_grid[0]),
        vapour=vapour,
        vapour_ln_p_step=float(ln_pv[1] - ln_pv[0]),
        t_hottest=T_HOTTEST_VAPOUR,
        gas_constant=float(gas_constant),
        p_critical=float(state.p_critical()),
        t_critical=float(t_crit),
        molar_mass=float(state.molar_mass()),
    )


def _saturation_row(cp, state, p: float, level: ViscosityLevel) -> list[float]:  # type: ignore[no-untyped-def]
    state.update(cp.PQ_INPUTS, p, 0.0)
    of_liquid, of_vapour = level.factors(state.T())
    t, hl, vl = state.T(), state.hmass(), 1 / state.rhomass()
    sl, cpl = state.smass(), state.cpmass()
    mul, kl = _transport(state)
    sigma = state.surface_tension()
    # Slopes at constant temperature, taken over the step a subcooled line really sees:
    # halves the error of a tangent, and viscosity has no analytic derivative anyway.
    state.specify_phase(cp.iphase_liquid)
    state.update(cp.PT_INPUTS, p + LIQUID_STEP, t)
    rho_slope = (state.rhomass() - 1 / vl) / LIQUID_STEP
    dhl = (state.hmass() - hl) / LIQUID_STEP
    dmul = (_transport(state)[0] - mul) / LIQUID_STEP
    state.unspecify_phase()
    state.update(cp.PQ_INPUTS, p, 1.0)
    muv, kv = _transport(state)
    return [
        t, hl, state.hmass(), vl, 1 / state.rhomass(), of_liquid * mul, of_vapour * muv, sl,
        state.smass(), cpl, state.cpmass(), kl, kv, sigma, rho_slope, dhl, of_liquid * dmul,
    ]  # fmt: skip


def _transport(state) -> tuple[float, float]:  # type: ignore[no-untyped-def]
    """Viscosity and conductivity; NaN where CoolProp's own iteration fails (filled later)."""
    try:
        mu = state.viscosity()
    except ValueError:
        mu = float("nan")
    try:
        k = state.conductivity()
    except ValueError:
        k = float("nan")
    return mu, k


def _fill(values: np.ndarray) -> np.ndarray:
    """Bridge single failed points by linear interpolation between their neighbours."""
    bad = ~np.isfinite(values)
    if bad.any():
        index = np.arange(values.size)
        values = values.copy()
        values[bad] = np.interp(index[bad], index[~bad], values[~bad])
    return values


def _vapour_patches(  # type: ignore[no-untyped-def]
    cp, state, ln_p, t_sat, gas_constant, level: ViscosityLevel
) -> np.ndarray:
    from scipy.interpolate import RectBivariateSpline

    share = np.linspace(0.0, 1.0, N_SUPERHEAT)
    grid = np.empty((ln_p.size, share.size, len(VAPOUR_COLUMNS)))
    for i, (lp, ts) in enumerate(zip(ln_p, t_sat, strict=True)):
        p = float(np.exp(lp))
        for j, u in enumerate(share):
            t = float(ts + u * (T_HOTTEST_VAPOUR - ts))
            if j == 0:
                state.update(cp.PQ_INPUTS, p, 1.0)
                t = state.T()
            else:
                state.specify_phase(cp.iphase_gas)
                state.update(cp.PT_INPUTS, p, t)
                state.unspecify_phase()
            mu, k = _transport(state)
            z = p / (state.rhomass() * gas_constant * t)
            s = state.smass() + gas_constant * lp
            grid[i, j] = (state.hmass(), z, s, state.cpmass(), mu * level.factors(t)[1], k)
        for column in range(grid.shape[2]):
            grid[i, :, column] = _fill(grid[i, :, column])
    # Hermite cell: f, fx, fy, fxy at the corners of the unit square -> 16 coefficients.
    m = np.array([[1, 0, 0, 0], [0, 0, 1, 0], [-3, 3, -2, -1], [2, -2, 1, 1]], dtype=float)
    nx, ny = ln_p.size - 1, share.size - 1
    out = np.empty((nx, ny, len(VAPOUR_COLUMNS), 16))
    x, y = np.arange(ln_p.size, dtype=float), np.arange(share.size, dtype=float)
    for c in range(len(VAPOUR_COLUMNS)):
        spline = RectBivariateSpline(x, y, grid[:, :, c], kx=3, ky=3, s=0)
        f, fx = spline(x, y), spline(x, y, dx=1)
        fy, fxy = spline(x, y, dy=1), spline(x, y, dx=1, dy=1)
        for i in range(nx):
            for j in range(ny):
                corner = (slice(i, i + 2), slice(j, j + 2))
                block = np.block([[f[corner], fy[corner]], [fx[corner], fxy[corner]]])
                out[i, j, c] = (m @ block @ m.T).ravel()
    return out
