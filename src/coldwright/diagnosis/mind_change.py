"""What would change our mind: the check not yet made that would most likely overturn the leader.

For every closed check the odds are worked out over the values it may show, each value
weighted by how likely it is now; where another fault would lead, the leader is overturned.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr

from coldwright.catalogue.checks import CHECKS
from coldwright.catalogue.findings import FINDINGS
from coldwright.catalogue.instruments import Instrument
from coldwright.catalogue.signs import SIGN_MODELS
from coldwright.diagnosis.fault_words import fault_words
from coldwright.diagnosis.next_check import at_hand, coded, label_of
from coldwright.diagnosis.posterior import Group, Posterior, chance
from coldwright.diagnosis.predict import COLUMNS, says_nothing
from coldwright.diagnosis.result import MindChange
from coldwright.diagnosis.shown import air_of, shown
from coldwright.faults.record import Together
from coldwright.readings.job import Job
from coldwright.readings.keys import READINGS, SIGNS
from coldwright.units import Dimension, show

IN_QUESTION = 0.003  # odds from which a fault is drawn from, ours
EACH = 100  # members drawn of each such fault
GRID = 81  # values of a reading looked at
REACH = np.array([-2.5, -1.2, -0.5, 0.0, 0.5, 1.2, 2.5])  # errors looked at, in deviations
LEAST_CHANCE = 0.02  # of overturning, below which it is not worth a sentence, ours
SHOWN = 2
# Readings of one kind at neighbouring spots: what is told is also told as a difference.
BESIDE: Mapping[str, str] = {
    "condenser_outlet_temperature": "condenser_middle_temperature",
    "condenser_middle_temperature": "condenser_outlet_temperature",
    "drier_outlet_temperature": "drier_inlet_temperature",
    "evaporator_outlet_temperature": "evaporator_inlet_temperature",
}


@dataclass(frozen=True, slots=True)
class Stratum:
    """Members drawn evenly of every fault in question, weighted by its odds."""

    drawn: tuple[tuple[Group, np.ndarray], ...]
    names: tuple[Together, ...]  # labels, each once
    code: np.ndarray  # of each member, which name
    weight: np.ndarray  # sums to one

    @property
    def leader(self) -> Together:
        """The label with most weight."""
        return self.names[int(np.argmax(np.bincount(self.code, self.weight, len(self.names))))]

    @property
    def sides(self) -> np.ndarray:
        """Rows that add members up: the leader's fault, alone or with another, then each rival."""
        wanted = set(self.leader)
        mine = np.array([wanted <= set(name) for name in self.names])
        rows = [mine[self.code]]
        rows += [self.code == k for k in range(len(self.names)) if not mine[k]]
        return np.array(rows, dtype=float)

    @property
    def rivals(self) -> tuple[Together, ...]:
        """Names of the rows of `sides` but the first."""
        wanted = set(self.leader)
        return tuple(n for n in self.names if not wanted <= set(n))


def stratum(posterior: Posterior, rng: np.random.Generator) -> Stratum:
    """Members of each fault in question.

    Parameters
    ----------
    posterior : Posterior
        Present odds.
    rng : Generator
        Source of randomness.

    Returns
    -------
    Stratum
        Members with the fault each stands for and its share. [-]
    """
    drawn: list[tuple[Group, np.ndarray]] = []
    labels: list[Together] = []
    weights: list[float] = []
    for fault, odds in posterior.odds.items():
        groups = [g for g in posterior.of(fault) if np.isfinite(g.log_evidence)]
        if odds < IN_QUESTION or not groups:
            continue
        logs = np.array([g.log_evidence for g in groups])
        share = np.exp(logs - logs.max())
        for g, k in zip(groups, rng.multinomial(EACH, share / share.sum()), strict=True):
            if k:
                drawn.append((g, rng.choice(g.weights.shape[0], size=k, p=g.weights)))
                labels += [label_of(fault)] * k
                weights += [odds / EACH] * k
    total = np.array(weights)
    names, code = coded(labels)
    return Stratum(tuple(drawn), names, code, total / max(total.sum(), 1e-300))


