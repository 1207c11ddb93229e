"""Ropes of another book that bear a name this book knows: one rope, or two of one name."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from sqlalchemy import Connection, select

from ropewright.errors import BookError, InputError, UnknownNameError, raise_if_any
from ropewright.logbook.appending import chunks
from ropewright.logbook.canon import canonical
from ropewright.logbook.entry import Entry, stable_id
from ropewright.logbook.tables import ENTRIES


@dataclass(frozen=True, kw_only=True)
class RopeNames:
    """What ropes of another book are called here.

    ``called`` gives new names by the old ones; ``same`` are ropes that a person says are the
    same one although the two books share no entry of it.
    """

    called: Mapping[str, str] = field(default_factory=dict)
    same: frozenset[str] = frozenset()

    def renamed(self, entry: Entry) -> Entry:
        """The entry as it stands under the rope's name here.

        A renamed entry gets an id that follows from the old one, so that the same export taken in
        again is harmless; a correction still points at what it corrects.
        """
        name = self.called.get(entry.rope_id)
        if name is None:
            return entry
        payload = entry.payload
        if entry.kind == "correction":
            said = json.loads(payload)
            said["corrects"] = _id_here(said["corrects"], name)
            payload = canonical(said)
        return replace(
            entry, entry_id=_id_here(entry.entry_id, name), rope_id=name, payload=payload
        )


def _id_here(entry_id: str, name: str) -> str:
    return stable_id("renamed", entry_id, name)


def check_names(
    conn: Connection, entries: Iterable[tuple[str, str]], names: RopeNames, *, file: str
) -> tuple[str, ...]:
    """Refuse ropes of which nobody knows whether they are the ones of the same name here.

    Parameters
    ----------
    conn
        A transaction of this book.
    entries
        Rope and id of every entry of the other book.
    names
        What a person said about names.
    file
        Name of the export, for errors.

    Returns
    -------
    tuple of str
        The ropes the other book has, by their names there.

    Raises
    ------
    BookError
        If a rope bears a name that this book knows and the two share no entry of it.
    UnknownNameError
        If a name is changed that the other book does not have.
    """
    sent: dict[str, set[str]] = {}
    for rope_id, entry_id in entries:
        if rope_id:
            sent.setdefault(rope_id, set()).add(entry_id)
    for old in (*names.called, *sorted(names.same)):
        if old not in sent:
            raise UnknownNameError(what="a rope of the export", given=old, known=sent, file=file)
    there = [names.called.get(old, old) for old in sent]
    if len(set(there)) != len(there):
        double = sorted({name for name in there if there.count(name) > 1})
        raise InputError(
            field="--as", expected="a name of its own for each rope", given=", ".join(double),
            file=file,
        )  # fmt: skip
    raise_if_any(
        _two_of_one_name(old, name, file)
        for old, name in zip(sent, there, strict=True)
        if old not in names.same and _is_another(conn, name, sent[old], renamed=name != old)
    )
    return tuple(sorted(sent))


def _is_another(conn: Connection, name: str, ids: set[str], *, renamed: bool) -> bool:
    """Whether a rope of this name is here that shares no entry with the one sent."""
    table = ENTRIES.c
    here = select(table.entry_id).where(table.rope_id == name)
    if conn.execute(here.limit(1)).first() is None:
        return False
    sought = {_id_here(one, name) for one in ids} if renamed else ids
    return not any(
        conn.execute(here.where(table.entry_id.in_(part)).limit(1)).first()
        for part in chunks(sorted(sought))
    )


def _two_of_one_name(old: str, name: str, file: str) -> BookError:
    return BookError(
        f"rope {name!r} is in this book already, and the export has no entry of it that is here",
        file=file,
        field=f"rope {old}",
        expected="another name if it is another rope, or the word that it is the same",
        given=name,
        hint=f"--as '{old}=NEW NAME' for another rope, --same '{old}' for the same",
    )
