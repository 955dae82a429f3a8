"""The sheet for the bench: steps, joints, parts of one alternative."""

from __future__ import annotations

from collections.abc import Sequence

from coldwright.repair.joint_records import JointPlan, Offer
from coldwright.repair.joint_words import filler_amount, flows, kind_of
from coldwright.repair.step_records import USUAL_SOURCE, Step
from coldwright.units import Dimension as D
from coldwright.units import show
from coldwright.web.repair.context import BenchPage, JointRow, OfferRow, StepRow
from coldwright.web.repair.view import frame_lines
from coldwright.words.mending import old_capillary, old_displacement
from coldwright.words.repair import band
from coldwright.words.report import Fact
from coldwright.words.wording import NBSP, capital
from coldwright.worth.choice import BYPASS
from coldwright.worth.report import Parts, RepairReport

CUTS = 3
OFFERS = 2


def bench_page(report: RepairReport, job_url: str) -> BenchPage:
    """The sheet of the report's chosen alternative.

    Parameters
    ----------
    report : RepairReport
        What came of it.
    job_url : str
        Address of the job's page.
    """
    sheet = report.sheet
    a = sheet.alternative
    charge = ""
    work, wait = (f"{minutes / 60.0:.1f}{NBSP}h" for minutes in (a.minutes, a.waiting_minutes))
    if sheet.simulated is not None and a.opens_circuit:
        kind = "by inventory of the changed circuit" if sheet.simulated.moves_charge else (
            "as on the plate; the spread is the factory's")  # fmt: skip
        charge = f"{band(sheet.simulated.charge_kg, D.MASS)}, {kind}"
    return BenchPage(
        title=report.title,
        alternative=a.title,
        why=report.chosen_why,
        job_url=job_url,
        appliance=_appliance(report),
        charge=charge,
        time=f"{work} at work, {wait} waiting",
        steps=tuple(_step(i, step) for i, step in enumerate(a.steps, 1)),
        joints=_joints(a.joints),
        never=_never(a.joints),
        ways=_ways(a.joints),
        parts=_parts(report.parts) if report.parts_needed else (),
        frame=frame_lines(report) if a.identifier == BYPASS else (),
        notes=a.notes,
        fine=f"Where a step names no source: {USUAL_SOURCE}.",
    )


def _appliance(report: RepairReport) -> tuple[Fact, ...]:
    s = report.situation
    charge = "not in this job" if s.charge_kg is None else show(s.charge_kg, D.MASS)
    return (
        Fact("Kind", capital(s.kind.replace("_", " "))),
        Fact("Refrigerant", s.refrigerant.name + (", flammable" if s.flammable else "")),
        Fact("Charge on the plate", charge),
        Fact("Circuit is", s.state.value),
    )


def _step(number: int, step: Step) -> StepRow:
    wait = f" and {step.waiting_minutes:.0f}{NBSP}min waiting" if step.waiting_minutes else ""
    return StepRow(
        number, step.title, f"{step.minutes:.0f}{NBSP}min{wait}", step.done, step.cautions,
        step.do, ", ".join(step.tools), capital(step.hold.removeprefix("record: ")),
        "" if step.source == USUAL_SOURCE else capital(step.source),
    )  # fmt: skip


def _joints(plans: Sequence[JointPlan]) -> tuple[JointRow, ...]:
    """Every joint; a way already told in full is told by the number of its joint."""
    told: dict[str, int] = {}
    return tuple(_joint(i, plan, told) for i, plan in enumerate(plans, 1))


def _joint(number: int, plan: JointPlan, told: dict[str, int]) -> JointRow:
    j = plan.joint
    sizes = " in ".join(show(d, D.LENGTH) for d in sorted(j.outside_m))
    metals = " to ".join(m.label for m in j.metals)
    title = f"{capital(j.place.replace('_', ' '))}: {metals}, {sizes}"
    offers = []
    for o in plan.offers[:OFFERS]:
        offers.append(_offer(o, told.get(kind_of(o))))
        told.setdefault(kind_of(o), number)
    return JointRow(number, title, tuple(offers), plan.notes)


def _offer(o: Offer, before: int | None) -> OfferRow:
    lines: tuple[str, ...] = ()
    if o.flame:
        lines = (
            f"{capital(o.fit)}; gap {1e3 * o.clearance_low_m:.2f} to "
            f"{1e3 * o.clearance_high_m:.2f}{NBSP}mm a side; "
            f"overlap {1e3 * o.overlap_m:.0f}{NBSP}mm",
        )
        lines += (
            (f"Flows at: {flows(o)}", f"Flux: {o.flux}. Filler {filler_amount(o)}")
            if before is None
            else (f"Filler {filler_amount(o)}; classes, heat and flux as at joint {before}",)
        )
    elif o.fit:
        lines = (capital(o.fit),)
    return OfferRow(capital(o.method), capital(o.only_when), lines)


def _ways(plans: Sequence[JointPlan]) -> tuple[OfferRow, ...]:
    """How each way shown is done, once."""
    found: dict[str, OfferRow] = {}
    for plan in plans:
        for o in plan.offers[:OFFERS]:
            lines = (*o.how, *((capital(o.nitrogen),) if o.nitrogen else ()), f"Source: {o.source}")
            found.setdefault(o.method, OfferRow(capital(o.method), "", lines))
    return tuple(found.values())


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


def _parts(parts: Parts) -> tuple[Fact, ...]:
    d = parts.drier
    pore = f"{d.pore_angstrom}{NBSP}Å " if d.pore_angstrom else ""
    rows = [Fact("Drier", f"{pore}{d.core}; {d.connections}")]
    if parts.capillary is not None:
        c = parts.capillary
        flow = f"{c.nitrogen.free_litre_per_min:.2f}{NBSP}l/min of nitrogen at 10 bar gauge"
        rows.append(Fact("Capillary, old", f"{old_capillary(parts)}; {flow}"))
        cuts = [
            f"{show(cut.bore_m, D.LENGTH)} x {show(cut.length_m, D.LENGTH)}, flow within "
            f"{100.0 * cut.worst_departure_fraction:.1f}{NBSP}%, "
            f"{cut.nitrogen.free_litre_per_min:.2f}{NBSP}l/min"
            for cut in c.cuts
            if cut.usable
        ][:CUTS]
        rows.append(Fact("Capillary, from stock", "; or ".join(cuts) or "no bore fits"))
    if parts.compressor is not None:
        w = parts.compressor
        rows.append(
            Fact(
                "Compressor, if changed",
                f"{old_displacement(parts)}; {w.ashrae_w:.0f}{NBSP}W ASHRAE, "
                f"{w.cecomaf_w:.0f}{NBSP}W CECOMAF/EN 12900; {w.torque} starting torque; "
                f"{'; '.join(w.must)}",
            )
        )
        rows += [
            Fact(f"Stock: {o.name}", "fits" if o.fits else "; ".join(o.against))
            for o in parts.compressor_stock
        ]
    return tuple(rows)
