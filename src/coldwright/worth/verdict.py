"""All alternatives side by side: expected cost, spread, chance of being the cheapest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from coldwright.repair.alternative_records import Alternative, Ending
from coldwright.repair.causes import Cause
from coldwright.worth.accounts import STRATEGIES, Account, Energies, cost_now
from coldwright.worth.world import Draws, World

LEAST_CHANCE = 0.05  # of working, below which a repair is not ranked; judgement of ours
ESSENTIAL = ("labour_per_hour", "electricity_per_kwh", "new_appliance")


@dataclass(frozen=True, slots=True)
class Spread:
    """Mean with the 10, 50 and 90 % points over the draws."""

    mean: float
    low: float
    median: float
    high: float

    @classmethod
    def of(cls, values: np.ndarray) -> Spread:
        """Of one value per draw."""
        low, mid, high = np.quantile(values, (0.1, 0.5, 0.9))
        return cls(float(np.mean(values)), float(low), float(mid), float(high))


@dataclass(frozen=True, slots=True)
class Worth:
    """What one alternative costs over the years compared."""

    alternative: str
    success_probability: float
    labour_now: float
    parts_now: float  # or the new appliance with taking the old one away
    money: Spread | None  # None where an essential price is missing
    co2e_kg: Spread
    years_kept: float  # mean
    cheapest_probability: float | None
    ranked: bool


@dataclass(frozen=True, slots=True)
class Verdict:
    """Side by side; `best` is None where no money can be put on it."""

    worths: tuple[Worth, ...]  # ranked ones first, cheapest first
    best: str | None
    least_co2e: str
    missing: tuple[str, ...]  # essential prices not given


def missing_prices(world: World) -> tuple[str, ...]:
    """Essential prices that were not given.

    Parameters
    ----------
    world : World
        Shared numbers of the comparison.

    Returns
    -------
    tuple of str
        Names of prices; empty where all are given.
    """
    return tuple(name for name in ESSENTIAL if getattr(world.prices, name) is None)


def in_question(alternative: Alternative, success: float) -> bool:
    """Whether an alternative is ranked: it serves, and if it is a repair it may work.

    Parameters
    ----------
    alternative : Alternative
        Which.
    success : float
        Chance that it works. [-]

    Returns
    -------
    bool
        Whether it is ranked.
    """
    if alternative.ending is Ending.KEPT:
        return success >= LEAST_CHANCE
    return alternative.ending is not Ending.SCRAPPED


def accounts(
    alternatives: Sequence[Alternative],
    world: World,
    draws: Draws,
    causes: Sequence[Cause],
    energies: Mapping[str, Energies],
) -> dict[str, Account]:
    """One account per alternative, on the same draws.

    Parameters
    ----------
    alternatives : sequence of Alternative
        To be compared.
    world : World
        Shared numbers.
    draws : Draws
        Common random numbers.
    causes : sequence of Cause
        With their probabilities.
    energies : mapping
        By alternative.

    Returns
    -------
    dict
        Account by identifier; money per draw. [currency]
    """
    return {
        a.identifier: STRATEGIES[a.ending].account(a, world, draws, causes, energies[a.identifier])
        for a in alternatives
    }


def verdict(
    alternatives: Sequence[Alternative],
    world: World,
    draws: Draws,
    causes: Sequence[Cause],
    energies: Mapping[str, Energies],
) -> Verdict:
    """Expected cost of each, with spread.

    Parameters
    ----------
    alternatives : sequence of Alternative
        To be compared.
    world : World
        Shared numbers.
    draws : Draws
        Common random numbers.
    causes : sequence of Cause
        With their probabilities.
    energies : mapping
        By alternative.

    Returns
    -------
    Verdict
        Expected costs with spread [currency], and which is least.
    """
    books = accounts(alternatives, world, draws, causes, energies)
    missing = missing_prices(world)
    ranked = [a for a in alternatives if in_question(a, float(np.mean(books[a.identifier].works)))]
    table = np.array([books[a.identifier].money for a in ranked])
    wins = np.bincount(np.argmin(table, axis=0), minlength=len(ranked)) / draws.count
    cheapest = {a.identifier: float(w) for a, w in zip(ranked, wins, strict=True)}
    worths = []
    for a in alternatives:
        book = books[a.identifier]
        labour, parts = _paid_now(a, world)
        worths.append(
            Worth(
                a.identifier, float(np.mean(book.works)), labour, parts,
                None if missing else Spread.of(book.money), Spread.of(book.co2e_kg),
                float(np.mean(book.years_kept)),
                None if missing or a.identifier not in cheapest else cheapest[a.identifier],
                a in ranked,
            )
        )  # fmt: skip
    worths.sort(
        key=lambda w: (not w.ranked, w.money.mean if w.money is not None else w.co2e_kg.mean)
    )
    kept = [w for w in worths if w.ranked]
    least = min(kept, key=lambda w: w.co2e_kg.mean)
    return Verdict(tuple(worths), None if missing else kept[0].alternative,
                   least.alternative, missing)  # fmt: skip


def _paid_now(alternative: Alternative, world: World) -> tuple[float, float]:
    """Labour, and parts or the new appliance, as paid on the day. [currency]"""
    if alternative.ending is Ending.REPLACED:
        return 0.0, world.price("new_appliance") + world.price("disposal")
    if alternative.ending is Ending.SCRAPPED:
        return 0.0, world.price("disposal")
    return cost_now(alternative, world)


def cheapest(
    alternatives: Sequence[Alternative],
    world: World,
    draws: Draws,
    causes: Sequence[Cause],
    energies: Mapping[str, Energies],
) -> str:
    """Identifier of the alternative with the least expected money.

    Parameters
    ----------
    alternatives : sequence of Alternative
        Those compared.
    world : World
        Shared numbers of the comparison.
    draws : Draws
        Random numbers shared by all alternatives.
    causes : sequence of Cause
        Causes with their probabilities. [-]
    energies : mapping
        Energy a year by alternative. [kWh]

    Returns
    -------
    str
        Identifier.
    """
    ranked = [a for a in alternatives if a.ending is not Ending.SCRAPPED]
    books = accounts(ranked, world, draws, causes, energies)
    return min(books, key=lambda name: float(np.mean(books[name].money)))
