"""A shelf of two invented jobs, the app over it, and a browser to look at it with."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
import uvicorn
from starlette.testclient import TestClient

from coldwright.web.app import create_app
from coldwright.web.deps import Deps
from coldwright.web.shelf import FolderShelf
from tests.web.fakes import FakeDiagnose

HALL = """\
# invented
title = "Hall refrigerator"

[plate]
kind = "top_mount"
year = 2004
refrigerant = "R134a"
charge = "140 g"

[circuit]
layout = "frame_loop"
condenser = "static"
evaporator = "fan"

[room]
temperature = "24 °C"

[history]
complaint = "both_too_warm"

[readings]
appliance_power = "96 W"  # plug-in meter
discharge_line_temperature = "54 °C"
freezer_temperature = { value = "-9.5 °C", uncertainty = "1 K", note = "in a glass of brine" }

[signs]
frost_only_at_inlet = true
condenser_dusty = false
"""
BAKERY = """\
title = "Bakery undercounter"

[plate]
kind = "compact"
refrigerant = "R600a"
"""


@dataclass(frozen=True, slots=True)
class Shop:
    """Folders and stand-in of one test."""

    own: Path
    demo: Path
    diagnose: FakeDiagnose
    shelf: FolderShelf

    def kept(self, name: str) -> str:
        """Text of a job file in the technician's own folder."""
        return (self.own / f"{name}.toml").read_text(encoding="utf-8")


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    """Two invented jobs, no own ones."""
    own, demo = tmp_path / "own", tmp_path / "demo"
    demo.mkdir()
    (demo / "hall.toml").write_text(HALL, encoding="utf-8")
    (demo / "bakery.toml").write_text(BAKERY, encoding="utf-8")
    return Shop(own, demo, FakeDiagnose(), FolderShelf(own, demo))


@pytest.fixture
def client(shop: Shop) -> Iterator[TestClient]:
    """The app, called without a network; redirects are seen, not followed."""
    app = create_app(Deps(shop.diagnose, shop.shelf))
    with TestClient(app, follow_redirects=False) as caller:
        yield caller


@pytest.fixture
def address(shop: Shop) -> Iterator[str]:
    """The app on a port of its own, on loopback."""
    config = uvicorn.Config(
        create_app(Deps(shop.diagnose, shop.shelf)), port=0, log_level="error", ws="none"
    )
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run)
    thread.start()
    while not server.started and thread.is_alive():
        time.sleep(0.01)
    port = server.servers[0].sockets[0].getsockname()[1]
    yield f"http://127.0.0.1:{port}"
    server.should_exit = True
    thread.join()
