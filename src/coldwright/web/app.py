"""The web app put together."""

from __future__ import annotations

from collections.abc import Sequence

from fastapi import FastAPI, Request
from starlette.exceptions import HTTPException
from starlette.middleware.gzip import GZipMiddleware
from starlette.responses import Response
from starlette.staticfiles import StaticFiles

from coldwright.errors import ColdwrightError
from coldwright.web import render
from coldwright.web.deps import Deps, JobNotFound
from coldwright.web.guard import KnownHosts, LastNet, SameOrigin
from coldwright.web.hours import page as page_hours
from coldwright.web.inside import page as page_inside
from coldwright.web.job import page as page_job
from coldwright.web.jobs import page as page_jobs
from coldwright.web.leak import page as page_leak
from coldwright.web.log import page as page_log
from coldwright.web.odds import page as page_odds
from coldwright.web.outcome import page as page_outcome
from coldwright.web.pieces import ErrorPage
from coldwright.web.pins import page as page_pins
from coldwright.web.readings import page as page_readings
from coldwright.web.repair import page as page_repair
from coldwright.web.signs import page as page_signs
from coldwright.web.site import Site
from coldwright.web.work_queue import Busy

_WORTH_ZIPPING = 1000  # bytes


def create_app(deps: Deps, *, hosts: Sequence[str] = ("*",)) -> FastAPI:
    """The app as an ASGI callable.

    Parameters
    ----------
    deps : Deps
        How to diagnose and where jobs are kept.
    hosts : sequence of str
        Host names it answers to; `guard.ANY_ADDRESS` for bare addresses; '*' for any.

    Returns
    -------
    FastAPI
        The app.
    """
    app = FastAPI(title="Coldwright", docs_url=None, redoc_url=None, openapi_url=None)
    site = Site(deps)
    for part in (
        page_jobs, page_job, page_odds, page_hours, page_inside, page_readings, page_signs,
        page_leak, page_repair, page_outcome, page_log, page_pins,
    ):  # fmt: skip
        app.include_router(part.router(site))
    app.mount("/static", StaticFiles(packages=[("coldwright.web", "static")]))
    app.mount("/lib", StaticFiles(packages=[("js_lib_htmx", "static/htmx")]))
    app.add_middleware(LastNet, folder=deps.reports)
    app.add_middleware(GZipMiddleware, minimum_size=_WORTH_ZIPPING)
    app.add_middleware(SameOrigin)
    app.add_middleware(KnownHosts, names=tuple(hosts))
    app.add_exception_handler(JobNotFound, _not_found)
    app.add_exception_handler(ColdwrightError, _refused)
    app.add_exception_handler(HTTPException, _http)
    return app


def _not_found(_: Request, error: Exception) -> Response:
    return render.page(ErrorPage("No such job", str(error)), 404)


def _refused(_: Request, error: Exception) -> Response:
    if isinstance(error, Busy):
        return render.page(ErrorPage("Busy", str(error)), 503)
    return render.page(ErrorPage("This cannot be used", str(error)), 422)


def _http(_: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 500
    detail = error.detail if isinstance(error, HTTPException) else ""
    title = "No such page" if status == 404 else "This did not work"
    return render.page(ErrorPage(title, detail), status)
