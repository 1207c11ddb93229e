"""The pieces of a path told piece by piece, from a case file to what the core knows."""

from collections.abc import Iterator

from ropewright.errors import InputError
from ropewright.inspection.rigged import PathPart
from ropewright.intake.places import Findings
from ropewright.intake.rigging_models import PartModel, ReevingModel
from ropewright.intake.wording import not_both
from ropewright.units import metres

KIND = "spans and sheaves"
_OF_SPANS = ("fixed", "per_drop", "per_radius", "per_boom", "per_luff")
_OF_SHEAVES = (
    "diameter", "wrap", "wrap_per_jib", "wrap_per_luff", "bend", "on", "groove", "turns",
)  # fmt: skip


def path_parts(model: ReevingModel, where: str, found: Findings) -> Iterator[PathPart]:
    """Each span and sheave in order; complaints go to ``found``."""
    if model.part and model.kind != KIND:
        found.wrong(
            f"{where}.kind", expected=f"'{KIND}', as parts of the path are listed",
            given=model.kind,
        )  # fmt: skip
    names: set[str] = set()
    for number, part in enumerate(model.part, 1):
        at = f"{where}.part[{number}]"
        with found.at(at):
            made = _span(part) if part.sheave is None else _sheave(part)
            if made.name in names:
                raise InputError(
                    field=made.kind, expected="another name for each part", given=made.name
                )
            names.add(made.name)
            yield made


def _only(part: PartModel, strange: tuple[str, ...], kind: str) -> None:
    for name in strange:
        if getattr(part, name) is not None:
            raise InputError(
                field=name, expected=f"no such key for a {kind}", given=getattr(part, name)
            )


def _span(part: PartModel) -> PathPart:
    if part.span is None:
        raise InputError(field="span", expected="the name of a span, or sheave", given=None)
    _only(part, _OF_SHEAVES, "span")
    return PathPart(
        kind="span",
        name=part.span,
        fixed_m=0.0 if part.fixed is None else metres(part.fixed),
        per_drop=part.per_drop or 0.0,
        per_radius=part.per_radius or 0.0,
        per_boom=part.per_boom or 0.0,
        per_tie=part.per_luff or 0.0,
    )


def _sheave(part: PartModel) -> PathPart:
    if part.span is not None:
        raise not_both("span", "sheave")
    _only(part, _OF_SPANS, "sheave")
    return PathPart(
        kind="sheave",
        name=part.sheave or "",
        diameter_mm=None if part.diameter is None else float(part.diameter),
        wrap_deg=180.0 if part.wrap is None else float(part.wrap),
        wrap_per_jib=part.wrap_per_jib or 0.0,
        wrap_per_tie=part.wrap_per_luff or 0.0,
        bend=part.bend,
        on=part.on or "crane",
        groove=part.groove or "unknown",
        turns=part.turns is not False,
    )
