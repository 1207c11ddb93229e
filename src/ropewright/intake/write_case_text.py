"""Plain tables as TOML text, and quantities as text that reads back exactly."""

import json
import re
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any, Final

from ropewright.errors import InputError
from ropewright.units import exact_text
from ropewright.units.kinds import FOOT_MM, INCH_MM, POUND_KG

Table = dict[str, Any]

_BARE: Final = re.compile(r"[A-Za-z0-9_-]+")
_INLINE_WIDTH: Final = 88
#: Tables that stand on one line, because they are small and belong to one thing.
_INLINE: Final = frozenset({"breaks", "measured", "release", "working"})


# --- Quantities -------------------------------------------------------------------------------


def _ends(value: Fraction) -> bool:
    return "/" not in exact_text(value)


def decimal_text(value: Fraction) -> str:
    """An exact number ``value`` [-] as a decimal.

    Raises
    ------
    InputError
        If it has no end: nobody can have typed it so.
    """
    if not _ends(value):
        raise InputError(expected="a number that ends", given=str(value))
    return exact_text(value)


def float_text(value: float) -> str:
    """A number ``value`` [-] in the fewest digits that give it back, without an exponent."""
    text = format(Decimal(repr(float(value))), "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def mm(value: Fraction | None) -> str | None:
    """An exact length ``value`` [mm]: in millimetres if that ends, else in parts of an inch."""
    if value is None:
        return None
    if _ends(value):
        return f"{decimal_text(value)} mm"
    inches = value / INCH_MM
    return f"{inches.numerator}/{inches.denominator} in"


def m(value: float | None) -> str | None:
    """A place or length ``value`` [m]."""
    return None if value is None else f"{float_text(value)} m"


def in_unit(value: Fraction | float | None, unit: str) -> str | None:
    """A number ``value`` [-] with its unit."""
    if value is None:
        return None
    text = float_text(value) if isinstance(value, float) else decimal_text(value)
    return f"{text} {unit}".strip()


def share(value: Fraction | None) -> str | None:
    """A share ``value`` [-] of the whole."""
    return None if value is None else f"{value.numerator}/{value.denominator}"


def per_metre(value: Fraction | None) -> str | None:
    """A mass per length ``value`` [kg/m]: in that unit if it ends, else in pounds per foot."""
    if value is None or _ends(value):
        return in_unit(value, "kg/m")
    return in_unit(value * (FOOT_MM / 1000) / POUND_KG, "lb/ft")


# --- Tables -----------------------------------------------------------------------------------


def without_nothing(table: Mapping[str, object]) -> Table:
    """The table without what is not said: nothing, an empty text, an empty list."""
    return {
        key: value
        for key, value in table.items()
        if not (value is None or (isinstance(value, str | list | dict | tuple) and not value))
    }


def toml_text(tables: Table) -> str:
    """Tables as TOML: keys first, then tables and lists of tables in their order."""
    return "".join(f"{line}\n" for line in _lines(tables, "")).lstrip("\n")


def _lines(tables: Mapping[str, Any], path: str) -> list[str]:
    plain, below = [], []
    for key, value in tables.items():
        name = f"{path}.{_key(key)}" if path else _key(key)
        if key not in _INLINE and isinstance(value, Mapping):
            below += ["", f"[{name}]", *_lines(value, name)]
        elif key not in _INLINE and _is_tables(value):
            for one in value:
                below += ["", f"[[{name}]]", *_lines(one, name)]
        else:
            plain.append(f"{_key(key)} = {_value(value)}")
    return plain + below


def _is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and isinstance(value[0], Mapping)


def _key(key: str) -> str:
    return key if _BARE.fullmatch(key) else _quoted(key)


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _value(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        inner = ", ".join(f"{_key(key)} = {_value(one)}" for key, one in value.items())
        return f"{{ {inner} }}"
    if isinstance(value, Sequence):
        shown = [_value(one) for one in value]
        one_line = f"[{', '.join(shown)}]"
        if len(one_line) <= _INLINE_WIDTH and not _is_tables(value):
            return one_line
        return "[\n" + "".join(f"  {one},\n" for one in shown) + "]"
    raise TypeError(f"no way to write {type(value).__name__} into a case file")
