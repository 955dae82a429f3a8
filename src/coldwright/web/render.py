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
from coldwright.web.pieces import ErrorPage, ReportPage
from coldwright.web.pins.context import PinsPage
from coldwright.words.report import Section

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
    ReportPage: "templates/report.html",
    HoursPage: "hours/hours.html",
    InsidePage: "inside/inside.html",
}
_ODDS = {OddsPage: "odds/_odds.html", PendingOdds: "odds/_odds_pending.html"}


def page(
    context: JobsPage | JobPage | HoursPage | InsidePage | ErrorPage | ReportPage, status: int = 200
) -> HTMLResponse:
    """A whole page.

    Parameters
    ----------
    context : JobsPage or JobPage or HoursPage or InsidePage or ErrorPage or ReportPage
        The page's record.
    status : int
        HTTP status. [-]

    Returns
    -------
    HTMLResponse
        HTML.
    """
    return _html(_PAGES[type(context)], status, page=context)


def pins_page(shown: PinsPage, status: int = 200) -> HTMLResponse:
    """Three pins to be named.

    Parameters
    ----------
    shown : PinsPage
        The page's record.
    status : int
        HTTP status. [-]

    Returns
    -------
    HTMLResponse
        HTML.
    """
    return _html("pins/pins.html", status, page=shown)


def odds_block(job_url: str, odds: OddsPage | PendingOdds, status: int = 200) -> HTMLResponse:
    """The odds alone, for htmx; asks the status line to read out what moved.

    Parameters
    ----------
    job_url : str
        Address of the job's page.
    odds : OddsPage or PendingOdds
        The part's record.
    status : int
        HTTP status. [-]

    Returns
    -------
    HTMLResponse
        HTML of the block.
    """
    return _html("odds/block_odds.html", status, url=job_url, odds=odds)


def inside_block(shown: InsidePage) -> HTMLResponse:
    """The circuit inside alone, for htmx; what went wrong is told in its place.

    Parameters
    ----------
    shown : InsidePage
        The page's record.

    Returns
    -------
    HTMLResponse
        HTML of the block.
    """
    return _html("inside/_inside.html", 200, page=shown)


def leak_block(job_url: str, leak: LeakPart | PendingLeak, status: int = 200) -> HTMLResponse:
    """The leak search alone, for htmx.

    Parameters
    ----------
    job_url : str
        Address of the job's page.
    leak : LeakPart or PendingLeak
        The part's record.
    status : int
        HTTP status. [-]

    Returns
    -------
    HTMLResponse
        HTML of the block.
    """
    template = "leak/_leak.html" if leak.settled else "leak/_leak_pending.html"
    return _html(template, status, url=job_url, leak=leak)


def outcome_block(job_url: str, part: OutcomePart, status: int = 200) -> HTMLResponse:
    """What was found alone, for htmx.

    Parameters
    ----------
    job_url : str
        Address of the job's page.
    part : OutcomePart
        The part's record.
    status : int
        HTTP status. [-]

    Returns
    -------
    HTMLResponse
        HTML of the block.
    """
    return _html("outcome/_outcome.html", status, url=job_url, part=part)


def readings_block(page: JobPage, status: int = 200) -> HTMLResponse:
    """The readings and the drawing, for htmx.

    Parameters
    ----------
    page : JobPage
        The page's record.
    status : int
        HTTP status. [-]

    Returns
    -------
    HTMLResponse
        HTML of the block.
    """
    return _html("readings/block_readings.html", status, page=page)


def reading_form_block(page: JobPage) -> HTMLResponse:
    """The reading form alone, for htmx.

    Parameters
    ----------
    page : JobPage
        The page's record.

    Returns
    -------
    HTMLResponse
        HTML of the block.
    """
    return _html("readings/_reading_form.html", 200, url=page.url, form=page.readings.form)


def signs_block(page: JobPage, status: int = 200) -> HTMLResponse:
    """The signs alone, for htmx.

    Parameters
    ----------
    page : JobPage
        The page's record.
    status : int
        HTTP status. [-]

    Returns
    -------
    HTMLResponse
        HTML of the block.
    """
    return _html("signs/_signs.html", status, url=page.url, signs=page.signs)


def repair_block(job_url: str, sections: tuple[Section, ...]) -> HTMLResponse:
    """The alternatives alone, for htmx.

    Parameters
    ----------
    job_url : str
        Address of the job's page.
    sections : tuple of Section
        Of the comparison.

    Returns
    -------
    HTMLResponse
        HTML of the block.
    """
    return _html("repair/_repair.html", 200, url=job_url, sections=sections)


def _html(template: str, status: int, **context: object) -> HTMLResponse:
    return HTMLResponse(ENVIRONMENT.get_template(template).render(**context), status)
