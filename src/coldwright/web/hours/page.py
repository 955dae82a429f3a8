"""A job's appliance over hours: hours/hours.html. Computed when asked, a few seconds."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from fastapi import APIRouter
from markupsafe import Markup
from starlette.responses import Response

from coldwright.errors import BadInput, ColdwrightError
from coldwright.faults.registry import FAULTS
from coldwright.readings.job import Job
from coldwright.units import Dimension as D
from coldwright.units import parse
from coldwright.web import render
from coldwright.web.addresses import job_url
from coldwright.web.hours.context import HoursPage
from coldwright.web.pieces import Choice
from coldwright.web.shelf import named
from coldwright.web.site import Site
from coldwright.words.report import Section
from coldwright.words.wording import fault as in_words

if TYPE_CHECKING:
    from coldwright.transient.hours import Hours
    from coldwright.usecases.pulldown import Asked

SOUND = "nothing_wrong"
SHOWN_H = (12.0, 24.0, 48.0)


def router(site: Site) -> APIRouter:
    """GET /jobs/{name}/hours.

    Parameters
    ----------
    site : Site
        What all pages share.

    Returns
    -------
    APIRouter
        The routes.
    """
    routes = APIRouter()

    @routes.get("/jobs/{name}/hours")
    def hours(name: str, fault: str = "", severity: str = "", length: str = "24") -> Response:
        job = named(site.shelf.open(name).job, name)
        found, error = None, ""
        if fault:
            try:
                found = site.hours(job, _asked(fault, severity, length))
            except ColdwrightError as raised:
                error = str(raised)
        shown = _page(job, name, fault or SOUND, severity, length, found, error)
        return render.page(shown, 422 if error else 200)

    return routes


def _asked(fault: str, severity: str, length: str) -> Asked:
    from coldwright.usecases.pulldown import Asked

    if fault not in _choices():
        raise BadInput("form", "fault", fault, "one of " + ", ".join(_choices()))
    if length not in {f"{h:g}" for h in SHOWN_H}:
        raise BadInput("form", "length", length, "12, 24 or 48 hours")
    if fault == SOUND:
        return Asked(hours=float(length))
    kind = FAULTS[fault].severity
    value = math.nan
    if kind is not None:
        dimension = D.POWER if kind.unit == "W" else D.FRACTION
        value = parse(severity, dimension, file="form", key="severity")
    return Asked(hours=float(length), faults=((fault, value),))


def _choices() -> tuple[str, ...]:
    # A fault with ways is no one thing to run over hours; rare ones are not asked for
    return tuple(name for name, one in FAULTS.items() if not (one.ways or one.rare))


def _page(
    job: Job, name: str, fault: str, severity: str, length: str, found: Hours | None, error: str
) -> HoursPage:
    title = job.title or name
    figure = Markup("")
    sections: tuple[Section, ...] = ()
    if found is not None:
        from coldwright.figures.hours import over_time_svg
        from coldwright.logged.over_time import over_time
        from coldwright.words.hours import hours

        # Every word in it was escaped when it was drawn
        sections = hours(found)
        figure = Markup(over_time_svg(over_time(found, f"{title} over {length} hours")))
    return HoursPage(
        job_url(name), title,
        tuple(Choice(one, in_words(one), one == fault) for one in _choices()), severity,
        tuple(Choice(f"{h:g}", f"{h:g} hours", f"{h:g}" == length) for h in SHOWN_H), error,
        sections, figure,
    )  # fmt: skip
