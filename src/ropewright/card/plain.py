"""Core values as the card has them: exact numbers as text, places in metres as numbers."""

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from fractions import Fraction
from typing import Any

from ropewright.units import exact_decimal


def plain(value: object) -> Any:  # noqa: ANN401 - JSON values of any kind
    """A core value as JSON can hold it.

    Raises
    ------
    TypeError
        If a value of another kind turns up: a card must not guess.
    """
    if value is None or isinstance(value, bool | int | str):
        return value
    if isinstance(value, float):
        return value
    if isinstance(value, Fraction):
        return exact_text(value)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, tuple | list):
        return [plain(one) for one in value]
    if isinstance(value, Mapping):
        return {str(key): plain(one) for key, one in value.items()}
    if is_dataclass(value) and not isinstance(value, type):
        return {one.name: plain(getattr(value, one.name)) for one in fields(value)}
    raise TypeError(f"no plain form for {type(value).__name__}")


def exact_text(value: Fraction) -> str:
    """An exact number ``value`` [-] as decimal text, or as a ratio where it does not end.

    Examples
    --------
    >>> exact_text(Fraction("7.2")), exact_text(Fraction(20, 3))
    ('7.2', '20/3')
    """
    text = exact_decimal(value)
    return str(value) if text.endswith("…") else text
