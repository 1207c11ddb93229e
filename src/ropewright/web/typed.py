"""Numbers as people type them into a page."""

from ropewright.errors import InputError
from ropewright.units import parse_length


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
    words = text.strip().replace(",", ".")
    if words.removeprefix("-").replace(".", "", 1).isdigit():
        words += " m"
    try:
        return float(parse_length(words, signed=True) / 1000)
    except InputError as error:
        raise error.within(field) from None
