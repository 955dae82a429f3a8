"""Electrical readings as evidence: for and against a stopped compressor, and why it stopped.

P(readings | kind) = sum over the kind's states of share x product over parts of
sum over outcomes of P(outcome | state) p(reading | outcome). Parts are taken as
independent given the state.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from coldwright.catalogue.part_states import SAID, SOUND, STATES, PartState
from coldwright.electrical.limits import verdict
from coldwright.electrical.meters import Held, Meters
from coldwright.electrical.outcomes import RULES, Densities
from coldwright.faults.compressor import COMPRESSOR_NOT_RUNNING
from coldwright.faults.record import Together

NOT_RUNNING = COMPRESSOR_NOT_RUNNING.identifier
STANDING_STILL: Together = (NOT_RUNNING,)
# Reading identifiers and the part each speaks of; the first names the part's reason.
READINGS_OF: Mapping[str, tuple[str, ...]] = {
    "windings": (
        "winding_resistance_run",
        "winding_resistance_start",
        "winding_resistance_run_to_start",
    ),
    "insulation": ("insulation_resistance",),
    "start_device": ("start_device_resistance",),
    "overload": ("overload_resistance",),
    "capacitor": ("capacitor_share",),
    "supply": ("supply_voltage",),
    "draw": ("starting_current", "compressor_current", "appliance_current"),
    "speed": ("compressor_speed",),
}
NOTHING: Mapping[str, Densities | None] = {}
ELECTRICAL_READINGS = frozenset(key for keys in READINGS_OF.values() for key in keys)


@dataclass(frozen=True, slots=True)
class Item:
    """One part's reading. `shared` where the simulated appliances weigh the same reading."""

    part: str
    keys: tuple[str, ...]  # reading identifiers, those taken
    densities: tuple[tuple[str, float], ...]  # by outcome
    shared: bool = False
    verdict: str = ""  # outcome by a published or trade limit, where one decides

    def likelihood(self, state: PartState | None) -> float:
        """Density of the reading in a state; None is a sound machine. [any]"""
        total = 0.0
        for outcome, density in self.densities:
            share = (
                SOUND[self.part][outcome]
                if state is None
                else state.probability(self.part, outcome)
            )
            total += share * density
        return max(total, 1e-300)


@dataclass(frozen=True, slots=True)
class ElectricalEvidence:
    """All items, with the odds of the kinds before them (given a stopped compressor)."""

    items: tuple[Item, ...] = ()
    kinds: tuple[tuple[str, float], ...] = ()
    seen: tuple[tuple[str, float], ...] = ()  # ln P(findings | state), where there are some

    @property
    def keys(self) -> tuple[str, ...]:
        """Every reading that counts here."""
        return tuple(key for item in self.items for key in item.keys)

    @property
    def own(self) -> tuple[Item, ...]:
        """Items that no simulated appliance weighs."""
        return tuple(item for item in self.items if not item.shared)

    def without(self, key: str) -> ElectricalEvidence:
        """The same without the item that holds this reading.

        Parameters
        ----------
        key : str
            A reading identifier.
        """
        if key not in self.keys:
            return self
        return replace(self, items=tuple(i for i in self.items if key not in i.keys))

    def log_factor(self, faults: Together) -> float:
        """Natural log of the readings' likelihood under a hypothesis, shared ones left out. [-]

        Parameters
        ----------
        faults : tuple of str
            One fault, or two at once; all but `compressor_not_running` have sound electrics.
        """
        if not self.own and not self.seen:
            return 0.0
        if NOT_RUNNING not in faults:
            return sum(math.log(item.likelihood(None)) for item in self.own)
        logs = [w for _, w in self._state_logs(self.own)]
        return float(np.logaddexp.reduce(logs))

    def states(self) -> dict[str, float]:
        """Probability of each state, given that the compressor does not run. [-]"""
        logs = dict(self._state_logs(self.items))
        top = max(logs.values())
        weights = {name: math.exp(w - top) for name, w in logs.items()}
        whole = sum(weights.values())
        return {name: w / whole for name, w in weights.items()}

    def which(self) -> dict[str, float]:
        """Probability of each kind, given that the compressor does not run. [-]"""
        out = dict.fromkeys((kind for kind, _ in self.kinds), 0.0)
        for name, p in self.states().items():
            out[STATES[name].kind] += p
        return out

    def outcomes(self, part: str, running: float) -> dict[str, float]:
        """Probability of each outcome at a part that was read. [-]

        Parameters
        ----------
        part : str
            Part of an item.
        running : float
            Probability that the compressor runs, or would if it were called. [-]
        """
        item = next(i for i in self.items if i.part == part)
        rest = self.without(item.keys[0]).states()
        weights = {}
        for outcome, density in item.densities:
            stopped = sum(p * STATES[n].probability(part, outcome) for n, p in rest.items())
            weights[outcome] = density * (
                running * SOUND[part][outcome] + (1.0 - running) * stopped
            )
        whole = sum(weights.values()) or 1.0
        return {outcome: w / whole for outcome, w in weights.items()}

    def information(self, stopped: float) -> dict[str, float]:
        """Expected information on which kind it is, or none, of every part not yet read. [bit]

        Parameters
        ----------
        stopped : float
            Probability that the compressor does not run. [-]
        """
        before = np.array([1.0 - stopped, *(stopped * p for p in self.which().values())])
        out = {}
        for key, joint in self.outlook(stopped).items():
            mass = joint.sum(axis=1)
            good = mass > 0.0
            after = sum(m * _entropy(r / m) for m, r in zip(mass[good], joint[good], strict=True))
            out[key] = max(float(_entropy(before) - after), 0.0)
        return out

    def outlook(self, stopped: float) -> dict[str, np.ndarray]:
        """What every part not yet read would show, with each kind. [-]

        Parameters
        ----------
        stopped : float
            Probability that the compressor does not run. [-]

        Returns
        -------
        dict
            First reading of the part to the joint probability of outcome and kind, shape
            (outcomes, 1 + kinds): the first column is a compressor that runs. [-]
        """
        states = self.states()
        kinds = [kind for kind, _ in self.kinds]
        out = {}
        for part, outcomes in SOUND.items():
            if any(item.part == part for item in self.items):
                continue
            joint = np.zeros((len(outcomes), len(kinds) + 1))
            for n, outcome in enumerate(outcomes):
                joint[n, 0] = (1.0 - stopped) * outcomes[outcome]
                for name, p in states.items():
                    at = 1 + kinds.index(STATES[name].kind)
                    joint[n, at] += stopped * p * STATES[name].probability(part, outcome)
            out[READINGS_OF[part][0]] = joint
        return out

    def _state_logs(self, items: tuple[Item, ...]) -> list[tuple[str, float]]:
        prior, seen = dict(self.kinds), dict(self.seen)
        found = []
        for name, state in STATES.items():
            p = prior.get(state.kind, 0.0) * state.share
            if p > 0.0:
                logs = math.log(p) + seen.get(name, 0.0)
                logs += sum(math.log(i.likelihood(state)) for i in items)
                found.append((name, logs))
        return found


