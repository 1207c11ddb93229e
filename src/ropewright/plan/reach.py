"""How a place on the rope comes in front of a person: hook height, direction, or why not."""

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from ropewright.errors import InputError
from ropewright.geometry import (
    PARAMETERS,
    Axis,
    CranePosition,
    Hoist,
    InspectionPoint,
    PathPlace,
    SeenAtPoint,
    bring_to,
    locate,
)
from ropewright.inspection import RiggedHoist, WorkPlace
from ropewright.plan.gap_walks import stop_for
from ropewright.plan.model import Direction, Reach
from ropewright.plan.safe import direction_at
from ropewright.plan.travel import gets_there, position_words
from ropewright.plan.views import places_of
from ropewright.plan.walkways import free_run, hangs_free, rests_of

_NEAR_M = 1.0  # the last metre of hook travel before a place decides the direction
_TOUCH_M = 1e-6
_ANCHOR = PARAMETERS.index("anchor_side_m")


def reaches_of(
    rigged: RiggedHoist, place: PathPlace, *, at: Sequence[WorkPlace] | None = None
) -> tuple[tuple[Reach, ...], tuple[str, ...]]:
    """All ways to bring a place in front of a person, and why the other ways fail.

    Parameters
    ----------
    rigged
        The hoist of the day.
    place
        On today's path.
    at
        Where people can be; all known places if not given.
    """
    found: list[Reach] = []
    failed: list[str] = []
    for one in places_of(rigged) if at is None else at:
        ways, why = (
            _at_point(rigged.hoist, place, one, one.point)
            if one.point is not None
            else _along(rigged.hoist, place, one)
        )
        found.extend(ways)
        if not ways:
            failed.append(f"{one.name}: {_unsure(rigged) or why}")
    return tuple(found), tuple(failed)


def _unsure(rigged: RiggedHoist) -> str:
    """What must be said instead of a reason where only the payout is known; empty elsewhere."""
    if not rigged.by_payout:
        return ""
    err = 2 * math.sqrt(rigged.hoist.uncertainty().matrix[_ANCHOR, _ANCHOR])
    return f"not known whether it comes past: from end A places are known to ± {err:.0f} m only"


def _at_point(
    hoist: Hoist, place: PathPlace, one: WorkPlace, point: InspectionPoint
) -> tuple[list[Reach], str]:
    brought = bring_to(place, point, hoist)
    if not brought.ways:
        return [], "" if brought.unreachable is None else brought.unreachable.text
    reaches = []
    for way in dict.fromkeys((brought.ways[0], brought.ways[-1])):
        for position in dict.fromkeys((way.start, way.end)):
            reaches.append(_reach(hoist, place, one, point, position))
    return reaches[:2], ""


def _reach(
    hoist: Hoist,
    place: PathPlace,
    one: WorkPlace,
    point: InspectionPoint,
    position: CranePosition,
) -> Reach:
    hook = position.hook_m
    err = _hook_err_m(hoist, place, point, position)
    said = position_words(position)
    if hook is not None and err:
        head, _, rest = said.partition(",")
        said = f"{head} ± {err:.1f} m" + (f",{rest}" if rest else "")
    return Reach(
        place=one.name,
        words=said or "it is there wherever the crane stands",
        hook_m=hook,
        hook_err_m=err,
        position=position,
        direction=_arriving(hoist, point, position, by_hand=one.by_hand),
    )


def _hook_err_m(
    hoist: Hoist, place: PathPlace, point: InspectionPoint, position: CranePosition
) -> float:
    """± of the hook height [m] at which the place really comes past; 0 where none is needed."""
    if position.hook_m is None or hoist.reeving.falls == 0:
        return 0.0
    try:
        seen = locate(SeenAtPoint(point=point, position=position), hoist)
    except InputError:
        return 0.0
    whole = math.hypot(place.abs_err_m + place.rel_err_m, seen.abs_err_m, seen.rel_err_m)
    return whole / hoist.reeving.falls


def _arriving(
    hoist: Hoist, point: InspectionPoint, position: CranePosition, *, by_hand: bool
) -> Direction | None:
    """The direction over the last metre around a position, other axes as they are or in the middle.

    None where the hook does not run the rope here, or a limit is not known.
    """
    bounds = hoist.travel.range_of("hook_m")
    if position.hook_m is None or bounds is None:
        return None
    axes: dict[Axis, float] = {}
    for axis in hoist.reeving.axes:
        value = position.value(axis)
        limits = hoist.travel.range_of(axis)
        if value is None and limits is None:
            return None
        if value is not None:
            axes[axis] = value
        elif limits is not None:
            axes[axis] = sum(limits) / 2
    here = CranePosition(**axes)
    low = replace(here, hook_m=max(bounds[0], position.hook_m - _NEAR_M))
    high = replace(here, hook_m=min(bounds[1], position.hook_m + _NEAR_M))
    if low.hook_m == high.hook_m:
        return None
    return direction_at(hoist, point, low, high, by_hand=by_hand)


def _along(hoist: Hoist, place: PathPlace, one: WorkPlace) -> tuple[list[Reach], str]:
    """A place on rope at rest beside a walkway, with the crane at an end of its travel."""
    axes = hoist.reeving.axes
    if any(hoist.travel.range_of(axis) is None for axis in axes):
        return [], "the limits of the crane's travel are not known"
    basket = ", from a work basket" if hangs_free(hoist, one.along) else ""
    seen = []
    for position in _stops(hoist, place, one):
        if not gets_there(hoist, position):
            continue
        section = free_run(hoist, one.along, position)
        if section is None:
            continue
        seen.append(section)
        if section.from_m - _TOUCH_M <= place.at_m <= section.to_m + _TOUCH_M:
            words = (
                f"{position_words(position)}, crane stopped and isolated{basket}: "
                f"{place.at_m - section.from_m:.1f} m along the span from its end A side"
            )
            reach = Reach(place=one.name, words=words, hook_m=position.hook_m, position=position)
            return [reach], ""
    if not seen:
        return [], "nothing is known of this span"
    low, high = min(one.from_m for one in seen), max(one.to_m for one in seen)
    return [], f"shows at most {low:.1f} to {high:.1f} m from end A"


def _stops(hoist: Hoist, place: PathPlace, one: WorkPlace) -> Iterator[CranePosition]:
    """Where the crane may stop for a place beside a walkway: ends of its travel, else between."""
    axes = hoist.reeving.axes
    for corner in itertools.product(*(rests_of(hoist, axis, one.along) for axis in axes)):
        yield CranePosition(**dict(zip(axes, corner, strict=True)))
    for before_m in (3.0, 1.0):  # so much of the span on end A's side of the place
        between = stop_for(hoist, one.along, place.at_m - before_m)
        if between is not None:
            yield between
