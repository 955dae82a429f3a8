"""From weights to odds, severity intervals and a measure of fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.stats import f as f_distribution

from coldwright.catalogue.sizing import DIMENSIONS
from coldwright.diagnosis.ensemble import Block, Ensemble, Evidence, log_weights
from coldwright.diagnosis.likelihood import DEGREES
from coldwright.diagnosis.population import Population, members_for, simulate
from coldwright.diagnosis.sampler import Refined, effective, refine, take
from coldwright.faults.kinds import fault_named

LEADING = 0.04  # odds from which a fault is worth refining, ours
ENOUGH = 200.0  # effective members a leading fault should have, ours
PARTICLES = 300


@dataclass(frozen=True, slots=True)
class Group:
    """Weighted members of one fault and one refrigerant after all evidence."""

    block: Block
    population: Population
    log_w: np.ndarray  # unnormalised, evidence and plate in
    distance: np.ndarray
    log_evidence: float  # of fault and refrigerant, priors in
    refined: Refined | None

    @property
    def weights(self) -> np.ndarray:
        """Weights that sum to one within the group."""
        top = np.max(self.log_w)
        if not np.isfinite(top):
            return np.zeros_like(self.log_w)
        w = np.exp(self.log_w - top)
        return np.asarray(w / w.sum())


@dataclass(frozen=True, slots=True)
class Posterior:
    """All groups with the odds of each fault."""

    ensemble: Ensemble
    evidence: Evidence
    groups: tuple[Group, ...]
    odds: dict[str, float]

    @property
    def effective_members(self) -> float:
        """Effective number of members over all faults, by their weight in the odds."""
        logs = np.concatenate(
            [g.log_w - _log_sum(g.log_w) + g.log_evidence for g in self.groups if _any(g.log_w)]
        )
        return effective(logs)

    def of(self, fault: str) -> list[Group]:
        """Groups of one fault."""
        return [g for g in self.groups if g.population.fault == fault]

    def members_of(
        self, fault: str, values: Callable[[Group], np.ndarray]
    ) -> tuple[np.ndarray, np.ndarray]:
        """Values over the members of a fault with their weights."""
        groups = [g for g in self.of(fault) if _any(g.log_w)]
        if not groups:
            return np.zeros(0), np.zeros(0)
        top = max(g.log_evidence for g in groups)
        v = np.concatenate([values(g) for g in groups])
        w = np.concatenate([g.weights * np.exp(g.log_evidence - top) for g in groups])
        return v, w / w.sum()


def _any(log_w: np.ndarray) -> bool:
    return bool(np.isfinite(np.max(log_w)))


def _log_sum(log_w: np.ndarray) -> float:
    top = np.max(log_w)
    return float(top + np.log(np.sum(np.exp(log_w - top))))


def weigh(ensemble: Ensemble, evidence: Evidence) -> Posterior:
    """Weigh the whole ensemble by the evidence (milliseconds; nothing is simulated)."""
    prior = dict(ensemble.subject.prior)
    volts = ensemble.subject.supply_v
    groups = []
    for block in ensemble.blocks:
        for population in block.populations:
            log_l, distance = log_weights(block, population, evidence, volts)
            log_w = log_l + population.log_plate
            count = max(int(np.sum(population.solved)), 1)
            base = np.log(max(prior.get(population.fault, 0.0), 1e-12)) + np.log(block.share)
            log_z = _log_sum(log_w) - np.log(count) + base if _any(log_w) else -np.inf
            groups.append(Group(block, population, log_w, distance, log_z, None))
    return Posterior(ensemble, evidence, tuple(groups), odds_of(groups))


def odds_of(groups: list[Group] | tuple[Group, ...]) -> dict[str, float]:
    """Odds of each fault from its groups' evidence."""
    logs: dict[str, list[float]] = {}
    for g in groups:
        logs.setdefault(g.population.fault, []).append(g.log_evidence)
    total = {f: float(np.logaddexp.reduce(v)) for f, v in logs.items()}
    top = max(total.values())
    if not np.isfinite(top):
        return {f: 1.0 / len(total) for f in total}
    w = {f: float(np.exp(v - top)) for f, v in total.items()}
    whole = sum(w.values())
    return {f: v / whole for f, v in w.items()}


