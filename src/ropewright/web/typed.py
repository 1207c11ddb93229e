"""Numbers as people type them into a page.

A number without a unit is read in the unit that stands beside the field.  To a person who chose
feet, inches and pounds no field offers one: there a unit has to be typed, for a bare number might
be meant in either.
"""

import re
from collections.abc import Collection, Mapping
from fractions import Fraction
from typing import Final

from ropewright.errors import InputError
from ropewright.units import parse_length

_THOUSANDS: Final = re.compile(r"[0-9],[0-9]{3}(?![0-9])")
_LIKE: Final = {
    "m": "a length with its unit, ft or m, like 76 ft 9 in",
    "mm": "a length with its unit, in or mm, like 3/4 in",
}


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


def is_bare(text: str) -> bool:
    """Whether a number other than zero comes without a unit.

    Examples
    --------
    >>> is_bare("23.4"), is_bare("23.4 m"), is_bare("0")
    (True, False, False)
    """
    words = with_point(text).lstrip("+-").strip()
    return words.replace(".", "", 1).isdecimal() and bool(words.strip("0."))


def check_units(typed: Mapping[str, str], fields: Collection[str], units: str) -> None:
    """See to it that lengths have their unit where the person thinks in feet and inches.

    Parameters
    ----------
    typed
        What was typed, by field.
    fields
        Those that hold a length.
    units
        The person's units.

    Raises
    ------
    InputError
        If one comes without a unit; names the field.
    """
    for name in fields:
        if units == "us" and is_bare(typed.get(name, "")):
            raise InputError(field=name, expected=_LIKE["m"], given=typed[name])


def read_length(
    text: str, field: str, unit: str, *, signed: bool = False, units: str = "metric"
) -> Fraction:
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
    units
        The person's units: in US units a number needs its own, see above.

    Raises
    ------
    InputError
        If it cannot be read; names the field.
    """
    words = with_point(text)
    if units == "us" and is_bare(words):
        raise InputError(field=field, expected=_LIKE[unit], given=text)
    if words.removeprefix("-").replace(".", "", 1).isdigit():
        words += f" {unit}"
    try:
        return parse_length(words, signed=signed)
    except InputError as error:
        raise error.within(field) from None


def read_metres(text: str, field: str, *, units: str = "metric") -> float:
    """A length as typed, with or without its unit [m].

    Parameters
    ----------
    text
        As typed.
    field
        Name used in the error.
    units
        The person's units, as for `read_length`.

    Raises
    ------
    InputError
        If it cannot be read; names the field.

    Examples
    --------
    >>> read_metres("23,4", "hook height"), read_metres("76 ft 9 in", "hook height")
    (23.4, 23.3934)
    """
    return float(read_length(text, field, "m", signed=True, units=units) / 1000)
