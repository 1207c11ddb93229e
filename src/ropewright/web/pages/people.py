"""People: who may log in, in which roles; tokens; the calendar that a token opens."""

from dataclasses import replace
from datetime import date

from fastapi import APIRouter, HTTPException
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from ropewright.errors import InputError
from ropewright.web.admin import PeopleDesk, check_roles
from ropewright.web.caller import ROLES
from ropewright.web.door import LOCAL_LOGIN
from ropewright.web.office import Here, Visit
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)


@router.get("/people")
def people_page(visit: Here) -> HTMLResponse:
    """Everybody, and what each role is for."""
    return _show(visit)


def _show(visit: Visit, status: int = 200, *, problem: str = "") -> HTMLResponse:
    accounts = [one for one in visit.office.tools.access.accounts() if one.login != LOCAL_LOGIN]
    return visit.page(
        "people.html", status, accounts=accounts, roles=ROLES, problem=problem,
        form=visit.form, may=visit.may("POST /people"),
    )  # fmt: skip


def _chosen(visit: Visit) -> tuple[str, ...]:
    return tuple(one for one in visit.form.get("roles", "").split("\n") if one)


@router.post("/people")
def add(visit: Here) -> Response:
    """Add a person."""
    office = visit.office
    desk = PeopleDesk(
        office.tools.book, office.tools.access, office.tools.now, office.door.passwords
    )
    try:
        made = desk.add(
            visit.form.get("login", ""), visit.form.get("name", ""), _chosen(visit),
            visit.form.get("password", ""),
        )  # fmt: skip
    except InputError as error:
        return _show(visit, 400, problem=said_by(error))
    return visit.back_to("/people", visit.t("people.added", name=made.name, login=made.login))


@router.post("/people/{person_id}")
def change(visit: Here, person_id: str) -> Response:
    """Change a person's roles, password, or whether they may log in."""
    office, form = visit.office, visit.form
    account = office.tools.access.account(person_id)
    if account is None:
        raise HTTPException(404, visit.t("people.unknown"))
    try:
        active = form.get("active") == "yes"
        roles = check_roles(_chosen(visit))
        if person_id == visit.person.person_id and ("keeper" not in roles or not active):
            raise InputError(
                field="roles", expected=visit.t("people.own.expected"),
                given=visit.t("people.own.given"),
            )  # fmt: skip
        changed = replace(account, roles=roles, active=active)
        if form.get("password"):
            office.door.set_password(changed, form["password"])
        else:
            office.tools.access.put_account(changed)
            office.tools.access.end_sessions_of(person_id)
    except InputError as error:
        return _show(visit, 400, problem=said_by(error))
    if person_id == visit.person.person_id and not visit.person.single_user:
        return RedirectResponse("/login", status_code=303)
    return visit.back_to("/people", visit.t("people.kept", name=account.name))


@router.post("/people/tokens/new")
def new_token(visit: Here) -> HTMLResponse:
    """Make a token of one's own; it is shown this once."""
    office = visit.office
    purpose = visit.form.get("purpose", "")
    secret, row = office.door.new_token(visit.person.person_id, visit.form.get("name", ""), purpose)
    base = str(visit.request.base_url).rstrip("/")
    return visit.page("token.html", secret=secret, row=row, address=f"{base}/calendar/{secret}.ics")


@router.post("/people/tokens/{token_id}/revoke")
def revoke(visit: Here, token_id: str) -> Response:
    """Revoke a token: one's own, or any as keeper."""
    access = visit.office.tools.access
    row = next((one for one in access.tokens() if one.token_id == token_id), None)
    if row is None:
        raise HTTPException(404, visit.t("token.unknown"))
    if row.person_id != visit.person.person_id and "keeper" not in visit.person.roles:
        raise HTTPException(403, visit.t("token.not-yours"))
    access.revoke_token(token_id, visit.office.tools.now())
    return visit.back_to("/me", visit.t("token.revoked", name=row.name))


@router.get("/calendar/{token}")
def calendar(visit: Here) -> Response:
    """What is due, for a calendar program that knows the token in the address."""
    return Response(
        visit.office.tools.hands_out.calendar((), every_date(visit))[0],
        media_type="text/calendar; charset=utf-8",
        headers={"cache-control": "private, max-age=3600"},
    )  # fmt: skip


def every_date(visit: Visit) -> list[tuple[str, date, str]]:
    """What comes next on each rope, and the day by which a new one is ordered: id, day, words."""
    office = visit.office
    extra = []
    for stand in office.tools.book.stands():
        if stand.record.get("state") == "taken off":
            continue
        one = office.judged.glance(stand)
        note = visit.t("calendar.invented") if one.invented else ""
        if one.due is not None:
            what = one.next_step.what if one.next_step.on else visit.t("calendar.duty")
            words = visit.t("calendar.rope", rope=one.rope_id, what=what)
            extra.append((f"inspection/{one.rope_id}", one.due, words + note))
        if one.order_by is not None:
            words = visit.t("calendar.rope", rope=one.rope_id, what=visit.t("calendar.order"))
            extra.append((f"order-by/{one.rope_id}", one.order_by, words + note))
    return extra
