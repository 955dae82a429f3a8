"""Speed of the model on this machine: ``python -m bench``.

Ratios are against the fastest thing in the same run (one property look-up), so
that two machines can be compared. The slow twin with direct CoolProp calls is
not written yet; its ratio is therefore not shown.
"""

from __future__ import annotations

import time

import numpy as np

from coldwright.catalogue.families import family_of
from coldwright.catalogue.sizing import DIMENSIONS, Known
from coldwright.cycle.medium import medium
from coldwright.diagnosis.population import all_faults, members_for, simulate
from coldwright.diagnosis.subject import Subject
from coldwright.refrigerant.saturation import saturation_march

NAN = float("nan")
COUNTS = (110, 220, 440)  # healthy members; every fault is put on each


def main() -> None:
    """Print sizing and solving times for growing ensembles."""
    med = medium("R134a", progress=print)
    known = Known(
        family_of("top_mount"), 2004.0, 0.14, NAN, NAN, NAN, NAN, 60.0, None, None
    )  # fmt: skip
    subject = Subject(
        known, (("R134a", 1.0),), 297.0, 285.0, 267.0, False, 120.0, float("inf"), (), ()
    )
    rng = np.random.default_rng(1)
    print("compiling")
    _ensemble(med, subject, rng.standard_normal((8, DIMENSIONS)))
    look_up = _look_up(med)
    print(f"one saturation look-up from Python: {1e6 * look_up:.1f} us")
    for count in COUNTS:
        z = rng.standard_normal((count, DIMENSIONS))
        sizing, solving, calls, members = _ensemble(med, subject, z)
        print(
            f"{members:6d} members: sizing {sizing:.2f} s, solving {solving:.2f} s,"
            f" {1e3 * solving / members:.2f} ms each ({solving / members / look_up:.0f} look-ups),"
            f" median {np.median(calls):.0f} residual calls"
        )


def _look_up(med) -> float:  # type: ignore[no-untyped-def]
    saturation_march(med.tables, 1e5)
    start = time.perf_counter()
    for _ in range(2000):
        saturation_march(med.tables, 1e5)
    return (time.perf_counter() - start) / 2000


def _ensemble(med, subject, z):  # type: ignore[no-untyped-def]
    start = time.perf_counter()
    members = members_for(med, subject, z)
    sizing = time.perf_counter() - start
    start = time.perf_counter()
    populations = [simulate(med, subject, f, z, members) for f in all_faults()]
    solving = time.perf_counter() - start
    calls = np.concatenate([p.states["iterations"] for p in populations])
    return sizing, solving, calls[calls > 0], sum(p.states.shape[0] for p in populations)


if __name__ == "__main__":
    main()
