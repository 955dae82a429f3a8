"""Run the accuracy study, write docs/accuracy.md and docs/from-outside.md.

``python -m bench.accuracy``

Resumable: answers are kept in COLDWRIGHT_ACCURACY (default .cache/accuracy). With
``--report`` the page is written from the answers there are, none is worked out.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np

from bench.accuracy import outside
from bench.accuracy.recipe import load
from bench.accuracy.report import page
from bench.accuracy.run import FOLDER, MEMBERS, answered, run

PAGE = Path(__file__).parents[2] / "docs" / "accuracy.md"
FIELD = Path(__file__).parents[1] / "field" / "scores.md"
OUTSIDE = PAGE.with_name("from-outside.md")
COMPARED = 12  # jobs answered again by an ensemble ten times as large


def main(report_only: bool) -> int:
    """Answer the frozen jobs, compare a sample with larger ensembles, write the page."""
    jobs = load()
    path, larger = (FOLDER / f"answers-{m}.jsonl" for m in (MEMBERS, 10 * MEMBERS))
    sample = jobs[:: max(len(jobs) // COMPARED, 1)][:COMPARED]
    if not report_only:
        run(jobs, MEMBERS, path)
        print("the same with ten times the members", file=sys.stderr)
        run(sample, 10 * MEMBERS, larger)
    done, large = answered(path), answered(larger)
    asked = [j for j in jobs if j["number"] in done]
    compared = [j for j in sample if j["number"] in done and j["number"] in large]
    answers = [done[j["number"]] for j in asked]
    text = page(
        asked,
        answers,
        compared,
        [large[j["number"]] for j in compared],
        np.random.default_rng(1),
        len(jobs),
    )
    text += f"\n{FIELD.read_text(encoding='utf-8')}"
    PAGE.write_text(text, encoding="utf-8")
    OUTSIDE.write_text(outside.page(asked, answers), encoding="utf-8")
    print(text)
    return 0


if __name__ == "__main__":
    raise SystemExit(main("--report" in sys.argv[1:]))
