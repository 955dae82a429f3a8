"""Shares of faults from found faults: Dirichlet prior, complaint and history divided out.

A job with complaint and history c shows fault f with probability
s_f c_f / sum_h(s_h c_h), where c are the factors of `catalogue.priors`. With shares
s = lambda / sum(lambda), lambda_f ~ Gamma(A m_f, 1) (a Dirichlet of mean m worth A jobs), the
log posterior in ln(lambda) is concave: its one peak is where

    s_f = (A m_f + n_f) / (A + e_f),   e_f = sum over jobs of c_f / sum_h(s_h c_h).

e_f counts the jobs as far as their complaints call for the fault. With equal factors e_f = N
and this is the Dirichlet-multinomial posterior mean, exactly [1]_; else it is the peak in
ln(lambda), reached by the ascent of [2]_, [3]_.

References
----------
.. [1] Gelman et al., Bayesian Data Analysis, 3rd ed., CRC 2013, section 3.4.
.. [2] Hunter (2004), Ann. Stat. 32, 384 (ascent for such likelihoods).
.. [3] Caron & Doucet (2012), J. Comput. Graph. Stat. 21, 174 (Gamma priors, the same augmented).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.stats import beta

from coldwright.errors import NotSolved, require

_STEPS = 20_000
_SAME = 1e-12  # change of a share per step at which the ascent ends [-]
INTERVAL = (0.05, 0.95)  # probabilities of the ends told


@dataclass(frozen=True, slots=True)
class Shares:
    """Shares of faults, in the order they were given."""

    mean: np.ndarray  # sums to one
    worth: np.ndarray  # jobs each share rests on, prior's included
    exposure: np.ndarray  # e_f: jobs as far as their complaints call for the fault
    found: np.ndarray  # n_f

    def interval(self, ends: tuple[float, float] = INTERVAL) -> tuple[np.ndarray, np.ndarray]:
        """Ends of the interval of each share: a Beta law of its mean and worth.

        Parameters
        ----------
        ends : tuple of float
            Probabilities below the ends. [-]
        """
        a, b = self.worth * self.mean, self.worth * (1.0 - self.mean)
        return np.asarray(beta.ppf(ends[0], a, b)), np.asarray(beta.ppf(ends[1], a, b))


def updated(prior: np.ndarray, worth: float, found: np.ndarray, factors: np.ndarray) -> Shares:
    """Shares after jobs with known faults.

    Parameters
    ----------
    prior : ndarray
        Shares before, all above zero, shape (m,); they need not sum to one. [-]
    worth : float
        Jobs the shares before are worth, above 0. [-]
    found : ndarray
        Share of each job that goes to each fault, rows sum to one, shape (n, m): one fault, or
        half of each of a pair. [-]
    factors : ndarray
        Complaint and history factors of each job, above zero, shape (n, m). [-]

    Returns
    -------
    Shares
        After the jobs.

    Raises
    ------
    OutOfRange
        If the worth is not above zero, or a share before or a factor is not.
    NotSolved
        If the ascent does not end.
    """
    require("worth of the shares before", worth, "jobs", 1e-6, 1e9)
    m = np.asarray(prior, dtype=float) / np.sum(prior)
    require("least share before", float(np.min(m)), "-", 1e-12, 1.0)
    c = np.asarray(factors, dtype=float).reshape(-1, m.size)
    n = np.asarray(found, dtype=float).reshape(-1, m.size).sum(axis=0)
    if c.size:
        require("least factor", float(np.min(c)), "-", 1e-12, np.inf)
        c = c / c.max(axis=1, keepdims=True)
    alpha = worth * m + n
    s = alpha / alpha.sum()
    for _ in range(_STEPS):
        exposure = (c / (c @ s)[:, None]).sum(axis=0)
        new = alpha / (worth + exposure)
        new /= new.sum()
        change = float(np.max(np.abs(new - s)))
        s = new
        if change < _SAME:
            return Shares(s, _worth(s, alpha, c), exposure, n)
    raise NotSolved("shares of the faults", tuple(s), change)


def _worth(s: np.ndarray, alpha: np.ndarray, c: np.ndarray) -> np.ndarray:
    """Jobs behind each share, from the curvature at the peak; alpha's sum for equal factors.

    Curvature in ln(lambda): diag(alpha) - sum of p p^T over jobs, p_f = s_f c_f / sum(s c);
    ln(s) = ln(lambda) - ln(sum(lambda)); a Beta law of that spread has worth (1 - s) / (s var).
    """
    p = s * c / (c @ s)[:, None]
    spread = np.linalg.inv(np.diag(alpha) - p.T @ p)
    turn = np.eye(s.size) - s[None, :]
    variance = np.einsum("ij,jk,ik->i", turn, spread, turn)
    return np.asarray((1.0 - s) / (s * variance))
