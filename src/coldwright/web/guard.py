"""What another site's page asks for in the technician's browser is turned away."""

from __future__ import annotations

import socket
from collections.abc import Collection
from ipaddress import ip_address
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

from starlette.datastructures import Headers
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from coldwright.last_net import in_one_line, report_kept
from coldwright.web import render
from coldwright.web.pieces import ErrorPage

_POLICY = "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
_HEADERS = (
    (b"content-security-policy", _POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"same-origin"),
)
ANY_ADDRESS = "any address"
_COMPUTING = ("odds", "leak", "inside", "repair", "owner", "bench", "hours")
_ASKING = frozenset({"odds", "leak", "fault"})
_SAFE = ("GET", "HEAD", "OPTIONS")


class SameOrigin:
    """Refuses changes and computations that a page from elsewhere asks for; tells the browser
    to load only from here."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        origin = headers.get("origin")
        foreign = headers.get("sec-fetch-site") in ("cross-site", "same-site")
        if scope["method"] not in _SAFE:
            foreign = foreign or (origin is not None and not _same(origin, headers))
        elif foreign:
            # A link to a page may be followed from anywhere; it does not start a computation.
            foreign = headers.get("sec-fetch-mode") != "navigate" or _computes(scope)
        if foreign:
            refusal = PlainTextResponse("This request came from another site's page.", 403)
            await refusal(scope, receive, send)
            return

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message.get("headers", []), *_HEADERS]
            await send(message)

        await self._app(scope, receive, send_guarded)


def _computes(scope: Scope) -> bool:
    path, query = (
        scope["path"].rsplit("/", 1)[-1],
        parse_qs(scope["query_string"].decode("latin-1")),
    )
    return path in _COMPUTING or not _ASKING.isdisjoint(query)


class KnownHosts:
    """Answers only where it is asked for by a name of its own.

    A foreign page can point a name of its own at this machine and then read and write
    here as if it were the same site. It cannot do so under a bare address.
    """

    def __init__(self, app: ASGIApp, names: Collection[str]) -> None:
        self._app, self._names = app, frozenset(name.lower().rstrip(".") for name in names)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] == "http" and not self._knows(Headers(scope=scope).get("host", "")):
            refusal = PlainTextResponse("This machine is not known here by that name.", 400)
            await refusal(scope, receive, send)
            return
        await self._app(scope, receive, send)

    def _knows(self, host: str) -> bool:
        if "*" in self._names:
            return True
        try:
            name = (urlsplit(f"//{host}").hostname or "").rstrip(".")
        except ValueError:
            return False
        if ANY_ADDRESS in self._names:
            try:
                ip_address(name.partition("%")[0])
            except ValueError:
                pass
            else:
                return True
        return name in self._names


def own_names() -> tuple[str, ...]:
    """Names under which other machines of this network know this one.

    Returns
    -------
    tuple of str
        Names, sorted.
    """
    names = {socket.gethostname(), socket.getfqdn()}
    return tuple(sorted({n.lower() for n in names} | {f"{n.split('.')[0]}.local" for n in names}))


def _same(origin: str, headers: Headers) -> bool:
    return urlsplit(origin).netloc == headers.get("host")


class LastNet:
    """What nobody foresaw becomes a page of one sentence; the report goes beside the jobs."""

    def __init__(self, app: ASGIApp, folder: Path | None) -> None:
        self._app, self._folders = app, () if folder is None else (folder,)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        begun = False

        async def send_watched(message: Message) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            await self._app(scope, receive, send_watched)
        except Exception as error:
            if scope["type"] != "http" or begun:
                raise
            report = report_kept(error, self._folders, f"{scope['method']} {scope['path']}")
            said = f"{in_one_line(error, report)}."
            page = render.page(ErrorPage("This went wrong", f"{said[0].upper()}{said[1:]}"), 500)
            await page(scope, receive, send)
