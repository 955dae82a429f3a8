"""A log sent to a job: kept beside it, its readings listed, refused with the reason."""

from __future__ import annotations

import dataclasses
from collections import defaultdict

import pytest
from starlette.testclient import TestClient

from coldwright.readings.jobfile import load_job
from coldwright.usecases.demo import demo_folder
from coldwright.web.log.context import LogPart
from tests.web.conftest import Shop
from tests.web.test_contexts import Read, render

LOG = (demo_folder() / "laundry-upright.csv").read_bytes()


def send(client: TestClient, name: str, data: bytes, file: str = "mine.csv"):  # type: ignore[no-untyped-def]
    return client.post(f"/jobs/{name}/log", files={"log": (file, data, "text/csv")})


def test_a_log_is_kept_beside_the_job_and_its_readings_are_listed(
    client: TestClient, shop: Shop
) -> None:
    client.get("/jobs/bakery?odds=now")
    calls = shop.diagnose.calls
    done = send(client, "bakery", LOG)
    assert done.status_code == 303
    assert (shop.own / "bakery.log.csv").read_bytes() == LOG
    assert load_job(shop.own / "bakery.toml").taken.log == "bakery.log.csv"
    page = client.get("/jobs/bakery?odds=now").text
    assert shop.diagnose.calls == calls + 1
    assert "9 whole cycles" in page
    assert "6 readings from bakery.log.csv" in page
    assert "Middle of the condenser" in page
    assert "11 samples, worth 11" in page
    assert "/readings/condenser_middle_temperature/remove" not in page
    assert "[readings]" not in shop.kept("bakery")  # the log's readings are not written down


def test_what_is_entered_by_hand_goes_first(client: TestClient) -> None:
    send(client, "bakery", LOG)
    client.post("/jobs/bakery/readings", data={"key": "freezer_temperature", "value": "-9 °C"})
    page = client.get("/jobs/bakery").text
    assert "-9 °C" in page
    assert "Entered by hand, so not taken from the log: freezer compartment." in page
    client.post("/jobs/bakery/readings/freezer_temperature/remove")
    assert "Entered by hand" not in client.get("/jobs/bakery").text
    client.post("/jobs/bakery/log/remove")
    assert "9 whole cycles" not in client.get("/jobs/bakery").text


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", "a CSV file"),
        (b"\xff\xfe", "no UTF-8 text"),
        (b"time [min], moon [K]\n1, 2\n2, 3\n", "moon"),
        (b"time [min], shell_temperature [K]\n1, x\n2, 3\n", "line 2, shell_temperature"),
    ],
)
def test_a_bad_log_is_refused_and_nothing_is_kept(
    client: TestClient, shop: Shop, data: bytes, said: str
) -> None:
    answer = send(client, "hall", data)
    assert answer.status_code == 422
    assert said in answer.text
    assert 'role="alert"' in answer.text
    assert not shop.own.exists()


@pytest.mark.parametrize("name", ["../secret.csv", "/etc/passwd", ".hidden", "gone.csv"])
def test_a_job_cannot_make_the_page_read_other_files(
    client: TestClient, shop: Shop, name: str
) -> None:
    (shop.own.parent / "secret.csv").write_bytes(LOG)
    shop.shelf.create("odd", f'[plate]\nkind = "compact"\n[taken]\nlog = "{name}"\n')
    page = client.get("/jobs/odd").text
    assert "the plain name of a file beside the job file" in page
    assert "whole cycles" not in page


def test_a_log_changed_on_disk_is_read_again(client: TestClient, shop: Shop) -> None:
    send(client, "bakery", LOG)
    lines = LOG.splitlines(keepends=True)
    (shop.own / "bakery.log.csv").write_bytes(b"".join(lines[:300]))
    assert "299 lines" in client.get("/jobs/bakery").text


def test_every_field_is_read_by_the_template() -> None:
    read: Read = defaultdict(set)
    render("log/_log.html", read, part=LogPart("state", "name", ("line",), "wrong"), url="/jobs/x")
    assert {f.name for f in dataclasses.fields(LogPart)} - read["LogPart"] == set()
