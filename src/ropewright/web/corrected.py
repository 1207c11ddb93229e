"""What entries say once corrections are applied, and who may correct which."""

from collections.abc import Mapping
from typing import Any, Final

from ropewright.desk.open_book import OpenBook
from ropewright.errors import InputError
from ropewright.web.caller import Caller
from ropewright.web.gate import correctors, role_among

#: Where a content names the one who decides or vouches; nobody vouches in another's name.
VOUCHES: Final = (("by",), ("release", "by"), ("what", "by"))


def contents_of(book: OpenBook, rope_id: str, kind: str) -> list[Mapping[str, Any]]:
    """What the entries of a kind say now, in the order of the book; withdrawn ones are gone.

    Parameters
    ----------
    book
        The book.
    rope_id
        The rope.
    kind
        Kind of entry.
    """
    lines = book.lines(rope_id, kinds={kind, "correction"}, newest_first=False, most=50_000)
    held: dict[str, Mapping[str, Any]] = {}
    for one in lines:
        if one.kind != "correction":
            held[one.entry_id] = one.payload
        elif one.payload["corrects"] in held:
            said = one.payload.get("payload")
            if said is None:
                del held[one.payload["corrects"]]
            else:
                held[one.payload["corrects"]] = said
    return list(held.values())


def corrector_role(book: OpenBook, caller: Caller, said: Mapping[str, Any], role: str) -> str:
    """The role in which a person may make a correction: the one wanted, or their first.

    Parameters
    ----------
    book
        The book that has the entry.
    caller
        Who corrects.
    said
        The content of the correction.
    role
        The role wanted.

    Raises
    ------
    InputError
        If what is corrected is for others to correct, or the new content speaks for another.
    """
    line = book.line(str(said.get("corrects", "")))
    allowed = correctors("" if line is None else line.kind)
    found = role_among((role, *caller.roles), allowed)
    if not found:
        raise InputError(
            field="role", expected="one of " + ", ".join(sorted(allowed)),
            given=", ".join(caller.roles),
            hint="what holds a rope back, or was vouched for by name, is put right by them",
        )  # fmt: skip
    before = {} if line is None else line.payload
    for path in VOUCHES:
        named = person_at(said.get("payload"), path)
        if named not in (None, caller.person_id, person_at(before, path)):
            raise InputError(
                field=".".join(("payload", "payload", *path)),
                expected="the person who is logged in, or who said it first", given=named,
                hint="nobody decides in another's name",
            )  # fmt: skip
    return found


def person_at(content: Any, path: tuple[str, ...]) -> Any:  # noqa: ANN401 - as it was sent
    """The person that a content names at a place, ``None`` if it names none there."""
    found = content
    for key in (*path, "person"):
        found = found.get(key) if isinstance(found, dict) else None
    return found
