"""Entries that were handed in: each is taken, known already, or refused with its reason."""

import uuid
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any, cast

from sqlalchemy import Connection, select

from ropewright.desk.open_book import Draft, Taken
from ropewright.errors import InputError, InputErrors, RopewrightError
from ropewright.inspection import Dossier
from ropewright.logbook.appending import append, rope_entries
from ropewright.logbook.book import Book, people_of
from ropewright.logbook.canon import canonical, plain
from ropewright.logbook.codec import from_plain, to_plain
from ropewright.logbook.entry import Entry, Hand, check_entry, trusted_entry
from ropewright.logbook.kinds import Role, kind_of
from ropewright.logbook.people import People, Unnamed
from ropewright.logbook.tables import ENTRIES
from ropewright.logbook.to_dossier import dossier_from_entries

Trial = Callable[[Dossier], object]

#: A device clock that is further off than this is not believed [s]; own choice.
MOST_OFF_S = 10 * 365 * 86_400


def entry_of(draft: Draft) -> Entry:
    """The entry that a draft stands for, with its content written in the one way it can be.

    Raises
    ------
    InputError
        If anything is wrong; names the field.
    """
    kind = kind_of(draft.kind)
    if not kind.of_rope:
        raise InputError(
            field="kind", expected="a kind of entry that belongs to a rope", given=draft.kind
        )
    data = plain(draft.payload) if isinstance(draft.payload, str) else draft.payload
    plain(canonical(data))  # no floats, no doubled keys, only text that can be kept
    unnamed = Unnamed()
    value = from_plain(data, kind.payload, unnamed, path="payload")
    made = Entry(
        entry_id=draft.entry_id or str(uuid.uuid4()),
        rope_id=draft.rope_id,
        kind=kind.name,
        payload=canonical(to_plain(value, unnamed, hint=kind.payload)),
        happened_on=draft.happened_on,
        happened_at=_utc(draft.happened_at),
        typed_at=_utc(draft.typed_at),
        clock_off_s=draft.clock_off_s,
        by=(Hand(person=draft.person, role=cast(Role, draft.role)),) if draft.person else (),
    )
    if made.clock_off_s is not None and abs(made.clock_off_s) > MOST_OFF_S:
        raise InputError(
            field="device.sent_at", expected="a device clock within ten years",
            given=f"{made.clock_off_s} s off",
        )  # fmt: skip
    return check_entry(made)


def _utc(moment: datetime | None) -> datetime | None:
    return None if moment is None else moment.astimezone(UTC)


@dataclass(slots=True)
class _Waiting:
    at: int
    entry: Entry


def take_drafts(
    book: Book, drafts: Sequence[Draft], *, trial: Trial | None = None
) -> tuple[Taken, ...]:
    """Take in what can be taken; one refused entry never holds up the others.

    All of it is one transaction: when this returns, what is said to be taken is on the disk.
    An entry that stands in the book already is known, even when the device's clock has moved
    since it was first sent.

    Parameters
    ----------
    book
        The book.
    drafts
        As handed in.
    trial
        Tried on the rope with the new entries; see `ropewright.desk.open_book.OpenBook.take`.
    """
    results: dict[int, Taken] = {}
    waiting: list[_Waiting] = []
    for at, draft in enumerate(drafts):
        try:
            waiting.append(_Waiting(at, entry_of(draft)))
        except InputError as error:
            results[at] = _refused(draft.entry_id, error)
        except RecursionError:
            deep = InputError(field="payload", expected="content that is not nested so deep")
            results[at] = _refused(draft.entry_id, deep)
    twice: dict[int, int] = {}
    with book.writer() as conn:
        fresh = _without_known(conn, waiting, results, twice)
        people = people_of(conn)
        for rope_id in dict.fromkeys(one.entry.rope_id for one in fresh):
            of_rope = [one for one in fresh if one.entry.rope_id == rope_id]
            _take_rope(conn, rope_id, of_rope, people, trial, book.now(), results)
    for at, first in twice.items():
        met = results[first]
        results[at] = replace(met, state="known") if met.state == "taken" else met
    return tuple(results[at] for at in range(len(drafts)))


