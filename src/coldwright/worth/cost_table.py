"""What each alternative costs under each cause, were it certain: the table a check is judged by.

A repair that does not mend the cause is paid in vain (or seen through in time, as in the
comparison), the technician comes again, and what is best for that cause is done then.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from coldwright.faults.record import Together
from coldwright.repair.alternative_records import Alternative, Ending
from coldwright.repair.causes import Cause
from coldwright.worth.accounts import STRATEGIES, Energies, cost_now, cost_scouted
from coldwright.worth.world import NOTICED, Draws, World


def in_vain(alternative: Alternative, world: World) -> float:
    """Expected price of a repair of the wrong cause, the second way counted. [currency]

    Parameters
    ----------
    alternative : Alternative
        What was done.
    world : World
        Prices.

    Returns
    -------
    float
        Cost. [currency]
    """
    seen_through, done = cost_scouted(alternative, world), sum(cost_now(alternative, world))
    return NOTICED * seen_through + (1.0 - NOTICED) * done + world.price("call_out")


def cost_table(
    alternatives: Sequence[Alternative],
    world: World,
    draws: Draws,
    causes: Sequence[Together],
    energies: Mapping[str, Energies],
) -> np.ndarray:
    """Expected cost of each alternative under each cause, shape (alternatives, causes). [currency]

    Parameters
    ----------
    alternatives : sequence of Alternative
        Those that leave somebody with an appliance.
    world : World
        Prices and years.
    draws : Draws
        Common random numbers.
    causes : sequence of tuple
        One cause, or two at once.
    energies : mapping
        By alternative.

    Returns
    -------
    ndarray
        Shape (alternatives, causes). [currency]
    """

    def mean(a: Alternative, cause: Together) -> float:
        certain = (Cause(cause, 1.0, cause),)
        book = STRATEGIES[a.ending].account(a, world, draws, certain, energies[a.identifier])
        return float(np.mean(book.money))

    table = np.full((len(alternatives), len(causes)), np.nan)
    for k, cause in enumerate(causes):
        for n, a in enumerate(alternatives):
            if a.ending is not Ending.KEPT or a.chance(cause) > 0.0:
                table[n, k] = mean(a, cause)
        halves = _half_mended(alternatives, world, cause, mean)
        best = np.nanmin(table[:, k])
        if halves:
            # Both done at one visit, known beforehand: no second way.
            best = min(best, min(halves.values()) - world.price("call_out"))
        for n, a in enumerate(alternatives):
            if np.isnan(table[n, k]):
                table[n, k] = halves.get(a.identifier, in_vain(a, world) + best)
    return table


def _half_mended(
    alternatives: Sequence[Alternative],
    world: World,
    cause: Together,
    mean: Callable[[Alternative, Together], float],
) -> dict[str, float]:
    """For two causes at once: one repair, and at a second visit the cheapest for the other."""
    if len(cause) < 2:
        return {}
    out: dict[str, float] = {}
    for part, rest in ((cause[:1], cause[1:]), (cause[1:], cause[:1])):
        second = [
            sum(cost_now(b, world)) for b in alternatives
            if b.ending is Ending.KEPT and b.chance(rest) > 0.0
        ]  # fmt: skip
        for a in alternatives:
            if a.ending is Ending.KEPT and a.chance(part) > 0.0 and second:
                cost = mean(a, part) + min(second)
                out[a.identifier] = min(out.get(a.identifier, np.inf), cost)
    return out
