"""What another book is sent in: lines of text, and photos beside them in a folder or one zip."""

import hashlib
import io
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from ropewright.errors import BookError
from ropewright.logbook.book import Book
from ropewright.logbook.files import write_whole
from ropewright.logbook.photos import MOST_BYTES, copy_to_show, original_path, shown_path
from ropewright.logbook.verify_book import BOOK_NAME, PHOTOS_ENDING

PHOTO_IN_ZIP: Final = "photos/"


def photos_beside(path: Path) -> Path:
    """The folder in which photos lie beside an export."""
    return path.with_name(path.name + PHOTOS_ENDING)


@dataclass(frozen=True)
class Sent:
    """An export that can be read: a file of lines with a folder beside it, or one zip."""

    path: Path
    archive: zipfile.ZipFile | None = None

    def lines(self) -> Iterator[str]:
        """Its lines, from the first on, each time anew.

        Raises
        ------
        BookError
            If they cannot be read.
        """
        try:
            if self.archive is None:
                with self.path.open(encoding="utf-8", newline="\n") as file:
                    yield from file
            else:
                with self.archive.open(BOOK_NAME) as raw:
                    yield from io.TextIOWrapper(raw, encoding="utf-8", newline="\n")
        except (OSError, UnicodeDecodeError, KeyError, zipfile.BadZipFile) as error:
            raise _unreadable(self.path, error) from error

    def photo(self, sha256: str) -> bytes | None:
        """The bytes of a photo, ``None`` if it was not sent along.

        Raises
        ------
        BookError
            If it cannot be read.
        """
        if len(sha256) != 64 or not sha256.isalnum():
            return None  # no hash, so no photo of that name
        try:
            if self.archive is not None:
                name = PHOTO_IN_ZIP + sha256
                if name not in self.archive.namelist():
                    return None
                self._not_too_large(sha256, self.archive.getinfo(name).file_size)
                return self.archive.read(name)
            place = photos_beside(self.path) / sha256
            if not place.is_file():
                return None
            self._not_too_large(sha256, place.stat().st_size)
            return place.read_bytes()
        except (OSError, zipfile.BadZipFile) as error:
            raise _unreadable(self.path, error) from error

    def _not_too_large(self, sha256: str, size_bytes: int) -> None:
        if size_bytes > MOST_BYTES:
            raise BookError(
                field=f"photo {sha256}", file=self.path,
                expected=f"at most {MOST_BYTES} bytes", given=f"{size_bytes} bytes",
            )  # fmt: skip


def _unreadable(path: Path, error: Exception) -> BookError:
    reason = getattr(error, "strerror", None) or str(error)
    return BookError(f"cannot be read: {reason}", file=path)


@contextmanager
def opened(path: Path) -> Iterator[Sent]:
    """An export, opened for reading.

    Raises
    ------
    BookError
        If it is neither a file of lines nor a zip.
    """
    if path.suffix.lower() != ".zip":
        yield Sent(path)
        return
    try:
        archive = zipfile.ZipFile(path)
    except (OSError, zipfile.BadZipFile) as error:
        raise _unreadable(path, error) from error
    with archive:
        yield Sent(path, archive)


def original_of(book: Book, sha256: str) -> bytes:
    """The original of a photo of a book, bit for bit.

    Raises
    ------
    BookError
        If it is not where the book keeps its photos, or is another one.
    """
    path = None if book.photo_folder is None else original_path(book.photo_folder, sha256)
    if path is None or not path.is_file():
        raise BookError(
            "a photo is missing, so this would not be the whole book", file=book.address,
            given=sha256,
        )  # fmt: skip
    data = path.read_bytes()
    if hashlib.sha256(data).hexdigest() != sha256:
        raise BookError("a photo was changed", file=book.address, given=sha256)
    return data


def has_original(book: Book, sha256: str) -> bool:
    """Whether the original of a photo lies where the book keeps its photos."""
    return book.photo_folder is not None and original_path(book.photo_folder, sha256).is_file()


def keep_original(book: Book, sha256: str, data: bytes) -> None:
    """Put a photo that was sent along where the book keeps its photos.

    Raises
    ------
    BookError
        If nobody said where that is.
    InputError
        If it is no photo that a book takes.
    """
    if book.photo_folder is None:
        raise BookError(expected="a folder for photos", file=book.address)
    copy = copy_to_show(data)[1]
    write_whole(original_path(book.photo_folder, sha256), data)
    write_whole(shown_path(book.photo_folder, sha256), copy)
