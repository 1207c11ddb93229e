"""Photos: the original bit for bit under its hash, a copy without location to show and share."""

import hashlib
import io
import warnings
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from typing import Final

from PIL import Image, ImageOps, UnidentifiedImageError
from sqlalchemy import Connection, select

from ropewright.errors import BookError, InputError
from ropewright.logbook.appending import Receipt, append
from ropewright.logbook.book import Book
from ropewright.logbook.canon import instant_text
from ropewright.logbook.entry import Hand, check_entry, new_entry
from ropewright.logbook.files import write_whole
from ropewright.logbook.payloads import PhotoTaken
from ropewright.logbook.people import Unnamed
from ropewright.logbook.tables import PHOTOS

MOST_BYTES: Final = 25_000_000
MOST_PIXELS: Final = 60_000_000
SHOWN_SIDE: Final = 1600
MEDIA_TYPES: Final = {"JPEG": "image/jpeg", "PNG": "image/png", "WEBP": "image/webp"}
_QUALITY: Final = 85


def original_path(folder: Path, sha256: str) -> Path:
    """Where the original of a photo lies."""
    return folder / "original" / sha256[:2] / sha256


def shown_path(folder: Path, sha256: str) -> Path:
    """Where the copy of a photo lies that may be shown."""
    return folder / "shown" / sha256[:2] / f"{sha256}.jpg"


def copy_to_show(data: bytes) -> tuple[str, bytes]:
    """Media type of a photo, and a copy of it: upright, no larger than needed, nothing but pixels.

    Raises
    ------
    InputError
        If it is too large, no picture, or of a type that is not taken.
    """
    if len(data) > MOST_BYTES:
        raise InputError(
            field="photo", expected=f"at most {MOST_BYTES} bytes", given=f"{len(data)} bytes"
        )
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(data), formats=tuple(MEDIA_TYPES)) as image:
                media_type = MEDIA_TYPES[image.format or ""]
                _check_size(image)
                return media_type, _copied(image)
    except (UnidentifiedImageError, KeyError):
        raise InputError(
            field="photo", expected="a photo as JPEG, PNG or WebP", given="something else"
        ) from None
    except (Image.DecompressionBombWarning, Image.DecompressionBombError):
        raise _too_many("more") from None
    except (OSError, ValueError, SyntaxError, EOFError) as error:
        raise InputError(
            field="photo", expected="a whole photo", given=f"one that cannot be read: {error}"
        ) from error


def _check_size(image: Image.Image) -> None:
    if image.width * image.height > MOST_PIXELS:
        raise _too_many(f"{image.width} × {image.height}")


def _too_many(given: str) -> InputError:
    return InputError(field="photo", expected=f"at most {MOST_PIXELS} pixels", given=given)


def _copied(image: Image.Image) -> bytes:
    upright = ImageOps.exif_transpose(image)
    upright.thumbnail((SHOWN_SIDE, SHOWN_SIDE))
    # A new picture carries nothing but pixels: no place, no camera, no comment.
    bare = Image.new("RGB", upright.size, "white")
    solid = upright.convert("RGBA")
    bare.paste(solid, mask=solid.getchannel("A"))
    made = io.BytesIO()
    bare.save(made, "JPEG", quality=_QUALITY)
    return made.getvalue()


def _folder(book: Book) -> Path:
    if book.photo_folder is None:
        raise BookError(
            "nobody said where its photos are kept", file=book.address,
            expected="a folder for photos",
        )  # fmt: skip
    return book.photo_folder


