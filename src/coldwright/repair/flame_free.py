"""Ways to join or mend without a flame."""

from __future__ import annotations

from dataclasses import dataclass
from math import nan

from coldwright.repair.joint_methods import PRACTICE
from coldwright.repair.joint_records import Barred, CircuitState, Joint, Offer, Surrounding


@dataclass(frozen=True, slots=True)
class CrimpedRing:
    """A pressed ring with anaerobic fill: no flame, any of the tube metals."""

    name: str = "crimped ring, no flame"

    def judge(self, joint: Joint, around: Surrounding) -> Offer | Barred:
        """An offer for this joint, or why it is barred."""
        later = ""
        if around.state is CircuitState.CHARGED:
            later = "after the refrigerant is recovered and the circuit flushed"
        reach = "bring both ends out of the foam far enough for the tool" if joint.buried else ""
        ends = (
            "tubes round, straight, without score marks over the ring's length; fill and turn, "
            "then press once, fully"
        )
        lines = ["ring chosen by both outside diameters and metals", ends]
        lines += [reach] if reach else []
        lines.append("let the fill cure as its label says before pressure or vacuum")
        return Offer(
            self.name, (), (), "none; anaerobic fill of the ring", nan, nan, nan, nan, nan, nan,
            _ring_fit(joint), 2.0 * joint.inner_m, 0.0, 0.0, False, "", later, 0.008, 0.96,
            tuple(lines), PRACTICE,
        )  # fmt: skip


def _ring_fit(joint: Joint) -> str:
    small, large = (f"{1e3 * d:.1f} mm" for d in sorted(joint.outside_m))
    size = f"{small} and {large} outside" if small != large else f"{large} outside, both ends"
    return f"ring for {size}, " + " to ".join(m.label for m in joint.metals)


@dataclass(frozen=True, slots=True)
class EpoxyPatch:
    """A two-part epoxy kit on a punctured aluminium evaporator: low side, last resort."""

    name: str = "epoxy kit on the puncture"

    def judge(self, joint: Joint, around: Surrounding) -> Offer | Barred | None:
        """An offer for a puncture of the evaporator, None anywhere else."""
        if not joint.place.startswith("evaporator"):
            return None
        later = "" if around.state is not CircuitState.CHARGED else "after recovery, dry and empty"
        return Offer(
            self.name, (), (), "none; the kit's own two parts", nan, nan, nan, nan, nan, nan,
            "", 0.0, 0.0, 0.0, False, "", later, 0.12, 0.75,
            ("degrease, roughen, warm to 25 to 40 °C, patch, cure as labelled",
             "hold at low-side pressure before charging"), PRACTICE,
        )  # fmt: skip
