"""The block of the job's page, the owner's page, the bench sheet: words, escape, browser."""

import dataclasses
import re
import threading
import time
from collections import defaultdict
from dataclasses import replace

import pytest
import uvicorn
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import expect
from starlette.testclient import TestClient

from coldwright.errors import BadInput
from coldwright.faults.registry import FAULTS
from coldwright.repair.alternatives import OFFERERS
from coldwright.repair.causes import LEAKS
from coldwright.web.app import create_app
from coldwright.web.deps import Deps
from coldwright.web.repair import context as contexts_repair
from coldwright.web.repair.bench import bench_page
from coldwright.web.repair.view import owner_page, repair_page
from coldwright.web.shelf import FolderShelf
from coldwright.words import owner as words_owner
from coldwright.worth.flips import LEVERS
from tests.repair.conftest import FOLDER
from tests.web.fakes import FakeDiagnose
from tests.web.test_contexts import render

HTMX = {"HX-Request": "true"}
URL = "/jobs/frame-loop"


@pytest.fixture
def app(frame_report, tmp_path):
    """The app with the report worked out once; another alternative changes whose sheet it is."""

    def worked_out(job, diagnosis, alternative):
        assert job.source == diagnosis.job == "frame-loop"
        names = {c.alternative.identifier for c in frame_report.considered}
        if alternative is not None and alternative not in names:
            raise BadInput("command line", "--alternative", alternative, "one of them")
        return replace(frame_report, chosen=alternative or frame_report.chosen)

    shelf = FolderShelf(tmp_path / "own", FOLDER / "jobs")
    return create_app(Deps(FakeDiagnose(), shelf, repair=worked_out))


@pytest.fixture
def client(app):
    with TestClient(app, follow_redirects=False) as caller:
        yield caller


def words(html):
    return " ".join(re.sub(r"<[^>]+>", " ", html).split()).replace("\xa0", " ")


def test_every_field_of_every_context_is_read_by_a_template(frame_report):
    read = defaultdict(set)
    damp = replace(
        frame_report,
        dew=replace(frame_report.dew, heater_w=5.0, heater_kwh_year=40.0, share_fraction=0.4),
    )
    render("repair/repair.html", read, page=repair_page(damp, URL, "Mend or replace"))
    render("repair/owner.html", read, page=owner_page(damp, URL))
    render("repair/bench.html", read, page=bench_page(damp, URL))
    for name, record in vars(contexts_repair).items():
        own = getattr(record, "__module__", "") == contexts_repair.__name__
        if own and dataclasses.is_dataclass(record):
            fields = {field.name for field in dataclasses.fields(record)}
            assert fields - read[name] == set(), name
            assert record.__dataclass_params__.frozen


def test_the_job_page_has_its_section_and_the_block_fills_it(client):
    page = client.get(URL).text
    assert 'id="part-repair"' in page
    assert f'hx-get="{URL}/repair"' in page
    block = client.get(f"{URL}/repair", headers=HTMX)
    assert "<html" not in block.text
    said = words(block.text)
    assert "Least expected cost: By-pass and abandon the door-frame loop" in said
    assert "Where the answer changes" in said
    assert "by the model" in said
    assert 'class="best"' in block.text
    assert "climate cost of making a new one" in said.lower()


def test_without_script_the_same_is_a_page(client):
    page = client.get(f"{URL}/repair").text
    assert page.startswith("<!doctype html>")
    assert "Page for the owner" in page


def test_the_owner_reads_no_trade_words(client):
    said = words(client.get(f"{URL}/owner").text)
    assert "Your choices, over 10 years" in said
    assert "To pay now, about" in said
    assert "What would change the answer" in said
    for word in (
        "capillary", "BAg", "superheat", "condensing", "kPa", "posterior", "By-pass", "abandon",
        "expected", "evaporator", "Probability", "discount", "circuit", "charge",
    ):  # fmt: skip
        assert word not in said, word
    assert "Most likely it leaks in a tube inside the door frame" in said
    assert "If a new one cost less than" in said
    assert "more years" in said


