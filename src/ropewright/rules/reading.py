"""What readers of checks share: windows, tables by name, 'exactly one of'."""

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Final

from ropewright.errors import TableError
from ropewright.rules.fields import Fields
from ropewright.rules.ruling import PROVENANCES
from ropewright.rules.tables import Table

_WINDOW: Final = re.compile(r"([1-9]\d{0,2}(?:\.\d{1,3})?) (d|lay)", re.ASCII)


def parse_window(text: str) -> tuple[Fraction, str]:
    """Length of a window as a number and its unit: ``d`` (nominal diameters) or ``lay``.

    Returns
    -------
    tuple of Fraction and str
        How many [-], and of what.

    Raises
    ------
    ValueError
        If the text is not like ``6 d`` or ``1 lay``.
    """
    match = _WINDOW.fullmatch(text)
    if match is None:
        raise ValueError(text)
    return Fraction(match[1]), match[2]


def read_window(fields: Fields) -> str:
    """Read the key ``window``, as text."""
    text = fields.text("window")
    try:
        parse_window(text)
    except ValueError as problem:
        raise fields.error(
            "window", expected='a window like "6 d" or "1 lay"', given=text
        ) from problem
    return text


def named_table(
    fields: Fields, key: str, tables: Mapping[str, Table], used: set[str]
) -> Table | None:
    """The table that a key names, noted in ``used``; nothing when the key is absent."""
    if not fields.has(key):
        fields.text(key, default="-")
        return None
    name = fields.choice(key, tuple(tables)) if tables else fields.text(key)
    if name not in tables:
        raise fields.error(key, expected="a table file beside this one", given=name)
    used.add(name)
    _check_provenances(tables[name])
    return tables[name]


def _check_provenances(table: Table) -> None:
    """A column ``provenance`` says row by row who read the figures where."""
    if "provenance" not in table.heads:
        return
    for row in table.rows:
        if row.cells["provenance"] not in PROVENANCES:
            raise TableError(
                field=f"line {row.line}, column provenance",
                expected=f"one of {', '.join(PROVENANCES)}",
                given=row.cells["provenance"],
                file=table.name,
            )


def one_of(fields: Fields, what: Mapping[str, object]) -> None:
    """Refuse none or several of some keys."""
    given = [key for key, value in what.items() if value is not None]
    if len(given) != 1:
        raise fields.error(
            "limit",
            expected=f"exactly one of {', '.join(what)}",
            given=", ".join(given) if given else "none of them",
        )
