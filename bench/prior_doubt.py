"""How far the odds of the demo jobs move when each number of the prior is off by its doubt.

``python -m bench.prior_doubt`` works it out (resumable, a file per job in .cache) and writes
docs/prior.md; with ``--page`` the page alone is written again from what was kept.

Two ways, both with the members that the diagnosis itself used:

- A quantity that is drawn: the mean of its score is moved by the part of the spread that not
  knowing a family's mean makes up (`learning.intentions.UNKNOWN_SHARE`), and the members are
  weighed again. No appliance is simulated for it.
- One value for all: to first order. Some members of each leading fault, drawn by weight, are
  sized and solved again with the value moved; the mean change of their log likelihood is the
  change of the fault's log evidence (Fisher's identity).
"""

from __future__ import annotations

import json
import math
import os
import sys
from pathlib import Path

import numpy as np

from coldwright.case.background import Background
from coldwright.case.case import Case
from coldwright.catalogue.families import FAMILIES
from coldwright.catalogue.prior_table import PRIOR, Drawn, Law, PriorTable
from coldwright.catalogue.sizing import SCORES, score, size_members
from coldwright.cli.as_json import joined
from coldwright.diagnosis.ensemble import Block, log_weights
from coldwright.diagnosis.hypotheses import hypothesis_named
from coldwright.diagnosis.population import simulate
from coldwright.diagnosis.posterior import EVIDENCE_POWER, Group, Posterior
from coldwright.errors import Refused
from coldwright.learning.intentions import UNKNOWN_SHARE
from coldwright.usecases.demo import demo_jobs

MEMBERS = 1_000
MOST = 3  # leading faults solved again for a job
SAMPLED = 8  # members of each
KEPT = Path(os.environ.get("COLDWRIGHT_PRIOR_DOUBT", ".cache/prior_doubt"))
TABLE = Path(__file__).with_name("prior_doubt.json")
PAGE = Path(__file__).parents[1] / "docs" / "prior.md"
NOT_OF_APPLIANCES = ("severity", "which", "second", "room")
BY_SCORE = tuple(name for name in SCORES if name not in NOT_OF_APPLIANCES)
BY_VALUE = tuple(row.name for row in PRIOR.rows if row.law is Law.FIXED)


def moved_odds(posterior: Posterior, change: dict[int, float]) -> dict[str, float]:
    """Odds with the log evidence of some groups changed.

    Parameters
    ----------
    posterior : Posterior
        Of the job.
    change : dict
        Group's index to change of its mean log likelihood.

    Returns
    -------
    dict
        Fault to probability.
    """
    logs: dict[str, list[float]] = {}
    for i, group in enumerate(posterior.groups):
        moved = group.log_evidence + EVIDENCE_POWER * change.get(i, 0.0)
        logs.setdefault(joined(group.population.faults), []).append(moved)
    total = {fault: float(np.logaddexp.reduce(v)) for fault, v in logs.items()}
    top = max(total.values())
    odds = {fault: math.exp(v - top) for fault, v in total.items()}
    return {fault: p / sum(odds.values()) for fault, p in odds.items()}


def by_score(posterior: Posterior, name: str) -> dict[str, float]:
    """Odds with the mean of one score off by its doubt."""
    shift = math.sqrt(UNKNOWN_SHARE)
    change = {}
    for i, group in enumerate(posterior.groups):
        if not np.any(group.weights > 0.0):
            continue
        z = score(group.population.scores, name)
        change[i] = float(np.log(np.sum(group.weights * np.exp(shift * z - 0.5 * shift**2))))
    return moved_odds(posterior, change)


def by_value(posterior: Posterior, rng: np.random.Generator) -> dict[str, dict[str, float]]:
    """Odds with each value that is the same for all off by its doubt, by the value's name."""
    changes: dict[str, dict[int, float]] = {name: {} for name in BY_VALUE}
    leading = sorted(range(len(posterior.groups)), key=lambda i: -posterior.groups[i].log_evidence)
    for i in leading[:MOST]:
        group = posterior.groups[i]
        if not np.any(group.weights > 0.0):
            continue
        z = group.population.scores[rng.choice(group.weights.size, SAMPLED, p=group.weights)]
        before = _log_l(posterior, group, z, PRIOR)
        for name in BY_VALUE:
            after = _log_l(posterior, group, z, PRIOR.with_row(PRIOR[name].moved(1.0)))
            both = np.isfinite(before) & np.isfinite(after)
            changes[name][i] = float(np.mean((after - before)[both])) if both.any() else 0.0
    # The others are taken to move as the leading ones do on average
    for change in changes.values():
        usual = float(np.mean(list(change.values()))) if change else 0.0
        change.update({i: usual for i in range(len(posterior.groups)) if i not in change})
    return {name: moved_odds(posterior, change) for name, change in changes.items()}


def _log_l(posterior: Posterior, group: Group, z: np.ndarray, table: PriorTable) -> np.ndarray:
    subject, block = posterior.ensemble.subject, group.block
    members = size_members(block.med, subject.known, z, table=table)
    fault = hypothesis_named(*group.population.faults)
    population = simulate(block.med, subject, fault, z, members, refrigerant=block.refrigerant)
    fresh = Block(block.refrigerant, block.share, block.med, (population,))
    found = log_weights(fresh, population, posterior.evidence, subject.supply_v)[0]
    return np.asarray(found + population.log_plate)


