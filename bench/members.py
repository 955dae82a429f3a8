"""Random faulty appliances over everything the model promises to solve.

Healthy members are sized from scores as in `diagnosis.population`; unlike there,
every member has its own room, its own fault and its own compartments.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bench.families_table import ERAS
from coldwright.catalogue.families import FAMILIES, family_of
from coldwright.catalogue.priors import severity_from_uniform
from coldwright.catalogue.sizing import DESIGN_ROOM_K, DIMENSIONS, Known, size_members
from coldwright.circuit.layout import Layout
from coldwright.circuit.records import Position
from coldwright.circuit.vector import SURROUNDINGS
from coldwright.cycle.batches import in_batches
from coldwright.cycle.medium import Medium, medium
from coldwright.cycle.solver.members import flat, solve_range
from coldwright.cycle.state import STATE
from coldwright.diagnosis.population import at_rest
from coldwright.faults import registry

NAN = float("nan")
# Effects of the faults that are common and come about in one way
FAULTS = tuple(
    f.effect for f in registry.FAULTS.values() if f.effect is not None and not f.rare
)  # fmt: skip
ROOMS_K = (283.15, 316.15)  # 10..43 degC
FREQUENCY = 60.0  # [Hz]
GROUPS = tuple((f.kind, refrigerant, year) for f in FAMILIES for refrigerant, year in ERAS)
# A drain-pan loop, added to a sized appliance: families count it with the condenser (ours)
PAN_LENGTH_M, PAN_BORE_M, PAN_ROOM_W_K, PAN_CABINET_W_K = 1.2, 3.36e-3, 0.5, 0.05


@dataclass(frozen=True, slots=True)
class Loops:
    """A layout with the place of its frame loop, and of a drain-pan loop where there is one."""

    layout: Layout = Layout.PLAIN
    frame: Position | None = None
    pan: Position | None = None

    @property
    def name(self) -> str:
        """In words."""
        parts = [self.layout.value]
        if self.frame is not None:
            parts.append(self.frame.name.lower())
        if self.pan is not None:
            parts.append(f"with a drain-pan loop {self.pan.name.lower()}")
        return ", ".join(parts).replace("_", " ")


PLAIN = Loops()


@dataclass(frozen=True, slots=True)
class Draw:
    """Appliances of one kind, refrigerant and year, each with one fault; arrays of one length."""

    kind: str
    refrigerant: str
    year: int
    loops: Loops
    med: Medium
    sized: np.ndarray  # bool: the design point was met; the others are no appliances
    fault: np.ndarray  # index in FAULTS
    severity: np.ndarray
    settled: np.ndarray  # bool: thermostat in charge; else compartments are imposed
    blocked: np.ndarray  # bool: no flow
    runs: np.ndarray  # bool: the compressor turns
    design: tuple[np.ndarray, np.ndarray]  # healthy circuits, surroundings
    start: np.ndarray  # (n, 5), solution of `design`
    wanted: tuple[np.ndarray, np.ndarray]  # faulty circuits, surroundings

    def __len__(self) -> int:
        return self.fault.shape[0]


@dataclass(frozen=True, slots=True)
class Solved:
    """States of a draw."""

    draw: Draw
    states: np.ndarray
    surroundings: np.ndarray  # compartments as they settled


def draw(
    kind: str,
    refrigerant: str,
    year: int,
    count: int,
    rng: np.random.Generator,
    loops: Loops = PLAIN,
) -> Draw:
    """Draw appliances with faults, severities, rooms and compartments.

    Parameters
    ----------
    kind : str
        A kind of `catalogue.families`.
    refrigerant : str
        One with full tables.
    year : int
        Of make. [-]
    count : int
        Members. [-]
    rng : Generator
        Source of randomness.
    loops : Loops
        Layout of all of them.
    """
    med = medium(refrigerant)
    known = Known(
        family_of(kind), year, NAN, NAN, NAN, NAN, NAN, FREQUENCY, None, None, loops.layout,
        loops.frame,
    )  # fmt: skip
    members = size_members(med, known, rng.standard_normal((count, DIMENSIONS)))
    fault = rng.permutation(np.arange(count) % len(FAULTS))
    settled = rng.random(count) < 0.5
    room = rng.uniform(*ROOMS_K, count)
    gone = rng.random(count)  # way of a drifting compartment from its setting to the room
    u = rng.random(count)

    healthy = members.circuits.copy()
    healthy["charge_kg"] = members.design_charge_kg
    mild = np.zeros(count, SURROUNDINGS)
    mild["room_k"] = DESIGN_ROOM_K
    mild["fresh_food_k"], mild["freezer_k"] = members.set_fresh_food_k, members.set_freezer_k
    circuits, around = members.circuits.copy(), mild.copy()
    if loops.pan is not None:
        pan = circuits["drain_pan_loop"]
        pan["position_code"] = float(loops.pan)
        pan["tube_length_m"], pan["tube_bore_m"] = PAN_LENGTH_M, PAN_BORE_M
        pan["room_conductance_w_k"] = PAN_ROOM_W_K
        pan["cabinet_conductance_w_k"] = PAN_CABINET_W_K
        if loops.pan is Position.BETWEEN_SECTIONS:
            first = circuits["condenser"]["first_section_fraction"]
            first[:] = np.where(first > 0.0, first, 0.5)
    around["room_k"] = room
    for name in ("fresh_food_k", "freezer_k"):
        drifted = mild[name] + gone * (room - mild[name])
        around[name] = np.where(settled, mild[name], drifted)
    severity = np.full(count, NAN)
    for i, kind_of_fault in enumerate(FAULTS):
        mine = np.flatnonzero(fault == i)
        severity[mine] = severity_from_uniform(kind_of_fault.identifier, u[mine])
        c, s = circuits[mine], around[mine]
        kind_of_fault.apply(med, c, s, severity[mine])
        circuits[mine], around[mine] = c, s
    return Draw(
        kind, refrigerant, year, loops, med, members.good, fault, severity, settled,
        np.array([f.blocks for f in FAULTS])[fault], np.array([f.runs for f in FAULTS])[fault],
        (healthy, mild), members.unknowns, (circuits, around),
    )  # fmt: skip


class Bench:
    """A draw with the arrays its solution needs, to be solved in pieces and again."""

    def __init__(self, drawn: Draw) -> None:
        n = len(drawn)
        self.drawn = drawn
        self.states = np.zeros(n, STATE)
        self.circuits, self.around = drawn.wanted[0].copy(), drawn.wanted[1].copy()
        self.unknowns = drawn.start.copy()
        self._flat = [flat(a) for a in (*drawn.design, *drawn.wanted, self.circuits, self.around)]

    def solve(self, first: int, last: int) -> None:
        """Solve members first..last-1 from their design points."""
        d = self.drawn
        self.unknowns[first:last] = d.start[first:last]
        solve_range(
            first, last, d.med, *self._flat, self.circuits, self.around, d.settled, d.blocked,
            self.unknowns, self.states,
        )  # fmt: skip


def solve(drawn: Draw) -> Solved:
    """States of all members of a draw; one that does not turn is at its surroundings."""
    bench = Bench(drawn)
    in_batches(bench.solve, len(drawn))
    still = np.flatnonzero(~drawn.runs)
    if still.size:
        s = drawn.wanted[1][still]
        states = bench.states[still]
        at_rest(states, drawn.wanted[0][still], s["room_k"], s["fresh_food_k"], s["freezer_k"],
                np.ones(states.shape, bool))  # fmt: skip
        bench.states[still] = states
        bench.around[still] = s
    return Solved(drawn, bench.states, bench.around)
