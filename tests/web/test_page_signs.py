"""Signs seen, not seen, cleared, refused."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from coldwright.readings.job import Sign
from coldwright.readings.jobfile import load_job
from coldwright.readings.keys import SIGN_GROUPS, SIGNS
from tests.web.conftest import Shop

HTMX = {"HX-Request": "true"}


def test_every_sign_can_be_answered(client: TestClient) -> None:
    page = client.get("/jobs/hall").text
    for key in SIGNS:
        assert f'action="/jobs/hall/signs/{key}"' in page
    assert f"1 seen, 1 not seen, {len(SIGNS) - 2} not checked" in page
    for words in SIGN_GROUPS.values():
        assert f"<h3>{words[0].upper()}{words[1:]}</h3>" in page


@pytest.mark.parametrize(("answer", "seen"), [("yes", True), ("no", False)])
def test_sign_is_kept(client: TestClient, shop: Shop, answer: str, seen: bool) -> None:
    done = client.post("/jobs/hall/signs/no_flow_sound", data={"seen": answer})
    assert done.status_code == 303
    assert load_job(shop.own / "hall.toml").sign("no_flow_sound") == Sign("no_flow_sound", seen)


def test_place_goes_with_the_sign(client: TestClient, shop: Shop) -> None:
    form = {"seen": "yes", "place": "evaporator_joint"}
    block = client.post("/jobs/hall/signs/oil_trace", data=form, headers=HTMX)
    assert block.headers["HX-Trigger"] == "odds-stale"
    assert "seen, at the evaporator joint" in block.text
    sign = load_job(shop.own / "hall.toml").sign("oil_trace")
    assert sign == Sign("oil_trace", True, "evaporator_joint")


def test_cleared_sign_is_not_checked(client: TestClient, shop: Shop) -> None:
    client.post("/jobs/hall/signs/frost_only_at_inlet", data={"seen": ""})
    assert load_job(shop.own / "hall.toml").sign("frost_only_at_inlet") is None


@pytest.mark.parametrize("headers", [{}, HTMX], ids=["plain", "htmx"])
@pytest.mark.parametrize(
    ("sign", "form", "said"),
    [
        ("oil_trace", {"seen": "yes", "place": "moon"}, "Read &#39;moon&#39;"),
        ("no_flow_sound", {"seen": "perhaps"}, "Accepted: yes, no or nothing"),
    ],
)
def test_refused_sign_says_why_at_its_place(
    client: TestClient,
    shop: Shop,
    headers: dict[str, str],
    sign: str,
    form: dict[str, str],
    said: str,
) -> None:
    answer = client.post(f"/jobs/hall/signs/{sign}", data=form, headers=headers)
    assert answer.status_code == 422
    row = re.search(rf'<li id="sign-{sign}".*?</li>', answer.text, re.S)
    assert row is not None
    assert said in row[0]
    assert not shop.own.exists()


@pytest.mark.parametrize("seen", ["yes", ""])
def test_unknown_sign_is_refused(client: TestClient, shop: Shop, seen: str) -> None:
    assert client.post("/jobs/hall/signs/magic", data={"seen": seen}).status_code == 422
    assert not shop.own.exists()


def test_asked_sign_is_open_and_marked(client: TestClient) -> None:
    page = client.get("/jobs/hall?sign=rust").text
    assert '<details class="part" id="part-signs" open>' in page
    assert '<li id="sign-rust" class="asked">' in page
