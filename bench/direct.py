"""The property look-ups of the kernels once more, each a direct CoolProp call.

Same arguments and results as `refrigerant.saturation` and `refrigerant.kernels`; where
those take a table these take a `Direct`. For the slow twin only.
"""

from __future__ import annotations

import sys
from types import SimpleNamespace

import CoolProp as cp

from coldwright.refrigerant import kernels, saturation
from coldwright.refrigerant.tables import Tables

# Columns of `tables.SATURATION_COLUMNS` that no cycle module reads: the liquid's slopes.
UNREAD = (float("nan"),) * 3


class Direct(SimpleNamespace):
    """The constants of a refrigerant's tables with a CoolProp state instead of the arrays."""

    def __init__(self, refrigerant: str, tables: Tables) -> None:
        super().__init__(**tables._asdict())
        self.state = cp.AbstractState("HEOS", refrigerant)
        del self.saturation, self.ln_p_of_t, self.vapour  # nobody can look anything up here


def saturation_temperature(tab, p):
    tab.state.update(cp.PQ_INPUTS, p, 1.0)
    return tab.state.T()


def saturation_pressure(tab, t):
    tab.state.update(cp.QT_INPUTS, 1.0, t)
    return tab.state.p()


def saturation_march(tab, p):
    s = tab.state
    s.update(cp.PQ_INPUTS, p, 0.0)
    hl, vl, mul = s.hmass(), 1.0 / s.rhomass(), s.viscosity()
    s.update(cp.PQ_INPUTS, p, 1.0)
    return saturation.SaturationStep(
        s.T(), hl, s.hmass(), vl, 1.0 / s.rhomass(), mul, s.viscosity()
    )


def saturation_march_slopes(tab, p):
    s = tab.state
    out = []
    for quality in (0.0, 1.0):
        s.update(cp.PQ_INPUTS, p, quality)
        v = 1.0 / s.rhomass()
        out.append(
            (
                s.hmass(), v, s.viscosity(), s.first_saturation_deriv(cp.iHmass, cp.iP),
                -v * v * s.first_saturation_deriv(cp.iDmass, cp.iP),
            )
        )  # fmt: skip
    (hl, vl, mul, hl1, vl1), (hv, vv, muv, hv1, vv1) = out
    return saturation.SaturationSlopes(s.T(), hl, hv, vl, vv, mul, muv, hl1, hv1, vl1, vv1)


def saturation_all(tab, p):
    s = tab.state
    s.update(cp.PQ_INPUTS, p, 0.0)
    hl, vl, mul, sl = s.hmass(), 1.0 / s.rhomass(), s.viscosity(), s.smass()
    cpl, kl, sigma = s.cpmass(), s.conductivity(), s.surface_tension()
    s.update(cp.PQ_INPUTS, p, 1.0)
    return saturation.Saturation(
        s.T(), hl, s.hmass(), vl, 1.0 / s.rhomass(), mul, s.viscosity(), sl, s.smass(), cpl,
        s.cpmass(), kl, s.conductivity(), sigma, *UNREAD,
    )  # fmt: skip


def _gas(tab, p, ts, t):
    s = tab.state
    if t <= ts:
        s.update(cp.PQ_INPUTS, p, 1.0)
    else:
        s.specify_phase(cp.iphase_gas)
        s.update(cp.PT_INPUTS, p, t)
        s.unspecify_phase()
    return s


def vapour(tab, p, t):
    s = _gas(tab, p, saturation_temperature(tab, p), t)
    return kernels.Vapour(
        s.hmass(), 1.0 / s.rhomass(), s.smass(), s.cpmass(), s.viscosity(), s.conductivity()
    )


def vapour_hvs(tab, p, ts, t):
    s = _gas(tab, p, ts, t)
    return kernels.VapourState(s.hmass(), 1.0 / s.rhomass(), s.smass(), s.cpmass())


def vapour_temperature(tab, p, h):
    s = tab.state
    s.update(cp.PQ_INPUTS, p, 1.0)
    if h > s.hmass():
        s.update(cp.HmassP_INPUTS, h, p)
    return s.T()


def _liquid(tab, p, t):
    s = tab.state
    s.update(cp.QT_INPUTS, 0.0, t)
    if p > s.p():
        s.specify_phase(cp.iphase_liquid)
        s.update(cp.PT_INPUTS, p, t)
        s.unspecify_phase()
    return s


def liquid(tab, p, t):
    s = _liquid(tab, p, t)
    return kernels.Liquid(s.hmass(), 1.0 / s.rhomass(), s.viscosity())


def liquid_heat_capacity(tab, t):
    tab.state.update(cp.QT_INPUTS, 0.0, t)
    return tab.state.cpmass()


def liquid_temperature(tab, p, h):
    s = tab.state
    s.update(cp.PQ_INPUTS, p, 0.0)
    if h < s.hmass():
        s.update(cp.HmassP_INPUTS, h, p)
    return s.T()


def temperature(tab, p, h):
    tab.state.update(cp.HmassP_INPUTS, h, p)
    return tab.state.T()


LOOK_UPS = (
    saturation_temperature, saturation_pressure, saturation_march, saturation_march_slopes,
    saturation_all, vapour, vapour_hvs, vapour_temperature, liquid, liquid_heat_capacity,
    liquid_temperature, temperature,
)  # fmt: skip


def replace_look_ups() -> int:
    """Put the direct calls in the place of the tables' look-ups in every loaded cycle module.

    Returns how many imported names were changed; the look-ups' own modules keep theirs.

    Raises
    ------
    LookupError
        If a cycle module uses a look-up that has no direct call here.
    """
    direct = {look_up.__name__: look_up for look_up in LOOK_UPS}
    homes = (saturation.__name__, kernels.__name__)
    changed = 0
    for module_name, module in list(sys.modules.items()):
        if not module_name.startswith("coldwright.cycle."):
            continue
        for name, value in list(vars(module).items()):
            if getattr(value, "__module__", None) not in homes:
                continue
            if name not in direct:
                raise LookupError(f"{module_name} reads {name}, which has no direct call")
            setattr(module, name, direct[name])
            changed += 1
    return changed
