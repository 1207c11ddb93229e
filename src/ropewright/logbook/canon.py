"""Values as canonical text: the same value always has the same bytes, on every machine."""

import json
import re
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any, Final, TypeAlias

from ropewright.errors import InputError
from ropewright.logbook.verify_book import canonical_text

#: Plain data as JSON has it: text, whole numbers, true, false, nothing, lists, objects.
Plain: TypeAlias = Any

_DECIMAL: Final = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]*[1-9])?")
_NUMBER: Final = re.compile(r"-?[0-9]+(\.[0-9]+)?|-?[1-9][0-9]*/[1-9][0-9]*")
_INSTANT: Final = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{6})?Z")
_LONGEST_NUMBER: Final = 1500


def canonical(data: object) -> str:
    """The one JSON text of plain data; there are no floats in it.

    Raises
    ------
    InputError
        If a text cannot be written in UTF-8, or a float slipped in.
    """
    try:
        text = canonical_text(data)
        text.encode()
    except UnicodeEncodeError:
        raise InputError(expected="text that can be written in UTF-8", given=data) from None
    return text


def plain(text: str) -> Plain:
    """Plain data from JSON text; a float, a doubled key or nonsense is refused.

    Raises
    ------
    InputError
        If it is no such text.
    """
    try:
        return json.loads(
            text, parse_float=_no_float, parse_constant=_no_float, object_pairs_hook=_once
        )
    except (ValueError, RecursionError) as error:
        raise InputError(f"not JSON as the logbook writes it: {error}", given=text) from None


def _no_float(text: str) -> Plain:
    raise ValueError(f"the number {text} is not written as text")


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    made = dict(pairs)
    if len(made) != len(pairs):
        raise ValueError("a key stands there twice")
    return made


def fraction_text(value: Fraction) -> str:
    """An exact number ``value`` [-] as a decimal if it ends, else as a ratio.

    Examples
    --------
    >>> fraction_text(Fraction("19.05")), fraction_text(Fraction(-1, 3)), fraction_text(Fraction(8))
    ('19.05', '-1/3', '8')
    """
    rest = value.denominator
    twos = fives = 0
    while rest % 2 == 0:
        rest, twos = rest // 2, twos + 1
    while rest % 5 == 0:
        rest, fives = rest // 5, fives + 1
    if rest != 1:
        return f"{value.numerator}/{value.denominator}"
    digits = max(twos, fives)
    if digits == 0:
        return str(value.numerator)
    whole, part = divmod(abs(value.numerator) * 10**digits // value.denominator, 10**digits)
    return f"{'-' if value < 0 else ''}{whole}.{part:0{digits}d}"


def read_fraction(text: object) -> Fraction:
    """An exact number [-] from its text; anything else is a ValueError."""
    if isinstance(text, str) and len(text) <= _LONGEST_NUMBER and _NUMBER.fullmatch(text):
        value = Fraction(text)
        if fraction_text(value) == text:
            return value
    raise ValueError


def float_text(value: float) -> str:
    """A number ``value`` [-] in the fewest digits that give it back, never with an exponent.

    Examples
    --------
    >>> float_text(61.4), float_text(180.0), float_text(1e-7), float_text(-0.0)
    ('61.4', '180', '0.0000001', '0')
    """
    text = format(Decimal(repr(float(value))), "f")
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def read_float(text: object) -> float:
    """A number [-] from its text; anything else is a ValueError."""
    if isinstance(text, str) and len(text) <= _LONGEST_NUMBER and _DECIMAL.fullmatch(text):
        value = float(text)
        if float_text(value) == text:
            return value
    raise ValueError


def instant_text(moment: datetime) -> str:
    """A moment in UTC as text with six digits of a second, or none if it is whole.

    Raises
    ------
    InputError
        If it has no zone.
    """
    if moment.tzinfo is None:
        raise InputError(expected="a moment with its zone", given=moment)
    utc = moment.astimezone(UTC).replace(tzinfo=None)
    return utc.isoformat(timespec="microseconds" if utc.microsecond else "seconds") + "Z"


def read_instant(text: object) -> datetime:
    """A moment in UTC from its text; anything else is a ValueError."""
    if isinstance(text, str) and _INSTANT.fullmatch(text):
        moment = datetime.fromisoformat(text[:-1]).replace(tzinfo=UTC)
        if instant_text(moment) == text:
            return moment
    raise ValueError


def read_day(text: object) -> date:
    """A calendar day from its text; anything else is a ValueError."""
    if isinstance(text, str) and re.fullmatch(r"\d{4}-\d\d-\d\d", text):
        return date.fromisoformat(text)
    raise ValueError


def corrected(moment: datetime, clock_off_s: int | None) -> datetime:
    """A moment of a device's clock as the book's clock had it.

    Parameters
    ----------
    moment
        As the device wrote it.
    clock_off_s
        By how much the device's clock was ahead of the book's [s]; ``None`` if nobody knows.
    """
    return moment - timedelta(seconds=clock_off_s or 0)
