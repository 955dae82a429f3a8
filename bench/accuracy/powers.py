"""What powers of the likelihood would have given: on the jobs they were chosen on, and the rest."""

from __future__ import annotations

import numpy as np

from bench.accuracy import score
from bench.accuracy.run import POWERS
from coldwright.diagnosis.posterior import EVIDENCE_POWER, INTERVAL_POWER

TRIED = (0.5, 0.6, 0.7, 0.75, 0.8, 0.9, 1.0)
Rows = list[dict]


def section(jobs: Rows, answers: Rows, learned_on: int) -> list[str]:
    """Markdown of both choices.

    Parameters
    ----------
    jobs, answers : list of dict
        The study's, in the same order.
    learned_on : int
        Jobs below this number are those that were chosen on.
    """
    both = list(zip(jobs, answers, strict=True))
    parts = [
        [x for x in both if (x[0]["number"] < learned_on) == chosen_on]
        for chosen_on in (True, False)
    ]
    out = [
        "## Powers of the likelihood",
        "",
        f"In use: {EVIDENCE_POWER:g} between faults, {INTERVAL_POWER:g} in severity intervals,"
        f" looked at for the choice were the jobs numbered under {learned_on} (first figure); the"
        " others stand behind the stroke. Log loss in nat, calibration error of what is put first.",
        "",
        "| power between faults | log loss, foreign | log loss, own | calibration, foreign |"
        " calibration, own |",
        "|---|---|---|---|---|",
    ]
    for power in TRIED:
        cells = []
        for figure in (_loss, _calibration):
            for is_foreign in (True, False):
                two = [figure(_of(part, is_foreign), power) for part in parts]
                cells.append(" / ".join(f"{v:.3f}" for v in two))
        out.append(f"| {power:g} | " + " | ".join(cells) + " |")
    out += [
        "",
        "| power in intervals | truth inside the 80 % interval, foreign | own |",
        "|---|---|---|",
    ]
    for power in POWERS:
        cells = [
            " / ".join(f"{_covered(_of(part, is_foreign), power):.1%}" for part in parts)
            for is_foreign in (True, False)
        ]
        out.append(f"| {power:g} | " + " | ".join(cells) + " |")
    return [*out, ""]


Pairs = list[tuple[dict, dict]]


def _of(part: Pairs, is_foreign: bool) -> Pairs:
    return [x for x in part if x[0]["foreign"] == is_foreign]


def _again(part: Pairs, power: float) -> tuple[Rows, Rows]:
    jobs = [j for j, _ in part]
    return jobs, [{"odds": score.at_power(j, a, power)} for j, a in part]


def _loss(part: Pairs, power: float) -> float:
    return float(np.mean(score.log_loss(*_again(part, power)))) if part else float("nan")


def _calibration(part: Pairs, power: float) -> float:
    return score.calibration_error(*_again(part, power)) if part else float("nan")


def _covered(part: Pairs, power: float) -> float:
    return score.covered([j for j, _ in part], [a for _, a in part], power)[0]
