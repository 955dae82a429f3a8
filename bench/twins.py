"""Time per running state, compiled and by the slow twin, on the same members."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from math import exp, log
from pathlib import Path
from statistics import median

import CoolProp
import numpy as np

from bench.members import FAULTS, GROUPS, Bench, Draw, draw
from bench.slow_twin import ANSWERS
from coldwright.catalogue.sizing import DESIGN_ROOM_K
from coldwright.cycle.state import SOLVED
from coldwright.refrigerant.saturation import saturation_pressure, saturation_temperature

EVERY = 5  # each so-manieth group of kind, refrigerant and year
COUNT = 110  # members of a group
STATES = 4000  # CoolProp states timed beside each group
HANDFUL = (("top_mount", "R134a", 2004), ("single_door", "R600a", 2012))  # for the slow twin


@dataclass(frozen=True, slots=True)
class Timed:
    """Processor time of single solves, one entry per member that runs."""

    seconds: np.ndarray
    fault: np.ndarray  # index in FAULTS
    room_k: np.ndarray
    settled: np.ndarray
    calls: np.ndarray  # of residuals
    unit_s: float  # one direct CoolProp saturation state, timed in between


@dataclass(frozen=True, slots=True)
class Compared:
    """A handful of members solved both ways, one of each fault per group."""

    slow_s: np.ndarray
    fast_s: np.ndarray
    slow_calls: np.ndarray
    closed: np.ndarray  # bool: the slow twin got there from the same start
    off: np.ndarray  # (n, answers): relative differences, slow over fast - 1


def running(rng: np.random.Generator) -> Timed:
    """Time many faulty members one by one, each from its design point."""
    rows, units = [], []
    for group in GROUPS[::EVERY]:
        units.append(coolprop_state())
        drawn = draw(*group, COUNT, rng)
        bench = Bench(drawn)
        bench.solve(0, 3)  # what a first call loads is not the solver's
        for i in np.flatnonzero(drawn.sized & drawn.runs & ~drawn.blocked):
            seconds = _time(bench, int(i))
            calls = bench.states["iterations"][i]
            room = drawn.wanted[1]["room_k"][i]
            rows.append((seconds, drawn.fault[i], room, drawn.settled[i], calls))
    return Timed(*(np.array(column) for column in zip(*rows, strict=True)), median(units))


def coolprop_state() -> float:
    """Seconds of one direct CoolProp saturation state, the unit the ratios are against."""
    state = CoolProp.AbstractState("HEOS", "R134a")
    pressures = np.geomspace(0.5e5, 15e5, STATES).tolist()
    start = time.thread_time()
    for p in pressures:
        state.update(CoolProp.PQ_INPUTS, p, 0.0)
    return (time.thread_time() - start) / STATES


def _time(bench: Bench, i: int) -> float:
    start = time.thread_time()
    bench.solve(i, i + 1)
    return time.thread_time() - start


def compared(rng: np.random.Generator) -> Compared:
    """Solve one drifting member of each fault both ways, for two refrigerants."""
    parts = []
    for group in HANDFUL:
        drawn = draw(*group, COUNT, rng)
        bench = Bench(drawn)
        bench.solve(0, len(drawn))
        fit = drawn.sized & drawn.runs & ~drawn.blocked & ~drawn.settled
        fit &= bench.states["status_code"] == SOLVED
        found = [np.flatnonzero(fit & (drawn.fault == f)) for f in range(len(FAULTS))]
        pick = np.array([of_fault[0] for of_fault in found if of_fault.size])
        parts.append(_both(bench, pick))
    return Compared(*(np.concatenate(column) for column in zip(*parts, strict=True)))


def _both(bench: Bench, pick: np.ndarray) -> tuple[np.ndarray, ...]:
    drawn = bench.drawn
    fast = np.array([median(_time(bench, int(i)) for _ in range(3)) for i in pick])
    answers = np.array([[bench.states[name][i] for name in ANSWERS] for i in pick])
    slow = _slow(drawn, pick, bench.unknowns)
    return slow["seconds"], fast, slow["calls"], slow["closed"], slow["answers"] / answers - 1.0


def _slow(drawn: Draw, pick: np.ndarray, near: np.ndarray) -> dict[str, np.ndarray]:
    around = drawn.wanted[1][pick]
    tables = drawn.med.tables
    start = drawn.start[pick].copy()
    for u, room in zip(start, around["room_k"], strict=True):
        # As `members.follow` starts: the condensing rise above the room is kept.
        rise = saturation_temperature(tables, exp(u[1])) - DESIGN_ROOM_K
        u[1] = log(saturation_pressure(tables, room + rise))
    with tempfile.TemporaryDirectory() as folder:
        given, made = Path(folder) / "given.npz", Path(folder) / "made.npz"
        np.savez(
            given, refrigerant=drawn.refrigerant, circuits=drawn.wanted[0][pick], around=around,
            start=start, near=near[pick],
        )  # fmt: skip
        subprocess.run(
            [sys.executable, "-m", "bench.slow_twin", str(given), str(made)],
            env=os.environ | {"NUMBA_DISABLE_JIT": "1"}, check=True,
        )  # fmt: skip
        with np.load(made) as z:
            return {name: z[name] for name in z.files}
