"""From a form to an entry of the book, by the person who filled it in, in the role they chose."""

import uuid
from collections.abc import Mapping
from datetime import date
from typing import Any

from ropewright.desk.open_book import Draft, Taken
from ropewright.errors import InputError
from ropewright.web.api.entries import trial_of
from ropewright.web.office import Visit


def say(
    visit: Visit,
    kind: str,
    rope_id: str,
    payload: Mapping[str, Any],
    on: date | None,
    *,
    try_judging: bool = True,
) -> Taken:
    """Add one entry in the person's name; the answer says whether it was taken.

    Parameters
    ----------
    visit
        Who says it.
    kind
        Kind of entry.
    rope_id
        The rope.
    payload
        Its content as plain data; empty fields are left out.
    on
        The day at the site.
    try_judging
        Whether the rope must still be judgeable afterwards.
    """
    tools = visit.office.tools
    now = tools.now()
    draft = Draft(
        entry_id=str(uuid.uuid4()), kind=kind, rope_id=rope_id, payload=without_empty(payload),
        happened_on=on, happened_at=None, typed_at=now, person=visit.person.person_id,
        role=visit.role,
    )  # fmt: skip
    (taken,) = tools.book.take([draft], trial=trial_of(tools) if try_judging else None)
    return taken


def say_all(
    visit: Visit, rope_id: str, said: list[tuple[str, Mapping[str, Any]]], on: date | None
) -> list[Taken]:
    """Add several entries in one go, as `say` does."""
    tools = visit.office.tools
    now = tools.now()
    drafts = [
        Draft(
            entry_id=str(uuid.uuid4()), kind=kind, rope_id=rope_id,
            payload=without_empty(payload), happened_on=on, typed_at=now,
            person=visit.person.person_id, role=visit.role,
        )
        for kind, payload in said
    ]  # fmt: skip
    return list(tools.book.take(drafts, trial=trial_of(tools)))


def without_empty(payload: Mapping[str, Any]) -> dict[str, Any]:
    """The content without fields that were left empty."""
    return {key: value for key, value in payload.items() if value not in ("", None)}


def me(visit: Visit) -> dict[str, str]:
    """The person as an entry names one."""
    return {"person": visit.person.person_id}


def day_in(visit: Visit, field: str, *, may_come: bool = False) -> date:
    """A day from a form field.

    Parameters
    ----------
    visit
        The form.
    field
        Which field.
    may_come
        Whether it may lie in the future.

    Raises
    ------
    InputError
        If it is none, or lies in the future and must not.
    """
    text = visit.form.get(field, "")
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise InputError(field=field, expected=visit.t("asked.day"), given=text) from None
    if day > visit.office.tools.today() and not may_come:
        raise InputError(field=field, expected=visit.t("asked.day-not-to-come"), given=text)
    return day


def words_in(visit: Visit, field: str, what: str) -> str:
    """Words from a form field that must not stay empty.

    Raises
    ------
    InputError
        If it is empty.
    """
    text = visit.form.get(field, "").strip()
    if not text:
        raise InputError(field=field, expected=what, given=visit.t("asked.nothing"))
    return text
