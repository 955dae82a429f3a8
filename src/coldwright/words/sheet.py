"""The sheet for the bench: steps, joints and parts of one alternative."""

from __future__ import annotations

from collections.abc import Sequence

from coldwright.repair.joint_records import JointPlan, Offer
from coldwright.repair.joint_words import filler_amount, flows, kind_of
from coldwright.repair.step_records import USUAL_SOURCE
from coldwright.repair.step_records import Step as Work
from coldwright.units import Dimension as D
from coldwright.units import System, show
from coldwright.words.comparison import frame
from coldwright.words.mending import band, old_capillary, old_displacement
from coldwright.words.report import (
    Barred,
    Caution,
    Fact,
    Facts,
    Heading,
    Part,
    Points,
    Section,
    Step,
    Text,
    section,
)
from coldwright.words.wording import NBSP, capital
from coldwright.worth.choice import BYPASS
from coldwright.worth.report import Parts, RepairReport

CUTS = 3
OFFERS = 2


def sheet(r: RepairReport, system: System = System.SI) -> tuple[Section, ...]:
    """The sheet of the report's chosen alternative.

    Parameters
    ----------
    r : RepairReport
        What came of it.
    system : System
        Units.

    Returns
    -------
    tuple of Section
        Sections in the order of reading.
    """
    a = r.sheet.alternative
    return (
        *section(
            f"Sheet: {a.title}",
            Text(f"{time_words(r)}. Shown because: {r.chosen_why}.", "quiet"),
            Facts(_appliance(r, system)),
            *(Text(note) for note in a.notes),
        ),
        *section("Steps", *(_step(i, step) for i, step in enumerate(a.steps, 1)),
                 Text(f"Where a step names no source: {USUAL_SOURCE}.", "quiet")),
        *section("Joints", *_joints(a.joints, system)),
        *section("How each way is done", *_ways(a.joints)),
        *section("Joints asked for", *_joints(r.joints_asked, system)),
        *(frame(r, system) if a.identifier == BYPASS else ()),
        *section("Parts", Facts(_parts(r.parts, system) if r.parts_needed else ())),
    )  # fmt: skip


def time_words(r: RepairReport) -> str:
    """Hours at work and waiting.

    Parameters
    ----------
    r : RepairReport
        The report.

    Returns
    -------
    str
        One phrase.
    """
    a = r.sheet.alternative
    work, wait = (f"{minutes / 60.0:.1f}{NBSP}h" for minutes in (a.minutes, a.waiting_minutes))
    return f"{work} at work, {wait} waiting"


def _appliance(r: RepairReport, system: System) -> tuple[Fact, ...]:
    s, sheet = r.situation, r.sheet
    charge = "not in this job" if s.charge_kg is None else show(s.charge_kg, D.MASS, system)
    rows = [
        Fact("Kind", capital(s.kind.replace("_", " "))),
        Fact("Refrigerant", s.refrigerant.name + (", flammable" if s.flammable else "")),
        Fact("Charge on the plate", charge),
        Fact("Circuit is", s.state.value),
    ]
    if sheet.simulated is not None and sheet.alternative.opens_circuit:
        kind = "by inventory of the changed circuit" if sheet.simulated.moves_charge else (
            "as on the plate; the spread is the factory's")  # fmt: skip
        told = f"{band(sheet.simulated.charge_kg, D.MASS, system)}, {kind}"
        rows.append(Fact("To be charged", told))
    return tuple(rows)


def _step(number: int, step: Work) -> Step:
    wait = f" and {step.waiting_minutes:.0f}{NBSP}min waiting" if step.waiting_minutes else ""
    return Step(
        number, step.title, f"{step.minutes:.0f}{NBSP}min{wait}",
        (Caution("", step.cautions),) if step.cautions else (), step.do,
        ", ".join(step.tools), capital(step.hold.removeprefix("record: ")),
        "" if step.source == USUAL_SOURCE else capital(step.source), step.done,
    )  # fmt: skip


