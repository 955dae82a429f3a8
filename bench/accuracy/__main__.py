"""Run the accuracy study and write docs/accuracy.md: ``python -m bench.accuracy``.

Resumable: answers are kept in COLDWRIGHT_ACCURACY (default .cache/accuracy).
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np

from bench.accuracy.report import page
from bench.accuracy.run import FOLDER, MEMBERS, jobs_and_answers, run

PAGE = Path(__file__).parents[2] / "docs" / "accuracy.md"
COMPARED = 24  # jobs answered again by an ensemble ten times as large


def main() -> int:
    """Answer the frozen jobs, compare a sample with larger ensembles, write the page."""
    jobs, answers = jobs_and_answers(MEMBERS)
    every = max(len(jobs) // COMPARED, 1)
    sample = jobs[::every][:COMPARED]
    print("the same with ten times the members", file=sys.stderr)
    large = run(sample, 10 * MEMBERS, FOLDER / f"answers-{10 * MEMBERS}.jsonl")
    text = page(jobs, answers, sample, large, np.random.default_rng(1))
    PAGE.write_text(text, encoding="utf-8")
    print(text)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
