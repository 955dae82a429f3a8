"""Speed of the model on this machine beside what it is held to: ``python -m bench``.

Every time is also given as a ratio to something measured in the same run, so that two
machines can be compared. Nothing here is a test: a busy machine is slower.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bench import whole
from bench.members import FAULTS, ROOMS_K
from bench.slow_twin import ANSWERS
from bench.twins import Compared, Timed, compared, running

SEED = 20260303
SOLVE_S, ENSEMBLE_S, REWEIGH_S, START_S = 0.3e-3, 3.0, 20e-3, 1.5
FASTER, ALIKE = 200.0, 0.002
LINEAR = 1.1  # largest power of the number of members still called linear, ours


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table."""

    what: str
    measured: str
    target: str
    met: bool | None
    ratio: str


def main() -> None:
    """Measure and print the table."""
    rng = np.random.default_rng(SEED)
    print("loading and compiling (about 90 s where nothing is cached yet) ...", flush=True)
    timed = running(rng)
    print("the slow twin ...", flush=True)
    both = compared(rng)
    print("ensembles ...", flush=True)
    job = whole.shown_job()
    built = whole.ensembles(job, rng)
    weighed, readings = whole.reweighing(job, built.largest)
    print("starts ...", flush=True)
    started = whole.starts()
    rows = [
        *solving_rows(timed),
        *twin_rows(timed, both),
        *ensemble_rows(built, float(np.median(timed.seconds))),
        Row(
            f"weighing {built.largest.members} members again, {readings} readings",
            f"{1e3 * weighed:.1f} ms", f"{1e3 * REWEIGH_S:.0f} ms", weighed <= REWEIGH_S,
            f"{built.seconds / weighed:.0f} times faster than building them",
        ),
        *start_rows(started),
    ]  # fmt: skip
    show(rows)
    print(f"Unit of time: one direct CoolProp saturation state, {1e6 * timed.unit_s:.2f} µs.")
    print(f"Residual calls: compiled {np.median(timed.calls):.0f}, ", end="")
    print(f"slow twin {np.median(both.slow_calls):.0f} (medians).")


def solving_rows(timed: Timed) -> list[Row]:
    """Time per solve, and how it hangs on fault, room and thermostat."""
    s, unit = timed.seconds, timed.unit_s
    middle = float(np.median(s))
    rows = [
        Row(
            f"running state, median of {s.size} faulty members",
            f"{1e3 * middle:.3f} ms", f"{1e3 * SOLVE_S:.1f} ms", middle <= SOLVE_S,
            f"{middle / unit:.0f} CoolProp states",
        ),
        Row(
            "its mean; 99th percentile; longest",
            f"{1e3 * s.mean():.3f}; {1e3 * np.percentile(s, 99):.2f}; {1e3 * s.max():.1f} ms",
            "", None, f"{s.mean() / middle:.1f} times the median",
        ),
    ]  # fmt: skip
    middle_room = 0.5 * (ROOMS_K[0] + ROOMS_K[1])
    parts = {FAULTS[i].identifier: timed.fault == i for i in np.unique(timed.fault)}
    parts |= {"cool rooms": timed.room_k < middle_room, "hot rooms": timed.room_k >= middle_room}
    parts |= {"settled": timed.settled, "drifting": ~timed.settled}
    medians = {name: float(np.median(s[which])) / middle for name, which in parts.items()}
    low, high = min(medians, key=medians.__getitem__), max(medians, key=medians.__getitem__)
    rows.append(
        Row(
            "median of the easiest and of the hardest fault, room or thermostat",
            f"{low}; {high}",
            "alike",
            None,
            f"{medians[low]:.2f}; {medians[high]:.2f} times the median of all",
        )
    )
    return rows


def twin_rows(timed: Timed, both: Compared) -> list[Row]:
    """Against the same equations interpreted, with direct CoolProp calls and scipy's root."""
    n = both.slow_s.size
    # The twin imposes the compartments: it is held against the drifting members.
    ratio = float(np.median(both.slow_s) / np.median(timed.seconds[~timed.settled]))
    same = np.median(both.slow_s / both.fast_s)
    worst = np.max(np.abs(both.off), axis=0)
    name = ANSWERS[int(np.argmax(worst))]
    return [
        Row(
            f"faster than the slow twin (median of {n}, {1e3 * np.median(both.slow_s):.0f} ms)",
            f"{ratio:.0f} times", f"{FASTER:.0f} times", ratio >= FASTER,
            f"{same:.0f} times on the same members, median",
        ),
        Row(
            f"slow twin there from the same start: {int(both.closed.sum())} of {n}; largest"
            " difference of pressures, flow, power, cooling",
            f"{worst.max():.4%}", f"{ALIKE:.1%}", bool(worst.max() <= ALIKE), name,
        ),
    ]  # fmt: skip


def ensemble_rows(built: whole.Ensembles, solve: float) -> list[Row]:
    """A new appliance."""
    members = built.largest.members
    return [
        Row(
            f"ensemble of {members} for a new appliance, 2 threads",
            f"{built.seconds:.2f} s", f"{ENSEMBLE_S:.0f} s", built.seconds <= ENSEMBLE_S,
            f"{built.processor_s / members / solve:.1f} median solves a member;"
            f" {built.processor_s / 2.0:.2f} s of processor time a thread",
        ),
        Row(
            "processor time on one thread grows as the number of members to the power",
            f"{built.growth:.2f}", f"{LINEAR:.1f}", built.growth <= LINEAR,
            ", ".join(
                f"{m:.0f}: {1e3 * t:.2f} ms"
                for m, t in zip(built.members, built.each_s, strict=True)
            ),
        ),
    ]  # fmt: skip


def start_rows(started: dict[str, tuple[float, float]]) -> list[Row]:
    """Commands from start to end."""
    bare = started["bare"][0]
    return [
        Row(
            name, f"{started[name][0]:.2f} s", f"{START_S:.1f} s", started[name][0] <= START_S,
            f"{started[name][0] / bare:.1f} times python with numpy; {started[name][1]:.2f} s"
            " of processor time",
        )
        for name in whole.STARTS
    ]  # fmt: skip


def show(rows: list[Row]) -> None:
    """Print the table."""
    says = {True: "met", False: "missed", None: ""}
    print("\n| what | measured | target | | ratio in the same run |")
    print("|---|---|---|---|---|")
    for row in rows:
        print(f"| {row.what} | {row.measured} | {row.target} | {says[row.met]} | {row.ratio} |")
    print()


if __name__ == "__main__":
    main()
