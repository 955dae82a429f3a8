"""What a proven job's readings say of its appliance, worked out once and kept on disk.

The appliances are simulated under the proven fault alone, and weighed as in a diagnosis.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

import numpy as np

from coldwright.case.background import Background
from coldwright.case.case import Case
from coldwright.catalogue.sizing import score
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.posterior import Group
from coldwright.errors import BadInput, ColdwrightError
from coldwright.learning.intentions import INTENTIONS, Told
from coldwright.learning.proven import content_of
from coldwright.learning.told_store import MEMBERS, SEED, ToldStore
from coldwright.readings.job import Job

FEWEST_READINGS = 3
ENOUGH = 30.0  # effective members that moments rest on, ours
# A healthy appliance that came because it ran too long or too warm was chosen by its intentions.
_CHOSEN_BY = frozenset(
    {"runs_all_the_time", "both_too_warm", "nothing_cold", "fresh_food_warm_freezer_good",
     "too_cold"}
)  # fmt: skip


def why_silent(job: Job) -> str:
    """Why a proven job says nothing of its family, empty where it may.

    Parameters
    ----------
    job : Job
        The job, read and checked.

    Returns
    -------
    str
        Reason, or empty.
    """
    outcome = job.outcome
    if outcome is None:
        return "no outcome"
    if len(outcome.found) > 1:
        return "two faults"
    if outcome.found[0] == "nothing_wrong" and job.history.complaint in _CHOSEN_BY:
        return "nothing was wrong, and it came for how it runs or cools"
    try:
        if not hypothesis_named(*outcome.found).runs:
            return "it did not run"
    except BadInput:
        return "the odds do not hold its fault"
    return ""


def told_by(job: Job, progress: Callable[[str], None] | None = None) -> Told | str:
    """What a job says of the scores of its family's intentions, or why it says nothing.

    Parameters
    ----------
    job : Job
        With an outcome that counts.
    progress : callable, optional
        Told a line when something takes more than a second.

    Returns
    -------
    Told or str
        Mean and covariance of the scores [-], or the reason.
    """
    reason = why_silent(job)
    if reason or job.outcome is None:
        return reason
    try:
        case = Case(job, Background(SEED, MEMBERS, only=(job.outcome.found,)), progress)
        if len(case.evidence.keys) < FEWEST_READINGS:
            return f"fewer than {FEWEST_READINGS} readings of the running machine"
        posterior = case.weighed
    except ColdwrightError as error:
        return str(error)

    def scores(group: Group) -> np.ndarray:
        z = group.population.scores
        return np.column_stack([score(z, name) for name in INTENTIONS])

    z, w = posterior.members_of(job.outcome.found, scores)
    effective = 0.0 if w.size == 0 else 1.0 / float(w @ w)
    if effective < ENOUGH:
        return "hardly any simulated appliance agrees with its readings"
    mean = w @ z
    # What the draw itself leaves unknown of the mean is added: few members, little said.
    spread = (z - mean).T @ ((z - mean) * w[:, None]) * (1.0 + 1.0 / effective)
    (a, b), (c, d) = spread.tolist()
    return Told(
        content_of(job), job.plate.refrigerant, job.plate.kind,
        (float(mean[0]), float(mean[1])), ((a, b), (c, d)),
    )  # fmt: skip


def work_out(
    jobs: Iterable[Job], progress: Callable[[str], None] | None = None
) -> tuple[tuple[str, str], ...]:
    """Keep what the jobs tell where it is not known yet; which say nothing, with the reason.

    Parameters
    ----------
    jobs : iterable of Job
        With outcomes that count.
    progress : callable, optional
        Told a line for each job that has to be simulated.

    Returns
    -------
    tuple
        File and reason of those that say nothing.
    """
    store, silent = ToldStore(), []
    for job in jobs:
        found = store.known(job)
        if found is None:
            if progress is not None:
                progress(f"reading what {job.source} says of its family")
            found = told_by(job, progress)
            store.keep(job, found)
        if isinstance(found, str):
            silent.append((job.source, found))
    return tuple(silent)
