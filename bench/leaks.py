"""Simulated leaks: the plan against fixed orders, and whether its chances hold.

Run as `python -m bench.leaks [--jobs N] [--seed N] [--write]`; some two minutes for 200 jobs.
`--write` puts the tables into docs/leaks.md. The same leaks, and the same luck of each step,
for every order; leaks are drawn from what the plan holds possible, then from other shares
and with weaker methods than it believes in.
"""

from __future__ import annotations

import argparse
import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from coldwright.catalogue.leak_methods import USUAL_TOOLS
from coldwright.leak.actions import Action, hold_actions, place_actions
from coldwright.leak.belief import Belief, Problem, air_seen, belief_of
from coldwright.leak.gases import GASES
from coldwright.leak.history import pace_of_loss
from coldwright.leak.places import Layout, layout_of, with_shares
from coldwright.leak.plan import Bench, Plan, Planner, walk
from coldwright.leak.sides import Setting
from coldwright.readings.job import CircuitSeen, History, Job, Plate

SEED = 20260307
PAGE = Path(__file__).parents[1] / "docs" / "leaks.md"
TIMES = (30.0, 60.0, 120.0, 240.0)
MONTH_S = 31_557_600.0 / 12.0
CIRCUITS = (  # kind, condenser, evaporator, layout; an even mix of what is met, ours
    ("top_mount", "static", "fan", "frame_loop"),
    ("top_mount", "skin", "plate", "plain"),
    ("single_door", "static", "plate", "plain"),
    ("bottom_mount", "skin", "fan", "frame_loop"),
    ("side_by_side", "fan", "fan", "frame_loop"),
    ("upright_freezer", "static", "plate", "plain"),
    ("chest_freezer", "skin", "cold_wall", "plain"),
    ("compact", "static", "plate", "plain"),
)
REFRIGERANTS = ("R134a", "R600a", "R12", "R290")
SHARES = (0.45, 0.4, 0.1, 0.05)


@dataclass(frozen=True, slots=True)
class Case:
    """One simulated job: what the plan knows, and the truth it does not."""

    problem: Problem
    belief: Belief
    planner: Planner
    cell: int  # the true cell
    luck: dict[int, float]  # one uniform number for each action, by its identity
    strength: float  # share of its believed chance that a method really has

    @property
    def unit(self) -> str:
        """The piece that leaks, empty where none does."""
        number = int(self.planner.units[self.cell])
        return "" if number < 0 else self.planner.unit_names[number]

    def says(self, action: Action) -> bool:
        """Whether an action answers yes at the truth."""
        chance = float(action.positive[self.cell])
        if action.pinpoints:
            chance *= self.strength
        return self.luck[id(action)] < chance


def draw(rng: np.random.Generator, tilt: float = 0.0, strength: float = 1.0) -> Case:
    """One job with its leak.

    Parameters
    ----------
    rng : numpy.random.Generator
        Source of chance.
    tilt : float
        Log standard deviation by which the true shares differ from the believed ones. [-]
    strength : float
        Share of its believed chance that a method really has. [-]
    """
    kind, condenser, evaporator, layout = CIRCUITS[rng.integers(len(CIRCUITS))]
    refrigerant = str(rng.choice(REFRIGERANTS, p=SHARES))
    charge = {"R600a": 0.055, "R290": 0.07}.get(refrigerant, 0.12) * rng.lognormal(0.0, 0.2)
    lost = charge * rng.uniform(0.25, 0.85)
    months = float(np.exp(rng.uniform(np.log(1.0), np.log(36.0))))
    job = Job(
        "simulated", "", Plate(kind, refrigerant=refrigerant, charge_kg=charge),
        CircuitSeen(layout=layout, condenser=condenser, evaporator=evaporator),
        history=History(
            age_s=rng.uniform(3.0, 20.0) * 12 * MONTH_S, earlier_repair=bool(rng.random() < 0.25)
        ),
    )  # fmt: skip
    believed = layout_of(job)
    flammable = refrigerant in ("R600a", "R290")
    problem = Problem(
        layout=believed,
        setting=Setting(GASES[refrigerant], 296.15, charge_left_kg=charge - lost),
        pace=pace_of_loss(lost, months * MONTH_S, charge),
        refrigerant=refrigerant,
        flammable=flammable,
        lost_kg=lost,
        time_s=months * MONTH_S,
        draught=int(rng.integers(3)),
        test_gauge_pa=1e6,
        tools=USUAL_TOOLS,
        may_run=not flammable and lost < 0.5 * charge,
    )
    true = replace(problem, layout=_tilted(believed, rng, tilt))
    truth = belief_of(true)
    cell = int(rng.choice(len(truth.weight), p=truth.weight))
    if rng.random() < 0.5:  # in half the jobs somebody looked for air
        drawn = bool(rng.random() < air_seen(problem, truth)[cell])
        problem = replace(problem, air_drawn_in=drawn)
    belief = belief_of(problem)
    actions = place_actions(problem, belief) + hold_actions(problem, belief)
    planner = Planner.of(problem, belief, actions)
    luck = {id(a): float(u) for a, u in zip(actions, rng.random(len(actions)), strict=True)}
    return Case(problem, belief, planner, cell, luck, strength)


