"""Readings at the crane and stated errors of a case file, made into what the core knows."""

from collections.abc import Iterator, Sequence
from datetime import date

from ropewright.errors import InputError
from ropewright.geometry import CranePosition
from ropewright.inspection import CalibrationReading, ReadingErrorFacts, ToleranceFacts
from ropewright.intake.places import Findings
from ropewright.intake.quantities import float_of, metres_of
from ropewright.intake.reading_models import ReadingErrorModel, ReadingModel, ToleranceModel
from ropewright.intake.wording import not_both


def readings(
    models: Sequence[ReadingModel],
    where: str,
    found: Findings,
    *,
    valid_from: date,
    fitted_on: date | None,
) -> Iterator[CalibrationReading]:
    """The readings of one set-up; complaints go to ``found``."""
    names: set[str] = set()
    first = max(valid_from, fitted_on or valid_from)
    for number, model in enumerate(models, 1):
        at = f"{where}.reading[{number}]"
        name = model.name or f"reading {number}"
        if name in names:
            found.wrong(f"{at}.name", expected="another name for each reading", given=name)
        names.add(name)
        with found.at(at):
            if model.on < first:
                raise InputError(
                    field="on",
                    expected=f"a day from {first.isoformat()} on, when this rope ran on this "
                    "set-up",
                    given=model.on.isoformat(),
                )
            _check(model)
            yield CalibrationReading(
                name=name,
                kind=model.kind,
                on=model.on,
                position=_position(model),
                layer=model.layer,
                wraps=model.wraps,
                err_turns=model.count_err,
                point=model.point or "",
                mark=model.mark or "",
                taped_m=metres_of(model.taped),
                taped_err_m=metres_of(model.taped_err),
            )


def _position(model: ReadingModel) -> CranePosition:
    return CranePosition(
        hook_m=metres_of(model.hook),
        radius_m=metres_of(model.radius),
        jib_deg=float_of(model.jib),
        boom_m=metres_of(model.boom),
        boom_deg=float_of(model.boom_angle),
        drum_turns=model.turns,
    )


#: Keys that each kind of reading needs, and those that say nothing in it.
_NEEDS = {
    "wraps counted": (("layer", "wraps"), ("point", "mark", "taped", "taped_err", "turns")),
    "layer full": (("layer",), ("wraps", "point", "mark", "taped", "taped_err", "turns")),
    "mark passed": (("point",), ("layer", "wraps", "count_err")),
}
_WORDS = {
    "layer": "the layer, 1 on the barrel",
    "wraps": "the wraps counted on that layer",
    "point": "the place where the mark passed",
}


def _check(model: ReadingModel) -> None:
    """Refuse a reading that lacks a key of its kind, or has one of another kind."""
    needs, strange = _NEEDS[model.kind]
    for name in needs:
        if getattr(model, name) is None:
            raise InputError(field=name, expected=_WORDS[name], given=None)
    for name in strange:
        if getattr(model, name) is not None:
            raise InputError(
                field=name, expected=f"no such key for '{model.kind}'", given=getattr(model, name)
            )
    if model.hook is not None and model.turns is not None:
        raise not_both("hook", "turns")
    if model.kind != "mark passed":
        return
    if model.mark is not None and model.taped is not None:
        raise not_both("mark", "taped")
    if model.mark is None and model.taped is None:
        raise InputError(
            field="mark", expected="the mark's name; or taped, its distance from end A", given=None
        )


def tolerance(model: ToleranceModel) -> ToleranceFacts:
    """The stated ± of the set-up's numbers."""
    return ToleranceFacts(
        hook_zero_m=metres_of(model.hook_zero),
        anchor_side_m=metres_of(model.anchor_side),
        lead_m=metres_of(model.lead),
        rope_m=metres_of(model.rope_length),
        barrel_mm=float_of(model.barrel),
        rise_mm=float_of(model.layer_rise),
        wraps=model.wraps,
    )


def reading_error(model: ReadingErrorModel) -> ReadingErrorFacts:
    """The stated ± of single readings."""
    share = model.tape_share
    return ReadingErrorFacts(
        hook_m=metres_of(model.hook),
        radius_m=metres_of(model.radius),
        jib_deg=float_of(model.jib),
        boom_m=metres_of(model.boom),
        boom_deg=float_of(model.boom_angle),
        drum_turns=model.turns,
        point_m=metres_of(model.point),
        part_of_turn=model.part_of_turn,
        tape_m=metres_of(model.tape),
        tape_share=None if share is None else float(share) / 100,
    )
