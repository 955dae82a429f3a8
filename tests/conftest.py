"""Settings for every test, and the one browser that the tests of a process share."""

from __future__ import annotations

import shutil
from collections.abc import Iterator

import pytest
from hypothesis import settings
from playwright.sync_api import Browser, sync_playwright

# A deadline would make each property test a timed test, and the first call of a
# kernel compiles.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")

CHROMIUM_FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]


# Whole files that `make quick` leaves out: ensembles of simulated appliances, copies of the
# package, published pages worked out anew.
SLOW = (
    "docs/test_tour.py", "golden/test_capillary_command.py", "golden/test_held_to.py",
    "inference/test_case.py", "inference/test_check_value.py", "inference/test_diagnose.py",
    "inference/test_foreign.py", "inference/test_inside.py", "inference/test_intentions.py",
    "inference/test_leak_bench.py", "inference/test_learned_odds.py",
    "inference/test_next_check.py", "inference/test_posterior.py", "inference/test_r22_job.py",
    "inference/test_report.py", "inference/test_sampler.py", "physics/test_alternatives.py",
    "physics/test_charge_work.py", "physics/test_closures.py", "physics/test_families.py",
    "physics/test_layout_families.py", "physics/test_pulldown.py", "repair/test_changed.py",
    "repair/test_cli_repair.py", "repair/test_pages.py", "unit/test_cli_demo.py",
    "unit/test_cli_real.py", "unit/test_library.py", "unit/test_recipes.py",
)  # fmt: skip
COLD = ("storage/test_torn_caches.py", "storage/test_wrong_plate.py", "storage/test_in_time.py")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark by file, and by fixture what looks at pages with a browser."""
    for item in items:
        name = "/".join(item.path.parts[-2:])
        if name in SLOW:
            item.add_marker(pytest.mark.slow)
        if name in COLD:
            item.add_marker(pytest.mark.cold)
        if "browser" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.browser)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's Chromium; its absence is a failure, since nothing else looks at the pages."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        pytest.fail("chromium is not installed: run `apt-get install -y chromium`")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=chromium, args=CHROMIUM_FLAGS)
        yield started
        started.close()
