"""Taking a dossier into a book: new things are added, known ones left, changed ones put right."""

import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection

from ropewright.errors import EntryConflictError, raise_if_any
from ropewright.inspection import Dossier, Inspection
from ropewright.logbook.appending import append, note_persons, rope_entries
from ropewright.logbook.book import Book, people_of
from ropewright.logbook.bookkeeping import Correction
from ropewright.logbook.canon import canonical
from ropewright.logbook.corrections import corrected_entries
from ropewright.logbook.entry import Entry, check_entry, new_entry, stable_id
from ropewright.logbook.from_dossier import entries_from_dossier, entries_from_inspections
from ropewright.logbook.people import People, Unnamed
from ropewright.logbook.to_dossier import dossier_from_entries


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """What became of everything that was handed in, entry by entry."""

    taken: tuple[Entry, ...] = ()
    already: tuple[Entry, ...] = ()
    corrected: tuple[Entry, ...] = ()

    def lines(self) -> tuple[str, ...]:
        """One line for each entry."""
        named = (
            ("taken", self.taken), ("corrected", self.corrected), ("already there", self.already),
        )  # fmt: skip
        return tuple(
            f"{word}: {entry.kind}, {entry.happened_on or 'not dated'}, {entry.entry_id}"
            for word, entries in named
            for entry in entries
        )


def take_in_dossier(book: Book, dossier: Dossier, *, correct: str | None = None) -> Account:
    """Take a rope into the book, all or nothing; the same again is harmless.

    Parameters
    ----------
    book
        The book.
    dossier
        Everything known of the rope.
    correct
        Why entries that are in the book with other content are corrected; without a reason
        they are refused.

    Raises
    ------
    EntryConflictError
        If something stands in the book with other content and no reason is given.
    """
    return _take_in(
        book, dossier.rope.rope_id, lambda people: entries_from_dossier(dossier, people), correct
    )


def take_in_inspections(
    book: Book,
    rope_id: str,
    inspections: Sequence[Inspection],
    *,
    origin: str,
    correct: str | None = None,
) -> Account:
    """Add inspections to a rope that is in the book, all or nothing; the same again is harmless.

    Parameters
    ----------
    book
        The book.
    rope_id
        The rope.
    inspections
        What to add.
    origin
        Where they come from, such as ``old cards``.
    correct
        As for `take_in_dossier`.

    Raises
    ------
    UnknownNameError
        If the book has no such rope.
    InputError
        If the rope has an inspection of that id from elsewhere.
    EntryConflictError
        If something stands in the book with other content and no reason is given.
    """
    book.need_rope(rope_id)
    return _take_in(
        book,
        rope_id,
        lambda people: entries_from_inspections(
            inspections, people, rope_id=rope_id, origin=origin
        ),
        correct,
        must_fit=True,
    )


def _take_in(
    book: Book,
    rope_id: str,
    make: Callable[[People], Sequence[Entry]],
    correct: str | None,
    *,
    must_fit: bool = False,
) -> Account:
    with book.writer() as conn:
        people = people_of(conn)
        made = [check_entry(entry) for entry in make(people)]
        new, already, changed = _sorted_out(conn, rope_id, made)
        if changed and correct is None:
            raise_if_any(_refusal(entry) for entry, _ in changed)
        corrections = [_correction(entry, number, correct or "") for entry, number in changed]
        noted = note_persons(conn, people.new)
        append(conn, [*noted, *new, *corrections], book.now())
        if must_fit:  # read as a whole before it counts: nothing may contradict what is there
            dossier_from_entries(rope_entries(conn, rope_id), people_of(conn))
    return Account(
        taken=tuple(new),
        already=tuple(already),
        corrected=tuple(entry for entry, _ in changed),
    )


def _sorted_out(
    conn: Connection, rope_id: str, made: Iterable[Entry]
) -> tuple[list[Entry], list[Entry], list[tuple[Entry, int]]]:
    """New entries, those that hold already, and changed ones with how often they changed."""
    here = tuple(rope_entries(conn, rope_id))
    known = {entry.entry_id for entry in here}
    holds = {entry.entry_id: entry for entry in corrected_entries(here)}
    times: dict[str, int] = {}
    for entry in here:
        if entry.kind == "correction":
            target = json.loads(entry.payload)["corrects"]
            times[target] = times.get(target, 0) + 1
    new, already, changed = [], [], []
    for entry in made:
        if entry.entry_id not in known:
            new.append(entry)
        elif holds.get(entry.entry_id) == entry:
            already.append(entry)
        else:
            changed.append((entry, times.get(entry.entry_id, 0)))
    return new, already, changed


def _refusal(entry: Entry) -> EntryConflictError:
    return EntryConflictError(
        f"{entry.kind} of {entry.happened_on or 'no day'} stands in the book with other content",
        field=f"rope {entry.rope_id}",
        given=entry.entry_id,
        hint="if it is another rope, give it an id of its own; entries are never changed: say why "
        "it is corrected, and a correction is added",
    )


def _correction(entry: Entry, number: int, reason: str) -> Entry:
    payload = json.loads(entry.payload)
    on = entry.happened_on
    said = Correction(corrects=entry.entry_id, reason=reason, payload=payload, happened_on=on)
    name = canonical([entry.entry_id, number, payload, None if on is None else on.isoformat()])
    made = new_entry(
        said,
        Unnamed(),
        rope_id=entry.rope_id,
        entry_id=stable_id("correction", name),
        happened_on=on,
    )
    return check_entry(made)
