"""From weights to odds, severity intervals and a measure of fit."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from scipy.stats import f as f_distribution

from coldwright.catalogue.findings import FINDINGS
from coldwright.diagnosis.ensemble import (
    Block,
    Ensemble,
    Evidence,
    log_weights,
    surroundings_of,
    truth_of,
)
from coldwright.diagnosis.fault_words import fault_words
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.likelihood import DEGREES, moments
from coldwright.diagnosis.population import Population, members_for, simulate
from coldwright.diagnosis.sampler import Judged, draw_nearer, effective, tempered
from coldwright.diagnosis.subject import Subject
from coldwright.faults.record import Together
from coldwright.faults.registry import FAULTS
from coldwright.stopping import time_is_up

LEADING = 0.01  # odds from which a fault is still in question, ours
ENOUGH = 200.0  # effective members a leading fault should have, ours
PARTICLES = 200  # a round
# No model is the appliance: odds that take every reading at its word are too sure. The power of
# the likelihood between faults (Grünwald & van Ommen 2017, Bayesian Anal. 12, 1069; Holmes &
# Walker 2017, Biometrika 104, 497) was learned on foreign truth, see docs/accuracy.md.
EVIDENCE_POWER = 0.75
INTERVAL_POWER = 0.35  # of the likelihood in severity intervals, chosen likewise
FOR_INTERVAL = 25.0  # effective members a severity interval rests on at least, ours


@dataclass(frozen=True, slots=True)
class Group:
    """Weighted members of one fault and one refrigerant after all evidence."""

    block: Block
    population: Population
    log_w: np.ndarray  # unnormalised, evidence and plate in
    distance: np.ndarray
    log_evidence: float  # of fault and refrigerant, priors in, as the odds take it
    log_whole: float = float("nan")  # the same with the likelihood at full power

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
    odds: dict[Together, float]
    stopped: bool = False  # the time was up before all was drawn

    @property
    def effective_members(self) -> float:
        """Effective number of members over all faults, by their weight in the odds."""
        logs = [
            g.log_w - _log_sum(g.log_w) + g.log_evidence
            for g in self.groups
            if _any(g.log_w) and np.isfinite(g.log_evidence)
        ]
        return effective(np.concatenate(logs)) if logs else 0.0

    @property
    def log_evidence(self) -> float:
        """ln of the probability density of all readings and signs, over all faults. [-]"""
        return float(np.logaddexp.reduce([g.log_whole for g in self.groups]))

    def of(self, faults: Together) -> list[Group]:
        """Groups of one hypothesis."""
        return [g for g in self.groups if g.population.faults == faults]

    def members_of(
        self, faults: Together, values: Callable[[Group], np.ndarray]
    ) -> tuple[np.ndarray, np.ndarray]:
        """Values over the members of a hypothesis with their weights."""
        groups = [g for g in self.of(faults) if _any(g.log_w)]
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
    """Weigh the whole ensemble by the evidence (milliseconds; nothing is simulated).

    Returns
    -------
    Posterior
        Groups with weights and the odds of each hypothesis. [-]
    """
    groups = [
        _weighed(ensemble.subject, block, population, evidence)
        for block in ensemble.blocks
        for population in block.populations
    ]
    return Posterior(ensemble, evidence, tuple(groups), odds_of(groups))


def _weighed(subject: Subject, block: Block, population: Population, evidence: Evidence) -> Group:
    log_l, distance = log_weights(block, population, evidence, subject.supply_v)
    log_w = log_l + population.log_plate + population.log_base
    count = max(population.stands_for, 1.0)
    share = dict(subject.prior).get(population.faults, 0.0)
    prior = float(np.log(max(share, 1e-12)) + np.log(block.share))
    apart = evidence.electrical.log_factor(population.faults) + prior
    mean = _log_sum(log_w) - float(np.log(count)) if _any(log_w) else -np.inf
    found = _found(population, evidence, population.log_plate + population.log_base, log_w)
    return Group(
        block, population, log_w + found.by_member, distance,
        EVIDENCE_POWER * mean + found.tempered + apart, mean + found.whole + apart,
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Found:
    """What the findings add: to each member, and to the fault as the odds take the readings."""

    by_member: np.ndarray
    tempered: float
    whole: float


def _found(
    population: Population, evidence: Evidence, log_base: np.ndarray, log_w: np.ndarray
) -> _Found:
    """Findings in full: one factor, or one for each way in the share it has by the readings."""
    faults, way = population.faults, population.way
    findings = evidence.findings
    if way is None or len(faults) > 1 or not findings.answers or not _any(log_w):
        factor = findings.log_factor(faults)
        return _Found(np.full(log_w.shape, factor), factor, factor)
    by_way = np.array(
        [findings.log_factor(faults, w.effect.identifier) for w in hypothesis_named(*faults).ways]
    )
    shares, fits = np.full(by_way.shape, -np.inf), np.full(by_way.shape, -np.inf)
    for k in range(by_way.size):
        here = (way == k) & population.solved
        if here.any() and _any(log_w[here]):
            shares[k] = _log_sum(log_base[here])
            fits[k] = _log_sum(log_w[here]) - shares[k]
    good = np.isfinite(shares)

    def moved(power: float) -> float:
        logs = shares[good] + power * fits[good]
        return float(np.logaddexp.reduce(logs + by_way[good]) - np.logaddexp.reduce(logs))

    return _Found(by_way[way], moved(EVIDENCE_POWER), moved(1.0))


def chance(posterior: Posterior, group: Group, sign: str) -> np.ndarray:
    """Probability that a sign or finding is reported as seen, per member of a group. [-]

    Parameters
    ----------
    posterior : Posterior
        Present odds; what was found before counts.
    group : Group
        One of its groups.
    sign : str
        A key of `signs.SIGN_MODELS` or `findings.FINDINGS`.

    Returns
    -------
    ndarray
        Shape (members,). [-]
    """
    if sign not in FINDINGS:
        return group.block.chance(group.population, sign)
    findings, faults = posterior.evidence.findings, group.population.faults
    way = group.population.way
    if way is None or len(faults) > 1:
        return np.full(group.log_w.shape, findings.chance(sign, faults))
    by_way = [
        findings.chance(sign, faults, w.effect.identifier) for w in hypothesis_named(*faults).ways
    ]
    return np.asarray(np.array(by_way)[way])


def odds_of(groups: list[Group] | tuple[Group, ...]) -> dict[Together, float]:
    """Odds of each hypothesis from its groups' evidence.

    Returns
    -------
    dict
        Probability of each hypothesis; they sum to one. [-]
    """
    logs: dict[Together, list[float]] = {}
    for g in groups:
        logs.setdefault(g.population.faults, []).append(g.log_evidence)
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
    """Draw members near the evidence for every fault still in question whose members thin out.

    Parameters
    ----------
    posterior : Posterior
        From `weigh`.
    rng : Generator
        Source of randomness.
    particles : int
        Members drawn per fault and round. [-]
    enough : float
        Effective members below which a fault's members are too few. [-]
    progress : callable, optional
        Told a line per fault.

    Returns
    -------
    Posterior
        The posterior with more members; marked stopped where the time was up.
    """
    subject, evidence = posterior.ensemble.subject, posterior.evidence
    if not evidence.keys or posterior.stopped:
        return posterior
    top = max(g.log_whole for g in posterior.groups)
    if not np.isfinite(top):
        return posterior
    changed: dict[tuple[str, Together], Population] = {}
    stopped = False
    for g in posterior.groups:
        fault, block = hypothesis_named(*g.population.faults), g.block
        # An estimate that rests on one or two members may be far too low.
        margin = LEADING if effective(g.log_w) > 5.0 else 0.1 * LEADING
        if not g.log_whole >= top + np.log(margin) or effective(g.log_w) >= enough:
            continue
        if not fault.runs:
            continue
        if time_is_up():
            stopped = True
            break
        if progress is not None:
            progress(f"few members fit: drawing some nearer ({fault_words(fault.faults)})")
        # Thin estimates are too low: all in question are held against the top as it was found
        # before any of them was drawn nearer, like with like.
        changed[block.refrigerant, fault.faults] = _nearer(
            subject, evidence, block, g.population, rng, particles, enough
        )
    blocks = tuple(_exchanged(b, changed) for b in posterior.ensemble.blocks)
    found = weigh(Ensemble(subject, blocks), evidence)
    return replace(found, stopped=True) if stopped or time_is_up() else found


def _nearer(
    subject: Subject,
    evidence: Evidence,
    block: Block,
    start: Population,
    rng: np.random.Generator,
    particles: int,
    enough: float,
) -> Population:
    fault, volts, setting = hypothesis_named(*start.faults), subject.supply_v, evidence.setting()

    def run(z: np.ndarray) -> Population:
        return simulate(
            block.med, subject, fault, z, members_for(block.med, subject, z),
            refrigerant=block.refrigerant,
        )  # fmt: skip

    def judge(p: Population) -> Judged:
        fresh = Block(block.refrigerant, block.share, block.med, (p,))
        log_l = log_weights(fresh, p, evidence, volts)[0]
        truth = truth_of(fresh, p, evidence, volts)
        air, begin = surroundings_of(p, evidence.instruments, evidence.keys, truth)
        return Judged(log_l + p.log_plate, moments(setting, truth, air, begin)[0])

    def noise_at(p: Population, i: int) -> np.ndarray:
        one = Block(block.refrigerant, block.share, block.med, (p,))
        truth = truth_of(one, p, evidence, volts)
        air, begin = surroundings_of(p, evidence.instruments, evidence.keys, truth)
        at = slice(i, i + 1)
        return np.asarray(moments(setting, truth[at], air[at], begin[at])[1][0])

    return draw_nearer(start, run, judge, evidence.values, noise_at, rng, particles, enough)


def _exchanged(block: Block, changed: dict[tuple[str, Together], Population]) -> Block:
    """The block with some populations in place of its own."""
    names = {f for r, f in changed if r == block.refrigerant}
    if not names:
        return block
    populations = tuple(
        changed.get((block.refrigerant, p.faults), p) for p in block.populations
    )  # fmt: skip
    columns = {k: v for k, v in block.columns.items() if k[0] not in names}
    return Block(block.refrigerant, block.share, block.med, populations, columns)


def which_odds(posterior: Posterior, faults: Together) -> dict[str, float]:
    """Probability of each kind of a fault that comes about in several ways. [-]

    Parameters
    ----------
    posterior : Posterior
        From `weigh` or `sharpen`.
    faults : tuple of str
        A hypothesis.

    Returns
    -------
    dict
        Probability by kind, given the fault; empty where there is one way only. [-]
    """
    if len(faults) > 1 or not FAULTS[faults[0]].kinds:
        return {}
    kinds, ways = FAULTS[faults[0]].kinds, FAULTS[faults[0]].ways

    def taken(g: Group) -> np.ndarray:
        way = g.population.way
        return np.zeros(g.log_w.shape) if way is None else way.astype(float)

    values, weights = posterior.members_of(faults, taken)
    if not values.size:
        return {}
    by_way = np.bincount(values.astype(int), weights, minlength=len(ways))
    return {
        kind: float(sum(w for w, way in zip(by_way, ways, strict=True) if way.which == kind))
        for kind in kinds
    }


def severity_interval(
    posterior: Posterior, faults: Together, *, second: bool = False, power: float = INTERVAL_POWER
) -> tuple[float, float, float] | None:
    """10, 50 and 90 % points of a fault's severity; None where it has none.


    The evidence counts with a power: at its full word the intervals were too narrow on
    foreign truth and on our own (docs/accuracy.md). Where only a handful of
    members carries weight even then, their spread says little: the power is lowered until
    `FOR_INTERVAL` of them are left, a wider interval.

    Parameters
    ----------
    posterior : Posterior
        From `weigh` or `sharpen`.
    faults : tuple of str
        A hypothesis.
    second : bool
        Of the second of two faults at once.
    power : float
        Of the likelihood, above 0 and at most 1. [-]

    Returns
    -------
    tuple[float, float, float] or None
        The three points in the fault's own unit, or None.
    """
    groups = [g for g in posterior.of(faults) if _any(g.log_w)]
    if not groups:
        return None
    of = [g.population.second if second else g.population.severity for g in groups]
    values = np.concatenate([v for v in of if v is not None] or [np.zeros(0)])
    if values.size != sum(g.log_w.size for g in groups):
        return None
    base = np.concatenate(
        [
            g.population.log_base + np.log(g.block.share / max(g.population.stands_for, 1.0))
            for g in groups
        ]
    )
    log_l = np.concatenate([g.log_w - g.population.log_base for g in groups])
    good = np.isfinite(values) & np.isfinite(log_l)
    if not good.any():
        return None
    weights = tempered(base, power * log_l, good, FOR_INTERVAL)
    return weighted_quantiles(values[good], weights[good], (0.1, 0.5, 0.9))  # type: ignore[return-value]


def weighted_quantiles(
    values: np.ndarray, weights: np.ndarray, points: tuple[float, ...]
) -> tuple[float, ...]:
    """Quantiles of a weighted sample, linear between members.

    Parameters
    ----------
    values : ndarray
        Sample, shape (n,). [any]
    weights : ndarray
        Of the members, shape (n,), positive sum. [-]
    points : tuple of float
        Probabilities, 0 to 1. [-]

    Returns
    -------
    tuple of float
        One quantile per point. [as values]
    """
    order = np.argsort(values)
    v, w = values[order], weights[order]
    c = (np.cumsum(w) - 0.5 * w) / w.sum()
    return tuple(float(np.interp(p, c, v)) for p in points)


def surprise(posterior: Posterior) -> float:
    """Posterior mean of the chance of a larger distance of the readings than seen.

    The t's squared distance over its dimension follows an F distribution.

    Returns
    -------
    float
        Probability, 0 to 1; near 0 where no hypothesis fits. [-]
    """
    r = len(posterior.evidence.keys)
    if r == 0:
        return 1.0
    total, weight = 0.0, 0.0
    top = max(g.log_evidence for g in posterior.groups)
    if not np.isfinite(top):
        return 0.0
    for g in posterior.groups:
        share = float(np.exp(g.log_evidence - top))
        if share < 1e-6:
            continue
        shrink = DEGREES / (DEGREES - 2.0)
        p = f_distribution.sf(g.distance * shrink / r, r, DEGREES)
        total += share * float(np.sum(g.weights * p))
        weight += share
    return total / weight if weight > 0.0 else 0.0
