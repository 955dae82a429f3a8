"""What was found: entered, refused, taken out; the shop's own jobs move the odds' prior."""

from __future__ import annotations

import re

import pytest
from starlette.testclient import TestClient

from coldwright.readings.jobfile import load_job
from coldwright.usecases.outcomes import ProvenFiles
from coldwright.web.app import create_app
from coldwright.web.deps import Deps
from coldwright.web.outcome.context import OutcomePart, ShareRow
from tests.web.conftest import Shop
from tests.web.test_contexts import Read, render

HTMX = {"HX-Request": "true"}
FOUND = {"found": "undercharge", "found_too": "", "proven_by": "opened", "severity": "60 %",
         "date": "2026-05-12"}  # fmt: skip


@pytest.mark.parametrize("headers", [{}, HTMX], ids=["plain", "htmx"])
def test_what_was_found_is_kept_and_taken_out(
    client: TestClient, shop: Shop, headers: dict[str, str]
) -> None:
    assert "not entered yet" in client.get("/jobs/hall").text
    done = client.post("/jobs/hall/outcome", data=FOUND, headers=headers)
    assert done.status_code == (200 if headers else 303)
    outcome = load_job(shop.own / "hall.toml").outcome
    assert outcome is not None
    assert (outcome.found, outcome.proven_by) == (("undercharge",), "opened")
    assert "# plug-in meter" in shop.kept("hall")
    page = client.get("/jobs/hall").text
    assert "Undercharge: too little refrigerant, opened and found" in page
    assert "2026-05-12" in page
    client.post("/jobs/hall/outcome/remove", headers=headers)
    assert load_job(shop.own / "hall.toml").outcome is None


def test_a_pair_is_two_faults(client: TestClient, shop: Shop) -> None:
    pair = FOUND | {"found_too": "non_condensables", "severity": "", "date": ""}
    client.post("/jobs/hall/outcome", data=pair)
    outcome = load_job(shop.own / "hall.toml").outcome
    assert outcome is not None
    assert outcome.found == ("undercharge", "non_condensables")


@pytest.mark.parametrize("headers", [{}, HTMX], ids=["plain", "htmx"])
@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"found": ""}, "what was found"),
        ({"proven_by": ""}, "how it is known"),
        ({"found": "moon"}, "moon"),
        ({"found_too": "undercharge"}, "two different faults"),
        ({"severity": "much"}, "much"),
        ({"date": "May"}, "2026-05-12"),
    ],
)
def test_refused_form_says_why_and_keeps_what_was_typed(
    client: TestClient, shop: Shop, headers: dict[str, str], change: dict[str, str], said: str
) -> None:
    answer = client.post("/jobs/hall/outcome", data=FOUND | change, headers=headers)
    assert answer.status_code == 422
    form = re.search(r'id="add-outcome".*?</form>', answer.text, re.S)
    assert form is not None
    assert said in form[0]
    assert 'role="alert"' in form[0]
    assert f'value="{change.get("date", "2026-05-12")}"' in form[0]
    assert not shop.own.exists()


def test_odds_of_a_job_do_not_move_with_its_own_outcome(client: TestClient, shop: Shop) -> None:
    client.get("/jobs/hall?odds=now")
    calls = shop.diagnose.calls
    client.post("/jobs/hall/outcome", data=FOUND)
    client.get("/jobs/hall?odds=now")
    assert shop.diagnose.calls == calls


def test_own_jobs_count_at_once_and_invented_ones_do_not(shop: Shop) -> None:
    proven = ProvenFiles([shop.own], besides=frozenset({"hall", "bakery"}), missing_too=True)
    deps = Deps(shop.diagnose, shop.shelf, proven=proven.read)
    with TestClient(create_app(deps), follow_redirects=False) as caller:
        assert "What proven jobs say here" not in caller.get("/jobs/hall?odds=now").text
        calls = shop.diagnose.calls
        caller.post("/jobs/bakery/outcome", data=FOUND)  # a copy of an invented job
        caller.get("/jobs/hall?odds=now")
        assert shop.diagnose.calls == calls
        name = shop.shelf.create(
            "mended", 'title = "Mended"\n[plate]\nkind = "top_mount"\nrefrigerant = "R134a"\n'
        )
        caller.post(f"/jobs/{name}/outcome", data=FOUND)
        page = caller.get("/jobs/hall?odds=now").text
        assert shop.diagnose.calls == calls + 1
    assert "Prior odds rest on 1 proven job of R134a (1 of this kind)" in page
    assert "found in 1 of this kind, 1 of its refrigerant" in page


def test_every_field_is_read_by_the_template() -> None:
    import dataclasses
    from collections import defaultdict

    from coldwright.web.pieces import Field
    from coldwright.words.report import Fact

    read: Read = defaultdict(set)
    part = OutcomePart(
        "state", (Fact("a", "b"),), (Field("found", "l", "", "", "", ()),), "wrong", "learned",
        (ShareRow("a", "b", "c"),),
    )  # fmt: skip
    render("outcome/_outcome.html", read, part=part, url="/jobs/x")
    for record in (OutcomePart, ShareRow):
        assert {f.name for f in dataclasses.fields(record)} - read[record.__name__] == set()
