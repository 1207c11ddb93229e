"""Words of rules, plan and book as a page says them: short figures, days as everywhere else.

The exact figure stays where a ruling is derived; here is the form for reading.
"""

import re
from collections.abc import Iterable
from datetime import date
from fractions import Fraction
from typing import Final

from ropewright.units import fixed_decimal

_NUMBER: Final = re.compile(r"(?<![\w.])[0-9]+(?:\.[0-9]+)?…?")
#: Figures that nobody reads to their end; the number of a clause goes on with a bracket or a dot.
_LONG: Final = re.compile(r"(?<![\w.,])(?:[0-9]+\.[0-9]{3,}…?|[0-9]+\.[0-9]+…)(?![\w.(…])")
#: A day by itself; the name of an inspection or a finding goes on behind it.
_DAY: Final = re.compile(r"(?<![\w-])([0-9]{4}-[0-9]{2}-[0-9]{2})(?![\w-])")


def day_words(value: date) -> str:
    """A day as 9 Nov 2026."""
    return f"{value.day} {value:%b %Y}"


def said_days(words: str) -> str:
    """Words with their days as 9 Nov 2026.

    Examples
    --------
    >>> said_days("rope fitted 2025-01-09, finding 2026-11-05-A")
    'rope fitted 9 Jan 2025, finding 2026-11-05-A'
    """
    return _DAY.sub(_said_day, words)


def _said_day(match: re.Match[str]) -> str:
    try:
        return day_words(date.fromisoformat(match[1]))
    except ValueError:
        return match[0]


def short_figures(words: str, beside: Iterable[str] = ()) -> str:
    """Words with long figures cut to two decimals, for reading only.

    A figure stays as it is where the short one would compare otherwise with a number that stands
    beside it: 1.4999 is not said to be 1.50 where 1.5 is asked for.

    Parameters
    ----------
    words
        What is said.
    beside
        What else the reader compares it with.

    Examples
    --------
    >>> short_figures("sheave diameter: 21.538461… d")
    'sheave diameter: 21.54 d'
    >>> short_figures("clearance: 1.4999 mm", ["at least 1.5 mm"])
    'clearance: 1.4999 mm'
    """
    fixed = [_value(one) for text in beside for one in _NUMBER.findall(text)]

    def short(match: re.Match[str]) -> str:
        value = _value(match[0])
        said = fixed_decimal(value, 2)
        rest = f"{words[: match.start()]} {words[match.end() :]}"
        others = (*fixed, *map(_value, _NUMBER.findall(rest)))
        same = all(_order(value, one) == _order(Fraction(said), one) for one in others)
        return said if same else match[0]

    return _LONG.sub(short, words)


def _value(text: str) -> Fraction:
    return Fraction(text.removesuffix("…"))


def _order(left: Fraction, right: Fraction) -> int:
    return (left > right) - (left < right)
