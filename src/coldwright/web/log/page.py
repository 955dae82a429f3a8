"""A job's log, sent or taken out: log/_log.html."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Depends, Request
from starlette.datastructures import UploadFile
from starlette.responses import Response

from coldwright.errors import BadInput
from coldwright.web import render
from coldwright.web.fields import said
from coldwright.web.job.view import Asked
from coldwright.web.log_store import LARGEST_BYTES
from coldwright.web.site import Site, back_to, since_now


async def _sent(request: Request) -> bytes:
    """The file of the form; empty where none was chosen."""
    async with request.form(max_files=1, max_fields=10) as form:
        file = form.get("log")
        return await file.read(LARGEST_BYTES + 1) if isinstance(file, UploadFile) else b""


SentFile = Annotated[bytes, Depends(_sent)]


def router(site: Site) -> APIRouter:
    """POST /jobs/{name}/log and /jobs/{name}/log/remove.

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

    @routes.post("/jobs/{name}/log")
    def keep(name: str, data: SentFile) -> Response:
        before = site.shelf.open(name)
        try:
            if not data:
                raise BadInput("form", "log", "nothing", "a CSV file")
            site.shelf.keep_log(name, data)
        except BadInput as error:
            where = f"{error.key}: " if error.key and error.file != "form" else ""
            asked = Asked(log_error=where + said(error))
            return render.page(site.page(before, name, asked=asked), 422)
        return back_to(name, "part-log", since_now(before, name))

    @routes.post("/jobs/{name}/log/remove")
    def remove(name: str) -> Response:
        before = site.shelf.open(name)
        site.shelf.change(name, lambda file: file.remove("taken", "log"))
        return back_to(name, "part-log", since_now(before, name))

    return routes
