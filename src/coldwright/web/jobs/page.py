"""The list of jobs and the start of a new one: jobs/jobs.html."""

from __future__ import annotations

from collections.abc import Mapping

from fastapi import APIRouter
from starlette.responses import RedirectResponse, Response

from coldwright.errors import BadInput
from coldwright.readings.jobfile import JobFile
from coldwright.web import fields, render
from coldwright.web.addresses import job_url
from coldwright.web.job.view import job_row
from coldwright.web.jobs.context import JobsPage
from coldwright.web.pieces import Field
from coldwright.web.site import RawForm, Site
from coldwright.words.wording import capital, plain

_TITLE_HINT = "A name you will know it by, such as 'Hall refrigerator, 3rd floor'."


def router(site: Site) -> APIRouter:
    """GET / and POST /jobs.

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

    @routes.get("/")
    def jobs() -> Response:
        return render.page(_page(site, {}, {}))

    @routes.post("/jobs")
    def start(raw: RawForm) -> Response:
        title = raw.get("title", "").strip()
        try:
            file = _draft(raw, title)
        except BadInput as error:
            return render.page(_page(site, fields.typed(raw), {error.key: fields.said(error)}), 422)
        errors = fields.put(file, raw)
        if errors:
            return render.page(_page(site, fields.typed(raw), errors), 422)
        name = site.shelf.create(title or file.job.plate.kind, file.text)
        return RedirectResponse(job_url(name), status_code=303)

    return routes


def _draft(raw: Mapping[str, str], title: str) -> JobFile:
    """The smallest job file for the form: its title and kind."""
    kind = raw.get(fields.KIND.name, "")
    if kind not in fields.KIND.words:
        accepted = "one of " + ", ".join(plain(word) for word in fields.KIND.words)
        raise BadInput("form", fields.KIND.name, kind or "nothing", accepted)
    shown = title or capital(plain(kind))
    quoted = "".join(c for c in shown if c.isprintable()).replace("\\", "\\\\").replace('"', '\\"')
    return JobFile(f'title = "{quoted}"\n\n[plate]\nkind = "{kind}"\n', "form")


def _page(site: Site, values: Mapping[str, str], errors: Mapping[str, str]) -> JobsPage:
    rows = site.shelf.rows()
    return JobsPage(
        own=tuple(job_row(row) for row in rows if not row.invented),
        invented=tuple(job_row(row) for row in rows if row.invented),
        kind=fields.field(fields.KIND, values, errors),
        refrigerant=fields.field(fields.REFRIGERANT, values, errors),
        title=Field("title", "Name of the job", values.get("title", ""), _TITLE_HINT, "", ()),
        more=fields.groups(values, errors, with_main=False),
        error=fields.first_errors(errors),
    )
