"""Adding entries: the one place where a logbook grows."""

import json
import secrets
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final, TypeVar

from sqlalchemy import Connection, select
from sqlalchemy.dialects import postgresql, sqlite

from ropewright.errors import EntryConflictError, InputError, raise_if_any
from ropewright.logbook.bookkeeping import PersonNoted
from ropewright.logbook.canon import canonical, instant_text, read_day
from ropewright.logbook.entry import (
    Entry,
    check_entry,
    new_entry,
    trusted_entry,
    with_payload,
)
from ropewright.logbook.people import Unnamed
from ropewright.logbook.second_person import check_second_person
from ropewright.logbook.standing import (
    Standing,
    advance,
    fresh,
    read_standing,
    standing_of,
    standing_text,
)
from ropewright.logbook.tables import BOOK, ENTRIES, PERSONS, STANDING
from ropewright.logbook.verify_book import (
    book_link,
    first_link,
    first_rope_link,
    person_link,
    rope_link,
)

_CHUNK: Final = 500
_T = TypeVar("_T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Receipt:
    """An entry was taken in: where it stands, and whether it stood there already."""

    entry_id: str
    sequence: int
    book_hash: str
    already: bool


def chunks(items: Iterable[_T], size: int = _CHUNK) -> Iterator[list[_T]]:
    """Items in lists of at most so many."""
    held: list[_T] = []
    for item in items:
        held.append(item)
        if len(held) == size:
            yield held
            held = []
    if held:
        yield held


def note_persons(conn: Connection, persons: Mapping[str, str]) -> tuple[Entry, ...]:
    """Keep new persons apart and give the entries that vouch for what is kept."""
    made = []
    for person_id, data in persons.items():
        salt = secrets.token_hex(16)
        conn.execute(PERSONS.insert().values(person_id=person_id, salt=salt, data=data))
        noted = PersonNoted(person=person_id, seal=person_link(salt, data))
        made.append(new_entry(noted, Unnamed()))
    return tuple(made)


def append(conn: Connection, entries: Sequence[Entry], now: datetime) -> tuple[Receipt, ...]:
    """Add entries in the transaction of ``conn``, which already holds the lock.

    An entry that stands in the book already is left alone; its receipt says so.

    Parameters
    ----------
    conn
        A writing transaction.
    entries
        Checked entries, in order.
    now
        The book's clock.

    Raises
    ------
    EntryConflictError
        If an id stands in the book already with other content.
    InputError
        If an entry names a person or a corrected entry that the book does not have.
    """
    arrived_at = instant_text(now)
    contents = [entry.content for entry in entries]
    known = _known(conn, [entry.entry_id for entry in entries])
    fresh_ones: dict[str, tuple[Entry, str]] = {}
    conflicts: list[InputError] = []
    for entry, content in zip(entries, contents, strict=True):
        before = known.get(entry.entry_id)
        held = fresh_ones.get(entry.entry_id)
        text = before.content if before is not None else (held[1] if held else None)
        if text is not None and text != content:
            conflicts.append(_conflict(entry))
        elif text is None:
            fresh_ones[entry.entry_id] = entry, content
    raise_if_any(conflicts)
    new = [entry for entry, _ in fresh_ones.values()]
    _check_persons(conn, new)
    _check_corrections(conn, new)
    check_second_person(conn, new)
    rows = _linked(conn, list(fresh_ones.values()), arrived_at)
    for part in chunks(rows, 5000):
        conn.execute(ENTRIES.insert(), part)
    _stand(conn, new, rows)
    made = {row["entry_id"]: (row["sequence"], row["book_hash"]) for row in rows}
    receipts = []
    for entry in entries:
        old = known.get(entry.entry_id)
        sequence, link = (old.sequence, old.book_hash) if old else made[entry.entry_id]
        receipts.append(
            Receipt(
                entry_id=entry.entry_id,
                sequence=sequence,
                book_hash=link,
                already=old is not None,
            )
        )
    return tuple(receipts)


def _conflict(entry: Entry) -> EntryConflictError:
    return EntryConflictError(
        f"stands in the book already with other content: {entry.kind}",
        field=f"rope {entry.rope_id}" if entry.rope_id else None,
        given=entry.entry_id,
        hint="entries are never changed; a correction puts one right",
    )


def _known(conn: Connection, ids: Sequence[str]) -> dict[str, Any]:
    found = {}
    table = ENTRIES.c
    for part in chunks(ids):
        query = select(table.entry_id, table.sequence, table.content, table.book_hash)
        for row in conn.execute(query.where(table.entry_id.in_(part))):
            found[row.entry_id] = row
    return found


def _check_persons(conn: Connection, entries: Iterable[Entry]) -> None:
    named: dict[str, Entry] = {}
    for entry in entries:
        for person in entry.persons:
            named.setdefault(person, entry)
    missing = set(named)
    for part in chunks(sorted(named)):
        query = select(PERSONS.c.person_id).where(PERSONS.c.person_id.in_(part))
        missing -= set(conn.execute(query).scalars())
    raise_if_any(
        InputError(
            field=f"{named[person].kind}.person",
            expected="the id of a person that the book knows",
            given=person,
        )
        for person in sorted(missing)
    )


def _check_corrections(conn: Connection, entries: Sequence[Entry]) -> None:
    """A correction has to fit the kind of the entry it puts right, of the same rope."""
    corrections = [entry for entry in entries if entry.kind == "correction"]
    if not corrections:
        return
    said = [json.loads(entry.payload) for entry in corrections]
    known = {
        name: trusted_entry(row.content)
        for name, row in _known(conn, [one["corrects"] for one in said]).items()
    }
    known |= {entry.entry_id: entry for entry in entries}
    for correction, one in zip(corrections, said, strict=True):
        target = known.get(one["corrects"])
        if target is None or target.rope_id != correction.rope_id or target.kind == "correction":
            raise InputError(
                field="correction.corrects",
                expected="an entry of the same rope that is no correction itself",
                given=one["corrects"],
            )
        if one.get("payload") is not None:
            on = one.get("happened_on")
            day = target.happened_on if on is None else read_day(on)
            check_entry(with_payload(target, canonical(one["payload"]), day))


def _linked(
    conn: Connection, entries: Sequence[tuple[Entry, str]], arrived_at: str
) -> list[dict[str, Any]]:
    """Rows for new entries, each hashed onto the one before."""
    table = ENTRIES.c
    query = select(table.sequence, table.book_hash).order_by(table.sequence.desc()).limit(1)
    last = conn.execute(query).first()
    if last is None:
        sequence, link = 0, first_link(conn.execute(select(BOOK.c.book_id)).scalar_one())
    else:
        sequence, link = last.sequence, last.book_hash
    heads = {rope: _head(conn, rope) for rope in {entry.rope_id for entry, _ in entries}}
    rows = []
    for entry, content in entries:
        sequence += 1
        count, before = heads[entry.rope_id]
        count += 1
        link = book_link(link, sequence, count, arrived_at, content)
        of_rope = rope_link(before, count, arrived_at, content)
        heads[entry.rope_id] = count, of_rope
        rows.append(
            {
                "sequence": sequence,
                "entry_id": entry.entry_id,
                "rope_id": entry.rope_id,
                "rope_sequence": count,
                "kind": entry.kind,
                "happened_on": entry.happened_on,
                "arrived_at": arrived_at,
                "content": content,
                "book_hash": link,
                "rope_hash": of_rope,
            }
        )
    return rows


def _head(conn: Connection, rope_id: str) -> tuple[int, str]:
    table = ENTRIES.c
    query = (
        select(table.rope_sequence, table.rope_hash)
        .where(table.rope_id == rope_id)
        .order_by(table.rope_sequence.desc())
        .limit(1)
    )
    last = conn.execute(query).first()
    return (0, first_rope_link(rope_id)) if last is None else (last[0], last[1])


def _stand(conn: Connection, entries: Sequence[Entry], rows: Sequence[dict[str, Any]]) -> None:
    """Bring the standing of every rope that got entries up to date."""
    by_rope: dict[str, list[Entry]] = {}
    newest: dict[str, int] = {}
    for entry, row in zip(entries, rows, strict=True):
        if entry.rope_id:
            by_rope.setdefault(entry.rope_id, []).append(entry)
            newest[entry.rope_id] = row["sequence"]
    stored: dict[str, str] = {}
    for part in chunks(by_rope):
        query = select(STANDING.c.rope_id, STANDING.c.data).where(STANDING.c.rope_id.in_(part))
        stored.update((rope, data) for rope, data in conn.execute(query))
    write_standing(
        conn,
        (
            (rope, newest[rope], _next(conn, rope, stored.get(rope), new))
            for rope, new in by_rope.items()
        ),
    )


def _next(conn: Connection, rope_id: str, stored: str | None, new: Sequence[Entry]) -> Standing:
    if any(entry.kind == "correction" for entry in new):
        return standing_of(rope_id, rope_entries(conn, rope_id))
    record = fresh(rope_id) if stored is None else read_standing(stored)
    for entry in new:
        record = advance(record, entry)
    return record


def rope_entries(conn: Connection, rope_id: str) -> Iterator[Entry]:
    """All entries of a rope, in the order of the book."""
    table = ENTRIES.c
    query = select(table.content).where(table.rope_id == rope_id).order_by(table.rope_sequence)
    for content in conn.execute(query).scalars():
        yield trusted_entry(content)


def write_standing(conn: Connection, records: Iterable[tuple[str, int, Standing]]) -> None:
    """Write records of ropes, each with the number of its newest entry."""
    insert = (postgresql if conn.dialect.name == "postgresql" else sqlite).insert(STANDING)
    upsert = insert.on_conflict_do_update(
        index_elements=[STANDING.c.rope_id],
        set_={"sequence": insert.excluded.sequence, "data": insert.excluded.data},
    )
    for part in chunks(records):
        conn.execute(
            upsert,
            [
                {"rope_id": rope, "sequence": sequence, "data": standing_text(record)}
                for rope, sequence, record in part
            ],
        )
