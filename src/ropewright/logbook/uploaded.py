"""An exported book that comes as bytes with a form: laid in a folder while it is taken in."""

import tempfile
import zipfile
from pathlib import Path
from typing import Final

from ropewright.errors import BookError
from ropewright.logbook.book import Book
from ropewright.logbook.exchange import TakenIn, import_book
from ropewright.logbook.renaming import RopeNames

MOST_UNPACKED: Final = 400_000_000
"""What a zip may hold [bytes] when it comes with a form; own choice, a large site's photos."""
_ENDINGS: Final = (".jsonl", ".zip")


def import_uploaded(book: Book, name: str, data: bytes, *, names: RopeNames) -> TakenIn:
    """Take an exported book in as `import_book` does, with a line for every entry.

    Parameters
    ----------
    book
        The book to add to.
    name
        What the file was called.
    data
        Its content.
    names
        What its ropes are called here.

    Raises
    ------
    BookError
        If it is no exported book, or too large; else as `import_book`.
    """
    ending = Path(name.lower()).suffix
    if ending not in _ENDINGS:
        raise BookError(field="file", expected="an exported book, .jsonl or .zip", given=name)
    if not data:
        raise BookError(field="file", expected="an exported book", given="an empty file")
    with tempfile.TemporaryDirectory(prefix="ropewright-book-") as folder:
        path = Path(folder, f"book{ending}")
        path.write_bytes(data)
        if ending == ".zip":
            _check_packed(path)
        return import_book(book, path, names=names, account=True)


def _check_packed(path: Path) -> None:
    """Refuse a zip that would not end; reading stops at the size that it states for itself."""
    try:
        with zipfile.ZipFile(path) as archive:
            whole = sum(one.file_size for one in archive.infolist())
    except zipfile.BadZipFile as error:
        raise BookError(f"cannot be read: {error}", file=path) from None
    if whole > MOST_UNPACKED:
        raise BookError(
            field="file", expected=f"at most {MOST_UNPACKED // 10**6} MB when unpacked",
            given=f"{whole // 10**6} MB", hint="take it in with the command line",
        )  # fmt: skip