def mind_changes(found: Sequence[MindChange]) -> tuple[MindChange, ...]:
    """The likeliest for each of the likeliest rivals: neighbouring spots say the same twice.

    Parameters
    ----------
    found : sequence of MindChange
        From `overturns`.

    Returns
    -------
    tuple of MindChange
        Chances [-], the likeliest first.
    """
    by_rival = {m.rival: m for m in sorted(found, key=lambda m: m.chance)}
    return tuple(sorted(by_rival.values(), key=lambda m: -m.chance)[:SHOWN])


def overturns(
    job: Job,
    posterior: Posterior,
    instruments: Mapping[str, Instrument],
    rng: np.random.Generator,
    tools: frozenset[str] | None = None,
    system: str = "si",
) -> tuple[MindChange, ...]:
    """Every closed check that may overturn the leading fault, and what it would show.

    Parameters
    ----------
    job : Job
        For readings beside the one asked for.
    posterior : Posterior
        Present odds.
    instruments : Mapping
        Instrument per reading.
    rng : Generator
        Source of randomness.
    tools : frozenset or None
        Keys of `catalogue.checks.TOOLS` at hand; None for all.
    system : str
        Units of the sentences, 'si' or 'us'.

    Returns
    -------
    tuple of MindChange
        Chances [-], the likeliest first; empty where nothing may overturn it.
    """
    members = stratum(posterior, rng)
    if len(members.names) < 2 or not members.rivals:
        return ()
    question = Question(members, members.leader, members.rivals, members.sides)
    have = set(posterior.evidence.keys) | posterior.evidence.asked()
    have |= says_nothing(posterior.ensemble.subject.settled)
    found: list[MindChange] = []
    for key in (*COLUMNS, *SIGN_MODELS, *FINDINGS):
        if key in have or key not in CHECKS or not at_hand(key, tools):
            continue
        if CHECKS[key].opens_circuit:
            continue
        if key in COLUMNS:
            one = _of_reading(job, question, key, instruments[key], posterior, system)
        else:
            one = _of_sign(posterior, question, key)
        if one is not None and one.chance >= LEAST_CHANCE:
            found.append(one)
    return tuple(sorted(found, key=lambda m: -m.chance))


@dataclass(frozen=True, slots=True)
class Question:
    """Who leads, who else is in question, and which members stand for whom."""

    members: Stratum
    leader: Together
    rivals: tuple[Together, ...]
    sides: np.ndarray  # (1 + rivals, members), one where a member stands for that side


def _of_reading(
    job: Job, q: Question, key: str, instrument: Instrument, posterior: Posterior, system: str
) -> MindChange | None:
    members, leader = q.members, q.leader
    volts = posterior.ensemble.subject.supply_v
    truth = np.concatenate([g.block.column(g.population, key, volts)[i] for g, i in members.drawn])
    air = np.concatenate([air_of(g, instrument)[i] for g, i in members.drawn])
    good = np.isfinite(truth) & np.isfinite(air)
    if members.weight[good].sum() < 0.5:
        return None
    s = shown(truth[good], air[good], instrument)
    weight, sides = members.weight[good], q.sides[:, good]
    # Points where readings are likely under one fault or another, close where they crowd.
    spread = (s.mean[:, None] + s.sd[:, None] * REACH[None, :]).ravel()
    y = np.unique(np.quantile(spread, np.linspace(0.0, 1.0, GRID)))
    if y.size < 3:
        return None
    edges = np.concatenate([[-np.inf], 0.5 * (y[1:] + y[:-1]), [np.inf]])
    below = ndtr((edges[:, None] - s.mean) / s.sd) @ (weight / weight.sum())
    seen = np.diff(below)  # chance of a value nearest to each point
    density = weight * np.exp(-0.5 * ((y[:, None] - s.mean) / s.sd) ** 2) / s.sd
    whole = density.sum(axis=1) + 1e-300
    shares = (sides @ density.T) / whole
    mine, others = shares[0], shares[1:]
    margin = mine - others.max(axis=0)
    run = _likeliest_run(margin < 0.0, seen)
    if run is None:
        return None
    first, last = run
    inside = slice(first, last + 1)
    lower = None if first == 0 else _crossing(y, margin, first - 1)
    upper = None if last == y.size - 1 else _crossing(y, margin, last)
    if lower is None and upper is None:
        return None  # it would be overturned whatever it shows: that is the odds' own matter
    chance = float(seen[inside].sum())
    share = seen[inside] / max(chance, 1e-12)
    rival = q.rivals[int(np.argmax(others[:, inside] @ share))]
    ends = [v for v in (lower, upper) if v is not None]
    limit = float(max(np.max(mine[inside]), np.max(np.interp(ends, y, mine))))
    now = float(sides[0] @ weight / weight.sum())
    then = float(mine[inside] @ share)
    if then >= now:
        return None
    sentence = _sentence(
        _reads(job, key, lower, upper, system), leader, now, limit, then, rival, chance,
        CHECKS[key].minutes,
    )  # fmt: skip
    return MindChange(
        leader, key, CHECKS[key].minutes, lower, upper, None, chance, now, limit,
        then, rival, sentence,
    )  # fmt: skip


