"""The recipes of docs/recipes.md, followed: edits read from the page, applied, and looked for.

A fault and a reading are laid over the installed package, so that compiled code is used as it is
kept; a refrigerant, which needs none, is added to a whole copy.
"""

import json
import os
import re
import shutil
import subprocess
import sys
from collections import defaultdict
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "recipes.md").read_text(encoding="utf-8")
EDIT = re.compile(
    r"<!-- edit: (?P<path>\S+); (?P<how>new|before|after|instead of)(?:: (?P<line>.*?))? -->\n"
    r"```python\n(?P<code>.*?)```",
    re.DOTALL,
)
MOST_FILES = {"A reading": 3, "A fault": 3, "A refrigerant": 4}


def edits(recipe):
    section = PAGE.split(f"## {recipe}\n", 1)[1].split("\n## ", 1)[0]
    return [m.groupdict() for m in EDIT.finditer(section)]


def edited(text, edit):
    lines, code = text.split("\n"), edit["code"].rstrip("\n").split("\n")
    (at,) = [n for n, line in enumerate(lines) if line == edit["line"]]  # found once, and once only
    if edit["how"] == "before":
        return "\n".join([*lines[:at], *code, *lines[at:]])
    kept = lines[: at + 1] if edit["how"] == "after" else lines[:at]
    return "\n".join([*kept, *code, *lines[at + 1 :]])


def follow(recipe, target):
    """Apply a recipe's edits; files that exist are taken from the package first."""
    touched = set()
    for edit in edits(recipe):
        path = target / edit["path"]
        touched.add(edit["path"])
        path.parent.mkdir(parents=True, exist_ok=True)
        if edit["how"] == "new":
            assert not (ROOT / edit["path"]).exists()
            path.write_text(edit["code"], encoding="utf-8")
            continue
        if not path.exists():
            shutil.copy(ROOT / edit["path"], path)
        path.write_text(edited(path.read_text(encoding="utf-8"), edit), encoding="utf-8")
    return touched


def run(code, path, cwd):
    environment = os.environ | {"PYTHONPATH": os.pathsep.join(map(str, path))}
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=cwd,
        env=environment,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout.strip().splitlines()[-1])


def over(target, touched):
    """Code that lays the edited rooms over the package's own."""
    rooms = defaultdict(list)
    for path in touched:
        rooms[Path(path).parent.name].append(path)
    lines = ["import importlib, json"]
    for room in rooms:
        folder = str(target / "src" / "coldwright" / room)
        lines.append(f"importlib.import_module('coldwright.{room}').__path__.insert(0, {folder!r})")
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("recipe", MOST_FILES)
def test_a_recipe_touches_few_files(recipe, tmp_path):
    touched = follow(recipe, tmp_path)
    made = 1 if recipe == "A refrigerant" else 0  # its lines, written by a command
    assert 0 < len(touched) + made <= MOST_FILES[recipe]


DIAGNOSE = """
from pathlib import Path
from dataclasses import replace
from coldwright.readings.job import Reading
from coldwright.readings.jobfile import load_job
from coldwright.usecases.diagnose import diagnose
from coldwright.cli.diagnosis_json import diagnoses_json
job = load_job(Path(coldwright.__path__[0]) / "demo" / "cellar-chest.toml")
"""

FAULT = """
import coldwright
from coldwright.catalogue.priors import fault_prior
from coldwright.cli.command_simulate import fault_of
from coldwright.diagnosis.fault_words import fault_words
from coldwright.readings.outcome import FINDABLE
from coldwright.repair.alternatives import mended
from coldwright.words import owner, wording
name = "lamp_stays_lit"
found = diagnoses_json([diagnose(job, members=264, refine=False)])["results"][0]
print(json.dumps({
    "prior": fault_prior("runs_all_the_time")[name], "less": fault_prior("nothing_cold")[name],
    "odds": {f["fault"]: f["probability"] for f in found["faults"]},
    "severity": next(f["severity"] for f in found["faults"] if f["fault"] == name),
    "words": [fault_words(name), wording.fault(name), owner.cause((name,))],
    "findable": name in FINDABLE, "mends": dict(mended("seal_and_heater")),
    "asked": fault_of(name + "=20 W"),
}))
"""


