"""The whole book as JSON Lines, out and in: with its chain, so that anybody can check it."""

import json
import shutil
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from sqlalchemy import Connection, select

from ropewright.errors import BrokenChainError, InputError
from ropewright.logbook.appending import Receipt, append, chunks
from ropewright.logbook.book import Book
from ropewright.logbook.bookkeeping import BookTakenIn
from ropewright.logbook.canon import canonical, plain
from ropewright.logbook.checking import all_rows
from ropewright.logbook.entry import Entry, check_entry, new_entry, parse_entry, stable_id
from ropewright.logbook.files import whole_file, write_whole
from ropewright.logbook.people import Unnamed
from ropewright.logbook.renaming import RopeNames, check_names
from ropewright.logbook.seal import Seal
from ropewright.logbook.sending import (
    Sent,
    has_original,
    keep_original,
    opened,
    original_of,
    photos_beside,
)
from ropewright.logbook.tables import PERSONS, PHOTOS
from ropewright.logbook.verify_book import EXPORT_FORMAT, ExportCheck, first_link

_AT_ONCE: Final = 5000
_NAMES: Final = RopeNames()


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenIn:
    """What became of another book: entries added, entries that were there already, photos.

    ``photos_absent`` [-] photos are spoken of and were not sent along: they can follow later.
    ``lines`` accounts for every entry, if that was asked for.
    """

    seal: Seal
    taken: int
    already: int
    ropes: tuple[str, ...] = ()
    photos: int = 0
    photos_absent: int = 0
    lines: tuple[str, ...] = ()


def export_lines(book: Book, *, software: str = "") -> Iterator[str]:
    """Every line of the export: the book, persons, photos, entries in order, the end.

    Parameters
    ----------
    book
        The book.
    software
        What wrote it, for the first line.
    """
    with book.reader() as conn:
        yield canonical(
            {
                "line": "book", "format": EXPORT_FORMAT, "book_id": book.book_id,
                "made_at": book.made_at, "software": software,
            }
        )  # fmt: skip
        for row in conn.execute(select(PERSONS).order_by(PERSONS.c.person_id)):
            yield canonical(
                {
                    "line": "person", "person": row.person_id, "salt": row.salt,
                    "data": row.data, "erased_at": row.erased_at,
                }
            )  # fmt: skip
        for row in conn.execute(select(PHOTOS).order_by(PHOTOS.c.sha256)):
            yield canonical(
                {
                    "line": "photo", "sha256": row.sha256, "media_type": row.media_type,
                    "size_bytes": row.size_bytes, "erased_at": row.erased_at,
                }
            )  # fmt: skip
        count, link = 0, first_link(book.book_id)
        for row in all_rows(conn):
            count, link = row.sequence, row.book_hash
            yield canonical(
                {
                    "line": "entry", "sequence": row.sequence,
                    "rope_sequence": row.rope_sequence, "arrived_at": row.arrived_at,
                    "content": row.content, "book_hash": link, "rope_hash": row.rope_hash,
                }
            )  # fmt: skip
        yield canonical({"line": "end", "entries": count, "book_hash": link})


def export_book(book: Book, path: Path, *, software: str = "") -> Seal:
    """Write the whole book, whole or not at all; gives its last seal.

    Photos go beside the file into the folder ``FILE.photos``, each under its hash, bit for bit.
    """
    for sha256 in photos_held(book):
        write_whole(photos_beside(path) / sha256, original_of(book, sha256))
    last = ""
    with whole_file(path) as file:
        for line in export_lines(book, software=software):
            file.write(line.encode() + b"\n")
            last = line
    end = plain(last)
    return Seal(book.book_id, end["entries"], end["book_hash"])


def photos_held(book: Book) -> tuple[str, ...]:
    """Hashes of all photos of a book that were not erased."""
    with book.reader() as conn:
        query = select(PHOTOS.c.sha256).where(PHOTOS.c.erased_at.is_(None))
        return tuple(conn.execute(query.order_by(PHOTOS.c.sha256)).scalars())


def check_export(
    lines: Iterable[str],
    *,
    file: str,
    seals: Iterable[Seal] = (),
    photo: Callable[[str], bytes | None] | None = None,
) -> Seal:
    """The last seal of an export whose chain holds; with ``photo`` photos are looked at too.

    Raises
    ------
    BrokenChainError
        If anything in it does not hold.
    """
    check = ExportCheck(str(seal) for seal in seals)
    book_id = ""
    for number, text in enumerate(lines, start=1):
        line = check.take(number, text)
        if line is not None and line.get("line") == "book":
            book_id = line["book_id"]
    if photo is not None:
        check.photo_files(photo)
    problems = check.end()
    if problems or check.chain is None:
        more = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
        raise BrokenChainError(
            f"is not taken in: {problems[0]}{more}",
            file=file,
            hint="nothing was written",
        )
    return Seal(book_id, check.chain.sequence, check.chain.book_hash)


