"""A finding: a part seen or tested failed or good, with its own likelihood and chance of error.

P(reported) = false rate + (hit rate - false rate) * P(it is there), as for a symptom; but a
finding speaks of a part (`sides.PARTS`, the states of a stopped compressor), not of the
running state, and its likelihood counts in full: it does not rest on the model.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from coldwright.catalogue.sides import Part
from coldwright.errors import require

CONFIRMED = 1.0 / 3.0  # of the false rate that is left once the question back was answered, ours


@dataclass(frozen=True, slots=True, eq=False)  # one record each: equal only to itself
class Finding:
    """One finding.

    `there` maps a part, a kind, a way or a fault to the probability that it is there; the most
    particular name decides, `otherwise` holds for what is not named.
    """

    identifier: str
    there: Mapping[str, float]
    otherwise: float
    hit: float
    false: float
    why: str
    confirm: str = ""  # the question back
    how: str = ""  # empty where it follows from another entry
    minutes: float = 1.0
    needs: str = "eyes"
    cautions: str = ""
    source: str = "ours"
    fan: str = ""  # coil that must have a fan: "evaporator" or "condenser"
    no_counts: bool = True  # whether a "no" is evidence
    complaints: tuple[str, ...] = field(default=())  # that bring it to the front

    def __post_init__(self) -> None:
        require(f"{self.identifier}: false rate", self.false, "-", 0.0, 1.0)
        require(f"{self.identifier}: hit rate", self.hit, "-", self.false, 1.0)
        for name, p in (*self.there.items(), ("otherwise", self.otherwise)):
            require(f"{self.identifier}: {name}", p, "-", 0.0, 1.0)

    def present(self, part: Part) -> float:
        """Probability that it is there. [-]

        Parameters
        ----------
        part : Part
            What is wrong.
        """
        for name in part.names:
            if name in self.there:
                return self.there[name]
        return self.otherwise

    def reported(self, present: float, confirmed: bool = False) -> float:
        """Probability that a technician who looked reports it. [-]

        Parameters
        ----------
        present : float
            Probability that it is there. [-]
        confirmed : bool
            Whether the question back was answered with yes.
        """
        false = self.false * (CONFIRMED if confirmed else 1.0)
        return false + (self.hit - false) * present
