"""The next check: most expected information per minute, nothing opened before it must be.

Information is the mutual information between the fault (a restriction of drier
or capillary counted as one, they are mended alike) and what the check would
show, under the present odds (Lindley 1956, Ann. Math. Stat. 27, 986).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from coldwright.catalogue.checks import CHECKS
from coldwright.catalogue.findings import FINDINGS
from coldwright.catalogue.instruments import Instrument
from coldwright.catalogue.signs import SIGN_MODELS
from coldwright.diagnosis.posterior import Posterior, chance
from coldwright.diagnosis.predict import COLUMNS, says_nothing
from coldwright.diagnosis.shown import air_of, shown
from coldwright.faults.record import Together
from coldwright.faults.registry import FAULTS

DRAWN = 500  # members that stand for the posterior
SHOWN = 96  # values a check may show, drawn from them
CERTAIN = 0.90  # odds of one fault above which no more is asked of the circuit
LEAST_BITS = 0.02
STRONG_BITS = 0.10  # a closed check worth making before anything is opened, ours


def sample(posterior: Posterior, rng: np.random.Generator, count: int = DRAWN):  # type: ignore[no-untyped-def]
    """Equally likely members: list of (group, indices).

    Parameters
    ----------
    posterior : Posterior
        Members weighed by the evidence.
    rng : numpy.random.Generator
        Source of the draws.
    count : int
        Members drawn in all. [-]

    Returns
    -------
    list
        Group and indices of its drawn members, shape (k,) each.
    """
    logs = np.array([g.log_evidence for g in posterior.groups])
    share = np.exp(logs - np.max(logs))
    share /= share.sum()
    numbers = rng.multinomial(count, share)
    out = []
    for g, k in zip(posterior.groups, numbers, strict=True):
        if k:
            out.append((g, rng.choice(g.weights.shape[0], size=k, p=g.weights)))
    return out


def label_of(faults: Together) -> Together:
    """A hypothesis as it is asked for: a restriction of drier or capillary is one.

    Parameters
    ----------
    faults : Together
        One fault or two at once.

    Returns
    -------
    Together
        The names asked for, each fault's label.
    """
    return tuple(FAULTS[fault].label for fault in faults)


def coded(names: Sequence[Together]) -> tuple[tuple[Together, ...], np.ndarray]:
    """Each name once, sorted, and for every entry which of them it is.

    Parameters
    ----------
    names : sequence of Together
        One hypothesis per entry.

    Returns
    -------
    tuple
        Names without repeats, and the index of each entry in them, shape (n,).
    """
    once = tuple(sorted(set(names)))
    place = {name: k for k, name in enumerate(once)}
    return once, np.array([place[name] for name in names], dtype=int)


@dataclass(frozen=True, slots=True)
class View:
    """What one check would show: log densities of values drawn from members, per member."""

    check: str
    log_density: np.ndarray  # (SHOWN, members)
    bits: float


@dataclass(frozen=True, slots=True)
class Outlook:
    """Every check not yet made, seen by equally likely members of the present odds."""

    code: np.ndarray  # fault of each member, a restriction as one
    faults: tuple[Together, ...]  # as the odds name them
    fault_code: np.ndarray  # which of these each member has
    kinds: int
    at: np.ndarray  # members whose values are shown, (SHOWN,)
    views: tuple[View, ...]

    @property
    def bits(self) -> dict[str, float]:
        """Expected information of each check. [bit]"""
        return {v.check: v.bits for v in self.views}


def outlook(
    posterior: Posterior, instruments: dict[str, Instrument], rng: np.random.Generator
) -> Outlook:
    """What every check not yet made would show.

    Parameters
    ----------
    posterior : Posterior
        Present odds.
    instruments : dict
        Instrument per reading.
    rng : Generator
        Source of randomness.

    Returns
    -------
    Outlook
        Drawn members with what each open check would show of them.
    """
    drawn = sample(posterior, rng)
    own = [g.population.faults for g, i in drawn for _ in i]
    faults, fault_code = coded(own)
    names, code = coded([label_of(one) for one in own])
    kinds = len(names)
    at = rng.integers(0, code.shape[0], SHOWN)
    if kinds < 2:
        return Outlook(code, faults, fault_code, kinds, at, ())
    volts = posterior.ensemble.subject.supply_v
    have = set(posterior.evidence.keys) | posterior.evidence.asked()
    have |= says_nothing(posterior.ensemble.subject.settled)
    views = []
    for key in COLUMNS:
        if key in have or key not in CHECKS:
            continue
        truth = np.concatenate([g.block.column(g.population, key, volts)[i] for g, i in drawn])
        air = np.concatenate([air_of(g, instruments[key])[i] for g, i in drawn])
        views.append(_of_reading(key, truth, air, instruments[key], code, kinds, at, rng))
    for sign in (*SIGN_MODELS, *FINDINGS):
        if sign in have or sign not in CHECKS:
            continue
        p = np.concatenate([chance(posterior, g, sign)[i] for g, i in drawn])
        seen = rng.random(SHOWN) < p[at]
        density = np.where(seen[:, None], p[None, :], 1.0 - p[None, :])
        logs = np.log(np.maximum(density, 1e-12))
        views.append(View(sign, logs, _sign_bits(p, code, kinds)))
    return Outlook(code, faults, fault_code, kinds, at, tuple(views))


def plan(seen: Outlook, tools: frozenset[str] | None = None, steps: int = 3) -> list[Step]:
    """The next few closed checks together: each adds most per minute to those before it.

    Readings of one member are independent given the member, so what two checks tell
    together is counted once where they tell the same.

    Parameters
    ----------
    seen : Outlook
        From `outlook`.
    tools : frozenset or None
        Keys of `catalogue.checks.TOOLS` at hand; None for all.
    steps : int
        How many checks to plan. [-]

    Returns
    -------
    list of Step
        At most `steps` steps; information in bits.

    References
    ----------
    .. [1] Lindley (1956), Ann. Math. Stat. 27, 986; greedy choice, Krause & Guestrin (2005).
    """
    left = [v for v in seen.views if at_hand(v.check, tools) and not CHECKS[v.check].opens_circuit]
    total = np.zeros((SHOWN, seen.code.shape[0]))
    known = 0.0
    out: list[Step] = []
    while left and len(out) < steps:
        gains = [_bits_of(total + v.log_density, seen) - known for v in left]
        rates = [g / CHECKS[v.check].minutes for g, v in zip(gains, left, strict=True)]
        best = int(np.argmax(rates))
        if gains[best] < LEAST_BITS:
            break
        chosen = left.pop(best)
        total += chosen.log_density
        known += gains[best]
        out.append(Step(chosen.check, gains[best]))
    return out


@dataclass(frozen=True, slots=True)
class Step:
    """One check of a plan and what it adds to those before it."""

    check: str
    added_bits: float


def at_hand(check: str, tools: frozenset[str] | None) -> bool:
    """Whether a check needs nothing beyond the tools at hand.

    Parameters
    ----------
    check : str
        Identifier of the check.
    tools : frozenset of str or None
        Tools at hand; None for all.

    Returns
    -------
    bool
        True where the tools suffice or none are named.
    """
    return tools is None or set(CHECKS[check].needs) <= tools


def _bits_of(log_density: np.ndarray, seen: Outlook) -> float:
    density = np.exp(log_density - log_density.max(axis=1, keepdims=True))
    return _bits(density, seen.code, seen.kinds)


def _bits(density: np.ndarray, code: np.ndarray, kinds: int) -> float:
    by_kind = np.zeros((density.shape[0], kinds))
    for k in range(kinds):
        by_kind[:, k] = density[:, code == k].sum(axis=1)
    after = by_kind / np.maximum(by_kind.sum(axis=1, keepdims=True), 1e-300)
    before = np.bincount(code, minlength=kinds) / code.shape[0]
    return max(float(_entropy(before) - np.mean(_entropy(after))), 0.0)


def _entropy(p: np.ndarray) -> np.ndarray:
    q = np.clip(p, 1e-12, 1.0)
    return np.asarray(-np.sum(q * np.log2(q), axis=-1))


def _of_reading(
    key: str, truth: np.ndarray, air: np.ndarray, i: Instrument, code: np.ndarray, kinds: int,
    at: np.ndarray, rng: np.random.Generator,
) -> View:  # fmt: skip
    good = np.isfinite(truth)
    flat = np.zeros((at.shape[0], truth.shape[0]))
    if good.sum() < 0.5 * truth.shape[0]:
        return View(key, flat, 0.0)
    # A member that has no such reading shows it nowhere and is told by that alone.
    truth = np.where(good, truth, np.nanmedian(truth))
    s = shown(truth, air, i)
    mean, sd = s.mean, s.sd
    y = mean[at] + sd[at] * rng.standard_normal(at.shape[0])
    logs = -0.5 * ((y[:, None] - mean[None, :]) / sd[None, :]) ** 2 - np.log(sd)[None, :]
    logs = np.where(good[None, :], logs, -1e3)
    logs = np.where(good[at][:, None], logs, np.where(good[None, :], -1e3, 0.0))
    top = logs.max(axis=1, keepdims=True)
    return View(key, logs - top, _bits(np.exp(logs - top), code, kinds))


def _sign_bits(p: np.ndarray, code: np.ndarray, kinds: int) -> float:
    before = np.bincount(code, minlength=kinds) / code.shape[0]
    seen = np.array([p[code == k].sum() for k in range(kinds)]) / code.shape[0]
    unseen = before - seen
    total = 0.0
    for part in (seen, unseen):
        mass = part.sum()
        if mass > 0:
            total += mass * float(_entropy(part / mass))
    return max(float(_entropy(before)) - total, 0.0)


def ranked(
    bits: dict[str, float],
    odds: dict[Together, float],
    most: int = 5,
    tools: frozenset[str] | None = None,
    opening_pays: Callable[[str], bool] | None = None,
    before: frozenset[str] = frozenset(),
) -> list[str]:
    """Checks by information per minute; those that open the circuit only as the last resort.

    A check that opens the circuit is listed only when no closed check is worth making and
    the odds are still open, and it pays.

    Parameters
    ----------
    bits : dict
        Check to expected information. [bit]
    odds : dict
        Hypothesis to odds. [-]
    most : int
        How many to list. [-]
    tools : frozenset or None
        Keys of `catalogue.checks.TOOLS` at hand; None for all.
    opening_pays : callable
        Whether a check that opens the circuit saves more than its minutes and its risk cost;
        None where no prices are known.
    before : frozenset of str
        Checks that come before all others.

    Returns
    -------
    list of str
        Identifiers of checks, at most `most`.
    """
    worth = {k: b for k, b in bits.items() if b > LEAST_BITS and at_hand(k, tools)}
    closed = [k for k in worth if not CHECKS[k].opens_circuit]
    closed.sort(key=lambda k: (k not in before, -bits[k] / CHECKS[k].minutes))
    merged: dict[Together, float] = {}
    for fault, p in odds.items():
        merged[label_of(fault)] = merged.get(label_of(fault), 0.0) + p
    out = closed[:most]
    strong = [k for k in closed if bits[k] > STRONG_BITS]
    if not strong and max(merged.values()) < CERTAIN:
        opening = [
            k for k in worth
            if CHECKS[k].opens_circuit and (opening_pays is None or opening_pays(k))
        ]  # fmt: skip
        opening.sort(key=lambda k: -bits[k] / CHECKS[k].minutes)
        out = out[: most - 1] + opening[:1]
    return out
