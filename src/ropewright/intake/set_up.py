"""Figures of the set-up and confirmations of a case file, made into those of the core."""

import re
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from ropewright.errors import CaseFileError, InputError
from ropewright.inspection import (
    SET_UP_MEASURES,
    SET_UP_UNITS,
    SET_UP_WORDS,
    Confirmation,
    SetUpMeasure,
)
from ropewright.inspection.set_up import NOT_FITTED
from ropewright.intake.models import ConfirmedModel, SetUpModel
from ropewright.intake.places import Findings
from ropewright.units import parse_angle, parse_length, parse_number, parse_percent

_COUNTED: Final = re.compile(r"\s*([0-9.]+)\s*(d|wraps?|HRC)\s*")
_SHOWN: Final = {
    "d": '"18 d"', "mm": '"360 mm"', "wraps": '"3 wraps"', "deg": '"1.5 deg"', "%": '"8 %"',
    "HRC": '"40 HRC"', "-": '"5"',
}  # fmt: skip


def set_up_measures(models: Sequence[SetUpModel], found: Findings) -> tuple[SetUpMeasure, ...]:
    """The figures and words of the set-up; what is wrong goes to ``found``."""
    made = []
    for number, model in enumerate(models, 1):
        with found.at(f"installation.set_up[{number}]"):
            value, unit = _value(model)
            made.append(
                SetUpMeasure(
                    name=model.measure, value=value, unit=unit, how=model.how or "stated",
                    on=model.on, which=model.which or "",
                )
            )  # fmt: skip
    return tuple(made)


def _value(model: SetUpModel) -> tuple[Fraction | str, str]:
    if model.value == NOT_FITTED and model.measure in SET_UP_MEASURES:
        return model.value, ""
    if model.measure in SET_UP_WORDS:
        if model.value not in SET_UP_WORDS[model.measure]:
            words = ", ".join(f'"{one}"' for one in SET_UP_WORDS[model.measure])
            raise CaseFileError(field="value", expected=f"one of {words}", given=model.value)
        return model.value, ""
    units = SET_UP_UNITS.get(model.measure)
    if units is None:
        known = ", ".join(f'"{one}"' for one in (*SET_UP_UNITS, *SET_UP_WORDS))
        raise CaseFileError(field="measure", expected=f"one of {known}", given=model.measure)
    for unit in units:
        value = _in_unit(model.value, unit)
        if value is not None:
            return value, unit
    shown = " or ".join(_SHOWN[unit] for unit in units)
    raise CaseFileError(field="value", expected=f"a value such as {shown}", given=model.value)


def _in_unit(text: str, unit: str) -> Fraction | None:
    """The exact value in a unit, or nothing if the text is not in it."""
    counted = _COUNTED.fullmatch(text)
    try:
        if unit in ("d", "wraps", "HRC"):
            same = counted is not None and counted[2].removesuffix("s") == unit.removesuffix("s")
            return parse_number(counted[1]) if counted is not None and same else None
        read = {"mm": parse_length, "deg": parse_angle, "%": parse_percent, "-": parse_number}
        return read[unit](text)
    except InputError:
        return None


def confirmations(
    models: Sequence[ConfirmedModel], known_rules: Sequence[str] | None, found: Findings
) -> tuple[Confirmation, ...]:
    """Who held which clause against an own copy; an unknown rule set goes to ``found``."""
    made = []
    for number, model in enumerate(models, 1):
        if known_rules is not None and model.rule_set not in known_rules:
            found.wrong(
                f"installation.confirmed[{number}].rule_set",
                expected=f"a known rule set, one of {', '.join(sorted(known_rules))}",
                given=model.rule_set,
            )
        made.append(
            Confirmation(
                rule_set=model.rule_set, clause_id=model.clause, by=model.by,
                edition=model.edition, on=model.on, agrees=model.agrees,
                remark=model.remark or "",
            )
        )  # fmt: skip
    return tuple(made)
