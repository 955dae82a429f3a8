"""Public functions say what they hand back, and the examples in docstrings hold when run."""

import ast
from pathlib import Path

import pytest

import coldwright

PACKAGE = Path(coldwright.__file__).parent
SHARE_SAID = 0.95

# A folder of the package, or a module beside the folders; one a line.
ROOMS: tuple[str, ...] = (
)  # fmt: skip


def _modules(room):
    folder = PACKAGE / room
    return sorted(folder.rglob("*.py")) if folder.is_dir() else [folder.with_suffix(".py")]


def functions_with_a_result(room):
    """Qualified name and docstring of each public function of a room that returns a value."""
    for path in _modules(room):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if not isinstance(node, ast.FunctionDef) or node.name.startswith("_"):
                continue
            if node.returns is not None and ast.unparse(node.returns) not in ("None", "NoReturn"):
                name = f"{path.relative_to(PACKAGE).as_posix()}: {node.name}"
                yield name, ast.get_docstring(node) or ""


def says_what_it_returns(doc):
    """Whether a numpy docstring has a Returns (or Yields) section."""
    return any(f"\n{head}\n{'-' * len(head)}\n" in doc for head in ("Returns", "Yields"))


@pytest.mark.parametrize("room", ROOMS)
def test_public_functions_say_what_they_return(room):
    found = list(functions_with_a_result(room))
    missing = [name for name, doc in found if not says_what_it_returns(doc)]
    said = len(found) - len(missing)
    assert said >= SHARE_SAID * len(found), "\n".join(missing)
