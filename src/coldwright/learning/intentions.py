"""What proven jobs teach of a family's intentions: run fraction and evaporating temperature.

A member's score of an intention is z = d + e: d is what the catalogue does not know of the
family's mean, N(0, T), e the spread among members, N(0, 1 - T); with nothing proven z is
standard normal, as the catalogue has it. Readings of a job whose fault is known give z a
normal law N(m, V) under that prior, so they say of z what one measurement y with precision
L = V^-1 - 1 would, L y = V^-1 m. Then y ~ N(d, L^-1 + 1 - T), and with

    W = (1 + (1 - T) L)^-1 L,     precision of d = 1/T + sum W,     mean of d = that^-1 sum W y,

all in two dimensions at once: the conjugate normal-normal rule (Gelman et al., Bayesian Data
Analysis, 3rd ed. 2013, sections 3.5 and 5.4). Refrigerants and kinds are not pooled.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from coldwright.catalogue.families import Family, Level

UNKNOWN_SHARE = 0.3  # T: of a score's variance, not knowing the family's mean; ours
INTENTIONS = ("run_fraction", "evaporating")  # scores of `catalogue.sizing`
_LEAST_TOLD = 1e-6  # eigenvalue of L below which a direction was not told of


@dataclass(frozen=True, slots=True)
class Told:
    """What one job says of its appliance's scores, in the order of `INTENTIONS`."""

    content: str  # `proven.content_of` of the job
    refrigerant: str
    kind: str
    mean: tuple[float, float]
    variance: tuple[tuple[float, float], tuple[float, float]]

    def precision(self) -> tuple[np.ndarray, np.ndarray]:
        """L and L y: never more certain than a prior allows, nothing where nothing was told."""
        own = np.linalg.inv(np.array(self.variance))
        values, vectors = np.linalg.eigh(own - np.eye(2))
        kept = np.where(values > _LEAST_TOLD, values, 0.0)
        told = (vectors * kept) @ vectors.T
        y_weighted = own @ np.array(self.mean)
        # Along a direction that was not told of, the mean is the sample's noise
        seen = (vectors * (kept > 0.0)) @ vectors.T
        return told, seen @ y_weighted


@dataclass(frozen=True, slots=True)
class Shift:
    """A family's intentions after the jobs, in standard deviations of its members."""

    refrigerant: str
    kind: str
    jobs: int
    mean: tuple[float, float]
    sd: tuple[float, float]  # of the mean

    def applied(self, family: Family) -> Family:
        """The family with its intentions moved; spreads narrow by what is known better."""
        moved = {
            "run_fraction": _moved(family.run_fraction, self.mean[0], self.sd[0]),
            "evaporating_k": _moved(family.evaporating_k, self.mean[1], self.sd[1]),
        }
        return replace(family, **moved)  # type: ignore[arg-type]

    @property
    def sentence(self) -> str:
        """What the family's intentions rest on."""
        jobs = "job" if self.jobs == 1 else "jobs"
        run, cold = (f"{abs(m):.1f} {'above' if m > 0 else 'below'}" for m in self.mean)
        return (
            f"Intentions of the family rest on {self.jobs} proven {jobs} of {self.refrigerant} and"
            f" this kind beside the catalogue: run fraction {run}, evaporating temperature {cold}"
            " its mean, in standard deviations."
        )


def shift_of(told: Sequence[Told], refrigerant: str, kind: str) -> Shift:
    """A family's intentions after the jobs of one refrigerant and kind.

    Parameters
    ----------
    told : sequence of Told
        Of any refrigerant and kind; the others are passed over.
    refrigerant : str
        Known by name.
    kind : str
        Kind of appliance.

    Returns
    -------
    Shift
        Mean and standard deviation of the scores, two each. [-]
    """
    mine = [t for t in told if (t.refrigerant, t.kind) == (refrigerant, kind)]
    precision, weighted = np.eye(2) / UNKNOWN_SHARE, np.zeros(2)
    for one in sorted(mine, key=lambda t: t.content):
        known, y = one.precision()
        thin = np.linalg.inv(np.eye(2) + (1.0 - UNKNOWN_SHARE) * known)
        precision += thin @ known
        weighted += thin @ y
    covariance = np.linalg.inv(precision)
    mean = covariance @ weighted
    sd = np.sqrt(np.diag(covariance))
    return Shift(
        refrigerant, kind, len(mine), (float(mean[0]), float(mean[1])), (float(sd[0]), float(sd[1]))
    )


def _moved(level: Level, mean: float, sd: float) -> Level:
    spread = math.sqrt(1.0 - UNKNOWN_SHARE + sd * sd)
    return Level(level.mean + mean * level.sd, spread * level.sd, level.low, level.high)
