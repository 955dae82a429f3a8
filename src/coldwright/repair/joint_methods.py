"""Each way to join two tubes as an object that offers itself or says why it is barred.

References: Machinery's Handbook (clearance of silver fillers), a welding glossary
(phosphorus fillers, their clearance and 150 °C limit), a copper industry handbook
(overlap), a service manual for small tube (overlap and bore by diameter).
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from math import pi
from typing import Protocol

from coldwright.repair.fillers import Filler
from coldwright.repair.joint_records import Barred, CircuitState, Joint, Offer, Surrounding

PRACTICE = "common practice, no published source"
OURS = "judgement of ours"
MEMORY = "from memory"
# Bore over outside diameter of 5 to 12 mm tube, from a service manual (diametral).
DIAMETRAL_M = (0.05e-3, 0.21e-3)
ROD_M = 2e-3  # diameter of the rod a length is told of; common practice
WASTE = 1.6  # fillet, overrun and the piece held in the hand; judgement of ours
ABOVE_LIQUIDUS_K = 60.0  # a hand torch on small tube; judgement of ours
CAPILLARY_PAST_MOUTH_M = (15e-3, 25e-3)  # short of a drier's screen; from memory
NITROGEN = (
    "nitrogen 1 to 2.5 l/min (2 to 5 cfh) through the tube, far end open, until it is cold; "
    "never braze against closed pressure"
)
FLUSH_FIRST = "only after the circuit is flushed, cut open and nitrogen flows through it"


def overlap_of(joint: Joint) -> float:
    """Overlap of a brazed tube joint. [m]

    At least three times the thinner wall (copper industry handbook); 6 mm for tube of 5
    to 8 mm, 7 mm above (service manual); 5 mm below that is a judgement of ours. A
    capillary goes 20 mm past the mouth (from memory).

    Parameters
    ----------
    joint : Joint
        The joint.

    Returns
    -------
    float
        Length. [m]
    """
    if joint.capillary:
        return sum(CAPILLARY_PAST_MOUTH_M) / 2.0
    by_size = 5e-3 if joint.inner_m < 5e-3 else 6e-3 if joint.inner_m < 8e-3 else 7e-3
    return max(by_size, 3.0 * min(joint.wall_m))


def filler_mass(inner: float, clearance: float, overlap: float, density: float) -> float:
    """Filler for the ring gap of one joint, fillet and waste included.

    Parameters
    ----------
    inner : float
        Outside diameter of the inner tube. [m]
    clearance : float
        Gap per side. [m]
    overlap : float
        Length of the gap that is filled. [m]
    density : float
        Of the filler. [kg/m3]

    Returns
    -------
    float
        Mass. [kg]

    References
    ----------
    .. [1] Volume of a ring; the factor `WASTE` is a judgement of ours.
    """
    ring = pi * (inner + clearance) * clearance * overlap
    return WASTE * ring * density


def rod_length(mass: float, density: float) -> float:
    """Length of 2 mm rod that holds so much filler. [m]

    Parameters
    ----------
    mass : float
        Of the filler. [kg]
    density : float
        Of the filler. [kg/m3]

    Returns
    -------
    float
        Length. [m]
    """
    return mass / (density * pi * ROD_M**2 / 4.0)


def fit_of(joint: Joint, low: float, high: float) -> str:
    """What the outer end needs so that its bore takes the inner tube.

    Parameters
    ----------
    joint : Joint
        Outside diameters and walls.
    low : float
        Least bore that is wanted. [m]
    high : float
        Largest bore that is wanted. [m]

    Returns
    -------
    str
        A phrase; lengths in mm.
    """
    outer = 0 if joint.outside_m[0] > joint.outside_m[1] else 1
    bore = joint.outside_m[outer] - 2.0 * joint.wall_m[outer]
    wanted = f"{1e3 * low:.2f} to {1e3 * high:.2f} mm bore"
    if bore < low:
        return f"widen one end to {wanted} (it has about {1e3 * bore:.1f} mm)"
    if bore <= high:
        return f"fits as it is: {wanted}"
    if joint.capillary:
        return (
            f"press the wider end down round the capillary to {wanted}, or use a part with a "
            "capillary end"
        )
    return f"a reducing piece or an end pressed down to {wanted}: it has {1e3 * bore:.1f} mm"


class JointMethod(Protocol):
    """What every way to join offers."""

    @property
    def name(self) -> str:
        """In the words of the trade."""
        ...

    def judge(self, joint: Joint, around: Surrounding) -> Offer | Barred | None:
        """An offer for this joint, why it is barred, or None where nobody would think of it."""
        ...


@dataclass(frozen=True, slots=True)
class Brazing(ABC):
    """A flame and a filler that melts above 450 °C (or the zinc solder below it)."""

    name: str
    choice: tuple[Filler, ...]
    clearance_m: tuple[float, float]
    source: str
    flux: str = ""
    aluminium_only: bool = False
    comeback: float = 0.02
    success: float = 0.95

    def judge(self, joint: Joint, around: Surrounding) -> Offer | Barred | None:
        """An offer for this joint, why it is barred, or None where nobody would think of it."""
        if self.aluminium_only and not any(m.aluminium for m in joint.metals):
            return None
        if (why := self._unfit(joint)) is not None:
            return Barred(self.name, why, self.source)
        low, high = self.clearance_m
        mean = 0.5 * (low + high)
        overlap = overlap_of(joint)
        # A capillary's seat is its mouth, not the whole length past it.
        wet = 6e-3 if joint.capillary else overlap
        rods = tuple(f for f in self.choice if f.liquidus_k + 30.0 < self._ceiling(joint))
        if not rods:
            return Barred(self.name, "it melts about where the tube does", self.source)
        later = ""
        if around.flammable and around.state is not CircuitState.OPEN:
            later = FLUSH_FIRST
        if joint.buried:
            return Barred(self.name, "a flame in foam or behind the liner: it burns to toxic "
                          "smoke; bring the ends out first", PRACTICE)  # fmt: skip
        socket = (joint.inner_m + DIAMETRAL_M[0], joint.inner_m + min(DIAMETRAL_M[1], 2.0 * high))
        density = max(f.density_kg_m3 for f in rods)
        mass = filler_mass(joint.inner_m, mean, wet, density)
        hottest = min(max(f.liquidus_k for f in rods) + ABOVE_LIQUIDUS_K, self._ceiling(joint))
        return Offer(
            method=self.name,
            fillers=tuple(f.name for f in rods),
            flows_k=tuple(f.liquidus_k for f in rods),
            flux=self._flux(joint),
            heat_low_k=min(f.liquidus_k for f in rods),
            heat_high_k=hottest,
            clearance_low_m=low,
            clearance_high_m=high,
            socket_low_m=socket[0],
            socket_high_m=socket[1],
            fit=fit_of(joint, *socket),
            overlap_m=overlap,
            filler_kg=mass,
            rod_m=rod_length(mass, density),
            flame=True,
            nitrogen=NITROGEN,
            only_when=later,
            comeback_per_year=self.comeback,
            first_time_success=self.success,
            how=self._how(joint),
            source=self.source,
        )  # fmt: skip

    def _ceiling(self, joint: Joint) -> float:
        return min(m.melts_k for m in joint.metals) - 30.0

    @abstractmethod
    def _unfit(self, joint: Joint) -> str | None:
        """Why these fillers are not for this joint; None where they are."""

    def _flux(self, joint: Joint) -> str:  # noqa: ARG002  (brass changes it, see below)
        return self.flux

    def _how(self, joint: Joint) -> tuple[str, ...]:
        lines = [
            "cut, deburr, clean bright with an abrasive web over twice the overlap",
            "heat the tubes, not the filler; let it run in by the heat of the joint",
            "wet cloth on whatever must stay cool: drier, valve, plastic, foam",
        ]
        if joint.capillary:
            lines.append("feed filler at the mouth only; the capillary stands 15 to 25 mm past it")
        return tuple(lines)


class PhosphorusBrazing(Brazing):
    """Copper-phosphorus filler: fluxes itself on copper, ruins iron."""

    def _unfit(self, joint: Joint) -> str | None:
        if any(m.iron for m in joint.metals):
            return "phosphorus on iron, steel or nickel makes brittle phosphides: it cracks"
        if any(m.aluminium for m in joint.metals):
            return "it does not wet aluminium, which melts first"
        return None

    def _flux(self, joint: Joint) -> str:
        if any(m.zinc for m in joint.metals):
            return "brazing flux for silver filler, since one side is brass"
        return self.flux


class SilverBrazing(Brazing):
    """Silver filler of at least 30 % silver, with flux."""

    def _unfit(self, joint: Joint) -> str | None:
        if any(m.aluminium for m in joint.metals):
            return "aluminium melts before it flows"
        return None


class BrassBrazing(Brazing):
    """Brass rod on steel: hot, a workshop's matter."""

    def _unfit(self, joint: Joint) -> str | None:
        if any(m.aluminium for m in joint.metals):
            return "aluminium melts before it flows"
        if not all(m.iron for m in joint.metals):
            return "it needs about 900 °C: for steel to steel in the workshop only"
        return None


class ZincSoldering(Brazing):
    """Zinc-aluminium, flux-cored, on aluminium or aluminium to copper."""

    def _unfit(self, joint: Joint) -> str | None:
        if any(m.iron for m in joint.metals):
            return "no flux that the trade uses makes it wet steel"
        return None


class AluminiumBrazing(Brazing):
    """Aluminium-silicon, aluminium to aluminium only."""

    def _unfit(self, joint: Joint) -> str | None:
        if not all(m.aluminium for m in joint.metals):
            return "aluminium to aluminium only: against copper the seam itself melts at 548 °C"
        return None
