"""The list of mutants stays true to the code."""

from pathlib import Path

import pytest

from bench.mutants.__main__ import untrue
from bench.mutants.listed import MUTANTS

TESTS = Path(__file__).parents[1]


@pytest.mark.parametrize("mutant", MUTANTS, ids=lambda m: f"{m.file}: {m.matters}")
def test_what_a_mutant_replaces_stands_exactly_once(mutant):
    assert untrue(mutant) == ""
    assert mutant.old != mutant.new
    assert all((TESTS / name.partition("::")[0]).is_file() for name in mutant.killers)


def test_there_are_enough_and_none_twice():
    assert len(MUTANTS) >= 40
    assert len({(m.file, m.old) for m in MUTANTS}) == len(MUTANTS)