NONE_READ = ElectricalEvidence()


def _entropy(p: np.ndarray) -> float:
    q = p[p > 0.0]
    return float(-np.sum(q * np.log2(q)))


def gather(
    meters: Meters,
    held: Held,
    kinds: Mapping[str, float],
    taken: Mapping[str, tuple[str, ...]],
    *,
    shared: frozenset[str] = frozenset(),
    instead: Mapping[str, Densities | None] = NOTHING,
) -> ElectricalEvidence:
    """Evidence from the readings.

    Parameters
    ----------
    meters : Meters
        Readings.
    held : Held
        The machine.
    kinds : Mapping
        Odds of the kinds before the readings. [-]
    taken : Mapping
        Part to the reading identifiers that speak of it.
    shared : frozenset of str
        Parts whose reading the simulated appliances weigh as well.
    instead : Mapping
        Part to densities that take the place of the usual ones.

    Returns
    -------
    ElectricalEvidence
        One item for each part that was read and whose reading can be used.
    """
    items = []
    for part, rule in RULES.items():
        densities = instead[part] if part in instead else rule(meters, held)
        if densities is not None and taken.get(part):
            limit = verdict(part, meters, held)
            found = tuple(densities.items())
            items.append(Item(part, taken[part], found, part in shared, limit))
    return ElectricalEvidence(tuple(items), tuple(kinds.items()))


def likeliest(evidence: ElectricalEvidence, part: str, running: float) -> str:
    """Outcome at a part: by its limit where one decides, else the most probable.

    Parameters
    ----------
    evidence : ElectricalEvidence
        All readings.
    part : str
        A part that was read.
    running : float
        Probability that the compressor runs. [-]

    Returns
    -------
    str
        A key of the part's outcomes.
    """
    limit = next(item.verdict for item in evidence.items if item.part == part)
    odds = evidence.outcomes(part, running)
    return limit or max(odds, key=lambda outcome: odds[outcome])


def said(evidence: ElectricalEvidence, part: str, running: float) -> str:
    """What a part's reading says most likely, in plain words.

    Parameters
    ----------
    evidence : ElectricalEvidence
        All readings.
    part : str
        A part that was read.
    running : float
        Probability that the compressor runs. [-]

    Returns
    -------
    str
        One of the sentences in `SAID`.
    """
    return SAID[part][likeliest(evidence, part, running)]
