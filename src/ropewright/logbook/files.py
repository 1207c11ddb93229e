"""Files that are there whole or not at all, and stay there when the power goes."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from ropewright.errors import OutputError


@contextmanager
def whole_file(path: Path) -> Iterator[BinaryIO]:
    """A file to write; it takes its name only once everything is on the disk.

    Raises
    ------
    OutputError
        If it cannot be written.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_name(f".{path.name}.{os.getpid()}.part")
        try:
            with part.open("wb") as file:
                yield file
                file.flush()
                os.fsync(file.fileno())
            part.replace(path)
        finally:
            part.unlink(missing_ok=True)
        sync_folder(path.parent)
    except OSError as problem:
        raise OutputError(
            f"cannot be written: {problem.strerror}", file=path,
            hint="choose another place for the file",
        ) from problem  # fmt: skip


def write_whole(path: Path, data: bytes) -> None:
    """Write a file, whole or not at all."""
    with whole_file(path) as file:
        file.write(data)


def sync_folder(folder: Path) -> None:
    """See to it that a new name in a folder is on the disk (where the system can do that)."""
    if hasattr(os, "O_DIRECTORY"):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
