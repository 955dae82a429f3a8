"""The slow twin: the cycle's own equations as plain Python, CoolProp at every look-up.

Run by `bench.speed` in a process of its own with NUMBA_DISABLE_JIT=1, so that the very
modules the kernels are compiled from are interpreted; solved by scipy's root finder from
the start the compiled solver has. ``python -m bench.slow_twin IN OUT`` reads and writes
arrays.
"""

from __future__ import annotations

import sys
import time
from types import SimpleNamespace

import numpy as np
from numba import config
from scipy.optimize import root

from bench.direct import Direct, replace_look_ups
from coldwright.circuit.records import Surroundings
from coldwright.circuit.vector import SURROUNDINGS, unpack_circuit
from coldwright.cycle.medium import medium
from coldwright.cycle.solver.residuals import residuals as fill
from coldwright.cycle.state import NO

ANSWERS = (
    "suction_pressure_pa", "condensing_pressure_pa", "mass_flow_kg_s", "compressor_power_w",
    "cooling_w",
)  # fmt: skip
CLOSED = 1e-6
FAR = 10.0  # residual where CoolProp or a formula has no answer
NO_ANSWER = (ValueError, ArithmeticError, TypeError)  # TypeError: a negative number's root


def solve(med, row, around, start, near):  # type: ignore[no-untyped-def]
    """Answers of one member, seconds and calls of the solve from `start`, whether it closed.

    Where that start does not lead home, `near` gives the answers, untimed.
    """
    circuit = unpack_circuit(row)
    s = Surroundings(*(float(around[name]) for name in SURROUNDINGS.names or ()))
    out = SimpleNamespace()
    calls = 0

    def residuals(u):  # type: ignore[no-untyped-def]
        nonlocal calls
        calls += 1
        r = np.full(5, FAR)
        try:
            fill(med, circuit, s, [float(x) for x in u] + [0.0], NO, r, out)
        except NO_ANSWER:
            r[:] = FAR
        return r[:4]

    begin = time.thread_time()
    found = root(residuals, start[:4], method="hybr", tol=1e-9)
    seconds = time.thread_time() - begin
    closed = bool(np.max(np.abs(residuals(found.x))) < CLOSED)
    used = calls - 1
    if not closed:
        found = root(residuals, near[:4], method="hybr", tol=1e-9)
        if not np.max(np.abs(residuals(found.x))) < CLOSED:
            return [np.nan] * len(ANSWERS), seconds, used, closed
    return [getattr(out, name) for name in ANSWERS], seconds, used, closed


def main() -> None:
    """Solve the members of a file."""
    if not config.DISABLE_JIT:
        sys.exit("the slow twin is interpreted: set NUMBA_DISABLE_JIT=1")
    with np.load(sys.argv[1]) as given:
        data = {name: given[name] for name in given.files}
    fast = medium(str(data["refrigerant"]))
    med = fast._replace(tables=Direct(str(data["refrigerant"]), fast.tables))
    if replace_look_ups() == 0:
        sys.exit("no look-up was replaced")
    rows = zip(data["circuits"], data["around"], data["start"], data["near"], strict=True)
    answers, seconds, calls, closed = zip(*(solve(med, *row) for row in rows), strict=True)
    np.savez(sys.argv[2], answers=answers, seconds=seconds, calls=calls, closed=closed)


if __name__ == "__main__":
    main()
