"""The block of odds that loads after the page."""

from __future__ import annotations

import re
from dataclasses import replace

from starlette.testclient import TestClient

from coldwright.diagnosis.result import Diagnosis
from coldwright.errors import BadInput, NotSolved
from coldwright.readings.job import Job
from coldwright.web.app import create_app
from coldwright.web.deps import Deps
from tests.web.conftest import Shop

HTMX = {"HX-Request": "true"}


def _since(block: str) -> str:
    found = re.search(r'name="since" value="([0-9a-f]+)"', block)
    assert found is not None
    return found[1]


def test_block_says_all_that_the_diagnosis_says(client: TestClient) -> None:
    block = client.get("/jobs/hall/odds", headers=HTMX).text
    for words in (
        "of the plate charge left, most likely about 60",
        "Restriction (capillary or drier)",
        "Inside the sealed circuit",
        "Do not open the circuit yet",
        "Read 54 °C; the leading fault would give about that.",
        "Clamp the probe on the last pass",
        "about 2\xa0min",
        "Tells much (0.41\xa0bit).",
        "By the prices given the best is now: replace the appliance",
        "Speaks for it",
        "No reading speaks for or against it by itself.",
        "What would change our mind",
        "If the frost stopped at the inlet, the leader would fall.",
        "stand-in 1",
        "Seed</dt><dd>20",
        "4\xa0000",
        "731",
    ):
        assert words in block
    assert "What moved" not in block


def test_next_check_leads_to_its_entry(client: TestClient) -> None:
    client.post("/jobs/hall/signs/frost_only_at_inlet", data={"seen": ""})
    block = client.get("/jobs/hall/odds", headers=HTMX).text
    assert 'href="/jobs/hall?reading=condenser_outlet_temperature#add-reading"' in block
    assert 'href="/jobs/hall?sign=frost_only_at_inlet#sign-frost_only_at_inlet"' in block


def test_check_that_opens_the_circuit_carries_its_cautions(client: TestClient) -> None:
    block = client.get("/jobs/bakery/odds", headers=HTMX).text
    assert "; opens the circuit" in block
    assert "runs below atmospheric pressure even when healthy" in block
    assert "a flammable mixture may be inside: do not run it" in block
    assert "hoses purged only" in block


def test_what_moved_is_shown_against_what_was_on_the_screen(client: TestClient) -> None:
    before = _since(client.get("/jobs/hall/odds", headers=HTMX).text)
    form = {"key": "condenser_outlet_temperature", "value": "22 °C"}
    client.post("/jobs/hall/readings", data=form, headers=HTMX)
    block = client.get(f"/jobs/hall/odds?since={before}", headers=HTMX).text
    moved = r"Capillary partly blocked or crushed: up from 30\xa0% to 8\d\xa0%"
    assert re.search(moved, block)
    assert re.search(r"was 30\xa0%</span> <span class=\"percent\">8\d\xa0%", block)
    assert _since(block) != before


def test_same_question_is_not_worked_out_twice(client: TestClient, shop: Shop) -> None:
    for _ in range(3):
        client.get("/jobs/hall/odds", headers=HTMX)
    assert shop.diagnose.calls == 1


def test_trouble_in_the_model_is_said_and_can_be_tried_again(
    client: TestClient, shop: Shop
) -> None:
    shop.diagnose.trouble = NotSolved("running state", (1.0, 2.0), 0.3)
    block = client.get("/jobs/hall/odds", headers=HTMX)
    assert block.status_code == 200
    assert "running state not solved" in block.text
    assert "Try again" in block.text
    shop.diagnose.trouble = None
    assert "Do not open the circuit yet" in client.get("/jobs/hall?odds=now").text


def test_refusal_gives_its_reason_and_no_bars(client: TestClient) -> None:
    client.post("/jobs/hall/details", data={"circuit.compressor_drive": "variable_speed"})
    block = client.get("/jobs/hall/odds", headers=HTMX).text
    assert "No sealed-circuit odds here. A variable-speed drive is not modelled yet" in block
    assert 'class="odds"' not in block
    assert "Inside the sealed circuit" not in block
    assert "Clamp the probe on the last pass" in block


def test_readings_that_nothing_explains_are_said_to_be_so(client: TestClient) -> None:
    form = {"key": "freezer_temperature", "value": "45 °C"}
    client.post("/jobs/hall/readings", data=form)
    block = client.get("/jobs/hall/odds", headers=HTMX).text
    assert "No fault here explains these readings well." in block
    assert 'Check first: <a href="/jobs/hall?reading=freezer_temperature#add-reading">' in block


def test_without_script_the_whole_page_is_given(client: TestClient) -> None:
    answer = client.get("/jobs/hall/odds")
    assert (answer.status_code, answer.headers["location"]) == (
        303,
        "/jobs/hall?odds=now#part-odds",
    )


def test_bad_job_is_not_kept_as_an_answer(client: TestClient, shop: Shop) -> None:
    shop.diagnose.trouble = BadInput("form", "plate.kind", "x", "y")
    assert "plate.kind" in client.get("/jobs/hall?odds=now").text
    shop.diagnose.trouble = None
    assert "not worked out yet" in client.get("/jobs/hall").text


def test_a_first_look_stands_until_the_whole_is_there(shop: Shop) -> None:
    """Odds at once, no word on opening, and a request of their own for the whole diagnosis."""
    looked: list[str] = []

    def first_look(job: Job) -> Diagnosis | None:
        looked.append(job.source)
        return replace(shop.diagnose(job), open_circuit_advised=False)

    app = create_app(Deps(shop.diagnose, shop.shelf, first_look=first_look))
    with TestClient(app) as client:
        block = client.get("/jobs/hall/odds?since=abc", headers=HTMX).text
        assert "at first look" in block
        assert "worked out more exactly" in block
        assert "Do not open the circuit yet" not in block
        again = re.search(r'hx-get="(/jobs/hall/odds[^"]*)"', block)
        assert again is not None
        url = again[1].replace("&amp;", "&")
        assert "since=abc" in url
        assert "whole=1" in url
        whole = client.get(url, headers=HTMX).text
        assert "at first look" not in whole
        assert "Do not open the circuit yet" in whole
        assert len(looked) == 1
        # worked out and kept: no first look any more
        assert "at first look" not in client.get("/jobs/hall/odds", headers=HTMX).text
        assert len(looked) == 1


def test_no_first_look_where_none_can_be_told(shop: Shop) -> None:
    for nothing in (lambda _: None, None):
        app = create_app(Deps(shop.diagnose, shop.shelf, first_look=nothing))
        with TestClient(app) as client:
            assert "at first look" not in client.get("/jobs/hall/odds", headers=HTMX).text
