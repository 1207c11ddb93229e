"""Logging in and out, and what a person chooses for themselves."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from ropewright.errors import InputError
from ropewright.web.door import RefusedLogin
from ropewright.web.office import Here, Typed, Visit
from ropewright.web.settings import Settings
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)

#: What a person may choose for themselves.
CHOICES: Final[Mapping[str, tuple[str, ...]]] = {
    "units": ("metric", "us"), "hand": ("right", "left"), "theme": ("auto", "light", "dark"),
}  # fmt: skip


def _onward(path: str) -> str:
    """Where to go after the login: a page of this site and nothing else."""
    plain = path.startswith("/") and not path.startswith(("//", "/\\")) and path.isprintable()
    return path if plain and path != "/login" else "/"


def refused_words(visit: Visit, refused: RefusedLogin) -> str:
    """What somebody reads whose password was not taken."""
    if refused.wait_s:
        return visit.tn("login.refused.wait", refused.wait_s)
    return visit.t("login.refused")


@router.get("/login")
def login_page(visit: Here, next: str = "/") -> Response:  # noqa: A002 - its name in the address
    """The page that asks for name and password."""
    if visit.caller is not None:
        return RedirectResponse(_onward(next), status_code=303)
    return _login(visit, next=_onward(next), login="", problem="")


def _login(visit: Visit, status: int = 200, /, **values: object) -> HTMLResponse:
    return visit.page("login.html", status, **values)


@router.post("/login")
def log_in(visit: Here) -> Response:
    """Check name and password and begin a session."""
    office, form = visit.office, visit.form
    onward = _onward(form.get("next", "/"))
    name = form.get("login", "")
    try:
        secret = office.door.log_in(name, form.get("password", ""))
    except RefusedLogin as refused:
        status = 429 if refused.wait_s else 403
        return _login(visit, status, next=onward, login=name, problem=refused_words(visit, refused))
    answer = RedirectResponse(onward, status_code=303)
    _set_cookie(answer, office.cookie_name, secret, office.settings)
    return answer


def _set_cookie(answer: Response, name: str, secret: str, settings: Settings) -> None:
    answer.set_cookie(
        name, secret, max_age=settings.absolute_s, path="/", httponly=True,
        samesite="lax", secure=settings.tls,
    )  # fmt: skip


@router.post("/logout")
def log_out(visit: Here) -> Response:
    """End the session."""
    office = visit.office
    secret = visit.request.cookies.get(office.cookie_name, "")
    if secret:
        office.door.log_out(secret)
    answer = RedirectResponse("/login", status_code=303)
    answer.delete_cookie(
        office.cookie_name, path="/", secure=office.settings.tls, httponly=True, samesite="lax"
    )
    return answer


@router.get("/me")
def me_page(visit: Here) -> HTMLResponse:
    """What a person chooses for themselves."""
    return _me(visit, problem="")


def _me(visit: Visit, status: int = 200, /, **values: object) -> HTMLResponse:
    tokens = [
        one
        for one in visit.office.tools.access.tokens()
        if one.person_id == visit.person.person_id and one.revoked_at is None
    ]
    return visit.page("me.html", status, choices=CHOICES, tokens=tokens, **values)


@router.post("/me")
def change_me(visit: Here) -> Response:
    """Keep units, hand and theme."""
    office, form = visit.office, visit.form
    account = office.tools.access.account(visit.person.person_id)
    if account is not None:
        units, hand, theme = (_chosen(form, name, getattr(account, name)) for name in CHOICES)
        office.tools.access.put_account(replace(account, units=units, hand=hand, theme=theme))
        office.door.forget_local()
    return visit.back_to("/me", visit.t("said.kept"))


def _chosen(form: Typed, name: str, now: str) -> str:
    return form[name] if form[name] in CHOICES[name] else now


@router.post("/me/password")
def change_password(visit: Here) -> Response:
    """Take another password; every session ends."""
    office, form = visit.office, visit.form
    if visit.person.single_user:
        return visit.back_to("/me", visit.t("me.no-password"))
    account = office.tools.access.account(visit.person.person_id)
    try:
        office.door.prove(visit.person, form.get("old", ""))
        if account is not None:
            office.door.set_password(account, form.get("new", ""))
    except RefusedLogin as refused:
        return _me(visit, 403, problem=refused_words(visit, refused))
    except InputError as error:
        return _me(visit, 400, problem=said_by(error))
    return RedirectResponse("/login", status_code=303)
