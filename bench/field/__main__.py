"""Score the told jobs.

``python -m bench.field [--members N] [FOLDER]``; a folder of a shop's own holds ``truth.csv``
and ``cases/*.toml`` as this one does. With ``--odds FILE`` every answer is written there as JSON.
"""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from bench.field.score import answered, cases_of, page

MEMBERS = 2_000


def main() -> int:
    """Answer every case and print the figures."""
    asked = argparse.ArgumentParser(prog="python -m bench.field")
    asked.add_argument("folder", nargs="?", type=Path, default=Path(__file__).parent)
    asked.add_argument("--members", type=int, default=MEMBERS)
    asked.add_argument("--odds", type=Path)
    given = asked.parse_args()
    cases = cases_of(given.folder)
    answers = []
    for number, case in enumerate(cases, start=1):
        print(f"\r{number} of {len(cases)}", end="", file=sys.stderr)
        answers.append(answered(case, given.members))
    print(file=sys.stderr)
    if given.odds is not None:
        rows = [{"case": c.name, **a.as_row()} for c, a in zip(cases, answers, strict=True)]
        given.odds.write_text(json.dumps(rows, indent=1), encoding="utf-8")
    print(page(cases, answers))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
