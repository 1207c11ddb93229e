"""The path of any other hoist, told piece by piece: spans and sheaves in order from end A."""

import math
from collections.abc import Iterator

from ropewright.errors import InputError
from ropewright.geometry import (
    LISTED,
    Contact,
    Element,
    Frame,
    LevelTrack,
    LuffingJib,
    Reeving,
    Sense,
    Span,
    TelescopicBoom,
)
from ropewright.inspection.rigged import Bend, PathPart, ReevingFacts


def listed_path(
    facts: ReevingFacts, *, rope_mm: float, falls: int | None, groove: str | None
) -> Reeving:
    """The path told by ``facts.parts``.

    Parameters
    ----------
    facts
        The pieces, and where the sheaves above hang.
    rope_mm
        The rope's diameter, to get from groove bottoms to its centre line [mm].
    falls
        The number of falls stated beside them; none if not stated.
    groove
        What the sheaves are made of where a piece does not say it.

    Raises
    ------
    InputError
        If there is no span, or the pieces do not add up to the falls stated.
    """
    elements = tuple(_elements(facts.parts, rope_mm, groove))
    drops = math.fsum(one.per_drop for one in elements if isinstance(one, Span))
    if falls is not None and drops and not math.isclose(drops, falls, abs_tol=1e-9):
        raise InputError(
            field="falls",
            expected=f"{drops:g}, what per_drop of all spans adds up to",
            given=falls,
        )
    return Reeving(
        name=LISTED,
        frame=_frame(facts),
        elements=elements,
        end_a="drum" if facts.end_a == "drum" else "fixed",
        end_a_on=facts.end_a_on or "crane",
    )


def _elements(parts: tuple[PathPart, ...], rope_mm: float, groove: str | None) -> Iterator[Element]:
    sense: Sense = 1
    first = True
    for part in parts:
        if part.kind == "span":
            yield Span(
                name=part.name, fixed_m=part.fixed_m, per_drop=part.per_drop,
                per_radius=part.per_radius, per_boom=part.per_boom, per_tie=part.per_tie,
            )  # fmt: skip
            continue
        sense = 1 if first else turned(sense, part.bend)
        first = False
        made_of = part.groove
        if made_of == "unknown" and groove in ("steel", "plastic"):
            made_of = "steel" if groove == "steel" else "plastic"
        yield Contact(
            name=part.name,
            pitch_diameter_mm=(part.diameter_mm or 0.0) + rope_mm,
            sense=sense,
            wrap_deg=part.wrap_deg,
            wrap_per_jib=part.wrap_per_jib,
            wrap_per_tie=part.wrap_per_tie,
            on=part.on,
            groove=made_of,
            turns=part.turns,
        )


def turned(sense: Sense, bend: Bend | None) -> Sense:
    """The sense of the next bend, compared with the one before; alike where nobody said."""
    if bend == "other way":
        return 1 if sense == -1 else -1
    return sense


def _frame(facts: ReevingFacts) -> Frame:
    below = facts.hook_below_m or 0.0
    if facts.hangs_from == "luffing jib":
        return LuffingJib(
            jib_m=facts.jib_m or 0.0,
            foot_height_m=facts.foot_height_m or 0.0,
            foot_radius_m=facts.foot_radius_m or 0.0,
            a_frame_back_m=facts.a_frame_back_m or 0.0,
            a_frame_up_m=facts.a_frame_up_m or 0.0,
            hook_below_m=below,
            tie_at_m=facts.tie_at_m,
        )
    if facts.hangs_from == "telescopic boom":
        return TelescopicBoom(
            foot_height_m=facts.foot_height_m or 0.0,
            foot_radius_m=facts.foot_radius_m or 0.0,
            hook_below_m=below,
        )
    return LevelTrack(sheave_height_m=facts.upper_height_m or 0.0, hook_below_m=below)
