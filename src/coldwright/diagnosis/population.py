"""Simulated appliances: every fault on every drawn member, solved at this visit's conditions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from coldwright.catalogue.part_states import unpowered_share
from coldwright.catalogue.sizing import DESIGN_ROOM_K, Members, score, size_members, uniform
from coldwright.catalogue.ways import MISTAKEN
from coldwright.circuit.vector import SURROUNDINGS
from coldwright.cycle.cannot_be import can_be
from coldwright.cycle.medium import Medium, medium
from coldwright.cycle.solver.members import solve_members
from coldwright.cycle.standstill.stopped import at_rest
from coldwright.cycle.state import STATE, UNSOLVED
from coldwright.diagnosis.hypotheses import HYPOTHESES, Acting, Hypothesis, hypothesis_named
from coldwright.diagnosis.subject import WARM_MARGIN_K, Subject, imposed
from coldwright.faults.earlier_repair import WRONG_REFRIGERANT
from coldwright.faults.record import Together
from coldwright.refrigerant.saturation import (
    saturation_all,
    saturation_pressure,
    saturation_temperature,
)

THAWING_K = 275.0  # coil while the defrost heater is on, ours


class Law(Protocol):
    """A law scores can be drawn from."""

    def log_over_prior(self, z: np.ndarray) -> np.ndarray:
        """ln of this law's density over the standard normal's, shape (n,)."""


@dataclass(frozen=True, slots=True)
class Population:
    """Members of one fault, or of two at once: arrays of equal first length."""

    faults: Together
    scores: np.ndarray  # (n, DIMENSIONS), standard normal under the prior
    severity: np.ndarray
    circuits: np.ndarray
    states: np.ndarray
    room_k: np.ndarray
    log_plate: np.ndarray  # agreement with the plate
    solved: np.ndarray  # bool
    unsolved: int  # sized members whose state was not found
    log_base: np.ndarray  # ln of the prior's density over that of the law they were drawn from
    stands_for: float  # draws from the prior, of those that can be built, all members amount to
    laws: tuple[tuple[Law, int], ...] = ()  # beside the prior, with the members drawn from each
    second: np.ndarray | None = None  # severity of a pair's second fault
    way: np.ndarray | None = None  # index into the fault's ways, where it has several
    alien: np.ndarray | None = None  # bool: filled with `mistaken` instead
    mistaken: Medium | None = None
    standing_cold_k: float = float("nan")  # evaporator at rest where it was measured


def members_for(med: Medium, subject: Subject, z: np.ndarray) -> Members:
    """Healthy members sized from scores (the costly half that all faults share).

    Parameters
    ----------
    med : Medium
        Refrigerant and its tables.
    subject : Subject
        The appliance as the job describes it.
    z : ndarray
        Standard normal scores, shape (n, d). [-]

    Returns
    -------
    Members
        Sized healthy appliances, one per row of scores.
    """
    return size_members(med, subject.known, z)


def simulate(
    med: Medium,
    subject: Subject,
    fault: Hypothesis,
    z: np.ndarray,
    members: Members,
    progress: Callable[[int, int], None] | None = None,
    refrigerant: str = "",
) -> Population:
    """Apply one fault, or two at once, to sized members and solve their running states.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    subject : Subject
        Appliance and visit.
    fault : Hypothesis
        One of `hypotheses.HYPOTHESES`.
    z : ndarray
        Scores, shape (n, DIMENSIONS). [-]
    members : Members
        The same members sized.
    progress : callable, optional
        Told (done, count). [-]
    refrigerant : str
        Name of what `med` is; where it is not told no member holds a wrong one.

    Returns
    -------
    Population
        Members with their states; one without a state is marked not solved.
    """
    n = z.shape[0]
    room = np.full(n, subject.room_k)
    if subject.room_k != subject.room_k:
        usual = subject.unmeasured
        room = usual.room_k + usual.room_sd_k * score(z, "room")
    c0 = members.circuits.copy()
    c0["charge_kg"] = members.design_charge_kg
    s0 = np.zeros(n, SURROUNDINGS)
    s0["room_k"], s0["supply_v"] = DESIGN_ROOM_K, subject.supply_v
    s0["fresh_food_k"], s0["freezer_k"] = members.set_fresh_food_k, members.set_freezer_k
    c1, s1 = members.circuits.copy(), s0.copy()
    s1["room_k"] = room
    ff, fz = imposed(subject, members.set_fresh_food_k, members.set_freezer_k, room)
    s1["fresh_food_k"], s1["freezer_k"] = ff, fz
    acting, way = fault.acting(subject, z, c1)
    runs, blocked, alien = np.ones(n, bool), np.zeros(n, bool), np.zeros(n, bool)
    for act in acting:
        if not act.members.any():
            continue
        runs &= ~act.members | act.effect.runs
        blocked |= act.members & act.effect.blocks
        if act.way is not None and act.way.which == WRONG_REFRIGERANT:
            alien |= act.members & (refrigerant in MISTAKEN)
        if act.way is None or subject.settled or not act.way.settled_only:
            _apply(med, c1, s1, act)
    other = _mistaken(med, refrigerant, alien, c1, acting)
    c0["refrigerant_code"] = c1["refrigerant_code"]
    out = np.zeros(n, STATE)
    u = members.unknowns.copy()
    for here, inside in ((runs & ~alien, med), (runs & alien, other)):
        if inside is None or not here.any():
            continue
        at = np.flatnonzero(here)
        start = u[at] if inside is med else _as_in(u[at], med, inside)
        arrays = (c0[at], s0[at], c1[at], s1[at])
        out[at] = _running(inside, arrays, subject.settled, blocked[at], start, progress)
    if not subject.settled:
        warm = (fz > members.set_freezer_k + WARM_MARGIN_K) | (
            ff > members.set_fresh_food_k + WARM_MARGIN_K
        )
        out["run_fraction"] = np.where(warm, 1.0, out["run_fraction"])
    still = np.flatnonzero(~runs)
    if still.size:
        drifted = (room, room) if subject.settled else (ff, fz)
        rest = np.zeros(still.size, STATE)
        called = np.ones(n, bool)
        for act in acting:
            called &= ~act.members | act.effect.called
        at_rest(rest, c1[still], room[still], drifted[0][still], drifted[1][still], called[still])
        dead = uniform(z[still], "which") < unpowered_share(fault.faults)
        rest["appliance_power_w"][dead] = 0.0
        out[still] = rest
        for act in acting:
            if act.effect.heats_coil:
                _heat_coil(out, c1, act)
    solved = members.good & (out["status_code"] != UNSOLVED) & np.isfinite(out["shell_k"])
    solved &= can_be(out)
    unsolved = int(np.sum(members.good & ~solved))
    severity, second = _told(fault, acting, n)
    return Population(
        fault.faults, z, severity, c1, out, room, members.log_weight, solved, unsolved,
        np.zeros(n), float(np.sum(solved)), (), second, way if fault.ways else None,
        alien if alien.any() else None, other, subject.standing_cold_k,
    )  # fmt: skip


def _running(
    med: Medium,
    arrays: tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray],
    settled: bool,
    blocked: np.ndarray,
    u: np.ndarray,
    progress: Callable[[int, int], None] | None,
) -> np.ndarray:
    """Running states from solved circuits and surroundings (c0, s0) to those wanted (c1, s1)."""
    return solve_members(
        med, arrays[:2], arrays[2:], u, settled=settled, blocked=blocked, progress=progress
    )


def _apply(med: Medium, circuits: np.ndarray, surroundings: np.ndarray, act: Acting) -> None:
    """Let a fault act on its members alone."""
    if act.members.all():
        act.effect.apply(med, circuits, surroundings, act.severity)
        return
    c, s = circuits[act.members], surroundings[act.members]
    act.effect.apply(med, c, s, act.severity[act.members])
    circuits[act.members], surroundings[act.members] = c, s


def _mistaken(
    med: Medium,
    refrigerant: str,
    alien: np.ndarray,
    circuits: np.ndarray,
    acting: tuple[Acting, ...],
) -> Medium | None:
    """The wrong refrigerant; its mass fills about the right one's liquid volume."""
    if not alien.any():
        return None
    other = medium(MISTAKEN[refrigerant])
    volume = liquid_density(other) / liquid_density(med)
    circuits["refrigerant_code"][alien] = other.refrigerant_code
    for act in acting:
        if act.way is not None and act.way.which == WRONG_REFRIGERANT:
            circuits["charge_kg"][alien] *= act.severity[alien] * volume
    return other


