"""Mend or replace: a block of the job's page, a page for the owner, a sheet for the bench.

What reads a report is imported when one is asked for: it brings the compiled kernels with it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from fastapi import APIRouter, Request
from starlette.exceptions import HTTPException
from starlette.responses import Response

from coldwright.case.case import digest
from coldwright.web import render
from coldwright.web.addresses import job_url
from coldwright.web.shelf import named
from coldwright.web.site import Site, by_htmx

if TYPE_CHECKING:
    from coldwright.worth.report import RepairReport


def router(site: Site) -> APIRouter:
    """GET /jobs/{name}/repair, /owner and /bench."""
    routes = APIRouter()

    def report(name: str, alternative: str | None = None) -> RepairReport:
        if site.repair is None:
            raise HTTPException(404, "This page has no repair comparison behind it.")
        job = named(site.shelf.open(name).job, name)
        diagnosis = site.store.known(digest(job)) or site.store.work_out(job)
        return site.repair(job, diagnosis, alternative or None)

    @routes.get("/jobs/{name}/repair")
    def repair(request: Request, name: str) -> Response:
        from coldwright.web.repair.view import repair_page, repair_part

        found = report(name)
        if by_htmx(request):
            return render.repair_block(repair_part(found, job_url(name)))
        return render.repair(repair_page(found, job_url(name), "Mend or replace"))

    @routes.get("/jobs/{name}/owner")
    def owner(name: str) -> Response:
        from coldwright.web.repair.view import owner_page

        return render.repair(owner_page(report(name), job_url(name)))

    @routes.get("/jobs/{name}/bench")
    def bench(name: str, alternative: str = "") -> Response:
        from coldwright.web.repair.bench import bench_page

        return render.repair(bench_page(report(name, alternative), job_url(name)))

    return routes
