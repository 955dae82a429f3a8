"""Whether mass, energy and charge close: ``python -m bench.closures`` writes docs/closures.md.

Random members of every kind, refrigerant and era, with every fault, are solved; what
`balances` works out again from each state is summed up, with the share left unsolved.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import astuple, dataclass, fields
from itertools import pairwise
from pathlib import Path

import numpy as np

from bench.balances import Closures, closures_of
from bench.members import ERAS, FAULTS, GROUPS, PLAIN, ROOMS_K, Draw, Loops, Solved, draw, solve
from coldwright import __version__
from coldwright.catalogue.families import FAMILIES, PARAMETER_SET
from coldwright.circuit.layout import Layout
from coldwright.circuit.records import Position
from coldwright.cycle.state import PUMPED_DOWN, SOLVED, TRIPPED, UNSOLVED

SEED = 20260301
MEMBERS = 10_000
PROMISED = 1e-6  # closure the model promises, relative
MOST_UNSOLVED = 0.002
MOST_UNSOLVED_IN_CELL = 0.01
# Every layout with every full refrigerant, each in a year it was usual in
LOOPS = (
    PLAIN,
    Loops(Layout.OIL_COOLER),
    *(Loops(layout, at) for layout in (Layout.FRAME_LOOP, Layout.BOTH) for at in Position),
    *(Loops(pan=at) for at in Position),
    Loops(Layout.BOTH, Position.AFTER_CONDENSER, Position.BEFORE_CONDENSER),
)
REFRIGERANTS = (("R134a", 2006), ("R600a", 2016), ("R12", 1985), ("R290", 2018), ("R22", 1990))
IN_LAYOUTS = 6_000  # members of that study
BANDS_C = (10.0, 18.0, 27.0, 35.0, 43.0)
PAGE = Path(__file__).parents[1] / "docs" / "closures.md"
SAYS = {
    "energy": "energy: heat in + work against heat out, round the circuit",
    "bond": "energy: heat the capillary gives against heat the suction gas takes",
    "cabinet": "energy: load of a floating cabinet against its cooling",
    "mass": "mass: flow of the compressor against flow the capillary passes",
    "charge": "charge: masses by place against the charge",
    "places": "charge: masses by place worked out again against the state's",
}
SHORT = {
    "energy": "energy", "bond": "bond", "cabinet": "cabinet", "mass": "mass", "charge": "charge",
    "places": "places",
}  # fmt: skip


NOTHING = Closures(*[np.nan] * len(fields(Closures)))  # a compressor that does not turn


@dataclass(frozen=True, slots=True)
class Study:
    """One row per sized member, all draws after each other."""

    groups: tuple[Draw, ...]
    group: np.ndarray  # index in `groups`
    member: np.ndarray  # index in its group
    fault: np.ndarray  # index in FAULTS
    severity: np.ndarray
    room_k: np.ndarray
    settled: np.ndarray
    status: np.ndarray
    errors: dict[str, np.ndarray]  # by field of Closures

    @property
    def unsolved(self) -> np.ndarray:
        """Whether no state was found."""
        return np.asarray(self.status == UNSOLVED)

    def closing(self, name: str) -> np.ndarray:
        """Errors of the states that hold their charge and have this balance."""
        errors = self.errors[name][np.isin(self.status, (SOLVED, PUMPED_DOWN))]
        return np.asarray(errors[~np.isnan(errors)])

    def tripped(self, name: str) -> np.ndarray:
        """Errors of the states at the overload's limit, whose charge is left free."""
        errors = self.errors[name][self.status == TRIPPED]
        return np.asarray(errors[~np.isnan(errors)])


def study(members: int = MEMBERS, seed: int = SEED, every: int = 1) -> Study:
    """Draw, solve and close members of every kind, refrigerant and era.

    Parameters
    ----------
    members : int
        Of all groups together, rounded up to whole groups. [-]
    seed : int
        Of the draws. [-]
    every : int
        Take only each so-manieth group, for a small sample. [-]
    """
    groups = GROUPS[::every]
    return _studied([(*group, PLAIN) for group in groups], members, seed)


