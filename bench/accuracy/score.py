"""Figures from answers: first place, calibration error, confusion, with bootstrap intervals."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from coldwright.catalogue.pairs import prior_with_pairs
from coldwright.catalogue.priors import Background
from coldwright.cli.as_json import joined
from coldwright.faults.record import Together
from coldwright.faults.registry import FAULTS

BINS = 10
LEAST_PRIOR = 1e-12  # as the odds take a fault that cannot be
BOOTSTRAPS = 1_000


def apart(fault: str | Together) -> Together:
    """A hypothesis as a tuple; the files of the study join two faults by '+'."""
    return tuple(fault.split("+")) if isinstance(fault, str) else fault


def labels(fault: str | Together) -> Together:
    """A hypothesis by its names in the score: faults mended alike share one."""
    return tuple(FAULTS[one].label for one in apart(fault))


def groups_of(fault: str | Together) -> Together:
    """The groups a hypothesis holds: one, or two where two faults act at once."""
    return tuple(dict.fromkeys(labels(fault)))


def present(odds: Mapping[str, float] | Mapping[Together, float]) -> dict[str, float]:
    """Probability that each group is there, alone or beside another."""
    out: dict[str, float] = {}
    for fault, p in odds.items():
        for name in groups_of(fault):
            out[name] = out.get(name, 0.0) + p
    return out


def at_power(job: dict, row: dict, power: float) -> dict[str, float]:
    """Odds with the likelihood at another power, from the evidence kept with the answer."""
    coils = Background(condenser=job["condenser"], evaporator=job["evaporator"])
    prior = prior_with_pairs(job["complaint"], coils, job["refrigerant"])
    logs = {}
    for fault, whole in row["logs"].items():
        own = np.log(max(prior.get(apart(fault), 0.0), LEAST_PRIOR))
        logs[fault] = own + power * (whole - own)
    top = max(logs.values())
    odds = {fault: float(np.exp(value - top)) for fault, value in logs.items()}
    return {fault: p / sum(odds.values()) for fault, p in odds.items()}


def places(jobs: list[dict], answers: list[dict], key: str = "odds") -> np.ndarray:
    """Place of the best placed of the groups that are truly there, 0 for the first."""
    out = []
    for job, row in zip(jobs, answers, strict=True):
        odds = present(row[key])
        order = sorted(odds, key=lambda f: -odds[f])
        out.append(min(order.index(name) for name in groups_of(job["fault"])))
    return np.array(out)


def log_loss(jobs: list[dict], answers: list[dict], key: str = "odds") -> np.ndarray:
    """-ln of the odds of the hypothesis that is true, restrictions as one, per job. [nat]"""
    out = []
    for job, row in zip(jobs, answers, strict=True):
        wanted = labels(job["fault"])
        p = sum(q for fault, q in row[key].items() if labels(fault) == wanted)
        out.append(-np.log(max(p, 1e-6)))
    return np.array(out)


def covered(jobs: list[dict], answers: list[dict], power: float) -> tuple[float, int]:
    """Share of severities inside their stated 80 % interval, and of how many."""
    inside = [
        row["severities"][f"{power:g}"][0] <= job["severity"] <= row["severities"][f"{power:g}"][2]
        for job, row in zip(jobs, answers, strict=True)
        if row["severities"][f"{power:g}"] is not None and job["severity"] is not None
    ]
    return (float(np.mean(inside)) if inside else float("nan")), len(inside)


def calibration_error(jobs: list[dict], answers: list[dict], key: str = "odds") -> float:
    """Expected calibration error of what is put first, ten bins.

    The gap between what was said of the group put first and how often it was there,
    weighted by how many jobs fall in each bin (Naeini et al. 2015, AAAI).
    """
    p, hit = top(jobs, answers, key)
    return _ece(p, hit)


def top(jobs: list[dict], answers: list[dict], key: str = "odds") -> tuple[np.ndarray, np.ndarray]:
    """Odds of the group put first, and whether it was there."""
    p, hit = [], []
    for job, row in zip(jobs, answers, strict=True):
        odds = present(row[key])
        first = max(odds, key=lambda f: odds[f])
        p.append(odds[first])
        hit.append(first in groups_of(job["fault"]))
    return np.array(p), np.array(hit, dtype=float)


def every(
    jobs: list[dict], answers: list[dict], key: str = "odds"
) -> tuple[np.ndarray, np.ndarray]:
    """All odds of all groups, and whether each was there."""
    p, hit = [], []
    for job, row in zip(jobs, answers, strict=True):
        for name, q in present(row[key]).items():
            p.append(q)
            hit.append(name in groups_of(job["fault"]))
    return np.array(p), np.array(hit, dtype=float)


def _ece(p: np.ndarray, hit: np.ndarray) -> float:
    bins = np.minimum((p * BINS).astype(int), BINS - 1)
    total = 0.0
    for b in range(BINS):
        inside = bins == b
        if inside.any():
            total += inside.mean() * abs(p[inside].mean() - hit[inside].mean())
    return float(total)


def reliability(p: np.ndarray, hit: np.ndarray) -> list[tuple[float, float, int]]:
    """(mean odds said, share that happened, count) per bin."""
    bins = np.minimum((p * BINS).astype(int), BINS - 1)
    return [
        (float(p[bins == b].mean()), float(hit[bins == b].mean()), int((bins == b).sum()))
        for b in range(BINS)
        if (bins == b).any()
    ]


def interval(values: np.ndarray, rng: np.random.Generator) -> tuple[float, float, float]:
    """Mean with its 95 % bootstrap interval."""
    if values.size == 0:
        return float("nan"), float("nan"), float("nan")
    n = values.size
    means = values[rng.integers(0, n, (BOOTSTRAPS, n))].mean(axis=1)
    low, high = np.percentile(means, (2.5, 97.5))
    return float(values.mean()), float(low), float(high)


def confusion(jobs: list[dict], answers: list[dict]) -> tuple[list[str], list[str], np.ndarray]:
    """Counts: rows the true hypothesis, columns the group put first."""
    rows = sorted({joined(labels(j["fault"])) for j in jobs})
    firsts = []
    for row in answers:
        odds = present(row["odds"])
        firsts.append(max(odds, key=lambda f: odds[f]))
    columns = sorted(set(firsts))
    table = np.zeros((len(rows), len(columns)), dtype=int)
    for job, first in zip(jobs, firsts, strict=True):
        name = joined(labels(job["fault"]))
        table[rows.index(name), columns.index(first)] += 1
    return rows, columns, table