def sharpen(
    posterior: Posterior,
    rng: np.random.Generator,
    *,
    particles: int = PARTICLES,
    enough: float = ENOUGH,
    progress: Callable[[str], None] | None = None,
) -> Posterior:
    """Refine leading faults whose members thin out.

    Parameters
    ----------
    posterior : Posterior
        From `weigh`.
    rng : Generator
        Source of randomness.
    particles : int
        Members carried per refined group. [-]
    enough : float
        Effective members below which a leading group is refined. [-]
    progress : callable, optional
        Told a line per refined fault.
    """
    subject, evidence = posterior.ensemble.subject, posterior.evidence
    prior = dict(subject.prior)
    groups = list(posterior.groups)
    top = max(g.log_evidence for g in groups)
    for i, g in enumerate(groups):
        if not np.isfinite(g.log_evidence) or g.log_evidence < top + np.log(LEADING):
            continue
        if effective(g.log_w) >= enough or not fault_named(g.population.fault).runs:
            continue
        if progress is not None:
            progress(f"few members fit: moving some closer ({g.population.fault})")
        fault, block = fault_named(g.population.fault), g.block

        def run(z: np.ndarray, block: Block = block, fault=fault) -> Population:  # type: ignore[no-untyped-def]
            return simulate(block.med, subject, fault, z, members_for(block.med, subject, z))

        def target(p: Population, block: Block = block) -> np.ndarray:
            fresh = Block(block.refrigerant, block.share, block.med, (p,))
            return np.asarray(log_weights(fresh, p, evidence, subject.supply_v)[0] + p.log_plate)

        keep = g.population.solved
        start = _only(g.population, keep)
        out = refine(start, run, target, rng, particles)
        fresh = Block(block.refrigerant, block.share, block.med, (out.population,))
        distance = log_weights(fresh, out.population, evidence, subject.supply_v)[1]
        base = np.log(max(prior.get(fault.identifier, 0.0), 1e-12)) + np.log(block.share)
        groups[i] = Group(
            fresh, out.population, np.zeros(particles), distance, out.log_evidence + base, out
        )
    return Posterior(posterior.ensemble, evidence, tuple(groups), odds_of(groups))


def _only(p: Population, keep: np.ndarray) -> Population:
    return take(p, np.flatnonzero(keep))


def severity_interval(posterior: Posterior, fault: str) -> tuple[float, float, float] | None:
    """10, 50 and 90 % points of a fault's severity; None where it has none."""
    values, weights = posterior.members_of(fault, lambda g: g.population.severity)
    good = np.isfinite(values)
    if not good.any():
        return None
    return weighted_quantiles(values[good], weights[good], (0.1, 0.5, 0.9))  # type: ignore[return-value]


def weighted_quantiles(
    values: np.ndarray, weights: np.ndarray, points: tuple[float, ...]
) -> tuple[float, ...]:
    """Quantiles of a weighted sample, linear between members."""
    order = np.argsort(values)
    v, w = values[order], weights[order]
    c = (np.cumsum(w) - 0.5 * w) / w.sum()
    return tuple(float(np.interp(p, c, v)) for p in points)


def surprise(posterior: Posterior) -> float:
    """Posterior mean of the chance of a larger distance of the readings than seen.

    The t's squared distance over its dimension follows an F distribution.
    """
    r = len(posterior.evidence.keys)
    if r == 0:
        return 1.0
    total, weight = 0.0, 0.0
    top = max(g.log_evidence for g in posterior.groups)
    for g in posterior.groups:
        share = float(np.exp(g.log_evidence - top))
        if share < 1e-6:
            continue
        shrink = DEGREES / (DEGREES - 2.0)
        p = f_distribution.sf(g.distance * shrink / r, r, DEGREES)
        total += share * float(np.sum(g.weights * p))
        weight += share
    return total / weight if weight > 0.0 else 0.0


def dimensions() -> int:
    """Number of scores a member is drawn from."""
    return DIMENSIONS
