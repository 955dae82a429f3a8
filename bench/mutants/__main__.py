"""Run the list of mutants and write docs/mutants.md.

python -m bench.mutants            all, and the page
python -m bench.mutants finance    those whose file's path holds the word; no page
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from bench.mutants.listed import MUTANTS, Mutant

ROOT = Path(__file__).parent.parent.parent
PACKAGE = ROOT / "src" / "coldwright"
PAGE = ROOT / "docs" / "mutants.md"
LONGEST_S = 300.0  # a mutant that hangs a test is noticed too
FAILED = 1  # pytest's status where tests ran and some failed; others say that they did not run


def untrue(mutant: Mutant) -> str:
    """Why a mutant no longer says what stands in the code; empty where it does."""
    times = (PACKAGE / mutant.file).read_text(encoding="utf-8").count(mutant.old)
    return "" if times == 1 else f"{mutant.file}: {mutant.old!r} stands {times} times, not once"


def _tests(source: Path, killers: Sequence[str]) -> int:
    environment = {
        **os.environ,
        "PYTHONPATH": os.pathsep.join((str(source), str(ROOT))),
        "PYTHONDONTWRITEBYTECODE": "1",
        # Kernels of a mutant must not meet those of the true code.
        "COLDWRIGHT_CACHE": str(source / "cache"),
    }
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-n", "0", "-p", "no:cacheprovider"]
    try:
        ran = subprocess.run(
            [*command, *(f"tests/{name}" for name in killers)],
            cwd=ROOT, env=environment, capture_output=True, timeout=LONGEST_S, check=False,
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        return FAILED
    return ran.returncode


def killed(mutant: Mutant, source: Path) -> bool:
    """Whether a test fails with the mutant in the copy; the copy is mended again."""
    path = source / "coldwright" / mutant.file
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace(mutant.old, mutant.new), encoding="utf-8")
    try:
        status = _tests(source, mutant.killers)
    finally:
        path.write_text(text, encoding="utf-8")
    if status not in (0, FAILED):
        sys.exit(f"{mutant.file}: the tests did not run (status {status})")
    return status == FAILED


def page(results: Sequence[tuple[Mutant, bool]]) -> str:
    """Text of docs/mutants.md."""
    dead = sum(found for _, found in results)
    lines = [
        "# Mutants",
        "",
        "One small error at a time in a copy of the package: do the tests named beside it notice? "
        "`make mutants` writes this page; the list is `bench/mutants/listed.py`.",
        "",
        f"{dead} of {len(results)} killed ({100.0 * dead / len(results):.0f} %).",
        "",
        "| file | what it would do | tests | |",
        "|---|---|---|---|",
    ]
    for m, found in results:
        tests = ", ".join(m.killers)
        end = "killed" if found else "**survived**"
        lines.append(f"| {m.file} | {m.matters} | {tests} | {end} |")
    return "\n".join(lines) + "\n"


def main(words: Sequence[str]) -> None:
    """Run them; refuse where the list is not true or the tests fail without any mutant."""
    chosen = [m for m in MUTANTS if not words or any(w in m.file for w in words)]
    if wrong := [said for m in chosen if (said := untrue(m))]:
        sys.exit("\n".join(wrong))
    results = []
    with tempfile.TemporaryDirectory() as folder:
        source = Path(folder)
        shutil.copytree(PACKAGE, source / "coldwright",
                        ignore=shutil.ignore_patterns("__pycache__"))  # fmt: skip
        for killers in sorted({m.killers for m in chosen}):
            if _tests(source, killers) != 0:
                sys.exit(f"{', '.join(killers)}: fails without any mutant")
        for m in chosen:
            found = killed(m, source)
            results.append((m, found))
            print(f"{'killed  ' if found else 'SURVIVED'}  {m.file}: {m.matters}", flush=True)
    print(f"{sum(found for _, found in results)} of {len(results)} killed")
    if not words:
        PAGE.write_text(page(results), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
