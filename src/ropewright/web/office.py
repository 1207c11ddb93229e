"""What every page has at hand: the tools, the door, what was judged, and the visit itself."""

import math
import time
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Final, cast

from fastapi import Depends, HTTPException, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from jinja2 import Environment
from markupsafe import Markup
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile

from ropewright.web.caller import Caller
from ropewright.web.catalogue import Catalogue
from ropewright.web.door import Door, check_form_token, form_token
from ropewright.web.gate import CALENDAR, PUBLIC, role_among, roles_for
from ropewright.web.judged import Judged
from ropewright.web.kept import KeptPages
from ropewright.web.packing import packed
from ropewright.web.settings import Settings
from ropewright.web.tools import WebTools
from ropewright.web.us_units import us_page

COOKIE = "ropewright_session"
SECURE_COOKIE = "__Host-ropewright_session"
#: Holds the word that a form leaves for the next page, which says it and takes it away.
_SAID = "ropewright_said"

#: So long after a request more are likely to come [s].
BUSY_S: Final = 0.5

#: Marks in kept pages.  Whatever a person typed is escaped, so nobody can write them.
_TOKEN_HERE: Final = Markup("<form-token>")
_MIDDLE_HERE: Final = Markup("<middle-of-the-page>")


class Typed(dict[str, str]):
    """What was typed into a form; a field that is not there is empty, in pages too."""

    def __missing__(self, key: str) -> str:
        """Nothing was typed."""
        return ""


@dataclass(slots=True, kw_only=True)
class Office:
    """Everything that lives as long as the server.

    ``asked_at`` [s] is when somebody last asked for a page, by the clock that only runs forward.
    """

    tools: WebTools
    settings: Settings
    door: Door
    judged: Judged
    pages: Environment
    texts: Catalogue
    field_texts: Catalogue
    field_there: bool = False
    boards: KeptPages = field(default_factory=lambda: KeptPages(4_000_000))
    ropes: KeptPages = field(default_factory=lambda: KeptPages(64_000_000))
    entries: KeptPages = field(default_factory=lambda: KeptPages(8_000_000))
    invented_at: tuple[int, bool] = (-1, False)
    asked_at: float = -math.inf

    def busy(self) -> bool:
        """Whether somebody asks for pages just now."""
        return time.monotonic() - self.asked_at < BUSY_S

    def any_invented(self) -> bool:
        """Whether anything in the book is made up."""
        book = self.tools.book
        newest = book.newest()
        if self.invented_at[0] != newest:
            made_up = any(one.record.get("invented") for one in book.stands())
            self.invented_at = (newest, made_up)
        return self.invented_at[1]

    @property
    def cookie_name(self) -> str:
        """Name of the session's cookie: bound to this host where there is TLS."""
        return SECURE_COOKIE if self.settings.tls else COOKIE


@dataclass(slots=True, kw_only=True)
class Visit:
    """One request: who asks, for which route, with what form."""

    office: Office
    request: Request
    caller: Caller | None
    allowed: frozenset[str]
    form: Typed = field(default_factory=Typed)
    files: Mapping[str, bytes] = field(default_factory=dict)
    token: str = ""

    @property
    def person(self) -> Caller:
        """Who asks.

        Raises
        ------
        HTTPException
            If nobody is logged in.
        """
        if self.caller is None:
            raise HTTPException(401, self.t("refused.login"))
        return self.caller

    @property
    def role(self) -> str:
        """The role in which the person does this: the one they chose, or the first allowed."""
        person = self.person
        chosen = self.form.get("role", "")
        if chosen in person.roles and chosen in self.allowed:
            return chosen
        return role_among(person.roles, self.allowed)

    def may(self, route: str) -> bool:
        """Whether the person may use another route."""
        return bool(role_among(self.person.roles, roles_for(route)))

    def t(self, key: str, /, **values: object) -> str:
        """Words of the catalogue with values in their places."""
        return self.office.texts.t(key, **values)

    def tn(self, key: str, n: int, /, **values: object) -> str:
        """Words of the catalogue for so many, ``n`` [-]."""
        return self.office.texts.tn(key, n, **values)

    def page(self, template: str, status: int = 200, /, **values: object) -> HTMLResponse:
        """A page made from a template."""
        return self.answer(self._made(template, csrf=self.form_token, **values).encode(), status)

    def middle(self, template: str, /, **values: object) -> str:
        """The middle of a page, to be kept; a mark stands where its forms bring their token."""
        return self._made(template, csrf=_TOKEN_HERE, **values)

    def page_around(
        self, template: str, middle: bytes, status: int = 200, /, **values: object
    ) -> HTMLResponse:
        """A page with a middle that was made before; what belongs to the session is made now."""
        made = self._made(template, csrf=self.form_token, main=_MIDDLE_HERE, **values).encode()
        head, _, foot = made.partition(_MIDDLE_HERE.encode())
        middle = middle.replace(_TOKEN_HERE.encode(), self.form_token.encode())
        return self.answer(b"".join((head, middle, foot)), status)

    def _made(self, template: str, /, **values: object) -> str:
        made = self.office.pages.get_template(template).render(
            visit=self, caller=self.caller, here=self.request.url.path, **values
        )
        return us_page(made) if self.caller is not None and self.caller.units == "us" else made

    def answer(self, body: bytes, status: int = 200) -> HTMLResponse:
        """A page as it is sent, compressed if the browser takes that; a word left is said once.

        What answers a form is not compressed: it may show a secret.
        """
        looks = self.request.method in ("GET", "HEAD")
        accepted = self.request.headers.get("accept-encoding", "") if looks else ""
        sent, headers = packed(body, accepted)
        made = HTMLResponse(sent, status_code=status, headers=headers)
        if _SAID in self.request.cookies:
            made.delete_cookie(
                _SAID, httponly=True, samesite="lax", secure=self.office.settings.tls
            )
        return made

    def drawing(self, svg: bytes) -> Response:
        """A drawing as it is sent."""
        sent, headers = packed(svg, self.request.headers.get("accept-encoding", ""))
        return Response(sent, media_type="image/svg+xml", headers=headers)

    @property
    def form_token(self) -> str:
        """What the forms of this answer bring along."""
        if self.caller is not None and not self.token:
            self.token = form_token(self.caller)
        return self.token

    def back_to(self, path: str, said: str = "") -> RedirectResponse:
        """After a form: on to a page, with a word about what was done."""
        answer = RedirectResponse(path, status_code=303)
        if said:
            answer.set_cookie(
                _SAID, said.encode().hex(), max_age=60, httponly=True,
                samesite="lax", secure=self.office.settings.tls,
            )  # fmt: skip
        return answer

    @property
    def said(self) -> str:
        """The word that the last form left."""
        try:
            return bytes.fromhex(self.request.cookies.get(_SAID, "")).decode()[:300]
        except ValueError:
            return ""


