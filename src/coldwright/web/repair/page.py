"""Mend or replace: a block of the job's page, a page for the owner, a sheet for the bench.

What reads a report is imported when one is asked for: it brings the compiled kernels with it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fastapi import APIRouter, Request
from starlette.exceptions import HTTPException
from starlette.responses import Response

from coldwright.case.identity import digest
from coldwright.web import render
from coldwright.web.addresses import job_url
from coldwright.web.pieces import ReportPage
from coldwright.web.shelf import named
from coldwright.web.site import Site, by_htmx

if TYPE_CHECKING:
    from coldwright.worth.report import RepairReport


def router(site: Site) -> APIRouter:
    """GET /jobs/{name}/repair, /owner and /bench.

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

    def report(name: str, alternative: str | None = None) -> RepairReport:
        if site.repair is None:
            raise HTTPException(404, "This page has no repair comparison behind it.")
        job = named(site.shelf.open(name).job, name)
        diagnosis = site.store.known(digest(job)) or site.queue.run(
            name, digest(job), lambda: site.store.work_out(job)
        )
        worked_out = site.repair
        return site.queue.run(
            f"repair of {name}", digest(job),
            lambda: worked_out(job, diagnosis, alternative or None),
        )  # fmt: skip

    @routes.get("/jobs/{name}/repair")
    def repair(request: Request, name: str) -> Response:
        from coldwright.words.comparison import comparison

        found, url = report(name), job_url(name)
        if by_htmx(request):
            return render.repair_block(url, comparison(found))
        return render.page(ReportPage(
            f"Mend or replace: {found.title}", found.title, "Mend or replace", url,
            comparison(found), "Page for the owner", f"{url}/owner",
        ))  # fmt: skip

    @routes.get("/jobs/{name}/owner")
    def owner(name: str) -> Response:
        from coldwright.words import owner as words

        found = report(name)
        shop = f". {found.shop.name}" if found.shop.name else ""
        return render.page(ReportPage(
            f"For the owner: {found.title}", found.title, f"Mend or replace: for the owner{shop}",
            job_url(name), words.owner(found),
        ))  # fmt: skip

    @routes.get("/jobs/{name}/bench")
    def bench(name: str, alternative: str = "") -> Response:
        from coldwright.words.sheet import sheet

        found = report(name, alternative)
        a = found.sheet.alternative
        return render.page(ReportPage(
            f"Bench: {found.title}", a.title, found.title, job_url(name), sheet(found)
        ))  # fmt: skip

    return routes
