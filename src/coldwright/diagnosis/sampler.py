"""Tempering, resampling and moving members where too few carry weight.

Sequential Monte Carlo (Del Moral, Doucet & Jasra 2006, J. R. Stat. Soc. B 68,
411) within one fault: the evidence enters by steps chosen so that half of the
members keep weight, members are resampled, and then moved by preconditioned
Crank-Nicolson proposals (Cotter et al. 2013, Stat. Sci. 28, 424), which leave
the standard normal prior of the scores untouched.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from coldwright.diagnosis.population import Population

KEPT = 0.5  # share of effective members each step keeps
SWEEPS = 2
MOST_STEPS = 14
FIRST_STRIDE = 0.40
WANTED_ACCEPTANCE = 0.30

Simulate = Callable[[np.ndarray], Population]
LogTarget = Callable[[Population], np.ndarray]


@dataclass(frozen=True, slots=True)
class Refined:
    """Equally weighted members of one fault under the evidence."""

    population: Population
    log_evidence: float
    steps: int
    acceptance: float
    distinct: int


def effective(log_w: np.ndarray) -> float:
    """Effective number of members of unnormalised log weights."""
    top = np.max(log_w)
    if not np.isfinite(top):
        return 0.0
    w = np.exp(log_w - top)
    return float(w.sum() ** 2 / np.square(w).sum())


def _log_mean(log_w: np.ndarray) -> float:
    top = np.max(log_w)
    if not np.isfinite(top):
        return -np.inf
    return float(top + np.log(np.mean(np.exp(log_w - top))))


def next_step(log_l: np.ndarray, done: float, kept: float = KEPT) -> float:
    """Largest step of the exponent that leaves `kept` of the members effective."""
    rest = 1.0 - done
    n = log_l.shape[0]

    def left(step: float) -> float:
        return effective(step * log_l)

    if left(rest) >= kept * n:
        return rest
    low, high = 0.0, rest
    for _ in range(40):
        middle = 0.5 * (low + high)
        if left(middle) >= kept * n:
            low = middle
        else:
            high = middle
    return max(low, 1e-4 * rest)


def systematic(w: np.ndarray, count: int, rng: np.random.Generator) -> np.ndarray:
    """Indices by systematic resampling (Kitagawa 1996)."""
    edges = np.cumsum(w / w.sum())
    points = (rng.random() + np.arange(count)) / count
    return np.asarray(np.minimum(np.searchsorted(edges, points), w.shape[0] - 1))


def refine(
    start: Population,
    simulate: Simulate,
    log_target: LogTarget,
    rng: np.random.Generator,
    particles: int,
) -> Refined:
    """Bring members of one fault to the evidence by tempering and moves.

    Parameters
    ----------
    start : Population
        Members drawn from the prior.
    simulate : callable
        Scores to a solved population.
    log_target : callable
        Log likelihood (plate included) of each member, -inf where unsolved.
    rng : Generator
        Source of randomness.
    particles : int
        Members carried. [-]
    """
    log_l = log_target(start)
    log_l = np.where(np.isfinite(log_l), log_l, -1e6)
    z = start.scores
    population = start
    done, log_z = 0.0, 0.0
    stride = FIRST_STRIDE
    rates: list[float] = []
    steps = 0
    while done < 1.0 and steps < MOST_STEPS:
        step = next_step(log_l, done) if steps < MOST_STEPS - 1 else 1.0 - done
        log_w = step * log_l
        log_z += _log_mean(log_w)
        done = min(done + step, 1.0)
        w = np.exp(log_w - log_w.max())
        pick = systematic(w, particles, rng)
        z, log_l = z[pick], log_l[pick]
        population = take(population, pick)
        for _ in range(SWEEPS):
            trial = np.sqrt(1.0 - stride**2) * z + stride * rng.standard_normal(z.shape)
            moved = simulate(trial)
            new_l = log_target(moved)
            with np.errstate(invalid="ignore"):
                accept = np.log(rng.random(particles)) < done * (new_l - log_l)
            accept &= np.isfinite(new_l)
            z = np.where(accept[:, None], trial, z)
            log_l = np.where(accept, new_l, log_l)
            population = merge(population, moved, accept)
            rate = float(np.mean(accept))
            rates.append(rate)
            stride = float(np.clip(stride * np.exp(1.2 * (rate - WANTED_ACCEPTANCE)), 0.05, 0.9))
        steps += 1
    distinct = int(np.unique(z[:, 1]).shape[0])
    return Refined(population, log_z, steps, float(np.mean(rates)) if rates else 1.0, distinct)


def take(p: Population, index: np.ndarray) -> Population:
    """Members at the given indices."""
    return Population(
        p.fault, p.scores[index], p.severity[index], p.circuits[index], p.states[index],
        p.room_k[index], p.log_plate[index], p.solved[index], p.unsolved,
    )  # fmt: skip


def merge(old: Population, new: Population, accept: np.ndarray) -> Population:
    """`new` where accepted, else `old`."""
    return Population(
        old.fault,
        np.where(accept[:, None], new.scores, old.scores),
        np.where(accept, new.severity, old.severity),
        np.where(accept, new.circuits, old.circuits),
        np.where(accept, new.states, old.states),
        np.where(accept, new.room_k, old.room_k),
        np.where(accept, new.log_plate, old.log_plate),
        np.where(accept, new.solved, old.solved),
        old.unsolved,
    )
