"""Where the answer flips: the age, price or odds at which another alternative becomes cheapest."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Protocol

import numpy as np

from coldwright.repair.alternative_records import Alternative
from coldwright.repair.causes import UNNAMED, Cause
from coldwright.worth.accounts import Energies
from coldwright.worth.verdict import cheapest
from coldwright.worth.world import Draws, World

STEPS = 24
HALVINGS = 16


@dataclass(frozen=True, slots=True)
class Flip:
    """One quantity: where it stands, and the nearest values that change the answer."""

    quantity: str
    unit: str
    now: float
    below: float | None  # nearest value below at which the answer changes
    below_to: str | None
    above: float | None
    above_to: str | None
    searched_low: float
    searched_high: float


class Lever(Protocol):
    """One quantity that can be moved."""

    @property
    def quantity(self) -> str:
        """Its name."""
        ...

    @property
    def unit(self) -> str:
        """Its unit."""
        ...

    def now(self, world: World, causes: Sequence[Cause]) -> float:
        """Where it stands."""
        ...

    def span(self, now: float) -> tuple[float, float]:
        """How far it is moved."""
        ...

    def moved(
        self, world: World, causes: Sequence[Cause], value: float
    ) -> tuple[World, Sequence[Cause]]:
        """The world with it moved."""
        ...


@dataclass(frozen=True, slots=True)
class Age:
    """Age of the appliance."""

    quantity: str = "age of the appliance"
    unit: str = "year"

    def now(self, world: World, causes: Sequence[Cause]) -> float:
        """Where it stands."""
        return world.age_years

    def span(self, now: float) -> tuple[float, float]:
        """How far it is moved."""
        return 0.0, 40.0

    def moved(
        self, world: World, causes: Sequence[Cause], value: float
    ) -> tuple[World, Sequence[Cause]]:
        """The world with it moved."""
        return replace(world, age_years=value), causes


@dataclass(frozen=True, slots=True)
class Price:
    """One price."""

    quantity: str
    unit: str
    key: str

    def now(self, world: World, causes: Sequence[Cause]) -> float:
        """Where it stands."""
        return world.price(self.key)

    def span(self, now: float) -> tuple[float, float]:
        """How far it is moved."""
        return 0.05 * now, 10.0 * now

    def moved(
        self, world: World, causes: Sequence[Cause], value: float
    ) -> tuple[World, Sequence[Cause]]:
        """The world with it moved."""
        return replace(world, prices=replace(world.prices, **{self.key: value})), causes


@dataclass(frozen=True, slots=True)
class Odds:
    """Probability of the leading cause, the others scaled."""

    quantity: str = "probability of the leading cause"
    unit: str = "fraction"

    def now(self, world: World, causes: Sequence[Cause]) -> float:
        """Where it stands."""
        return causes[0].probability

    def span(self, now: float) -> tuple[float, float]:
        """How far it is moved."""
        return 0.0, 1.0

    def moved(
        self, world: World, causes: Sequence[Cause], value: float
    ) -> tuple[World, Sequence[Cause]]:
        """The world with it moved."""
        first, rest = causes[0], causes[1:]
        whole = sum(c.probability for c in rest)
        if whole <= 0.0:
            # Nothing else is in question: what is not the cause is something nobody named.
            return world, (replace(first, probability=value),
                           Cause((UNNAMED,), 1.0 - value, first.faults))  # fmt: skip
        scale = (1.0 - value) / whole
        return world, (
            replace(first, probability=value),
            *(replace(c, probability=c.probability * scale) for c in rest),
        )


LEVERS: tuple[Lever, ...] = (
    Age(),
    Price("price of electricity", "per kWh", "electricity_per_kwh"),
    Price("price of a new appliance", "", "new_appliance"),
    Price("hourly rate", "per hour", "labour_per_hour"),
    Odds(),
)


def flips(
    alternatives: Sequence[Alternative],
    world: World,
    draws: Draws,
    causes: Sequence[Cause],
    energies: Mapping[str, Energies],
) -> tuple[Flip, ...]:
    """Every lever moved until the cheapest alternative changes.

    Parameters
    ----------
    alternatives : sequence of Alternative
        Compared.
    world : World
        As it stands.
    draws : Draws
        Common random numbers, so that the mean moves smoothly.
    causes : sequence of Cause
        As they stand.
    energies : mapping
        By alternative.

    Returns
    -------
    tuple of Flip
        Values at which the answer changes, each in its lever's unit.
    """

    def best(lever: Lever, value: float) -> str:
        moved, odds = lever.moved(world, causes, value)
        return cheapest(alternatives, moved, draws, odds, energies)

    found = []
    for lever in LEVERS:
        now = lever.now(world, causes)
        low, high = lever.span(now)
        if not low < high:
            continue
        answer = best(lever, min(max(now, low), high))
        at = partial(best, lever)
        below = _first(at, answer, np.linspace(now, low, STEPS))
        above = _first(at, answer, _upward(now, high))
        found.append(Flip(lever.quantity, lever.unit, now, *below, *above, low, high))
    return tuple(found)


def _upward(now: float, high: float) -> np.ndarray:
    if high > 4.0 * now > 0.0:
        return np.geomspace(now, high, STEPS)
    return np.linspace(now, high, STEPS)


def _first(
    best: Callable[[float], str], answer: str, values: np.ndarray
) -> tuple[float | None, str | None]:
    before = float(values[0])
    for value in values[1:]:
        other = best(float(value))
        if other != answer:
            a, b = before, float(value)
            for _ in range(HALVINGS):
                middle = 0.5 * (a + b)
                if (at := best(middle)) == answer:
                    a = middle
                else:
                    b, other = middle, at
            return b, other
        before = float(value)
    return None, None
