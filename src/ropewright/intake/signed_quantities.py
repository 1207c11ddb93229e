"""Quantities that may be of either sign: heights, distances, angles; and turns."""

from fractions import Fraction
from typing import Annotated, TypeAlias

from pydantic import Field

from ropewright.errors import QuantityError
from ropewright.intake.quantities import quantity_type
from ropewright.units import parse_angle, parse_length


def _angle(given: object) -> Fraction:
    """An angle [deg], of either sign."""
    return parse_angle(given, signed=True)  # type: ignore[arg-type]  # refuses what is not text


def _height(given: object) -> Fraction:
    """A height or a distance [mm], of either sign."""
    try:
        return parse_length(given, signed=True)  # type: ignore[arg-type]
    except QuantityError as error:
        raise QuantityError(
            expected='a length such as "2.1 m" or "-0.4 m"', given=given, hint=error.hint
        ) from None


_angle_type = quantity_type(_angle, "an angle with its unit", ["90 deg"])
_height_type = quantity_type(_height, "a length with its unit, of either sign", ["2 m", "-1 m"])
Angle: TypeAlias = Annotated[Fraction, *_angle_type]
Height: TypeAlias = Annotated[Fraction, *_height_type]
Turns: TypeAlias = Annotated[float, Field(ge=0, le=1000)]
