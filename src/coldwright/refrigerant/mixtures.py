"""CoolProp states of every refrigerant held, blends included; used to make tables, never while
serving.

Two parts of a blend meet through one number, the reducing parameter gammaT of
their pair (Kunz & Wagner 2012, form of GERG-2008). CoolProp takes it from Bell &
Lemmon (2016); where it holds none, or where its value misses the published
boiling point, the pair is set here and says to what it was fitted.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from coldwright.errors import Refused
from coldwright.refrigerant.fact_records import Refrigerant


@dataclass(frozen=True, slots=True)
class Pair:
    """A pair set here instead of CoolProp's: betaT, betaV and gammaV as it holds them, or 1."""

    first: str
    second: str
    gamma_t: float
    source: str


_HANDBOOK = "ASHRAE Handbook, Fundamentals (2017), ch. 29"
PAIRS = (
    Pair(
        "R12", "R152A", 0.9473,
        "fitted here to the boiling point of R500, -33.603 degC, " + _HANDBOOK + ", table 5",
    ),
    Pair(
        "R22", "R115", 0.9460,
        "fitted here to R502: boiling point -45.174 degC and 1.304 MPa at 30 degC, "
        + _HANDBOOK + ", tables 5 and 8",
    ),
    Pair(
        "R22", "R124", 0.9730,
        "none published with CoolProp; fitted here to bubble and dew point of R409A at 1 atm, "
        + _HANDBOOK + ", table 2 (R401A, not fitted, then agrees within 0.1 K)",
    ),
    Pair(
        "R152A", "R124", 1.0,
        "none published with CoolProp; Lorentz and Berthelot's rule, no fit",
    ),
    Pair(
        "R218", "IsoButane", 1.0,
        "none published with CoolProp; Lorentz and Berthelot's rule, no fit",
    ),
)  # fmt: skip
# Held by CoolProp as one fluid of its own (Lemmon 2003): better than its parts mixed.
_PSEUDO_PURE = {"R404A": "R404A"}


def state(refrigerant: Refrigerant) -> Any:
    """A CoolProp state at the nominal composition.

    The pairs set are CoolProp's own table, so they hold for the whole process.

    Parameters
    ----------
    refrigerant : Refrigerant
        With CoolProp's name or the parts of a blend.

    Returns
    -------
    AbstractState
        CoolProp's; of a blend with its mass fractions set.

    Raises
    ------
    Refused
        If neither CoolProp nor this module holds the refrigerant.
    """
    import CoolProp

    name = _PSEUDO_PURE.get(refrigerant.name, refrigerant.coolprop_name)
    if name is not None:
        return CoolProp.AbstractState("HEOS", name)
    if not refrigerant.components:
        raise Refused(
            f"no property data for {refrigerant.name}",
            ("pressure and temperature from the table on its cylinder",),
        )
    names = [part.coolprop_name for part in refrigerant.components]
    for pair in PAIRS:
        if pair.first in names and pair.second in names:
            _set(pair)
    made = CoolProp.AbstractState("HEOS", "&".join(names))
    made.set_mass_fractions([part.mass_fraction for part in refrigerant.components])
    return made


def _set(pair: Pair) -> None:
    from CoolProp.CoolProp import (
        apply_simple_mixing_rule,
        get_fluid_param_string,
        get_mixture_binary_pair_data,
        set_mixture_binary_pair_data,
    )

    cas = [get_fluid_param_string(name, "CAS") for name in (pair.first, pair.second)]
    for first, second in (cas, cas[::-1]):  # CoolProp knows a pair in one order only
        try:
            get_mixture_binary_pair_data(first, second, "gammaT")
        except ValueError:
            continue
        set_mixture_binary_pair_data(first, second, "gammaT", pair.gamma_t)
        return
    apply_simple_mixing_rule(cas[0], cas[1], "Lorentz-Berthelot")
    _set(pair)
