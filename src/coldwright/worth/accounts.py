"""Money and CO2e of each way it can end, draw by draw, discounted over the same years."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from coldwright.repair.alternative_records import Alternative, Ending
from coldwright.repair.causes import Cause
from coldwright.worth.finance import annuity_factor, discount, yearly_payment
from coldwright.worth.world import (
    LEAK_SHARE,
    LOST_AT_END,
    NEW_SPREAD,
    NOTICED,
    RECOVERED,
    REPLACED_AFTER_YEARS,
    SCOUT_MINUTES,
    WAITING_BILLED,
    Draws,
    World,
    life_left,
)


@dataclass(frozen=True, slots=True)
class Energies:
    """Energy a year of one alternative's circuit, as-built: a sample of members. [kWh]"""

    sample_kwh: np.ndarray
    faulty_kwh: np.ndarray  # left as it is; may be the same

    def per_draw(self, draws: Draws, faulty: bool = False) -> np.ndarray:
        """One member's energy for each draw. [kWh]"""
        values = self.faulty_kwh if faulty else self.sample_kwh
        index = np.minimum((draws.member * values.size).astype(int), values.size - 1)
        return np.asarray(values[index])


@dataclass(frozen=True, slots=True)
class Account:
    """Per draw: present value of all money, all CO2e, and whether the work succeeded."""

    money: np.ndarray
    co2e_kg: np.ndarray
    works: np.ndarray
    years_kept: np.ndarray


def cost_now(alternative: Alternative, world: World) -> tuple[float, float]:
    """Labour and parts of an alternative, paid now. [currency]

    Parameters
    ----------
    alternative : Alternative
        What is done.
    world : World
        Prices.

    Returns
    -------
    tuple
        Labour and parts. [currency]
    """
    if alternative.ending is not Ending.KEPT:
        return 0.0, 0.0  # emptying is in the price of taking it away
    hours = (alternative.minutes + WAITING_BILLED * alternative.waiting_minutes) / 60.0
    labour = world.price("labour_per_hour") * hours + world.price("call_out")
    return labour, sum(count * world.price(key) for key, count in alternative.items)


def cost_scouted(alternative: Alternative, world: World) -> float:
    """Paid where it shows in time that the cause is another: the way and the look. [currency]

    Parameters
    ----------
    alternative : Alternative
        What was going to be done.
    world : World
        Prices.

    Returns
    -------
    float
        Cost. [currency]
    """
    hours = min(SCOUT_MINUTES, alternative.minutes) / 60.0
    return world.price("labour_per_hour") * hours + world.price("call_out")


def cause_drawn(causes: Sequence[Cause], draws: Draws) -> np.ndarray:
    """Index of the cause of each draw. [-]

    Parameters
    ----------
    causes : sequence of Cause
        Causes with their probabilities. [-]
    draws : Draws
        Random numbers shared by all alternatives.

    Returns
    -------
    ndarray
        Shape (draws,), integers.
    """
    edges = np.cumsum([c.probability for c in causes])
    return np.minimum(np.searchsorted(edges / edges[-1], draws.cause), len(causes) - 1)


