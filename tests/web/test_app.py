"""What holds for every address: assets, guard, weight, errors, start-up."""

from __future__ import annotations

import gzip
import re
import subprocess
import sys
from pathlib import Path

import pytest
import uvicorn
from starlette.applications import Starlette
from starlette.testclient import TestClient

from coldwright.diagnosis.result import Diagnosis
from coldwright.readings.job import Job
from coldwright.web import server
from coldwright.web.app import create_app
from coldwright.web.deps import Deps
from tests.web.conftest import Shop

PAGES = ("/", "/jobs/hall", "/jobs/hall?odds=now", "/jobs/nope")


@pytest.mark.parametrize("page", PAGES)
def test_everything_a_page_loads_is_served_from_here(client: TestClient, page: str) -> None:
    loaded = re.findall(r'(?:src|href)="([^"#?]+\.(?:js|css|svg))"', client.get(page).text)
    assert len(loaded) == 4
    for address in loaded:
        assert address.startswith(("/static/", "/lib/"))
        assert client.get(address).status_code == 200


def test_script_is_the_installed_library(client: TestClient) -> None:
    assert 'version:"2.0.' in client.get("/lib/htmx.min.js").text


@pytest.mark.parametrize("page", PAGES)
def test_no_inline_script_or_style(client: TestClient, page: str) -> None:
    answer = client.get(page)
    assert re.findall(r"<script(?![^>]*\bsrc=)", answer.text) == []
    assert not re.search(r"<style|\sstyle=|\son\w+=", answer.text)
    assert "default-src 'self'" in answer.headers["content-security-policy"]


def test_page_is_light_and_zipped(client: TestClient) -> None:
    # Our own ceiling: the job's page and all it loads, packed, under 60 kB on a van's Wi-Fi.
    client.get("/jobs/hall?odds=now")
    addresses = ("/jobs/hall", "/static/coldwright.css", "/static/page.js", "/lib/htmx.min.js")
    answers = [client.get(address) for address in addresses]
    assert all(answer.headers["content-encoding"] == "gzip" for answer in answers)
    assert sum(len(gzip.compress(answer.content)) for answer in answers) < 60_000


@pytest.mark.parametrize(
    ("origin", "status"),
    [
        ("http://testserver", 303),
        (None, 303),
        ("http://elsewhere.example", 403),
        ("null", 403),
        ("http://testserver:81", 403),
    ],
)
def test_change_from_another_site_is_turned_away(
    client: TestClient, shop: Shop, origin: str | None, status: int
) -> None:
    headers = {} if origin is None else {"Origin": origin}
    answer = client.post("/jobs/hall/signs/rust", data={"seen": "yes"}, headers=headers)
    assert answer.status_code == status
    assert shop.own.exists() == (status == 303)


def test_only_its_own_names_are_answered_on_loopback(shop: Shop) -> None:
    app = create_app(Deps(shop.diagnose, shop.shelf), hosts=("localhost", "127.0.0.1"))
    with TestClient(app, base_url="http://elsewhere.example") as stranger:
        assert stranger.get("/").status_code == 400
    with TestClient(app, base_url="http://localhost:8000") as neighbour:
        assert neighbour.get("/").status_code == 200


@pytest.mark.parametrize("address", ["/nothing", "/static/nothing.css", "/docs", "/openapi.json"])
def test_unknown_address_says_so_in_a_page(client: TestClient, address: str) -> None:
    answer = client.get(address)
    assert answer.status_code == 404
    assert "No such page" in answer.text


def test_get_changes_nothing(client: TestClient, shop: Shop) -> None:
    assert client.get("/jobs/hall/signs/rust").status_code == 405
    assert not shop.own.exists()


@pytest.fixture
def served(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> dict[str, object]:
    """What `serve` hands to uvicorn, instead of listening."""
    caught: dict[str, object] = {}

    def run(app: Starlette, **options: object) -> None:
        caught.update(options, app=app)

    def diagnose(job: Job) -> Diagnosis:
        raise AssertionError(job)

    monkeypatch.setattr(uvicorn, "run", run)
    monkeypatch.setattr(server, "_diagnose", lambda *_: diagnose)
    caught["folder"] = tmp_path
    return caught


def test_serve_binds_to_loopback(
    served: dict[str, object], capsys: pytest.CaptureFixture[str]
) -> None:
    server.serve("127.0.0.1", 8123, Path(str(served["folder"])))
    assert (served["host"], served["port"]) == ("127.0.0.1", 8123)
    out, err = capsys.readouterr()
    assert "http://127.0.0.1:8123" in out
    assert err == ""


def test_serve_on_the_network_warns_plainly(
    served: dict[str, object], capsys: pytest.CaptureFixture[str]
) -> None:
    server.serve("127.0.0.1", 8123, Path(str(served["folder"])), lan=True)
    assert served["host"] == "0.0.0.0"
    assert "without a password" in capsys.readouterr().err


def test_web_is_light_to_import() -> None:
    heavy = "fastapi uvicorn jinja2 numba CoolProp scipy".split()
    code = f"import coldwright.web, sys; print([m for m in {heavy!r} if m in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_app_does_not_pull_in_the_physics() -> None:
    code = (
        "import coldwright.web.server, sys;"
        "print([m for m in ('numba', 'CoolProp', 'scipy') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
