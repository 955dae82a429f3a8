"""Caches that were torn, emptied or altered are made again; nobody has to delete anything."""

import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

from coldwright import cache_folder
from coldwright.durable import keep, kept, sweep, write_whole
from coldwright.refrigerant import tables

# One kernel that calls two others: compiled in about a second.
PROBE = """
from coldwright.refrigerant.saturation import saturation_pressure as f
from coldwright.refrigerant.tables import load_tables
tab = load_tables("R134a")
print(f"{f(tab, 253.15):.3f}", len(f._cache_hits), len(f._cache_misses))
"""
PRESSURE = 132_735.0  # R134a at -20 degC [Pa], ASHRAE Handbook Fundamentals 2017, chapter 30

DAMAGES = {
    "cut in half": lambda data: data[: len(data) // 2],
    "emptied": lambda _: b"",
    "one byte altered": lambda data: data[:-200] + bytes([data[-200] ^ 1]) + data[-199:],
}


def ran(folder: Path, code: str = PROBE, **more: str) -> list[str]:
    """Words printed by a fresh process that keeps its caches in the folder."""
    environment = {**os.environ, "COLDWRIGHT_CACHE": str(folder), **more}
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", code],
        capture_output=True, text=True, check=False, env=environment,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return done.stdout.split()


@pytest.fixture(scope="module")
def filled(tmp_path_factory) -> Path:
    """A folder with tables and one compiled kernel."""
    folder = tmp_path_factory.mktemp("cache")
    tables.load_tables("R134a")  # there now, whoever ran first
    name = f"tables-{tables.FORMAT}-R134a.kept"
    write_whole(folder / name, (cache_folder() / name).read_bytes())
    pressure, hits, misses = ran(folder)
    assert float(pressure) == pytest.approx(PRESSURE, rel=2e-3)
    assert (hits, misses) == ("0", "1")
    return folder


@pytest.mark.slow
@pytest.mark.parametrize("damage", DAMAGES)
@pytest.mark.parametrize(
    "kind", ["tables-*", "compiled-*/refrigerant.saturation.saturation_press*"]
)
def test_a_damaged_cache_is_made_again(filled, kind, damage):
    found = list(filled.glob(kind))
    assert found
    for path in found:
        path.write_bytes(DAMAGES[damage](path.read_bytes()))
    first = ran(filled)
    assert float(first[0]) == pytest.approx(PRESSURE, rel=2e-3)
    assert ran(filled) == [first[0], "1", "0"]  # whole again: nothing is compiled twice
    assert len(list(filled.glob(kind))) == len(found)


@pytest.mark.slow
def test_numba_imported_first_and_its_own_folder_are_left_alone(filled, tmp_path):
    theirs = tmp_path / "theirs"
    code = (
        "import os, numba\n"
        "before = dict(os.environ)\n"
        f"{PROBE}\n"
        "assert dict(os.environ) == before\n"
        "assert numba.config.CACHE_DIR == os.environ.get('NUMBA_CACHE_DIR', '')\n"
    )
    assert ran(filled, code, NUMBA_CACHE_DIR=str(theirs))[1:] == ["1", "0"]
    assert not theirs.exists()
    package = Path(tables.__file__).parent
    assert not [p for p in package.rglob("*") if p.suffix in (".nbi", ".nbc")]


@pytest.mark.slow
def test_a_cache_that_cannot_be_written_costs_time_only(tmp_path):
    wall = tmp_path / "a file where the folder should be"
    wall.write_bytes(b"")
    assert float(ran(wall)[0]) == pytest.approx(PRESSURE, rel=2e-3)
    assert wall.read_bytes() == b""


def test_tables_kept_and_read_again_are_the_same(tmp_path):
    once = tables.load_tables("R600a")
    tables._write(tmp_path / "t.kept", once)
    again = tables._read(tmp_path / "t.kept")
    assert again is not None
    for one, other in zip(once, again, strict=True):
        assert np.array_equal(one, other)


@pytest.mark.parametrize("payload", [b"", b"no archive", b"PK\x03\x04 nearly one"])
def test_whole_bytes_that_are_no_tables_are_not_believed(tmp_path, payload):
    assert keep(tmp_path / "t.kept", payload)
    assert kept(tmp_path / "t.kept") == payload
    assert tables._read(tmp_path / "t.kept") is None


def test_half_written_neighbours_are_swept_once_they_are_old(tmp_path):
    stray = tmp_path / ".job.toml.0123456789ab.half"
    near = tmp_path / ".job.toml.half"  # not of ours
    for path in (stray, near):
        path.write_bytes(b"")
    assert sweep(tmp_path) == 0
    os.utime(stray, (0, 0))
    os.utime(near, (0, 0))
    assert sweep(tmp_path) == 1
    assert near.exists()
    assert not stray.exists()


def test_new_bytes_are_on_the_disk_before_they_get_the_name(tmp_path, monkeypatch):
    order = []
    really = {name: getattr(os, name) for name in ("fsync", "replace")}
    for name in really:

        def told(*given, name=name):
            order.append(name)
            return really[name](*given)

        monkeypatch.setattr(os, name, told)
    write_whole(tmp_path / "a", b"1")
    assert order[:2] == ["fsync", "replace"]
    assert (tmp_path / "a").read_bytes() == b"1"
