"""Contexts into HTML."""

from __future__ import annotations

from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.responses import HTMLResponse

from coldwright.web.contexts import (
    ErrorPage,
    HoursPage,
    JobPage,
    JobsPage,
    LeakPart,
    OddsPage,
    PendingLeak,
    PendingOdds,
)
from coldwright.web.contexts_inside import InsidePage
from coldwright.web.contexts_outcome import OutcomePart
from coldwright.web.contexts_pins import PinsPage
from coldwright.web.contexts_repair import BenchPage, OwnerPage, RepairPage, RepairPart

ENVIRONMENT = Environment(
    loader=PackageLoader("coldwright.web"),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
_PAGES = {
    JobsPage: "jobs.html",
    JobPage: "job.html",
    ErrorPage: "error.html",
    HoursPage: "hours.html",
    InsidePage: "inside.html",
}
_REPAIR = {RepairPage: "repair.html", OwnerPage: "owner.html", BenchPage: "bench.html"}
_ODDS = {OddsPage: "_odds.html", PendingOdds: "_odds_pending.html"}


def page(
    context: JobsPage | JobPage | HoursPage | InsidePage | ErrorPage, status: int = 200
) -> HTMLResponse:
    """A whole page."""
    return _html(_PAGES[type(context)], status, page=context)


def pins_page(shown: PinsPage, status: int = 200) -> HTMLResponse:
    """Three pins to be named."""
    return _html("pins.html", status, page=shown)


def odds_block(job_url: str, odds: OddsPage | PendingOdds, status: int = 200) -> HTMLResponse:
    """The odds alone, for htmx; asks the status line to read out what moved."""
    return _html("block_odds.html", status, url=job_url, odds=odds)


def inside_block(shown: InsidePage) -> HTMLResponse:
    """The circuit inside alone, for htmx; what went wrong is told in its place."""
    return _html("_inside.html", 200, page=shown)


def leak_block(job_url: str, leak: LeakPart | PendingLeak, status: int = 200) -> HTMLResponse:
    """The leak search alone, for htmx."""
    template = "_leak.html" if leak.settled else "_leak_pending.html"
    return _html(template, status, url=job_url, leak=leak)


def outcome_block(job_url: str, part: OutcomePart, status: int = 200) -> HTMLResponse:
    """What was found alone, for htmx."""
    return _html("_outcome.html", status, url=job_url, part=part)


def readings_block(page: JobPage, status: int = 200) -> HTMLResponse:
    """The readings and the drawing, for htmx."""
    return _html("block_readings.html", status, page=page)


def reading_form_block(page: JobPage) -> HTMLResponse:
    """The reading form alone, for htmx."""
    return _html("_reading_form.html", 200, url=page.url, form=page.readings.form)


def signs_block(page: JobPage, status: int = 200) -> HTMLResponse:
    """The signs alone, for htmx."""
    return _html("_signs.html", status, url=page.url, signs=page.signs)


def repair(page: RepairPage | OwnerPage | BenchPage) -> HTMLResponse:
    """A whole page of mending."""
    return _html(_REPAIR[type(page)], 200, page=page)


def repair_block(part: RepairPart) -> HTMLResponse:
    """The alternatives alone, for htmx."""
    return _html("_repair.html", 200, part=part)


def _html(template: str, status: int, **context: object) -> HTMLResponse:
    return HTMLResponse(ENVIRONMENT.get_template(template).render(**context), status)
