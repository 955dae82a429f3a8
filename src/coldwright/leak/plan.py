"""The order of the search: always the block of steps with most chance found per minute.

A block is one set-up (what is inside, tools, covers) with as many places as make its ratio
best: without set-ups this is the order proved best for a search without overlap (D. Blackwell,
notes on dynamic programming, 1962, as told by L. D. Stone, Theory of Optimal Search, 1975).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from coldwright.leak.actions import ANYTHING, WHOLE, Action, change_minutes, setup_minutes
from coldwright.leak.belief import Belief, Problem

FOUND_FROM = 0.9  # a hold has found it where one piece to mend holds so much of the chance; ours
STOP_PER_MINUTE = 0.002  # chance per minute, of what is still possible, not worth going on; ours
LONGEST_MIN = 600.0
JOB_OVERHEAD_MIN = 40.0  # way, talk and papers of any job; ours
DEEPEST = 2  # holds that say yes within a plan
_IN_PART = 0.01  # chance from which an action of a given order is worth it after a yes; ours

Block = tuple[float, list[int]]  # chance per minute, actions


@dataclass(frozen=True, slots=True)
class Bench:
    """What the search may do and where it stands."""

    contents: str
    paid: frozenset[str] = frozenset()
    done: frozenset[int] = frozenset()
    confirmed: bool = False  # a hold of a part said yes: there is a leak in what is left


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the plan, on the path where everything before it found nothing."""

    action: Action
    minutes: float  # with the set-ups it pays for
    setups: tuple[str, ...]
    chance: float  # that this step finds it
    chance_so_far: float
    minutes_so_far: float
    expected_so_far: float = 0.0  # minutes, found ones stopping, branches counted
    says_yes: float = 0.0  # chance that a hold answers yes here
    unit: str = ""  # the piece to mend that a yes points at; empty where it points at none
    then: Plan | None = None  # after a hold that says yes without pointing at one piece


@dataclass(frozen=True, slots=True)
class Plan:
    """Steps and what they promise; chances are of the whole, minutes are expected ones."""

    steps: tuple[Step, ...] = ()
    chance: float = 0.0
    expected_minutes: float = 0.0
    longest_minutes: float = 0.0
    excluded_to: str = ""  # the piece that is left at its end, after a hold said yes
    left: np.ndarray = field(default_factory=lambda: np.zeros(0))  # weights at its end

    @property
    def pays_until(self) -> int:
        """Steps after which the chance found per expected minute is best, the way to a job
        counted: beyond them the next job earns more in the same time (marginal value theorem,
        E. L. Charnov, Theor. Popul. Biol. 9 (1976) 129, from memory)."""
        rates = [s.chance_so_far / (JOB_OVERHEAD_MIN + s.expected_so_far) for s in self.steps]
        return 1 + int(np.argmax(rates)) if rates else 0

    def cut(self, steps: int) -> Plan:
        """Only its first steps."""
        if steps >= len(self.steps):
            return self
        kept = self.steps[:steps]
        last = kept[-1] if kept else None
        return Plan(
            kept,
            last.chance_so_far if last else 0.0,
            last.expected_so_far if last else 0.0,
            last.minutes_so_far if last else 0.0,
        )


