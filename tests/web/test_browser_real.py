"""The page with the real model behind it: odds, a reading added, odds again."""

from __future__ import annotations

import functools
import shutil
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import Browser, expect

from coldwright.usecases.demo import demo_folder
from coldwright.usecases.diagnose import diagnose
from coldwright.web.app import create_app
from coldwright.web.deps import Deps
from coldwright.web.shelf import FolderShelf

MEMBERS = 440  # enough to see a clear case


@pytest.fixture
def address(tmp_path: Path) -> Iterator[str]:
    """The app over one invented demo job, answered by the model itself."""
    demo = tmp_path / "demo"
    demo.mkdir()
    shutil.copy(demo_folder() / "hall-refrigerator.toml", demo)
    deps = Deps(functools.partial(diagnose, members=MEMBERS), FolderShelf(tmp_path / "own", demo))
    server = uvicorn.Server(uvicorn.Config(create_app(deps), port=0, log_level="error", ws="none"))
    thread = threading.Thread(target=server.run)
    thread.start()
    while not server.started and thread.is_alive():
        time.sleep(0.01)
    port = server.servers[0].sockets[0].getsockname()[1]
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join()


@pytest.mark.slow
def test_the_model_answers_on_the_page(browser: Browser, address: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.set_default_timeout(300_000)  # the kernels may have to be compiled first
    page.goto(address)
    page.get_by_role("link", name="Hall refrigerator").click()
    odds = page.locator("ul.odds")
    expect(odds).to_be_visible(timeout=300_000)
    # The demo's readings were simulated with about half of the charge lost.
    expect(odds.locator("li").first).to_contain_text("Undercharge: too little refrigerant")
    reasons = page.locator("#part-reasons")
    expect(reasons).to_contain_text("Condenser outlet read")
    assert "Condenser outlet. Condenser outlet" not in reasons.inner_text()
    page.get_by_label("What was read").select_option("drier_outlet_temperature")
    page.get_by_label("Value with its unit").fill("12 C")
    page.get_by_role("button", name="Add this reading").click()
    expect(page.locator("#part-readings")).to_contain_text("Drier outlet")
    expect(page.locator("#part-reasons")).to_contain_text("Drier outlet read 12 C", timeout=300_000)
    context.close()
