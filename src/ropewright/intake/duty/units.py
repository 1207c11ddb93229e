"""Units that a column of a log may be in, each as a factor to metres, degrees or tonnes."""

from fractions import Fraction
from typing import Final, Literal, TypeAlias

from ropewright.errors import DutyLogError
from ropewright.units import parse_angle, parse_length, parse_mass
from ropewright.units.kinds import FOOT_MM, INCH_MM, POUND_KG

Measure: TypeAlias = Literal["length", "angle", "load", "turns", "count"]

_G: Final = Fraction("9.80665")

_FACTORS: Final[dict[Measure, dict[str, Fraction]]] = {
    "length": {
        "m": Fraction(1), "cm": Fraction(1, 100), "mm": Fraction(1, 1000),
        "ft": FOOT_MM / 1000, "in": INCH_MM / 1000,
    },
    "angle": {"deg": Fraction(1), "°": Fraction(1)},
    "load": {
        "t": Fraction(1), "kg": Fraction(1, 1000), "lb": POUND_KG / 1000, "kN": 1 / _G,
    },
    "turns": {"turns": Fraction(1)},
    "count": {"-": Fraction(1)},
}  # fmt: skip


def factor_of(measure: Measure, unit: str | None, *, field: str) -> float:
    """What a number in a column is multiplied by to get metres, degrees or tonnes.

    Parameters
    ----------
    measure
        What the column holds.
    unit
        The unit as written; turns and falls need none.
    field
        The column, for an error.

    Returns
    -------
    float
        The factor [-].

    Raises
    ------
    DutyLogError
        If the unit is missing or another one.
    """
    known = _FACTORS[measure]
    if unit is None and len(known) == 1:
        return 1.0
    if unit not in known:
        hint = "ton has several meanings: write t (1000 kg), kg or lb" if unit == "ton" else None
        raise DutyLogError(
            field=field, expected=f"one of the units {', '.join(known)}", given=unit, hint=hint
        )
    return float(known[unit])


def value_of(measure: Measure, text: str, *, field: str) -> float:
    """A quantity with its unit in metres, degrees or tonnes, or a bare number of falls.

    Parameters
    ----------
    measure
        What it is.
    text
        As written.
    field
        Where it stands, for an error.

    Returns
    -------
    float
        The value [-].
    """
    if measure == "length":
        return float(parse_length(text, field=field, signed=True)) / 1000
    if measure == "angle":
        return float(parse_angle(text, field=field, signed=True))
    if measure == "load":
        return float(parse_mass(text, field=field)) / 1000
    try:
        return float(text)
    except ValueError:
        raise DutyLogError(field=field, expected="a number", given=text) from None
