"""Tube metals of a household circuit, and what is said of one that is not known.

Melting temperatures: handbook values from memory; they only bound the heat.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from coldwright.errors import BadInput, nearest


@dataclass(frozen=True, slots=True)
class Metal:
    """A tube metal; `melts_k` is its solidus."""

    identifier: str
    label: str
    iron: bool  # iron, steel and nickel: phosphorus makes them brittle
    aluminium: bool
    zinc: bool  # brass: needs flux even with phosphorus filler
    melts_k: float
    look: str


COPPER = Metal("copper", "copper", False, False, False, 1356.0, "red where it is scraped")
BRASS = Metal("brass", "brass", False, False, True, 1173.0, "yellow where it is scraped")
STEEL = Metal("steel", "steel", True, False, False, 1720.0, "a magnet holds; often copper-plated")
STAINLESS = Metal(
    "stainless_steel", "stainless steel", True, False, False, 1670.0, "grey, hard, a magnet hardly"
)
ALUMINIUM = Metal(
    "aluminium", "aluminium", False, True, False, 916.0, "light grey, soft, no magnet"
)
UNKNOWN = Metal("unknown", "metal not known", True, True, True, 916.0, "scrape it, try a magnet")

METALS: Mapping[str, Metal] = MappingProxyType(
    {m.identifier: m for m in (COPPER, BRASS, STEEL, STAINLESS, ALUMINIUM)}
)
LEFT_OUT = (
    "left out, the joint is planned as of unknown metal: a crimped ring only, since every "
    "filler that suits one metal is barred on another"
)


def metal_named(name: str, *, file: str = "joint", key: str = "metals") -> Metal:
    """The metal of that name, `UNKNOWN` for "unknown".

    Parameters
    ----------
    name : str
        Such as "copper"; British and American spelling of aluminium are taken.
    file, key : str
        Where it was read, for the message.

    Returns
    -------
    Metal
        The metal's record.

    Raises
    ------
    BadInput
        If the metal is not known; says what happens when it is left out.
    """
    plain = name.strip().casefold().replace(" ", "_").replace("-", "_")
    plain = {"aluminum": "aluminium", "stainless": "stainless_steel", "iron": "steel"}.get(
        plain, plain
    )
    if plain == UNKNOWN.identifier:
        return UNKNOWN
    if plain not in METALS:
        accepted = f"one of {', '.join(METALS)} or unknown; {LEFT_OUT}"
        raise BadInput(file, key, f"'{name}'", accepted, nearest(plain, METALS))
    return METALS[plain]