@dataclass(frozen=True, slots=True)
class Planner:
    """Actions and the places of the cells, made once for a problem."""

    actions: tuple[Action, ...]
    units: np.ndarray  # piece to mend, for every cell; -1 for none
    unit_names: tuple[str, ...]
    table: np.ndarray  # (actions, cells): chance of a yes

    @classmethod
    def of(cls, problem: Problem, belief: Belief, actions: Sequence[Action]) -> Planner:
        """Over these actions."""
        names = list(dict.fromkeys(p.unit for p in problem.layout.places))
        unit = np.array([names.index(p.unit) for p in problem.layout.places] + [-1])
        table = np.array([a.positive for a in actions])
        return cls(tuple(actions), unit[belief.place], tuple(names), table)

    def plan(self, weight: np.ndarray, bench: Bench, depth: int = 0) -> Plan:
        """The whole plan from here.

        Parameters
        ----------
        weight : array
            Chance of every cell; need not sum to one. [-]
        bench : Bench
            Where the search stands.
        depth : int
            Holds that said yes before. [-]
        """
        trail = _Trail(self, weight, bench, depth)
        while trail.spent < LONGEST_MIN and not trail.excluded():
            chosen = self._best(trail.weight, trail.bench, depth)
            if chosen is None or chosen[0] < STOP_PER_MINUTE * float(trail.weight.sum()):
                break
            for number in chosen[1]:
                trail.take(number)
        return trail.plan()

    def follow(self, numbers: Sequence[int], weight: np.ndarray, bench: Bench) -> Plan:
        """A given order instead of the best one; steps that cannot be taken are left out.

        After a hold that says yes the same order goes on in the part that was held.

        Parameters
        ----------
        numbers : sequence of int
            Actions in their order. [-]
        weight : array
            Chance of every cell. [-]
        bench : Bench
            Where the search stands.
        """
        trail = _Trail(self, weight, bench, DEEPEST)
        for at, number in enumerate(numbers):
            possible = np.isfinite(self.cost(number, trail.bench))
            if not possible or number in trail.bench.done or trail.excluded():
                continue
            yes = trail.weight * self.table[number]
            branch = None
            if not self.located(self.actions[number], yes)[0]:
                worth = self.table @ yes > _IN_PART * float(yes.sum())
                rest = [n for n in numbers[at + 1 :] if worth[n]]
                branch = self.follow(rest, yes, self.after_yes(number, trail.bench))
            trail.take(number, branch)
        return trail.plan()

    def cost(self, number: int, bench: Bench) -> float:
        """Minutes of an action from here, set-ups counted [min]."""
        action = self.actions[number]
        unpaid = [s for s in action.setups if s not in bench.paid]
        change = change_minutes(bench.contents, action.contents)
        return change + sum(map(setup_minutes, unpaid)) + action.minutes

    def after_no(self, number: int, bench: Bench) -> Bench:
        """The bench after an action that said no."""
        action = self.actions[number]
        contents = bench.contents if action.contents == ANYTHING else action.contents
        paid = bench.paid | set(action.setups)
        return replace(bench, contents=contents, paid=paid, done=bench.done | {number})

    def after_yes(self, number: int, bench: Bench) -> Bench:
        """The bench after a hold that said yes: the same part is not held again."""
        target = self.actions[number].target
        same = {n for n, a in enumerate(self.actions) if a.target == target and not a.pinpoints}
        after = self.after_no(number, bench)
        return replace(after, done=after.done | same, confirmed=bench.confirmed or target != WHOLE)

    def one_piece(self, weight: np.ndarray) -> tuple[str, float]:
        """The likeliest piece to mend and its share of all that is held possible.

        Parameters
        ----------
        weight : array
            Chance of every cell. [-]
        """
        inside = self.units >= 0
        total = float(weight.sum())
        if total <= 0.0:
            return "", 0.0
        by_unit = np.bincount(self.units[inside], weight[inside])
        best = int(by_unit.argmax())
        return self.unit_names[best], float(by_unit[best]) / total

    def located(self, action: Action, yes: np.ndarray) -> tuple[str, float]:
        """The piece a yes points at and its share [-]; none for a hold that leaves several."""
        unit, share = self.one_piece(yes)
        if action.pinpoints:
            return unit, 1.0
        if action.target == WHOLE or share < FOUND_FROM:
            return "", 0.0
        return unit, share

    def _best(self, w: np.ndarray, bench: Bench, depth: int) -> Block | None:
        """The block with the best ratio of chance to minutes."""
        best = max(self._blocks(self.table @ w, bench), key=lambda b: b[0], default=None)
        if depth < DEEPEST:
            least = max(best[0] if best else 0.0, STOP_PER_MINUTE * float(w.sum()))
            best = max(self._holds(w, bench, least), key=lambda b: b[0], default=best)
        return best

    def _blocks(self, chances: np.ndarray, bench: Bench) -> list[Block]:
        """For every set of set-ups not yet paid: the places that make its ratio best."""
        free = [
            (n, a, frozenset(a.setups) - bench.paid)
            for n, a in enumerate(self.actions)
            if a.pinpoints and n not in bench.done and chances[n] > 1e-9
        ]
        blocks = []
        for contents, unpaid in {(a.contents, need) for _, a, need in free}:
            start = change_minutes(bench.contents, contents) + sum(map(setup_minutes, unpaid))
            if not np.isfinite(start):
                continue
            usable = [
                n for n, a, need in free if a.contents in (contents, ANYTHING) and need <= unpaid
            ]
            blocks.append(self._prefix(usable, chances, start))
        return blocks

    def _prefix(self, numbers: list[int], chances: np.ndarray, start: float) -> Block:
        """The best beginning of these actions, one for each place, after set-ups of `start` min."""
        by_ratio = sorted(numbers, key=lambda n: -chances[n] / self.actions[n].minutes)
        order: list[int] = []
        seen: set[str] = set()
        total, minutes, best, keep = 0.0, start, 0.0, 0
        for n in by_ratio:
            if self.actions[n].target in seen:
                continue
            seen.add(self.actions[n].target)
            order.append(n)
            total += float(chances[n])
            minutes += self.actions[n].minutes
            if total / minutes > best:
                best, keep = total / minutes, len(order)
        return best, order[:keep]

    def _holds(self, w: np.ndarray, bench: Bench, least: float) -> list[Block]:
        """Holds better than `least`, by what they find at once or by the best block after a yes."""
        blocks: list[Block] = []
        alive = float(w.sum())
        for n, action in enumerate(self.actions):
            cost = self.cost(n, bench)
            if action.pinpoints or n in bench.done or not np.isfinite(cost):
                continue
            yes = w * action.positive
            says = float(yes.sum())
            if says / cost <= least:
                continue
            share = self.located(action, yes)[1]
            if share > 0.0:
                blocks.append((says * share / cost, [n]))
                continue
            nexts = self._blocks(self.table @ yes, self.after_yes(n, bench))
            ratio, order = max(nexts, key=lambda b: b[0], default=(0.0, []))
            if ratio > 0.0:
                found = float((self.table[order] @ yes).sum())
                # The block after a yes costs its minutes only where the answer is yes.
                blocks.append((found / (cost + says / alive * found / ratio), [n]))
        return [block for block in blocks if block[0] > least]


