"""Signed reports, each frozen under its hash beside the photos of the book."""

import hashlib
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from ropewright.errors import BookError
from ropewright.logbook.book import Book
from ropewright.logbook.files import write_whole

#: Where reports stand in a backup.
REPORT_IN_ZIP: Final = "reports/"


def report_path(book: Book, sha256: str) -> Path:
    """Where a report lies.

    Raises
    ------
    BookError
        If nobody said where.
    """
    if book.photo_folder is None:
        raise BookError(
            "nobody said where its reports are kept", file=book.address,
            expected="a folder for photos and reports",
        )  # fmt: skip
    return book.photo_folder / "reports" / f"{sha256}.pdf"


def keep_report(book: Book, data: bytes) -> str:
    """Keep a report; gives its hash."""
    sha256 = hashlib.sha256(data).hexdigest()
    write_whole(report_path(book, sha256), data)
    return sha256


def kept_report(book: Book, sha256: str) -> bytes:
    """A report that was kept.

    Raises
    ------
    BookError
        If it is not there, or no longer what was signed.
    """
    if len(sha256) != 64 or not sha256.isalnum() or not report_path(book, sha256).is_file():
        raise BookError(expected="a report that was kept", given=sha256)
    data = report_path(book, sha256).read_bytes()
    if hashlib.sha256(data).hexdigest() != sha256:
        raise BookError("the report was changed after it was signed", given=sha256)
    return data


def reports_held(book: Book) -> Iterator[str]:
    """Hashes of all reports that are kept, sorted."""
    if book.photo_folder is not None:
        for path in sorted((book.photo_folder / "reports").glob("*.pdf")):
            yield path.stem
