"""Where in the text of a case file a field stands, so that an error can name its line."""

import re
from collections.abc import Iterator
from typing import Final

_HEADER: Final = re.compile(r"^\s*(\[\[?)\s*([A-Za-z0-9_.\"'\s-]+?)\s*\]")
_KEY: Final = re.compile(r"^\s*([A-Za-z0-9_.\"'-]+)\s*=")


class LineFinder:
    """Line numbers of the fields of one case file, worked out when the first is asked for.

    Parameters
    ----------
    text
        The whole case file.
    """

    def __init__(self, text: str) -> None:
        self._text = text
        self._lines: dict[str, int] | None = None

    def line_of(self, field: str) -> int | None:
        """Return the line of a field, or of the nearest thing around it that has one.

        Parameters
        ----------
        field
            Dotted path, counting from 1: ``inspection[2].finding[4].count``.
        """
        if self._lines is None:
            self._lines = dict(_fields(self._text))
        while field:
            if field in self._lines:
                return self._lines[field]
            field = field[: max(field.rfind("."), field.rfind("["), 0)]
        return None


def _fields(text: str) -> Iterator[tuple[str, int]]:
    """Yield every table and key with its line."""
    counts: dict[str, int] = {}
    table = ""
    inside: str | None = None
    for number, row in enumerate(text.splitlines(), 1):
        if inside is not None:  # a text over several lines
            inside = None if inside in row else inside
            continue
        header = _HEADER.match(row)
        if header:
            table = _table_path(header[2], header[1] == "[[", counts)
            yield table, number
            continue
        key = _KEY.match(row)
        if key:
            name = key[1].replace('"', "").replace("'", "")
            yield (f"{table}.{name}" if table else name), number
        for quote in ('"""', "'''"):
            if row.count(quote) % 2:
                inside = quote
                break


def _table_path(name: str, is_list: bool, counts: dict[str, int]) -> str:
    """The path of a table header, with the numbers of the lists it belongs to."""
    path = ""
    parts = [part.strip().strip("\"'") for part in name.split(".")]
    for place, part in enumerate(parts):
        path = f"{path}.{part}" if path else part
        if is_list and place == len(parts) - 1:
            counts[path] = counts.get(path, 0) + 1
        if path in counts:
            path = f"{path}[{counts[path]}]"
    return path
