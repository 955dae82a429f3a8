"""What the odds are shared among: each fault alone, and the pairs that occur together.

A hypothesis says, member by member, which faults act and how far: one fault, one
way of a fault that has several, or two faults with a severity each.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coldwright.catalogue.pairs import PAIRS
from coldwright.catalogue.priors import FAULTS, severity_from_uniform
from coldwright.catalogue.sizing import uniform
from coldwright.catalogue.ways import WAYS, Way, chosen
from coldwright.circuit.records import EvaporatorKind
from coldwright.diagnosis.subject import Subject
from coldwright.errors import BadInput
from coldwright.faults.kinds import Fault, fault_named

SEALED_WITH_WAYS = {"moisture": True, "control": False, "wrong_fill": True}


@dataclass(frozen=True, slots=True)
class Acting:
    """One fault at work in some members."""

    fault: Fault
    members: np.ndarray  # bool, (n,)
    severity: np.ndarray  # (n,)
    way: Way | None = None


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """One fault, or two at once."""

    identifier: str
    faults: tuple[str, ...]

    @property
    def ways(self) -> tuple[Way, ...]:
        """The ways it comes about; empty where it has one only."""
        return WAYS.get(self.identifier, ())

    @property
    def sealed(self) -> bool:
        """Whether mending it opens the sealed circuit."""
        return any(SEALED_WITH_WAYS[f] if f in WAYS else fault_named(f).sealed for f in self.faults)

    @property
    def runs(self) -> bool:
        """Whether the compressor pumps in some of its members at least."""
        if self.ways:
            return any(way.fault.runs for way in self.ways)
        return all(fault_named(f).runs for f in self.faults)

    @property
    def unit(self) -> str | None:
        """Unit of the severity that is told; None where there is none."""
        return None if self.ways else fault_named(self.faults[0]).unit

    def acting(
        self, subject: Subject, z: np.ndarray, circuits: np.ndarray
    ) -> tuple[tuple[Acting, ...], np.ndarray]:
        """Faults at work, and which way each member takes (zeros where there is one only).

        Parameters
        ----------
        subject : Subject
            Appliance and visit.
        z : ndarray
            Scores, shape (n, DIMENSIONS). [-]
        circuits : ndarray
            The same members sized, shape (n,).
        """
        n = z.shape[0]
        every = np.ones(n, bool)
        u = np.clip(uniform(z, "severity"), 0.0, 1.0)
        if not self.ways:
            second = np.clip(uniform(z, "second"), 0.0, 1.0)
            parts = [
                Acting(fault_named(f), every, severity_from_uniform(f, v))
                for f, v in zip(self.faults, (u, second), strict=False)
            ]
            return tuple(parts), np.zeros(n, int)
        fan = circuits["evaporator"]["kind_code"] == int(EvaporatorKind.FAN)
        at = chosen(
            self.ways, uniform(z, "which"), fan, subject.known.family.one_compartment
        )  # fmt: skip
        found = [
            Acting(way.fault, at == k, way.severity(u), way) for k, way in enumerate(self.ways)
        ]
        return tuple(found), at


HYPOTHESES: tuple[Hypothesis, ...] = (
    *(Hypothesis(f, (f,)) for f in FAULTS),
    *(Hypothesis(p.identifier, p.faults) for p in PAIRS),
)
_BY_NAME = {h.identifier: h for h in HYPOTHESES}


def hypothesis_named(identifier: str) -> Hypothesis:
    """The hypothesis of that name.

    Raises
    ------
    BadInput
        If there is none.
    """
    if identifier not in _BY_NAME:
        raise BadInput("input", "fault", identifier, ", ".join(_BY_NAME))
    return _BY_NAME[identifier]
