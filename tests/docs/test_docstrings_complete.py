"""Public functions say what they hand back, and the examples in docstrings hold when run."""

import ast
import doctest
import importlib
import io
from pathlib import Path

import pytest

import coldwright

PACKAGE = Path(coldwright.__file__).parent
SHARE_SAID = 0.95
FEWEST_EXAMPLES = 30

# A folder of the package, or a module beside the folders; one a line.
ROOMS: tuple[str, ...] = (
    "refrigerant",
    "circuit",
    "cycle",
    "transient",
    "units",
    "electrical",
    "logged",
    "faults",
    "catalogue",
    "readings",
    "errors",
    "durable",
    "kept",
    "plain_file",
    "stopping",
    "last_net",
    "bootstrap",
    "diagnosis",
    "case",
    "learning",
    "leak",
    "repair",
    "worth",
    "words",
    "figures",
    "usecases",
    "cli",
    "web",
)  # fmt: skip


def _modules(room):
    folder = PACKAGE / room
    return sorted(folder.rglob("*.py")) if folder.is_dir() else [folder.with_suffix(".py")]


def _own(function):
    """Every node of a function's body, without those of functions and classes inside it."""
    for node in ast.iter_child_nodes(function):
        if not isinstance(node, ast.FunctionDef | ast.Lambda | ast.ClassDef):
            yield node
            yield from _own(node)


def _hands_back(function):
    return any(
        isinstance(node, ast.Yield | ast.YieldFrom)
        or (isinstance(node, ast.Return) and node.value is not None)
        for node in _own(function)
    )


def functions_with_a_result(room):
    """Name and docstring of each public function of a room that hands something back."""
    for path in _modules(room):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            public = isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
            if public and _hands_back(node):
                name = f"{path.relative_to(PACKAGE).as_posix()}: {node.name}"
                yield name, ast.get_docstring(node) or ""


def says_what_it_returns(doc):
    """Whether a numpy docstring has a section for it."""
    return any(f"\n{head}\n{'-' * len(head)}\n" in doc for head in ("Returns", "Yields"))


@pytest.mark.parametrize("room", ROOMS)
def test_public_functions_say_what_they_return(room):
    found = list(functions_with_a_result(room))
    missing = [name for name, doc in found if not says_what_it_returns(doc)]
    said = len(found) - len(missing)
    assert said >= SHARE_SAID * len(found), "\n".join(missing)


def _with_examples():
    for path in sorted(PACKAGE.rglob("*.py")):
        if ">>> " in path.read_text(encoding="utf-8"):
            yield ".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts)


def test_examples_run():
    attempted, failed, said = 0, 0, io.StringIO()
    for name in _with_examples():
        module = importlib.import_module(name)
        runner = doctest.DocTestRunner(verbose=False)
        found = [t for t in doctest.DocTestFinder().find(module, name) if t.examples]
        assert found, f"{name}: its examples are in no docstring that is found"
        for test in found:
            result = runner.run(test, out=said.write)
            attempted, failed = attempted + result.attempted, failed + result.failed
    assert failed == 0, said.getvalue()
    assert attempted >= FEWEST_EXAMPLES
