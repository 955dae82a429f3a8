"""The leak search of a job, a step kept or taken out: leak/_leak.html."""

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
from coldwright.web.leak.view import LeakDraft
from coldwright.web.site import RawForm, Site, by_htmx

_ANSWERS = {"yes": True, "no": False}


def router(site: Site) -> APIRouter:
    """GET /jobs/{name}/leak; POST /jobs/{name}/tried and /jobs/{name}/tried/{step}/remove.

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

    @routes.get("/jobs/{name}/leak")
    def leak(request: Request, name: str) -> Response:
        if not by_htmx(request):
            return _back(name)
        return render.leak_block(job_url(name), site.leak(site.shelf.open(name), name, wait=True))

    @routes.post("/jobs/{name}/tried")
    def add(request: Request, name: str, raw: RawForm) -> Response:
        before = site.shelf.open(name)
        try:
            after = site.shelf.change(name, lambda file: _add(file, raw))
        except BadInput as error:
            draft = LeakDraft(raw, said(error))
            if by_htmx(request):
                return render.leak_block(job_url(name), site.leak(before, name, draft=draft), 422)
            return render.page(site.page(before, name, asked=Asked(leak=draft)), 422)
        return _shown(site, request, after, name)

    @routes.post("/jobs/{name}/tried/{step}/remove")
    def remove(request: Request, name: str, step: str) -> Response:
        after = site.shelf.change(name, lambda file: file.remove_step(step))
        return _shown(site, request, after, name)

    return routes


def _add(file: JobFile, raw: Mapping[str, str]) -> None:
    text = raw.get("minutes", "").strip().replace(",", ".")
    try:
        minutes = float(text)
    except ValueError:
        raise BadInput("form", "minutes", f"'{text}'", "minutes such as 3") from None
    if raw.get("found", "") not in _ANSWERS:
        raise BadInput("form", "found", f"'{raw.get('found', '')}'", "yes or no")
    file.add_tried(raw.get("place", ""), raw.get("method", ""), minutes, _ANSWERS[raw["found"]])


def _shown(site: Site, request: Request, file: JobFile, name: str) -> Response:
    if by_htmx(request):
        return render.leak_block(job_url(name), site.leak(file, name, wait=True))
    return _back(name)


def _back(name: str) -> Response:
    return RedirectResponse(f"{job_url(name)}?odds=now&leak=now#part-leak", status_code=303)