def _refused(entry_id: str, error: RopewrightError) -> Taken:
    first = error.errors[0] if isinstance(error, InputErrors) else error
    return Taken(
        entry_id=entry_id, state="refused", reason=str(error), field=first.field or "entry"
    )


def _without_known(
    conn: Connection,
    waiting: Iterable[_Waiting],
    results: dict[int, Taken],
    twice: dict[int, int],
) -> list[_Waiting]:
    """Entries that are new; those that stand in the book get their answer.

    The same one again in one sending is noted in ``twice``: it fares as the first of them.
    """
    fresh: dict[str, _Waiting] = {}
    for one in waiting:
        entry = one.entry
        query = select(ENTRIES.c.content, ENTRIES.c.sequence)
        row = conn.execute(query.where(ENTRIES.c.entry_id == entry.entry_id)).first()
        before = fresh.get(entry.entry_id)
        held = trusted_entry(row.content) if row else (before.entry if before else None)
        if held is None:
            fresh[entry.entry_id] = one
        elif replace(entry, clock_off_s=held.clock_off_s) != held:
            results[one.at] = Taken(
                entry_id=entry.entry_id, state="refused", field="id",
                reason="an entry with this id stands in the book with other content; "
                "entries are never changed: send a correction",
            )  # fmt: skip
        elif row is not None:
            results[one.at] = Taken(entry_id=entry.entry_id, state="known", sequence=row.sequence)
        elif before is not None:
            twice[one.at] = before.at
    return list(fresh.values())


def _take_rope(
    conn: Connection,
    rope_id: str,
    waiting: list[_Waiting],
    people: People,
    trial: Trial | None,
    now: datetime,
    results: dict[int, Taken],
) -> None:
    """Take the new entries of one rope: all at once if they go together, else one by one."""
    here = tuple(rope_entries(conn, rope_id))
    works = _error_with(here, people, trial)
    if works is None:
        error = _error_with((*here, *(one.entry for one in waiting)), people, trial)
        if error is None and _append(conn, waiting, now, results):
            return
    while waiting:
        left: list[tuple[_Waiting, RopewrightError]] = []
        for one in waiting:
            with_it = (*here, one.entry)
            error = _error_with(with_it, people, trial) if works is None else None
            if error is None:
                error = _append_one(conn, one, now, results)
            if error is None:
                here = with_it
                works = _error_with(here, people, trial)
            else:
                left.append((one, error))
        if len(left) == len(waiting):  # a whole round in which nothing could be taken
            for one, reason in left:
                results[one.at] = _refused(one.entry.entry_id, reason)
            return
        waiting = [one for one, _ in left]


def _error_with(
    entries: tuple[Entry, ...], people: People, trial: Trial | None
) -> RopewrightError | None:
    """What is wrong with a rope of these entries, ``None`` if it can be put together."""
    try:
        dossier = dossier_from_entries(entries, people)
        if trial is not None:
            trial(dossier)
    except RopewrightError as error:
        return error
    return None


def _append(
    conn: Connection, waiting: list[_Waiting], now: datetime, results: dict[int, Taken]
) -> bool:
    try:
        receipts = append(conn, [one.entry for one in waiting], now)
    except InputError:
        return False
    for one, receipt in zip(waiting, receipts, strict=True):
        results[one.at] = _taken(one.entry, receipt.sequence)
    return True


def _append_one(
    conn: Connection, one: _Waiting, now: datetime, results: dict[int, Taken]
) -> RopewrightError | None:
    try:
        (receipt,) = append(conn, [one.entry], now)
    except InputError as error:
        return error
    results[one.at] = _taken(one.entry, receipt.sequence)
    return None


def _taken(entry: Entry, sequence: int) -> Taken:
    return Taken(entry_id=entry.entry_id, state="taken", sequence=sequence)


def plain_payload(entry: Entry) -> dict[str, Any]:
    """The content of an entry as plain data."""
    data = plain(entry.payload)
    return data if isinstance(data, dict) else {}
