"""A book that stays open while pages are served: the port of the desk, filled."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date
from typing import Any, cast

from sqlalchemy import ColumnElement, and_, bindparam, func, or_, select

from ropewright.desk.installing import FittingGuide
from ropewright.desk.open_book import BookMoved, Check, Draft, Line, Stand, Taken
from ropewright.errors import UnknownNameError
from ropewright.inspection import Dossier, Inspection
from ropewright.logbook.access_tables import GLANCES
from ropewright.logbook.book import Book, stored_of
from ropewright.logbook.canon import canonical
from ropewright.logbook.checking import verify
from ropewright.logbook.entry import Hand
from ropewright.logbook.fitting import guide_of
from ropewright.logbook.kinds import KINDS, Role
from ropewright.logbook.people import words_of
from ropewright.logbook.photos import add_photo, photo_to_show
from ropewright.logbook.renaming import RopeNames
from ropewright.logbook.reports import keep_report, kept_report
from ropewright.logbook.seal import Seal
from ropewright.logbook.standing import read_standing
from ropewright.logbook.tables import ENTRIES, PERSONS, STANDING
from ropewright.logbook.take_in import take_in_dossier, take_in_inspections
from ropewright.logbook.taking import plain_payload, take_drafts
from ropewright.logbook.uploaded import import_uploaded

#: Persons are noted and erased, never changed: two counts tell whether anything is new of them.
_PEOPLE = (
    select(func.count(PERSONS.c.person_id)).scalar_subquery().label("persons"),
    select(func.count(PERSONS.c.erased_at)).scalar_subquery().label("erased"),
)
_STAND = select(STANDING, *_PEOPLE).where(STANDING.c.rope_id == bindparam("rope_id"))


class ServedBook:
    """What pages and phones ask of an open book; see `ropewright.desk.open_book.OpenBook`.

    Parameters
    ----------
    book
        The open book.
    """

    def __init__(self, book: Book) -> None:
        self._book = book

    @property
    def book_id(self) -> str:
        """Which book this is."""
        return self._book.book_id

    @property
    def address(self) -> str:
        """Where it is, as it may be shown."""
        return self._book.address

    def newest(self) -> int:
        """Number of the newest entry [-]."""
        with self._book.reader() as conn:
            return int(conn.execute(select(func.max(ENTRIES.c.sequence))).scalar() or 0)

    def seal(self) -> str:
        """The seal of the book as it is."""
        return str(self._book.seal())

    def stands(self) -> Sequence[Stand]:
        """Where every rope stands, sorted by rope."""
        with self._book.reader() as conn:
            rows = conn.execute(select(STANDING)).all()
            people = conn.execute(select(*_PEOPLE)).one()
        made = [
            Stand(
                rope_id=row.rope_id, sequence=row.sequence, record=read_standing(row.data),
                people=(people.persons, people.erased),
            )
            for row in rows
        ]  # fmt: skip
        return sorted(made, key=lambda one: one.rope_id)

    def stand(self, rope_id: str) -> Stand:
        """Where one rope stands.

        Raises
        ------
        UnknownNameError
            If the book has no such rope; names near ones.
        """
        with self._book.reader() as conn:
            row = conn.execute(_STAND, {"rope_id": rope_id}).first()
        if row is None:
            raise UnknownNameError(
                what="a rope of this book", given=rope_id, known=self._book.rope_ids()
            )
        return Stand(
            rope_id=rope_id, sequence=row.sequence, record=read_standing(row.data),
            people=(row.persons, row.erased),
        )  # fmt: skip

    def dossier(self, rope_id: str) -> Dossier:
        """Everything known of a rope."""
        return self._book.dossier(rope_id)

    def rope_head(self, rope_id: str) -> str:
        """The last hash of a rope's chain."""
        table = ENTRIES.c
        query = select(table.rope_hash).where(table.rope_id == rope_id)
        with self._book.reader() as conn:
            return str(
                conn.execute(query.order_by(table.rope_sequence.desc()).limit(1)).scalar() or ""
            )

    def lines(
        self,
        rope_id: str | None = None,
        *,
        kinds: Collection[str] = (),
        newest_first: bool = True,
        most: int = 500,
        before: int | None = None,
        days: tuple[date | None, date | None] = (None, None),
    ) -> Sequence[Line]:
        """Entries of a rope, of the book itself (empty text) or of everything (``None``).

        Parameters
        ----------
        rope_id
            The rope.
        kinds
            Only these kinds of entries; all if none is named.
        newest_first
            The other way round if false.
        most
            At most so many [-].
        before
            Only entries with a lower number [-]: the rope's own, or the book's for everything.
        days
            Only what happened from the first to the last of these days; what has no day of its
            own goes by the day on which it arrived.
        """
        # A rope's own numbers rise as the book's do, and there is an index on them.
        number = ENTRIES.c.sequence if rope_id is None else ENTRIES.c.rope_sequence
        query = select(ENTRIES).order_by(number.desc() if newest_first else number).limit(most)
        if rope_id is not None:
            query = query.where(ENTRIES.c.rope_id == rope_id)
        if kinds:
            query = query.where(ENTRIES.c.kind.in_(sorted(kinds)))
        if before is not None:
            query = query.where(number < before)
        for limit in _within(*days):
            query = query.where(limit)
        with self._book.reader() as conn:
            return [_line(row) for row in conn.execute(query)]

    def kinds(self, rope_id: str | None = None) -> Mapping[str, int]:
        """How many entries of each kind [-] a rope has, or the whole book (``None``)."""
        query = select(ENTRIES.c.kind, func.count()).group_by(ENTRIES.c.kind)
        if rope_id is not None:
            query = query.where(ENTRIES.c.rope_id == rope_id)
        with self._book.reader() as conn:
            return {row[0]: row[1] for row in conn.execute(query.order_by(ENTRIES.c.kind))}

    def line(self, entry_id: str) -> Line | None:
        """One entry by its id."""
        with self._book.reader() as conn:
            row = conn.execute(select(ENTRIES).where(ENTRIES.c.entry_id == entry_id)).first()
        return None if row is None else _line(row)

    def names(self) -> Mapping[str, str]:
        """Every known person as one line of text, by id."""
        with self._book.reader() as conn:
            rows = conn.execute(select(PERSONS.c.person_id, PERSONS.c.data)).all()
        return {row.person_id: words_of(row.data) for row in rows}

    # --- Adding ---

    def take(
        self, drafts: Sequence[Draft], *, trial: Callable[[Dossier], object] | None = None
    ) -> Sequence[Taken]:
        """Take in what can be taken; one refused entry never holds up the others."""
        return take_drafts(self._book, drafts, trial=trial)

    def note_person(self, *, name: str, role: str) -> str:
        """Make a person known to the book; gives the id."""
        data = canonical({"name": name, "role": role})
        known = ""

        def make(people: Any) -> Sequence[Any]:  # noqa: ANN401 - persons of the book
            nonlocal known
            known = people.id_of(data)
            return ()

        self._book.append_made(make)
        return known

    def add_photo(
        self,
        data: bytes,
        *,
        rope_id: str,
        finding_id: str,
        inspection_id: str,
        entry_id: str,
        person: str,
        role: str,
        happened_on: date | None = None,
        caption: str = "",
    ) -> str:
        """Keep a photo and add its entry; gives its hash."""
        sha256, _ = add_photo(
            self._book, data, rope_id=rope_id, finding_id=finding_id,
            inspection_id=inspection_id, entry_id=entry_id, happened_on=happened_on,
            caption=caption, by=(Hand(person=person, role=cast(Role, role)),) if person else (),
        )  # fmt: skip
        return sha256

    def photo(self, sha256: str) -> bytes:
        """The copy of a photo without its location."""
        return photo_to_show(self._book, sha256)

    def keep_report(self, data: bytes) -> str:
        """Keep a report frozen as it was signed; gives its hash."""
        return keep_report(self._book, data)

    def report(self, sha256: str) -> bytes:
        """A report that was kept."""
        return kept_report(self._book, sha256)

    # --- The whole book ---

    def check(self, seals: Iterable[str] = ()) -> Check:
        """Verify the whole book, also against earlier seals."""
        found = verify(self._book, [Seal.parse(text) for text in seals])
        return Check(
            seal=str(found.seal), entries=found.entries, ropes=found.ropes, seals=found.seals,
            problems=tuple(map(str, found.problems)),
        )  # fmt: skip

    def take_in(self, dossier: Dossier, *, correct: str | None = None) -> Sequence[str]:
        """Take a rope into the book; gives one line for each entry."""
        return take_in_dossier(self._book, dossier, correct=correct).lines()

    def take_in_book(
        self, name: str, data: bytes, *, called: Mapping[str, str], same: Collection[str]
    ) -> BookMoved:
        """Take another book in, by the name of its file; ``called`` are new names of ropes."""
        names = RopeNames(called=called, same=frozenset(same))
        found = import_uploaded(self._book, name, data, names=names)
        return BookMoved(
            seal=str(found.seal), taken=found.taken, already=found.already, photos=found.photos,
            photos_absent=found.photos_absent, lines=found.lines,
        )  # fmt: skip

    def take_in_cards(
        self, rope_id: str, inspections: Sequence[Inspection], *, correct: str | None = None
    ) -> Sequence[str]:
        """Add inspections of old cards to a rope; gives one line for each entry."""
        return take_in_inspections(
            self._book, rope_id, inspections, origin="old cards", correct=correct
        ).lines()

    def fitting(self, rope_id: str) -> FittingGuide:
        """What is done of fitting a rope, and what comes next."""
        return guide_of(self._book, rope_id)

    def kept_glances(self) -> Mapping[str, tuple[str, str]]:
        """What was kept of each rope: what it was made from, and its text."""
        with self._book.reader() as conn:
            rows = conn.execute(select(GLANCES)).all()
        return {row.rope_id: (row.made_from, row.data) for row in rows}

    def keep_glances(self, made: Mapping[str, tuple[str, str]]) -> None:
        """Keep what was judged of ropes, in place of what was kept before."""
        if not made:
            return
        with self._book.writer() as conn:
            conn.execute(GLANCES.delete().where(GLANCES.c.rope_id.in_(list(made))))
            conn.execute(
                GLANCES.insert(),
                [
                    {"rope_id": rope, "made_from": key, "data": text}
                    for rope, (key, text) in made.items()
                ],
            )

    def close(self) -> None:
        """Let go of the database."""
        self._book.close()


def _within(first: date | None, last: date | None) -> Iterator[ColumnElement[bool]]:
    """What keeps entries to days; those without a day go by their arrival, in UTC."""
    on, arrived = ENTRIES.c.happened_on, ENTRIES.c.arrived_at
    if first is not None:
        yield or_(on >= first, and_(on.is_(None), arrived >= first.isoformat()))
    if last is not None:
        yield or_(on <= last, and_(on.is_(None), func.substr(arrived, 1, 10) <= last.isoformat()))


def _line(row: Any) -> Line:  # noqa: ANN401 - a row of the table
    stored = stored_of(row)
    entry = stored.entry
    return Line(
        sequence=row.sequence, rope_sequence=row.rope_sequence, entry_id=entry.entry_id,
        rope_id=entry.rope_id, kind=entry.kind, says=KINDS[entry.kind].says,
        payload=plain_payload(entry), happened_on=entry.happened_on,
        happened_at=entry.happened_at, typed_at=entry.typed_at, clock_off_s=entry.clock_off_s,
        arrived_at=stored.arrived_at, by=tuple((hand.person, hand.role) for hand in entry.by),
        book_hash=row.book_hash, rope_hash=row.rope_hash,
    )  # fmt: skip
