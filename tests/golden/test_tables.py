"""The kernels' tables against CoolProp itself over the household range.

Source: Bell et al. (2014), doi 10.1021/ie4033999, through CoolProp's own equations of
state and transport correlations, worked out here at points between the tables' nodes.
Printed values of a guideline are held in test_guideline_properties.py; no handbook table
of saturation properties was at hand to copy.
"""

from __future__ import annotations

from collections import defaultdict
from functools import cache
from typing import NamedTuple

import CoolProp as cp
import numpy as np
import pytest

from coldwright.refrigerant import kernels, saturation
from coldwright.refrigerant.tables import (
    CRITICAL_MARGIN,
    FULL_REFRIGERANTS,
    SATURATION_COLUMNS,
    T_COLDEST,
    T_HOTTEST_SATURATION,
    T_HOTTEST_VAPOUR,
    load_tables,
)

STATE_TOL = 2e-4  # pressure, enthalpy, density: what the project is held to
TRANSPORT_TOL = 2e-3  # viscosity and conductivity likewise; surface tension ours
HEAT_CAPACITY_TOL = 3e-3  # ours: it grows without limit towards the critical point
TEMPERATURE_TOL = 0.02  # of the look-ups that turn enthalpy into temperature, ours [K]
# Superheated vapour is held to the above up to here; nearer the critical point its patches
# are coarser. 75 degC is above any condenser that still cools its room (judgement of ours).
VAPOUR_MARGIN = 25.0  # below the critical temperature [K]
NEAR_CRITICAL_TOL = 0.01  # of enthalpy and density in those last 25 K, measured
T_REFERENCE = 248.15  # heat of vaporisation here is the unit of enthalpy [K]
# Saturation of a condenser's liquid: up to 17 K above the hottest room, 43 degC. At 65 degC
# R290's liquid density is off by 0.022 %, the first to pass the bound. [K]
CONDENSING = (283.15, 333.15)
MOST_SUBCOOLED = 40.0  # [K]
POINTS = 400
SEED = 20260305
HEAT_CAPACITIES = ("cpl", "cpv", "cp")
ENTHALPIES = ("hl", "hv", "h")
ENTROPIES = ("sl", "sv", "s")
TRANSPORT = ("mul", "muv", "mu", "kl", "kv", "k", "sigma")

# R22: the library estimates viscosity by corresponding states; ours is the VDI Heat Atlas's.
ESTIMATED_VISCOSITY_TOL = 0.35

fluids = pytest.mark.parametrize("name", FULL_REFRIGERANTS)


class Worst(NamedTuple):
    """Largest error of a property and where it lies."""

    error: float
    saturation_k: float
    t_k: float


class Errors:
    """Errors by property; enthalpy and entropy as shares of a heat of vaporisation."""

    def __init__(self, name: str) -> None:
        state = new_state(name)
        self.latent = at_quality(state, 1.0, T_REFERENCE).hmass()
        self.latent -= at_quality(state, 0.0, T_REFERENCE).hmass()
        self.found: dict[str, list[Worst]] = defaultdict(list)

    def add(self, what: str, table: float, true: float, t_sat: float, t: float) -> None:
        if not np.isfinite(true):
            return  # CoolProp's own iteration fails at some points of R12's transport
        error = abs(table - true)
        if what in ENTHALPIES:
            error /= self.latent
        elif what in ENTROPIES:
            error *= t / self.latent
        elif not what.startswith("T"):
            error /= abs(true)
        self.found[what].append(Worst(error, t_sat, t))

    def worst(self, what: str) -> Worst:
        assert len(self.found[what]) > 0.9 * POINTS
        return max(self.found[what])


def new_state(name: str):
    return cp.AbstractState("HEOS", name)


def at_quality(state, quality: float, t: float):
    state.update(cp.QT_INPUTS, quality, t)
    return state


def single_phase(state, phase: int, p: float, t: float):
    state.specify_phase(phase)
    state.update(cp.PT_INPUTS, p, t)
    state.unspecify_phase()
    return state


def transport(state, what: str) -> float:
    try:
        return getattr(state, what)()
    except ValueError:
        return float("nan")


def hottest(name: str) -> float:
    """Top of the saturation table. [K]"""
    return min(T_HOTTEST_SATURATION, new_state(name).T_critical() - CRITICAL_MARGIN)


def vapour_limit(name: str) -> float:
    """Saturation up to which superheated vapour is held to the narrow bounds. [K]"""
    return min(T_HOTTEST_SATURATION, new_state(name).T_critical() - VAPOUR_MARGIN)


