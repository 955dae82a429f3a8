"""Templates and contexts pinned together: no field missing, no field unread."""

from __future__ import annotations

import dataclasses
import importlib
import re
from collections import defaultdict
from importlib.resources import files
from pathlib import Path
from typing import Any

import jinja2.meta
import jinja2.nodes
import pytest
from markupsafe import Markup

from coldwright.errors import BadInput
from coldwright.readings.jobfile import JobFile
from coldwright.web import pieces
from coldwright.web.drawing import records
from coldwright.web.hours.context import HoursPage
from coldwright.web.inside.context import Beside, InsidePage
from coldwright.web.job.context import JobPage
from coldwright.web.job.view import Asked
from coldwright.web.jobs import page as page_jobs
from coldwright.web.leak.context import LeakPart, PendingLeak
from coldwright.web.log.context import LogPart
from coldwright.web.odds.context import OddsPage, PendingOdds
from coldwright.web.outcome.context import OutcomePart, ShareRow
from coldwright.web.pieces import Choice, ErrorPage, Field
from coldwright.web.pins.context import Naming, OhmField, PinsPage
from coldwright.web.readings.view import Draft, refused
from coldwright.web.render import ENVIRONMENT
from coldwright.web.signs.view import SignDraft
from coldwright.web.site import Site
from coldwright.words import report
from coldwright.words.report import Fact
from tests.web.conftest import HALL, Shop

HOME = Path(str(files("coldwright.web")))
MODULES = tuple(
    importlib.import_module(f"coldwright.web.{path.parent.name}.context")
    for path in sorted(HOME.glob("*/context.py"))
)
RECORDS = {
    name: record
    for module in (*MODULES, records, pieces, report)
    for name, record in vars(module).items()
    if dataclasses.is_dataclass(record)
}

Read = dict[str, set[str]]


class Watched:
    """A context that notes which of its fields a template reads."""

    def __init__(self, record: Any, read: Read) -> None:
        self._record, self._read = record, read

    def __getattr__(self, name: str) -> Any:
        value = getattr(self._record, name)
        self._read[type(self._record).__name__].add(name)
        return watched(value, self._read)


def watched(value: Any, read: Read) -> Any:
    """The value with every record inside it watched."""
    if dataclasses.is_dataclass(value):
        return Watched(value, read)
    if isinstance(value, tuple):
        return tuple(watched(item, read) for item in value)
    return value


def render(template: str, read: Read, **given: Any) -> str:
    """A template rendered over watched contexts."""
    context = {name: watched(value, read) for name, value in given.items()}
    return ENVIRONMENT.get_template(template).render(**context)


@pytest.fixture
def pages(shop: Shop) -> dict[str, Any]:
    """One context of each kind with every optional thing in it."""
    from coldwright.web.deps import Deps

    (shop.demo / "odd.toml").write_text('[plate]\nkind = "wardrobe"\n')
    shop.shelf.create("own", '[plate]\nkind = "compact"\n')
    site = Site(Deps(shop.diagnose, shop.shelf))
    earlier = site.odds(JobFile(HALL, "hall"), "hall", wait=True)
    assert isinstance(earlier, OddsPage)
    file = JobFile(HALL, "hall")
    file.add_reading("freezer_temperature", "45 °C", note="odd")
    file.add_reading("suction_pressure", "2 psi")
    file.add_sign("compressor_silent", True)
    file.add_sign("oil_trace", True, "drier_joint")
    file.add_tried("drier_joint", "bubble_test", 3.0, False)
    draft = refused(Draft("suction_pressure", "x"), BadInput("form", "value", "x", "y"))
    asked = Asked(draft, SignDraft("rust", "said"), {"plate.charge": "x"}, {"plate.charge": "no"})
    page = site.page(file, "hall", asked=asked, since=earlier.since, wait=True, search=True)
    assert isinstance(page.leak, LeakPart)
    assert isinstance(page.odds, OddsPage)
    assert page.odds.moves
    jobs = page_jobs._page(site, {}, {"plate.kind": "no"})
    return {"job": page, "jobs": jobs, "pending": PendingOdds("0", "/now", "why")}


