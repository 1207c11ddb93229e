"""What every page has at hand: the tools, the door, what was judged, and the visit itself."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, cast

from fastapi import Depends, HTTPException, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from jinja2 import Environment
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile

from ropewright.web.caller import Caller
from ropewright.web.door import Door, check_form_token
from ropewright.web.gate import CALENDAR, PUBLIC, role_among, roles_for
from ropewright.web.judged import Judged
from ropewright.web.kept import KeptPages
from ropewright.web.settings import Settings
from ropewright.web.tools import WebTools

COOKIE = "ropewright_session"
SECURE_COOKIE = "__Host-ropewright_session"


class Typed(dict[str, str]):
    """What was typed into a form; a field that is not there is empty, in pages too."""

    def __missing__(self, key: str) -> str:
        """Nothing was typed."""
        return ""


@dataclass(slots=True, kw_only=True)
class Office:
    """Everything that lives as long as the server."""

    tools: WebTools
    settings: Settings
    door: Door
    judged: Judged
    pages: Environment
    texts: Mapping[str, str]
    field_there: bool = False
    boards: KeptPages = field(default_factory=lambda: KeptPages(64))
    ropes: KeptPages = field(default_factory=lambda: KeptPages(300))

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

    @property
    def person(self) -> Caller:
        """Who asks.

        Raises
        ------
        HTTPException
            If nobody is logged in.
        """
        if self.caller is None:
            raise HTTPException(401, "log in first")
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

    def page(self, template: str, status: int = 200, /, **values: object) -> HTMLResponse:
        """A page made from a template."""
        made = self.office.pages.get_template(template).render(
            visit=self, caller=self.caller, here=self.request.url.path,
            csrf=self.caller.csrf if self.caller else "", **values,
        )  # fmt: skip
        return HTMLResponse(made, status_code=status)

    def back_to(self, path: str, said: str = "") -> RedirectResponse:
        """After a form: on to a page, with a word about what was done."""
        answer = RedirectResponse(path, status_code=303)
        if said:
            answer.set_cookie(
                "ropewright_said", said.encode().hex(), max_age=60, httponly=True,
                samesite="lax", secure=self.office.settings.tls,
            )  # fmt: skip
        return answer

    @property
    def said(self) -> str:
        """The word that the last form left."""
        try:
            return bytes.fromhex(self.request.cookies.get("ropewright_said", "")).decode()[:300]
        except ValueError:
            return ""


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
    route = f"{'GET' if request.method == 'HEAD' else request.method} {_template(request)}"
    allowed = roles_for(route)
    caller = await run_in_threadpool(find_caller, office, request, allowed)
    visit = Visit(office=office, request=request, caller=caller, allowed=allowed)
    request.state.visit = visit
    if allowed is not PUBLIC:
        _check(caller, allowed)
    if request.method == "POST" and not request.url.path.startswith("/api/"):
        await _read_form(request, visit, needs_token=allowed is not PUBLIC)


def _template(request: Request) -> str:
    return str(getattr(request.scope.get("route"), "path", ""))


def _check(caller: Caller | None, allowed: frozenset[str]) -> None:
    if caller is None:
        raise HTTPException(401, "log in first")
    if allowed is CALENDAR:
        return
    if not role_among(caller.roles, allowed):
        names = ", ".join(sorted(allowed)) or "nobody"
        raise HTTPException(403, f"this is for: {names}")


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
            raise HTTPException(403, "this form has expired: load the page again")


def _here(request: Request) -> Visit:
    return cast(Visit, request.state.visit)


Here = Annotated[Visit, Depends(_here)]
"""The visit, as an argument of a route: every route takes it as ``visit: Here``."""
