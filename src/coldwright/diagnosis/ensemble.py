"""The ensemble of one appliance: drawn once, weighed again at every new reading."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from coldwright.catalogue.instruments import Instrument
from coldwright.catalogue.signs import SIGN_MODELS
from coldwright.catalogue.sizing import DIMENSIONS, SCORES
from coldwright.cycle.medium import Medium, medium
from coldwright.diagnosis.findings import NO_FINDINGS, FindingEvidence
from coldwright.diagnosis.hypotheses import Hypothesis
from coldwright.diagnosis.likelihood import Setup, log_likelihood, setup
from coldwright.diagnosis.population import Population, all_faults, members_for, simulate
from coldwright.diagnosis.predict import COLUMNS, STARTS_AT_FREEZER, STARTS_AT_ROOM, sign_chance
from coldwright.diagnosis.subject import Subject
from coldwright.electrical.evidence import NONE_READ, ElectricalEvidence
from coldwright.faults.record import Together
from coldwright.stopping import time_is_up

MEMBERS = 10_000  # of all faults together
RARE = 0.5  # members of a rare fault or a pair, against those of a common one, ours
LEAST = 24
OWN_SCORES = tuple(SCORES.index(name) for name in ("severity", "which", "second"))


@dataclass(frozen=True, slots=True)
class Evidence:
    """Readings and signs in the form the weights need."""

    keys: tuple[str, ...]
    values: np.ndarray  # SI
    stated_sd: np.ndarray  # NaN where the instrument's own
    instruments: tuple[Instrument, ...]
    signs: tuple[tuple[str, bool], ...]
    running_s: float
    electrical: ElectricalEvidence = NONE_READ  # depends on the fault alone
    findings: FindingEvidence = NO_FINDINGS  # likewise, and on its way

    def without(self, key: str) -> Evidence:
        """The same evidence with one reading or sign left out."""
        keep = [i for i, k in enumerate(self.keys) if k != key]
        findings = self.findings.without(key)
        electrical = self.electrical.without(key)
        if findings is not self.findings:
            electrical = replace(electrical, seen=findings.state_logs())
        return Evidence(
            tuple(self.keys[i] for i in keep),
            self.values[keep],
            self.stated_sd[keep],
            tuple(self.instruments[i] for i in keep),
            tuple(s for s in self.signs if s[0] != key),
            self.running_s,
            electrical,
            findings,
        )

    def asked(self) -> frozenset[str]:
        """Identifiers of all signs and findings answered."""
        return frozenset({*(s for s, _ in self.signs), *self.findings.keys})

    def setting(self) -> Setup:
        """Errors of the readings for the likelihood kernel."""
        return setup(self.instruments, self.stated_sd, self.running_s)


@dataclass(frozen=True, slots=True)
class Block:
    """Populations of one candidate refrigerant, one per fault."""

    refrigerant: str
    share: float
    med: Medium
    populations: tuple[Population, ...]
    columns: dict[tuple[Together, str], np.ndarray] = field(default_factory=dict)

    def column(self, population: Population, key: str, volts: float) -> np.ndarray:
        """True values of one reading for one population, worked out once."""
        place = (population.faults, key)
        if place not in self.columns:
            values = COLUMNS[key](population, self.med, volts)
            self.columns[place] = np.ascontiguousarray(values, dtype=np.float64)
        return self.columns[place]

    def chance(self, population: Population, sign: str) -> np.ndarray:
        """Probability of a sign's report for one population's members, worked out once."""
        place = (population.faults, sign)
        if place not in self.columns:
            self.columns[place] = sign_chance(sign, population)
        return self.columns[place]


@dataclass(frozen=True, slots=True)
class Ensemble:
    """All blocks of one appliance."""

    subject: Subject
    blocks: tuple[Block, ...]

    @property
    def members(self) -> int:
        """Number of simulated appliances."""
        return sum(p.states.shape[0] for b in self.blocks for p in b.populations)

    @property
    def unsolved(self) -> int:
        """Members without a solution; they carry no weight."""
        return sum(p.unsolved for b in self.blocks for p in b.populations)


def share_of(fault: Hypothesis) -> float:
    """Members of a fault against those of a common one; more are drawn near the evidence. [-]

    Parameters
    ----------
    fault : Hypothesis
        One fault or two at once.

    Returns
    -------
    float
        1 for a common fault, `RARE` for a rare one. [-]
    """
    return RARE if fault.rare else 1.0


def build(
    subject: Subject,
    rng: np.random.Generator,
    members: int = MEMBERS,
    progress: Callable[[str], None] | None = None,
    only: tuple[Together, ...] = (),
) -> Ensemble:
    """Draw and simulate the ensemble.

    Healthy members are drawn once and every fault is put on each of them: the odds
    compare like with like, and the sizing is paid for once.

    Parameters
    ----------
    subject : Subject
        Appliance and visit.
    rng : Generator
        Source of randomness.
    members : int
        Members of all faults together. [-]
    progress : callable, optional
        Told a line when a slow step starts.
    only : tuple of tuple of str
        Hypotheses wanted; all where empty.

    Returns
    -------
    Ensemble
        One block for each refrigerant that may be in it.
    """
    faults = all_faults(only)
    blocks = []
    for name, share in subject.refrigerants:
        med = medium(name, progress=progress)
        count = max(round(members * share / sum(share_of(h) for h in faults)), LEAST)
        few = max(round(RARE * count), LEAST)
        if progress is not None:
            every = sum(few if share_of(h) < 1.0 else count for h in faults)
            progress(f"simulating {every} appliances with {name}")
        z = rng.standard_normal((count, DIMENSIONS))
        sized = members_for(med, subject, z)
        populations = []
        for fault in faults:
            time_is_up()  # called off? Half an ensemble tells no odds, so time alone is no reason
            # Same appliances, own severities
            own = z.copy()
            for column in OWN_SCORES:
                own[:, column] = rng.standard_normal(count)
            if share_of(fault) < 1.0:
                own, these = own[:few], sized.first(few)
            else:
                these = sized
            populations.append(simulate(med, subject, fault, own, these, refrigerant=name))
        blocks.append(Block(name, share, med, tuple(populations)))
    return Ensemble(subject, tuple(blocks))


def log_weights(
    block: Block, population: Population, evidence: Evidence, volts: float
) -> tuple[np.ndarray, np.ndarray]:
    """Log likelihood of the evidence and squared distance of the readings, per member.

    Parameters
    ----------
    block : Block
        Members of one hypothesis as the ensemble holds them.
    population : Population
        Members of one hypothesis.
    evidence : Evidence
        What was read, seen and told.
    volts : float
        Supply voltage. [V]

    Returns
    -------
    tuple
        Log likelihood [-] and squared distance [-], shape (n,) each; -inf where no state was found.
    """
    truth = truth_of(block, population, evidence, volts)
    air, start = surroundings_of(population, evidence.instruments, evidence.keys, truth)
    log_l, distance = log_likelihood(evidence.setting(), evidence.values, truth, air, start)
    for sign, seen in evidence.signs:
        if sign not in SIGN_MODELS:
            continue
        p = block.chance(population, sign)
        p = np.clip(p, 1e-4, 1.0 - 1e-4)
        log_l = log_l + np.log(p if seen else 1.0 - p)
    # A member for which a reading has no value cannot have shown it
    return np.where(population.solved & ~np.isnan(log_l), log_l, -np.inf), distance


def truth_of(block: Block, population: Population, evidence: Evidence, volts: float) -> np.ndarray:
    """True values of the evidence's readings for each member, shape (n, r). [SI]

    Parameters
    ----------
    block : Block
        Members of one hypothesis as the ensemble holds them.
    population : Population
        Members of one hypothesis.
    evidence : Evidence
        What was read, seen and told.
    volts : float
        Supply voltage. [V]

    Returns
    -------
    ndarray
        Shape (n, r), readings in the order of the evidence. [SI]
    """
    truth = np.empty((population.states.shape[0], len(evidence.keys)))
    for j, key in enumerate(evidence.keys):
        truth[:, j] = block.column(population, key, volts)
    return truth


def surroundings_of(
    population: Population,
    instruments: Sequence[Instrument],
    keys: Sequence[str],
    truth: np.ndarray,
) -> tuple[np.ndarray, np.ndarray]:
    """Air round each spot and where each reading starts from, shapes as `truth`.

    Parameters
    ----------
    population : Population
        Members of one hypothesis.
    instruments : sequence of Instrument
        One per reading.
    keys : sequence of str
        Reading identifiers, one per instrument.
    truth : ndarray
        True values, shape (n, r). [SI]

    Returns
    -------
    tuple
        Air and start, shape (n, r) each. [SI]
    """
    air, start = truth.copy(), truth.copy()
    for j, (key, instrument) in enumerate(zip(keys, instruments, strict=True)):
        if instrument.air == "room":
            air[:, j] = population.room_k
        elif instrument.air == "freezer":
            air[:, j] = population.states["freezer_k"]
        if key in STARTS_AT_ROOM:
            start[:, j] = population.room_k
        elif key in STARTS_AT_FREEZER:
            start[:, j] = population.states["freezer_k"]
    return air, start
