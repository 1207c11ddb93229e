"""Entries typed as words: a kind, fields as KEY=VALUE, who and when."""

import types
import typing
from collections.abc import Callable, Mapping
from dataclasses import MISSING, fields
from datetime import date
from fractions import Fraction
from typing import Any, Final, Literal

from ropewright.errors import InputError, UnknownNameError
from ropewright.geometry import Section
from ropewright.inspection import Event, InnerCount, Release
from ropewright.logbook import payloads as p
from ropewright.logbook.book import Book
from ropewright.logbook.codec import PersonId, Value
from ropewright.logbook.entry import Entry, Hand, new_entry
from ropewright.logbook.fitting import check_release
from ropewright.logbook.kinds import KIND_OF, ROLES, Role
from ropewright.logbook.orders import person_id
from ropewright.logbook.people import People
from ropewright.logbook.to_dossier import dossier_from_entries
from ropewright.rope import Cut, EndForEnd
from ropewright.units import metres, parse_length

#: Kinds that can be typed; the others come with a case file, a phone or a command of their own.
TYPED_KINDS: Final[Mapping[str, type[Any]]] = {
    KIND_OF[kind]: kind
    for kind in (
        p.Reterminated, p.Respooled, p.Lubricated, p.ReZeroed, p.LimitOverridden, p.LimitReset,
        p.Held, p.Released, p.WarningDismissed, p.HandoverTaken, p.SpareStored, p.RopeTakenOff,
        InnerCount, Cut, EndForEnd, Event,
    )
}  # fmt: skip
_RELEASE_FIELDS: Final = ("of", "evidence")


def typed_fields(kind: str) -> tuple[str, ...]:
    """Names of the fields that are typed for a kind; those that must be there come first.

    Raises
    ------
    UnknownNameError
        If the kind cannot be typed.
    """
    payload = _payload(kind)
    if payload is p.Released:
        return _RELEASE_FIELDS
    needed = [one.name for one in fields(payload) if _must(one)]
    more = [one.name for one in fields(payload) if not _must(one)]
    return tuple(name for name in (*needed, *more) if name not in ("by", "on", "release"))


def _must(one: Any) -> bool:  # noqa: ANN401 - a field of a dataclass
    return one.default is MISSING and one.default_factory is MISSING


def _payload(kind: str) -> type[Any]:
    if kind not in TYPED_KINDS:
        raise UnknownNameError(
            what="a kind of entry that can be typed", given=kind, known=TYPED_KINDS, field="KIND"
        )
    return TYPED_KINDS[kind]


def add_typed(
    book: Book,
    rope_id: str,
    kind: str,
    values: Mapping[str, str],
    *,
    by: str,
    role: Role,
    on: date,
) -> Entry:
    """Add an entry that was typed as words.

    Parameters
    ----------
    book
        The book.
    rope_id
        The rope.
    kind
        One of `TYPED_KINDS`.
    values
        Its fields as text: lengths with their unit, yes or no, days like 2026-11-10, a section as
        ``10 m .. 20 m``.
    by, role
        Who, and in which role.
    on
        The day.

    Raises
    ------
    UnknownNameError
        If kind, field or rope are not known.
    InputError
        If a field is missing or cannot be read, or a rope is released whose fitting is not
        done: names it.
    """
    book.need_rope(rope_id)
    payload = _payload(kind)
    if role not in ROLES:
        raise UnknownNameError(what="a role", given=role, known=ROLES, field="--role")
    known = typed_fields(kind)
    for name in values:
        if name not in known:
            raise UnknownNameError(what=f"a field of {kind}", given=name, known=known, field="KEY")

    if payload is p.Released:
        check_release(book, rope_id, values.get("of", ""))
    before = [one.entry for one in book.entries(rope_id)]

    def make(people: People) -> list[Entry]:
        person = person_id(people, by)
        said = _said(payload, values, by=by, person=person, on=on)
        hand = Hand(person=person, role=role)
        entry = new_entry(said, people, rope_id=rope_id, happened_on=on, by=(hand,))
        # Read as a whole before it counts: a cut must leave rope, a release needs its hold.
        dossier_from_entries([*before, entry], people)
        return [entry]

    (entry,), _ = book.append_made(make)
    return entry


def _said(
    payload: type[Any], values: Mapping[str, str], *, by: str, person: PersonId, on: date
) -> Value:
    if payload is p.Released:
        for name in _RELEASE_FIELDS:
            if not values.get(name):
                raise InputError(
                    field=name, expected="what is released, on what evidence", given=None
                )
        word = Release(by=" ".join(by.split()), on=on, evidence=values["evidence"])
        return p.Released(of=values["of"], release=word)
    hints = typing.get_type_hints(payload)
    made: dict[str, Any] = {}
    for one in fields(payload):
        if one.name == "by":
            made["by"] = person
        elif one.name == "on":
            made["on"] = on
        elif one.name in values:
            made[one.name] = _value(one.name, hints[one.name], values[one.name])
        elif _must(one):
            raise InputError(field=one.name, expected=f"{one.name}=…", given=None)
    return payload(**made)


def _value(name: str, hint: Any, text: str) -> Any:  # noqa: ANN401
    kinds = typing.get_args(hint)
    if typing.get_origin(hint) in (typing.Union, types.UnionType):
        (hint,) = (one for one in kinds if one is not types.NoneType)
    if typing.get_origin(hint) is Literal:
        allowed = typing.get_args(hint)
        if text not in allowed:
            raise InputError(field=name, expected="one of " + ", ".join(allowed), given=text)
        return text
    if typing.get_origin(hint) is tuple:
        return tuple(part.strip() for part in text.split("|"))
    reader = _READERS.get(hint)
    if reader is None:
        return text
    try:
        return reader(text)
    except InputError as error:
        error.field = name
        raise
    except ValueError:
        raise InputError(field=name, expected=_WORDS[hint], given=text) from None


def _yes_no(text: str) -> bool:
    if text.casefold() not in ("yes", "no"):
        raise ValueError(text)
    return text.casefold() == "yes"


def _section(text: str) -> Section:
    start, mark, end = text.partition("..")
    if not mark:
        raise ValueError(text)
    return Section(metres(parse_length(start.strip())), metres(parse_length(end.strip())))


_READERS: Final[Mapping[Any, Callable[[str], Any]]] = {
    bool: _yes_no,
    int: int,
    float: lambda text: metres(parse_length(text, signed=True)),
    Fraction: parse_length,
    date: date.fromisoformat,
    Section: _section,
}
_WORDS: Final[Mapping[Any, str]] = {
    bool: "yes or no",
    int: "a whole number",
    date: "a day like 2026-11-10",
    Section: "a section like '10 m .. 20 m'",
}
