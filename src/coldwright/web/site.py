"""What every page handler works with: the shelf, the odds kept so far, the form as typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated
from urllib.parse import quote

from fastapi import Depends, Request
from starlette.responses import RedirectResponse, Response

from coldwright.case.identity import digest
from coldwright.errors import ColdwrightError
from coldwright.readings.job import Job
from coldwright.readings.jobfile import JobFile
from coldwright.web.addresses import job_url
from coldwright.web.deps import Deps, JobShelf
from coldwright.web.job.context import JobPage
from coldwright.web.job.view import Asked, job_page
from coldwright.web.leak.context import LeakPart, PendingLeak
from coldwright.web.leak.view import LeakDraft, leak_part
from coldwright.web.leak_store import LeakStore
from coldwright.web.odds.context import OddsPage, PendingOdds
from coldwright.web.odds.view import odds_page
from coldwright.web.odds_store import OddsStore
from coldwright.web.outcome.context import OutcomePart
from coldwright.web.outcome.view import OutcomeDraft, outcome_part
from coldwright.web.shelf import named
from coldwright.web.work_queue import WorkQueue

if TYPE_CHECKING:
    from coldwright.transient.hours import Hours
    from coldwright.usecases.inside import Inside
    from coldwright.usecases.pulldown import Asked as HoursAsked

_MOST_FIELDS = 200


class Site:
    """One running web app."""

    def __init__(self, deps: Deps) -> None:
        self.shelf: JobShelf = deps.jobs
        self._proven = deps.proven
        self.store = OddsStore(deps.diagnose, lambda: deps.proven().mark if deps.proven else "")
        self._leaks = LeakStore(deps.leak_search)
        self.queue = WorkQueue()
        self.repair = deps.repair
        self._hours, self._inside = deps.hours, deps.inside
        self._first_look = deps.first_look

    def page(
        self,
        file: JobFile,
        name: str,
        *,
        asked: Asked | None = None,
        since: str = "",
        wait: bool = False,
        search: bool = False,
    ) -> JobPage:
        """A job's page; with `wait` its odds are worked out first, with `search` its leak plan,
        else only shown if known."""
        return job_page(
            file,
            name,
            invented=self.shelf.is_invented(name),
            asked=asked or Asked(),
            odds=self.odds(file, name, since=since, wait=wait),
            leak=self.leak(file, name, draft=asked.leak if asked else None, wait=search),
            outcome=self.outcome(file, asked.outcome if asked else OutcomeDraft()),
            log=self.shelf.log(file),
        )

    def outcome(self, file: JobFile, draft: OutcomeDraft) -> OutcomePart:
        """What was found at a job, beside what the shop has proven."""
        return outcome_part(file, draft, self._proven() if self._proven else None)

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
                now = self.queue.run(name, key, lambda: self.store.work_out(job))
            except ColdwrightError as raised:
                error = str(raised)
        if now is None:
            return PendingOdds(since, f"{url}?odds=now#part-odds", error)
        before = self.store.known(since) if since != key else None
        return odds_page(now, before, job=job, job_url=url, since=key)

    def first_odds(self, file: JobFile, name: str, *, since: str) -> OddsPage | None:
        """Odds at once where they can be told so, to stand until they are worked out whole."""
        job = named(file.job, name)
        key, url = digest(job), job_url(name)
        if self._first_look is None or self.store.known(key) is not None:
            return None
        try:
            early = self._first_look(job)
        except ColdwrightError:
            return None  # told by the whole diagnosis
        if early is None:
            return None
        before = self.store.known(since) if since != key else None
        shown = odds_page(early, before, job=job, job_url=url, since=key)
        return replace(
            shown, state=f"{shown.state}, at first look",
            opening="A first look: it is being worked out more exactly, some seconds.",
            whole_url=f"{url}/odds?since={quote(since)}&whole=1",
        )  # fmt: skip

    def leak(
        self, file: JobFile, name: str, *, draft: LeakDraft | None = None, wait: bool = False
    ) -> LeakPart | PendingLeak:
        """The leak search of a job; with `wait` worked out, else only shown if known."""
        job = named(file.job, name)
        url, error = job_url(name), ""
        now = self._leaks.known(job)
        if now is None and (wait or draft is not None):
            try:
                others = [
                    row.job
                    for row in self.shelf.rows()
                    if row.job and row.name != name and not row.invented
                ]
                now = self.queue.run(
                    f"leak of {name}", repr(job), lambda: self._leaks.work_out(job, others)
                )
            except ColdwrightError as raised:
                error = str(raised)
        if now is None:
            state = "not possible" if error else "where to look, with what, in which order"
            return PendingLeak(state, f"{url}?leak=now#part-leak", f"{url}/leak", error)
        return leak_part(now, job, url, draft or LeakDraft())

    def hours(self, job: Job, asked: HoursAsked) -> Hours:
        """The job's appliance over hours."""
        name = f"hours of {job.source}"
        return self.queue.run(name, repr((job, asked)), lambda: self._hours(job, asked))

    def inside(self, job: Job) -> Inside:
        """What the leading fault does inside."""
        return self.queue.run(f"inside of {job.source}", repr(job), lambda: self._inside(job))


def since_now(file: JobFile, name: str) -> str:
    """Digest of a job before it is changed, to compare with afterwards.

    Parameters
    ----------
    file : JobFile
        The job file.
    name : str
        Name of the job.

    Returns
    -------
    str
        Digest.
    """
    return digest(named(file.job, name))


async def _raw_form(request: Request) -> dict[str, str]:
    form = await request.form(max_files=0, max_fields=_MOST_FIELDS)
    return {key: value for key, value in form.items() if isinstance(value, str)}


RawForm = Annotated[Mapping[str, str], Depends(_raw_form)]


def by_htmx(request: Request) -> bool:
    """True if a block is wanted, not a page.

    Parameters
    ----------
    request : Request
        As it came.

    Returns
    -------
    bool
        Whether.
    """
    return request.headers.get("HX-Request") == "true"


def stale_odds(block: Response) -> Response:
    """The block, telling the page to ask for its odds anew.

    Parameters
    ----------
    block : Response
        What is sent back.

    Returns
    -------
    Response
        The same block with a header.
    """
    block.headers["HX-Trigger"] = "odds-stale"
    return block


def back_to(name: str, part: str, since: str) -> RedirectResponse:
    """After a change without script: the page with its odds worked out.

    Parameters
    ----------
    name : str
        Name of the job.
    part : str
        Identifier of the part to scroll to.
    since : str
        Digest of the job before the change.

    Returns
    -------
    RedirectResponse
        A redirection (303).
    """
    return RedirectResponse(f"{job_url(name)}?odds=now&since={since}#{part}", status_code=303)