def import_book(
    book: Book,
    path: Path,
    *,
    quarantine: Path | None = None,
    names: RopeNames = _NAMES,
    account: bool = False,
) -> TakenIn:
    """Add the entries and photos of an exported book to this one, all or nothing.

    Entries get new places in this book's chain; an entry says which book they come from and with
    which seal.  The same export again is harmless.

    Parameters
    ----------
    book
        The book to add to.
    path
        The export: a file of lines with photos beside it, or a zip of both.
    quarantine
        Folder where an export with a broken chain is put, with what is wrong beside it.
    names
        What its ropes are called here.
    account
        Give one line for every entry.

    Raises
    ------
    BrokenChainError
        If the chain of the export does not hold, or a photo in it was changed.
    EntryConflictError
        If an entry is in this book with other content.
    BookError
        If a rope bears a name that this book knows, and nobody said whether it is the same.
    """
    with opened(path) as sent:
        try:
            seal = check_export(sent.lines(), file=str(path), photo=sent.photo)
        except BrokenChainError as error:
            if quarantine is not None:
                _put_aside(path, quarantine, error)
            raise
        return _taken_in(book, sent, seal, names, account=account)


def _taken_in(book: Book, sent: Sent, seal: Seal, names: RopeNames, *, account: bool) -> TakenIn:
    taken = already = 0
    lines: list[str] = []
    with book.writer() as conn:
        ropes = check_names(conn, _entries(sent), names, file=str(sent.path))
        kept, absent = _photos_in(book, conn, sent)
        for part in chunks(_in_turn(conn, sent, seal, names), _AT_ONCE):
            receipts = append(conn, part, book.now())
            there = sum(receipt.already for receipt in receipts)
            already += there
            taken += len(receipts) - there
            if account:
                lines.extend(map(_line_of, part, receipts))
    return TakenIn(
        seal=seal,
        taken=taken,
        already=already,
        ropes=ropes,
        photos=kept,
        photos_absent=absent,
        lines=tuple(lines),
    )


def _line_of(entry: Entry, receipt: Receipt) -> str:
    what = "already there" if receipt.already else "taken"
    on = entry.happened_on or "not dated"
    return f"{what}: {entry.rope_id or 'the book itself'}: {entry.kind}, {on}, {entry.entry_id}"


def _entries(sent: Sent) -> Iterator[tuple[str, str]]:
    """Rope and id of every entry, from text whose chain was checked."""
    for text in sent.lines():
        line = plain(text)
        if line["line"] == "entry":
            said = json.loads(line["content"])
            yield str(said["rope"]), str(said["entry"])


def _photos_in(book: Book, conn: Connection, sent: Sent) -> tuple[int, int]:
    """Keep photos that were sent along; gives how many were new and how many were not sent.

    Files are on the disk before an entry speaks of them; one that is erased here stays so.
    """
    kept = absent = 0
    for text in sent.lines():
        line = plain(text)
        if line["line"] != "photo" or line["erased_at"] is not None:
            continue
        sha256 = line["sha256"]
        known = conn.execute(select(PHOTOS).where(PHOTOS.c.sha256 == sha256)).first()
        if known is not None and (known.erased_at is not None or has_original(book, sha256)):
            continue
        data = sent.photo(sha256)
        if data is None:
            absent += 1
            continue
        keep_original(book, sha256, data)
        kept += 1
    return kept, absent


def _in_turn(conn: Connection, sent: Sent, seal: Seal, names: RopeNames) -> Iterator[Entry]:
    """The entries of an export, after its persons and photos were put in their tables."""
    said = BookTakenIn(
        book_id=seal.book_id, seal=str(seal), entries=seal.sequence, called=names.called
    )
    name = [str(seal), dict(names.called)] if names.called else [str(seal)]
    yield check_entry(
        new_entry(said, Unnamed(), entry_id=stable_id("book taken in", *map(str, name)))
    )
    for text in sent.lines():
        line = plain(text)
        kind = line.pop("line")
        if kind == "person":
            put_person(conn, line)
        elif kind == "photo":
            put_photo(conn, line)
        elif kind == "entry":
            try:
                yield check_entry(names.renamed(parse_entry(line["content"])))
            except InputError as error:
                raise error.within(f"entry {line['sequence']}").with_file(sent.path) from None


def put_person(conn: Connection, line: dict[str, Any]) -> None:
    """Keep a person of an export; who was erased in either book stays erased."""
    known = select(PERSONS).where(PERSONS.c.person_id == line["person"])
    before = conn.execute(known).first()
    if before is None:
        values = {"person_id": line["person"], "salt": line["salt"], "data": line["data"]}
        conn.execute(PERSONS.insert().values(**values, erased_at=line["erased_at"]))
    elif line["data"] is None and before.data is not None:
        gone = {"data": None, "salt": None, "erased_at": line["erased_at"]}
        here = PERSONS.c.person_id == line["person"]
        conn.execute(PERSONS.update().where(here).values(**gone))


def put_photo(conn: Connection, line: dict[str, Any]) -> None:
    """Keep what an export says of a photo."""
    known = select(PHOTOS).where(PHOTOS.c.sha256 == line["sha256"])
    before = conn.execute(known).first()
    if before is None:
        conn.execute(PHOTOS.insert().values(**line))
    elif line["erased_at"] is not None and before.erased_at is None:
        here = PHOTOS.c.sha256 == line["sha256"]
        conn.execute(PHOTOS.update().where(here).values(erased_at=line["erased_at"]))


def _put_aside(path: Path, folder: Path, error: BrokenChainError) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(path, folder / path.name)
    write_whole(folder / f"{path.name}.why.txt", f"{error}\n".encode())