def liquid_density(med: Medium) -> float:
    """Of the saturated liquid at 25 degC. [kg/m3]

    Parameters
    ----------
    med : Medium
        Refrigerant and its tables.

    Returns
    -------
    float
        Density. [kg/m3]
    """
    pressure = saturation_pressure(med.tables, DESIGN_ROOM_K)
    return 1.0 / float(saturation_all(med.tables, pressure).v_l)


def _as_in(u: np.ndarray, med: Medium, other: Medium) -> np.ndarray:
    """Unknowns of the right refrigerant at the same saturation temperatures of another."""
    out = u.copy()
    for k in (0, 1):
        for i, value in enumerate(u[:, k]):
            t = saturation_temperature(med.tables, np.exp(value))
            out[i, k] = np.log(saturation_pressure(other.tables, t))
    return out


def _heat_coil(out: np.ndarray, circuits: np.ndarray, act: Acting) -> None:
    """A defrost heater that is on while nothing runs: its watts, a coil about to thaw."""
    at = act.members
    out["appliance_power_w"][at] = circuits["cabinet"]["controls_power_w"][at] + act.severity[at]
    for name in ("evaporator_inlet_k", "evaporator_outlet_k", "evaporating_k"):
        out[name][at] = THAWING_K


def _told(
    fault: Hypothesis, acting: tuple[Acting, ...], n: int
) -> tuple[np.ndarray, np.ndarray | None]:
    """Severities in the order of the names; NaN where a fault has ways."""
    if fault.ways:
        return np.full(n, np.nan), None
    return acting[0].severity, acting[1].severity if len(acting) > 1 else None


def all_faults(only: tuple[Together, ...] = ()) -> tuple[Hypothesis, ...]:
    """What an ensemble holds, in the order of the catalogue: single faults, then pairs.

    Parameters
    ----------
    only : tuple of tuple of str
        Those wanted; all where empty.

    Returns
    -------
    tuple of Hypothesis
        At least one.
    """
    return tuple(hypothesis_named(*faults) for faults in only) or HYPOTHESES
