"""The next check: most expected information per minute, nothing opened before it must be.

Information is the mutual information between the fault (a restriction of drier
or capillary counted as one, they are mended alike) and what the check would
show, under the present odds (Lindley 1956, Ann. Math. Stat. 27, 986).
"""

from __future__ import annotations

import numpy as np

from coldwright.catalogue.checks import CHECKS
from coldwright.catalogue.instruments import Instrument
from coldwright.catalogue.signs import SIGN_MODELS, sign_probability
from coldwright.diagnosis.posterior import Posterior
from coldwright.diagnosis.predict import COLUMNS
from coldwright.faults.kinds import RESTRICTIONS

DRAWN = 500  # members that stand for the posterior
SHOWN = 96  # values a check may show, drawn from them
CERTAIN = 0.90  # odds of one fault above which no more is asked of the circuit
LEAST_BITS = 0.02


def sample(posterior: Posterior, rng: np.random.Generator, count: int = DRAWN):  # type: ignore[no-untyped-def]
    """Equally likely members: list of (group, indices)."""
    logs = np.array([g.log_evidence for g in posterior.groups])
    share = np.exp(logs - np.max(logs))
    share /= share.sum()
    numbers = rng.multinomial(count, share)
    out = []
    for g, k in zip(posterior.groups, numbers, strict=True):
        if k:
            out.append((g, rng.choice(g.weights.shape[0], size=k, p=g.weights)))
    return out


def _label(fault: str) -> str:
    return "restriction" if fault in RESTRICTIONS else fault


def information(
    posterior: Posterior,
    instruments: dict[str, Instrument],
    rng: np.random.Generator,
) -> dict[str, float]:
    """Expected information of every check not yet made. [bit]

    Parameters
    ----------
    posterior : Posterior
        Present odds.
    instruments : dict
        Instrument per reading.
    rng : Generator
        Source of randomness.
    """
    drawn = sample(posterior, rng)
    labels = np.concatenate([[_label(g.population.fault)] * len(i) for g, i in drawn])
    names, code = np.unique(labels, return_inverse=True)
    if names.shape[0] < 2:
        return {}
    volts = posterior.ensemble.subject.supply_v
    have = set(posterior.evidence.keys) | {s for s, _ in posterior.evidence.signs}
    bits: dict[str, float] = {}
    for key in COLUMNS:
        if key in have or key not in CHECKS:
            continue
        if key in ("fresh_food_temperature", "freezer_temperature") and not (
            posterior.ensemble.subject.settled
        ):
            continue
        truth = np.concatenate([g.block.column(g.population, key, volts)[i] for g, i in drawn])
        air = np.concatenate([_air(g, instruments[key])[i] for g, i in drawn])
        bits[key] = _reading_bits(truth, air, instruments[key], code, names.shape[0], rng)
    for sign in SIGN_MODELS:
        if sign in have or sign not in CHECKS:
            continue
        p = np.concatenate(
            [
                sign_probability(
                    sign, g.population.fault, g.population.severity[i], g.population.states[i]
                )
                for g, i in drawn
            ]
        )
        bits[sign] = _sign_bits(p, code, names.shape[0])
    return bits


def _air(group, instrument: Instrument) -> np.ndarray:  # type: ignore[no-untyped-def]
    if instrument.air == "freezer":
        return np.asarray(group.population.states["freezer_k"])
    return np.asarray(group.population.room_k)


def _entropy(p: np.ndarray) -> np.ndarray:
    q = np.clip(p, 1e-12, 1.0)
    return np.asarray(-np.sum(q * np.log2(q), axis=-1))


def _reading_bits(
    truth: np.ndarray, air: np.ndarray, i: Instrument, code: np.ndarray, kinds: int,
    rng: np.random.Generator,
) -> float:  # fmt: skip
    good = np.isfinite(truth)
    if good.sum() < 0.5 * truth.shape[0]:
        return 0.0
    truth, air, code = truth[good], air[good], code[good]
    mean = truth + (i.toward_air_mean * (air - truth) if i.air else 0.0)
    size = np.abs(truth)
    var = (
        i.sd**2 + (i.relative_sd * size) ** 2 + i.bias_sd**2 + (i.bias_relative_sd * size) ** 2
        + i.model_sd**2 + (i.model_relative_sd * size) ** 2
        + ((i.toward_air_sd * (air - truth)) ** 2 if i.air else 0.0)
    )  # fmt: skip
    sd = np.sqrt(var)
    at = rng.integers(0, truth.shape[0], SHOWN)
    y = mean[at] + sd[at] * rng.standard_normal(SHOWN)
    density = np.exp(-0.5 * ((y[:, None] - mean[None, :]) / sd[None, :]) ** 2) / sd[None, :]
    by_kind = np.zeros((SHOWN, kinds))
    for k in range(kinds):
        by_kind[:, k] = density[:, code == k].sum(axis=1)
    after = by_kind / np.maximum(by_kind.sum(axis=1, keepdims=True), 1e-300)
    before = np.bincount(code, minlength=kinds) / code.shape[0]
    return max(float(_entropy(before) - np.mean(_entropy(after))), 0.0)


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


def ranked(bits: dict[str, float], odds: dict[str, float], most: int = 5) -> list[str]:
    """Checks by information per minute; those that open the circuit only as the last resort.

    A check that opens the circuit is listed only when no closed check is worth making and
    the odds are still open.
    """
    closed = [k for k, b in bits.items() if b > LEAST_BITS and not CHECKS[k].opens_circuit]
    closed.sort(key=lambda k: -bits[k] / CHECKS[k].minutes)
    merged: dict[str, float] = {}
    for fault, p in odds.items():
        merged[_label(fault)] = merged.get(_label(fault), 0.0) + p
    out = closed[:most]
    strong = [k for k in closed if bits[k] > 0.10]
    if not strong and max(merged.values()) < CERTAIN:
        opening = [k for k, b in bits.items() if b > LEAST_BITS and CHECKS[k].opens_circuit]
        opening.sort(key=lambda k: -bits[k] / CHECKS[k].minutes)
        out = out[: most - 1] + opening[:1]
    return out