def test_the_owner_has_words_for_everything_that_can_be_done_or_found():
    assert {o.identifier for o in OFFERERS} <= set(words_owner.TITLES)
    causes = {c for o in OFFERERS for c, _ in getattr(o, "causes", ())}
    assert causes | set(FAULTS) | set(LEAKS) | {"starting", "motor"} <= set(words_owner.CAUSES)
    assert {lever.quantity for lever in LEVERS} <= set(words_owner._IF)
    assert " and " in words_owner.cause(("leak_reachable", "condenser_air"))


def test_the_bench_sheet_has_steps_cautions_holds_joints_and_parts(client):
    said = words(client.get(f"{URL}/bench").text)
    for word in (
        "Make safe", "Hold and record", "do not unbraze", "BAg-7", "brittle phosphides",
        "under vacuum", "New drier", "by inventory of the changed circuit",
        "Nitrogen only", "10 bar gauge", "Crimped ring, no flame",
    ):  # fmt: skip
        assert word in said, word
    # No fluorocarbon here, so no warning of what a flame makes of it
    assert "phosgene" not in said
    assert "Where a step names no source" in said
    assert re.search(r"start with \d\d g; after 30 min of running add 1 to 2 g", said)
    assert "widen one end to 6.05 to 6.21 mm bore (it has about 4.5 mm)" in said.lower()
    assert "as at joint 2" in said
    assert "wet from" in said  # the frame against the dew point, on the sheet it speaks of
    # The charge of the changed circuit stands in grams beside the plate's.
    assert re.search(r"\b[45]\d(\.\d)? g\b", said)


def test_the_bench_sheet_of_another_alternative(client):
    said = words(client.get(f"{URL}/bench?alternative=clean_condenser").text)
    assert "Clean the condenser" in said
    assert "Joints" not in said
    assert client.get(f"{URL}/bench?alternative=nonsense").status_code == 422


def test_a_title_cannot_break_out_of_the_page(frame_report):
    evil = replace(frame_report, title="<script>x</script>")
    html = render("repair/owner.html", defaultdict(set), page=owner_page(evil, URL))
    assert "<script>x" not in html


def test_without_a_repair_use_case_the_page_says_so(tmp_path):
    shelf = FolderShelf(tmp_path, FOLDER / "jobs")
    with TestClient(create_app(Deps(FakeDiagnose(), shelf))) as caller:
        assert caller.get(f"{URL}/repair").status_code == 404
        assert caller.get(URL).status_code == 200


def test_prices_of_a_job_are_entered_in_its_form(client, tmp_path):
    done = client.post(
        f"{URL}/details", data={"worth.new_appliance": "900", "repair.state": "recovered"}
    )
    assert done.status_code == 303
    kept = (tmp_path / "own" / "frame-loop.toml").read_text(encoding="utf-8")
    assert 'new_appliance = "900"' in kept
    bad = client.post(f"{URL}/details", data={"worth.labour_per_hour": "-3"})
    assert bad.status_code == 422
    assert "hours are shown" in words(bad.text)


@pytest.fixture
def address(app):
    server = uvicorn.Server(uvicorn.Config(app, port=0, log_level="error", ws="none"))
    thread = threading.Thread(target=server.run)
    thread.start()
    while not server.started and thread.is_alive():
        time.sleep(0.01)
    yield f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}"
    server.should_exit = True
    thread.join()


@pytest.mark.parametrize(
    ("size", "scheme", "script"),
    [((390, 844), "light", True), ((390, 844), "dark", False), ((1280, 900), "dark", True)],
)
def test_pages_fit_and_reach_everyone(browser, address, size, scheme, script):
    context = browser.new_context(
        viewport={"width": size[0], "height": size[1]},
        color_scheme=scheme,
        java_script_enabled=script,
    )
    page = context.new_page()
    said = []
    page.on("console", lambda m: said.append(m.text) if m.type == "error" else None)
    page.goto(address + URL)
    page.get_by_role("link", name="Work it out", exact=True).click()
    expect(page.locator(".choices-worth > li").first).to_be_visible()
    rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
    for path in ("/repair", "/owner", "/bench"):
        page.goto(address + URL + path)
        if script:
            wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
            assert wide <= 0, path
            found = Axe().run(page, options={"runOnly": {"type": "tag", "values": rules}})
            assert found.violations_count == 0, (
                path,
                [v["id"] for v in found.response["violations"]],
            )
    context.close()
    assert said == []
