"""Files that people take away: what they are called, and how they are sent."""

import re
import threading
from collections.abc import Callable, Iterator
from tempfile import SpooledTemporaryFile
from typing import BinaryIO, Final, cast
from urllib.parse import quote

from fastapi import HTTPException
from fastapi.responses import Response, StreamingResponse

from ropewright.web.office import Visit

#: What each ending is; a browser shows a PDF and keeps everything else.
KINDS: Final = {
    "pdf": "application/pdf",
    "toml": "application/toml",
    "csv": "text/csv; charset=utf-8",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "ics": "text/calendar; charset=utf-8",
    "jsonl": "application/jsonl",
    "zip": "application/zip",
    "py": "text/x-python; charset=utf-8",
}
#: Longer names are cut [-]: with day and ending they fit every file system.
MOST_LETTERS: Final = 80
#: What is larger goes to the disk while it is made [bytes].
_IN_MEMORY: Final = 1_000_000
_PIECE: Final = 262_144
#: Held while a whole book is written: that takes a core.
_WRITING: Final = threading.Lock()

#: What some file system or shell does not take in a name, and what turns text about.
_NOT_IN_NAMES: Final = re.compile(
    r'[\s\x00-\x1f\x7f-\x9f<>:"/\\|?*\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ud800-\udfff]+'
)
_NOT_PLAIN: Final = re.compile(r"[^A-Za-z0-9._()-]")


def file_name(visit: Visit, of: str, what: str, ending: str) -> str:
    """What a file is called: whose it is, what, of which day.

    Parameters
    ----------
    visit
        Whose day it is.
    of
        The rope, or what stands for the whole book; any text.
    what
        What of it.
    ending
        Without a dot.
    """
    clean = _NOT_IN_NAMES.sub("-", of)[:MOST_LETTERS].strip(".-") or "rope"
    day = visit.office.tools.today().isoformat()
    return f"{'-'.join(part for part in (clean, what, day) if part)}.{ending}"


def book_name(visit: Visit, what: str, ending: str) -> str:
    """What a file of the whole book is called."""
    return file_name(visit, "logbook", what, ending)


def disposition(name: str, ending: str) -> str:
    """The header that names a file, for whatever letters stand in the name (RFC 6266, RFC 8187).

    Examples
    --------
    >>> print(disposition("Käse.csv", "csv"))
    attachment; filename="K-se.csv"; filename*=UTF-8''K%C3%A4se.csv
    """
    how = "inline" if ending == "pdf" else "attachment"
    plain = _NOT_PLAIN.sub("-", name)
    return f"{how}; filename=\"{plain}\"; filename*=UTF-8''{quote(name, safe='')}"


def send(name: str, data: bytes) -> Response:
    """A small file.

    Parameters
    ----------
    name
        With its ending.
    data
        All of it.
    """
    ending = name.rpartition(".")[2]
    return Response(
        data, media_type=KINDS[ending],
        headers={"content-disposition": disposition(name, ending)},
    )  # fmt: skip


def send_made(name: str, write: Callable[[BinaryIO], object]) -> Response:
    """A file of any size: made whole first, so that what fails is said and nothing is cut short.

    Parameters
    ----------
    name
        With its ending.
    write
        Writes it into an open file.
    """
    file = cast(BinaryIO, SpooledTemporaryFile(max_size=_IN_MEMORY))  # noqa: SIM115 - sent later
    try:
        write(file)
        size = file.seek(0, 2)
        file.seek(0)
    except BaseException:
        file.close()
        raise
    ending = name.rpartition(".")[2]
    return StreamingResponse(
        _pieces(file), media_type=KINDS[ending],
        headers={"content-disposition": disposition(name, ending), "content-length": str(size)},
    )  # fmt: skip


def send_large(visit: Visit, name: str, write: Callable[[BinaryIO], object]) -> Response:
    """A file of the whole book: one is made at a time, so that pages stay quick for the others.

    Parameters
    ----------
    visit
        Who waits for it.
    name
        With its ending.
    write
        Writes it into an open file.

    Raises
    ------
    HTTPException
        If another one is being made just now.
    """
    if not _WRITING.acquire(blocking=False):
        raise HTTPException(429, visit.t("documents.busy"))
    try:
        return send_made(name, write)
    finally:
        _WRITING.release()


def _pieces(file: BinaryIO) -> Iterator[bytes]:
    with file:
        while piece := file.read(_PIECE):
            yield piece
