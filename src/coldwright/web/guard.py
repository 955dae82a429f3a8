"""Requests that another site's page makes in the technician's browser are turned away."""

from __future__ import annotations

from urllib.parse import urlsplit

from starlette.datastructures import Headers
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

_POLICY = "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
_HEADERS = (
    (b"content-security-policy", _POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"same-origin"),
)
_SAFE = ("GET", "HEAD", "OPTIONS")


class SameOrigin:
    """Refuses changes whose Origin is not this host; tells the browser to load only from here."""

    def __init__(self, app: ASGIApp) -> None:
        self._app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        origin = headers.get("origin")
        if scope["method"] not in _SAFE and origin is not None and not _same(origin, headers):
            refusal = PlainTextResponse("This change came from another site's page.", 403)
            await refusal(scope, receive, send)
            return

        async def send_guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = [*message.get("headers", []), *_HEADERS]
            await send(message)

        await self._app(scope, receive, send_guarded)


def _same(origin: str, headers: Headers) -> bool:
    return urlsplit(origin).netloc == headers.get("host")
