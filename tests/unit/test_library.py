"""The library: what `import coldwright` gives, and what it leaves alone."""

import subprocess
import sys

import pytest

import coldwright


def fresh(code):
    """Output of a fresh interpreter."""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return done.stdout.split()


@pytest.mark.parametrize("name", coldwright.__all__)
def test_every_name_can_be_imported(name):
    found = getattr(coldwright, name)
    assert found is not None
    assert name in dir(coldwright)


def test_nothing_heavy_is_imported_before_it_is_asked_for():
    code = "import sys, coldwright; print([m for m in sys.modules if m.split('.')[0] in heavy])"
    got = fresh(f"heavy = {{'numba', 'numpy', 'scipy', 'CoolProp', 'fastapi'}}; {code}")
    assert got == ["[]"]


def test_the_users_own_numba_cache_stays_where_it_is():
    code = "import os, coldwright; coldwright.medium; print(os.environ.get('NUMBA_CACHE_DIR'))"
    assert fresh(code) == ["None"]


def test_a_name_that_is_not_there_is_named():
    with pytest.raises(AttributeError, match="no attribute 'nothing_here'"):
        coldwright.nothing_here  # noqa: B018
