"""The leak search on the page: asked for, a step kept, taken out, refused."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from coldwright.readings.jobfile import load_job
from coldwright.web.app import create_app
from coldwright.web.deps import Deps
from tests.web.conftest import Shop

HTMX = {"HX-Request": "true"}
STEP = {"place": "drier_joint", "method": "bubble_test", "minutes": "3", "found": "no"}


def test_it_is_offered_not_worked_out(client: TestClient) -> None:
    page = client.get("/jobs/hall").text
    assert 'id="part-leak"' in page
    assert 'href="/jobs/hall?leak=now#part-leak"' in page
    assert "Look in this order" not in page


def test_plan_without_script_and_as_a_block(client: TestClient) -> None:
    page = client.get("/jobs/hall?leak=now").text
    for part in ("Where it may be", "Look in this order", "Enter a result", "Whole plan:",
                 "A leak of 5 g/yr takes", "Fluorescent dye"):  # fmt: skip
        assert part in page
    block = client.get("/jobs/hall/leak", headers=HTMX).text
    assert block.startswith('<details class="part" id="part-leak"')
    plain = client.get("/jobs/hall/leak")
    assert plain.status_code == 303
    assert plain.headers["location"].endswith("leak=now#part-leak")


def test_a_step_is_kept_and_moves_the_plan(client: TestClient, shop: Shop) -> None:
    before = client.get("/jobs/hall/leak", headers=HTMX).text
    after = client.post("/jobs/hall/tried", data=STEP, headers=HTMX).text
    kept = load_job(shop.own / "hall.toml").tried
    assert [(t.place, t.method, t.minutes, t.found) for t in kept] == [
        ("drier_joint", "bubble_test", 3.0, False)
    ]
    assert "1 step tried" in after
    assert "# plug-in meter" in shop.kept("hall")  # the file's own comment stays
    assert chance(after, "Drier joint") < chance(before, "Drier joint")


def chance(page: str, place: str) -> int:
    """Percent beside a place; 1 for under one."""
    row = re.search(rf'<span class="name">{place}</span>.*?percent">(.*?)<', page, re.S)
    return int(re.sub(r"\D", "", row[1])) if row else 0


def test_found_ends_the_search(client: TestClient) -> None:
    page = client.post("/jobs/hall/tried", data=STEP | {"found": "yes"}, headers=HTMX).text
    assert "Found at the drier joint" in page
    assert "Look in this order" not in page


def test_plain_post_goes_back_to_the_part(client: TestClient, shop: Shop) -> None:
    done = client.post("/jobs/hall/tried", data=STEP)
    assert done.status_code == 303
    assert done.headers["location"] == "/jobs/hall?odds=now&leak=now#part-leak"
    done = client.post("/jobs/hall/tried/0/remove")
    assert done.status_code == 303
    assert load_job(shop.own / "hall.toml").tried == ()


@pytest.mark.parametrize("headers", [{}, HTMX], ids=["plain", "htmx"])
@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"minutes": "long"}, "minutes such as 3"),
        ({"minutes": "-1"}, "tried"),
        ({"minutes": "inf"}, "tried"),
        ({"found": "perhaps"}, "yes or no"),
        ({"place": "moon"}, "moon"),
        ({"method": "prayer"}, "prayer"),
    ],
)
def test_refused_step_says_why_and_keeps_what_was_typed(
    client: TestClient, shop: Shop, headers: dict[str, str], change: dict[str, str], said: str
) -> None:
    answer = client.post("/jobs/hall/tried", data=STEP | change, headers=headers)
    assert answer.status_code == 422
    form = re.search(r'<form class="entry" id="add-tried".*?</form>', answer.text, re.S)
    assert form is not None
    assert said in form[0] or "Read" in form[0]
    assert 'role="alert"' in form[0]
    assert not shop.own.exists()


def test_odds_do_not_move_with_the_search(client: TestClient, shop: Shop) -> None:
    client.get("/jobs/hall?odds=now")
    calls = shop.diagnose.calls
    client.post("/jobs/hall/tried", data=STEP, headers=HTMX)
    assert "Undercharge" in client.get("/jobs/hall").text
    assert shop.diagnose.calls == calls


def test_leak_facts_are_fields_of_the_appliance(client: TestClient, shop: Shop) -> None:
    page = client.get("/jobs/hall").text
    assert 'name="leak.mass_lost"' in page
    client.post("/jobs/hall/details", data={"leak.mass_lost": "60 g", "leak.draught": "slight"})
    job = load_job(shop.own / "hall.toml")
    assert job.leak.mass_lost_kg == pytest.approx(0.06)
    assert job.leak.draught == "slight"


def test_the_shops_own_finds_count_and_invented_ones_do_not(shop: Shop) -> None:
    seen: list[dict[str, int]] = []

    def watch(job, finds):
        from coldwright.leak.search import leak_search

        seen.append(dict(finds))
        return leak_search(job, finds)

    text = '[plate]\nkind = "compact"\n[[tried]]\nplace = "evaporator"\nmethod = "visual"\n'
    shop.shelf.create("mended", text + "minutes = 1\nfound = true\n")
    (shop.demo / "odd.toml").write_text(
        text.replace("evaporator", "drier") + "minutes = 1\nfound = true\n"
    )
    with TestClient(create_app(Deps(shop.diagnose, shop.shelf, watch))) as caller:
        caller.get("/jobs/hall/leak", headers=HTMX)
    assert seen == [{"evaporator": 1}]


def test_refrigerant_without_data_is_said(client: TestClient, shop: Shop) -> None:
    shop.shelf.create("blend", '[plate]\nkind = "compact"\nrefrigerant = "R502"\n')
    page = client.get("/jobs/blend?leak=now").text
    assert "not possible" in page
    assert "one of R134a" in page


def test_cautions_stand_where_the_step_stands(client: TestClient) -> None:
    page = client.get("/jobs/bakery?leak=now").text  # R600a
    for words in ("Never oxygen or compressed air", "Never press a flammable", "No torch",
                  "Only instruments rated for this gas", "Heated-diode detector"):  # fmt: skip
        assert words in page