class _Trail:
    """A plan in the making: what is left and where the search stands after each no."""

    def __init__(self, planner: Planner, weight: np.ndarray, bench: Bench, depth: int) -> None:
        self._planner, self._depth = planner, depth
        self.weight, self.bench = weight.copy(), bench
        self.steps: list[Step] = []
        self.spent = 0.0
        self._chance = self._expected = self._longest = 0.0
        self._left = ""

    def excluded(self) -> bool:
        """True once a hold said yes and one piece is all that is left: that counts as found."""
        unit, share = self._planner.one_piece(self.weight)
        if self._left or not self.bench.confirmed or share < FOUND_FROM:
            return bool(self._left)
        self._left = unit
        self._chance += share * float(self.weight.sum())
        return True

    def take(self, number: int, branch: Plan | None = None) -> None:
        """One step; `branch` is what follows a yes that points at no piece, else the best plan."""
        planner, action = self._planner, self._planner.actions[number]
        minutes = planner.cost(number, self.bench)
        setups = tuple(s for s in action.setups if s not in self.bench.paid)
        if action.contents not in (self.bench.contents, ANYTHING):
            setups = (f"fill {action.contents}", *setups)
        self._expected += float(self.weight.sum()) * minutes
        self.spent += minutes
        yes = self.weight * action.positive
        says = float(yes.sum())
        unit, share = planner.located(action, yes)
        found = says * share
        if not unit and branch is None and self._depth < DEEPEST:
            branch = planner.plan(yes, planner.after_yes(number, self.bench), self._depth + 1)
        if branch is not None:
            self._expected += branch.expected_minutes
            self._longest = max(self._longest, self.spent + branch.longest_minutes)
            found = branch.chance
        self._chance += found
        step = Step(action, minutes, setups, found, self._chance, self.spent, self._expected)
        self.steps.append(
            replace(step, says_yes=0.0 if action.pinpoints else says, unit=unit, then=branch)
        )
        self.weight = self.weight - yes
        self.bench = planner.after_no(number, self.bench)

    def plan(self) -> Plan:
        """What came of it."""
        longest = max(self._longest, self.spent)
        return Plan(
            tuple(self.steps), self._chance, self._expected, longest, self._left, self.weight
        )


@dataclass(frozen=True, slots=True)
class Walked:
    """Where following a plan ended: the piece it points at, empty where none, and the time."""

    unit: str
    minutes: float


def walk(plan: Plan, outcome: Callable[[Action], bool], budget_min: float) -> Walked:
    """Follow a plan until it points at a piece to mend, ends, or the time is up.

    Parameters
    ----------
    plan : Plan
        What is followed.
    outcome : callable
        Says whether an action answers yes.
    budget_min : float
        Time there is. [min]

    Returns
    -------
    Walked
        Where it ended, empty if nowhere, and the time spent. [min]
    """
    spent = 0.0
    for step in plan.steps:
        spent += step.minutes
        if spent > budget_min:
            return Walked("", budget_min)
        if not outcome(step.action):
            continue
        if step.unit:
            return Walked(step.unit, spent)
        if step.then is not None:
            deeper = walk(step.then, outcome, budget_min - spent)
            return Walked(deeper.unit, spent + deeper.minutes)
    return Walked(plan.excluded_to, spent)
