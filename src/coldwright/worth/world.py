"""What every alternative of one job shares: prices, years, energies, climate."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coldwright.errors import require
from coldwright.readings.mending import Prices
from coldwright.worth.lifetimes import MEAN_LIFE_YEARS, remaining_life

HORIZON_YEARS = 10.0  # over which all alternatives are compared; judgement of ours
EMBODIED_KG = 300.0  # making and bringing a new one; from memory of life-cycle studies, +-50 %
WAITING_BILLED = 0.5  # share of waiting that is charged; judgement of ours
SCOUT_MINUTES = 35.0  # make safe and make sure, before anything is opened; judgement of ours
NOTICED = 0.8  # chance that a wrong cause shows in that time; judgement of ours
RECOVERED = 0.90  # of what is inside, when recovered (US small appliance rule, secondary)
LOST_AT_END = 0.15  # of the mass, when it is scrapped later: between 90 and 80 % recovered
LEAK_SHARE = 0.6  # of comebacks that lose the refrigerant; judgement of ours
NEW_SPREAD = 0.10  # log sd of a new one's energy; judgement of ours
REPLACED_AFTER_YEARS = 0.25  # a faulty one that nobody mends; judgement of ours
# Energy above that of a new one by age: Paul et al. (2021), abstract and summary.
AGEING = ((0.0, 2.0, 16.0, 40.0), (0.0, 0.11, 0.27, 0.40))  # last point drawn on; ours


@dataclass(frozen=True, slots=True)
class World:
    """Shared numbers; money in the shop's currency, None prices count as zero."""

    prices: Prices
    kind: str
    age_years: float
    horizon_years: float
    new_energy_kwh: float
    charge_kg: float
    charge_left_fraction: float  # of the charge, in the circuit now
    gwp: float  # kg CO2e per kg

    def __post_init__(self) -> None:
        require("age", self.age_years, "a", 0.0, 110.0)
        require("years compared", self.horizon_years, "a", 1.0, 40.0)
        require("charge", self.charge_kg, "kg", 0.0, 5.0)

    def price(self, name: str) -> float:
        """A price by its key, 0 where it was not given."""
        return float(getattr(self.prices, name) or 0.0)

    @property
    def rate(self) -> float:
        """Discount rate. [-]"""
        return self.price("discount_rate_fraction")

    @property
    def new_life_years(self) -> float:
        """Mean life of a new one of this kind."""
        return MEAN_LIFE_YEARS[self.kind]

    @property
    def embodied_kg(self) -> float:
        """Climate cost of making a new one."""
        given = self.prices.embodied_kg_co2e
        return EMBODIED_KG if given is None else given

    def ageing(self, age: np.ndarray | float) -> np.ndarray:
        """Energy at an age over energy when new. [-]

        Parameters
        ----------
        age : ndarray or float
            Age. [a]
        """
        return np.asarray(1.0 + np.interp(age, *AGEING))


@dataclass(frozen=True, slots=True)
class Draws:
    """Common random numbers: the same for every alternative, so that they are compared fairly."""

    cause: np.ndarray  # uniform
    success: np.ndarray  # uniform
    comeback: np.ndarray  # exponential, mean one
    life: np.ndarray  # uniform
    member: np.ndarray  # uniform: which member's energy
    new_energy: np.ndarray  # standard normal
    noticed: np.ndarray  # uniform: whether a wrong cause shows before the work is done

    @property
    def count(self) -> int:
        """How many."""
        return int(self.cause.shape[0])


def draw(rng: np.random.Generator, count: int) -> Draws:
    """Fresh draws.

    Parameters
    ----------
    rng : Generator
        Source of randomness.
    count : int
        How many. [-]

    Returns
    -------
    Draws
        Shape (count,) each. [-]
    """
    return Draws(
        rng.random(count), rng.random(count), rng.exponential(size=count), rng.random(count),
        rng.random(count), rng.standard_normal(count), rng.random(count),
    )  # fmt: skip


def life_left(world: World, draws: Draws) -> np.ndarray:
    """Remaining life of the old appliance per draw. [a]

    Parameters
    ----------
    world : World
        Shared numbers of the comparison.
    draws : Draws
        Random numbers shared by all alternatives.

    Returns
    -------
    ndarray
        Shape (draws,). [a]
    """
    return remaining_life(MEAN_LIFE_YEARS[world.kind], world.age_years, draws.life)