def _joints(plans: Sequence[JointPlan], system: System) -> list[Part]:
    """Every joint; a way already told in full is told by the number of its joint."""
    told: dict[str, int] = {}
    found: list[Part] = []
    for number, plan in enumerate(plans, 1):
        j = plan.joint
        sizes = " in ".join(show(d, D.LENGTH, system) for d in sorted(j.outside_m))
        metals = " to ".join(m.label for m in j.metals)
        assumed = " (usual, not seen)" if j.assumed else ""
        place = capital(j.place.replace("_", " "))
        found.append(Heading(f"{number}. {place}: {metals}, {sizes}{assumed}"))
        for o in plan.offers[:OFFERS]:
            when = f": {o.only_when}" if o.only_when else ""
            found.append(Text(f"{capital(o.method)}{when}", "strong"))
            found.append(Points(_offer(o, told.get(kind_of(o)), system)))
            told.setdefault(kind_of(o), number)
        found += [Text(note, "quiet") for note in plan.notes]
    return [*found, Barred(_never(plans))]


def _offer(o: Offer, before: int | None, system: System) -> tuple[str, ...]:
    if not o.flame:
        return (capital(o.fit),) if o.fit else ()
    fit = (
        f"{capital(o.fit)}; gap {1e3 * o.clearance_low_m:.2f} to "
        f"{1e3 * o.clearance_high_m:.2f}{NBSP}mm a side; overlap {1e3 * o.overlap_m:.0f}{NBSP}mm"
    )
    filler = f"Filler {filler_amount(o)}"
    if before is not None:
        return fit, f"{filler}; classes, heat, flux and nitrogen as at joint {before}"
    return fit, f"Flows at: {flows(o, system)}", f"Flux: {o.flux}. {filler}", capital(o.nitrogen)


def _ways(plans: Sequence[JointPlan]) -> list[Part]:
    """How each way shown is done, once."""
    found: dict[str, list[Part]] = {}
    for plan in plans:
        for o in plan.offers[:OFFERS]:
            gas = (capital(o.nitrogen),) if o.nitrogen else ()
            lines = (*o.how, *gas, f"Source: {o.source}")
            found.setdefault(o.method, [Heading(capital(o.method)), Points(lines)])
    return [part for way in found.values() for part in way]


def _never(plans: Sequence[JointPlan]) -> tuple[str, ...]:
    """What must not be done, each once, with the joints it holds for."""
    where: dict[tuple[str, str], list[int]] = {}
    for number, plan in enumerate(plans, 1):
        for b in plan.barred:
            where.setdefault((b.method, b.why), []).append(number)
    return tuple(
        f"{capital(method)}"
        + ("" if len(at) == len(plans) else f" (joint {', '.join(map(str, at))})")
        + f": {why}"
        for (method, why), at in where.items()
    )


def _parts(parts: Parts, system: System) -> tuple[Fact, ...]:
    d = parts.drier
    pore = f"{d.pore_angstrom}{NBSP}Å" if d.pore_angstrom else "pore not known,"
    rows = [Fact("Drier", f"{pore} {d.core}; {d.connections}")]
    if parts.capillary is not None:
        c = parts.capillary
        flow = f"{c.nitrogen.free_litre_per_min:.2f}{NBSP}l/min of nitrogen at 10 bar gauge"
        rows.append(Fact("Capillary, old", f"{old_capillary(parts, system)}; {flow}"))
        cuts = [
            f"{show(cut.bore_m, D.LENGTH, system)} x {show(cut.length_m, D.LENGTH, system)}, flow "
            f"within {100.0 * cut.worst_departure_fraction:.1f}{NBSP}% over the range, "
            f"nitrogen {cut.nitrogen.free_litre_per_min:.2f}{NBSP}l/min"
            for cut in c.cuts
            if cut.usable
        ][:CUTS]
        rows.append(Fact("Capillary, from stock", "; or ".join(cuts) or "no bore fits"))
    if parts.compressor is not None:
        w = parts.compressor
        rows.append(Fact(
            "Compressor, if changed",
            f"{old_displacement(parts)}; {w.ashrae_w:.0f}{NBSP}W ASHRAE, "
            f"{w.cecomaf_w:.0f}{NBSP}W CECOMAF/EN 12900; {w.torque} starting torque; "
            f"{'; '.join(w.must)}",
        ))  # fmt: skip
        rows += [
            Fact(f"Stock: {o.name}", "fits" if o.fits else "; ".join(o.against))
            for o in parts.compressor_stock
        ]
    return tuple(rows)
