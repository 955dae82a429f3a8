"""What a posterior is asked for beside its odds: draws of it, and its best-fitting member."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coldwright.diagnosis.fault_words import fault_words
from coldwright.diagnosis.posterior import Group, Posterior
from coldwright.errors import NotSolved
from coldwright.faults.record import Together


@dataclass(frozen=True, slots=True)
class Draws:
    """Simulated appliances with one fault or two, drawn by their posterior weight."""

    faults: Together
    refrigerant: np.ndarray  # names, (n,)
    severity: np.ndarray  # (n,), as the glossary has it; NaN where the fault has none
    second: np.ndarray  # (n,), of a pair's second fault; NaN where there is none
    circuits: np.ndarray  # dtype CIRCUIT, (n,)
    states: np.ndarray  # dtype STATE, (n,)
    room_k: np.ndarray  # (n,)
    scores: np.ndarray  # (n, DIMENSIONS), standard normal under the prior


def draws_of(posterior: Posterior, faults: Together, count: int, rng: np.random.Generator) -> Draws:
    """Members of one fault drawn by their weight.

    Parameters
    ----------
    posterior : Posterior
        Weighed.
    faults : tuple of str
        The hypothesis.
    count : int
        Draws, with replacement. [-]
    rng : Generator
        Source of randomness.

    Returns
    -------
    Draws
        Arrays of first length `count`.

    Raises
    ------
    NotSolved
        If no member of that fault carries weight.
    """
    rows, weights = posterior.members_of(
        faults, lambda g: np.arange(g.log_w.size) + _first(posterior, faults, g)
    )
    if not rows.size:
        raise NotSolved(f"a simulated appliance with {fault_words(faults)}", (), float("nan"))
    at = rows[rng.choice(rows.size, size=count, p=weights)].astype(int)
    populations = [g.population for g in posterior.of(faults)]
    names = np.concatenate(
        [np.full(g.log_w.size, g.block.refrigerant, dtype=object) for g in posterior.of(faults)]
    )
    nan = [np.full(p.severity.shape, np.nan) for p in populations]
    second = [n if p.second is None else p.second for p, n in zip(populations, nan, strict=True)]
    return Draws(
        faults,
        names[at],
        np.concatenate([p.severity for p in populations])[at],
        np.concatenate(second)[at],
        np.concatenate([p.circuits for p in populations])[at],
        np.concatenate([p.states for p in populations])[at],
        np.concatenate([p.room_k for p in populations])[at],
        np.concatenate([p.scores for p in populations])[at],
    )


def _first(posterior: Posterior, faults: Together, group: Group) -> int:
    """Where a group's members start among all of its fault."""
    start = 0
    for g in posterior.of(faults):
        if g is group:
            break
        start += g.log_w.size
    return start


def best_of(posterior: Posterior, faults: Together) -> tuple[Group, int]:
    """The member of a fault that readings, signs and plate fit best, and its group.

    Parameters
    ----------
    posterior : Posterior
        Weighed.
    faults : tuple of str
        The hypothesis.

    Returns
    -------
    Group, int
        The group and the member's index in it.

    Raises
    ------
    NotSolved
        If none carries weight.
    """
    best: tuple[float, Group | None, int] = (-np.inf, None, -1)
    for group in posterior.of(faults):
        # By how it fits, not by how thinly its like were drawn
        fit = group.log_w - group.population.log_base + np.log(group.block.share)
        i = int(np.argmax(fit))
        if fit[i] > best[0]:
            best = (float(fit[i]), group, i)
    if best[1] is None:
        raise NotSolved(f"a simulated appliance with {fault_words(faults)}", (), float("nan"))
    return best[1], best[2]
