"""The tables of a case file that tie a set-up to what was seen at the crane, as strict models."""

from datetime import date
from typing import Annotated

from pydantic import Field

from ropewright.inspection.rigged import ReadingKind
from ropewright.intake.models import Name, Strict, key, needed
from ropewright.intake.quantities import Length, Percent, PlusMinus
from ropewright.intake.signed_quantities import Angle, Height, Turns


class ReadingModel(Strict):
    """Something seen at the crane that tells how far its stated numbers are off."""

    kind: ReadingKind = needed("what was seen")
    on: date = needed("the day it was seen, such as 2026-11-09")
    name: Name | None = key("what to call it; its number if not said", example="layer 1 full")
    hook: Height | None = key("hook height read at that moment", example="17.9 m")
    turns: Turns | None = key("instead of hook: turns of the drum, from the clamp")
    radius: Length | None = key("radius read at that moment", example="30 m")
    jib: Angle | None = key("jib angle read at that moment", example="62 deg")
    boom: Length | None = key("boom length read at that moment")
    boom_angle: Angle | None = key("boom angle read at that moment")
    layer: Annotated[int, Field(ge=1, le=20)] | None = key(
        "wraps counted, layer full: which layer, 1 on the barrel", example=1
    )
    wraps: Annotated[float, Field(ge=0, le=1000)] | None = key(
        "wraps counted: on that layer, parts of a turn included", example=6.2
    )
    count_err: Annotated[float, Field(gt=0, le=10)] | None = key(
        "how far off the count may be, in turns; 0.1 (layer full: 0.25) if not said"
    )
    point: Name | None = key(
        "mark passed: the place where it passed, a point of this rigging or a sheave"
    )
    mark: Name | None = key("mark passed: name of the mark", example="7")
    taped: Length | None = key(
        "mark passed, instead of mark: rope taped from end A's fitting to it", example="52.3 m"
    )
    taped_err: PlusMinus | None = key("how far off that may be; 20 mm and 0.1 % if not said")


class ToleranceModel(Strict):
    """How far the numbers of the set-up may be off; what is not said keeps our own assumption."""

    hook_zero: PlusMinus | None = key("the zero of the hook height; ± 0.3 m if not said")
    anchor_side: PlusMinus | None = key("rope from end A to the first sheave; ± 0.3 m")
    lead: PlusMinus | None = key("rope from the last fall to the drum; ± 0.5 m")
    rope_length: PlusMinus | None = key("length of the rope; 0.5 % of it")
    barrel: PlusMinus | None = key("diameter of the barrel; ± 2 mm")
    layer_rise: PlusMinus | None = key("what each layer adds to the radius; 5 % of the diameter")
    wraps: Turns | None = key("wraps of a layer; 0.25", example=0.1)


class ReadingErrorModel(Strict):
    """How far a single reading may be off; what is not said keeps our own assumption."""

    hook: PlusMinus | None = key("hook height; ± 0.1 m if not said")
    radius: PlusMinus | None = key("radius; ± 0.1 m")
    jib: Angle | None = key("jib angle; 0.1 deg", example="0.2 deg")
    boom: PlusMinus | None = key("boom length; ± 0.1 m")
    boom_angle: Angle | None = key("boom angle; 0.1 deg")
    turns: Turns | None = key("drum turns; 0.05")
    point: PlusMinus | None = key("where exactly hand or eye was; ± 0.1 m")
    part_of_turn: Turns | None = key("part of a turn on the drum; 0.05")
    tape: PlusMinus | None = key("a tape, however short; ± 20 mm")
    tape_share: Percent | None = key("what a tape adds with its length; 0.1 %", example="0.1 %")
