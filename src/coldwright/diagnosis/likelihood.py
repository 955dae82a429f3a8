"""Likelihood of a set of readings, member by member.

Multivariate Student t about what the instruments would show: heavy tails, so
one bad reading cannot rule the verdict (Lange, Little & Taylor 1989, J. Am.
Stat. Assoc. 84, 881). The covariance is that of `catalogue.reading_errors`:
single-reading error, the visit's shared instrument bias, the unknown pull of a
clamp toward the air, and the model's own error, part of it common to a group.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import lgamma, log, pi

import numpy as np

from coldwright.catalogue.instruments import Instrument
from coldwright.catalogue.reading_errors import MODEL_SHARED, unsettled_share
from coldwright.refrigerant.compiled import kernel

DEGREES = 7.0  # of the t: tails between normal and wild, judgement of ours [-]
LAG_DOUBT = 0.35  # of the way still to go, how well the running-in is known, ours [-]


@dataclass(frozen=True, slots=True)
class Setup:
    """Readings' errors as plain arrays, one row per reading."""

    numbers: np.ndarray  # (r, 9): sd, rel, bias, bias rel, k mean, k sd, model, model rel, share
    bias_group: np.ndarray  # (r,) int
    model_group: np.ndarray  # (r,) int
    degrees: float


def setup(chosen: Sequence[Instrument], stated_sd: np.ndarray, running_s: float) -> Setup:
    """Arrange instruments for the kernel.

    Parameters
    ----------
    chosen : sequence of Instrument
        One per reading.
    stated_sd : ndarray
        Stated standard deviations, NaN where none, shape (r,). [SI]
    running_s : float
        Time since the start, infinite for steady. [s]

    Returns
    -------
    Setup
        What the kernel takes: one row per instrument.
    """
    share = unsettled_share(chosen, running_s) if np.isfinite(running_s) else np.zeros(len(chosen))
    rows = []
    for i, stated, left in zip(chosen, stated_sd, share, strict=True):
        own = np.isnan(stated)
        rows.append(
            (
                i.sd if own else stated, i.relative_sd if own else 0.0,
                i.bias_sd if own else 0.0, i.bias_relative_sd if own else 0.0,
                i.toward_air_mean if i.air else 0.0, i.toward_air_sd if i.air else 0.0,
                i.model_sd, i.model_relative_sd, left,
            )
        )  # fmt: skip
    return Setup(
        np.array(rows, dtype=float).reshape(len(chosen), 9),
        _codes([i.bias_group for i in chosen]),
        _codes([i.model_group for i in chosen]),
        DEGREES,
    )


def _codes(groups: list[str]) -> np.ndarray:
    names = {g: k for k, g in enumerate(sorted({g for g in groups if g}))}
    return np.array([names.get(g, -1 - k) for k, g in enumerate(groups)], dtype=np.int64)


@kernel
def _moments(  # type: ignore[no-untyped-def]
    truth, air, start, numbers, bias_group, model_group, shared, lag_doubt, mean, cov
):  # fmt: skip
    """Mean shown and covariance for one member."""
    r = truth.shape[0]
    for i in range(r):
        left = numbers[i, 8]
        now = truth[i]
        lag = 0.0
        if left > 0.0:
            lag = (start[i] - truth[i]) * left
            now = truth[i] + lag
        gap = air[i] - now
        mean[i] = now + numbers[i, 4] * gap
        size = abs(now)
        mi = (numbers[i, 6] ** 2 + (numbers[i, 7] * size) ** 2) ** 0.5
        bi = (numbers[i, 2] ** 2 + (numbers[i, 3] * size) ** 2) ** 0.5
        ki = numbers[i, 5] * gap
        for j in range(i + 1):
            left_j = numbers[j, 8]
            now_j = truth[j] + (start[j] - truth[j]) * left_j
            size_j = abs(now_j)
            value = 0.0
            if bias_group[i] == bias_group[j]:
                bj = (numbers[j, 2] ** 2 + (numbers[j, 3] * size_j) ** 2) ** 0.5
                value += bi * bj + ki * numbers[j, 5] * (air[j] - now_j)
            if model_group[i] == model_group[j]:
                mj = (numbers[j, 6] ** 2 + (numbers[j, 7] * size_j) ** 2) ** 0.5
                value += mi * mj * (1.0 if i == j else shared)
            if i == j:
                value += numbers[i, 0] ** 2 + (numbers[i, 1] * size) ** 2 + (lag_doubt * lag) ** 2
            cov[i, j] = value
            cov[j, i] = value


