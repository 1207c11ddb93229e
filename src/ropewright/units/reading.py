"""From text with a unit to an exact fraction."""

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, Never

from ropewright.errors import QuantityError
from ropewright.units.kinds import (
    ANGLE,
    DURATION,
    DURATION_WORDS,
    FAHRENHEIT,
    FOOT_MM,
    FORCE,
    INCH_MM,
    LENGTH,
    MASS,
    NUMBERS,
    PERCENT,
    SPEED,
    STRESS,
    TEMPERATURE,
    DurationUnit,
    Kind,
)
from ropewright.units.showing import exact_decimal

MAX_DIGITS: Final = 40
"""More digits than this in one quantity are a slip or an attack, and refused."""

_ABSOLUTE_ZERO_C: Final = Fraction("-273.15")
_LONGEST_DAYS: Final = 36525
_DAYS: Final[dict[DurationUnit, Fraction]] = {
    "hours": Fraction(1, 24),
    "days": Fraction(1),
    "weeks": Fraction(7),
    "months": Fraction(30),
    "years": Fraction(365),
}
_NUMBER: Final = r"(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
_MIXED: Final = rf"(?:(?:[0-9]+(?:\s*-\s*|\s+))?[0-9]+/[0-9]+|{_NUMBER})"
_QUANTITY: Final = re.compile(rf"([+-]?)\s*({_NUMBER})\s*([^\s0-9.,+-].*)?", re.DOTALL)
_INCHES: Final = re.compile(rf"([+-]?)\s*({_MIXED})\s*in")
_FEET: Final = re.compile(rf"([+-]?)\s*({_MIXED})\s*ft(?:\s*-?\s*({_MIXED})\s*in)?")

_SPACES: Final = str.maketrans({"\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u2212": "-"})
_PRIMES: Final = str.maketrans({"″": '"', "”": '"', "“": '"', "′": "'", "’": "'"})
_VULGAR: Final = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}


@dataclass(frozen=True, slots=True)
class Duration:
    """A length of time as people state it; months and years stay what they are.

    Parameters
    ----------
    count
        How many of `unit` [-]; whole for months and years.
    unit
        ``hours``, ``days``, ``weeks``, ``months`` or ``years``.
    """

    count: Fraction
    unit: DurationUnit

    def __str__(self) -> str:
        """Return it in words that `parse_duration` reads again."""
        word = self.unit.removesuffix("s") if self.count == 1 else self.unit
        return f"{exact_decimal(self.count)} {word}"


def _refuse(kind: Kind, field: str, given: object, hint: str | None = None) -> Never:
    raise QuantityError(field=field, expected=kind.what, given=given, hint=hint)


def _clean(text: object, kind: Kind, field: str) -> str:
    """Return the text with plain spaces and signs, or refuse it."""
    if not isinstance(text, str):
        _refuse(kind, field, text, "write it as text in quotes")
    if len(text) > 10 * MAX_DIGITS:
        _refuse(kind, field, text, "the text is far too long")
    if sum(char.isdigit() for char in text) > MAX_DIGITS:
        _refuse(kind, field, text, f"more than {MAX_DIGITS} digits cannot be meant")
    return text.translate(_SPACES).strip()


def _advice(text: str, kind: Kind) -> str | None:
    """Say what is wrong with a text whose number cannot be read."""
    if re.search(r"[0-9],[0-9]", text):
        if re.search(r"[0-9],[0-9]{3}(?![0-9])", text):
            return "a comma could mean thousands or decimals: write 1200 or 1.2"
        return "write a decimal point, not a comma"
    if re.search(r"[0-9][ '’_][0-9]{3}(?![0-9])", text) or re.search(r"\.[0-9]+\.", text):
        return "write the digits without separators, and a point for decimals"
    if re.search(r"[0-9][eE][+-]?[0-9]", text):
        return "write the number in full"
    if re.search(r"[0-9]/[0-9]", text):
        if kind is LENGTH:
            return "fractions are for inches and feet, such as 1 1/8 in"
        return "write the number as a decimal"
    return None


def _fraction(number: str) -> Fraction | None:
    """Return '12.5', '3/4', '1 1/8' or '1-1/8' exactly; None if it is no proper fraction."""
    if "/" not in number:
        return Fraction(number)
    *whole, part = re.split(r"[\s-]+", number)
    numerator, denominator = map(int, part.split("/"))
    if denominator == 0 or (whole and numerator >= denominator):
        return None
    return Fraction(numerator, denominator) + (int(whole[0]) if whole else 0)


def _signed(
    sign: str, value: Fraction, *, kind: Kind, field: str, given: str, signed: bool
) -> Fraction:
    if sign == "-" and not signed:
        raise QuantityError(field=field, expected=f"{kind.what}, not negative", given=given)
    return -value if sign == "-" else value


def _read(text: str, kind: Kind, *, field: str, signed: bool) -> tuple[Fraction, str]:
    """Return number and unit as written."""
    cleaned = _clean(text, kind, field)
    match = _QUANTITY.fullmatch(cleaned)
    if not match:
        _refuse(kind, field, text, _advice(cleaned, kind))
    sign, number, unit = match[1], match[2], (match[3] or "").rstrip()
    if unit not in kind.units:
        known = "known units: " + ", ".join(kind.units)
        if "" in kind.units:
            known = "no unit belongs here"
        hint = kind.hints.get(unit) or (known if unit else f"the unit is missing; {known}")
        _refuse(kind, field, text, _advice(cleaned, kind) or hint)
    value = _signed(sign, Fraction(number), kind=kind, field=field, given=text, signed=signed)
    return value, unit


