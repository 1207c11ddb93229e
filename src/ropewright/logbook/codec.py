"""Frozen dataclasses to plain data and back, by their declared types and nothing else.

A field that has its default value is left out, so a field added later with a default changes
no entry that was written before.  Reading is strict: an unknown field, a missing one, a number
written in another way are refused by name.
"""

import dataclasses
import types
import typing
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from functools import cache
from typing import Any, Final, Literal, NewType, TypeAlias, Union

from ropewright.errors import InputError
from ropewright.inspection import (
    BrokenWires,
    Comparison,
    Confirmation,
    Damage,
    DiameterReading,
    Installation,
    MetallicLoss,
    Permission,
    Person,
    Release,
    StoredForecast,
    Trial,
    UnseenAcceptance,
    Waviness,
)
from ropewright.logbook.canon import (
    Plain,
    canonical,
    float_text,
    fraction_text,
    instant_text,
    plain,
    read_day,
    read_float,
    read_fraction,
    read_instant,
)
from ropewright.logbook.people import People, erased_person, words_of

#: A value of a declared type, and such a type: only known while running.
Value: TypeAlias = Any
Hint: TypeAlias = Any

PersonId = NewType("PersonId", str)
"""Id of a person in an entry; what is known of them stands elsewhere."""

#: Fields of core types that name a person in plain words.
_NAMES_A_PERSON: Final[Mapping[type, frozenset[str]]] = {
    Comparison: frozenset({"by"}),
    Confirmation: frozenset({"by"}),
    Installation: frozenset({"interval_by"}),
    Permission: frozenset({"by"}),
    Release: frozenset({"by"}),
    StoredForecast: frozenset({"bounded_by", "by"}),  # it may be bounded by a person's word
    Trial: frozenset({"by"}),
    UnseenAcceptance: frozenset({"by"}),
}

#: What a value is called where one field may hold several types.
_CALLED: Final[Mapping[type, str]] = {
    BrokenWires: "broken wires",
    Damage: "damage",
    DiameterReading: "diameter",
    MetallicLoss: "metallic loss",
    Waviness: "waviness",
}


@dataclass(frozen=True, slots=True)
class Coder:
    """How one declared type is written and read."""

    write: Callable[[Any, People], Any]
    read: Callable[[Any, str, People], Any]


def to_plain(value: object, people: People, *, hint: Hint = None) -> Plain:
    """A value as plain data, ready for `canonical`."""
    shape: Hint = type(value) if hint is None else hint
    return coder(shape).write(value, people)


def from_plain(data: object, hint: Hint, people: People, *, path: str = "") -> Value:
    """The value that plain data stand for.

    Raises
    ------
    InputError
        If they do not fit the type; names the field.
    """
    return coder(hint).read(data, path, people)


@cache
def coder(hint: Hint) -> Coder:
    """The coder of a declared type; a type that cannot be written is a TypeError."""
    if hint in _PLAIN_TYPES:
        return _PLAIN_TYPES[hint]
    origin: Hint = typing.get_origin(hint)
    parts = typing.get_args(hint)
    if origin in (Union, types.UnionType):
        return _union(parts)
    if origin is Literal:
        return _choice(parts)
    if origin is tuple and parts[1:] == (Ellipsis,):
        return _list(coder(parts[0]))
    if origin is not None and issubclass(origin, Mapping):
        return _RAW if parts[1] is Any else _mapping(coder(parts[1]))
    if isinstance(hint, type) and dataclasses.is_dataclass(hint):
        return _record(hint)
    raise TypeError(f"no way to write {hint!r} into a logbook")


def _refuse(path: str, expected: str, given: object) -> InputError:
    return InputError(field=path or None, expected=expected, given=given)


# --- Plain types ------------------------------------------------------------------------------


def _typed(kind: type, words: str) -> Coder:
    def write(value: Value, _people: People) -> Plain:
        if type(value) is not kind:
            raise _refuse("", words, value)
        return value

    def read(data: Plain, path: str, _people: People) -> Value:
        if type(data) is not kind:
            raise _refuse(path, words, data)
        return data

    return Coder(write, read)


def _texted(write: Callable[[Any], str], read: Callable[[object], Any], words: str) -> Coder:
    def reading(data: Plain, path: str, _people: People) -> Value:
        try:
            return read(data)
        except ValueError:
            raise _refuse(path, words, data) from None

    return Coder(lambda value, _people: write(value), reading)


def _write_person_id(value: Value, _people: People) -> Plain:
    return {"person": value}


def _read_person_id(data: Plain, path: str, _people: People) -> Value:
    if not (isinstance(data, dict) and set(data) == {"person"} and type(data["person"]) is str):
        raise _refuse(path, 'the id of a person, {"person": "…"}', data)
    return PersonId(data["person"])


def _write_person(value: Value, people: People) -> Plain:
    return {"person": people.id_of(canonical(_person_fields().write(value, people)))}


def _read_person(data: Plain, path: str, people: People) -> Value:
    known = people.data_of(_read_person_id(data, path, people))
    if known is None:
        return erased_person()
    fields = plain(known)
    words = fields.pop("words", None)
    return _person_fields().read(fields if "role" in fields else {"role": words}, path, people)


@cache
def _person_fields() -> Coder:
    return _record(Person)


def _write_words(value: Value, people: People) -> Plain:
    return {"person": people.id_of(canonical({"words": value}))} if value else value


def _read_words(data: Plain, path: str, people: People) -> Value:
    return data if data == "" else words_of(people.data_of(_read_person_id(data, path, people)))