def _new_one(world: World, draws: Draws, start: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Money and CO2e of a new appliance from `start` to the horizon, old one taken away."""
    h, r = world.horizon_years, world.rate
    left = np.maximum(h - start, 0.0)
    energy = world.new_energy_kwh * np.exp(NEW_SPREAD * draws.new_energy)
    pay = yearly_payment(world.price("new_appliance"), r, world.new_life_years)
    yearly = pay + energy * world.price("electricity_per_kwh")
    happens = start < h
    money = discount(r, start) * (
        yearly * annuity_factor(r, left) + np.where(happens, world.price("disposal"), 0.0)
    )
    grid = world.price("grid_kg_co2e_per_kwh")
    made = world.embodied_kg * left / world.new_life_years
    return money, made + grid * energy * left


class Strategy(Protocol):
    """How one ending is accounted."""

    def account(
        self,
        alternative: Alternative,
        world: World,
        draws: Draws,
        causes: Sequence[Cause],
        energies: Energies,
    ) -> Account:
        """Per draw."""
        ...


class Kept:
    """Mended, run until it fails again, dies or the years are over, then replaced."""

    def account(
        self,
        alternative: Alternative,
        world: World,
        draws: Draws,
        causes: Sequence[Cause],
        energies: Energies,
    ) -> Account:
        """Per draw."""
        chance = np.array([alternative.chance(c.names) for c in causes])
        hers = chance[cause_drawn(causes, draws)]
        works = draws.success < hers
        spared = (hers <= 0.0) & (draws.noticed < NOTICED)
        paid = np.where(spared, cost_scouted(alternative, world), sum(cost_now(alternative, world)))
        again = draws.comeback / max(alternative.comeback_per_year, 1e-6)
        last = np.minimum(np.minimum(life_left(world, draws), again), world.horizon_years)
        years = np.where(works, last, 0.0)
        energy = energies.per_draw(draws) * world.ageing(world.age_years + 0.5 * years)
        new_money, new_co2e = _new_one(world, draws, years)
        running = energy * world.price("electricity_per_kwh") * annuity_factor(world.rate, years)
        m = world.charge_kg * world.gwp
        # Of what is inside now a part is lost at recovery; later a leak or the scrap yard
        now = m * world.charge_left_fraction * (1.0 - RECOVERED) if alternative.opens_circuit else 0
        # Given that it works, the draw of success is uniform up to the chance: it serves again.
        share = LEAK_SHARE if alternative.opens_circuit else 0.0
        lossy = draws.success < share * hers
        leaks = works & (again <= last + 1e-9) & lossy
        share_of_life = np.where(years >= world.horizon_years, 0.0, LOST_AT_END)
        later = m * np.where(leaks, 1.0, np.where(works, share_of_life, LOST_AT_END))
        co2e = now + later + world.price("grid_kg_co2e_per_kwh") * energy * years + new_co2e
        return Account(paid + running + new_money, co2e, works, years)


class Replaced:
    """A new one at once."""

    def account(
        self,
        alternative: Alternative,
        world: World,
        draws: Draws,
        causes: Sequence[Cause],
        energies: Energies,
    ) -> Account:
        """Per draw."""
        none = np.zeros(draws.count)
        money, co2e = _new_one(world, draws, none)
        lost = world.charge_kg * world.charge_left_fraction * world.gwp * (1.0 - RECOVERED)
        return Account(money, co2e + lost, np.ones(draws.count, bool), none)


class Left:
    """Nothing is done: it runs on if nothing is wrong; else a new one is needed all the same.

    A faulty one that is left plugged in wastes energy for a while and loses what is inside.
    """

    def account(
        self,
        alternative: Alternative,
        world: World,
        draws: Draws,
        causes: Sequence[Cause],
        energies: Energies,
    ) -> Account:
        """Per draw."""
        chance = np.array([alternative.chance(c.names) for c in causes])
        works = draws.success < chance[cause_drawn(causes, draws)]
        last = np.minimum(life_left(world, draws), world.horizon_years)
        years = np.where(works, last, 0.0)
        sound = energies.per_draw(draws) * world.ageing(world.age_years + 0.5 * years)
        faulty = energies.per_draw(draws, faulty=True) * world.ageing(world.age_years)
        run = np.where(works, sound * annuity_factor(world.rate, years),
                       faulty * REPLACED_AFTER_YEARS)  # fmt: skip
        used = np.where(works, sound * years, faulty * REPLACED_AFTER_YEARS)
        new_money, new_co2e = _new_one(world, draws, years)
        m = world.charge_kg * world.gwp
        lost = np.where(works, m * LOST_AT_END, m * world.charge_left_fraction)
        co2e = lost + world.price("grid_kg_co2e_per_kwh") * used + new_co2e
        money = run * world.price("electricity_per_kwh") + new_money
        return Account(money, co2e, works, years)


class Scrapped:
    """Emptied and taken away; nothing takes its place, so it is not ranked."""

    def account(
        self,
        alternative: Alternative,
        world: World,
        draws: Draws,
        causes: Sequence[Cause],
        energies: Energies,
    ) -> Account:
        """Per draw."""
        none = np.zeros(draws.count)
        lost = world.charge_kg * world.charge_left_fraction * world.gwp * (1.0 - RECOVERED)
        money = none + world.price("disposal")
        return Account(money, none + lost, np.ones(draws.count, bool), none)


STRATEGIES: Mapping[Ending, Strategy] = {
    Ending.KEPT: Kept(),
    Ending.REPLACED: Replaced(),
    Ending.LEFT: Left(),
    Ending.SCRAPPED: Scrapped(),
}
