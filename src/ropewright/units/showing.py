"""From exact values to text with a unit; what rounds says so or is asked to."""

import math
from fractions import Fraction
from typing import Final

from ropewright.units.kinds import INCH_MM

_LONGEST_DECIMAL: Final = 120


def metres(length_mm: Fraction) -> float:
    """Return a length `length_mm` [mm] as a place along the rope is kept: metres [m]."""
    return float(length_mm / 1000)


def exact_decimal(value: Fraction) -> str:
    """Return `value` [-] as a decimal: exact if it ends, else six digits and '…'.

    Examples
    --------
    >>> exact_decimal(Fraction(9, 2)), exact_decimal(Fraction(-1, 3))
    ('4.5', '-0.333333…')
    """
    numerator, denominator = value.as_integer_ratio()
    rest, digits = denominator, 0
    while rest % 10 == 0:
        rest, digits = rest // 10, digits + 1
    while rest % 2 == 0 or rest % 5 == 0:
        rest, digits = rest // (2 if rest % 2 == 0 else 5), digits + 1
    if rest == 1 and digits <= _LONGEST_DECIMAL:
        return _decimal(numerator < 0, digits, abs(numerator) * 10**digits // denominator)
    return _decimal(numerator < 0, 6, abs(numerator) * 10**6 // denominator) + "…"


def exact_text(value: Fraction) -> str:
    """Return `value` [-] as a decimal if it ends within a line's length, else as a ratio.

    Nothing is lost: both forms read back to the same number.

    Examples
    --------
    >>> exact_text(Fraction("7.2")), exact_text(Fraction(20, 3))
    ('7.2', '20/3')
    """
    text = exact_decimal(value)
    return str(value) if text.endswith("…") else text


def fixed_decimal(value: Fraction, digits: int) -> str:
    """Return `value` [-] rounded to `digits` decimals, halves away from zero."""
    scaled = math.floor(abs(value) * 10**digits + Fraction(1, 2))
    return _decimal(value < 0, digits, scaled)


def _decimal(is_negative: bool, digits: int, scaled: int) -> str:
    """Return a whole number of units of the last digit, with its sign and point."""
    whole, part = divmod(scaled, 10**digits)
    sign = "-" if is_negative and scaled else ""
    return f"{sign}{whole}.{part:0{digits}d}" if digits else f"{sign}{whole}"


def show_length_mm(length_mm: Fraction, digits: int | None = None) -> str:
    """Return a length `length_mm` [mm] with its unit, exact or rounded to `digits` decimals.

    Examples
    --------
    >>> show_length_mm(Fraction(381, 20)), show_length_mm(Fraction(381, 20), 1)
    ('19.05 mm', '19.1 mm')
    """
    shown = exact_decimal(length_mm) if digits is None else fixed_decimal(length_mm, digits)
    return f"{shown} mm"


def show_place_m(place_m: float, digits: int = 2) -> str:
    """Return a place `place_m` [m] with its unit, rounded to `digits` decimals."""
    if not math.isfinite(place_m):
        raise ValueError(f"a place is a finite number of metres, not {place_m}")
    return f"{place_m:.{digits}f} m"


def show_percent(value: Fraction, digits: int = 2) -> str:
    """Return a percentage `value` [%]: exact within `digits` decimals, else marked '≈'.

    Examples
    --------
    >>> show_percent(Fraction(9, 2)), show_percent(Fraction(13, 3))
    ('4.5 %', '≈ 4.33 %')
    """
    if (value * 10**digits).denominator == 1:
        return f"{exact_decimal(value)} %"
    return f"≈ {fixed_decimal(value, digits)} %"


def _mixed(inches: Fraction) -> str:
    whole, part = divmod(inches, 1)
    if not part:
        return f"{whole}"
    return f"{whole} {part}" if whole else f"{part}"


def show_inches(length_mm: Fraction) -> str:
    """Return a length `length_mm` [mm] in inches to 1/64, marked '≈' where that rounds.

    Examples
    --------
    >>> show_inches(Fraction("28.575")), show_inches(Fraction(20))
    ('1 1/8 in', '≈ 25/32 in')
    """
    sixty_fourths = Fraction(math.floor(abs(length_mm) / INCH_MM * 64 + Fraction(1, 2)), 64)
    about = "" if sixty_fourths * INCH_MM == abs(length_mm) else "≈ "
    sign = "-" if length_mm < 0 and sixty_fourths else ""
    return f"{about}{sign}{_mixed(sixty_fourths)} in"


def show_feet_inches(length_mm: Fraction) -> str:
    """Return a length `length_mm` [mm] in feet and inches to 1/64, marked '≈' where that rounds.

    Examples
    --------
    >>> show_feet_inches(Fraction(61976, 5)), show_feet_inches(Fraction("304.8"))
    ('40 ft 8 in', '1 ft')
    """
    inches = Fraction(math.floor(abs(length_mm) / INCH_MM * 64 + Fraction(1, 2)), 64)
    about = "" if inches * INCH_MM == abs(length_mm) else "≈ "
    sign = "-" if length_mm < 0 and inches else ""
    feet, rest = divmod(inches, 12)
    parts = [f"{feet} ft"] * bool(feet) + [f"{_mixed(rest)} in"] * bool(rest or not feet)
    return about + sign + " ".join(parts)
