"""A job over hours as a page: asked by a plain form, refused in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from starlette.testclient import TestClient

from coldwright.readings.job import Job
from coldwright.transient.hours import Hours
from coldwright.usecases.pulldown import Asked, pulldown
from coldwright.web.app import create_app
from coldwright.web.deps import Deps
from tests.web.conftest import Shop


class ShortHours:
    """The real use case over half an hour; remembers what it was asked."""

    def __init__(self) -> None:
        self.asked: list[Asked] = []

    def __call__(self, job: Job, asked: Asked) -> Hours:
        self.asked.append(asked)
        return pulldown(job, replace(asked, hours=0.5))


@pytest.fixture
def hours() -> ShortHours:
    return ShortHours()


@pytest.fixture
def client(shop: Shop, hours: ShortHours) -> Iterator[TestClient]:
    with TestClient(create_app(Deps(shop.diagnose, shop.shelf, hours=hours))) as caller:
        yield caller


def test_nothing_is_run_before_it_is_asked_for(client: TestClient, hours: ShortHours) -> None:
    page = client.get("/jobs/bakery/hours")
    assert page.status_code == 200
    assert "Run it" in page.text
    assert "<svg" not in page.text
    assert hours.asked == []
    assert 'href="/jobs/bakery/hours"' in client.get("/jobs/bakery").text


def test_a_fault_with_its_severity_is_run_and_drawn(client: TestClient, hours: ShortHours) -> None:
    page = client.get("/jobs/bakery/hours?fault=undercharge&severity=60+%25&length=12")
    assert page.status_code == 200
    assert hours.asked == [Asked(hours=12.0, faults=(("undercharge", 0.6),))]
    assert page.text.count("<svg") >= 1
    assert "The circuit is not fully given" in page.text
    assert "not reached" in page.text
    assert '<option value="undercharge" selected' in page.text


def test_a_sound_one_needs_no_severity(client: TestClient, hours: ShortHours) -> None:
    assert client.get("/jobs/bakery/hours?fault=nothing_wrong").status_code == 200
    assert hours.asked == [Asked(hours=24.0)]


@pytest.mark.parametrize(
    ("query", "said"),
    [
        ("fault=gremlins", "gremlins"),
        ("fault=undercharge&severity=lots", "lots"),
        ("fault=undercharge&severity=", "severity"),
        ("fault=undercharge&severity=300+%25", "severity"),
        ("fault=nothing_wrong&length=999", "999"),
    ],
)
def test_what_cannot_be_used_is_said_with_the_form(
    client: TestClient, query: str, said: str
) -> None:
    page = client.get(f"/jobs/bakery/hours?{query}")
    assert page.status_code == 422
    assert said in page.text
    assert "Run it" in page.text


def test_what_is_not_modelled_is_refused_in_words(client: TestClient, shop: Shop) -> None:
    two = '[plate]\nkind = "compact"\n[circuit]\nevaporators = "switched"\n'
    (shop.demo / "two.toml").write_text(two, encoding="utf-8")
    page = client.get("/jobs/two/hours?fault=nothing_wrong")
    assert page.status_code == 422
    assert "more than one evaporator" in page.text


def test_no_such_job(client: TestClient) -> None:
    assert client.get("/jobs/nobody/hours").status_code == 404