def test_a_fault_by_its_recipe_shows_everywhere(tmp_path):
    code = over(tmp_path, follow("A fault", tmp_path)) + "import coldwright\n" + DIAGNOSE + FAULT
    got = run(code, (ROOT / "src",), tmp_path)
    assert got["prior"] > got["less"] > 0.0
    assert 0.0 < got["odds"]["lamp_stays_lit"] < 1.0
    assert 5.0 <= got["severity"]["low"] <= got["severity"]["high"] <= 25.0
    assert got["severity"]["unit"] == "W"
    assert got["words"] == [
        "a lamp that stays lit", "Lamp stays lit: door switch", "a lamp inside stays lit",
    ]  # fmt: skip
    assert got["findable"]
    assert got["mends"]["lamp_stays_lit"] == 0.9
    assert got["asked"] == ["lamp_stays_lit", 20.0]


READING = """
import coldwright
import numpy as np
from coldwright.catalogue.instruments import instruments
from coldwright.catalogue.checks import CHECKS
from coldwright.diagnosis.ensemble import build
from coldwright.diagnosis.next_check import outlook
from coldwright.diagnosis.posterior import weigh
from coldwright.diagnosis.subject import subject_of
from coldwright.case.evidence import evidence_of
from coldwright.web.readings.view import GROUPS
from coldwright.words.wording import plain
key = "evaporator_middle_temperature"
subject, tools = subject_of(job), dict(instruments())
made = build(subject, np.random.default_rng(1), 264)
seen = outlook(weigh(made, evidence_of(job, subject, tools)), tools, np.random.default_rng(2))
taken = replace(job, readings=(*job.readings, Reading(key, 250.0, None, "-23 °C")))
found = diagnoses_json([diagnose(taken, members=264, refine=False)])["results"][0]
print(json.dumps({
    "bits": seen.bits[key], "minutes": CHECKS[key].minutes, "words": plain(key),
    "group": next(title for title, keys in GROUPS if key in keys),
    "reason": next(r for r in found["reasons"] if r["reading"] == key),
}))
"""


def test_a_reading_by_its_recipe_shows_everywhere(tmp_path):
    touched = follow("A reading", tmp_path)
    code = over(tmp_path, touched) + "import coldwright\n" + DIAGNOSE + READING
    got = run(code, (ROOT / "src",), tmp_path)
    assert got["bits"] > 0.0
    assert got["minutes"] == 8
    assert got["words"] == "middle of the evaporator"
    assert got["group"] == "Evaporator and suction line"
    assert got["reason"]["unit"] == "K"
    assert "Middle of the evaporator read -23 °C" in got["reason"]["sentence"]


REFRIGERANT = """
import json, sys
from bench.make_lines import main
main(["R600"])
from coldwright.readings.keys import REFRIGERANTS
from coldwright.refrigerant.facts import refrigerant_facts
from coldwright.refrigerant.lines import bubble_pressure, load_lines
from coldwright.refrigerant.oils import usual_oil
from coldwright.usecases.refrigerant import RefrigerantQuestion, refrigerant
from coldwright.cli.as_json import plain
from coldwright.cli.command_refrigerant import _json as answer_json
from coldwright.words.cautions import before_power
lines = load_lines("R600")
print(json.dumps({
    "known": "R600" in REFRIGERANTS, "flammable": refrigerant_facts("R600").flammable,
    "boils": bubble_pressure(lines, 272.66), "oil": usual_oil("R600").refrigerant,
    "caution": before_power("R600")[0].title,
    "answer": plain(answer_json(refrigerant(RefrigerantQuestion("R600")), ())),
}))
"""


def test_a_refrigerant_by_its_recipe_shows_everywhere(tmp_path):
    shutil.copytree(
        ROOT / "src" / "coldwright", tmp_path / "src" / "coldwright",
        ignore=shutil.ignore_patterns("__pycache__"),
    )  # fmt: skip
    (tmp_path / "bench").mkdir()
    for name in ("__init__.py", "make_lines.py"):
        shutil.copy(ROOT / "bench" / name, tmp_path / "bench" / name)
    follow("A refrigerant", tmp_path)
    got = run(REFRIGERANT, (tmp_path / "src", tmp_path), tmp_path)
    assert got["known"]
    assert got["flammable"]
    # n-butane boils at -0.5 °C under one atmosphere (ASHRAE 34)
    assert got["boils"] == pytest.approx(101_325.0, rel=0.01)
    assert got["oil"] == "R600"
    assert "flammable" in got["caution"]
    assert json.dumps(got["answer"]).count("R600") > 0
