"""What the odds are shared among: each fault alone, and the pairs that occur together.

A hypothesis says, member by member, which faults act and how far: one fault, one
way of a fault that has several, or two faults with a severity each.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coldwright.catalogue.pairs import PAIRS
from coldwright.catalogue.sizing import uniform
from coldwright.catalogue.ways import chosen
from coldwright.circuit.records import EvaporatorKind
from coldwright.diagnosis.subject import Subject
from coldwright.errors import BadInput
from coldwright.faults.effects import Effect
from coldwright.faults.record import Fault, Together, Way
from coldwright.faults.registry import FAULTS, effect_named


@dataclass(frozen=True, slots=True)
class Acting:
    """One effect at work in some members."""

    effect: Effect
    members: np.ndarray  # bool, (n,)
    severity: np.ndarray  # (n,)
    way: Way | None = None


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """One fault, or two at once."""

    faults: Together

    @property
    def records(self) -> tuple[Fault, ...]:
        """The records of its faults."""
        return tuple(FAULTS[fault] for fault in self.faults)

    @property
    def ways(self) -> tuple[Way, ...]:
        """The ways it comes about; empty where it has one only."""
        return self.records[0].ways if len(self.faults) == 1 else ()

    @property
    def sealed(self) -> bool:
        """Whether mending it opens the sealed circuit."""
        return any(fault.sealed for fault in self.records)

    @property
    def runs(self) -> bool:
        """Whether the compressor pumps in some of its members at least."""
        return all(fault.runs for fault in self.records)

    @property
    def unit(self) -> str | None:
        """Unit of the severity that is told; None where there is none."""
        return self.records[0].unit

    @property
    def rare(self) -> bool:
        """Whether fewer members stand for it: a rare fault, or two at once."""
        return len(self.faults) > 1 or self.records[0].rare

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
                Acting(effect_named(f.identifier), every, f.severities(v))
                for f, v in zip(self.records, (u, second), strict=False)
            ]
            return tuple(parts), np.zeros(n, int)
        fan = circuits["evaporator"]["kind_code"] == int(EvaporatorKind.FAN)
        at = chosen(
            self.ways, uniform(z, "which"), fan, subject.known.family.one_compartment
        )  # fmt: skip
        found = [
            Acting(way.effect, at == k, way.severity(u), way) for k, way in enumerate(self.ways)
        ]
        return tuple(found), at


HYPOTHESES: tuple[Hypothesis, ...] = (
    *(Hypothesis((fault,)) for fault in FAULTS),
    *(Hypothesis(pair.faults) for pair in PAIRS),
)
_BY_FAULTS = {h.faults: h for h in HYPOTHESES}


def hypothesis_named(*faults: str) -> Hypothesis:
    """The hypothesis of one fault, or of two at once.

    Parameters
    ----------
    *faults : str
        Identifiers, the leading one first.

    Returns
    -------
    Hypothesis
        One of `HYPOTHESES`.

    Raises
    ------
    BadInput
        If there is none.

    Examples
    --------
    >>> hypothesis_named("undercharge", "condenser_air").sealed
    True
    """
    if faults not in _BY_FAULTS:
        known = ", ".join(" with ".join(h.faults) for h in HYPOTHESES)
        raise BadInput("input", "fault", " with ".join(faults), known)
    return _BY_FAULTS[faults]
