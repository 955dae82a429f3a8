"""Faults in plain words, as every sentence of a diagnosis names them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from coldwright.faults.record import Together
from coldwright.faults.registry import FAULTS
from coldwright.faults.restrictions import RESTRICTION

WORDS: Mapping[str, str] = MappingProxyType(
    {name: fault.words.plain for name, fault in FAULTS.items()}
    | {RESTRICTION: "a restriction of drier or capillary"}
    | {w.effect.identifier: w.words for f in FAULTS.values() for w in f.ways if w.words}
)
TOGETHER = " together with "
_AIR_G_MOL = 28.9644  # molar mass of dry air, ISO 2533 (1975)


def grams_of_air(amount: float) -> float:
    """Mass of an amount of air. [g]

    Parameters
    ----------
    amount : float
        Amount. [mol]

    Returns
    -------
    float
        Mass. [g]

    Examples
    --------
    >>> round(grams_of_air(0.05), 2)
    1.45
    """
    return _AIR_G_MOL * amount


def fault_words(faults: str | Together) -> str:
    """A fault in plain words, or two at once as both.

    Parameters
    ----------
    faults : str or tuple of str
        A fault, a way such as "control:damper_shut", or "restriction"; or a hypothesis.

    Returns
    -------
    str
        For the middle of a sentence.

    Examples
    --------
    >>> fault_words(("undercharge", "condenser_air"))
    'too little refrigerant together with poor air over the condenser'
    """
    names = (faults,) if isinstance(faults, str) else faults
    return TOGETHER.join(WORDS.get(name, name.replace("_", " ")) for name in names)