@kernel
def _log_t(read, mean, cov, degrees, constant):  # type: ignore[no-untyped-def]
    """Log density of the multivariate t by Cholesky in place; also the squared distance."""
    r = read.shape[0]
    log_det = 0.0
    d2 = 0.0
    for i in range(r):
        for j in range(i):
            value = cov[i, j]
            for k in range(j):
                value -= cov[i, k] * cov[j, k]
            cov[i, j] = value / cov[j, j]
        value = cov[i, i]
        for k in range(i):
            value -= cov[i, k] ** 2
        cov[i, i] = max(value, 1e-12) ** 0.5
        log_det += log(cov[i, i])
        x = read[i] - mean[i]
        for k in range(i):
            x -= cov[i, k] * mean[k]
        mean[i] = x / cov[i, i]  # mean becomes the whitened residual
        d2 += mean[i] ** 2
    # Scale so that the covariance, not the t's scale matrix, is the one given.
    shrink = degrees / (degrees - 2.0)
    return (
        constant + 0.5 * r * log(shrink) - log_det
        - 0.5 * (degrees + r) * log(1.0 + d2 * shrink / degrees)
    ), d2  # fmt: skip


@kernel
def _log_many(  # type: ignore[no-untyped-def]
    read, truth, air, start, numbers, bias_group, model_group, shared, lag_doubt, degrees, constant,
    out, distance,
):  # fmt: skip
    r = read.shape[0]
    mean, cov = np.empty(r), np.empty((r, r))
    for i in range(truth.shape[0]):
        bad = False
        for j in range(r):
            if not np.isfinite(truth[i, j]):
                bad = True
        if bad:
            out[i], distance[i] = -1e300, 1e300
            continue
        _moments(
            truth[i], air[i], start[i], numbers, bias_group, model_group, shared, lag_doubt, mean,
            cov,
        )  # fmt: skip
        out[i], distance[i] = _log_t(read, mean, cov, degrees, constant)


def log_likelihood(
    setting: Setup, read: np.ndarray, truth: np.ndarray, air: np.ndarray, start: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Log likelihood and squared distance of the readings for each member.

    Parameters
    ----------
    setting : Setup
        Errors of the readings.
    read : ndarray
        Readings, shape (r,). [SI]
    truth : ndarray
        Members' true values, shape (n, r). [SI]
    air : ndarray
        Air round each spot, equal to truth where none, shape (n, r). [SI]
    start : ndarray
        Where each reading starts from before running in, shape (n, r). [SI]

    Returns
    -------
    tuple of ndarray
        Log density and squared Mahalanobis distance, shape (n,).

    References
    ----------
    .. [1] Lange, Little & Taylor (1989), J. Am. Stat. Assoc. 84, 881.
    """
    n, r = truth.shape
    out, distance = np.zeros(n), np.zeros(n)
    if r == 0:
        return out, distance
    v = setting.degrees
    constant = lgamma(0.5 * (v + r)) - lgamma(0.5 * v) - 0.5 * r * log(v * pi)
    _log_many(
        read, truth, air, start, setting.numbers, setting.bias_group, setting.model_group,
        MODEL_SHARED, LAG_DOUBT, v, constant, out, distance,
    )  # fmt: skip
    return out, distance


def moments(
    setting: Setup, truth: np.ndarray, air: np.ndarray, start: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Mean shown, shape (n, r), and covariance of the readings, shape (n, r, r), per member.

    Parameters
    ----------
    setting : Setup
        Errors of the readings.
    truth, air, start : ndarray
        As in `log_likelihood`. [SI]

    Returns
    -------
    tuple
        Mean (n, r) and covariance (n, r, r). [SI, SI squared]
    """
    n, r = truth.shape
    mean, cov = np.empty((n, r)), np.empty((n, r, r))
    for i in range(n):
        _moments(
            truth[i], air[i], start[i], setting.numbers, setting.bias_group, setting.model_group,
            MODEL_SHARED, LAG_DOUBT, mean[i], cov[i],
        )  # fmt: skip
    return mean, cov


def draw_readings(
    setting: Setup,
    truth: np.ndarray,
    air: np.ndarray,
    start: np.ndarray,
    rng: np.random.Generator,
) -> np.ndarray:
    """Readings a technician would note at one member, drawn from the same error law.

    Parameters
    ----------
    setting : Setup
        Errors of the readings.
    truth, air, start : ndarray
        One member's values, shape (r,). [SI]
    rng : Generator
        Source of randomness.

    Returns
    -------
    ndarray
        Shape (r,). [SI]
    """
    r = truth.shape[0]
    mean, cov = np.empty(r), np.empty((r, r))
    _moments(
        truth, air, start, setting.numbers, setting.bias_group, setting.model_group, MODEL_SHARED,
        LAG_DOUBT, mean, cov,
    )  # fmt: skip
    v = setting.degrees
    scale = np.sqrt((v - 2.0) / v * v / rng.chisquare(v))
    return np.asarray(mean + scale * (np.linalg.cholesky(cov) @ rng.standard_normal(r)))
