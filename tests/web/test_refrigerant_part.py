"""The refrigerant's place on a job's page."""

from __future__ import annotations

import html
import re

import pytest
from starlette.testclient import TestClient

from coldwright.readings.jobfile import job_from_text
from coldwright.web.refrigerant.view import refrigerant_part
from tests.web.conftest import HALL, Shop


def part_of(text: str) -> dict[str, str]:
    """Name and value of its facts."""
    facts = refrigerant_part(job_from_text(text, "job.toml")).facts
    return {fact.name: fact.value for fact in facts}


def test_saturation_at_the_temperatures_of_this_job() -> None:
    """R134a: 6.46 bar at 24 °C, 2.04 bar at -9.5 °C (ASHRAE Fundamentals tables, from memory)."""
    facts = part_of(HALL)
    assert "(6.46 bar absolute)" in facts["At the room, 24.0 °C"]
    assert re.search(r"\(2\.0[45] bar absolute\)", facts["At the freezer compartment, -9.5 °C"])
    assert facts["Safety class (ASHRAE 34)"] == "A1"
    assert "Burns in air from" not in facts
    assert facts["Warming, 100 years"].endswith("plate charge as 200 kg of CO₂ (AR4)")


def test_a_measured_room_goes_before_the_noted_one() -> None:
    text = HALL.replace("[readings]\n", '[readings]\nambient_temperature = "31 °C"\n')
    assert "At the room, 31.0 °C" in part_of(text)


def test_gauge_counts_from_the_air_of_the_place() -> None:
    high = HALL.replace('temperature = "24 °C"', 'temperature = "24 °C"\naltitude = "1500 m"', 1)
    assert part_of(HALL)["At the room, 24.0 °C"].startswith("5.44 bar gauge")
    assert part_of(high)["At the room, 24.0 °C"].startswith("5.61 bar gauge")


def at_suction(written: str) -> str:
    """What stands beside a suction pressure."""
    text = HALL.replace("[readings]\n", f'[readings]\nsuction_pressure = "{written}"\n')
    return part_of(text)[f"Suction pressure, running, {written}"]


def test_a_pressure_read_has_its_saturation_beside_it() -> None:
    """R134a at 2 psig boils at -23.3 °C by a published trade pair (read in full text)."""
    found = re.fullmatch(r"saturation at (-\d+\.\d) °C", at_suction("2 psig"))
    assert found is not None
    assert float(found[1]) == pytest.approx(-23.3, abs=0.2)


def test_a_pressure_off_the_line_says_so() -> None:
    assert at_suction("0.02 bar absolute") == "outside what is held"


def test_a_blend_has_two_pressures_and_says_why() -> None:
    text = HALL.replace("R134a", "R409A").replace(
        "[readings]\n", '[readings]\nsuction_pressure = "2 psig"\n'
    )
    part = refrigerant_part(job_from_text(text, "job.toml"))
    facts = {fact.name: fact.value for fact in part.facts}
    assert re.search(r"^bubble .* dew ", facts["At the room, 24.0 °C"])
    assert re.search(r"bubble point .*, dew point ", facts["Suction pressure, running, 2 psig"])
    assert facts["Made of"] == "R22 60.0 % / R124 25.0 % / R142b 15.0 %"
    said = " ".join(part.notes)
    assert "charge anew, as liquid" in said
    assert "No odds for the sealed circuit with R409A" in said


def test_unknown_refrigerant_gets_a_caution_and_no_figure() -> None:
    part = refrigerant_part(job_from_text('[plate]\nkind = "compact"\n', "job.toml"))
    assert part.facts == ()
    assert "unknown" in part.cautions[0].title
    assert "Never guess from a pressure" in part.notes[0]


def test_flammable_caution_stands_where_it_is_shown(client: TestClient, shop: Shop) -> None:
    shop.shelf.create("mixed", '[plate]\nkind = "compact"\nrefrigerant = "R436B"\n')
    for name, burns in (("hall", False), ("bakery", True), ("mixed", True)):
        page = html.unescape(client.get(f"/jobs/{name}").text)
        part = page.split('id="part-refrigerant"')[1].split('id="part-drawing"')[0]
        assert ("gas alarm at floor level" in part) == burns
        assert ("Burns in air from" in part) == burns
        assert "23 °C, room not given" in part or name == "hall"


def test_a_new_reading_renews_it_without_a_new_page(client: TestClient) -> None:
    form = {"key": "fresh_food_temperature", "value": "12 °C"}
    block = client.post("/jobs/hall/readings", data=form, headers={"HX-Request": "true"}).text
    assert re.search(r'id="part-refrigerant" hx-swap-oob="true"', block)
    assert "12.0 °C" in block.split('id="part-refrigerant"')[1]
