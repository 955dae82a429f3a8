"""Every number a public function takes states its unit in the docstring, read by machine."""

import importlib
import inspect
import pkgutil
import re

import pytest

import coldwright.case
import coldwright.circuit
import coldwright.cli
import coldwright.leak
import coldwright.learning
import coldwright.logged
import coldwright.readings
import coldwright.refrigerant
import coldwright.repair
import coldwright.units
import coldwright.worth

ROOMS = (
    coldwright.units,
    coldwright.circuit,
    coldwright.leak,
    coldwright.readings,
    coldwright.repair,
    coldwright.case,
    coldwright.cli,
    coldwright.learning,
    coldwright.logged,
    coldwright.refrigerant,
    coldwright.worth,
)
NUMERIC = re.compile(r"\b(float|int)\b")
UNIT_AT_END = re.compile(r"\[[^\]\n]+\]$")


def _public_functions():
    modules = [importlib.import_module("coldwright.errors")]
    for room in ROOMS:
        names = [m.name for m in pkgutil.iter_modules(room.__path__, room.__name__ + ".")]
        modules += [importlib.import_module(name) for name in names]
    for module in modules:
        for name, function in vars(module).items():
            own = inspect.isfunction(function) and function.__module__ == module.__name__
            if own and not name.startswith("_"):
                yield pytest.param(function, id=f"{module.__name__}.{name}")


PUBLIC_FUNCTIONS = tuple(_public_functions())


def unit_in_doc(function, parameter):
    """Whether the parameter's paragraph of the numpy docstring ends in a bracketed unit."""
    doc = inspect.getdoc(function) or ""
    found = re.search(rf"^{parameter}\b.*:.*\n((?:    .*\n?)+)", doc, re.MULTILINE)
    return found is not None and UNIT_AT_END.search(found[1].rstrip()) is not None


@pytest.mark.parametrize("function", PUBLIC_FUNCTIONS)
def test_every_number_states_its_unit(function):
    parameters = inspect.signature(function).parameters.values()
    numeric = [p.name for p in parameters if NUMERIC.search(str(p.annotation))]
    assert [name for name in numeric if not unit_in_doc(function, name)] == []


@pytest.mark.parametrize("function", PUBLIC_FUNCTIONS)
def test_every_public_function_says_what_it_is(function):
    assert inspect.getdoc(function)
