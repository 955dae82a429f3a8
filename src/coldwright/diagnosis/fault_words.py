"""Faults in plain words, as every sentence of a diagnosis names them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

WORDS: Mapping[str, str] = MappingProxyType(
    {
        "nothing_wrong": "nothing wrong",
        "undercharge": "too little refrigerant",
        "overcharge": "too much refrigerant",
        "capillary_restricted": "a restricted capillary",
        "capillary_blocked": "a blocked capillary",
        "drier_restricted": "a restricted drier",
        "weak_compressor": "a weak compressor",
        "condenser_air": "poor air over the condenser",
        "evaporator_air": "poor air over the evaporator",
        "heat_load": "too much heat getting in",
        "compressor_not_running": "a compressor that does not run",
        "non_condensables": "air inside",
        "moisture": "moisture that freezes",
        "control": "a control that calls wrongly",
        "wrong_fill": "a wrong fill or part from an earlier repair",
        "restriction": "a restriction of drier or capillary",
        "control:not_calling": "a control that does not call",
        "control:always_calling": "a control that calls without end",
        "control:drifted_warm": "a thermostat that holds both too warm",
        "control:damper_shut": "an air flap stuck shut",
        "control:damper_open": "an air flap stuck open",
        "control:defrosting": "a defrost that does not end",
        "wrong_fill:capillary": "a capillary of another bore",
        "wrong_fill:oil_logged": "oil lying in the evaporator",
    }
)
TOGETHER = " together with "
_AIR_G_MOL = 28.9644  # molar mass of dry air, ISO 2533 (1975)


def grams_of_air(amount: float) -> float:
    """Mass of an amount of air. [g]

    Parameters
    ----------
    amount : float
        Amount. [mol]
    """
    return _AIR_G_MOL * amount


def fault_words(identifier: str) -> str:
    """A fault in plain words; two joined by '+' as both.

    Parameters
    ----------
    identifier : str
        A fault of the glossary, two of them joined by '+', or "restriction".
    """
    return TOGETHER.join(WORDS.get(f, f.replace("_", " ")) for f in identifier.split("+"))
