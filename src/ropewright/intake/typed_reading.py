"""A reading at the crane as somebody typed it into a form, field by field."""

from collections.abc import Collection, Mapping
from datetime import date
from typing import Any, Final

from pydantic import ValidationError

from ropewright.errors import InputError, raise_if_any
from ropewright.inspection import CalibrationReading
from ropewright.intake.calibration import readings
from ropewright.intake.places import Findings
from ropewright.intake.problems import problems_of
from ropewright.intake.reading_models import ReadingModel

#: Keys of a reading that hold a length or an angle, with the unit of a number typed without one.
_UNITS: Final[Mapping[str, str]] = {
    "hook": "m", "radius": "m", "boom": "m", "jib": "deg", "boom_angle": "deg", "taped": "m",
    "taped_err": "m",
}  # fmt: skip
_NUMBERS: Final = ("turns", "wraps", "count_err")


def typed_reading(
    typed: Mapping[str, str],
    *,
    taken_names: Collection[str],
    valid_from: date,
    fitted_on: date | None,
) -> CalibrationReading:
    """A reading from what was typed; an empty field was not typed.

    Parameters
    ----------
    typed
        Fields by their key in a case file's ``[[rigging.reading]]``.  A number without a unit is
        taken in metres, an angle in degrees.
    taken_names
        Names that other readings of this set-up have.
    valid_from
        The day from which the set-up holds.
    fitted_on
        The day on which the rope was fitted, if known.

    Raises
    ------
    InputError
        If a field cannot be read, is missing or says nothing for this kind of reading; names it.
    """
    words = {key: text.strip() for key, text in typed.items() if text.strip()}
    words.setdefault("name", _free_name(words, taken_names))
    if words["name"] in taken_names:
        raise InputError(
            field="name", expected="another name for each reading", given=words["name"]
        )
    data: dict[str, Any] = {key: _value(key, text) for key, text in words.items()}
    try:
        model = ReadingModel.model_validate(data)
    except ValidationError as error:
        raise problems_of(error, ReadingModel, data)[0] from None
    found = Findings()
    made = list(readings([model], "", found, valid_from=valid_from, fitted_on=fitted_on))
    for one in found.errors:
        one.field = (one.field or "").removeprefix(".reading[1].")
    raise_if_any(found.errors)
    return made[0]


def _free_name(words: Mapping[str, str], taken: Collection[str]) -> str:
    first = f"{words.get('kind', 'reading')} {words.get('on', '')}".strip()
    names = (first, *(f"{first}, {number}" for number in range(2, len(taken) + 3)))
    return next(name for name in names if name not in taken)


def _value(key: str, text: str) -> object:
    """What was typed, as a case file would hold it; what cannot be read goes on as it is."""
    plain = text.replace(",", ".") if text.count(",") == 1 else text
    number = plain.lstrip("+-")
    if number.replace(".", "", 1).isdecimal() and number.isascii():
        if key in _UNITS:
            return f"{plain} {_UNITS[key]}"
        if key == "layer":
            return int(plain) if "." not in plain else float(plain)
        if key in _NUMBERS:
            return float(plain)
    if key == "on":
        try:
            return date.fromisoformat(text)
        except ValueError:
            return text
    return text
