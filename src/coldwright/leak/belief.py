"""What is held possible: place, rate and law of the leak, or none; and what drives it in a test.

A grid, so that every outcome updates it exactly: a small leak that one instrument missed
is then known to be missed by its neighbours too.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from coldwright.leak.flow import FREE, VISCOUS, Across, FlowLaw, disputed, opinions
from coldwright.leak.gases import GAS_CONSTANT, GASES
from coldwright.leak.history import Pace
from coldwright.leak.places import Layout
from coldwright.leak.rates import SECONDS_PER_YEAR, rate_from_grams_per_year
from coldwright.leak.sides import HIGH, Setting, mean_drive

LAWS: tuple[FlowLaw, ...] = (VISCOUS, FREE)
RATES = 17
SPREAD = 2.6  # standard normal scores that the grid of rates reaches to either side
CLEARLY = 0.9  # weight of the law that no source disputes; ours
RUNS_FROM = 0.5  # share of the charge from which a running high side presses as when complete; ours
AIR_NOTICED_KG = 5e-4  # air that shows in the readings about two times in three; ours
AIR_FALSE = 0.03


@dataclass(frozen=True, slots=True)
class Problem:
    """A circuit to search: what is fixed while the belief moves."""

    layout: Layout
    setting: Setting  # as it stands now, charge left counted
    pace: Pace
    refrigerant: str
    flammable: bool
    lost_kg: float
    time_s: float  # since it last worked well
    draught: int  # 0 still, 1 slight, 2 draughty
    test_gauge_pa: float
    tools: tuple[str, ...]
    may_run: bool
    air_drawn_in: bool | None = None

    @property
    def complete(self) -> Setting:
        """The appliance as it was in ordinary use."""
        return replace(self.setting, charge_left_kg=None)


@dataclass(frozen=True, slots=True)
class Belief:
    """Cells with weights that sum to one; the last cell is `nothing to find` (place -1)."""

    place: np.ndarray  # index into the layout
    rate_g_yr: np.ndarray  # mean in ordinary use
    law: np.ndarray  # index into LAWS
    weight: np.ndarray

    def by_place(self, places: int) -> np.ndarray:
        """Chance of each place [-]; what is missing from one is the chance of no leak."""
        inside = self.place >= 0
        return np.bincount(self.place[inside], self.weight[inside], places)

    @property
    def nothing(self) -> float:
        """Chance that there is no leak to find [-]."""
        return float(self.weight[self.place < 0].sum())

    def given(self, likelihood: np.ndarray) -> Belief:
        """After an outcome that each cell gives that likelihood; unchanged if none allows it."""
        weight = self.weight * likelihood
        total = float(weight.sum())
        return self if total <= 0.0 else replace(self, weight=weight / total)


def belief_of(problem: Problem) -> Belief:
    """Before anything is tried, with air drawn in or not counted where that is known.

    Parameters
    ----------
    problem : Problem
        All that the search rests on.

    Returns
    -------
    Belief
        Chances over places and rates. [-]
    """
    scores = np.linspace(-SPREAD, SPREAD, RATES)
    density = np.exp(-0.5 * scores**2)
    density /= density.sum()
    rates = problem.pace.median_g_yr * np.exp(problem.pace.log_sd * scores)
    free = np.array([_molecular_share(r, problem) for r in rates])
    law_share = np.array([1.0 - free, free])
    shares = np.array([p.share for p in problem.layout.places])
    index = np.meshgrid(
        np.arange(len(shares)), np.arange(RATES), np.arange(len(LAWS)), indexing="ij"
    )
    k, r, w = (a.ravel() for a in index)
    weight = shares[k] * density[r] * law_share[w, r] * (1.0 - problem.layout.nothing)
    belief = Belief(
        np.append(k, -1),
        np.append(rates[r], 0.0),
        np.append(w, 0),
        np.append(weight, problem.layout.nothing),
    )
    if problem.air_drawn_in is None:
        return belief
    seen = air_seen(problem, belief)
    return belief.given(seen if problem.air_drawn_in else 1.0 - seen)


def _molecular_share(rate_g_yr: float, problem: Problem) -> float:
    rate = rate_from_grams_per_year(rate_g_yr, problem.setting.gas)
    held = opinions(rate.mbar_l_s)
    if disputed(held):
        return 0.5
    viscous = any("laminar" in o.regimes or "turbulent" in o.regimes for o in held)
    return 1.0 - CLEARLY if viscous else CLEARLY


def _sides(problem: Problem, belief: Belief) -> np.ndarray:
    """Side of every cell: 1 high, 0 low."""
    high = np.array([p.side == HIGH for p in problem.layout.places] + [False])
    return np.asarray(high[belief.place].astype(int))


def air_seen(problem: Problem, belief: Belief) -> np.ndarray:
    """Chance for every cell that air drawn in was noticed.

    Parameters
    ----------
    problem : Problem
        All that the search rests on.
    belief : Belief
        Chances of the cells so far.

    Returns
    -------
    ndarray
        Probability per cell. [-]
    """
    factor = np.zeros((2, len(LAWS)))
    for s, side in enumerate(("low_side", "high_side")):
        for w, law in enumerate(LAWS):
            out, inward = mean_drive(law, problem.complete, side)
            molar = GASES["air"].molar_mass_kg_mol / problem.setting.gas.molar_mass_kg_mol
            factor[s, w] = inward / out * molar if out > 0.0 else 0.0
    years = problem.time_s / SECONDS_PER_YEAR
    grams = belief.rate_g_yr * factor[_sides(problem, belief), belief.law] * years
    return np.asarray(AIR_FALSE + (1.0 - AIR_FALSE) * -np.expm1(-grams * 1e-3 / AIR_NOTICED_KG))


def inside_pa(problem: Problem, contents: str, side: str) -> float:
    """Highest absolute pressure inside a side that a test may use with these contents [Pa].

    Parameters
    ----------
    problem : Problem
        All that the search rests on.
    contents : str
        What is inside: refrigerant, a test gas or nothing.
    side : str
        Side of the circuit, low or high.

    Returns
    -------
    float
        Absolute pressure. [Pa]
    """
    if contents != "refrigerant":
        return problem.setting.air_pa + problem.test_gauge_pa
    standing = problem.setting.standing_pa()
    if problem.may_run and side == HIGH:
        return max(standing, problem.complete.duty(HIGH)[0].pressure_pa)
    return standing


def throughput_under_test(problem: Problem, belief: Belief, contents: str) -> np.ndarray:
    """Throughput outwards of what is inside, for every cell, at room temperature [Pa m3/s].

    Parameters
    ----------
    problem : Problem
        All that the search rests on.
    belief : Belief
        Chances of the cells so far.
    contents : str
        What is inside: refrigerant or a test gas.

    Returns
    -------
    ndarray
        Throughput per cell. [Pa m3/s]
    """
    gas = problem.setting.gas if contents == "refrigerant" else GASES[contents]
    room, air = problem.setting.room_k, problem.setting.air_pa
    factor = np.zeros((2, len(LAWS)))
    for s, side in enumerate(("low_side", "high_side")):
        state = Across(gas, inside_pa(problem, contents, side), air, room)
        for w, law in enumerate(LAWS):
            out = mean_drive(law, problem.complete, side)[0]
            drive = max(law.drive(state) / room, 0.0)
            factor[s, w] = drive / out if out > 0.0 else 0.0
    own = factor[_sides(problem, belief), belief.law]
    return np.asarray(_moles(problem, belief) * own * GAS_CONSTANT * room)


def vacuum_throughput(problem: Problem, belief: Belief) -> np.ndarray:
    """Air coming in under vacuum, for every cell, at room temperature [Pa m3/s].

    Parameters
    ----------
    problem : Problem
        All that the search rests on.
    belief : Belief
        Chances of the cells so far.

    Returns
    -------
    ndarray
        Throughput per cell. [Pa m3/s]
    """
    room, air = problem.setting.room_k, problem.setting.air_pa
    factor = np.zeros((2, len(LAWS)))
    for s, side in enumerate(("low_side", "high_side")):
        for w, law in enumerate(LAWS):
            out = mean_drive(law, problem.complete, side)[0]
            inward = -law.drive(Across(GASES["air"], 0.0, air, room)) / room
            factor[s, w] = inward / out if out > 0.0 else 0.0
    own = factor[_sides(problem, belief), belief.law]
    return np.asarray(_moles(problem, belief) * own * GAS_CONSTANT * room)


def _moles(problem: Problem, belief: Belief) -> np.ndarray:
    """Mean molar loss of refrigerant in ordinary use, for every cell [mol/s]."""
    grams_second = belief.rate_g_yr / SECONDS_PER_YEAR
    return np.asarray(grams_second * 1e-3 / problem.setting.gas.molar_mass_kg_mol)
