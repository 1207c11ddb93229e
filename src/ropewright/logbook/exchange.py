"""The whole book as JSON Lines, out and in: with its chain, so that anybody can check it."""

import shutil
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, select

from ropewright.errors import BookError, BrokenChainError, InputError
from ropewright.logbook.appending import append, chunks
from ropewright.logbook.book import Book
from ropewright.logbook.bookkeeping import BookTakenIn
from ropewright.logbook.canon import canonical, plain
from ropewright.logbook.checking import all_rows
from ropewright.logbook.entry import Entry, check_entry, new_entry, parse_entry, stable_id
from ropewright.logbook.files import whole_file, write_whole
from ropewright.logbook.people import Unnamed
from ropewright.logbook.seal import Seal
from ropewright.logbook.tables import PERSONS, PHOTOS
from ropewright.logbook.verify_book import EXPORT_FORMAT, ExportCheck, first_link

_AT_ONCE = 5000


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenIn:
    """What became of another book: entries added, entries that were there already."""

    seal: Seal
    taken: int
    already: int


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
    """Write the whole book to a file, whole or not at all; gives its last seal."""
    last = ""
    with whole_file(path) as file:
        for line in export_lines(book, software=software):
            file.write(line.encode() + b"\n")
            last = line
    end = plain(last)
    return Seal(book.book_id, end["entries"], end["book_hash"])


def read_lines(path: Path) -> Iterator[str]:
    """The lines of an export.

    Raises
    ------
    BookError
        If the file cannot be read.
    """
    try:
        with path.open(encoding="utf-8", newline="\n") as file:
            yield from file
    except (OSError, UnicodeDecodeError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise BookError(f"cannot be read: {reason}", file=path) from error


def check_export(lines: Iterable[str], *, file: str, seals: Iterable[Seal] = ()) -> Seal:
    """The last seal of an export whose chain holds.

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
    problems = check.end()
    if problems or check.chain is None:
        more = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
        raise BrokenChainError(
            f"is not taken in: {problems[0]}{more}",
            file=file,
            hint="nothing was written",
        )
    return Seal(book_id, check.chain.sequence, check.chain.book_hash)


def import_book(book: Book, path: Path, *, quarantine: Path | None = None) -> TakenIn:
    """Add the entries of an exported book to this one, all or nothing.

    They get new places in this book's chain; an entry says which book they come from and with
    which seal.  The same export again is harmless.

    Parameters
    ----------
    book
        The book to add to.
    path
        The export.
    quarantine
        Folder where an export with a broken chain is put, with what is wrong beside it.

    Raises
    ------
    BrokenChainError
        If the chain of the export does not hold.
    EntryConflictError
        If an entry is in this book with other content.
    """
    try:
        seal = check_export(read_lines(path), file=str(path))
    except BrokenChainError as error:
        if quarantine is not None:
            _put_aside(path, quarantine, error)
        raise
    taken = already = 0
    with book.writer() as conn:
        lines = (plain(text) for text in read_lines(path))
        for part in chunks(_in_turn(conn, lines, seal, path), _AT_ONCE):
            receipts = append(conn, part, book.now())
            there = sum(receipt.already for receipt in receipts)
            already += there
            taken += len(receipts) - there
    return TakenIn(seal=seal, taken=taken, already=already)


def _in_turn(
    conn: Connection, lines: Iterable[dict[str, Any]], seal: Seal, path: Path
) -> Iterator[Entry]:
    """The entries of an export, after its persons and photos were put in their tables."""
    said = BookTakenIn(book_id=seal.book_id, seal=str(seal), entries=seal.sequence)
    yield check_entry(new_entry(said, Unnamed(), entry_id=stable_id("book taken in", str(seal))))
    for line in lines:
        kind = line.pop("line")
        if kind == "person":
            put_person(conn, line)
        elif kind == "photo":
            put_photo(conn, line)
        elif kind == "entry":
            try:
                yield check_entry(parse_entry(line["content"]))
            except InputError as error:
                raise error.within(f"entry {line['sequence']}").with_file(path) from None


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
    """Keep what an export says of a photo; the photo itself travels in a backup."""
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
