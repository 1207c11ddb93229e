"""Numbers as people type them into a page."""

import re
from fractions import Fraction
from typing import Final

from ropewright.errors import InputError
from ropewright.units import parse_length

_THOUSANDS: Final = re.compile(r"[0-9],[0-9]{3}(?![0-9])")


def with_point(text: str) -> str:
    """A number as typed, with a point for a decimal comma.

    A comma that may stand for thousands stays, so that whoever reads the number refuses it.

    Examples
    --------
    >>> with_point(" 23,4 "), with_point("1,200")
    ('23.4', '1,200')
    """
    words = text.strip()
    return words if _THOUSANDS.search(words) else words.replace(",", ".")


def read_length(text: str, field: str, unit: str, *, signed: bool = False) -> Fraction:
    """A length as typed [mm], exactly.

    Parameters
    ----------
    text
        As typed.
    field
        Name used in the error.
    unit
        The unit of a number that comes without one.
    signed
        Whether it may be negative.

    Raises
    ------
    InputError
        If it cannot be read; names the field.
    """
    words = with_point(text)
    if words.removeprefix("-").replace(".", "", 1).isdigit():
        words += f" {unit}"
    try:
        return parse_length(words, signed=signed)
    except InputError as error:
        raise error.within(field) from None


def read_metres(text: str, field: str) -> float:
    """A length as typed, with or without its unit [m].

    Raises
    ------
    InputError
        If it cannot be read; names the field.

    Examples
    --------
    >>> read_metres("23,4", "hook height"), read_metres("76 ft 9 in", "hook height")
    (23.4, 23.3934)
    """
    return float(read_length(text, field, "m", signed=True) / 1000)
