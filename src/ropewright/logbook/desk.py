"""What the commands ask of a logbook, one call each: open, do it, close."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from importlib import resources
from pathlib import Path
from typing import Any, Literal, cast

from ropewright.desk.installing import FittingGuide
from ropewright.desk.rope_life import RopeLife, rope_life
from ropewright.errors import UnknownNameError
from ropewright.inspection import Dossier, Inspection
from ropewright.logbook.backup import backup, restore
from ropewright.logbook.book import Book, Clock, create_book, open_book, people_of, utc_now
from ropewright.logbook.checking import Checked, Rebuilt, rebuild, verify
from ropewright.logbook.codec import Value
from ropewright.logbook.dues import due_calendar, dues_of
from ropewright.logbook.entry import new_entry
from ropewright.logbook.erasing import erase
from ropewright.logbook.exchange import TakenIn, export_book, import_book
from ropewright.logbook.files import write_whole
from ropewright.logbook.fitting import (
    begin_fitting,
    guide_of,
    record_reference,
    release_fitting,
    say_step,
)
from ropewright.logbook.kinds import Role
from ropewright.logbook.orders import KeptOrder, check_order, keep_order, orders_of
from ropewright.logbook.photos import add_photo, read_photo
from ropewright.logbook.renaming import RopeNames
from ropewright.logbook.seal import Seal
from ropewright.logbook.sheets import TABLES, as_numbers, table_csv
from ropewright.logbook.standing import Standing
from ropewright.logbook.take_in import Account, take_in_dossier, take_in_inspections
from ropewright.logbook.typed import TYPED_KINDS, add_typed, typed_fields
from ropewright.logbook.working_lines import working_lines


@dataclass(frozen=True, slots=True, kw_only=True)
class BookCase:
    """A rope as a book has it, in the shape a case file has once it was read.

    ``sha256`` is the last hash of the rope's chain, ``seal`` the seal of the whole book.
    """

    dossier: Dossier
    sha256: str
    seal: str
    warnings: tuple[str, ...] = ()


def checker() -> bytes:
    """The single file that checks an export without this package."""
    return resources.files("ropewright.logbook").joinpath("verify_book.py").read_bytes()


class LogbookDesk:
    """Everything the commands do with a logbook.

    Parameters
    ----------
    software
        Name and version, written into exports.
    now
        The clock.
    photo_folder
        Where photos of a book on a server are kept.
    """

    def __init__(
        self, software: str = "", *, now: Clock = utc_now, photo_folder: Path | None = None
    ) -> None:
        self._software = software
        self._now = now
        self._photo_folder = photo_folder

    @contextmanager
    def _open(self, address: str) -> Iterator[Book]:
        book = open_book(address, now=self._now, photo_folder=self._photo_folder)
        try:
            yield book
        finally:
            book.close()

    def init(self, address: str) -> Seal:
        """Make a new, empty book; gives its first seal."""
        book = create_book(address, now=self._now, photo_folder=self._photo_folder)
        try:
            return book.seal()
        finally:
            book.close()

    def add(self, address: str, rope_id: str, what: Value, *, on: date | None = None) -> str:
        """Add one entry about a rope; its kind follows from what it holds.  Gives its id."""
        with self._open(address) as book:
            book.need_rope(rope_id)
            made, _ = book.append_made(
                lambda people: [new_entry(what, people, rope_id=rope_id, happened_on=on)]
            )
            return made[0].entry_id

    def take_in(self, address: str, dossier: Dossier, *, correct: str | None = None) -> Account:
        """Take a rope into a book."""
        with self._open(address) as book:
            return take_in_dossier(book, dossier, correct=correct)

    def take_in_cards(
        self,
        address: str,
        rope_id: str,
        inspections: Sequence[Inspection],
        *,
        correct: str | None = None,
        origin: str = "old cards",
    ) -> Account:
        """Add inspections from old cards or a list of findings to a rope of a book."""
        with self._open(address) as book:
            return take_in_inspections(book, rope_id, inspections, origin=origin, correct=correct)

    def import_book(
        self,
        address: str,
        path: Path,
        *,
        quarantine: Path | None = None,
        called: Mapping[str, str] | None = None,
        same: Sequence[str] = (),
        account: bool = False,
    ) -> TakenIn:
        """Add the entries and photos of an exported book; ``called`` renames its ropes."""
        names = RopeNames(called=called or {}, same=frozenset(same))
        with self._open(address) as book:
            return import_book(book, path, quarantine=quarantine, names=names, account=account)

    def export_book(self, address: str, path: Path) -> Seal:
        """Write the whole book as JSON Lines."""
        with self._open(address) as book:
            return export_book(book, path, software=self._software)

    def export_table(
        self, address: str, path: Path, ropes: Sequence[str] = (), *, what: str = "findings"
    ) -> int:
        """Write findings, readings or inspections as CSV; gives the number of ropes [-]."""
        make = TABLES.get(what)
        if make is None:
            raise UnknownNameError(what="a table", given=what, known=TABLES, field="--what")
        dossiers = self._dossiers(address, ropes)
        write_whole(path, table_csv(make(dossiers)))
        return len(dossiers)

    def tables(
        self, address: str, ropes: Sequence[str] = ()
    ) -> dict[str, tuple[Sequence[str], list[dict[str, object]]]]:
        """Findings, readings and inspections with numbers as numbers, for a spreadsheet."""
        dossiers = self._dossiers(address, ropes)
        return {name: as_numbers(make(dossiers)) for name, make in TABLES.items()}

    def _dossiers(self, address: str, ropes: Sequence[str]) -> list[Dossier]:
        with self._open(address) as book:
            return [book.dossier(rope) for rope in ropes or book.rope_ids()]

    def export_calendar(self, address: str, path: Path) -> int:
        """Write what is due as a calendar; gives the number of items [-]."""
        with self._open(address) as book:
            dues = dues_of(book.standing())
            data = due_calendar(dues, book_id=book.book_id, made_at=self._now())
        write_whole(path, data)
        return len(dues)

    def export_checker(self, path: Path) -> None:
        """Write the single file that checks an export without this package."""
        write_whole(path, checker())

    def life(self, address: str, rope_id: str, made_on: date) -> RopeLife:
        """The life of a rope, for its card."""
        with self._open(address) as book:
            dossier = book.dossier(rope_id)
            entries = [one.entry for one in book.entries(rope_id)]
            with book.reader() as conn:
                work = working_lines(entries, people_of(conn))
            return rope_life(dossier, made_on, work=work, seal=str(book.seal()))

    def listed(self, address: str, rope_id: str, *, as_of: date | None = None) -> list[str]:
        """Every entry of a rope, one line each, in the order of the book.

        With ``as_of`` only what had happened by then.
        """
        with self._open(address) as book:
            book.need_rope(rope_id)
            stored = book.entries(rope_id)
        return [
            f"{one.row.sequence:6d}  {one.entry.happened_on or 'not dated'!s:10}  "
            f"{one.entry.kind}  {one.entry.entry_id}"
            for one in stored
            if as_of is None or one.entry.happened_on is None or one.entry.happened_on <= as_of
        ]

    def standing_on(self, address: str, rope_id: str, as_of: date) -> Standing:
        """Where a rope stood at the end of a day, by what is known now."""
        with self._open(address) as book:
            return book.standing_on(rope_id, as_of)

    def typed_kinds(self) -> dict[str, tuple[str, ...]]:
        """Kinds of entries that can be typed, with their fields."""
        return {kind: typed_fields(kind) for kind in TYPED_KINDS}

    def add_typed(
        self,
        address: str,
        rope_id: str,
        kind: str,
        values: Mapping[str, str],
        *,
        by: str,
        role: str,
        on: date,
    ) -> str:
        """Add one entry that was typed; gives its id."""
        with self._open(address) as book:
            entry = add_typed(book, rope_id, kind, values, by=by, role=cast(Role, role), on=on)
            return entry.entry_id

    def add_photo(self, address: str, rope_id: str, path: Path, **said: Any) -> str:  # noqa: ANN401
        """Put a photo into the book; gives its hash."""
        with self._open(address) as book:
            book.need_rope(rope_id)
            return add_photo(book, read_photo(path), rope_id=rope_id, **said)[0]

    def erase(self, address: str, what: str, ref: str, *, reason: str) -> None:
        """Erase the data of a person or a photo."""
        with self._open(address) as book:
            erase(book, cast(Literal["person", "photo"], what), ref, reason=reason)

    def keep_order(
        self,
        address: str,
        rope_id: str,
        values: Mapping[str, Any],
        *,
        order_id: str,
        by: str,
        on: date,
        to_fill: Sequence[str] = (),
        length_steps: Sequence[str] = (),
    ) -> None:
        """Keep the order of a new rope."""
        with self._open(address) as book:
            keep_order(
                book, rope_id, values, order_id=order_id, by=by, on=on, to_fill=to_fill,
                length_steps=length_steps,
            )  # fmt: skip

    def check_order(
        self,
        address: str,
        rope_id: str,
        order_id: str,
        *,
        by: str,
        on: date,
        agrees: bool,
        remark: str = "",
    ) -> None:
        """A second person went over an order."""
        with self._open(address) as book:
            check_order(book, rope_id, order_id, by=by, on=on, agrees=agrees, remark=remark)

    def orders(self, address: str, rope_id: str) -> tuple[KeptOrder, ...]:
        """Orders of a rope, oldest first."""
        with self._open(address) as book:
            return orders_of(book, rope_id)

    def fitting(self, address: str, rope_id: str) -> FittingGuide:
        """What is done of fitting a rope, and what comes next."""
        with self._open(address) as book:
            return guide_of(book, rope_id)

    def begin_fitting(self, address: str, rope_id: str, **said: Any) -> None:  # noqa: ANN401
        """Begin to fit a rope; see `begin_fitting`."""
        with self._open(address) as book:
            begin_fitting(book, rope_id, **said)

    def say_step(self, address: str, rope_id: str, step: str, **said: Any) -> None:  # noqa: ANN401
        """A step is done or not right; see `say_step`."""
        with self._open(address) as book:
            say_step(book, rope_id, step, **said)

    def record_reference(self, address: str, rope_id: str, **said: Any) -> None:  # noqa: ANN401
        """Keep the reference measurement; see `record_reference`."""
        with self._open(address) as book:
            record_reference(book, rope_id, **said)

    def release_fitting(self, address: str, rope_id: str, *, by: str, on: date) -> None:
        """Let a new rope into service, by name."""
        with self._open(address) as book:
            release_fitting(book, rope_id, by=by, on=on)

    def standing(self, address: str) -> tuple[Standing, ...]:
        """Where every rope stands."""
        with self._open(address) as book:
            return book.standing()

    def seal(self, address: str) -> Seal:
        """The seal of the book as it is."""
        with self._open(address) as book:
            return book.seal()

    def verify(self, address: str, seals: Iterable[str] = ()) -> Checked:
        """Check the whole book, also against earlier seals."""
        wanted = [Seal.parse(text) for text in seals]
        with self._open(address) as book:
            return verify(book, wanted)

    def rebuild(self, address: str) -> Rebuilt:
        """Derive where every rope stands anew."""
        with self._open(address) as book:
            return rebuild(book)

    def backup(self, address: str, path: Path) -> Seal:
        """Save the book and its photos to one file."""
        with self._open(address) as book:
            return backup(book, path, software=self._software)

    def restore(self, path: Path, address: str) -> Seal:
        """Make a book from a backup."""
        return restore(path, address, now=self._now, photo_folder=self._photo_folder)

    def names(self, address: str) -> tuple[str, ...]:
        """Ids of all ropes of a book."""
        with self._open(address) as book:
            return book.rope_ids()

    def load(self, address: str, rope_id: str, *, as_of: date | None = None) -> BookCase:
        """A rope of a book, in the shape a case file has once it was read."""
        with self._open(address) as book:
            dossier = book.dossier(rope_id, as_of=as_of)
            last = book.entries(rope_id)[-1].row.rope_hash
            return BookCase(dossier=dossier, sha256=last, seal=str(book.seal()))
