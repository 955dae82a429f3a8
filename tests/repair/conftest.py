"""The invented frame-loop job worked out once, for the tests that read its report."""

from pathlib import Path

import pytest

import coldwright
from coldwright.readings.jobfile import load_job
from coldwright.readings.shop import load_shop
from coldwright.usecases.repair import repair

FOLDER = Path(coldwright.__file__).parent / "demo_repair"


@pytest.fixture(scope="session")
def shop():
    """The invented shop."""
    return load_shop(FOLDER / "shop.toml")


@pytest.fixture(scope="session")
def frame_report(shop):
    """Frame loop leaks, five years old; needs no ensemble, so it is quick."""
    return repair(load_job(FOLDER / "jobs" / "frame-loop.toml"), shop=shop, seed=7)
