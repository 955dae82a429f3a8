"""No file imports itself round a circle; every room stands in the contract."""

import tomllib
from pathlib import Path

import grimp
import pytest

ROOT = Path(__file__).parents[2]
ABOVE_ALL = {"coldwright.__main__"}  # started by Python itself, not imported by a room


@pytest.fixture(scope="module")
def graph():
    """Every import of the package, also those for type checking."""
    return grimp.build_graph("coldwright")


def circles(edges):
    """Modules on a circle or between two: what is left when ends are taken off again and again."""
    left = {module: set(imported) for module, imported in edges.items()}
    while True:
        used = set().union(*left.values()) if left else set()
        ends = {m for m, imported in left.items() if not imported or m not in used}
        if not ends:
            return set(left)
        left = {m: imported - ends for m, imported in left.items() if m not in ends}


def test_a_circle_is_found():
    assert circles({"a": {"b"}, "b": {"c"}, "c": {"b"}, "d": set()}) == {"b", "c"}
    assert circles({"a": {"b"}, "b": set()}) == set()


def test_no_file_stands_in_a_circle(graph):
    rooms = graph.modules - {"coldwright"}  # the facade imports a name when it is asked for
    edges = {m: graph.find_modules_directly_imported_by(m) & rooms for m in rooms}
    assert circles(edges) == set()


def test_every_room_stands_in_the_order_of_flow(graph):
    contract = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    layers = contract["tool"]["importlinter"]["contracts"][0]["layers"]
    named = " ".join(layers).replace("(", " ").replace(")", " ").split()
    rooms = set(graph.find_children("coldwright"))
    assert rooms - set(named) <= ABOVE_ALL
