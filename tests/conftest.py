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