def _read_raw(data: Plain, path: str, _people: People) -> Value:
    if not isinstance(data, dict):
        raise _refuse(path, "an object", data)
    return data


_RAW: Final = Coder(lambda value, _people: dict(value), _read_raw)
_WORDS: Final = Coder(_write_words, _read_words)
_PLAIN_TYPES: Final[dict[Any, Coder]] = {
    str: _typed(str, "text"),
    bool: _typed(bool, "true or false"),
    int: _typed(int, "a whole number"),
    float: _texted(float_text, read_float, "a decimal number as text"),
    Fraction: _texted(fraction_text, read_fraction, "an exact number as text"),
    date: _texted(date.isoformat, read_day, "a day like 2026-11-10"),
    datetime: _texted(instant_text, read_instant, "a moment like 2026-11-10T07:30:00Z"),
    Person: Coder(_write_person, _read_person),
    PersonId: Coder(_write_person_id, _read_person_id),
}


# --- Put together -----------------------------------------------------------------------------


def _choice(allowed: tuple[Any, ...]) -> Coder:
    def read(data: Plain, path: str, _people: People) -> Value:
        if type(data) is not str or data not in allowed:
            raise _refuse(path, "one of " + ", ".join(map(str, allowed)), data)
        return data

    return Coder(lambda value, people: read(value, "", people), read)


def _list(one: Coder) -> Coder:
    def read(data: Plain, path: str, people: People) -> Value:
        if not isinstance(data, list):
            raise _refuse(path, "a list", data)
        return tuple(one.read(item, f"{path}[{at}]", people) for at, item in enumerate(data))

    return Coder(lambda value, people: [one.write(item, people) for item in value], read)


def _mapping(one: Coder) -> Coder:
    def read(data: Plain, path: str, people: People) -> Value:
        if not isinstance(data, dict):
            raise _refuse(path, "an object", data)
        return {key: one.read(item, _under(path, key), people) for key, item in data.items()}

    return Coder(
        lambda value, people: {key: one.write(item, people) for key, item in value.items()}, read
    )


def _union(parts: tuple[Any, ...]) -> Coder:
    kinds = [part for part in parts if part is not types.NoneType]
    inner = _one_of(kinds) if len(kinds) > 1 else coder(kinds[0])
    if len(kinds) == len(parts):
        return inner
    return Coder(
        lambda value, people: None if value is None else inner.write(value, people),
        lambda data, path, people: None if data is None else inner.read(data, path, people),
    )


def _one_of(kinds: list[Any]) -> Coder:
    if set(kinds) == {Fraction, str}:
        return _number_or_word()
    coders = {kind: coder(kind) for kind in kinds}
    called = {_CALLED[kind]: kind for kind in kinds}

    def write(value: Value, people: People) -> Plain:
        return {"is": _CALLED[type(value)], **coders[type(value)].write(value, people)}

    def read(data: Plain, path: str, people: People) -> Value:
        if not isinstance(data, dict) or data.get("is") not in called:
            raise _refuse(_under(path, "is"), "one of " + ", ".join(called), data)
        rest = {key: value for key, value in data.items() if key != "is"}
        return coders[called[data["is"]]].read(rest, path, people)

    return Coder(write, read)


def _number_or_word() -> Coder:
    number, word = _PLAIN_TYPES[Fraction], _PLAIN_TYPES[str]

    def write(value: Value, people: People) -> Plain:
        return value if isinstance(value, str) else {"number": number.write(value, people)}

    def read(data: Plain, path: str, people: People) -> Value:
        if isinstance(data, dict) and set(data) == {"number"}:
            return number.read(data["number"], path, people)
        return word.read(data, path, people)

    return Coder(write, read)


@dataclass(frozen=True, slots=True)
class _Part:
    """One field of a dataclass: its coder and what it is when it is left out."""

    name: str
    coder: Coder
    default: Any
    may_be_left_out: bool


def _parts(kind: type) -> tuple[_Part, ...]:
    hints = typing.get_type_hints(kind)
    made = []
    for field in dataclasses.fields(kind):
        if not field.init:
            continue
        names_a_person = field.name in _NAMES_A_PERSON.get(kind, ())
        default, may = field.default, True
        if field.default_factory is not dataclasses.MISSING:
            default = field.default_factory()
        elif field.default is dataclasses.MISSING:
            may = False
        one = _WORDS if names_a_person else coder(hints[field.name])
        made.append(_Part(field.name, one, default, may))
    return tuple(made)


def _record(kind: Hint) -> Coder:
    parts = _parts(kind)
    by_name = {part.name: part for part in parts}
    needed = [part.name for part in parts if not part.may_be_left_out]

    def write(value: Value, people: People) -> Plain:
        held = ((part, getattr(value, part.name)) for part in parts)
        return {
            part.name: part.coder.write(one, people)
            for part, one in held
            if not (part.may_be_left_out and one == part.default)
        }

    def read(data: Plain, path: str, people: People) -> Value:
        if not isinstance(data, dict):
            raise _refuse(path, "an object", data)
        values = {}
        for name, item in data.items():
            known = by_name.get(name)
            if known is None:
                raise _refuse(_under(path, name), "one of " + ", ".join(by_name), name)
            values[name] = known.coder.read(item, _under(path, name), people)
        missing = [_under(path, name) for name in needed if name not in values]
        if missing:
            raise InputError("is missing", field=missing[0])
        try:
            return kind(**values)
        except InputError as error:
            raise error.within(path) from None

    return Coder(write, read)


def _under(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name
