"""The tour of the library runs as it is written."""

import doctest
from pathlib import Path

TOUR = Path(__file__).parents[2] / "docs" / "tour.md"


def test_every_block_of_the_tour_prints_what_it_says():
    found = doctest.testfile(str(TOUR), module_relative=False)
    assert found.attempted > 30
    assert found.failed == 0
