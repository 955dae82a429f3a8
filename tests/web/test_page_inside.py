"""Inside the circuit: drawn when asked for, on a page of its own or in its place by htmx."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

import pytest
from starlette.testclient import TestClient

from coldwright.errors import NotSolved
from coldwright.readings.job import Job
from coldwright.usecases.inside import Inside
from coldwright.usecases.inside import inside as worked_out
from coldwright.web.app import create_app
from coldwright.web.deps import Deps
from tests.web.conftest import Shop

HTMX = {"HX-Request": "true"}


@cache
def _kept(job: Job) -> Inside:
    return worked_out(job, members=600, refine=False)


class SmallInside:
    """The real use case over few appliances; raises `trouble` while it is set."""

    def __init__(self) -> None:
        self.calls = 0
        self.trouble: Exception | None = None

    def __call__(self, job: Job) -> Inside:
        self.calls += 1
        if self.trouble is not None:
            raise self.trouble
        return _kept(job)


@pytest.fixture
def small() -> SmallInside:
    return SmallInside()


@pytest.fixture
def client(shop: Shop, small: SmallInside) -> Iterator[TestClient]:
    with TestClient(create_app(Deps(shop.diagnose, shop.shelf, inside=small))) as caller:
        yield caller


def test_the_jobs_page_asks_for_nothing_by_itself(client: TestClient, small: SmallInside) -> None:
    page = client.get("/jobs/bakery").text
    part = page[page.index('id="part-inside"') :]
    assert '<details class="part" id="part-inside">' in page  # closed until it is opened
    assert 'href="/jobs/bakery/inside"' in part[: part.index("</details>")]
    assert page.index('id="odds"') < page.index('id="part-inside"')
    assert small.calls == 0


def test_a_page_of_its_own_needs_no_script(client: TestClient, small: SmallInside) -> None:
    page = client.get("/jobs/bakery/inside")
    assert page.status_code == 200
    assert small.calls == 1
    assert page.text.count("<svg") == 2
    for words in ("Evaporating", "Subcooling", "With it", "Sound", "Back to the job"):
        assert words in page.text


def test_drawings_are_told_to_the_ear_and_not_numbered(client: TestClient) -> None:
    page = client.get("/jobs/bakery/inside").text
    for svg in re.findall(r"<svg.*?</svg>", page, re.S):
        assert 'role="img"' in svg
        assert re.search(r"<title>[^<]+ beside the same appliance sound</title>", svg)
        told = re.search(r"<desc>([^<]+)</desc>", svg)
        assert told is not None
        assert "sound: " in told[1]
        assert "evaporator inlet" in told[1]
        # Names, not numbers, at the places of the circuit
        assert not re.search(r"<text[^>]*>[1-9]'?</text>", svg.split('stroke-width="3"')[-1])


def test_htmx_gets_the_part_alone(client: TestClient) -> None:
    block = client.get("/jobs/bakery/inside", headers=HTMX)
    assert block.status_code == 200
    assert "<html" not in block.text
    assert block.text.count("<svg") == 2


def test_what_went_wrong_is_told_in_its_place(client: TestClient, small: SmallInside) -> None:
    small.trouble = NotSolved("the same appliance without its fault", (), float("nan"))
    page = client.get("/jobs/bakery/inside")
    assert page.status_code == 422
    assert "without its fault" in page.text
    block = client.get("/jobs/bakery/inside", headers=HTMX)
    assert block.status_code == 200
    assert 'role="alert"' in block.text


def test_no_such_job(client: TestClient) -> None:
    assert client.get("/jobs/nobody/inside").status_code == 404
