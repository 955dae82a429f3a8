"""What every page handler works with: the shelf, the odds kept so far, the form as typed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated

from fastapi import Depends, Request
from starlette.responses import RedirectResponse, Response

from coldwright.errors import ColdwrightError
from coldwright.readings.jobfile import JobFile
from coldwright.web.contexts import JobPage, OddsPage, PendingOdds
from coldwright.web.deps import Deps, JobShelf
from coldwright.web.odds_store import OddsStore, digest
from coldwright.web.shelf import named
from coldwright.web.view_job import Asked, job_page, job_url
from coldwright.web.view_odds import odds_page

_MOST_FIELDS = 200


class Site:
    """One running web app."""

    def __init__(self, deps: Deps) -> None:
        self.shelf: JobShelf = deps.jobs
        self.store = OddsStore(deps.diagnose)
        self.hours = deps.hours

    def page(
        self,
        file: JobFile,
        name: str,
        *,
        asked: Asked | None = None,
        since: str = "",
        wait: bool = False,
    ) -> JobPage:
        """A job's page; with `wait` its odds are worked out first, else only shown if known."""
        return job_page(
            file,
            name,
            invented=self.shelf.is_invented(name),
            asked=asked or Asked(),
            odds=self.odds(file, name, since=since, wait=wait),
        )

    def odds(
        self, file: JobFile, name: str, *, since: str = "", wait: bool = False
    ) -> OddsPage | PendingOdds:
        """The odds of a job, beside those of the content whose digest is `since`."""
        job = named(file.job, name)
        key = digest(job)
        url = job_url(name)
        error = ""
        now = self.store.known(key)
        if now is None and wait:
            try:
                now = self.store.work_out(job)
            except ColdwrightError as raised:
                error = str(raised)
        if now is None:
            return PendingOdds(since, f"{url}?odds=now#part-odds", error)
        before = self.store.known(since) if since != key else None
        refrigerant = job.plate.refrigerant
        return odds_page(now, before, job_url=url, since=key, refrigerant=refrigerant)


def since_now(file: JobFile, name: str) -> str:
    """Digest of a job before it is changed, to compare with afterwards."""
    return digest(named(file.job, name))


async def _raw_form(request: Request) -> dict[str, str]:
    form = await request.form(max_files=0, max_fields=_MOST_FIELDS)
    return {key: value for key, value in form.items() if isinstance(value, str)}


RawForm = Annotated[Mapping[str, str], Depends(_raw_form)]


def by_htmx(request: Request) -> bool:
    """True if a block is wanted, not a page."""
    return request.headers.get("HX-Request") == "true"


def stale_odds(block: Response) -> Response:
    """The block, telling the page to ask for its odds anew."""
    block.headers["HX-Trigger"] = "odds-stale"
    return block


def back_to(name: str, part: str, since: str) -> RedirectResponse:
    """After a change without script: the page with its odds worked out."""
    return RedirectResponse(f"{job_url(name)}?odds=now&since={since}#{part}", status_code=303)
