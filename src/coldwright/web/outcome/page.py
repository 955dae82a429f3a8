"""What was found at a job, entered or taken out: outcome/_outcome.html."""

from __future__ import annotations

from collections.abc import Mapping

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from coldwright.errors import BadInput
from coldwright.readings.jobfile import JobFile
from coldwright.web import render
from coldwright.web.addresses import job_url
from coldwright.web.fields import said
from coldwright.web.job.view import Asked
from coldwright.web.outcome.view import OutcomeDraft
from coldwright.web.site import RawForm, Site, by_htmx

_FIELDS = ("found", "found_too", "proven_by", "severity", "date")


def router(site: Site) -> APIRouter:
    """POST /jobs/{name}/outcome and /jobs/{name}/outcome/remove.

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

    @routes.post("/jobs/{name}/outcome")
    def put(request: Request, name: str, raw: RawForm) -> Response:
        before = site.shelf.open(name)
        try:
            after = site.shelf.change(name, lambda file: _put(file, raw))
        except BadInput as error:
            texts = {key: raw.get(key, "").strip() for key in _FIELDS}
            return _shown(site, request, before, name, OutcomeDraft(texts, said(error)))
        return _shown(site, request, after, name)

    @routes.post("/jobs/{name}/outcome/remove")
    def remove(request: Request, name: str) -> Response:
        after = site.shelf.change(name, lambda file: file.remove_outcome())
        return _shown(site, request, after, name)

    return routes


def _put(file: JobFile, raw: Mapping[str, str]) -> None:
    told = {key: raw.get(key, "").strip() for key in _FIELDS}
    if not told["found"]:
        raise BadInput("form", "found", "nothing", "what was found")
    if not told["proven_by"]:
        raise BadInput("form", "proven_by", "nothing", "how it is known")
    found = [told["found"], *([told["found_too"]] if told["found_too"] else [])]
    file.set_outcome(found, told["proven_by"], severity=told["severity"], date=told["date"])


def _shown(
    site: Site, request: Request, file: JobFile, name: str, draft: OutcomeDraft | None = None
) -> Response:
    status = 422 if draft else 200
    if by_htmx(request):
        part = site.outcome(file, draft or OutcomeDraft())
        return render.outcome_block(job_url(name), part, status)
    if draft:
        return render.page(site.page(file, name, asked=Asked(outcome=draft)), status)
    return RedirectResponse(f"{job_url(name)}?odds=now#part-outcome", status_code=303)
