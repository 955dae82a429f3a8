"""Temperatures felt by hand: words in place of a number, taken as a wide reading.

Skin is at about 33 degC, so what is cooler feels cool; pain begins near 43 degC, and metal
above about 55 degC cannot be held (ISO 13732-1, 2006, contact with hot metal). The middles
and spreads that follow are ours.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

# Word -> middle and one standard deviation [K]
BY_HAND: Mapping[str, tuple[float, float]] = MappingProxyType(
    {
        "ice cold": (263.15, 8.0),
        "cool": (289.15, 6.0),
        "as the room": (296.15, 4.0),
        "warm": (309.15, 5.0),
        "hot": (320.15, 6.0),
        "too hot to touch": (335.15, 8.0),
    }
)


def felt(entered: object) -> tuple[float, float] | None:
    """Temperature and its standard deviation of a word, None where it is none. [K]

    Parameters
    ----------
    entered : object
        As written.

    Returns
    -------
    tuple of float or None
        Temperature and its standard deviation. [K]

    Examples
    --------
    >>> felt("Hot")
    (320.15, 6.0)
    """
    if not isinstance(entered, str):
        return None
    return BY_HAND.get(" ".join(entered.lower().replace("_", " ").split()))