def _likeliest_run(lost: np.ndarray, seen: np.ndarray) -> tuple[int, int] | None:
    """First and last index of the run of lost values that is most likely to be shown."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], lost.astype(int), [0]])))
    runs = [(int(a), int(b) - 1) for a, b in zip(edges[::2], edges[1::2], strict=True)]
    return max(runs, key=lambda r: float(seen[r[0] : r[1] + 1].sum()), default=None)


def _crossing(y: np.ndarray, margin: np.ndarray, i: int) -> float:
    a, b = margin[i], margin[i + 1]
    return float(y[i] + (y[i + 1] - y[i]) * a / (a - b))


def _of_sign(posterior: Posterior, q: Question, sign: str) -> MindChange | None:
    members, leader = q.members, q.leader
    p = np.concatenate([chance(posterior, g, sign)[i] for g, i in members.drawn])
    now = float(q.sides[0] @ members.weight)
    best: MindChange | None = None
    for seen in (True, False):
        after = members.weight * (p if seen else 1.0 - p)
        likely = float(after.sum())
        if likely <= 0.0:
            continue
        shares = q.sides @ after / likely
        then, k = float(shares[0]), int(np.argmax(shares[1:]))
        if shares[1 + k] <= then:
            continue
        rival = q.rivals[k]
        label = SIGNS[sign].label
        sentence = _sentence(
            f"the answer to “{label}” were {'yes' if seen else 'no'}", leader, now, then, then,
            rival, likely, CHECKS[sign].minutes,
        )  # fmt: skip
        one = MindChange(
            leader, sign, CHECKS[sign].minutes, None, None, seen, likely, now, then, then, rival,
            sentence,
        )  # fmt: skip
        if best is None or one.chance > best.chance:
            best = one
    return best


def _reads(job: Job, key: str, lower: float | None, upper: float | None, system: str) -> str:
    spec = READINGS[key]
    d = spec.dimension
    said = [show(v, d, system, digits=2) for v in (lower, upper) if v is not None]
    if lower is not None and upper is not None:
        where = f"between {said[0]} and {said[1]}"
    else:
        where = f"{'above' if lower is not None else 'below'} {said[0]}"
    other = job.reading(BESIDE.get(key, ""))
    end = lower if lower is not None else upper
    beside = ""
    if other is not None and end is not None and (lower is None or upper is None):
        gap = show(abs(end - other.value), Dimension.TEMPERATURE_DIFFERENCE, system, digits=2)
        side = "below" if end < other.value else "above"
        beside = f" ({gap} {side} the {READINGS[other.key].label} as read)"
    return f"{spec.label} were {where}{beside}"


def _sentence(
    condition: str, leader: Together, now: float, limit: float, then: float, rival: Together,
    chance: float, minutes: float,
) -> str:  # fmt: skip
    # Where many share the odds the crossing may lie above what the leader has now.
    least = f"{max(100.0 * limit, 1.0):.0f} % or less"
    to = least if limit < now else f"about {100.0 * then:.0f} %"
    return (
        f"If {condition}, {fault_words(leader)} would fall from {100.0 * now:.0f} % to {to} and "
        f"{fault_words(rival)} would lead; expected in {100.0 * chance:.0f} of 100 such cases "
        f"({minutes:.0f} min)."
    )