@cache
def on_the_line(name: str) -> Errors:
    """Saturation from -80 degC to the table's top."""
    errors, tab, state = Errors(name), load_tables(name), new_state(name)
    for t in np.random.default_rng(SEED).uniform(T_COLDEST, hottest(name), POINTS):
        true = {}
        for phase, quality in (("l", 0.0), ("v", 1.0)):
            s = at_quality(state, quality, t)
            p = s.p()
            true |= {
                "h" + phase: s.hmass(), "v" + phase: 1.0 / s.rhomass(), "s" + phase: s.smass(),
                "mu" + phase: transport(s, "viscosity"), "cp" + phase: s.cpmass(),
                "k" + phase: transport(s, "conductivity"), "sigma": s.surface_tension(),
            }  # fmt: skip
        columns = saturation.saturation_all(tab, p)
        errors.add("p", saturation.saturation_pressure(tab, t), p, t, t)
        errors.add("T", saturation.saturation_temperature(tab, p), t, t, t)
        for what, value in zip(SATURATION_COLUMNS, columns, strict=True):
            if what in true:
                errors.add(what, value, true[what], t, t)
    return errors


@cache
def superheated(name: str, near_critical: bool) -> Errors:
    """Vapour from saturation to the hottest isotherm, half of the points within 30 K."""
    errors, tab, state = Errors(name), load_tables(name), new_state(name)
    rng = np.random.default_rng(SEED)
    low, high = T_COLDEST, vapour_limit(name)
    if near_critical:
        low, high = high, hottest(name)
    for i, t_sat in enumerate(rng.uniform(low, high, POINTS)):
        p = at_quality(state, 1.0, t_sat).p()
        t = t_sat + rng.uniform(0.05, 30.0 if i % 2 else T_HOTTEST_VAPOUR - 1.0 - t_sat)
        s = single_phase(state, cp.iphase_gas, p, t)
        true = (
            s.hmass(), 1.0 / s.rhomass(), s.smass(), s.cpmass(), transport(s, "viscosity"),
            transport(s, "conductivity"),
        )  # fmt: skip
        for what, table, exact in zip(
            ("h", "v", "s", "cp", "mu", "k"), kernels.vapour(tab, p, t), true, strict=True
        ):
            errors.add(what, table, exact, t_sat, t)
        errors.add("T(h)", kernels.vapour_temperature(tab, p, true[0]), t, t_sat, t)
    return errors


@cache
def subcooled(name: str) -> Errors:
    """Liquid of a condenser and a liquid line."""
    errors, tab, state = Errors(name), load_tables(name), new_state(name)
    rng = np.random.default_rng(SEED)
    for t_sat in rng.uniform(*CONDENSING, POINTS):
        p = at_quality(state, 0.0, t_sat).p()
        t = t_sat - rng.uniform(0.05, MOST_SUBCOOLED)
        cp_saturated = at_quality(state, 0.0, t).cpmass()
        s = single_phase(state, cp.iphase_liquid, p, t)
        h, v, mu = kernels.liquid(tab, p, t)
        errors.add("h", h, s.hmass(), t_sat, t)
        errors.add("v", v, 1.0 / s.rhomass(), t_sat, t)
        errors.add("mu", mu, transport(s, "viscosity"), t_sat, t)
        errors.add("cp", kernels.liquid_heat_capacity(tab, t), cp_saturated, t_sat, t)
        errors.add("T(h)", kernels.liquid_temperature(tab, p, s.hmass()), t, t_sat, t)
    return errors


def bound(what: str, name: str = "") -> float:
    if name == "R22" and what.startswith("mu"):
        return ESTIMATED_VISCOSITY_TOL
    if what.startswith("T"):
        return TEMPERATURE_TOL
    if what in HEAT_CAPACITIES:
        return HEAT_CAPACITY_TOL
    return TRANSPORT_TOL if what in TRANSPORT else STATE_TOL


@fluids
@pytest.mark.parametrize("what", ["p", "T", *SATURATION_COLUMNS[1:14]])
def test_saturation(name, what):
    worst = on_the_line(name).worst(what)
    assert worst.error < bound(what, name), worst


@fluids
@pytest.mark.parametrize("what", ["h", "v", "s", "cp", "mu", "k", "T(h)"])
def test_superheated_vapour(name, what):
    worst = superheated(name, near_critical=False).worst(what)
    assert worst.error < bound(what, name), worst


@pytest.mark.parametrize("name", ["R134a", "R12", "R290"])  # R600a's table ends far below
@pytest.mark.parametrize("what", ["h", "v"])
def test_vapour_near_the_critical_point_stays_within_its_wider_bound(name, what):
    worst = superheated(name, near_critical=True).worst(what)
    assert worst.error < NEAR_CRITICAL_TOL, worst


@fluids
@pytest.mark.parametrize("what", ["h", "v", "mu", "cp", "T(h)"])
def test_subcooled_liquid(name, what):
    worst = subcooled(name).worst(what)
    assert worst.error < bound(what, name), worst


@fluids
def test_the_tables_know_their_fluid(name):
    tab, state = load_tables(name), new_state(name)
    assert tab.t_critical == pytest.approx(state.T_critical(), rel=1e-9)
    assert tab.p_critical == pytest.approx(state.p_critical(), rel=1e-9)
    assert tab.molar_mass == pytest.approx(state.molar_mass(), rel=1e-9)
    assert tab.gas_constant == pytest.approx(state.gas_constant() / state.molar_mass(), rel=1e-9)
