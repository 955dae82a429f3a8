"""Odds told before everything was drawn: how far they may move."""

from __future__ import annotations

import numpy as np

from coldwright.diagnosis.posterior import EVIDENCE_POWER, Posterior
from coldwright.diagnosis.sampler import effective

SPREAD = 2.0  # standard errors told


def may_move(posterior: Posterior) -> tuple[float, float]:
    """Bounds of the leading hypothesis' odds if many more members were drawn. [-]

    The mean likelihood of a hypothesis over n effective members has a relative standard
    error near n**-0.5 (importance sampling, Kong 1992); it enters the odds by its power.

    Parameters
    ----------
    posterior : Posterior
        Weighed.

    Returns
    -------
    tuple
        Low and high. [-]
    """
    leader = max(posterior.odds, key=lambda f: posterior.odds[f])
    variance = 0.0
    for mine in (True, False):
        groups = [
            g for g in posterior.groups
            if (g.population.faults == leader) is mine and np.isfinite(g.log_evidence)
        ]  # fmt: skip
        if groups:
            top = max(groups, key=lambda g: g.log_evidence)
            variance += 1.0 / max(effective(top.log_w), 1.0)
    p = min(max(posterior.odds[leader], 1e-9), 1.0 - 1e-9)
    middle, spread = np.log(p / (1.0 - p)), SPREAD * EVIDENCE_POWER * np.sqrt(variance)
    low, high = (1.0 / (1.0 + np.exp(-(middle + s))) for s in (-spread, spread))
    return float(low), float(high)


def so_far(posterior: Posterior) -> tuple[str, ...]:
    """The note on odds that were told before all was drawn; none where all was.

    Parameters
    ----------
    posterior : Posterior
        Weighed.

    Returns
    -------
    tuple of str
        One sentence at most.
    """
    if not posterior.stopped:
        return ()
    low, high = may_move(posterior)
    return (
        f"The time was up before all members were drawn: these are the odds so far. The leading"
        f" one may still move to between {low:.0%} and {high:.0%}.",
    )
