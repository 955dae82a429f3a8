"""What was tried so far, as likelihoods and as set-ups that need not be paid again."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

import numpy as np

from coldwright.catalogue.leak_methods import METHODS
from coldwright.leak.actions import (
    ANYTHING,
    TEST_GASES,
    WHOLE,
    Action,
    detection,
    hold_noise,
    hold_positive,
    parts,
)
from coldwright.leak.belief import Belief, Problem, throughput_under_test, vacuum_throughput
from coldwright.leak.plan import Bench
from coldwright.readings.job import Tried

WRONG_YES = 0.002  # a place method that says yes where nothing leaks, looked at twice; ours
ENOUGH = 0.5  # of a method's usual minutes from which a place counts as done
HOLDS = ("pressure_hold", "vacuum_hold")


def after(problem: Problem, belief: Belief, tried: Sequence[Tried], contents: str) -> Belief:
    """The belief after everything tried; times at one place with one method add up.

    Parameters
    ----------
    problem : Problem
        The circuit.
    belief : Belief
        Before.
    tried : sequence of Tried
        Steps as kept in the job.
    contents : str
        What is inside now; a method that needs another gas is taken to have had it.

    Returns
    -------
    Belief
        The belief weighed anew. [-]
    """
    minutes: defaultdict[tuple[str, str, bool], float] = defaultdict(float)
    for step in tried:
        if step.method in HOLDS:
            belief = belief.given(_hold(problem, belief, step))
        else:
            minutes[(step.place, step.method, step.found)] += step.minutes
    for (place, method, found), spent in minutes.items():
        positive = _positive(problem, belief, place, method, spent, contents)
        likelihood = positive + WRONG_YES * (1.0 - positive) if found else 1.0 - positive
        belief = belief.given(likelihood)
    return belief


def _positive(
    problem: Problem, belief: Belief, place: str, method: str, minutes: float, contents: str
) -> np.ndarray:
    known = METHODS[method]
    inside = contents if contents in known.gases else known.gases[0]
    q = throughput_under_test(problem, belief, inside)
    positive = np.zeros(len(belief.weight))
    for number, here in enumerate(problem.layout.places):
        if here.identifier == place:
            chance = detection(known, problem, here, q, minutes)
            positive = np.where(belief.place == number, chance, 0.0)
    return positive


def _hold(problem: Problem, belief: Belief, step: Tried) -> np.ndarray:
    """Likelihood of a hold's answer; a part that is not in this circuit says nothing."""
    for part, inside, _, volume in parts(problem, belief):
        if part != step.place:
            continue
        if step.method == "pressure_hold":
            q = throughput_under_test(problem, belief, "nitrogen")
            noise = hold_noise(problem, volume, max(step.minutes, 5.0) / 60.0)
            positive = hold_positive(q, inside, noise)
        else:
            from coldwright.catalogue.leak_methods import VACUUM_NOISE_PA_M3_S

            q = vacuum_throughput(problem, belief)
            positive = hold_positive(q, inside, VACUUM_NOISE_PA_M3_S)
        return positive if step.found else 1.0 - positive
    return np.ones(len(belief.weight))


def bench_after(tried: Sequence[Tried], actions: Sequence[Action], contents: str) -> Bench:
    """Set-ups paid and actions done by what was tried.

    Parameters
    ----------
    tried : sequence of Tried
        Steps as kept in the job.
    actions : sequence of Action
        All there are.
    contents : str
        What is inside now.

    Returns
    -------
    Bench
        What is inside, set-ups paid, actions done.
    """
    spent: defaultdict[tuple[str, str], float] = defaultdict(float)
    for step in tried:
        spent[(step.place, step.method)] += step.minutes
    paid: set[str] = set()
    done: set[int] = set()
    for number, action in enumerate(actions):
        minutes = spent.get((action.target, action.method))
        if minutes is None:
            continue
        paid |= set(action.setups)
        # What was done in the refrigerant may be worth doing again under test gas.
        same = action.contents in (contents, ANYTHING) or contents not in TEST_GASES
        if action.hours > 0.0:
            same = minutes >= 0.9 * 60.0 * action.hours
        if same and (action.hours > 0.0 or minutes >= ENOUGH * action.minutes):
            done.add(number)
    confirmed = any(t.found and t.method in HOLDS and t.place != WHOLE for t in tried)
    held = {t.place for t in tried if t.found and t.method in HOLDS}
    done |= {n for n, a in enumerate(actions) if not a.pinpoints and a.target in held}
    return Bench(contents, frozenset(paid), frozenset(done), confirmed)


def located(tried: Sequence[Tried]) -> str:
    """The place where a place method said yes last, empty where none did.

    Parameters
    ----------
    tried : sequence of Tried
        Steps tried, in order.

    Returns
    -------
    str
        Identifier of the place, or empty.
    """
    for step in reversed(tried):
        if step.found and step.method not in HOLDS:
            return step.place
    return ""
