"""Healthy appliances that fit the job: what changed circuits are tried on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from coldwright.case.case import Case
from coldwright.catalogue.sizing import DIMENSIONS, Known, Members, size_members
from coldwright.cycle.medium import Medium, medium
from coldwright.diagnosis.population import members_for
from coldwright.diagnosis.posterior import Group, Posterior
from coldwright.diagnosis.subject import Subject
from coldwright.errors import Refused
from coldwright.faults.record import Together
from coldwright.repair.simulated import HOURS_PER_YEAR, LEAST_SOLVED, Herd, mean_power, run, taken

HERD = 64  # members that stand for the appliance; judgement of ours
TOO_FEW = "Too few members of the family could be sized: nothing is simulated."


@dataclass(frozen=True, slots=True)
class Found:
    """The herd, where it came from, and what had to be assumed. None where not modelled."""

    herd: Herd | None
    subject: Subject | None
    posterior: Posterior | None
    notes: tuple[str, ...]


def herd_of(case: Case) -> Found:
    """Healthy appliances that fit the job.

    A layout that is not modelled yet is taken as plain, its loops counted as condenser, and
    its readings are then not used; what is not modelled at all gives no herd.

    Parameters
    ----------
    case : Case
        Job and background; the herd is drawn from the posterior that its odds are told by.

    Returns
    -------
    Found
        `HERD` members, what they were drawn from, and notes.
    """
    job, rng = case.job, np.random.default_rng(case.background.seed + 1)
    try:
        subject, posterior = case.subject, case.weighed
    except Refused as refused:
        plain = replace(job, circuit=replace(job.circuit, layout="plain"))
        try:
            subject = Case(plain, case.background).subject
            return _by_plate(subject, job.circuit.layout, rng, case.progress)
        except Refused:
            return Found(None, None, None, (f"Not simulated: {refused.reason}.",))
    logs = {b.refrigerant: -np.inf for b in posterior.ensemble.blocks}
    for g in posterior.groups:
        logs[g.block.refrigerant] = np.logaddexp(logs[g.block.refrigerant], g.log_evidence)
    likely = max(logs, key=lambda name: logs[name])
    groups = [g for g in posterior.groups if g.block.refrigerant == likely]
    med = groups[0].block.med
    herd = _herd(med, members_for(med, subject, _drawn(groups, rng, HERD)), None, subject, rng)
    return Found(herd, subject, posterior, () if herd else (TOO_FEW,))


def _by_plate(
    subject: Subject,
    layout: str | None,
    rng: np.random.Generator,
    progress: Callable[[str], None] | None,
) -> Found:
    """Members weighed by the plate alone, for a layout whose readings cannot be weighed."""
    notes = (
        f"The layout {layout} is simulated as a plain one, its loops counted as part of the "
        "condenser; readings are not used for that.",
    )
    name = max(subject.refrigerants, key=lambda pair: pair[1])[0]
    med = medium(name, progress=progress)
    sized = members_for(med, subject, rng.standard_normal((4 * HERD, DIMENSIONS)))
    herd = _herd(med, sized, HERD, subject, rng)
    return Found(herd, subject, None, notes if herd else (*notes, TOO_FEW))


def _herd(
    med: Medium, sized: Members, drawn: int | None, subject: Subject, rng: np.random.Generator
) -> Herd | None:
    """Members that were sized; with `drawn` so many of them by their weight against the plate."""
    good = np.flatnonzero(sized.good)
    if good.size < LEAST_SOLVED:
        return None
    if drawn is not None:
        weight = np.exp(sized.log_weight[good] - np.max(sized.log_weight[good]))
        good = rng.choice(good, size=drawn, p=weight / weight.sum())
    return Herd(med, taken(sized, good), subject.supply_v)


def new_like_it(
    known: Known, this_year: int, room: float, supply_v: float, seed: int
) -> np.ndarray:
    """Energy a year of new appliances of that kind and size, by the same model. [kWh]

    Parameters
    ----------
    known : Known
        The old one: kind, volumes, frequency.
    this_year : int
        Year the new one is made. [a]
    room : float
        Mean temperature where it will stand. [K]
    supply_v : float
        Supply. [V]
    seed : int
        Of the draws. [-]

    Returns
    -------
    ndarray
        Shape (k,), those that have a state. [kWh]
    """
    fresh = replace(
        known, year=float(this_year), charge_kg=np.nan, displacement_m3=np.nan,
        plate_power_w=np.nan, condenser=None, evaporator=None,
    )  # fmt: skip
    med = medium("R600a")  # what new ones of this trade are filled with
    z = np.random.default_rng(seed).standard_normal((HERD, DIMENSIONS))
    sized = size_members(med, fresh, z)
    herd = Herd(med, taken(sized, np.flatnonzero(sized.good)), supply_v)
    energy = mean_power(herd.members.circuits, run(herd, herd.members.circuits, room))
    return np.asarray(energy[np.isfinite(energy)] * HOURS_PER_YEAR / 1000.0)


def severities(
    posterior: Posterior, faults: Together, count: int, rng: np.random.Generator
) -> np.ndarray:
    """Severities of a hypothesis' first fault drawn from the posterior; NaN where it has none.

    Parameters
    ----------
    posterior : Posterior
        Weighed.
    faults : tuple of str
        A hypothesis.
    count : int
        How many. [-]
    rng : Generator
        Source of randomness.

    Returns
    -------
    ndarray
        Shape (count,), in the fault's own unit.
    """
    values, weights = posterior.members_of(faults, lambda g: g.population.severity)
    if values.size == 0:
        return np.full(count, np.nan)
    return np.asarray(values[rng.choice(values.size, size=count, p=weights)])


def _drawn(groups: list[Group], rng: np.random.Generator, count: int) -> np.ndarray:
    logs = np.array([g.log_evidence for g in groups])
    share = np.exp(logs - np.max(logs))
    numbers = rng.multinomial(count, share / share.sum())
    rows = [
        g.population.scores[rng.choice(g.weights.shape[0], size=k, p=g.weights)]
        for g, k in zip(groups, numbers, strict=True)
        if k
    ]
    return np.concatenate(rows)
