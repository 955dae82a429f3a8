"""Kinds of thermometer, gauge and meter, and what each may be off.

Every number is a judgement of ours unless a source is named.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TypeVar

from coldwright.errors import BadInput, nearest

K = TypeVar("K")

OURS = "judgement of ours"
# A limit counts as uniform: sd = limit / sqrt(3) (JCGM 100:2008, 4.3.7, from memory).
EN837 = "EN 837-1 (1996), class 1.6 of the span, from memory; most of it taken as zero error"


@dataclass(frozen=True, slots=True)
class Thermometer:
    """A kind of thermometer: sd per reading, bias per visit, limits of k on a tube."""

    sd_k: float
    bias_sd_k: float
    toward_air_low: float
    toward_air_high: float


@dataclass(frozen=True, slots=True)
class Gauge:
    """A kind of gauge set: low side of 11 bar span, high side of 35 bar span."""

    low_sd_pa: float
    low_bias_sd_pa: float
    high_sd_pa: float
    high_bias_sd_pa: float
    source: str


@dataclass(frozen=True, slots=True)
class Meter:
    """A kind of electrical meter."""

    power_sd_w: float
    power_bias_relative_sd: float
    current_sd_a: float
    current_bias_relative_sd: float


THERMOMETERS: Mapping[str, Thermometer] = MappingProxyType(
    {
        "clamp": Thermometer(0.3, 1.0, 0.02, 0.15),
        "probe": Thermometer(0.3, 0.6, 0.02, 0.10),  # taped on under a strip of foam
        "infrared": Thermometer(1.0, 1.5, 0.05, 0.40),  # bare metal mirrors the room
        "dial": Thermometer(1.0, 1.2, 0.05, 0.25),
    }
)
GAUGES: Mapping[str, Gauge] = MappingProxyType(
    {"dial": Gauge(4e3, 9e3, 15e3, 29e3, EN837), "digital": Gauge(1e3, 3e3, 3e3, 1e4, OURS)}
)
METERS: Mapping[str, Meter] = MappingProxyType(
    # a clamp meter's watts are volts times amperes with a guessed power factor
    {"plug_in": Meter(1.0, 0.015, 0.02, 0.02), "clamp": Meter(2.0, 0.05, 0.03, 0.025)}
)


def pick(what: str, name: str, known: Mapping[str, K]) -> K:
    """The entry of that name.

    Parameters
    ----------
    what : str
        What it is, for the message.
    name : str
        The name asked for.
    known : Mapping
        Name to entry.

    Returns
    -------
    object
        The entry.

    Raises
    ------
    BadInput
        If the name is not known.

    Examples
    --------
    >>> pick("unit", "bar", {"bar": 1e5})
    100000.0
    """
    if name not in known:
        raise BadInput("catalogue", what, name, ", ".join(known), nearest(name, known))
    return known[name]
