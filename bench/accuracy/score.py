"""Figures from answers: first place, calibration error, confusion, with bootstrap intervals."""

from __future__ import annotations

import numpy as np

RESTRICTION = ("capillary_restricted", "drier_restricted")
BINS = 10
BOOTSTRAPS = 1_000


def merged(odds: dict[str, float]) -> dict[str, float]:
    """Odds with drier and capillary restriction as one."""
    out: dict[str, float] = {}
    for fault, p in odds.items():
        name = label(fault)
        out[name] = out.get(name, 0.0) + p
    return out


def label(fault: str) -> str:
    """A fault's name in the score."""
    return "restriction" if fault in RESTRICTION else fault


def firsts(jobs: list[dict], answers: list[dict], key: str = "odds") -> np.ndarray:
    """Whether the true fault came first, per job."""
    out = []
    for job, row in zip(jobs, answers, strict=True):
        odds = merged(row[key])
        out.append(max(odds, key=lambda f: odds[f]) == label(job["fault"]))
    return np.array(out)


def calibration_error(jobs: list[dict], answers: list[dict], key: str = "odds") -> float:
    """Expected calibration error of all stated odds, every fault of every job, ten bins.

    The gap between what was said and what happened in each bin, weighted by how many
    of the true outcomes and false ones fall there (Naeini et al. 2015, AAAI), taken over
    the stated odds of the first fault.
    """
    p, hit = top(jobs, answers, key)
    return _ece(p, hit)


def top(jobs: list[dict], answers: list[dict], key: str = "odds") -> tuple[np.ndarray, np.ndarray]:
    """Odds of the fault put first, and whether it was right."""
    p, hit = [], []
    for job, row in zip(jobs, answers, strict=True):
        odds = merged(row[key])
        first = max(odds, key=lambda f: odds[f])
        p.append(odds[first])
        hit.append(first == label(job["fault"]))
    return np.array(p), np.array(hit, dtype=float)


def every(
    jobs: list[dict], answers: list[dict], key: str = "odds"
) -> tuple[np.ndarray, np.ndarray]:
    """All odds of all faults, and whether each was the true one."""
    p, hit = [], []
    for job, row in zip(jobs, answers, strict=True):
        for fault, q in merged(row[key]).items():
            p.append(q)
            hit.append(fault == label(job["fault"]))
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


def confusion(jobs: list[dict], answers: list[dict]) -> tuple[list[str], np.ndarray]:
    """Counts: rows the true fault, columns the fault put first."""
    names = sorted({label(j["fault"]) for j in jobs})
    at = {n: i for i, n in enumerate(names)}
    table = np.zeros((len(names), len(names)), dtype=int)
    for job, row in zip(jobs, answers, strict=True):
        odds = merged(row["odds"])
        table[at[label(job["fault"])], at[max(odds, key=lambda f: odds[f])]] += 1
    return names, table
