"""Drawing members near the evidence where too few of the prior's carry weight.

Adaptive multiple importance sampling (Cornuet et al. 2012, Scand. J. Stat. 39,
798) within one fault. Each round fits what the instruments would show as a
linear function of the scores, near the evidence; the posterior of that linear
model (Kalman 1960, J. Basic Eng. 82, 35) is the next round's proposal. Every
member drawn so far, the prior's own included, is weighed against the mixture of
all laws it could have come from (Owen & Zhou 2000, J. Am. Stat. Assoc. 95,
135), so the odds stay those of the model whatever the linear fit is worth.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from coldwright.diagnosis.population import Law, Population
from coldwright.stopping import time_is_up

ROUNDS = 3
MORE_ROUNDS = 6  # where members are still scarce
SCARCE = 25.0  # effective members, ours
FEWEST = 20  # members a fit can be made from, ours
NEIGHBOURS = 120.0  # effective members a linear fit rests on: some three per score, ours
RIDGES = (0.003, 0.01, 0.03, 0.1, 0.3, 1.0, 3.0)  # tried by generalised cross-validation
WIDENING = 0.1  # of what the fit claims to know, taken back: its tails are too light, ours

Simulate = Callable[[np.ndarray], Population]


@dataclass(frozen=True, slots=True)
class Judged:
    """What the evidence makes of a population."""

    log_target: np.ndarray  # log likelihood, plate included, -inf where unsolved, (n,)
    shown: np.ndarray  # what the instruments would show on average, (n, r)


Judge = Callable[[Population], Judged]


@dataclass(frozen=True, slots=True)
class Normal:
    """A normal law of the scores."""

    mean: np.ndarray  # (d,)
    root: np.ndarray  # Cholesky factor of the covariance, (d, d)

    def draw(self, count: int, rng: np.random.Generator) -> np.ndarray:
        """Scores, shape (count, d)."""
        return np.asarray(self.mean + rng.standard_normal((count, len(self.mean))) @ self.root.T)

    def log_over_prior(self, z: np.ndarray) -> np.ndarray:
        """ln of this law's density over the standard normal's, shape (n,)."""
        white = np.linalg.solve(self.root, (z - self.mean).T)
        log_det = np.sum(np.log(np.diag(self.root)))
        return np.asarray(
            0.5 * np.sum(z * z, axis=1) - 0.5 * np.sum(white * white, axis=0) - log_det
        )


def effective(log_w: np.ndarray) -> float:
    """Effective number of members of unnormalised log weights (Kong 1992).

    Parameters
    ----------
    log_w : ndarray
        Log weights, shape (n,), up to a constant. [-]

    Returns
    -------
    float
        Between 0 and the number of members. [-]

    Examples
    --------
    >>> effective(np.zeros(4))
    4.0
    """
    top = np.max(log_w)
    if not np.isfinite(top):
        return 0.0
    w = np.exp(log_w - top)
    return float(w.sum() ** 2 / np.square(w).sum())


def linear_posterior(
    z: np.ndarray, w: np.ndarray, shown: np.ndarray, read: np.ndarray, noise: np.ndarray
) -> Normal:
    """Posterior of the scores if `shown` were linear in them about the weighted members.

    Parameters
    ----------
    z : ndarray
        Scores, shape (n, d). [-]
    w : ndarray
        Weights that sum to one, shape (n,). [-]
    shown : ndarray
        What the instruments would show, shape (n, r). [SI]
    read : ndarray
        What they showed, shape (r,). [SI]
    noise : ndarray
        Covariance of a reading about `shown`, shape (r, r). [SI]

    Returns
    -------
    Normal
        Mean (d,) and Cholesky factor (d, d) of the scores. [-]

    References
    ----------
    .. [1] Golub, Heath & Wahba (1979), Technometrics 21, 215 (choice of the ridge).
    .. [2] Kalman (1960), J. Basic Eng. 82, 35 (update with prior N(0, 1)).
    """
    count = 1.0 / float(np.sum(w * w))
    root = np.linalg.cholesky(noise)
    x = np.linalg.solve(root, shown.T).T
    y = np.linalg.solve(root, read)
    z0, x0 = w @ z, w @ x
    s = np.sqrt(w)[:, None]
    dz, dx = s * (z - z0), s * (x - x0)
    # Ridge for several strengths from one eigendecomposition of the small Gram matrix.
    scale, axes = np.linalg.eigh(dz.T @ dz)
    scale = np.maximum(scale, 0.0)
    along = axes.T @ (dz.T @ dx)
    best, chosen = np.inf, None
    for ridge in RIDGES:
        free = 1.0 - min(float(np.sum(scale / (scale + ridge))) / count, 0.95)
        slope = axes @ (along / (scale + ridge)[:, None])
        left = dx - dz @ slope
        score = float(np.sum(left * left)) / free**2
        if score < best:
            best, chosen = score, (slope.T, left.T @ left / free)
    assert chosen is not None
    slope, unexplained = chosen
    spread = slope @ slope.T + unexplained + np.eye(len(y))
    gain = np.linalg.solve(spread, slope).T
    mean = gain @ (y - x0 + slope @ z0)
    known = (1.0 - WIDENING) * gain @ slope
    cov = np.eye(z.shape[1]) - 0.5 * (known + known.T)
    return Normal(mean, np.linalg.cholesky(cov))


def draw_nearer(
    start: Population,
    simulate: Simulate,
    judge: Judge,
    read: np.ndarray,
    noise_at: Callable[[Population, int], np.ndarray],
    rng: np.random.Generator,
    count: int,
    enough: float,
) -> Population:
    """Add members near the evidence, round by round, until enough carry weight.

    Parameters
    ----------
    start : Population
        Members drawn before, at least some from the prior.
    simulate : callable
        Scores to a solved population.
    judge : callable
        Population to `Judged`.
    read : ndarray
        Readings, shape (r,). [SI]
    noise_at : callable
        Covariance of the readings at one member of a population, shape (r, r). [SI]
    rng : Generator
        Source of randomness.
    count : int
        Members drawn in a round. [-]
    enough : float
        Effective members at which no further round is drawn. [-]

    Returns
    -------
    Population
        The start with the members added.
    """
    population, judged = start, judge(start)
    for k in range(MORE_ROUNDS):
        if k and time_is_up():
            break
        if effective(judged.log_target + population.log_base) >= (enough if k < ROUNDS else SCARCE):
            break
        good = np.isfinite(judged.log_target) & np.all(np.isfinite(judged.shown), axis=1)
        if int(good.sum()) < FEWEST:
            break
        warm = np.where(good, tempered(population.log_base, judged.log_target, good), 0.0)
        law = linear_posterior(
            population.scores[good], warm[good] / warm[good].sum(), judged.shown[good], read,
            noise_at(population, int(np.argmax(warm))),
        )  # fmt: skip
        fresh = simulate(law.draw(count, rng))
        more = judge(fresh)
        population = joined(population, fresh, law)
        judged = Judged(
            np.concatenate([judged.log_target, more.log_target]),
            np.concatenate([judged.shown, more.shown]),
        )
    return population


def tempered(
    log_base: np.ndarray, log_l: np.ndarray, good: np.ndarray, least: float = NEIGHBOURS
) -> np.ndarray:
    """Weights base * L^g with the largest exponent g <= 1 that keeps `least` effective.

    Parameters
    ----------
    log_base : ndarray
        Logarithm of the weights that make members stand for the prior, shape (n,). [-]
    log_l : ndarray
        Log likelihood, shape (n,). [-]
    good : ndarray
        Members to weigh, the others get none, bool, shape (n,).
    least : float
        Effective members to keep. [-]

    Returns
    -------
    ndarray
        Shape (n,), they sum to one. [-]
    """
    rest = np.where(good, log_l, -np.inf)
    rest = np.where(good, np.maximum(rest - rest.max(), -1e6), -1e9)
    low, high = 0.0, 1.0
    if effective(log_base + rest) >= least:
        low = 1.0
    else:
        for _ in range(40):
            middle = 0.5 * (low + high)
            if effective(np.where(good, log_base + middle * rest, -1e9)) >= least:
                low = middle
            else:
                high = middle
    logs = np.where(good, log_base + low * rest, -1e9)
    w = np.exp(logs - logs.max())
    return np.asarray(w / w.sum())


def joined(a: Population, b: Population, law: Law) -> Population:
    """Members of `a`, then those of `b` drawn from `law`, each weighed against the mixture.

    Parameters
    ----------
    a : Population
        First members.
    b : Population
        Members drawn from `law`.
    law : Law
        Distribution that `b` was drawn from.

    Returns
    -------
    Population
        Both together, log weights set anew.
    """
    laws = (*a.laws, (law, b.scores.shape[0]))
    scores = np.concatenate([a.scores, b.scores])
    n, beside = scores.shape[0], sum(k for _, k in laws)
    parts = [np.full(n, np.log((n - beside) / n))]
    parts += [np.log(k / n) + one.log_over_prior(scores) for one, k in laws]
    first = a.scores.shape[0] - sum(k for _, k in a.laws)  # those the prior drew
    buildable = max(float(np.sum(a.solved[:first])), 1.0) / first
    return Population(
        a.faults,
        scores,
        np.concatenate([a.severity, b.severity]),
        np.concatenate([a.circuits, b.circuits]),
        np.concatenate([a.states, b.states]),
        np.concatenate([a.room_k, b.room_k]),
        np.concatenate([a.log_plate, b.log_plate]),
        np.concatenate([a.solved, b.solved]),
        a.unsolved + b.unsolved,
        -np.logaddexp.reduce(np.array(parts), axis=0),
        n * buildable,
        laws,
        _both(a.second, b.second),
        _both(a.way, b.way),
        _flags(a, b),
        b.mistaken if a.mistaken is None else a.mistaken,
        a.standing_cold_k,
    )


def _both(a: np.ndarray | None, b: np.ndarray | None) -> np.ndarray | None:
    return None if a is None or b is None else np.concatenate([a, b])


def _flags(a: Population, b: Population) -> np.ndarray | None:
    if a.alien is None and b.alien is None:
        return None
    parts = [np.zeros(p.states.shape[0], bool) if p.alien is None else p.alien for p in (a, b)]
    return np.concatenate(parts)
