"""Signs of a job, seen, not there, cleared: signs/_signs.html."""

from __future__ import annotations

from collections.abc import Mapping

from fastapi import APIRouter, Request
from starlette.responses import Response

from coldwright.errors import BadInput
from coldwright.readings import keys
from coldwright.readings.jobfile import JobFile
from coldwright.web import render
from coldwright.web.fields import said
from coldwright.web.job.view import Asked
from coldwright.web.signs.view import SignDraft
from coldwright.web.site import RawForm, Site, back_to, by_htmx, since_now, stale_odds

_SEEN = {"yes": True, "no": False}


def router(site: Site) -> APIRouter:
    """POST of a sign: seen is yes, no or empty (not checked).

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

    @routes.post("/jobs/{name}/signs/{key}")
    def put(request: Request, name: str, key: str, raw: RawForm) -> Response:
        before = site.shelf.open(name)
        try:
            after = site.shelf.change(name, lambda file: _put(file, key, raw))
        except BadInput as error:
            page = site.page(before, name, asked=Asked(sign=SignDraft(key, said(error))))
            return render.signs_block(page, 422) if by_htmx(request) else render.page(page, 422)
        if by_htmx(request):
            asked = Asked(sign=SignDraft(key))
            return stale_odds(render.signs_block(site.page(after, name, asked=asked)))
        return back_to(name, "part-odds", since_now(before, name))

    return routes


def _put(file: JobFile, key: str, raw: Mapping[str, str]) -> None:
    seen = raw.get("seen", "")
    if seen in _SEEN:
        place = raw.get("place") or None
        file.add_sign(key, _SEEN[seen], place if _SEEN[seen] else None)
    elif seen == "" and key in keys.SIGNS:
        file.remove_sign(key)
    else:
        raise BadInput("form", f"signs.{key}", seen, "yes, no or nothing")
