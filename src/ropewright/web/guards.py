"""What every request passes first and every answer gets last: host, origin, size, headers."""

import json
import logging
from html import escape
from typing import Final
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from ropewright.web.catalogue import Catalogue
from ropewright.web.settings import Settings

CSP: Final = (
    "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; "
    "connect-src 'self'; worker-src 'self'; manifest-src 'self'; object-src 'none'; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)

#: Headers of every answer.  The referrer stays on this site: with none at all a browser would
#: send 'Origin: null' with forms, and the origin could not be checked.
HEADERS: Final[tuple[tuple[str, str], ...]] = (
    ("content-security-policy", CSP),
    ("x-content-type-options", "nosniff"),
    ("x-frame-options", "DENY"),
    ("referrer-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    ("permissions-policy", "camera=(self), geolocation=(), microphone=(self), payment=()"),
)

READING: Final = frozenset({"GET", "HEAD", "OPTIONS"})

MOST_BYTES: Final = 2_000_000
MOST_LOG_BYTES: Final = 26_000_000
#: Paths that take more, with what they take [bytes]; the first that fits counts.
LARGER: Final[tuple[tuple[str, int], ...]] = (
    ("/api/v1/photos", 26_000_000),
    ("/api/v1/entries", 8_000_000),
    ("/exchange/book", 64_000_000),
    ("/exchange/", 12_000_000),
)


_LOG = logging.getLogger("ropewright.web")


class TooLargeError(HTTPException):
    """A request is larger than its path takes."""

    def __init__(self) -> None:
        super().__init__(413, "the request is too large")


def most_bytes(path: str) -> int:
    """What a path takes at most [bytes]."""
    if path.startswith("/ropes/") and path.endswith("/wear"):
        return MOST_LOG_BYTES
    return next((most for start, most in LARGER if path.startswith(start)), MOST_BYTES)


class Guard:
    """Refuses foreign hosts, foreign origins and oversized bodies; adds the headers.

    Parameters
    ----------
    app
        What is guarded.
    settings
        How the server runs.
    texts
        The words of the pages.
    """

    def __init__(self, app: ASGIApp, settings: Settings, texts: Catalogue) -> None:
        self._app = app
        self._settings = settings
        self._texts = texts
        self._local = frozenset(
            name
            for base in ("localhost", "127.0.0.1", "[::1]", *settings.names)
            for name in (base.casefold(), f"{base.casefold()}:{settings.port}")
        )

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Handle one request."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        send = self._with_headers(scope, send)
        refusal = self._refusal(scope, headers)
        if refusal is not None:
            await self._answer(send, *refusal)
            return
        most = most_bytes(scope["path"])
        length = headers.get("content-length", "")
        if length.isdigit() and int(length) > most:
            await self._answer(
                send, 413, self._texts.t("guard.too-large", most=f"{most / 1e6:g}"),
                as_page="text/html" in headers.get("accept", ""),
            )  # fmt: skip
            return
        begun = False

        async def noting(message: Message) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            await self._app(scope, _counted(receive, most), noting)
        except Exception:
            _LOG.exception("a request failed: %s %s", scope["method"], scope["path"])
            if begun:
                raise
            page = "text/html" in headers.get("accept", "")
            await self._answer(send, 500, self._texts.t("guard.broken"), as_page=page)

    def _refusal(self, scope: Scope, headers: Headers) -> tuple[int, str] | None:
        host = headers.get("host", "").casefold()
        if self._settings.single_user and host not in self._local:
            return 403, self._texts.t("guard.localhost-only")
        if scope["method"] in READING or "authorization" in headers:
            return None
        origin = headers.get("origin")
        if origin is None:
            site = headers.get("sec-fetch-site")
            if site in ("same-origin", "none"):
                return None
            return 403, self._texts.t("guard.from-where")
        if urlsplit(origin).netloc.casefold() != host or not host:
            return 403, self._texts.t("guard.from-here")
        return None

    async def _answer(self, send: Send, status: int, words: str, *, as_page: bool = False) -> None:
        """A short answer from before the pages begin."""
        kind = "text/html; charset=utf-8" if as_page else "application/json"
        made = self._page(words) if as_page else json.dumps({"error": "refused", "message": words})
        start = {"type": "http.response.start", "status": status}
        await send({**start, "headers": [(b"content-type", kind.encode())]})
        await send({"type": "http.response.body", "body": made.encode()})

    def _page(self, words: str) -> str:
        """The plainest page there is; the words are of the catalogue."""
        t = self._texts.t
        return (
            f'<!doctype html><html lang="{t("language")}"><head><meta charset="utf-8">'
            f"<title>{t('brand')}</title>"
            '<meta name="viewport" content="width=device-width, initial-scale=1">'
            '<link rel="stylesheet" href="/static/office.css"></head><body><main class="wide">'
            f'<h1>{t("failure.other")}</h1><p class="warn">{escape(words)}</p>'
            f'<p><a href="/">{t("failure.board")}</a></p></main></body></html>'
        )

    def _with_headers(self, scope: Scope, send: Send) -> Send:
        async def sending(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS:
                    headers.setdefault(name, value)
                if self._settings.tls:
                    headers.setdefault("strict-transport-security", "max-age=31536000")
                fixed = scope["path"].startswith(("/static/", "/field/"))
                headers.setdefault("cache-control", "no-cache" if fixed else "no-store")
            await send(message)

        return sending


def _counted(receive: Receive, most: int) -> Receive:
    """Stop reading a body that says nothing of its size and grows too large."""
    total = 0

    async def receiving() -> Message:
        nonlocal total
        message = await receive()
        total += len(message.get("body", b""))
        if total > most:
            raise TooLargeError
        return message

    return receiving
