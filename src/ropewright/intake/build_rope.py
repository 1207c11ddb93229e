"""The ``[rope]`` and ``[[history]]`` tables of a case file, made into a rope and its history."""

import re
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from ropewright.errors import HistoryError, InputError
from ropewright.intake.case_model import CertificateModel, RopeModel, StrandModel
from ropewright.intake.models import HistoryModel
from ropewright.intake.places import Findings
from ropewright.intake.wording import as_case_error
from ropewright.rope import (
    Certificate,
    Construction,
    Cut,
    EndForEnd,
    Rope,
    RopeHistory,
    StrandNumbers,
    build_construction,
)
from ropewright.units import metres, show_length_mm

THINNEST_MM: Final = Fraction(3)
THICKEST_MM: Final = Fraction(120)
"""Hoist ropes outside these diameters are so rare that a slip of unit is likelier."""

_NUMBER_KEYS: Final = tuple(StrandModel.model_fields)


def rope_of(model: RopeModel, *, rope_id: str, found: Findings) -> Rope | None:
    """Make the rope; what is wrong goes to ``found`` and gives ``None``.

    Parameters
    ----------
    model
        The table as typed.
    rope_id
        Its own id, or one made of crane and hoist.
    found
        Where complaints and doubts go.
    """
    errors_before = len(found.errors)
    construction = _construction(model, found)
    certificate = _certificate(model.certificate, found)
    rope: Rope | None = None
    with found.at("rope"):
        if construction is not None and len(found.errors) == errors_before:
            rope = Rope(
                rope_id=rope_id,
                nominal_diameter_mm=model.diameter,
                construction=construction,
                length_m=metres(model.length),
                lay_type=model.lay_type,
                lay_hand=model.lay_hand,
                lay_length_mm=model.lay_length,
                grade_n_per_mm2=model.grade,
                minimum_breaking_force_kn=model.breaking_force,
                finish=model.finish or "",
                plastic=model.plastic,
                certificate=certificate,
                given_rcn=model.rcn,
            )
    if rope is not None:
        _doubt_the_unit(rope, found)
    return rope


def _doubt_the_unit(rope: Rope, found: Findings) -> None:
    diameter = rope.nominal_diameter_mm
    if not THINNEST_MM <= diameter <= THICKEST_MM:
        found.doubt(
            "rope.diameter", f"{show_length_mm(diameter)} is unusual for a hoist rope: "
            "check the unit",
        )  # fmt: skip


def _construction(model: RopeModel, found: Findings) -> Construction | None:
    given: StrandNumbers | None = None
    by_certificate: StrandNumbers | None = None
    errors_before = len(found.errors)
    with found.at("rope"):
        given = _numbers(model)
    if model.certificate is not None:
        with found.at("rope.certificate"):
            by_certificate = _numbers(model.certificate)
    if len(found.errors) > errors_before:
        return None
    try:
        return build_construction(
            name=model.construction,
            given=given,
            certificate=by_certificate,
            category_number=model.rcn,
        )
    except InputError as error:
        stated_there = by_certificate is not None and (
            getattr(by_certificate, error.field or "", None) is not None
        )
        with found.at("rope.certificate" if stated_there else "rope"):
            raise
    return None


def _numbers(model: StrandModel) -> StrandNumbers | None:
    numbers = {key: getattr(model, key) for key in _NUMBER_KEYS}
    if all(value is None for value in numbers.values()):
        return None
    return StrandNumbers(**numbers)


def _certificate(model: CertificateModel | None, found: Findings) -> Certificate | None:
    if model is None:
        return None
    with found.at("rope.certificate"):
        return Certificate(
            number=model.number or "",
            issued_on=model.issued_on,
            minimum_breaking_force_kn=model.breaking_force,
            grade_n_per_mm2=model.grade,
            mass_kg_per_m=model.mass,
            metallic_area_mm2=model.metallic_area,
        )
    return None


def history_of(
    models: Sequence[HistoryModel], *, rope: Rope, found: Findings
) -> RopeHistory | None:
    """Make the rope's history; what is wrong goes to ``found`` and gives ``None``."""
    errors_before = len(found.errors)
    steps: list[Cut | EndForEnd] = []
    for number, model in enumerate(models, 1):
        step = _step(model, f"history[{number}]", found)
        if step is not None:
            steps.append(step)
    if len(found.errors) > errors_before:
        return None
    try:
        return RopeHistory(original_length_m=rope.length_m, steps=tuple(steps))
    except HistoryError as error:
        # The core counts steps from 0; a reader counts [[history]] from 1.
        match = re.fullmatch(r"history\[(\d+)\](.*)", error.field or "")
        where = f"history[{int(match[1]) + 1}]" if match else "history"
        key = match[2].lstrip(".") if match else ""
        with found.at(where):
            raise as_case_error(error, key or None) from None
    return None


def _step(model: HistoryModel, where: str, found: Findings) -> Cut | EndForEnd | None:
    if model.kind == "end-for-end":
        for key, value in (("end", model.end), ("length", model.length)):
            if value is not None:
                given = model.end if key == "end" else show_length_mm(model.length or Fraction(0))
                found.wrong(f"{where}.{key}", expected=f"no {key} for end-for-end", given=given)
                return None
        return EndForEnd(on=model.on, reason=model.remark or "")
    if model.end is None:
        found.wrong(f"{where}.end", expected='the end that was cut, "A" or "B"', given=None)
        return None
    if model.length is None:
        found.wrong(f"{where}.length", expected='the length cut off, such as "6.2 m"', given=None)
        return None
    return Cut(on=model.on, end=model.end, length_m=metres(model.length), reason=model.remark or "")
