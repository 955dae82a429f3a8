"""The electrical side and the looks on a job's page: odds/_electrical.html."""

from __future__ import annotations

import re

from starlette.testclient import TestClient

HTMX = {"HX-Request": "true"}


def _block(client: TestClient) -> str:
    return client.get("/jobs/hall/odds", headers=HTMX).text


def test_collapsed_until_the_compressor_is_in_question(client: TestClient) -> None:
    assert '<details class="part" id="part-electrical">' in _block(client)
    assert "nothing read yet" in _block(client)
    client.post("/jobs/hall/signs/compressor_silent", data={"seen": "yes"})
    assert '<details class="part" id="part-electrical" open>' in _block(client)


def test_readings_are_judged_and_carry_their_cautions(client: TestClient) -> None:
    for key, value in (
        ("winding_resistance_run", "4 ohm"),
        ("winding_resistance_start", "14 ohm"),
        ("start_device_resistance", "open"),
        ("shell_temperature", "60 °C"),
    ):
        client.post("/jobs/hall/readings", data={"key": key, "value": value}, headers=HTMX)
    block = _block(client)
    part = block[block.index("part-electrical") :]
    for words in (
        "2 parts read",
        "windings read as sound ones do",
        "start device open",
        "Run winding at 20 °C</dt><dd>3.46 ohm",  # 4 * 254.5 / 294.5
        "discharge any capacitor",
        "Run to start was not read: 18 ohm by the other two.",
    ):
        assert words in part
    assert re.search(r"does not run:</strong> Relay 9\d\xa0%", part)


def test_looks_stand_before_the_checks_and_lead_to_their_sign(client: TestClient) -> None:
    client.post("/jobs/hall/signs/condenser_dusty", data={"seen": ""})
    block = _block(client)
    assert block.index("part-look") < block.index("part-next")
    assert 'href="/jobs/hall?sign=condenser_dusty#sign-condenser_dusty"' in block
    assert "Yes: for poor air over the condenser" in block
    assert "Isolate before a cover comes off." in block
    assert "Enter: Defrost parts" not in block
