"""The plan of one joint as short text."""

from __future__ import annotations

from collections.abc import Sequence

from coldwright.cli.text import wrapped
from coldwright.repair.joint_records import JointPlan, Offer
from coldwright.repair.joint_words import filler_amount, flows, kind_of
from coldwright.units import Dimension as D
from coldwright.units import System, show

OFFERS = 2


def joint_lines(
    number: int, plan: JointPlan, system: System, told: dict[str, int] | None = None
) -> list[str]:
    """Lines of at most `text.WIDTH` characters.

    Parameters
    ----------
    number : int
        Of the joint on its sheet. [-]
    plan : JointPlan
        The plan.
    system : System
        Units.
    told : dict, optional
        Ways already told in full, with the number of their joint; filled here.
    """
    told = {} if told is None else told
    j = plan.joint
    sizes = " in ".join(show(d, D.LENGTH, system) for d in sorted(j.outside_m))
    metals = " to ".join(m.label for m in j.metals)
    assumed = " (usual, not seen)" if j.assumed else ""
    head = f"JOINT {number}, {j.place.replace('_', ' ')}: {metals}, {sizes}{assumed}"
    lines = wrapped(head)
    for offer in plan.offers[:OFFERS]:
        lines += _offer(offer, system, told.get(kind_of(offer)))
        told.setdefault(kind_of(offer), number)
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


def _offer(o: Offer, system: System, before: int | None) -> list[str]:
    lines = wrapped(f"{o.method}{': ' + o.only_when if o.only_when else ''}", first="  * ")
    if o.flame:
        gap = f"{1e3 * o.clearance_low_m:.2f} to {1e3 * o.clearance_high_m:.2f} mm a side"
        lines += wrapped(f"{o.fit}; gap {gap}, overlap {1e3 * o.overlap_m:.0f} mm", first="    ")
        if before is not None:
            lines += wrapped(
                f"filler {filler_amount(o)}; classes, heat, flux, nitrogen as at joint {before}",
                first="    ",
            )
            return lines
        lines += wrapped(f"flows at: {flows(o, system)}", first="    ")
        lines += wrapped(f"flux: {o.flux}; filler {filler_amount(o)}", first="    ")
        lines += wrapped(o.nitrogen, first="    ")
    elif o.fit:
        lines += wrapped(o.fit, first="    ")
    return lines
