"""Strangers: frozen visits to machines by another hand, with no sizing code of ours in them."""

import ast
import json
from pathlib import Path

import pytest

from bench.accuracy import strangers, strangers_study
from coldwright.faults.registry import FAULTS

FOLDER = Path(strangers.__file__).parent
ROWS = [json.loads(line) for line in (FOLDER / "strangers.jsonl").read_text().splitlines()]


def test_the_generator_shares_no_sizing_code():
    tree = ast.parse(Path(strangers.__file__).read_text(encoding="utf-8"))
    taken = {
        (node.module, name.name)
        for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)
        for name in node.names
    }  # fmt: skip
    sizing = {name for module, name in taken if module == "coldwright.catalogue.sizing"}
    assert sizing <= {"DIMENSIONS", "Known", "Members"}  # records to carry them, nothing that sizes
    ours = {"coldwright.catalogue.sized_parts", "coldwright.catalogue.prior_table",
            "coldwright.cycle.solver.design"}  # fmt: skip
    assert not {module for module, _ in taken} & ours


@pytest.mark.parametrize("row", ROWS, ids=lambda r: str(r["number"]))
def test_a_frozen_visit_is_a_job_whose_fault_has_a_name(row):
    job = strangers_study.job_of(row)
    assert job.plate.kind == row["kind"]
    assert {r.key for r in job.readings} == set(row["readings"])
    assert set(row["fault"].split("+")) <= set(FAULTS)
    assert len(job.readings) >= 8
