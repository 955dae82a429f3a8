"""Readings entered, changed, removed, refused."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from coldwright.readings.jobfile import load_job
from tests.web.conftest import Shop

HTMX = {"HX-Request": "true"}
OUTLET = {"key": "condenser_outlet_temperature", "value": "31.5 C", "uncertainty": "0.5 K"}


def test_reading_is_kept_as_entered(client: TestClient, shop: Shop) -> None:
    answer = client.post("/jobs/hall/readings", data=OUTLET | {"note": "last pass"})
    assert answer.status_code == 303
    assert re.fullmatch(
        r"/jobs/hall\?odds=now&since=[0-9a-f]{16}#part-odds", answer.headers["location"]
    )
    reading = load_job(shop.own / "hall.toml").reading("condenser_outlet_temperature")
    assert reading is not None
    assert (reading.entered, reading.note) == ("31.5 C", "last pass")
    assert reading.value == pytest.approx(304.65)
    assert reading.sd == pytest.approx(0.5)


def test_page_after_the_redirect_shows_what_moved(client: TestClient) -> None:
    client.get("/jobs/hall?odds=now")
    answer = client.post("/jobs/hall/readings", data=OUTLET)
    page = client.get(answer.headers["location"]).text
    assert "What moved" in page
    assert re.search(r"was \d+\xa0%", page)


def test_htmx_gets_the_readings_and_the_drawing_and_word_that_the_odds_are_stale(
    client: TestClient,
) -> None:
    answer = client.post("/jobs/hall/readings", data=OUTLET, headers=HTMX)
    assert answer.status_code == 200
    assert answer.headers["HX-Trigger"] == "odds-stale"
    assert "<html" not in answer.text
    assert "4 readings entered" in answer.text
    assert re.search(r'id="part-drawing"[^>]*hx-swap-oob="true"', answer.text)
    assert "Condenser outlet: 31.5 C, change it" in answer.text


@pytest.mark.parametrize(
    ("form", "said"),
    [
        (OUTLET | {"value": "54 bar"}, "Read &#39;54 bar&#39;"),
        (OUTLET | {"value": "-300 °C"}, "Accepted:"),
        (OUTLET | {"value": ""}, "such as &#39;-18 °C&#39;"),
        (OUTLET | {"value": "<b>hot</b>"}, "Read &#39;&lt;b&gt;hot&lt;/b&gt;&#39;"),
        (OUTLET | {"uncertainty": "-1 K"}, "an uncertainty above zero"),
        (OUTLET | {"uncertainty": "sure"}, "Read &#39;sure&#39;"),
        (OUTLET | {"key": ""}, "Choose what was read."),
        (OUTLET | {"key": "nonsense"}, "Choose what was read."),
        ({"key": "run_fraction", "value": "1.4"}, "share of the time it runs, 0 % to 100 %"),
    ],
)
@pytest.mark.parametrize("headers", [{}, HTMX], ids=["plain", "htmx"])
def test_refused_reading_comes_back_as_typed(
    client: TestClient, shop: Shop, form: dict[str, str], said: str, headers: dict[str, str]
) -> None:
    answer = client.post("/jobs/hall/readings", data=form, headers=headers)
    assert answer.status_code == 422
    assert said in answer.text
    assert 'aria-invalid="true"' in answer.text
    for text in (form["value"], form.get("uncertainty", "")):
        shown = text.replace("<", "&lt;").replace(">", "&gt;")
        assert f'value="{shown}"' in answer.text
    assert ("<html" in answer.text) == (not headers)
    assert "HX-Trigger" not in answer.headers
    assert not shop.own.exists()


def test_second_entry_replaces_the_first(client: TestClient, shop: Shop) -> None:
    form = {"key": "freezer_temperature", "value": "0 °F"}
    client.post("/jobs/hall/readings", data=form)
    reading = load_job(shop.own / "hall.toml").reading("freezer_temperature")
    assert reading is not None
    assert (reading.entered, reading.sd, reading.note) == ("0 °F", None, "")


@pytest.mark.parametrize("headers", [{}, HTMX], ids=["plain", "htmx"])
def test_removed_reading_is_gone(client: TestClient, shop: Shop, headers: dict[str, str]) -> None:
    answer = client.post("/jobs/hall/readings/appliance_power/remove", headers=headers)
    assert answer.status_code == (200 if headers else 303)
    assert load_job(shop.own / "hall.toml").reading("appliance_power") is None


def test_bare_pressure_is_said_to_be_taken_as_gauge(client: TestClient) -> None:
    form = {"key": "suction_pressure", "value": "2 psi"}
    answer = client.post("/jobs/hall/readings", data=form, headers=HTMX)
    assert "taken as gauge" in answer.text


@pytest.mark.parametrize("query", ["key=suction_pressure", "reading=suction_pressure"])
def test_form_for_a_chosen_reading_shows_its_cautions(client: TestClient, query: str) -> None:
    block = client.get(f"/jobs/bakery/reading-form?{query}", headers=HTMX).text
    assert re.search(r'<option value="suction_pressure" selected>', block)
    assert "Such as &#39;0.6 bar absolute&#39;" in block
    assert "Low side below atmosphere" in block
    assert "This opens the circuit" in block


def test_form_alone_without_script_is_the_page(client: TestClient) -> None:
    answer = client.get("/jobs/hall/reading-form?reading=appliance_power")
    assert answer.headers["location"] == "/jobs/hall?reading=appliance_power#add-reading"
    answer = client.get("/jobs/hall/reading-form?reading=//evil.example")
    assert answer.headers["location"] == "/jobs/hall"


def test_upload_is_no_reading(client: TestClient) -> None:
    answer = client.post("/jobs/hall/readings", files={"value": ("a.txt", b"54 C")})
    assert answer.status_code in (400, 422)
