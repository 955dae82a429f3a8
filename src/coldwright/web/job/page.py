"""One job, one long page: job/job.html. And the change of its plate and circumstances."""

from __future__ import annotations

from collections.abc import Mapping

from fastapi import APIRouter
from starlette.responses import Response

from coldwright.errors import ColdwrightError
from coldwright.readings.jobfile import JobFile
from coldwright.web import fields, render
from coldwright.web.job.view import Asked
from coldwright.web.readings.view import draft_for
from coldwright.web.signs.view import SignDraft
from coldwright.web.site import RawForm, Site, back_to, since_now


class _NotKept(ColdwrightError):
    """Some fields were refused, so none is kept."""

    def __init__(self, errors: Mapping[str, str]) -> None:
        self.errors = errors
        super().__init__("some fields cannot be used")


def router(site: Site) -> APIRouter:
    """GET /jobs/{name} and POST /jobs/{name}/details.

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

    @routes.get("/jobs/{name}")
    def job(
        name: str,
        reading: str = "",
        sign: str = "",
        odds: str = "",
        since: str = "",
        leak: str = "",
    ) -> Response:
        file = site.shelf.open(name)
        asked = Asked(reading=draft_for(file, reading), sign=SignDraft(sign))
        page = site.page(
            file, name, asked=asked, since=since, wait=odds == "now", search=leak == "now"
        )
        return render.page(page)

    @routes.post("/jobs/{name}/details")
    def details(name: str, raw: RawForm) -> Response:
        def put(file: JobFile) -> None:
            if errors := fields.stale(file, raw) or fields.put(file, raw):
                raise _NotKept(errors)

        before = site.shelf.open(name)
        try:
            site.shelf.change(name, put)
        except _NotKept as refused:
            asked = Asked(details=fields.typed(raw), details_errors=refused.errors)
            return render.page(site.page(site.shelf.open(name), name, asked=asked), 422)
        return back_to(name, "part-appliance", since_now(before, name))

    return routes