def add_photo(
    book: Book,
    data: bytes,
    *,
    rope_id: str,
    entry_id: str | None = None,
    finding_id: str = "",
    inspection_id: str = "",
    happened_on: date | None = None,
    taken_at: datetime | None = None,
    scale_in_frame: bool | None = None,
    caption: str = "",
    by: tuple[Hand, ...] = (),
) -> tuple[str, Receipt]:
    """Keep a photo and add its entry; gives its hash and the receipt.

    The files are on the disk before the entry is: an entry never speaks of a photo that is not
    there.

    Parameters
    ----------
    book
        The book.
    data
        The original as the camera made it.
    rope_id, entry_id, happened_on, by
        As in an entry.
    finding_id, inspection_id, taken_at, scale_in_frame, caption
        As in `PhotoTaken`.

    Raises
    ------
    InputError
        If it cannot be taken, or was erased before.
    """
    folder = _folder(book)
    media_type, copy = copy_to_show(data)
    sha256 = hashlib.sha256(data).hexdigest()
    said = PhotoTaken(
        sha256=sha256, media_type=media_type, size_bytes=len(data), finding_id=finding_id,
        inspection_id=inspection_id, taken_at=taken_at, scale_in_frame=scale_in_frame,
        caption=caption,
    )  # fmt: skip
    entry = check_entry(
        new_entry(
            said, Unnamed(), rope_id=rope_id, entry_id=entry_id, happened_on=happened_on, by=by
        )
    )
    with book.writer() as conn:
        known = conn.execute(select(PHOTOS).where(PHOTOS.c.sha256 == sha256)).first()
        if known is not None and known.erased_at is not None:
            raise InputError(
                field="photo", expected="one that was not erased", given=f"{sha256}, erased"
            )
        if known is None:
            conn.execute(
                PHOTOS.insert().values(sha256=sha256, media_type=media_type, size_bytes=len(data))
            )
        write_whole(original_path(folder, sha256), data)
        write_whole(shown_path(folder, sha256), copy)
        (receipt,) = append(conn, [entry], book.now())
    return sha256, receipt


def read_photo(path: Path) -> bytes:
    """The bytes of a photo's file.

    Raises
    ------
    InputError
        If it cannot be read, or is too large to be read at all.
    """
    try:
        size = path.stat().st_size
        if size > MOST_BYTES:
            raise InputError(
                field="photo", expected=f"at most {MOST_BYTES} bytes", given=f"{size} bytes",
                file=path,
            )  # fmt: skip
        return path.read_bytes()
    except OSError as error:
        reason = error.strerror or str(error)
        raise InputError(f"cannot be read: {reason}", field="photo", file=path) from None


def photo_to_show(book: Book, sha256: str) -> bytes:
    """The copy of a photo that may be shown and shared.

    Raises
    ------
    BookError
        If it is not there, or was erased.
    """
    path = shown_path(_folder(book), sha256)
    if len(sha256) != 64 or not sha256.isalnum() or not path.is_file():
        raise BookError(expected="a photo of this book that was not erased", given=sha256)
    return path.read_bytes()


def erase_photo_in(conn: Connection, sha256: str, now: datetime) -> None:
    """Mark a photo as erased; `sweep_photos` takes the files away once that is on the disk.

    Raises
    ------
    BookError
        If the book has no such photo.
    """
    mark = PHOTOS.update().where(PHOTOS.c.sha256 == sha256).values(erased_at=instant_text(now))
    if conn.execute(mark).rowcount != 1:
        raise BookError(field="photo", expected="a photo of this book", given=sha256)


def sweep_photos(book: Book) -> int:
    """Take away the files of erased photos; gives their number [-]."""
    if book.photo_folder is None:
        return 0
    with book.reader() as conn:
        gone = conn.execute(select(PHOTOS.c.sha256).where(PHOTOS.c.erased_at.is_not(None)))
        names = list(gone.scalars())
    count = 0
    for name in names:
        for path in (original_path(book.photo_folder, name), shown_path(book.photo_folder, name)):
            if path.exists():
                path.unlink()
                count += 1
    return count


def photo_problems(conn: Connection, folder: Path | None) -> Iterator[str]:
    """What does not hold about the photos that the book knows."""
    for row in conn.execute(select(PHOTOS).order_by(PHOTOS.c.sha256)):
        if folder is None:
            yield f"photo {row.sha256}: nobody said where photos are kept"
            continue
        path = original_path(folder, row.sha256)
        if row.erased_at is not None:
            if path.exists():
                yield f"photo {row.sha256} was erased and is still there: run rebuild"
        elif not path.is_file():
            yield f"photo {row.sha256} is missing"
        elif hashlib.sha256(path.read_bytes()).hexdigest() != row.sha256:
            yield f"photo {row.sha256} was changed"
