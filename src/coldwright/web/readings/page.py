"""Readings of a job, entered, changed, removed: readings/_readings.html."""

from __future__ import annotations

from dataclasses import replace

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from coldwright.errors import BadInput
from coldwright.readings import keys
from coldwright.readings.jobfile import JobFile
from coldwright.web import render
from coldwright.web.addresses import job_url
from coldwright.web.job.view import Asked
from coldwright.web.readings.view import Draft, draft_for, refused
from coldwright.web.site import RawForm, Site, back_to, by_htmx, since_now, stale_odds

_FIELDS = ("key", "value", "uncertainty", "note")


def router(site: Site) -> APIRouter:
    """The entry form, POST of a reading, POST of its removal.

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

    @routes.get("/jobs/{name}/reading-form")
    def form(request: Request, name: str, reading: str = "", key: str = "") -> Response:
        wanted = reading or key
        if not by_htmx(request):
            url = f"{job_url(name)}?reading={wanted}#add-reading" if wanted in keys.READINGS else ""
            return RedirectResponse(url or job_url(name), status_code=303)
        file = site.shelf.open(name)
        asked = Asked(reading=draft_for(file, wanted))
        return render.reading_form_block(site.page(file, name, asked=asked))

    @routes.post("/jobs/{name}/readings")
    def add(request: Request, name: str, raw: RawForm) -> Response:
        draft = Draft(*(raw.get(part, "").strip() for part in _FIELDS))
        before = site.shelf.open(name)
        if draft.key not in keys.READINGS:
            draft = replace(draft, key_error="Choose what was read.")
            return _again(site, request, before, name, draft)
        try:
            after = site.shelf.change(name, lambda file: _enter(file, draft))
        except BadInput as error:
            return _again(site, request, before, name, refused(draft, error))
        return _done(site, request, before, after, name)

    @routes.post("/jobs/{name}/readings/{key}/remove")
    def remove(request: Request, name: str, key: str) -> Response:
        before = site.shelf.open(name)
        after = site.shelf.change(name, lambda file: file.remove_reading(key))
        return _done(site, request, before, after, name)

    return routes


def _enter(file: JobFile, draft: Draft) -> None:
    file.add_reading(draft.key, draft.value, uncertainty=draft.uncertainty or None, note=draft.note)


def _again(site: Site, request: Request, file: JobFile, name: str, draft: Draft) -> Response:
    """The form as typed with what was wrong, in place or as a page."""
    page = site.page(file, name, asked=Asked(reading=draft))
    return render.readings_block(page, 422) if by_htmx(request) else render.page(page, 422)


def _done(site: Site, request: Request, before: JobFile, after: JobFile, name: str) -> Response:
    if by_htmx(request):
        return stale_odds(render.readings_block(site.page(after, name)))
    return back_to(name, "part-odds", since_now(before, name))
