"""Rope at rest that a person goes along: where the crane stands meanwhile, and what is seen.

Nobody goes out on a jib or boom that stands up: along rope that lies on it, it stands at its
lowest, a telescopic boom drawn in as well.  Falls hang free: only a work basket gets there.
"""

import itertools
from collections.abc import Iterator
from typing import Final

import numpy as np

from ropewright.geometry import (
    Axis,
    CranePosition,
    CranePositions,
    Hoist,
    Section,
    Span,
    covered_length,
    trace,
)
from ropewright.inspection import RiggedHoist, WorkPlace
from ropewright.plan.assumed import WALK_M_PER_S
from ropewright.plan.model import View
from ropewright.plan.travel import ends_of, gets_there, in_rope, position_words, travel_bounds
from ropewright.rope import PathMap

INSIDE_M: Final = 2.0
LEAST_M: Final = 0.01
_ARM: Final[tuple[Axis, ...]] = ("jib_deg", "boom_m", "boom_deg")


def hangs_free(hoist: Hoist, span: str) -> bool:
    """Whether a span is a fall, of hook or luffing block: nobody can walk along it.

    Parameters
    ----------
    hoist
        The hoist as rigged now.
    span
        Name of the span.
    """
    found = _span(hoist, span)
    if found is None:
        return False
    return bool(found.per_drop) or (bool(found.per_tie) and not _is_run_along_jib(hoist))


def lies_on_arm(hoist: Hoist, span: str) -> bool:
    """Whether a span lies along a jib or boom that is raised and lowered.

    Parameters
    ----------
    hoist
        The hoist as rigged now.
    span
        Name of the span.
    """
    found = _span(hoist, span)
    if found is None or hangs_free(hoist, span):
        return False
    return bool(found.per_boom or found.per_tie)


def _span(hoist: Hoist, name: str) -> Span | None:
    return next((one for one in hoist.reeving.spans if one.name == name), None)


def _is_run_along_jib(hoist: Hoist) -> bool:
    """Tell a hoist rope's one run along a luffing jib from the falls of a luffing rope."""
    spans = hoist.reeving.spans
    return any(one.per_drop for one in spans) and sum(bool(one.per_tie) for one in spans) == 1


def rests_of(hoist: Hoist, axis: Axis, span: str) -> tuple[float, ...]:
    """Values of an axis at which rope at rest is looked at: both ends of the travel.

    The hook also stops a little inside them, so that rope that lies on a sheave at the very end
    comes free.  Where the rope lies on a jib or boom, that one is down and in.

    Returns
    -------
    tuple of float
        In metres or degrees as the axis' name says [-].
    """
    ends = walk_ends(hoist, axis, span)
    low, high = ends[0], ends[-1]
    if axis != "hook_m" or high - low < 3 * INSIDE_M:
        return ends
    return (low, low + INSIDE_M, high - INSIDE_M, high)


def walk_ends(hoist: Hoist, axis: Axis, span: str) -> tuple[float, ...]:
    """Ends of an axis' travel while somebody is beside a span: one only where it is held.

    Returns
    -------
    tuple of float
        In metres or degrees as the axis' name says [-].
    """
    if axis in _ARM and lies_on_arm(hoist, span):
        return (travel_bounds(hoist, axis)[0],)
    return ends_of(hoist, axis)


def walks_of(rigged: RiggedHoist, place: WorkPlace, path: PathMap) -> Iterator[View]:
    """What a walkway shows with the crane at the ends of its travel.

    Parameters
    ----------
    rigged
        The hoist of the day.
    place
        The walkway.
    path
        How rope and path belong together.
    """
    hoist = rigged.hoist
    axes = hoist.reeving.axes
    for corner in itertools.product(*(rests_of(hoist, axis, place.along) for axis in axes)):
        position = CranePosition(**dict(zip(axes, corner, strict=True)))
        if not gets_there(hoist, position):
            continue
        view = walk_at(hoist, place, path, position)
        if view is not None:
            yield view


def walk_at(
    hoist: Hoist, place: WorkPlace, path: PathMap, position: CranePosition, least_m: float = LEAST_M
) -> View | None:
    """What a walkway shows with the crane at a position; nothing below ``least_m`` [m] of rope.

    Parameters
    ----------
    hoist
        The hoist as rigged now.
    place
        The walkway.
    path
        How rope and path belong together.
    position
        Where the crane stands.
    least_m
        Least rope that is worth it [m].
    """
    section = free_run(hoist, place.along, position)
    sections = in_rope(path, [section] if section else [])
    if section is None or covered_length(sections) < least_m:
        return None
    basket = hangs_free(hoist, place.along)
    from_basket = "; from a work basket" if basket else ""
    return View(
        place=place.name,
        how="walk",
        start=position,
        end=position,
        path=(section,),
        sections=sections,
        travel=f"nothing moves; {position_words(position)}{from_basket}",
        minutes=section.length_m / WALK_M_PER_S / 60,
        by_hand=place.by_hand,
        from_basket=basket,
        on_lowered_arm=lies_on_arm(hoist, place.along),
    )


def free_run(hoist: Hoist, span: str, position: CranePosition) -> Section | None:
    """The free rope in which a span lies, from the contact before it to the one after it.

    None where it has no length or an axis is not known.
    """
    found = trace(hoist, CranePositions.one(position))
    before = -1
    for element in hoist.reeving.elements:
        if not isinstance(element, Span):
            before += 1
        elif element.name == span:
            break
    start = float(found.base_m[0]) if before < 0 else float(found.end_m[before][0])
    last = before + 1 == len(found.contacts)
    end = float(found.out_m[0]) if last else float(found.start_m[before + 1][0])
    if np.isnan(start) or np.isnan(end) or end <= start:
        return None
    return Section(start, end)
