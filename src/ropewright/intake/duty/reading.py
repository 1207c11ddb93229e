"""Opens a duty log, whatever its form, and gives it piece by piece."""

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from ropewright.errors import DutyLogError, InputError
from ropewright.intake.duty.mapping import LogMapping
from ropewright.intake.duty.parquet_log import parquet_pieces
from ropewright.intake.duty.text_log import text_pieces
from ropewright.wear import DutyChunk

TEXT_ENDINGS: Final = (".csv", ".tsv", ".txt", ".gz")
PARQUET_ENDINGS: Final = (".parquet", ".pq")


def duty_log(path: str | Path, mapping: LogMapping | None = None) -> Iterator[DutyChunk]:
    """Pieces of a duty log in order.

    Parameters
    ----------
    path
        CSV, also packed with gzip, or Parquet; the ending says which.
    mapping
        Which column is what; without one the log's headings must say it, as in
        ``time, hook [m], radius [m], load [t]``.

    Raises
    ------
    InputError
        If the log cannot be read; names row and column.
    """
    place = Path(path)
    ending = place.suffix.lower()
    if not place.is_file():
        words = "a folder" if place.is_dir() else "no such file"
        raise DutyLogError(file=path, expected="a duty log, CSV or Parquet", given=words)
    if ending in PARQUET_ENDINGS:
        pieces = parquet_pieces(place, mapping, file=str(path))
    elif ending in TEXT_ENDINGS:
        pieces = text_pieces(place, mapping, file=str(path))
    else:
        raise DutyLogError(
            file=path,
            expected=f"a file ending in {', '.join((*TEXT_ENDINGS, *PARQUET_ENDINGS))}",
            given=place.name,
        )
    try:
        yield from pieces
    except InputError as error:
        raise error.with_file(path) from None
