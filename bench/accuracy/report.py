"""The page docs/accuracy.md from jobs and answers; computes nothing that score.py does not."""

from __future__ import annotations

import numpy as np

from bench.accuracy import score
from bench.accuracy.run import MEMBERS

TARGETS = {0.25: 0.75, 0.50: 0.85}


def page(
    jobs: list[dict],
    answers: list[dict],
    sample: list[dict],
    large: list[dict],
    rng: np.random.Generator,
) -> str:
    """Markdown of the whole study."""
    first = score.firsts(jobs, answers).astype(float)
    effect = np.array([np.nan if j["effect"] is None else j["effect"] for j in jobs])
    out = [
        "# How often the odds are right",
        "",
        f"Made by `make accuracy` from {len(jobs)} simulated jobs frozen in"
        " `bench/accuracy/jobs.jsonl` (recipe: `bench/accuracy/recipe.py`), answered with"
        f" {MEMBERS} members each. The appliances are drawn outside the ensemble; six readings"
        " without opening, compartment temperatures counted; drier and capillary restriction"
        " scored as one. Readings carry the instrument and model error the diagnosis assumes:"
        " this measures the inference on its own model, not the model on real appliances."
        " Brackets are 95 % bootstrap intervals.",
        "",
        "| jobs | right fault first | target |",
        "|---|---|---|",
        f"| all {len(jobs)} | {_percent(score.interval(first, rng))} | - |",
    ]
    for limit, target in TARGETS.items():
        m = effect >= limit
        out.append(
            f"| effect {limit:.0%} or more ({m.sum()}) |"
            f" {_percent(score.interval(first[m], rng))} | {target:.0%} |"
        )
    out += ["", "Effect: 1 - fraction; overcharge: fraction - 1; heat load: watts over the healthy",
            "cabinet's load; blocked and not running: 1; nothing wrong has none.", "",
            "| true fault | jobs | first, all | effect 25 % or more | effect 50 % or more |"
            " severity inside the 80 % interval |", "|---|---|---|---|---|---|"]  # fmt: skip
    labels = np.array([score.label(j["fault"]) for j in jobs])
    for name in sorted(set(labels)):
        m = labels == name
        cells = [_percent(score.interval(first[m & (effect >= e)], rng)) for e in (0.25, 0.5)]
        if name == "nothing_wrong":
            cells = ["-", "-"]
        out.append(
            f"| {name} | {m.sum()} | {_percent(score.interval(first[m], rng))} | {cells[0]} |"
            f" {cells[1]} | {_covered(jobs, answers, m)} |"
        )
    p, hit = score.top(jobs, answers)
    q, hit_all = score.every(jobs, answers)
    out += [
        "",
        "Expected calibration error of the first fault's odds:"
        f" {score.calibration_error(jobs, answers):.3f}"
        f" (target 0.03; at {len(jobs)} jobs chance alone gives about {_chance(p, rng):.3f});"
        f" of all odds of all faults: {_all_error(q, hit_all):.4f}.",
        "",
        "| odds said | happened | jobs |",
        "|---|---|---|",
    ]
    out += [f"| {a:.2f} | {b:.2f} | {n} |" for a, b, n in score.reliability(p, hit)]
    sealed = _sealed(jobs, answers)
    out += ["", f"Sealed circuit or not, by the larger side of the odds: right in {sealed:.1%}.",
            f"Odds before members were drawn nearer: right first in"
            f" {score.firsts(jobs, answers, 'rough').mean():.1%}, calibration error"
            f" {score.calibration_error(jobs, answers, 'rough'):.3f}.",
            f"Unsolved members: {_unsolved(answers):.2%}.", ""]  # fmt: skip
    if large:
        out += _compared(answers, sample, large)
    out += ["## Confusion", "", "Rows the true fault, columns the fault put first.", ""]
    names, table = score.confusion(jobs, answers)
    out.append("| | " + " | ".join(names) + " |")
    out.append("|---" * (len(names) + 1) + "|")
    for name, row in zip(names, table, strict=True):
        out.append(f"| {name} | " + " | ".join(str(v) for v in row) + " |")
    return "\n".join(out) + "\n"


def _percent(v: tuple[float, float, float]) -> str:
    return "-" if v[0] != v[0] else f"{v[0]:.1%} [{v[1]:.1%}, {v[2]:.1%}]"


def _covered(jobs: list[dict], answers: list[dict], mask: np.ndarray) -> str:
    inside = [
        a["severity"][0] <= j["severity"] <= a["severity"][2]
        for j, a, m in zip(jobs, answers, mask, strict=True)
        if m and a["severity"] is not None and j["severity"] is not None
    ]
    return f"{np.mean(inside):.0%} of {len(inside)}" if inside else "-"


def _chance(p: np.ndarray, rng: np.random.Generator) -> float:
    """Calibration error that perfectly honest odds would show at this number of jobs."""
    drawn = [score._ece(p, (rng.random(p.size) < p).astype(float)) for _ in range(200)]
    return float(np.mean(drawn))


def _all_error(q: np.ndarray, hit: np.ndarray) -> float:
    return score._ece(q, hit)


SEALED = {"undercharge", "overcharge", "restriction", "capillary_blocked", "weak_compressor"}


def _sealed(jobs: list[dict], answers: list[dict]) -> float:
    right = []
    for job, row in zip(jobs, answers, strict=True):
        odds = score.merged(row["odds"])
        said = sum(p for f, p in odds.items() if f in SEALED) > 0.5
        right.append(said == (score.label(job["fault"]) in SEALED))
    return float(np.mean(right))


def _unsolved(answers: list[dict]) -> float:
    return sum(a["unsolved"] for a in answers) / max(sum(a["members"] for a in answers), 1)


def _compared(answers: list[dict], sample: list[dict], large: list[dict]) -> list[str]:
    by_number = {a["number"]: a for a in answers}
    gaps = []
    for job, row in zip(sample, large, strict=True):
        small = score.merged(by_number[job["number"]]["odds"])
        big = score.merged(row["odds"])
        gaps.append(max(abs(small[f] - big[f]) for f in big))
    g = np.array(gaps)
    return [
        f"Against ensembles ten times as large, on {len(g)} of the jobs: largest change of any"
        f" fault's odds {100 * g.mean():.1f} points on average, median {100 * np.median(g):.1f},"
        f" within 3 points in {np.mean(g <= 0.03):.0%} (target: within 3 points).",
        "",
    ]
