"""What can be tried: a method at a place, or a hold of a part; with the chance that it answers."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy.special import expit, ndtr

from coldwright.catalogue import leak_methods as book
from coldwright.catalogue.leak_methods import METHODS, LeakMethod, Reach
from coldwright.leak.belief import Belief, Problem, throughput_under_test, vacuum_throughput
from coldwright.leak.hold_reach import ONE_SIDED, HoldNoise
from coldwright.leak.places import Place
from coldwright.leak.sides import HIGH, LOW
from coldwright.leak.size import bubble_period

BUBBLE_M = 1e-3  # the smallest that is noticed; ours
FILM_MIN = 2.0  # soap dries and foam collapses; ours
OIL_LOST_KG = 0.02  # refrigerant lost that leaves an oil trace two times in three; ours
FALSE_ALARM = 0.05  # of a hold read at 95 %
WHOLE = "whole_circuit"
ANYTHING = "any"  # eyes need no gas
TEST_GASES = ("nitrogen", "hydrogen_mixture", "helium")


@dataclass(frozen=True, slots=True)
class Action:
    """One step. `positive` is the chance, for every cell of the belief, that it answers yes."""

    method: str
    target: str  # a place, or a part of the circuit
    contents: str  # what must be inside
    setups: tuple[str, ...]  # paid once each
    minutes: float
    pinpoints: bool
    positive: np.ndarray
    hours: float = 0.0  # of a hold


def detection(
    method: LeakMethod, problem: Problem, place: Place, q_pa_m3_s: np.ndarray, minutes: float
) -> np.ndarray:
    """Chance that a method at a place finds a leak there.

    Parameters
    ----------
    method : LeakMethod
        What is used.
    problem : Problem
        Draught, refrigerant, loss.
    place : Place
        Where.
    q_pa_m3_s : array
        Throughput there of what is inside. [Pa m3/s]
    minutes : float
        Time spent at the place. [min]

    Returns
    -------
    ndarray
        Probability per cell, shape of `q_pa_m3_s`. [-]
    """
    foam = place.reach is Reach.FOAM
    coverage = method.coverage_foam if foam else method.coverage_open
    coverage *= -math.expm1(-minutes / method.patience_min)
    if method.identifier == "visual":
        return np.full_like(q_pa_m3_s, coverage * -math.expm1(-problem.lost_kg / OIL_LOST_KG))
    limit = method.limit_pa_m3_s or _as_throughput(method.limit_g_yr, problem)
    limit *= method.draught_factor**problem.draught
    with np.errstate(divide="ignore"):
        seen = coverage * expit((np.log(q_pa_m3_s) - math.log(limit)) / method.log_spread)
    if method.identifier == "bubble_test":
        one = bubble_period(1.0, BUBBLE_M)
        seen = seen * -np.expm1(-q_pa_m3_s * 60.0 * min(minutes, FILM_MIN) / one)
    return np.asarray(seen)


def _as_throughput(g_yr: float, problem: Problem) -> float:
    from coldwright.leak.rates import rate_from_grams_per_year

    room = problem.setting.room_k
    return rate_from_grams_per_year(g_yr, problem.setting.gas, room).throughput_pa_m3_s


def place_actions(problem: Problem, belief: Belief) -> list[Action]:
    """Every method at hand that is not barred, at every place, with everything it works in.

    Parameters
    ----------
    problem : Problem
        All that the search rests on.
    belief : Belief
        Chances of the cells so far.

    Returns
    -------
    list of Action
        Actions, times in minutes.
    """
    found = []
    for contents in (ANYTHING, "refrigerant", *TEST_GASES):
        inside = "nitrogen" if contents == ANYTHING else contents
        q = throughput_under_test(problem, belief, inside)
        for method in methods_at_hand(problem):
            if not _fits(method, contents, problem):
                continue
            for number, place in enumerate(problem.layout.places):
                at = belief.place == number
                positive = np.where(at, detection(method, problem, place, q, method.minutes), 0.0)
                setups = (f"tool {method.identifier}", *(f"access {a}" for a in place.access))
                found.append(
                    Action(
                        method.identifier, place.identifier, contents, setups, method.minutes,
                        True, positive,
                    )
                )  # fmt: skip
    return found


def methods_at_hand(problem: Problem) -> list[LeakMethod]:
    """The place methods among the tools that are not barred on this circuit.

    Parameters
    ----------
    problem : Problem
        All that the search rests on.

    Returns
    -------
    list of LeakMethod
        Methods, in the order of the tools.
    """
    return [
        METHODS[name]
        for name in problem.tools
        if name in METHODS and not book.why_barred(name, problem.refrigerant, problem.flammable)
    ]


def _fits(method: LeakMethod, contents: str, problem: Problem) -> bool:
    if method.identifier == "visual" or contents == ANYTHING:
        return method.identifier == "visual" and contents == ANYTHING
    if contents not in method.gases:
        return False
    if contents == "refrigerant":
        return not book.sensed_only_with_test_gas(method.identifier, problem.flammable)
    special = {"hydrogen_mixture": "tracer_gas", "helium": "helium_tracer"}
    needed = special.get(contents)
    return needed is None or needed in problem.tools


def hold_actions(problem: Problem, belief: Belief) -> list[Action]:
    """Pressure and vacuum holds of the whole, of halves, and of what lies in foam.

    Parameters
    ----------
    problem : Problem
        All that the search rests on.
    belief : Belief
        Chances of the cells so far.

    Returns
    -------
    list of Action
        Actions, times in minutes.
    """
    q = throughput_under_test(problem, belief, "nitrogen")
    q_vacuum = vacuum_throughput(problem, belief)
    found = []
    for part, inside, cuts, volume in parts(problem, belief):
        if "pressure_hold" in problem.tools:
            for hours, paid in book.HOLD_HOURS:
                noise = hold_noise(problem, volume, hours)
                found.append(
                    Action("pressure_hold", part, "nitrogen", cuts, paid, False,
                           hold_positive(q, inside, noise), hours)
                )  # fmt: skip
        if "vacuum_hold" in problem.tools:
            positive = hold_positive(q_vacuum, inside, book.VACUUM_NOISE_PA_M3_S)
            found.append(
                Action("vacuum_hold", part, "vacuum", cuts, book.VACUUM_HOLD_PAID_MIN, False,
                       positive, book.VACUUM_HOLD_HOURS)
            )  # fmt: skip
    return found


def hold_noise(problem: Problem, volume_m3: float, hours: float) -> float:
    """Standard deviation of a pressure hold's rate [Pa m3/s].

    Parameters
    ----------
    problem : Problem
        Test pressure and room.
    volume_m3 : float
        Volume held. [m3]
    hours : float
        Length. [h]

    Returns
    -------
    float
        Standard deviation. [Pa m3/s]
    """
    pressure = problem.setting.air_pa + problem.test_gauge_pa
    seconds = hours * 3600.0
    relative = HoldNoise().amount_sd(pressure, problem.setting.room_k, seconds)
    return relative * pressure * volume_m3 / seconds


def hold_positive(q: np.ndarray, inside: np.ndarray, noise: float) -> np.ndarray:
    """Chance of a yes for every cell: a hold says leak beyond 1.645 sd, once in 20 without one.

    Parameters
    ----------
    q : array
        Throughput of every cell. [Pa m3/s]
    inside : array of bool
        Cells whose place is in the part held.
    noise : float
        One standard deviation of the rate read. [Pa m3/s]

    Returns
    -------
    ndarray
        Probability per cell, shape of `q`. [-]
    """
    return np.asarray(ndtr(np.where(inside, q, 0.0) / noise - ONE_SIDED))


def parts(problem: Problem, belief: Belief) -> list[tuple[str, np.ndarray, tuple[str, ...], float]]:
    """Parts that can be held: name, cells inside, cuts to make, volume [m3].

    Parameters
    ----------
    problem : Problem
        All that the search rests on.
    belief : Belief
        Chances of the cells so far.

    Returns
    -------
    list
        Name, mask over the cells, cuts, volume [m3].
    """
    places = problem.layout.places
    total, high = problem.setting.total_m3, problem.setting.high_m3
    side = np.array([p.side for p in places] + [""])[belief.place]
    found = [
        (WHOLE, belief.place >= 0, (), total),
        (HIGH, side == HIGH, ("cut halves",), high),
        (LOW, side == LOW, ("cut halves",), total - high),
    ]
    for number, place in enumerate(places):
        own = place.reach is Reach.FOAM and place.side == HIGH
        if own:
            cuts = ("cut halves", f"cut {place.identifier}")
            found.append((place.identifier, belief.place == number, cuts, 0.4 * high))
    foam = np.array([p.reach is Reach.FOAM and p.side == LOW for p in places] + [False])
    if foam.any():
        cuts = ("cut halves", "cut low side foam")
        found.append(("evaporator", foam[belief.place], cuts, 0.25 * (total - high)))
    return found


def setup_minutes(name: str) -> float:
    """Minutes of a set-up, paid once [min].

    Parameters
    ----------
    name : str
        Identifier of the set-up, as the actions give it.

    Returns
    -------
    float
        Time. [min]
    """
    from coldwright.catalogue.leak_places import ACCESS_MINUTES

    kind, _, what = name.partition(" ")
    if kind == "tool":
        return METHODS[what].setup_min
    if kind == "access":
        return ACCESS_MINUTES[what]
    return book.CUT_HALVES_MIN if what == "halves" else book.CUT_SEGMENT_MIN


def change_minutes(now: str, wanted: str) -> float:
    """Minutes to change what is inside [min]; infinite where it cannot be.

    Parameters
    ----------
    now : str
        What is inside: refrigerant, nothing, vacuum or a test gas.
    wanted : str
        What is wanted.

    Returns
    -------
    float
        Time, infinite where it cannot be. [min]
    """
    if wanted in (now, ANYTHING):
        return 0.0
    if wanted == "refrigerant":
        return math.inf  # it is not charged to look for the leak
    if wanted == "vacuum":
        return book.TO_VACUUM_MIN if now != "refrigerant" else book.TO_TEST_GAS_MIN
    if now == "refrigerant":
        return book.TO_TEST_GAS_MIN
    return book.EMPTY_TO_TEST_GAS_MIN if now == "nothing" else book.BETWEEN_TEST_GASES_MIN
