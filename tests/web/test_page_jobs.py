"""The list of jobs and the start of a new one."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from coldwright.readings.jobfile import load_job
from tests.web.conftest import HALL, Shop


def test_invented_jobs_are_listed_and_said_to_be_invented(client: TestClient) -> None:
    page = client.get("/").text
    assert 'href="/jobs/hall"' in page
    assert "Hall refrigerator" in page
    assert "Freezer on top, 2004, R134a, both too warm, 3 readings" in page
    assert "made-up appliances with made-up readings" in page


def test_own_job_stands_before_the_invented_ones(client: TestClient, shop: Shop) -> None:
    shop.shelf.create("Cellar chest", '[plate]\nkind = "chest_freezer"\n')
    page = client.get("/").text
    assert page.index("/jobs/cellar_chest") < page.index("/jobs/bakery")


def test_unusable_file_is_named_with_what_is_accepted(client: TestClient, shop: Shop) -> None:
    (shop.demo / "odd.toml").write_text('[plate]\nkind = "wardrobe"\n')
    page = client.get("/").text
    assert "odd.toml: plate.kind: read &#39;wardrobe&#39;; accepted: one of single_door" in page
    assert str(shop.demo) not in page


def test_kind_alone_starts_a_job(client: TestClient, shop: Shop) -> None:
    answer = client.post("/jobs", data={"plate.kind": "chest_freezer"})
    assert answer.status_code == 303
    assert answer.headers["location"] == "/jobs/chest_freezer"
    job = load_job(shop.own / "chest_freezer.toml")
    assert (job.title, job.plate.refrigerant) == ("Chest freezer", "unknown")


def test_everything_given_is_kept_as_written(client: TestClient, shop: Shop) -> None:
    form = {
        "title": 'Käthe\'s "old" fridge',
        "plate.kind": "single_door",
        "plate.refrigerant": "R12",
        "plate.year": "1984",
        "plate.charge": "4.9 oz",
        "room.temperature": "75 F",
        "history.earlier_repair": "yes",
        "taken.minutes_since_start": "45",
    }
    answer = client.post("/jobs", data=form)
    assert answer.headers["location"] == "/jobs/kathe_s_old_fridge"
    text = shop.kept("kathe_s_old_fridge")
    assert 'charge = "4.9 oz"' in text
    job = load_job(shop.own / "kathe_s_old_fridge.toml")
    assert job.title == 'Käthe\'s "old" fridge'
    assert job.plate.year == 1984
    assert job.history.earlier_repair is True
    assert job.taken.minutes_since_start == 45.0
    assert job.room.temperature_k == pytest.approx(297.039, abs=1e-3)


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("plate.charge", "140 °C", "Read &#39;140 °C&#39;"),
        ("plate.kind", "", "Read nothing. Accepted: one of single door, freezer on top"),
        ("plate.year", "soon", "Accepted: a whole number from 1930"),
        ("room.humidity", "140 %", "relative humidity in the room, 0 % to 100 %"),
    ],
)
def test_refused_form_comes_back_as_typed(
    client: TestClient, shop: Shop, field: str, text: str, said: str
) -> None:
    form = {"title": "Kept title", "plate.kind": "compact", "plate.current": "1.6 A", field: text}
    answer = client.post("/jobs", data=form)
    assert answer.status_code == 422
    assert said in answer.text
    assert 'value="Kept title"' in answer.text
    assert 'value="1.6 A"' in answer.text
    assert 'aria-invalid="true"' in answer.text
    assert not shop.own.exists()


def test_two_jobs_of_one_title_do_not_overwrite_each_other(client: TestClient, shop: Shop) -> None:
    form = {"title": "Hall", "plate.kind": "compact"}
    assert client.post("/jobs", data=form).headers["location"] == "/jobs/hall_2"
    assert client.post("/jobs", data=form).headers["location"] == "/jobs/hall_3"
    assert (shop.demo / "hall.toml").read_text(encoding="utf-8") == HALL