def test_every_field_of_every_context_is_read_by_a_template(pages: dict[str, Any]) -> None:
    read: Read = defaultdict(set)
    render("job/job.html", read, page=pages["job"])
    render("jobs/jobs.html", read, page=pages["jobs"])
    render("odds/_odds_pending.html", read, odds=pages["pending"])
    render(
        "leak/_leak_pending.html", read, leak=PendingLeak("not possible", "/now", "/block", "why")
    )
    render("templates/error.html", read, page=ErrorPage("title", "message"))
    one = (Choice("a", "b", True),)
    hours = HoursPage(
        "/", "t", one, "60 %", one, "no", report.section("a", report.Text("b")), Markup("<svg/>")
    )
    render("hours/hours.html", read, page=hours)
    beside = (Beside("a", "b", "c"),)
    render(
        "inside/inside.html", read, page=InsidePage("/", "t", "a.", beside, (Markup("<svg/>"),), "")
    )
    parts: tuple[report.Part, ...] = (
        report.Caution("", ("a", "b")), report.Facts((Fact("a", "b"),)), report.Text("a", "strong"),
        report.Points(("a",), "quiet"), report.Heading("a", "b"), report.Barred(("a",)),
        report.Chances((report.Chance("a", "b", 1.0),)),
        report.Way("a", "b", ("c",), ("d",), (Fact("a", "b"),), report.Bar(1.0, 2.0, 1.5), True,
                      "key"),
        report.Step(1, "a", "b", (report.Caution("c", ("d",)),), ("d",), "e", "f", "g", True),
        report.Blanks(("a",)), report.Table(("a",), (("b",),)),
    )  # fmt: skip
    told = (*report.section("a", *parts), *report.section("b", *parts, folded=True))
    page = pieces.ReportPage("a", "b", "c", "/", told, "more", "/more")
    render("templates/report.html", read, page=page)
    log = LogPart("2 readings from hall.log.csv", "hall.log.csv", ("line",), "error")
    render("log/_log.html", read, part=log, url="/jobs/hall")
    outcome = OutcomePart(
        "found", (Fact("a", "b"),), (Field("found", "a", "b", "c", "d", one),), "no", "learned",
        (ShareRow("a", "b", "c"),),
    )  # fmt: skip
    render("outcome/_outcome.html", read, part=outcome, url="/jobs/hall")
    naming = Naming("a", (Fact("a", "b"),), (("winding_resistance_run", "12 ohm"),))
    pins = PinsPage(
        "/jobs/hall", "t", (report.Caution("a", ("b",)),), (OhmField("a", "b", "c", "d"),), "no",
        (naming,), (Fact("a", "b"),), ("note",),
    )  # fmt: skip
    render("pins/pins.html", read, page=pins)
    for name, record in RECORDS.items():
        fields = {field.name for field in dataclasses.fields(record)}
        assert fields - read[name] == set(), name
        properties = {k for k, v in vars(record).items() if isinstance(v, property) or k == "kind"}
        assert read[name] - fields - properties == set(), name


def test_refused_diagnosis_and_bare_job_render_too(pages: dict[str, Any], shop: Shop) -> None:
    from coldwright.web.deps import Deps

    site = Site(Deps(shop.diagnose, shop.shelf))
    text = '[plate]\nkind = "compact"\n[circuit]\ncompressor_drive = "variable_speed"\n'
    page = site.page(JobFile(text, "own"), "own", wait=True)
    html = render("job/job.html", defaultdict(set), page=page)
    assert "No sealed-circuit odds here." in html
    assert "None yet. Begin with what costs least" in html
    waiting = dataclasses.replace(pages["job"], odds=pages["pending"])
    assert "not possible" in render("job/job.html", defaultdict(set), page=waiting)


def test_missing_field_fails_loudly() -> None:
    with pytest.raises(jinja2.UndefinedError):
        ENVIRONMENT.get_template("templates/error.html").render()


TEMPLATES = sorted(HOME.rglob("*.html"))


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.name)
def test_template_names_its_context_and_uses_nothing_else(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    tree = ENVIRONMENT.parse(text)
    own = {node.target for node in tree.find_all(jinja2.nodes.Import)}
    own |= {node.name for node in tree.find_all(jinja2.nodes.Macro)}
    used = jinja2.meta.find_undeclared_variables(tree) - own
    if path.name in ("base.html", "_forms.html", "_report.html"):
        assert used == set()
        return
    head = re.match(r"\{# context: (.*?) #\}", text)
    assert head is not None
    named = set(re.findall(r"`(\w+)`", head[1]))
    assert used <= named
    found = re.findall(r"([a-z_.]+)\.([A-Z]\w+)", head[1])
    assert found
    for module, record in found:
        room = "coldwright" if module.startswith("words.") else "coldwright.web"
        assert hasattr(importlib.import_module(f"{room}.{module}"), record)


def test_page_docstrings_name_a_template_that_exists() -> None:
    named = [
        name
        for record in RECORDS.values()
        for name in re.findall(r"\w+/\w+\.html", record.__doc__ or "")
    ]
    assert "job/job.html" in named
    for name in named:
        assert (HOME / name).is_file(), name


def test_contexts_are_frozen() -> None:
    for record in RECORDS.values():
        assert record.__dataclass_params__.frozen  # type: ignore[attr-defined]
    assert JobPage.__name__ in RECORDS
