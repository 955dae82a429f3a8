"""Contexts into HTML."""

from __future__ import annotations

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.responses import HTMLResponse

from coldwright.web.hours.context import HoursPage
from coldwright.web.inside.context import InsidePage
from coldwright.web.job.context import JobPage
from coldwright.web.jobs.context import JobsPage
from coldwright.web.leak.context import LeakPart, PendingLeak
from coldwright.web.odds.context import OddsPage, PendingOdds
from coldwright.web.outcome.context import OutcomePart
from coldwright.web.pieces import ErrorPage
from coldwright.web.pins.context import PinsPage
from coldwright.web.repair.context import BenchPage, OwnerPage, RepairPage, RepairPart

ENVIRONMENT = Environment(
    loader=PackageLoader("coldwright", "web"),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
_PAGES = {
    JobsPage: "jobs/jobs.html",
    JobPage: "job/job.html",
    ErrorPage: "templates/error.html",
    HoursPage: "hours/hours.html",
    InsidePage: "inside/inside.html",
}
_REPAIR = {
    RepairPage: "repair/repair.html",
    OwnerPage: "repair/owner.html",
    BenchPage: "repair/bench.html",
}
_ODDS = {OddsPage: "odds/_odds.html", PendingOdds: "odds/_odds_pending.html"}


def page(
    context: JobsPage | JobPage | HoursPage | InsidePage | ErrorPage, status: int = 200
) -> HTMLResponse:
    """A whole page."""
    return _html(_PAGES[type(context)], status, page=context)


def pins_page(shown: PinsPage, status: int = 200) -> HTMLResponse:
    """Three pins to be named."""
    return _html("pins/pins.html", status, page=shown)


def odds_block(job_url: str, odds: OddsPage | PendingOdds, status: int = 200) -> HTMLResponse:
    """The odds alone, for htmx; asks the status line to read out what moved."""
    return _html("odds/block_odds.html", status, url=job_url, odds=odds)


def inside_block(shown: InsidePage) -> HTMLResponse:
    """The circuit inside alone, for htmx; what went wrong is told in its place."""
    return _html("inside/_inside.html", 200, page=shown)


def leak_block(job_url: str, leak: LeakPart | PendingLeak, status: int = 200) -> HTMLResponse:
    """The leak search alone, for htmx."""
    template = "leak/_leak.html" if leak.settled else "leak/_leak_pending.html"
    return _html(template, status, url=job_url, leak=leak)


def outcome_block(job_url: str, part: OutcomePart, status: int = 200) -> HTMLResponse:
    """What was found alone, for htmx."""
    return _html("outcome/_outcome.html", status, url=job_url, part=part)


def readings_block(page: JobPage, status: int = 200) -> HTMLResponse:
    """The readings and the drawing, for htmx."""
    return _html("readings/block_readings.html", status, page=page)


def reading_form_block(page: JobPage) -> HTMLResponse:
    """The reading form alone, for htmx."""
    return _html("readings/_reading_form.html", 200, url=page.url, form=page.readings.form)


def signs_block(page: JobPage, status: int = 200) -> HTMLResponse:
    """The signs alone, for htmx."""
    return _html("signs/_signs.html", status, url=page.url, signs=page.signs)


def repair(page: RepairPage | OwnerPage | BenchPage) -> HTMLResponse:
    """A whole page of mending."""
    return _html(_REPAIR[type(page)], 200, page=page)


def repair_block(part: RepairPart) -> HTMLResponse:
    """The alternatives alone, for htmx."""
    return _html("repair/_repair.html", 200, part=part)


def _html(template: str, status: int, **context: object) -> HTMLResponse:
    return HTMLResponse(ENVIRONMENT.get_template(template).render(**context), status)
