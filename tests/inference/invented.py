"""Invented populations with known answers: no appliance is simulated here."""

from __future__ import annotations

import numpy as np

from coldwright.catalogue.families import family_of
from coldwright.catalogue.instruments import Instrument, instruments
from coldwright.catalogue.sizing import DIMENSIONS, Known
from coldwright.circuit.vector import CIRCUIT
from coldwright.cycle.medium import Medium
from coldwright.cycle.state import STATE
from coldwright.diagnosis.ensemble import Block, Ensemble, Evidence
from coldwright.diagnosis.population import Population
from coldwright.diagnosis.posterior import Group, Posterior, odds_of
from coldwright.diagnosis.subject import Subject

NAN = float("nan")
ROOM_K, FREEZER_K = 298.15, 255.15
TOOLS: dict[str, Instrument] = dict(instruments())


def population(fault: str, scores: np.ndarray, solved: np.ndarray | None = None) -> Population:
    """Members that carry scores and an ordinary state."""
    n = scores.shape[0]
    states = np.zeros(n, STATE)
    for name in STATE.names or ():
        if name.endswith("_k") and not name.startswith(("superheat", "subcooling")):
            states[name] = ROOM_K
    states["freezer_k"] = FREEZER_K
    return Population(
        (fault,), scores, np.full(n, 0.5), np.zeros(n, CIRCUIT), states, np.full(n, ROOM_K),
        np.zeros(n), np.ones(n, bool) if solved is None else solved, 0, np.zeros(n),
        float(n if solved is None else solved.sum()),
    )  # fmt: skip


def subject(prior: dict[str, float], settled: bool = True) -> Subject:
    """An appliance nobody looks at closely."""
    known = Known(
        family_of("top_mount"), 2004.0, NAN, NAN, NAN, NAN, NAN, 60.0, None, None
    )  # fmt: skip
    return Subject(
        known, (("R134a", 1.0),), ROOM_K, NAN, NAN, settled, 120.0, float("inf"),
        tuple(((fault,), p) for fault, p in prior.items()), (),
    )  # fmt: skip


def ensemble(med: Medium, truth: dict[str, dict[str, np.ndarray]]) -> Ensemble:
    """Populations whose readings are given: fault -> reading -> true value per member."""
    populations, columns = [], {}
    for fault, values in truth.items():
        n = next(iter(values.values())).shape[0]
        populations.append(population(fault, np.zeros((n, DIMENSIONS))))
        columns |= {((fault,), key): np.asarray(v, float) for key, v in values.items()}
    share = 1.0 / len(truth)
    block = Block("R134a", 1.0, med, tuple(populations), columns)
    return Ensemble(subject(dict.fromkeys(truth, share)), (block,))


def evidence(readings: dict[str, float]) -> Evidence:
    """Readings by their usual instruments, long after the start."""
    return Evidence(
        tuple(readings), np.array(list(readings.values())), np.full(len(readings), NAN),
        tuple(TOOLS[k] for k in readings), (), float("inf"),
    )  # fmt: skip


def even(made: Ensemble, seen: Evidence) -> Posterior:
    """A posterior in which every member of every fault weighs the same."""
    groups = tuple(
        Group(b, p, np.zeros(p.states.shape[0]), np.zeros(p.states.shape[0]), 0.0)
        for b in made.blocks
        for p in b.populations
    )
    return Posterior(made, seen, groups, odds_of(groups))
