"""Rope at rest beside a walkway where no view shows it yet: the crane stopped just so."""

import itertools
from collections.abc import Iterator, Sequence

from ropewright.geometry import Axis, CranePosition, Hoist, Section, subtract
from ropewright.inspection import RiggedHoist, WorkPlace
from ropewright.plan.assumed import WORTH_M
from ropewright.plan.model import View
from ropewright.plan.travel import gets_there
from ropewright.plan.views import places_of
from ropewright.plan.walkways import free_run, walk_at, walk_ends
from ropewright.rope import PathMap

_OVERLAP_M = 0.25
_MOST_PER_GAP = 8
_STILL = 1e-9


def walks_into_gaps(
    rigged: RiggedHoist, path: PathMap, views: Sequence[View], service: Section
) -> tuple[View, ...]:
    """Views of rope at rest that close gaps between the views at the ends of the crane's travel.

    Parameters
    ----------
    rigged
        The hoist of the day.
    path
        How rope and path belong together.
    views
        What is seen already.
    service
        The rope that is there.
    """
    walkways = [one for one in places_of(rigged) if one.along]
    found: list[View] = []
    seen = [section for view in views if view.usable for section in view.sections]
    for place in walkways:
        for gap in subtract([service], seen):
            if gap.length_m >= WORTH_M:
                more = list(_through(rigged, path, place, gap))
                found += more
                seen += [section for view in more for section in view.sections]
    return tuple(found)


def _through(rigged: RiggedHoist, path: PathMap, place: WorkPlace, gap: Section) -> Iterator[View]:
    """Views one after another through a gap, along today's path."""
    ends = sorted((path.to_path_m(gap.from_m), path.to_path_m(gap.to_m)))
    here = ends[0]
    for _ in range(_MOST_PER_GAP):
        if ends[1] - here < WORTH_M:
            return
        view = _starting_at(rigged, path, place, max(here - _OVERLAP_M, 0.0))
        if view is None or view.path[0].to_m <= here + WORTH_M:
            return
        yield view
        here = view.path[0].to_m


def _starting_at(
    rigged: RiggedHoist, path: PathMap, place: WorkPlace, start_m: float
) -> View | None:
    """The view along a walkway whose free rope begins at a path position [m], if any is."""
    position = stop_for(rigged.hoist, place.along, start_m)
    return None if position is None else walk_at(rigged.hoist, place, path, position, WORTH_M)


def stop_for(hoist: Hoist, span: str, start_m: float) -> CranePosition | None:
    """Where the crane stops so that a span's free rope begins at a place of the path.

    Parameters
    ----------
    hoist
        The hoist as rigged now.
    span
        Name of the span.
    start_m
        The place [m].

    Returns
    -------
    CranePosition or None
        None if no position within the limits does that.
    """
    for axis in hoist.reeving.axes:
        others = [other for other in hoist.reeving.axes if other != axis]
        for corner in itertools.product(*(walk_ends(hoist, other, span) for other in others)):
            held = dict(zip(others, corner, strict=True))
            position = _solved(hoist, span, axis, held, start_m)
            if position is not None and free_run(hoist, span, position) is not None:
                return position
    return None


def _solved(
    hoist: Hoist, span: str, axis: Axis, held: dict[Axis, float], start_m: float
) -> CranePosition | None:
    """The position on one axis at which a span's free rope begins at a place; none beyond it."""
    low, *rest = walk_ends(hoist, axis, span)
    if not rest:
        return None
    high = rest[0]
    first = free_run(hoist, span, CranePosition(**{**held, axis: low}))
    last = free_run(hoist, span, CranePosition(**{**held, axis: high}))  # perhaps out of reach
    if first is None or last is None or abs(last.from_m - first.from_m) < _STILL:
        return None
    share = (start_m - first.from_m) / (last.from_m - first.from_m)
    if not 0 <= share <= 1:
        return None
    position = CranePosition(**{**held, axis: low + share * (high - low)})
    return position if gets_there(hoist, position) else None
