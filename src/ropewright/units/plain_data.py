"""Core values as plain data for JSON: exact, in a fixed order, nothing left out."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from fractions import Fraction
from typing import Any

from ropewright.units.showing import exact_text


def as_plain_data(value: object) -> Any:  # noqa: ANN401 - JSON values of any kind
    """Turn a core value into what JSON can hold.

    Fractions become decimal text where they end, else text such as ``1/3``; dates become text
    like ``2026-11-10``; places [m] stay numbers; dataclasses become tables by field name.

    Raises
    ------
    TypeError
        If a value of another kind turns up: a record must not guess.
    """
    if value is None or isinstance(value, bool | int | float | str):
        return value
    if isinstance(value, Fraction):
        return exact_text(value)
    if isinstance(value, date):
        return value.isoformat()
    if is_dataclass(value) and not isinstance(value, type):
        return {one.name: as_plain_data(getattr(value, one.name)) for one in fields(value)}
    if isinstance(value, Mapping):
        return {str(key): as_plain_data(one) for key, one in value.items()}
    if isinstance(value, tuple | list):
        return [as_plain_data(one) for one in value]
    if isinstance(value, set | frozenset):
        return sorted(as_plain_data(one) for one in value)
    raise TypeError(f"no plain form for {type(value).__name__}")
