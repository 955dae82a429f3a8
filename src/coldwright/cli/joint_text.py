"""The plan of one joint as short text."""

from __future__ import annotations

from collections.abc import Sequence

from coldwright.cli.text import wrapped
from coldwright.repair.joint_records import JointPlan, Offer
from coldwright.units import Dimension as D
from coldwright.units import System, show

OFFERS = 2


def joint_lines(number: int, plan: JointPlan, system: System) -> list[str]:
    """Lines of at most `text.WIDTH` characters.

    Parameters
    ----------
    number : int
        Of the joint on its sheet. [-]
    plan : JointPlan
        The plan.
    system : System
        Units.
    """
    j = plan.joint
    sizes = " in ".join(show(d, D.LENGTH, system) for d in sorted(j.outside_m))
    metals = " to ".join(m.label for m in j.metals)
    assumed = " (usual, not seen)" if j.assumed else ""
    head = f"JOINT {number}, {j.place.replace('_', ' ')}: {metals}, {sizes}{assumed}"
    lines = wrapped(head)
    for offer in plan.offers[:OFFERS]:
        lines += _offer(offer, system)
    return lines + [line for note in plan.notes for line in wrapped(note, first="  ")]


def barred_lines(plans: Sequence[JointPlan]) -> list[str]:
    """What must not be done, each once, with the numbers of the joints it holds for."""
    where: dict[tuple[str, str], list[int]] = {}
    for number, plan in enumerate(plans, 1):
        for b in plan.barred:
            where.setdefault((b.method, b.why), []).append(number)
    lines: list[str] = []
    for (method, why), numbers in where.items():
        of = "" if len(numbers) == len(plans) else f" (joint {', '.join(map(str, numbers))})"
        lines += wrapped(f"{method}{of}: {why}", first="NOT ")
    return lines


def _offer(o: Offer, system: System) -> list[str]:
    lines = wrapped(f"{o.method}{': ' + o.only_when if o.only_when else ''}", first="  * ")
    if o.flame:
        classes = ", ".join(f.partition(" (")[0] for f in o.fillers)
        low, high = (show(t, D.TEMPERATURE, system) for t in (o.heat_low_k, o.heat_high_k))
        lines += wrapped(f"{classes}; flux: {o.flux}; {low} to {high}", first="    ")
        gap = f"{1e3 * o.clearance_low_m:.2f} to {1e3 * o.clearance_high_m:.2f} mm a side"
        lines += wrapped(
            f"gap {gap}, overlap {1e3 * o.overlap_m:.0f} mm, filler about "
            f"{1e3 * o.filler_kg:.1f} g; {o.nitrogen}", first="    ",
        )  # fmt: skip
    return lines