def layouts(members: int = IN_LAYOUTS, seed: int = SEED, every: int = 1) -> Study:
    """The same over every layout and every refrigerant, the kinds of appliance taking turns.

    Parameters
    ----------
    members : int
        Of all together, rounded up to whole groups. [-]
    seed : int
        Of the draws. [-]
    every : int
        Take only each so-manieth pair, for a small sample. [-]
    """
    pairs = [(r, y, loops) for loops in LOOPS for r, y in REFRIGERANTS][::every]
    kinds = [family.kind for family in FAMILIES]
    groups = [(kinds[i % len(kinds)], r, y, loops) for i, (r, y, loops) in enumerate(pairs)]
    return _studied(groups, members, seed)


def _studied(groups: Sequence[tuple[str, str, int, Loops]], members: int, seed: int) -> Study:
    rng = np.random.default_rng(seed)
    count = -(-members // len(groups))
    solved = [solve(draw(*group[:3], count, rng, group[3])) for group in groups]
    rows = [row for i, one in enumerate(solved) for row in _rows(i, one)]
    columns = [np.array(column) for column in zip(*rows, strict=True)]
    names = [f.name for f in fields(Closures)]
    return Study(
        tuple(one.draw for one in solved), *columns[:7],
        dict(zip(names, columns[7:], strict=True)),
    )  # fmt: skip


def _rows(index: int, solved: Solved) -> Iterator[tuple[float, ...]]:
    d = solved.draw
    circuits = d.wanted[0]
    for i in np.flatnonzero(d.sized):
        state, s = solved.states[i], solved.surroundings[i]
        status = state["status_code"]
        if status != UNSOLVED and not np.isfinite(state["shell_k"]):
            status = UNSOLVED
        closed = NOTHING
        if d.runs[i] and status != UNSOLVED:
            closed = closures_of(d.med, circuits[i], s, state, bool(d.settled[i]))
        yield (
            index, i, d.fault[i], d.severity[i], s["room_k"], d.settled[i], status,
            *astuple(closed),
        )  # fmt: skip


def worst_cell(found: Study) -> float:
    """Largest unsolved share over the cells of fault and room."""
    return max(bad / max(all_, 1) for row in cells(found) for bad, all_ in row)


def cells(found: Study) -> list[list[tuple[int, int]]]:
    """Unsolved and all members by fault (rows, as FAULTS) and band of rooms."""
    band = np.digitize(found.room_k - 273.15, BANDS_C[1:-1])
    table = []
    for i in range(len(FAULTS)):
        row = []
        for j in range(len(BANDS_C) - 1):
            here = (found.fault == i) & (band == j)
            row.append((int(np.sum(found.unsolved & here)), int(np.sum(here))))
        table.append(row)
    return table


def part(found: Study, chosen: np.ndarray) -> tuple[int, int, dict[str, float]]:
    """Members, unsolved, and the largest error of each balance, of some of the rows."""
    closes = np.isin(found.status, (SOLVED, PUMPED_DOWN)) & chosen
    worst = {}
    for name in SAYS:
        errors = found.errors[name][closes]
        errors = errors[~np.isnan(errors)]
        worst[name] = float(errors.max()) if errors.size else 0.0
    return int(chosen.sum()), int(np.sum(found.unsolved & chosen)), worst


def _tables(found: Study) -> list[str]:
    """One table by layout, one by refrigerant."""
    loops = np.array([LOOPS.index(found.groups[int(g)].loops) for g in found.group])
    gases = np.array([found.groups[int(g)].refrigerant for g in found.group])
    n, bad = found.status.size, int(found.unsolved.sum())
    rows = [
        "",
        "## Every layout, every refrigerant",
        "",
        f"{n} more, over {len(LOOPS)} layouts times {len(REFRIGERANTS)} refrigerants "
        f"({', '.join(f'{r} {y}' for r, y in REFRIGERANTS)}), the kinds of appliance taking turns, "
        "faults, rooms and compartments as above. A drain-pan loop is added to an appliance sized "
        "without one. The largest relative error of each balance:",
        "",
    ]
    head = "| members | unsolved | " + " | ".join(SHORT.values()) + " |"
    rule = "|" + "---|" * (len(SHORT) + 3)

    def row(name: str, chosen: np.ndarray) -> str:
        members, unsolved, worst = part(found, chosen)
        cells_ = " | ".join(f"{worst[key]:.1e}" for key in SHORT)
        return f"| {name} | {members} | {unsolved} | {cells_} |"

    rows += [f"| layout {head}", rule]
    rows += [row(one.name, loops == i) for i, one in enumerate(LOOPS)]
    rows += ["", f"| refrigerant {head}", rule]
    rows += [row(name, gases == name) for name, _ in REFRIGERANTS]
    rows += [
        "",
        f"Unsolved: {bad} of {n}, {bad / n:.3%} (target at most {MOST_UNSOLVED:.1%}).",
        *_unsolved(found),
    ]
    return rows


def _unsolved(found: Study) -> list[str]:
    """Each member without a state."""
    lines = ["", "Unsolved members:", ""] if found.unsolved.any() else []
    for i in np.flatnonzero(found.unsolved):
        d = found.groups[int(found.group[i])]
        layout = "" if d.loops == PLAIN else f" ({d.loops.name})"
        lines.append(
            f"- {d.kind}, {d.refrigerant} {d.year}{layout}: "
            f"{FAULTS[int(found.fault[i])].identifier}"
            f" {found.severity[i]:.3g}, room {found.room_k[i] - 273.15:.1f} °C,"
            f" {'settled' if found.settled[i] else 'drifting'}"
        )
    return lines


def page(found: Study, members: int, seed: int, by_layout: Study) -> str:
    """The page as text."""
    n, unsolved = found.status.size, int(found.unsolved.sum())
    drawn = sum(len(d) for d in found.groups)
    tripped = int(np.sum(found.status == TRIPPED))
    still = int(sum(np.sum(d.sized & ~d.runs) for d in found.groups))
    eras = ", ".join(f"{refrigerant} {year}" for refrigerant, year in ERAS)
    lines = [
        "# Whether mass, energy and charge close",
        "",
        f"Made by `python -m bench.closures` (members {members}, seed {seed}, coldwright "
        f"{__version__}, {PARAMETER_SET}). Healthy appliances of all {len(FAMILIES)} kinds and of "
        f"{eras} are drawn and sized as in `diagnosis.population`; each gets one of the "
        f"{len(FAULTS)} faults at a severity drawn as in the diagnosis, a room of "
        f"{ROOMS_K[0] - 273.15:.0f} to {ROOMS_K[1] - 273.15:.0f} °C, and either a thermostat in "
        "charge (settled) or compartments anywhere between their setting and the room (drifting).",
        "",
        f"Of {drawn} drawn {n} could be sized. In {still} the compressor does not turn: they stand "
        f"at their surroundings and have nothing to close. {tripped} trip the overload: their "
        "state is that at the tables' top pressure with the charge left free, so they are counted "
        "apart.",
        "",
        "Nothing below reads the solver's residual: from the pressures, temperatures and "
        "enthalpies of each state the heat of both exchangers, of discharge line and shell, the "
        "pump's flow and, by a root of its own, the flow the capillary passes are worked out again "
        "(`bench/balances.py`).",
        "",
        "| relative error | states | median | 99 % | largest | target |",
        "|---|---|---|---|---|---|",
    ]
    for name, says in SAYS.items():
        e = found.closing(name)
        lines.append(
            f"| {says} | {e.size} | {np.median(e):.1e} | {np.percentile(e, 99):.1e} |"
            f" {e.max():.1e} | {PROMISED:.0e} |"
        )
    mass, energy = found.tripped("mass"), found.tripped("energy")
    if mass.size:
        lines += [
            "",
            f"At the overload's limit the largest errors are {energy.max():.1e} of energy and "
            f"{mass.max():.1e} of mass.",
        ]
    lines += [
        "",
        f"Unsolved: {unsolved} of {n}, {unsolved / n:.3%} (target at most {MOST_UNSOLVED:.1%}); in "
        f"the worst cell of fault and room {worst_cell(found):.2%} (target at most "
        f"{MOST_UNSOLVED_IN_CELL:.0%}).",
        "",
        "| fault, unsolved of members | "
        + " | ".join(f"{a:.0f} to {b:.0f} °C" for a, b in pairwise(BANDS_C))
        + " |",
        "|---|" + "---|" * (len(BANDS_C) - 1),
    ]
    for fault, row in zip(FAULTS, cells(found), strict=True):
        lines.append(
            f"| {fault.identifier} | " + " | ".join(f"{bad} of {all_}" for bad, all_ in row) + " |"
        )
    lines += _unsolved(found)
    lines += _tables(by_layout)
    return "\n".join(lines) + "\n"


def main() -> None:
    """Run the study, show it and write the page."""
    text = page(study(), MEMBERS, SEED, layouts())
    PAGE.write_text(text, encoding="utf-8")
    print(text)


if __name__ == "__main__":
    main()
