"""Unnamed pins on a page: named by a plain form, entered as readings when told to."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from tests.web.conftest import Shop

URL = "/jobs/bakery/pins"


def test_nothing_is_said_before_it_is_asked(client: TestClient) -> None:
    page = client.get(URL)
    assert page.status_code == 200
    assert "Name the pins" in page.text
    assert "Common is pin" not in page.text
    # the caution of the mains stands where the step is shown
    assert "nplug" in page.text
    assert f'href="{URL}"' in client.get("/jobs/bakery?odds=now").text


def test_three_readings_name_the_pins(client: TestClient) -> None:
    """By hand: 12 + 30 = 42: pin 2 has no part in the largest; 12 is the run winding."""
    page = client.get(URL, params={
        "between_1_2": "12 ohm", "between_1_3": "42 ohm", "between_2_3": "30 ohm",
    })  # fmt: skip
    assert page.status_code == 200
    assert "Common is pin 2, run is pin 1, start is pin 3" in page.text
    assert 'name="winding_resistance_run" value="12 ohm"' in page.text


def test_entered_they_are_readings_of_the_job(client: TestClient, shop: Shop) -> None:
    sent = {
        "winding_resistance_run": "12 ohm", "winding_resistance_start": "30 ohm",
        "winding_resistance_run_to_start": "42 ohm",
    }  # fmt: skip
    answer = client.post(URL, data=sent, follow_redirects=False)
    assert answer.status_code == 303
    job = shop.shelf.open("bakery").job
    assert job.reading("winding_resistance_run").value == pytest.approx(12.0)
    assert job.reading("winding_resistance_run_to_start").value == pytest.approx(42.0)


def test_a_pair_not_read_is_computed_and_not_entered(client: TestClient) -> None:
    page = client.get(URL, params={"between_1_2": "12 ohm", "between_2_3": "30 ohm"})
    assert page.status_code == 200
    assert "computed" in page.text


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"between_1_2": "many"}, "many"),
        ({"between_1_2": "12 kg", "between_1_3": "4 ohm"}, "12 kg"),
        ({"between_1_2": "12 ohm"}, "read two pairs or three"),
    ],
)
def test_bad_input_is_told_and_what_was_typed_stays(
    client: TestClient, typed: dict[str, str], told: str
) -> None:
    page = client.get(URL, params=typed)
    assert page.status_code == 422
    assert told in page.text
    for value in typed.values():
        assert f'value="{value}"' in page.text


def test_three_open_pairs_name_nothing(client: TestClient) -> None:
    page = client.get(URL, params={f"between_{p}": "open" for p in ("1_2", "1_3", "2_3")})
    assert page.status_code == 200
    assert "All pairs are open" in page.text
    assert 'name="winding_resistance_run"' not in page.text
