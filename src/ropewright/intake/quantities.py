"""Quantities as a case file writes them: text with a unit, read exactly by ``ropewright.units``."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Final, Literal, TypeAlias

from pydantic import PlainValidator, WithJsonSchema
from pydantic_core import PydanticCustomError

from ropewright.errors import InputError, QuantityError
from ropewright.units import (
    metres,
    parse_force,
    parse_length,
    parse_mass,
    parse_number,
    parse_percent,
    parse_speed,
    parse_stress,
)

_SPAN: Final = re.compile(r"\s*([0-9.]+)\s*(d|lays?)\s*")
_PLUS_MINUS: Final = re.compile(r"\s*(?:±|\+/-|\+-)\s*")
_PART: Final = re.compile(r"\s*([0-9]{1,6})\s*/\s*([0-9]{1,6})\s*")


@dataclass(frozen=True, slots=True)
class RopeSpan:
    """A length in rope diameters or lay lengths, ``count`` [-] of them: ``6 d``, ``1 lay``."""

    count: Fraction
    of: Literal["d", "lay"]


def quantity_type(
    parse: Callable[..., object], words: str, examples: list[str], **schema: object
) -> tuple[PlainValidator, WithJsonSchema]:
    """A text that `parse` reads, with the part of the JSON Schema that describes it."""

    def read(given: object) -> object:
        try:
            return parse(given)
        except InputError as error:
            raise PydanticCustomError("ropewright", "quantity", {"error": error}) from None

    described = {"type": "string", "pattern": "[0-9]", "description": words, "examples": examples}
    return PlainValidator(read), WithJsonSchema({**described, **schema})


def _length(given: object) -> Fraction:
    """A length [mm] of at least 0."""
    return parse_length(given)  # type: ignore[arg-type]  # refuses what is not text


def metres_of(length_mm: Fraction | None) -> float | None:
    """A length ``length_mm`` [mm] in metres, if one is stated."""
    return None if length_mm is None else metres(length_mm)


def float_of(value: Fraction | None) -> float | None:
    """A number ``value`` [-] as a float, if one is stated."""
    return None if value is None else float(value)


def read_plus_minus(given: object) -> Fraction:
    """An error [mm], with or without its sign ±."""
    text = _PLUS_MINUS.sub("", given, count=1) if isinstance(given, str) else given
    try:
        return parse_length(text)  # type: ignore[arg-type]
    except QuantityError as error:
        raise QuantityError(
            expected='an error with its unit such as "± 1 m" or "20 mm"',
            given=given,
            hint=error.hint,
        ) from None


def read_span(given: object) -> Fraction | RopeSpan:
    """A length [mm], or one in diameters or lays."""
    match = _SPAN.fullmatch(given) if isinstance(given, str) else None
    if match is not None:
        count = parse_number(match[1])
        if count <= 0:
            raise QuantityError(expected="a length above 0", given=given)
        return RopeSpan(count, "d" if match[2] == "d" else "lay")
    try:
        return parse_length(given)  # type: ignore[arg-type]
    except QuantityError as error:
        raise QuantityError(
            expected='a length such as "120 mm", "6 d" or "1 lay"', given=given, hint=error.hint
        ) from None


def _share(given: object) -> Fraction:
    """A share [-]: a fraction such as 1/3, or a percentage."""
    match = _PART.fullmatch(given) if isinstance(given, str) else None
    if match is not None and int(match[2]) > 0:
        value = Fraction(int(match[1]), int(match[2]))
    else:
        try:
            value = parse_percent(given) / 100  # type: ignore[arg-type]
        except QuantityError as error:
            raise QuantityError(
                expected='a share such as "1/3" or "33 %"', given=given, hint=error.hint
            ) from None
    if value > 1:
        raise QuantityError(expected='a share of at most 1, such as "1/3"', given=given)
    return value


def _speed(given: object) -> float:
    """A speed [m/s]."""
    return float(parse_speed(given))  # type: ignore[arg-type]


_length_type = quantity_type(
    _length, "a length with its unit", ["20 mm", "2.1 m", "3/4 in", "40 ft 8 in"]
)
_plus_minus_type = quantity_type(read_plus_minus, "an error with its unit", ["± 1 m", "20 mm"])
_span_type = quantity_type(
    read_span, "a length with its unit, in rope diameters or in lays", ["120 mm", "6 d", "1 lay"]
)
_share_type = quantity_type(_share, "a share of the whole", ["1/3", "33 %"])
_percent_type = quantity_type(parse_percent, "a percentage", ["40 %"])
_speed_type = quantity_type(_speed, "a speed with its unit", ["0.25 m/s", "15 m/min"])
_mass_type = quantity_type(parse_mass, "a mass with its unit", ["850 kg"])
_force_type = quantity_type(parse_force, "a force with its unit", ["305 kN"])
_stress_type = quantity_type(parse_stress, "a stress with its unit", ["1960 N/mm2"])
_number_type = quantity_type(parse_number, "a number in quotes", ["0.36"])

Length: TypeAlias = Annotated[Fraction, *_length_type]
PlusMinus: TypeAlias = Annotated[Fraction, *_plus_minus_type]
Span: TypeAlias = Annotated[Fraction | RopeSpan, *_span_type]
Share: TypeAlias = Annotated[Fraction, *_share_type]
Percent: TypeAlias = Annotated[Fraction, *_percent_type]
Speed: TypeAlias = Annotated[float, *_speed_type]
Mass: TypeAlias = Annotated[Fraction, *_mass_type]
Force: TypeAlias = Annotated[Fraction, *_force_type]
Stress: TypeAlias = Annotated[Fraction, *_stress_type]
Number: TypeAlias = Annotated[Fraction, *_number_type]
