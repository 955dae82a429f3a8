"""The odds of a job as a block that loads after the page: odds/block_odds.html."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from coldwright.web import render
from coldwright.web.addresses import job_url
from coldwright.web.site import Site, by_htmx


def router(site: Site) -> APIRouter:
    """GET /jobs/{name}/odds.

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

    @routes.get("/jobs/{name}/odds")
    def odds(request: Request, name: str, since: str = "", whole: str = "") -> Response:
        if not by_htmx(request):
            return RedirectResponse(f"{job_url(name)}?odds=now#part-odds", status_code=303)
        early = None if whole else site.first_odds(site.shelf.open(name), name, since=since)
        if early is not None:
            return render.odds_block(job_url(name), early)
        block = site.odds(site.shelf.open(name), name, since=since, wait=True)
        return render.odds_block(job_url(name), block)

    return routes