def of_job(job) -> dict[str, tuple[str, float]]:  # type: ignore[no-untyped-def]
    """For each number of the prior the fault that moves most, and by how much."""
    try:
        posterior = Case(job, Background(members=MEMBERS)).posterior
    except Refused:
        return {}
    moved = {f"score {s}": by_score(posterior, s) for s in BY_SCORE}
    moved |= by_value(posterior, np.random.default_rng(1))
    told = {joined(faults): p for faults, p in posterior.odds.items()}
    out = {}
    for entry, odds in moved.items():
        fault = max(odds, key=lambda f: abs(odds[f] - told[f]))
        out[entry] = (fault, round(odds[fault] - told[fault], 4))
    return out


def main() -> None:
    """Work out what is missing, write table and page."""
    KEPT.mkdir(parents=True, exist_ok=True)
    if "--page" not in sys.argv[1:]:
        found = {}
        for demo in demo_jobs():
            path = KEPT / f"{demo.name}.json"
            if not path.exists():
                path.write_text(json.dumps(of_job(demo.job)), encoding="utf-8")
                print(demo.name, file=sys.stderr)
            found[demo.name] = json.loads(path.read_text(encoding="utf-8"))
        TABLE.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")
    kept = json.loads(TABLE.read_text(encoding="utf-8")) if TABLE.exists() else {}
    PAGE.write_text(page(kept), encoding="utf-8")


def row_cells(row: Drawn) -> tuple[str, ...]:
    """One quantity as the page shows it.

    Parameters
    ----------
    row : Drawn
        Of the table.
    """
    middle = (
        ", ".join(f"{v:g} ({y:.0f})" for y, v in row.median)
        if isinstance(row.median, tuple)
        else f"{row.median:g}"
    )
    spread = "" if row.law is Law.FIXED else f"{row.spread:g}"
    limits = f"{row.low:g} to {row.high:g}" if np.isfinite(row.low) else ""
    beside = ", ".join(t for t in (row.score, row.beside) if t)
    return (f"`{row.name}`", row.unit, row.law.value, middle, spread, limits, beside,
            row.source, row.reason)  # fmt: skip


def page(found: dict[str, dict[str, tuple[str, float]]]) -> str:
    """docs/prior.md.

    Parameters
    ----------
    found : dict
        Job to entry to fault and move.
    """
    head = ("quantity", "unit", "law", "median", "spread", "held inside", "score, beside",
            "source", "reason")  # fmt: skip
    lines = [
        "# The prior of the inference",
        "",
        "What no plate tells, as appliances are drawn from it. Made by `python -m"
        " bench.prior_doubt` from `catalogue/prior_table.py` and `catalogue/families.py`; the code"
        " reads the same records. The reasons for the families: [catalogue-families.md]"
        "(catalogue-families.md). Spread: of the logarithm for a lognormal, in the unit for a"
        " normal. Quantities of one score go together.",
        "",
        *_table(head, [row_cells(row) for row in PRIOR.rows]),
        "",
        "## Families",
        "",
        "All ours unless [catalogue-families.md](catalogue-families.md) names a source.",
        "",
        *_table(
            ("kind", "run share at 25 °C", "evaporating °C", "freezer °C", "walls"),
            [
                (
                    f"`{f.kind}`",
                    f"{f.run_fraction.mean:g} ± {f.run_fraction.sd:g}",
                    f"{f.evaporating_k.mean - 273.15:.1f} ± {f.evaporating_k.sd:g}",
                    f"{f.freezer_set_k.mean - 273.15:.1f} ± {f.freezer_set_k.sd:g}",
                    f"{f.wall_factor:g}",
                )
                for f in FAMILIES
            ],
        ),
        "",
        "## How far the odds move",
        "",
        f"Demo jobs, {MEMBERS} members. A drawn quantity: the mean of its score moved by"
        f" {math.sqrt(UNKNOWN_SHARE):.2f} of its spread, members weighed again. One value for all:"
        " moved by its doubt (a fifth of it where nothing else is told), to first order with"
        f" {SAMPLED} members of each leading fault: good to a few points. Percentage points of the"
        " fault that moves most.",
        "",
    ]
    jobs = {job: moves for job, moves in found.items() if moves}
    if not jobs:
        lines.append("Not worked out yet for these families: `python -m bench.prior_doubt`.")
        return "\n".join(lines) + "\n"
    entries = [e for e in next(iter(jobs.values()), {}) if all(e in m for m in jobs.values())]
    rows = []
    for entry in entries:
        worst = max(jobs, key=lambda job: abs(jobs[job][entry][1]))
        mean = float(np.mean([abs(m[entry][1]) for m in jobs.values()]))
        fault, move = jobs[worst][entry]
        rows.append((abs(move), (f"`{entry}`", f"{100 * move:+.1f}", f"`{fault}`", worst,
                                 f"{100 * mean:.1f}")))  # fmt: skip
    rows.sort(key=lambda r: -r[0])
    lines += _table(
        ("number", "largest move", "of", "in job", "mean over jobs"), [cells for _, cells in rows]
    )
    return "\n".join(lines) + "\n"


def _table(head: tuple[str, ...], rows: list[tuple[str, ...]]) -> list[str]:
    return [
        "| " + " | ".join(head) + " |",
        "|" + "---|" * len(head),
        *("| " + " | ".join(cells) + " |" for cells in rows),
    ]


if __name__ == "__main__":
    main()
