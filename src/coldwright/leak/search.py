"""The search plan of a job: where it may leak, what to try in which order, what it promises."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from coldwright.catalogue.leak_cautions import leak_cautions, sentences
from coldwright.catalogue.leak_methods import METHODS, USUAL_TOOLS, why_barred
from coldwright.catalogue.unmeasured import UNMEASURED
from coldwright.errors import Refused
from coldwright.leak import tried as history
from coldwright.leak.actions import hold_actions, hold_noise, place_actions
from coldwright.leak.belief import Problem, belief_of
from coldwright.leak.flow import Across
from coldwright.leak.gases import GASES
from coldwright.leak.history import MONTH_S, Pace, pace_of_loss, usual_pace
from coldwright.leak.hold_reach import HoldNoise, as_refrigerant, throughput_of_grams, time_needed
from coldwright.leak.limits import PressureLimit, field_limit
from coldwright.leak.places import layout_of
from coldwright.leak.plan import Plan, Planner, Step
from coldwright.leak.pressure_hold import SMALL_LEAK_G_YR
from coldwright.leak.questions import lost_of, rating_of, room_of, volume_of
from coldwright.leak.sides import HIGH_VOLUME_M3, Setting, gas_of, stands_for
from coldwright.readings.job import Job
from coldwright.readings.keys import DRAUGHTS, LEAK_METHODS
from coldwright.refrigerant.facts import refrigerant_facts

USUAL_LOST = 0.4  # share of the charge missing where nobody weighed it, ours
UNWEIGHED_LOG_SD = 0.9  # of a pace whose loss is a guess, ours


@dataclass(frozen=True, slots=True)
class PlaceChance:
    """How likely the leak is at a place, now."""

    place: str
    probability: float
    side: str
    in_foam: bool
    why: str


@dataclass(frozen=True, slots=True)
class SearchStep:
    """One step; the chances are counted from now."""

    method: str
    place: str
    circuit_holds: str
    set_up: tuple[str, ...]
    minutes: float
    hold_hours: float
    chance_found: float
    chance_so_far: float
    minutes_so_far: float
    chance_of_yes: float | None  # of a hold
    opens_circuit: bool
    after_yes: tuple[str, ...]  # what would follow a hold that says yes, in short
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HoldSight:
    """What a nitrogen hold of the whole circuit sees here."""

    hours: float
    from_g_yr: tuple[float, float]


@dataclass(frozen=True, slots=True)
class SearchReport:
    """What `leak search` says."""

    job: str
    title: str
    refrigerant: str
    pace: Pace
    located: str  # place found, empty where none
    by_exclusion: str  # piece that is left if every step says no, after a hold said yes
    places: tuple[PlaceChance, ...]  # likeliest first
    nothing_to_find: float
    steps: tuple[SearchStep, ...]
    chance_found: float
    expected_minutes: float
    longest_minutes: float
    pays_until_minutes: float  # beyond them the next job earns more in the same time
    barred: tuple[tuple[str, str], ...]
    hold_sight: tuple[HoldSight, ...]
    small_leak_hold_s: float  # infinite: no hold shows it
    test_limit: PressureLimit
    notes: tuple[str, ...]
    cautions: tuple[str, ...]


def leak_search(job: Job, shop: Mapping[str, int] | None = None) -> SearchReport:
    """The plan from what the job says, everything tried counted in.

    Parameters
    ----------
    job : Job
        Plate, history, signs, [leak] and what was tried.
    shop : mapping of str to int, optional
        Finds of the shop's own jobs by place. [-]

    Returns
    -------
    SearchReport
        Pace, places with chances [-], plan with times [min], cautions.

    Raises
    ------
    BadInput
        If nothing is held of the refrigerant.
    """
    notes = [*stands_for(job.plate.refrigerant)]
    problem = problem_of(job, shop, notes)
    contents = contents_of(job)
    belief = history.after(problem, belief_of(problem), job.tried, contents)
    found = history.located(job.tried)
    actions = place_actions(problem, belief) + hold_actions(problem, belief)
    planner = Planner.of(problem, belief, actions)
    bench = history.bench_after(job.tried, actions, contents)
    plan = Plan() if found else planner.plan(belief.weight, bench)
    if found:
        notes.insert(0, f"Found at the {found.replace('_', ' ')}: mend it, then prove it.")
    if plan.excluded_to and not plan.steps:
        notes.insert(0, f"By exclusion: {plan.excluded_to.replace('_', ' ')}.")
    chances = belief.by_place(len(problem.layout.places))
    places = [
        PlaceChance(p.identifier, float(c), p.side, p.reach.value == "foam", p.why)
        for p, c in zip(problem.layout.places, chances, strict=True)
    ]
    sight, small = _hold_sight(problem)
    return SearchReport(
        job=job.source,
        title=job.title,
        refrigerant=job.plate.refrigerant,
        pace=problem.pace,
        located=found,
        by_exclusion=plan.excluded_to,
        places=tuple(sorted(places, key=lambda p: -p.probability)),
        nothing_to_find=belief.nothing,
        steps=tuple(_step(s, job.plate.refrigerant) for s in plan.steps),
        chance_found=plan.chance,
        expected_minutes=plan.expected_minutes,
        longest_minutes=plan.longest_minutes,
        pays_until_minutes=plan.cut(plan.pays_until).longest_minutes,
        barred=_barred(problem),
        hold_sight=sight,
        small_leak_hold_s=small,
        test_limit=_limit(job),
        notes=tuple(notes),
        cautions=sentences(leak_cautions(job.plate.refrigerant, instrument=True)),
    )


def shop_finds(jobs: Iterable[Job]) -> dict[str, int]:
    """Finds by place in a shop's jobs: one for each job in which a place method said yes.

    Parameters
    ----------
    jobs : iterable of Job
        Jobs of the shop.

    Returns
    -------
    dict
        Number of finds by place. [-]
    """
    places = (history.located(job.tried) for job in jobs)
    return dict(Counter(place for place in places if place))


def contents_of(job: Job) -> str:
    """What is inside the circuit now.

    Parameters
    ----------
    job : Job
        The job, read and checked.

    Returns
    -------
    str
        Word of the registry: 'refrigerant', a test gas or 'nothing'.
    """
    if job.leak.circuit_holds is not None:
        return job.leak.circuit_holds
    return "nothing" if job.reading("recovered_mass") is not None else "refrigerant"


def problem_of(job: Job, shop: Mapping[str, int] | None, notes: list[str]) -> Problem:
    """The search problem of a job.

    Parameters
    ----------
    job : Job
        The job.
    shop : mapping of str to int or None
        Finds of the shop's own jobs by place. [-]
    notes : list of str
        What had to be assumed is put in here.

    Returns
    -------
    Problem
        All that the search rests on.
    """
    gas = gas_of(job.plate.refrigerant, file=job.source, key="plate.refrigerant")
    layout = layout_of(job, shop)
    notes.extend(layout.notes)
    charge = job.plate.charge_kg if job.plate.charge_applies is not False else None
    lost, months = lost_of(job, charge, None), job.history.months_since_ok
    pace = _pace(lost, months, charge, notes)
    assumed = USUAL_LOST * (charge or UNMEASURED.charge_kg)
    facts = refrigerant_facts(job.plate.refrigerant)
    left = None if charge is None else max(charge - (lost if lost is not None else assumed), 0.0)
    total = volume_of(job)
    setting = Setting(
        gas, room_of(job), job.room.air_pressure_pa, total,
        min(HIGH_VOLUME_M3, 0.5 * total), left,
    )  # fmt: skip
    silent = job.sign("compressor_silent")
    works = silent is None or not silent.seen
    half = charge is None or left is None or left >= 0.5 * charge
    return Problem(
        layout=layout,
        setting=setting,
        pace=pace,
        refrigerant=job.plate.refrigerant,
        flammable=facts.flammable,
        lost_kg=lost if lost is not None else assumed,
        time_s=(months or 12.0) * MONTH_S,
        draught=DRAUGHTS.index(job.leak.draught or "still"),
        test_gauge_pa=_limit(job).gauge_pa,
        tools=job.leak.instruments or USUAL_TOOLS,
        # A flammable circuit that may have drawn in air is not run.
        may_run=works and half and not (facts.flammable and job.leak.air_drawn_in is not False),
        air_drawn_in=job.leak.air_drawn_in,
    )


def _pace(lost: float | None, months: float | None, charge: float | None, notes: list[str]) -> Pace:
    if lost is not None and months:
        return pace_of_loss(lost, months * MONTH_S, charge)
    if months:
        guess = USUAL_LOST * (charge or UNMEASURED.charge_kg)
        notes.append("How much is missing was not weighed: about two fifths of the charge taken.")
        pace = pace_of_loss(guess, months * MONTH_S, charge)
        return Pace(pace.median_g_yr, UNWEIGHED_LOG_SD, "a guessed loss over the time it took")
    notes.append("Months since it worked well not given: the rate is a broad guess.")
    return usual_pace()


def _limit(job: Job) -> PressureLimit:
    try:
        return field_limit(rating_of(job, "high_side"), rating_of(job, "low_side"))
    except Refused:
        return PressureLimit(0.5e5, "the plate's rating allows hardly any pressure")


def _barred(problem: Problem) -> tuple[tuple[str, str], ...]:
    reasons = (
        (name, why_barred(name, problem.refrigerant, problem.flammable)) for name in LEAK_METHODS
    )
    return tuple((name, why) for name, why in reasons if why)


def _hold_sight(problem: Problem) -> tuple[tuple[HoldSight, ...], float]:
    setting = problem.complete
    pressure = setting.air_pa + problem.test_gauge_pa
    state = Across(GASES["nitrogen"], pressure, setting.air_pa, setting.room_k)
    sights = []
    for hours in (0.5, 16.0):
        seen = 2.0 * 1.645 * hold_noise(problem, setting.total_m3, hours)
        sights.append(HoldSight(hours, as_refrigerant(seen, state, setting)))
    small = throughput_of_grams(SMALL_LEAK_G_YR, state, setting)[0]
    needs = time_needed(HoldNoise(), pressure, setting.room_k, setting.total_m3, small)
    return tuple(sights), needs


def _step(step: Step, refrigerant: str) -> SearchStep:
    action = step.action
    filled = any(s.startswith("fill") for s in step.setups)
    opens = filled or any(s.startswith("cut") for s in step.setups)
    pressed = action.contents in ("nitrogen", "hydrogen_mixture", "helium") and filled
    powered = action.method in METHODS and METHODS[action.method].powered
    tool = any(s.startswith("tool") for s in step.setups)
    shown: tuple[str, ...] = ()
    if opens or (powered and tool):
        shown = sentences(
            leak_cautions(refrigerant, nitrogen=pressed, opens=opens, instrument=powered)
        )
    follow: tuple[str, ...] = ()
    if step.then is not None:
        follow = tuple(f"{s.action.method} {s.action.target}" for s in step.then.steps[:4])
    return SearchStep(
        method=action.method,
        place=action.target,
        circuit_holds=action.contents,
        set_up=step.setups,
        minutes=step.minutes,
        hold_hours=action.hours,
        chance_found=step.chance,
        chance_so_far=step.chance_so_far,
        minutes_so_far=step.minutes_so_far,
        chance_of_yes=None if action.pinpoints else step.says_yes,
        opens_circuit=opens,
        after_yes=follow,
        cautions=shown,
    )


def first_minutes(report: SearchReport, minutes: float) -> float:
    """Chance that the plan has found it after so many minutes [-].

    Parameters
    ----------
    report : SearchReport
        The plan.
    minutes : float
        Time spent. [min]

    Returns
    -------
    float
        Probability. [-]
    """
    reached = [s.chance_so_far for s in report.steps if s.minutes_so_far <= minutes + 1e-9]
    return math.fsum(reached[-1:])