def _tilted(layout: Layout, rng: np.random.Generator, tilt: float) -> Layout:
    moved = {p.identifier: p.share * rng.lognormal(0.0, tilt) for p in layout.places}
    return with_shares(layout, moved)


Order = Callable[[Case], list[int]]


def _pick(case: Case, method: str, contents: str, places: Sequence[str]) -> list[int]:
    at = {
        a.target: n
        for n, a in enumerate(case.planner.actions)
        if a.pinpoints and a.method == method and a.contents == contents
    }
    return [at[p] for p in places if p in at]


def _holds(case: Case, *targets: str, hours: float) -> list[int]:
    return [
        n
        for target in targets
        for n, a in enumerate(case.planner.actions)
        if a.method == "pressure_hold" and a.target == target and a.hours == hours
    ]


def _flow(case: Case) -> list[str]:
    return [p.identifier for p in case.problem.layout.places]


def _joints_first(case: Case) -> list[str]:
    return sorted(_flow(case), key=lambda p: not (p.endswith("_joint") or p == "process_tube"))


def _by_share(case: Case) -> list[str]:
    chances = case.belief.by_place(len(case.problem.layout.places))
    return [_flow(case)[n] for n in np.argsort(-chances)]


def _sniff(case: Case, places: Sequence[str]) -> list[int]:
    tool = "combustible_gas_detector" if case.problem.flammable else "heated_diode_detector"
    return _pick(case, tool, "refrigerant", places)


def _soap(case: Case, places: Sequence[str], contents: str = "nitrogen") -> list[int]:
    return _pick(case, "bubble_test", contents, places)


def _trace(case: Case, places: Sequence[str]) -> list[int]:
    return _pick(case, "tracer_gas", "hydrogen_mixture", places)


def _eyes(case: Case, places: Sequence[str]) -> list[int]:
    return _pick(case, "visual", "any", places)


def _foam(case: Case) -> list[str]:
    held = {a.target for a in case.planner.actions if a.method == "pressure_hold"}
    return sorted(held - {"whole_circuit", "high_side", "low_side"})


ORDERS: dict[str, Order] = {
    "soap along the flow, then nitrogen and soap": lambda c: (
        _soap(c, _flow(c), "refrigerant") + _soap(c, _flow(c))
    ),
    "detector along the flow, then nitrogen and soap": lambda c: (
        _sniff(c, _flow(c)) + _soap(c, _flow(c))
    ),
    "eyes, then detector, then tracer, along the flow": lambda c: (
        _eyes(c, _flow(c)) + _sniff(c, _flow(c)) + _trace(c, _flow(c))
    ),
    "detector, joints first, then tracer, joints first": lambda c: (
        _sniff(c, _joints_first(c)) + _trace(c, _joints_first(c))
    ),
    "nitrogen and soap at once, joints first": lambda c: _soap(c, _joints_first(c)),
    "tracer at once, along the flow": lambda c: _trace(c, _flow(c)),
    "likeliest places first: detector, then tracer": lambda c: (
        _sniff(c, _by_share(c)) + _trace(c, _by_share(c))
    ),
    "halves held for half an hour, then soap": lambda c: (
        _holds(c, "low_side", "high_side", hours=0.5) + _soap(c, _flow(c))
    ),
    "detector, tracer, then foam held overnight": lambda c: (
        _sniff(c, _flow(c)) + _trace(c, _flow(c))
        + _holds(c, "low_side", "high_side", *_foam(c), hours=16.0)
    ),
    "eyes, soap, detector, tracer, holds, likeliest first": lambda c: (
        _eyes(c, _by_share(c)) + _soap(c, _by_share(c), "refrigerant") + _sniff(c, _by_share(c))
        + _trace(c, _by_share(c)) + _holds(c, "low_side", "high_side", *_foam(c), hours=16.0)
    ),
}  # fmt: skip
PLAN = "the plan"


@dataclass(frozen=True, slots=True)
class Score:
    """What one order did over all cases, by the time allowed for a job."""

    name: str
    found: dict[float, int]
    hours: dict[float, float]  # of work, all jobs together
    wrong: int  # pointed at a piece that does not leak

    def per_hour(self, minutes: float) -> float:
        """Leaks found in an hour of work, no job longer than that [1/h].

        Parameters
        ----------
        minutes : float
            Allowed for a job. [min]
        """
        return self.found[minutes] / self.hours[minutes]