def _parse(text: str, kind: Kind, *, field: str, signed: bool) -> Fraction:
    value, unit = _read(text, kind, field=field, signed=signed)
    return value * kind.units[unit]


def parse_number(text: str, *, field: str = "number", signed: bool = False) -> Fraction:
    """Return a plain number [-] exactly.

    Parameters
    ----------
    text
        As typed.
    field
        Name used in the error.
    signed
        Whether it may be negative.

    Raises
    ------
    QuantityError
        If it is not a number written in full with a decimal point.
    """
    return _parse(text, NUMBERS, field=field, signed=signed)


def parse_length(text: str, *, field: str = "length", signed: bool = False) -> Fraction:
    r"""Return a length [mm] exactly.

    Parameters
    ----------
    text
        Millimetres, centimetres, metres, inches or feet, each with its unit.
    field
        Name used in the error.
    signed
        Whether it may be negative.

    Raises
    ------
    QuantityError
        If it is not a length with a unit.

    Examples
    --------
    >>> parse_length("20.5 mm"), parse_length("3/4 in"), parse_length("40' 8\"")
    (Fraction(41, 2), Fraction(381, 20), Fraction(61976, 5))
    """
    cleaned = _clean(text, LENGTH, field).translate(_PRIMES)
    for sign, digits in _VULGAR.items():
        cleaned = cleaned.replace(sign, f" {digits}")
    cleaned = cleaned.replace("''", '"').replace('"', " in").replace("'", " ft").strip()
    if match := _INCHES.fullmatch(cleaned):
        value = _fraction(match[2])
        factor = INCH_MM
    elif match := _FEET.fullmatch(cleaned):
        value = _feet(match[2], match[3])
        factor = FOOT_MM
    else:
        return _parse(text, LENGTH, field=field, signed=signed)
    if value is None:
        hint = "write fractions as 3/4 or 1 1/8; inches after feet are below 12, feet then whole"
        _refuse(LENGTH, field, text, hint)
    value = _signed(match[1], value, kind=LENGTH, field=field, given=text, signed=signed)
    return value * factor


def _feet(feet_text: str, inch_text: str | None) -> Fraction | None:
    feet = _fraction(feet_text)
    if feet is None or inch_text is None:
        return feet
    inches = _fraction(inch_text)
    if inches is None or inches >= 12 or feet.denominator != 1:
        return None
    return feet + inches / 12


def parse_mass(text: str, *, field: str = "mass") -> Fraction:
    """Return a mass [kg] exactly; `text` as typed, `field` for the error (QuantityError)."""
    return _parse(text, MASS, field=field, signed=False)


def parse_force(text: str, *, field: str = "force") -> Fraction:
    """Return a force [kN] exactly; `text` as typed, `field` for the error (QuantityError)."""
    return _parse(text, FORCE, field=field, signed=False)


def parse_stress(text: str, *, field: str = "stress") -> Fraction:
    """Return a stress [N/mm²] exactly; `text` as typed, `field` for the error (QuantityError)."""
    return _parse(text, STRESS, field=field, signed=False)


def parse_percent(text: str, *, field: str = "percentage", signed: bool = False) -> Fraction:
    """Return a percentage [%] exactly: "4.5 %" gives 9/2 (QuantityError if it is none)."""
    return _parse(text, PERCENT, field=field, signed=signed)


def parse_speed(text: str, *, field: str = "speed") -> Fraction:
    """Return a speed [m/s] exactly; `text` as typed, `field` for the error (QuantityError)."""
    return _parse(text, SPEED, field=field, signed=False)


def parse_angle(text: str, *, field: str = "angle", signed: bool = False) -> Fraction:
    """Return an angle [deg] exactly; `text` as typed, `field` for the error (QuantityError)."""
    return _parse(text, ANGLE, field=field, signed=signed)


def parse_temperature(text: str, *, field: str = "temperature") -> Fraction:
    """Return a temperature [°C] exactly; `text` in °C or °F, `field` for the error."""
    value, unit = _read(text, TEMPERATURE, field=field, signed=True)
    celsius = (value - 32) * 5 / 9 if unit in FAHRENHEIT else value
    if celsius < _ABSOLUTE_ZERO_C:
        _refuse(TEMPERATURE, field, text, "that is below absolute zero")
    return celsius


def parse_duration(text: str, *, field: str = "duration") -> Duration:
    """Return a duration as stated, of at most a hundred years.

    Parameters
    ----------
    text
        Hours, days, weeks, months or years: "36 h", "30 d", "30 days", "3 months".
    field
        Name used in the error.

    Raises
    ------
    QuantityError
        If it is none, too long, or a broken number of months or years.

    Examples
    --------
    >>> str(parse_duration("30 d")), str(parse_duration("1 month"))
    ('30 days', '1 month')
    """
    count, word = _read(text, DURATION, field=field, signed=False)
    unit = DURATION_WORDS[word]
    if unit in ("months", "years") and count.denominator != 1:
        _refuse(DURATION, field, text, "months and years are counted whole")
    if count * _DAYS[unit] > _LONGEST_DAYS:
        _refuse(DURATION, field, text, "at most 100 years")
    return Duration(count, unit)
