"""One job's page and the change of its plate and circumstances."""

from __future__ import annotations

import html
import re

import pytest
from starlette.testclient import TestClient

from coldwright.readings.jobfile import load_job
from tests.web.conftest import Shop


def test_page_is_there_before_the_odds(client: TestClient, shop: Shop) -> None:
    page = client.get("/jobs/hall")
    assert page.status_code == 200
    assert shop.diagnose.calls == 0
    assert "not worked out yet" in page.text
    assert 'hx-trigger="load, odds-stale from:body"' in page.text
    assert 'href="/jobs/hall?odds=now#part-odds"' in page.text


def test_odds_once_worked_out_come_with_the_page(client: TestClient, shop: Shop) -> None:
    first = client.get("/jobs/hall?odds=now").text
    again = client.get("/jobs/hall").text
    assert shop.diagnose.calls == 1
    for page in (first, again):
        assert 'hx-trigger="odds-stale from:body"' in page
        name = "Undercharge: too little refrigerant"
        assert re.search(name + r'</span>.*?percent">\d+\xa0%', page, re.S)


def test_parts_stand_in_the_order_of_the_work(client: TestClient) -> None:
    page = client.get("/jobs/hall?odds=now").text
    order = ("before", "appliance", "drawing", "readings", "signs", "odds", "reasons", "next")
    places = [page.index(f'id="part-{part}"') for part in (*order, "fine")]
    assert places == sorted(places)


def test_readings_show_as_entered(client: TestClient) -> None:
    page = client.get("/jobs/hall").text
    for text in ("96 W", "54 °C", "-9.5 °C", "± 1 K", "in a glass of brine"):
        assert text in page


def test_tapped_point_opens_the_entry_with_what_was_read(client: TestClient) -> None:
    page = client.get("/jobs/hall?reading=discharge_line_temperature").text
    assert re.search(r'<option value="discharge_line_temperature" selected>', page)
    assert re.search(r'id="reading-value"[^>]*value="54 °C"', page)
    assert "Replaces 54 °C." in page
    assert "This spot can burn a hand" in page


@pytest.mark.parametrize("query", ["reading=nonsense", "sign=nonsense", "since=0000", "odds=x"])
def test_unknown_wishes_in_the_address_do_no_harm(client: TestClient, query: str) -> None:
    assert client.get(f"/jobs/hall?{query}").status_code == 200


@pytest.mark.parametrize("name", ["nope", "..%2F..%2Fetc%2Fpasswd", ".hidden", "Hall", "a" * 80])
def test_no_other_name_opens_anything(client: TestClient, name: str) -> None:
    answer = client.get(f"/jobs/{name}")
    assert answer.status_code == 404
    assert "No such" in answer.text


def test_unusable_file_is_explained(client: TestClient, shop: Shop) -> None:
    (shop.demo / "odd.toml").write_text("[plate\n")
    answer = client.get("/jobs/odd")
    assert answer.status_code == 422
    assert "This cannot be used" in answer.text


def test_changed_plate_is_kept_and_the_invented_file_is_not_touched(
    client: TestClient, shop: Shop
) -> None:
    before = (shop.demo / "hall.toml").read_bytes()
    form = {"plate.charge": "150 g", "circuit.condenser": "fan", "plate.year": ""}
    answer = client.post("/jobs/hall/details", data=form)
    assert answer.status_code == 303
    assert answer.headers["location"].startswith("/jobs/hall?odds=now&since=")
    job = load_job(shop.own / "hall.toml")
    assert job.plate.charge_kg == pytest.approx(0.150)
    assert job.circuit.condenser == "fan"
    assert job.plate.year is None
    assert job.circuit.layout == "frame_loop"
    assert "# plug-in meter" in shop.kept("hall")
    assert (shop.demo / "hall.toml").read_bytes() == before


def test_refused_detail_keeps_all_that_was_typed_and_writes_nothing(
    client: TestClient, shop: Shop
) -> None:
    form = {"plate.charge": "much", "plate.voltage": "230 V"}
    answer = client.post("/jobs/hall/details", data=form)
    assert answer.status_code == 422
    assert "Not kept. Look again at: Refrigerant charge." in answer.text
    assert 'value="much"' in answer.text
    assert 'value="230 V"' in answer.text
    assert not shop.own.exists()


@pytest.mark.parametrize(
    ("job", "said"),
    [
        ("hall", "R134a does not burn; mains voltage"),
        ("bakery", "R600a is flammable; mains voltage"),
        ("blank", "Refrigerant unknown: treat it as flammable; mains voltage"),
        ("rare", "R413A is flammable; mains voltage"),
    ],
)
def test_cautions_follow_the_refrigerant(
    client: TestClient, shop: Shop, job: str, said: str
) -> None:
    shop.shelf.create("blank", '[plate]\nkind = "compact"\n')
    shop.shelf.create("rare", '[plate]\nkind = "compact"\nrefrigerant = "R413A"\n')
    page = html.unescape(client.get(f"/jobs/{job}").text)
    assert said in page
    assert ("gas alarm at floor level" in page) == (job != "hall")