@dataclass(frozen=True, slots=True)
class Promise:
    """Chance found that the plan promised by a time, against what came of it."""

    promised: np.ndarray  # (cases, times)
    kept: np.ndarray  # the same, 0 or 1


def play(cases: Sequence[Case]) -> tuple[list[Score], Promise]:
    """Every order on every case."""
    names = [PLAN, *ORDERS]
    found = {name: dict.fromkeys(TIMES, 0) for name in names}
    hours = {name: dict.fromkeys(TIMES, 0.0) for name in names}
    wrong = dict.fromkeys(names, 0)
    promised, kept = [], []
    for case in cases:
        bench = Bench("refrigerant")
        plans = {PLAN: case.planner.plan(case.belief.weight, bench)}
        for name, order in ORDERS.items():
            plans[name] = case.planner.follow(order(case), case.belief.weight, bench)
        for name, plan in plans.items():
            ended = walk(plan, case.says, TIMES[-1])
            right = ended.unit != "" and ended.unit == case.unit
            wrong[name] += ended.unit != "" and not right
            for time in TIMES:
                found[name][time] += right and ended.minutes <= time
                hours[name][time] += min(ended.minutes, time) / 60.0
            if name == PLAN:
                promised.append([chance_by(plan, t) for t in TIMES])
                kept.append([float(right and ended.minutes <= t) for t in TIMES])
    scores = [Score(n, found[n], hours[n], wrong[n]) for n in names]
    return scores, Promise(np.array(promised), np.array(kept))


def chance_by(plan: Plan, minutes: float) -> float:
    """Chance that a plan has found it by then, branches after a yes included [-].

    Parameters
    ----------
    plan : Plan
        What is followed.
    minutes : float
        Time spent. [min]
    """
    total, spent = 0.0, 0.0
    for step in plan.steps:
        spent = step.minutes_so_far
        if spent > minutes:
            return total
        total += chance_by(step.then, minutes - spent) if step.then else step.chance
    if plan.excluded_to:
        total = plan.chance
    return total


def calibration(promise: Promise, edges: Sequence[float]) -> list[tuple[float, float, int]]:
    """Mean promise, share kept and number of promises in each band of promises."""
    p, k = promise.promised.ravel(), promise.kept.ravel()
    rows = []
    for low, high in itertools.pairwise(edges):
        inside = (p >= low) & (p < high)
        if inside.any():
            rows.append((float(p[inside].mean()), float(k[inside].mean()), int(inside.sum())))
    return rows


EDGES = (0.0, 0.2, 0.4, 0.6, 0.8, 0.9, 1.01)
WORLDS = (
    ("as the plan believes", 0.0, 1.0),
    ("other shares (each moved by a factor of e^±0.7)", 0.7, 1.0),
    ("other shares, and methods that find a fifth less", 0.7, 0.8),
)


def report(jobs: int, seed: int) -> str:
    """The tables as Markdown."""
    lines = []
    for number, (words, tilt, strength) in enumerate(WORLDS):
        rng = np.random.default_rng([seed, number])
        scores, promise = play([draw(rng, tilt, strength) for _ in range(jobs)])
        lines += [f"**{jobs} leaks, {words}** (seed {seed})", ""]
        lines += [
            "| order | 30 min | 60 min | 120 min | 240 min | wrong |",
            "|---|---|---|---|---|---|",
        ]
        for s in [scores[0], *sorted(scores[1:], key=lambda s: -s.per_hour(60.0))]:
            cells = " | ".join(f"{s.found[t]} ({s.per_hour(t):.2f}/h)" for t in TIMES)
            lines.append(f"| {s.name} | {cells} | {s.wrong} |")
        lines += ["", "| chance promised | kept | promises |", "|---|---|---|"]
        lines += [f"| {p:.2f} | {k:.2f} | {n} |" for p, k, n in calibration(promise, EDGES)]
        lines.append("")
    return "\n".join(lines)


def main() -> None:
    """Print the tables, or write them into the page."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--jobs", type=int, default=200)
    parser.add_argument("--seed", type=int, default=SEED)
    parser.add_argument("--write", action="store_true", help="into docs/leaks.md")
    given = parser.parse_args()
    text = report(given.jobs, given.seed)
    print(text)
    if given.write:
        page = PAGE.read_text(encoding="utf-8")
        head, _, rest = page.partition("<!-- bench.leaks -->\n")
        tail = rest.partition("<!-- end of bench.leaks -->")[2]
        marked = f"<!-- bench.leaks -->\n{text}<!-- end of bench.leaks -->"
        PAGE.write_text(head + marked + tail, encoding="utf-8")


if __name__ == "__main__":
    main()
