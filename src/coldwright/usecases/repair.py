"""Repair or replace: where job, shop, diagnosis, simulator and prices meet."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import fields

import numpy as np

from coldwright import __version__
from coldwright.case.background import SEED, THIS_YEAR
from coldwright.case.case import Case
from coldwright.diagnosis.ensemble import MEMBERS
from coldwright.diagnosis.posterior import Posterior
from coldwright.diagnosis.result import Diagnosis
from coldwright.errors import NotSolved, Refused
from coldwright.faults.registry import fault_named
from coldwright.learning.experience import background_of
from coldwright.learning.proven import Proven
from coldwright.readings.job import Job
from coldwright.readings.mending import EFFECTS
from coldwright.readings.shop import NO_SHOP, Shop
from coldwright.repair.alternative_records import Alternative
from coldwright.repair.alternatives import alternatives_for
from coldwright.repair.causes import Cause, causes_of, settled_cause
from coldwright.repair.changes import AsBuilt, Change, loop_share
from coldwright.repair.dew import FrameDew
from coldwright.repair.joints import plan_joint
from coldwright.repair.places import joint_seen
from coldwright.repair.simulated import Frame, Herd, Simulated, faulty_energy, simulate_change
from coldwright.repair.situation import situation_of
from coldwright.repair.together import with_pairs
from coldwright.usecases.diagnose import diagnosis_of
from coldwright.usecases.repair_herd import herd_of, new_like_it, severities
from coldwright.worth.accounts import Energies
from coldwright.worth.choice import (
    BYPASS,
    age_note,
    chosen,
    may_win,
    opening_note,
    with_heater,
    with_mass,
)
from coldwright.worth.flips import Flip, flips
from coldwright.worth.job_world import mean_room, rule_sample, world_of, yardstick_of
from coldwright.worth.parts import dew_of, parts_of
from coldwright.worth.report import Considered, RepairReport
from coldwright.worth.verdict import Spread, missing_prices, verdict
from coldwright.worth.world import draw, life_left

DRAWS = 4000


def repair(
    job: Job,
    *,
    shop: Shop = NO_SHOP,
    alternative: str | None = None,
    years: float | None = None,
    seed: int = SEED,
    members: int = MEMBERS,
    this_year: int = THIS_YEAR,
    diagnosis: Diagnosis | None = None,
    proven: Proven | None = None,
    progress: Callable[[str], None] | None = None,
) -> RepairReport:
    """Alternatives with their worth, joints, parts and steps.

    Parameters
    ----------
    job : Job
        The job with its table [repair] and its prices.
    shop : Shop
        Rates, prices and stock; the job's own prices go before.
    alternative : str, optional
        Whose sheet is wanted; else the job's, else the cheapest one.
    years : float, optional
        Over how many years all are compared. [a]
    seed : int
        Of all draws. [-]
    members : int
        Simulated appliances. [-]
    this_year : int
        For an age where only the year of manufacture is known. [a]
    diagnosis : Diagnosis, optional
        If it was already made.
    proven : Proven, optional
        As in `diagnose`.
    progress : callable, optional
        Told a line when something takes more than a second.

    Returns
    -------
    RepairReport
        The whole report.

    Raises
    ------
    BadInput
        If the alternative asked for is none, or the stated cause is unknown.
    Refused
        If neither diagnosis nor the job says what is wrong.
    """
    background = background_of(
        seed=seed, members=members, shop=shop, this_year=this_year, proven=proven
    )
    case = Case(job, background, progress)
    return repair_of(case, alternative=alternative, years=years, diagnosis=diagnosis)


def repair_of(
    case: Case,
    *,
    alternative: str | None = None,
    years: float | None = None,
    diagnosis: Diagnosis | None = None,
) -> RepairReport:
    """Alternatives with their worth, joints, parts and steps, by the posterior of a case.

    Parameters
    ----------
    case : Case
        The job with its table [repair], and shop, prices and proven jobs in its background.
    alternative : str, optional
        Whose sheet is wanted; else the job's, else the cheapest one.
    years : float, optional
        Over how many years all are compared. [a]
    diagnosis : Diagnosis, optional
        Of this case, if it was already made.

    Returns
    -------
    RepairReport
        Of the alternatives, the cheapest first.

    Raises
    ------
    BadInput
        If the alternative asked for is none, or the stated cause is unknown.
    Refused
        If neither diagnosis nor the job says what is wrong.
    """
    job, shop, progress = case.job, case.background.shop, case.progress
    seed, this_year = case.background.seed, case.background.this_year
    situation = situation_of(job, this_year)
    if diagnosis is None:
        diagnosis = diagnosis_of(case)
    causes = causes_of(job, situation, diagnosis)
    settled = settled_cause(job, situation)
    if not causes:
        raise Refused(
            f"no odds to build on ({diagnosis.refused})",
            ("state [repair] cause", "note the leak that was found under [[tried]]"),
        )
    found = herd_of(case)
    herd, posterior, notes = found.herd, found.posterior, found.notes
    share = loop_share(situation.frame_loop_length_m, _tube(herd))
    offered, barred = alternatives_for(situation, job.mending.joints, share)
    offered = with_pairs(offered, causes)
    room = mean_room(job, shop)
    if progress is not None and herd is not None:
        progress("simulating the changed circuits")
    simulated, trouble = _simulated(herd, offered, room)
    fresh = None
    if herd is not None and found.subject is not None:
        fresh = new_like_it(found.subject.known, this_year, room, herd.supply_v, seed + 4)
    yard = yardstick_of(situation, job, shop, simulated.get(AsBuilt()), fresh)
    world = world_of(job, situation, shop, diagnosis, causes, years, yard.new_kwh)
    dew = dew_of(job, situation, shop, room, _frame(simulated, offered))
    offered = with_mass(with_heater(offered, dew), simulated, situation.charge_kg)
    energies = _energies(
        offered, simulated, _faulty(herd, posterior, causes, room, seed), rule_sample(yard), dew
    )
    draws = draw(np.random.default_rng(seed + 2), DRAWS)
    result = verdict(offered, world, draws, causes, energies)
    turned: tuple[Flip, ...] = ()
    if not missing_prices(world):
        few = draw(np.random.default_rng(seed + 2), DRAWS // 2)
        turned = flips(may_win(offered, result, causes), world, few, causes, energies)
    sheet, why = chosen(job, alternative, offered, result)
    by_name = {a.identifier: a for a in offered}
    notes += trouble + age_note(situation) + opening_note(diagnosis, settled, by_name[sheet])
    return RepairReport(
        job=job.source,
        title=job.title,
        situation=situation,
        shop=shop,
        world=world,
        causes=causes,
        settled=settled,
        considered=tuple(
            Considered(by_name[w.alternative], w, _of(simulated, by_name[w.alternative]))
            for w in result.worths
        ),
        not_offered=barred,
        verdict=result,
        flips=turned,
        chosen=sheet,
        chosen_why=why,
        joints_asked=tuple(
            plan_joint(joint_seen(situation, s), situation.surrounding) for s in job.mending.joints
        ),
        parts=parts_of(job, situation, shop, herd, by_name),
        dew=dew,
        yardstick=yard,
        life_left=Spread.of(life_left(world, draws)),
        missing=tuple(
            (f.name.removesuffix("_fraction"), EFFECTS[f.name])
            for f in fields(world.prices)
            if getattr(world.prices, f.name) is None
        ),
        notes=notes,
        seed=seed,
        model=f"coldwright {__version__}",
    )


def _tube(herd: Herd | None) -> float:
    if herd is None:
        return 12.0  # a usual high side; judgement of ours
    return float(np.median(herd.members.circuits["condenser"]["tube_length_m"]))


def _simulated(
    herd: Herd | None, offered: tuple[Alternative, ...], room: float
) -> tuple[dict[Change, Simulated], tuple[str, ...]]:
    if herd is None:
        return {}, ()
    found: dict[Change, Simulated] = {}
    trouble = []
    for change in dict.fromkeys(a.change for a in offered if a.change is not None):
        try:
            found[change] = simulate_change(herd, change, room)
        except NotSolved as error:
            trouble.append(f"{change.label}: not simulated ({error}).")
    return found, tuple(trouble)


def _of(simulated: Mapping[Change, Simulated], alternative: Alternative) -> Simulated | None:
    return simulated.get(alternative.change) if alternative.change is not None else None


def _frame(simulated: Mapping[Change, Simulated], offered: tuple[Alternative, ...]) -> Frame | None:
    passed = next((_of(simulated, a) for a in offered if a.identifier == BYPASS), None)
    return None if passed is None else passed.frame


def _faulty(
    herd: Herd | None,
    posterior: Posterior | None,
    causes: tuple[Cause, ...],
    room: float,
    seed: int,
) -> np.ndarray | None:
    """Energy a year of the appliance left with its leading fault, None where not known."""
    fault = fault_named(causes[0].faults[0])
    if herd is None or posterior is None or fault.ways or fault.effect is None or fault.rare:
        return None
    count = herd.members.circuits.shape[0]
    severity = severities(posterior, (fault.identifier,), count, np.random.default_rng(seed + 3))
    return faulty_energy(herd, fault.effect, severity, room)


def _energies(
    offered: tuple[Alternative, ...],
    simulated: Mapping[Change, Simulated],
    faulty: np.ndarray | None,
    rule: np.ndarray,
    dew: FrameDew | None,
) -> dict[str, Energies]:
    built = simulated.get(AsBuilt())
    usual = rule if built is None else built.energy_kwh_year
    out = {}
    for a in offered:
        own = _of(simulated, a)
        sample = usual if own is None else own.energy_kwh_year
        if a.identifier == BYPASS and dew is not None:
            sample = sample + (dew.heater_kwh_year or 0.0)
        out[a.identifier] = Energies(sample, usual if faulty is None else faulty)
    return out
