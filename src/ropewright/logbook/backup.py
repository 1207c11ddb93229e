"""A whole book with its photos and signed reports in one file, and back: checked each time.

A backup holds the export, every photo that was not erased and every signed report.  It does
not depend on the database: what was saved from SQLite can be restored into PostgreSQL and the
other way.
"""

import hashlib
import io
import zipfile
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, BinaryIO, Final

from sqlalchemy import Connection

from ropewright.errors import BookError, BrokenChainError
from ropewright.logbook.appending import chunks
from ropewright.logbook.book import Book, Clock, create_book, utc_now
from ropewright.logbook.canon import plain
from ropewright.logbook.checking import rebuild, verify
from ropewright.logbook.engine import is_server
from ropewright.logbook.entry import parse_entry
from ropewright.logbook.exchange import (
    check_export,
    export_lines,
    photos_held,
    put_person,
    put_photo,
)
from ropewright.logbook.files import whole_file, write_whole
from ropewright.logbook.photos import copy_to_show, original_path, shown_path
from ropewright.logbook.reports import REPORT_IN_ZIP, keep_report, kept_report, reports_held
from ropewright.logbook.seal import Seal
from ropewright.logbook.sending import PHOTO_IN_ZIP, original_of
from ropewright.logbook.tables import ENTRIES
from ropewright.logbook.verify_book import BOOK_NAME

_AT_ONCE: Final = 5000
_DATE: Final = (1980, 1, 1, 0, 0, 0)  # so that the same book makes the same bytes


def backup(book: Book, path: Path, *, software: str = "") -> Seal:
    """Save the book and its photos to one file, read it back, and give its last seal.

    Raises
    ------
    BrokenChainError
        If what was written does not hold: the file is not kept.
    """
    with whole_file(path) as file:
        _write(book, file, software)
        file.flush()
        return _checked(Path(file.name), file=str(path))


def pack(book: Book, file: BinaryIO, *, software: str = "") -> Seal:
    """Write the book and its photos into an open file, read it back, and give its last seal.

    Parameters
    ----------
    book
        The book.
    file
        An open file that can be written and read.
    software
        Name and version, written into it.

    Raises
    ------
    BrokenChainError
        If what was written does not hold.
    """
    _write(book, file, software)
    file.flush()
    return _checked(file, file="the zip")


def _write(book: Book, file: BinaryIO, software: str) -> None:
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        with archive.open(_named(BOOK_NAME), "w", force_zip64=True) as out:
            for line in export_lines(book, software=software):
                out.write(line.encode() + b"\n")
        for sha256 in photos_held(book):
            archive.writestr(_named(PHOTO_IN_ZIP + sha256), original_of(book, sha256))
        for sha256 in reports_held(book):
            archive.writestr(_named(REPORT_IN_ZIP + sha256), kept_report(book, sha256))


def _named(name: str) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, _DATE)
    info.compress_type = zipfile.ZIP_DEFLATED
    return info


def _checked(path: Path | BinaryIO, *, file: str) -> Seal:
    """The last seal of a backup in which everything holds."""
    try:
        with zipfile.ZipFile(path) as archive:
            seal = check_export(_book_lines(archive), file=file)
            for name in archive.namelist():
                sha256 = name.removeprefix(PHOTO_IN_ZIP).removeprefix(REPORT_IN_ZIP)
                if name != BOOK_NAME and _hash(archive.read(name)) != sha256:
                    what = "report" if name.startswith(REPORT_IN_ZIP) else "photo"
                    raise BrokenChainError(f"a {what} in it was changed", file=file, given=sha256)
    except (OSError, zipfile.BadZipFile, KeyError, UnicodeDecodeError) as error:
        raise BookError(f"is not a whole backup: {error}", file=file) from error
    return seal


def _book_lines(archive: zipfile.ZipFile) -> Iterator[str]:
    with archive.open(BOOK_NAME) as raw:
        yield from io.TextIOWrapper(raw, encoding="utf-8", newline="\n")


def _hash(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def restore(
    path: Path,
    address: str | Path,
    *,
    photo_folder: Path | None = None,
    now: Clock = utc_now,
) -> Seal:
    """Make a book from a backup: the same entries, numbers, times and hashes.

    The new book is verified before it counts as done; a file is only there once it is.

    Parameters
    ----------
    path
        The backup.
    address
        Where the book goes: a file that is not there yet, or an empty database.
    photo_folder
        Where photos go.
    now
        The clock.

    Raises
    ------
    BrokenChainError
        If anything in the backup does not hold: nothing is restored.
    """
    seal = _checked(path, file=str(path))
    if is_server(address):
        _restored(path, address, photo_folder, now)
        return seal
    goal = Path(address)
    if goal.exists():
        raise BookError("is there already", file=str(address), expected="a new file")
    part = goal.with_name(f"{goal.name}.restoring")
    part.unlink(missing_ok=True)
    try:
        _restored(path, part, photo_folder or Path(f"{goal}.photos"), now)
        part.replace(goal)
    finally:
        for ending in ("", "-wal", "-shm"):
            part.with_name(part.name + ending).unlink(missing_ok=True)
    return seal


def _restored(path: Path, address: str | Path, photo_folder: Path | None, now: Clock) -> None:
    with zipfile.ZipFile(path) as archive:
        lines = (plain(text) for text in _book_lines(archive))
        head = next(lines)
        book = create_book(
            address,
            photo_folder=photo_folder,
            now=now,
            book_id=head["book_id"],
            made_at=head["made_at"],
        )
        try:
            with book.writer() as conn:
                for part in chunks(_rows(conn, lines), _AT_ONCE):
                    conn.execute(ENTRIES.insert(), part)
            _put_photos(book, archive)
            rebuild(book)
            verify(book).must_hold(file=str(path))
        finally:
            book.close()


def _rows(conn: Connection, lines: Iterable[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    for line in lines:
        kind = line.pop("line")
        if kind == "person":
            put_person(conn, line)
        elif kind == "photo":
            put_photo(conn, line)
        elif kind == "entry":
            entry = parse_entry(line["content"])
            yield {
                **line,
                "entry_id": entry.entry_id,
                "rope_id": entry.rope_id,
                "kind": entry.kind,
                "happened_on": entry.happened_on,
            }


def _put_photos(book: Book, archive: zipfile.ZipFile) -> None:
    names = [name for name in archive.namelist() if name != BOOK_NAME]
    if names and book.photo_folder is None:
        raise BookError(expected="a folder for photos", file=book.address)
    for name in names:
        folder, data = book.photo_folder, archive.read(name)
        if name.startswith(REPORT_IN_ZIP):
            keep_report(book, data)
        elif folder is not None:
            sha256 = name.removeprefix(PHOTO_IN_ZIP)
            write_whole(original_path(folder, sha256), data)
            write_whole(shown_path(folder, sha256), copy_to_show(data)[1])
