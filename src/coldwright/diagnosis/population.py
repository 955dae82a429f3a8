"""Simulated appliances: every fault on every drawn member, solved at this visit's conditions."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from coldwright.catalogue.priors import severity_from_uniform
from coldwright.catalogue.sizing import (
    DESIGN_ROOM_K,
    Members,
    score,
    size_members,
    uniform,
)
from coldwright.circuit.vector import CIRCUIT, SURROUNDINGS
from coldwright.cycle.batches import in_batches
from coldwright.cycle.medium import Medium
from coldwright.cycle.solve import flat, solve_range
from coldwright.cycle.state import SOLVED, STATE, UNSOLVED
from coldwright.diagnosis.subject import ROOM_K, ROOM_SD_K, WARM_MARGIN_K, Subject, imposed
from coldwright.faults.kinds import FAULTS, Fault


class Law(Protocol):
    """A law scores can be drawn from."""

    def log_over_prior(self, z: np.ndarray) -> np.ndarray:
        """ln of this law's density over the standard normal's, shape (n,)."""


@dataclass(frozen=True, slots=True)
class Population:
    """Members of one fault: arrays of equal first length."""

    fault: str
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


def spread_severity(fault: str, z: np.ndarray) -> np.ndarray:
    """Severity of each member from its score."""
    return severity_from_uniform(fault, np.clip(uniform(z, "severity"), 0.0, 1.0))


def members_for(med: Medium, subject: Subject, z: np.ndarray) -> Members:
    """Healthy members sized from scores (the costly half that all faults share)."""
    return size_members(med, subject.known, z)


def simulate(
    med: Medium,
    subject: Subject,
    fault: Fault,
    z: np.ndarray,
    members: Members,
    progress: Callable[[int, int], None] | None = None,
) -> Population:
    """Apply one fault to sized members and solve their running states.

    Parameters
    ----------
    med : Medium
        Refrigerant, oil, void model.
    subject : Subject
        Appliance and visit.
    fault : Fault
        One of `faults.kinds.FAULTS`.
    z : ndarray
        Scores, shape (n, DIMENSIONS). [-]
    members : Members
        The same members sized.
    progress : callable, optional
        Told (done, count).
    """
    n = z.shape[0]
    room = np.full(n, subject.room_k)
    if subject.room_k != subject.room_k:
        room = ROOM_K + ROOM_SD_K * score(z, "room")
    severity = spread_severity(fault.identifier, z)
    c0 = members.circuits.copy()
    c0["charge_kg"] = members.design_charge_kg
    s0 = np.zeros(n, SURROUNDINGS)
    s0["room_k"], s0["supply_v"] = DESIGN_ROOM_K, subject.supply_v
    s0["fresh_food_k"], s0["freezer_k"] = members.set_fresh_food_k, members.set_freezer_k
    c1, s1 = members.circuits.copy(), s0.copy()
    s1["room_k"] = room
    ff, fz = imposed(subject, members.set_fresh_food_k, members.set_freezer_k, room)
    s1["fresh_food_k"], s1["freezer_k"] = ff, fz
    fault.apply(med, c1, s1, severity)
    out = np.zeros(n, STATE)
    if fault.runs:
        u = members.unknowns.copy()
        c_work, s_work = np.zeros(n, CIRCUIT), np.zeros(n, SURROUNDINGS)
        c_work[:], s_work[:] = c1, s1
        settled = np.full(n, subject.settled)
        blocked = np.full(n, fault.blocks)
        views = [flat(a) for a in (c0, s0, c1, s1, c_work, s_work)]

        def loop(first: int, last: int) -> None:
            solve_range(first, last, med, *views, c_work, s_work, settled, blocked, u, out)

        in_batches(loop, n, progress)
        if not subject.settled:
            warm = (fz > members.set_freezer_k + WARM_MARGIN_K) | (
                ff > members.set_fresh_food_k + WARM_MARGIN_K
            )
            out["run_fraction"] = np.where(warm, 1.0, out["run_fraction"])
    else:
        drifted = (room, room) if subject.settled else (ff, fz)
        at_rest(out, c1, room, *drifted)
    solved = members.good & (out["status_code"] != UNSOLVED) & np.isfinite(out["shell_k"])
    unsolved = int(np.sum(members.good & ~solved))
    return Population(
        fault.identifier, z, severity, c1, out, room, members.log_weight, solved, unsolved,
        np.zeros(n), float(np.sum(solved)),
    )  # fmt: skip


def at_rest(
    out: np.ndarray, circuits: np.ndarray, room: np.ndarray, ff: np.ndarray, fz: np.ndarray
) -> None:
    """Fill states of a compressor that does not turn: everything at its surroundings.

    Parameters
    ----------
    out : ndarray
        States, filled.
    circuits : ndarray
        Circuits.
    room, ff, fz : ndarray
        Room and compartment temperatures. [K]
    """
    for name in STATE.names or ():
        out[name] = 0.0
    for name in (
        "shell_k", "discharge_line_k", "condenser_inlet_k", "condenser_middle_k",
        "condenser_outlet_k", "drier_inlet_k", "drier_outlet_k", "suction_line_k", "condensing_k",
    ):  # fmt: skip
        out[name] = room
    for name in ("evaporator_inlet_k", "evaporator_outlet_k", "freezer_k", "evaporating_k"):
        out[name] = fz
    out["fresh_food_k"] = ff
    out["appliance_power_w"] = (
        circuits["cabinet"]["controls_power_w"] + circuits["cabinet"]["evaporator_fan_power_w"]
    )
    out["evaporator_outlet_quality"] = 1.0
    out["suction_pressure_pa"] = out["condensing_pressure_pa"] = np.nan
    out["status_code"] = SOLVED


def all_faults() -> tuple[Fault, ...]:
    """The faults an ensemble holds, in the order of the catalogue."""
    return FAULTS
