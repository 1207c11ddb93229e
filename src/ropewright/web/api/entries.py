"""From what a phone sends to drafts for the book: persons, roles, days, the device's clock."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from pydantic import ValidationError

from ropewright.desk.judging import judge
from ropewright.desk.open_book import Draft, Taken
from ropewright.errors import InputError
from ropewright.inspection import Dossier
from ropewright.web.api.models import EntryIn
from ropewright.web.caller import Caller
from ropewright.web.corrected import VOUCHES, corrector_role, person_at
from ropewright.web.gate import KINDS, OPERATOR_INSPECTIONS, role_among
from ropewright.web.tools import WebTools
from ropewright.web.wording import said_by


@dataclass(frozen=True, slots=True)
class _Sent:
    at: int
    draft: Draft


def moment_of(text: str, field: str) -> datetime:
    """A moment with its offset.

    Raises
    ------
    InputError
        If it is none, or has no offset.
    """
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        found = None
    if found is None or found.tzinfo is None or not 1970 < found.year < 9999:
        raise InputError(
            field=field, expected="a moment with its offset, like 2026-11-09T07:30:00+01:00",
            given=text,
        )  # fmt: skip
    return found


def day_of(text: str, field: str) -> date:
    """A day.

    Raises
    ------
    InputError
        If it is none.
    """
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise InputError(field=field, expected="a day like 2026-11-09", given=text) from None


def draft_of(one: EntryIn, caller: Caller, clock_off_s: int | None) -> Draft:
    """The draft for the book, by the person who sends it.

    Raises
    ------
    InputError
        If the person may not make such an entry, or a moment cannot be read; names the field.
    """
    if one.kind not in KINDS:
        hint = "sign where the password is asked for" if one.kind == "inspection signed" else None
        raise InputError(
            field="kind", expected="a kind of entry that is taken from a device", given=one.kind,
            hint=hint,
        )  # fmt: skip
    if one.person_id not in (None, caller.person_id):
        raise InputError(
            field="person_id", expected="the person who is logged in", given=one.person_id,
            hint="whoever made the entry has to log in and send it",
        )  # fmt: skip
    _check_names(one, caller)
    happened_at = None if one.happened_at is None else moment_of(one.happened_at, "happened_at")
    on = None if one.happened_on is None else day_of(one.happened_on, "happened_on")
    if on is None and happened_at is not None:
        on = happened_at.date()
    return Draft(
        entry_id=one.id, kind=one.kind, rope_id=one.rope_id, payload=one.payload,
        happened_on=on, happened_at=happened_at,
        typed_at=None if one.typed_at is None else moment_of(one.typed_at, "typed_at"),
        clock_off_s=clock_off_s, person=caller.person_id, role=_role(one, caller),
    )  # fmt: skip


def _content(payload: Any) -> Any:  # noqa: ANN401 - as it was sent
    """What was sent as content; ``None`` if it cannot be read: the book says what is wrong."""
    if not isinstance(payload, str):
        return payload
    try:
        return json.loads(payload)
    except (ValueError, RecursionError):
        return None


def _check_names(one: EntryIn, caller: Caller) -> None:
    payload = _content(one.payload)
    for path in VOUCHES:
        named = person_at(payload, path)
        if named not in (None, caller.person_id):
            raise InputError(
                field=".".join(("payload", *path)), expected="the person who is logged in",
                given=named, hint="nobody decides in another's name",
            )  # fmt: skip
    of = payload.get("of") if isinstance(payload, dict) else None
    if one.kind == "release" and isinstance(of, str) and of.startswith("fitting "):
        raise InputError(
            field="payload.of", expected="a hold that is not that of a fitting", given=of,
            hint="release a new rope on its page, where every step of the fitting is checked",
        )  # fmt: skip


def _role(one: EntryIn, caller: Caller) -> str:
    allowed = KINDS[one.kind]
    if one.kind == "inspection begun" and not (
        isinstance(one.payload, dict) and one.payload.get("kind") in OPERATOR_INSPECTIONS
    ):
        allowed = allowed - {"operator"}
    if one.role is None:
        role = role_among(caller.roles, allowed)
    else:
        role = one.role if one.role in caller.roles and one.role in allowed else ""
    if not role:
        raise InputError(
            field="role", expected="one of " + ", ".join(sorted(allowed)),
            given=one.role or ", ".join(caller.roles),
        )  # fmt: skip
    return role


def trial_of(tools: WebTools) -> Any:  # noqa: ANN401 - a call on a dossier
    """Judging a rope, to see whether new entries leave it judgeable."""

    def trial(dossier: Dossier) -> object:
        return judge(dossier, tools.shelf, tools.today(), software=tools.software)

    return trial


def take_entries(
    tools: WebTools, caller: Caller, raw: Sequence[Mapping[str, Any]], clock_off_s: int | None
) -> list[Taken]:
    """Hand entries to the book; every one gets its answer, in the order they came.

    Parameters
    ----------
    tools
        The book.
    caller
        Who sends them.
    raw
        The entries as they came.
    clock_off_s
        How far the device's clock was ahead of the book's [s].
    """
    results: dict[int, Taken] = {}
    drafts: list[_Sent] = []
    for at, data in enumerate(raw):
        name = str(data.get("id", ""))
        try:
            draft = draft_of(EntryIn.model_validate(data), caller, clock_off_s)
            said = _content(draft.payload)
            if draft.kind == "correction" and isinstance(said, dict):
                role = corrector_role(tools.book, caller, said, draft.role)
                draft = replace(draft, role=role)
            drafts.append(_Sent(at, draft))
        except ValidationError as error:
            first = error.errors()[0]
            field = ".".join(map(str, first["loc"])) or "entry"
            results[at] = Taken(
                entry_id=name, state="refused", reason=f"{field}: {first['msg']}", field=field
            )
        except InputError as problem:
            results[at] = Taken(
                entry_id=name,
                state="refused",
                reason=said_by(problem),
                field=problem.field or "entry",
            )  # fmt: skip
    taken = tools.book.take([one.draft for one in drafts], trial=trial_of(tools))
    for one, result in zip(drafts, taken, strict=True):
        results[one.at] = result
    return [results[at] for at in range(len(raw))]