def quiet_visit(office: Office, caller: Caller) -> Visit:
    """A visit that nobody makes: for pages that are made ready before anybody asks."""
    scope = {"type": "http", "method": "GET", "path": "/", "query_string": b"", "headers": []}
    return Visit(office=office, request=Request(scope), caller=caller, allowed=frozenset())


def find_caller(office: Office, request: Request, allowed: frozenset[str]) -> Caller | None:
    """Who asks: by token, else by session, else the one person of single-user mode."""
    if office.settings.single_user:
        return office.door.local()
    authorization = request.headers.get("authorization", "")
    if authorization:  # a session beside it does not count: nobody checked where it came from
        scheme, _, secret = authorization.partition(" ")
        return office.door.of_token(secret.strip(), "api") if scheme.lower() == "bearer" else None
    if allowed is CALENDAR:
        token = str(request.path_params.get("token", "")).removesuffix(".ics")
        return office.door.of_token(token, "calendar")
    secret = request.cookies.get(office.cookie_name, "")
    return office.door.of_cookie(secret) if secret else None


async def gate(request: Request) -> None:
    """Let a request through to its route, or refuse it.  Every route stands behind this."""
    office = cast(Office, request.app.state.office)
    office.asked_at = time.monotonic()
    route = f"{'GET' if request.method == 'HEAD' else request.method} {_template(request)}"
    allowed = roles_for(route)
    caller = await run_in_threadpool(find_caller, office, request, allowed)
    visit = Visit(office=office, request=request, caller=caller, allowed=allowed)
    request.state.visit = visit
    if allowed is not PUBLIC:
        _check(visit)
    if request.method == "POST" and not request.url.path.startswith("/api/"):
        await _read_form(request, visit, needs_token=allowed is not PUBLIC)


def _template(request: Request) -> str:
    return str(getattr(request.scope.get("route"), "path", ""))


def _check(visit: Visit) -> None:
    caller, allowed = visit.person, visit.allowed
    if allowed is CALENDAR:
        return
    if not role_among(caller.roles, allowed):
        names = ", ".join(sorted(allowed)) or visit.t("refused.nobody")
        raise HTTPException(403, visit.t("refused.role", roles=names))


async def _read_form(request: Request, visit: Visit, *, needs_token: bool) -> None:
    texts = Typed()
    files: dict[str, bytes] = {}
    async with request.form(max_files=5, max_fields=300) as data:
        for name, value in data.multi_items():
            if isinstance(value, UploadFile):
                key = name if name not in files else f"{name}.{len(files) + 1}"
                files[key] = await value.read()
                texts[f"{key}.name"] = value.filename or ""
            elif name in texts:
                texts[name] += f"\n{value}"
            else:
                texts[name] = value
    visit.form, visit.files = texts, files
    if needs_token:
        caller = visit.person
        if caller.via not in ("cookie", "single user") or not check_form_token(
            caller, texts.get("csrf", "")
        ):
            raise HTTPException(403, visit.t("refused.form"))


async def _here(request: Request) -> Visit:  # no thread is needed for this
    return cast(Visit, request.state.visit)


Here = Annotated[Visit, Depends(_here)]
"""The visit, as an argument of a route: every route takes it as ``visit: Here``."""
