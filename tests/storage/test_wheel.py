"""The wheel holds all it needs and works from a folder that cannot be written."""

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
WANTED = (
    "coldwright/py.typed",
    "coldwright/demo/hall-refrigerator.toml",
    "coldwright/refrigerant/line_tables/R404A.csv",
    "coldwright/web/templates/base.html",
    "coldwright/web/job/job.html",
    "coldwright/web/static/page.js",
)


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Path:
    """The wheel, built from the sources and unpacked where nothing can be written."""
    made = tmp_path_factory.mktemp("wheel")
    done = subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", str(made), str(ROOT)],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    if done.returncode and "hatchling" in done.stderr:
        pytest.skip("no index to take the build tool from")
    assert done.returncode == 0, done.stderr
    (wheel,) = made.glob("coldwright-*-py3-none-any.whl")
    site = made / "site"
    with zipfile.ZipFile(wheel) as packed:
        packed.extractall(site)
    for path in (*site.rglob("*"), site):
        path.chmod(0o555 if path.is_dir() else 0o444)
    return site


@pytest.mark.slow
def test_the_wheel_holds_what_is_read_at_run_time(site):
    assert [name for name in WANTED if not (site / name).is_file()] == []
    assert not [p for p in site.rglob("*") if p.name in ("tests", "bench", "__pycache__")]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["demo", "--help"], "invented"),
        (["diagnose", "nowhere.toml"], "no such file"),
        (["refrigerant", "R134a"], "R134a"),
        (["serve", "--port", "0"], "--port"),
    ],
)
def test_commands_work_from_where_nothing_can_be_written(site, tmp_path, words, said):
    code = "import sys; from coldwright.cli import main; main()"
    done = subprocess.run(
        [sys.executable, "-c", code, *words],
        capture_output=True, text=True, check=False, cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(site), "COLDWRIGHT_CACHE": str(tmp_path / "cache")},
    )  # fmt: skip
    assert said in done.stdout + done.stderr
    assert "Traceback" not in done.stderr
    assert not list(site.rglob("__pycache__/*.nb?"))
