"""A fault as one record: what it alters, how often it comes, its words, what mends it.

No shares of faults among household appliances that do not cool are published that we know
of: shares, factors, ranges and chances are judgements of ours, each with its reason.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

import numpy as np

from coldwright.circuit.records import CondenserKind, EvaporatorKind
from coldwright.errors import BadInput, require
from coldwright.faults.effects import Effect
from coldwright.faults.tells import Tell

Together = tuple[str, ...]  # a hypothesis: one fault's identifier, or those of two at once
# Names under which JSON has a record's hypotheses, joined by '+'.
Joined = Mapping[str, str]

# What the owner says, in words.
COMPLAINTS: Mapping[str, str] = MappingProxyType(
    {
        "nothing_cold": "nothing gets cold",
        "fresh_food_warm_freezer_good": "fresh food warm, freezer good",
        "freezer_warm_fresh_food_good": "freezer warm, fresh food good",
        "both_too_warm": "both too warm",
        "runs_all_the_time": "runs all the time",
        "does_not_start": "does not start",
        "trips_the_breaker": "trips the breaker",
        "too_cold": "too cold",
        "fresh_food_freezes": "fresh food freezes",
        "noise": "noise",
        "frost_or_water": "frost or water where it should not be",
    }
)
CONDENSERS = tuple(kind.name.lower() for kind in CondenserKind)
EVAPORATORS = tuple(kind.name.lower() for kind in EvaporatorKind)


@dataclass(frozen=True, slots=True)
class Severity:
    """Law of a fault's severity: flat in the number or (`by_ratio`) in its logarithm."""

    low: float
    high: float
    unit: str  # "fraction", "W" or "mol"
    by_ratio: bool = False

    def __post_init__(self) -> None:
        require("least severity", self.low, self.unit, 0.0, self.high)

    def of(self, u: np.ndarray) -> np.ndarray:
        """Severities from uniform numbers; rises with them.

        Parameters
        ----------
        u : ndarray
            In 0..1, any shape. [-]

        Returns
        -------
        ndarray
            Shape kept. [as `unit`]
        """
        if self.by_ratio:
            return np.asarray(self.low * (self.high / self.low) ** u)
        return np.asarray(self.low + (self.high - self.low) * u)


@dataclass(frozen=True, slots=True)
class Way:
    """One way a fault comes about."""

    which: str  # the kind it counts under; empty where the fault has none to tell
    share: float
    effect: Effect
    low: float  # of the way's own severity, flat between the two; NaN where it has none
    high: float
    why: str
    words: str = ""  # empty where the effect is a fault with words of its own
    fan_only: bool = False  # only where a fan blows through the evaporator
    two_compartments: bool = False
    settled_only: bool = False  # nothing to see in a cabinet on its way

    def severity(self, u: np.ndarray) -> np.ndarray:
        """Severity from uniform numbers, shape kept.

        Parameters
        ----------
        u : ndarray
            In 0..1. [-]
        """
        return np.asarray(self.low + (self.high - self.low) * u)


@dataclass(frozen=True, slots=True)
class Words:
    """A fault in plain words: for sentences, as a title, for the owner."""

    plain: str  # as sentences of a diagnosis name it, "a weak compressor"
    title: str  # as a list names it, "Weak compressor: valves or pump worn"
    owner: str  # without words of the trade, "its pump is worn"
    left: str = "of the healthy value left"  # what a severity in percent is a fraction of
    left_long: str = "of the healthy value"  # the same where there is room


@dataclass(frozen=True, slots=True)
class Factors:
    """What moves a fault's odds before any reading, each a factor; 1 where nothing is said.

    `months` and `age` grow from their first number to their second.
    """

    complaints: Mapping[str, float] = field(default_factory=dict)
    repaired: float = 1.0  # somebody opened the circuit before
    never_opened: float = 1.0
    topped_up: float = 1.0  # somebody added refrigerant
    months: tuple[float, float] = (1.0, 1.0)  # from 0 to many since it worked well
    age: tuple[float, float] = (1.0, 1.0)  # from new to old
    evaporator: Mapping[str, float] = field(default_factory=dict)  # by kind of coil
    condenser: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for what, given, known in (
            ("complaint", self.complaints, COMPLAINTS),
            ("evaporator", self.evaporator, EVAPORATORS),
            ("condenser", self.condenser, CONDENSERS),
        ):
            for name in given:
                if name not in known:
                    raise BadInput("fault", what, name, ", ".join(known))


@dataclass(frozen=True, slots=True, eq=False)
class Fault:
    """A fault in scope.

    Examples
    --------
    >>> from coldwright.faults.registry import FAULTS
    >>> FAULTS["weak_compressor"].words.plain
    'a weak compressor'
    >>> FAULTS["weak_compressor"].mended_by
    mappingproxy({'new_compressor': 0.93})
    """

    identifier: str
    meaning: str  # in a few words, for the glossary
    share: float  # among appliances that do not cool as they should
    why: str  # of the share
    words: Words
    sealed: bool  # mending it opens the sealed circuit
    tell_tale: str  # what tells it from others, and how that is known
    measure: str = "none"  # what its severity counts, for the glossary
    effect: Effect | None = None  # None: each way has its own
    severity: Severity | None = None
    factors: Factors = Factors()
    ways: tuple[Way, ...] = ()
    signs: Mapping[str, Tell] = field(default_factory=dict)  # those it shows otherwise than usual
    mended_by: Mapping[str, float] = field(
        default_factory=dict
    )  # repair alternative, chance that it then works
    rid_by_opening: float = 0.0  # chance that any repair that opens the circuit rids it of this
    asked_as: str = ""  # a name shared with faults mended alike, which count as one when asked for
    rare: bool = False  # simulated with fewer members

    def __post_init__(self) -> None:
        for name in ("share", "rid_by_opening"):
            require(f"{self.identifier}: {name}", getattr(self, name), "-", 0.0, 1.0)
        for chance in self.mended_by.values():
            require(f"{self.identifier}: chance to be mended", chance, "-", 0.0, 1.0)
        if self.effect is None and not self.ways:
            raise BadInput("fault", self.identifier, "no effect", "an effect, or ways")
        object.__setattr__(self, "signs", MappingProxyType(dict(self.signs)))
        object.__setattr__(self, "mended_by", MappingProxyType(dict(self.mended_by)))

    @property
    def label(self) -> str:
        """Its name when it is asked for: faults mended alike share one."""
        return self.asked_as or self.identifier

    @property
    def runs(self) -> bool:
        """Whether the compressor pumps in some at least of the ways it comes about."""
        if self.ways:
            return any(way.effect.runs for way in self.ways)
        return self.effect is None or self.effect.runs

    @property
    def unit(self) -> str | None:
        """Unit of the severity that is told; None where there is none."""
        return None if self.ways or self.effect is None else self.effect.unit

    @property
    def dry(self) -> bool:
        """Whether nothing flows, whichever way it comes about."""
        effect = self.effect
        return not self.ways and effect is not None and (effect.blocks or not effect.runs)

    @property
    def kinds(self) -> tuple[str, ...]:
        """Kinds it can be told apart in, in the order of its ways; none for most."""
        return tuple(dict.fromkeys(way.which for way in self.ways if way.which))

    def severities(self, u: np.ndarray) -> np.ndarray:
        """Severities from uniform numbers, NaN for a fault without one; shape kept.

        Parameters
        ----------
        u : ndarray
            In 0..1. [-]
        """
        if self.severity is None:
            return np.full(np.shape(u), math.nan)
        return self.severity.of(u)
