"""Which passes to make: the fewest that cover the rope; where no hand may lie; what is left."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from ropewright.errors import InputError
from ropewright.geometry import (
    MOTIONS,
    PathPlace,
    Section,
    least_and_most_wound_m,
    subtract,
    union,
)
from ropewright.inspection import BrokenWires, Damage, RiggedHoist, RopeFinding, intersection
from ropewright.inspection.evidence import Evidence
from ropewright.plan.assumed import SLIVER_M, WORTH_M
from ropewright.plan.cover import Choice, smallest_cover
from ropewright.plan.model import HandsOff, PlannedMethod, PlannedPass, Unseen, View
from ropewright.plan.reach import reaches_of
from ropewright.plan.resting import rope_off_words
from ropewright.plan.travel import axis_words, in_rope, run_words
from ropewright.plan.views import in_front_m, places_of
from ropewright.rope import PathMap

_SAMPLES: Final = 721

#: Damage out of which wires or strands may stand.
STANDS_OUT: Final = frozenset(
    {
        "birdcage", "core protrusion", "strand protrusion", "wire loops", "broken strand",
        "strands out of place", "unlaying", "cut",
    }
)  # fmt: skip


def chosen_passes(
    views: Sequence[View],
    service: Section,
    hands_off: Sequence[HandsOff],
    path: PathMap,
    rigged: RiggedHoist,
) -> tuple[PlannedPass, ...]:
    """Eye passes first, then those by hand; each group the fewest that cover what can be covered.

    Parameters
    ----------
    views
        What every place sees.
    service
        The rope that is there.
    hands_off
        Sections on which no hand may lie.
    path
        How rope and path belong together.
    rigged
        The hoist of the day.
    """
    usable = [view for view in views if view.usable]
    felt = [
        view
        for view in usable
        if view.by_hand and (view.how == "walk" or (view.direction and view.direction.hand))
    ]
    eye = [PlannedPass(method="eye", view=usable[number]) for number in _cover(usable, service)]
    hand = [
        PlannedPass(
            method="feel",
            view=_as_run(felt[number]),
            hands_off=tuple(_hands_off(felt[number], hands_off, path, rigged)),
        )
        for number in _cover(felt, service)
    ]
    return (*eye, *hand)


def _as_run(view: View) -> View:
    """The view with start and end in the order in which the rope may run at a hand."""
    if view.how == "walk" or view.axis is None or view.direction is None:
        return view
    if view.direction.motion != MOTIONS[view.axis][1]:
        return view
    return replace(
        view, start=view.end, end=view.start, at_start_m=view.at_end_m, at_end_m=view.at_start_m,
        travel=run_words(view.axis, view.end, view.start, view.beside),
    )  # fmt: skip


def _cover(views: Sequence[View], service: Section) -> tuple[int, ...]:
    choices = [Choice(view.sections, view.minutes) for view in views]
    return smallest_cover(choices, service, sliver_m=WORTH_M)


def known_hands_off(evidence: Evidence) -> tuple[HandsOff, ...]:
    """Sections in which wires are known to stand out, or not known to lie flat."""
    found = []
    for seen in evidence.seen:
        why = _stands_out(seen.finding)
        if why:
            err = seen.finding.place.abs_err_m + seen.finding.place.rel_err_m
            found.append(
                HandsOff(
                    section=seen.finding.section.widened(err),
                    why=f"{seen.finding.finding_id}: {why}",
                )
            )
    return tuple(sorted(found, key=lambda one: one.section))


def _stands_out(finding: RopeFinding) -> str:
    if isinstance(finding, BrokenWires):
        said = [group.protruding for group in finding.groups] or [None]
        if all(one is False for one in said):
            return ""
        return "protruding wires" if any(said) else "broken wires, may protrude"
    if isinstance(finding, Damage) and finding.damage in STANDS_OUT:
        return str(finding.damage)
    return ""


def _hands_off(
    view: View, known: Sequence[HandsOff], path: PathMap, rigged: RiggedHoist
) -> list[HandsOff]:
    found = []
    for one in known:
        if not any(one.section.overlaps(section) for section in view.sections):
            continue
        between = _between(view, one.section, path, rigged)
        if between is None or view.axis is None:
            found.append(one)
            continue
        hook = between if view.axis == "hook_m" else (None, None)
        found.append(
            replace(
                one, crane=axis_words(view.axis, *between), hook_from_m=hook[0], hook_to_m=hook[1]
            )
        )
    return found


def _between(
    view: View, section: Section, path: PathMap, rigged: RiggedHoist
) -> tuple[float, float] | None:
    """Where on the moving axis [m or deg] a section passes, with what placing it leaves open."""
    point = next((one.point for one in places_of(rigged) if one.name == view.place), None)
    if view.axis is None or point is None:
        return None
    first, last = view.start.value(view.axis), view.end.value(view.axis)
    if first is None or last is None or first == last:
        return None
    line = np.linspace(min(first, last), max(first, last), _SAMPLES)
    places = in_front_m(rigged.hoist, point, view.start, view.axis, line)
    wide = section.widened(view.err_m)
    low, high = sorted((_path_m(path, wide.from_m), _path_m(path, wide.to_m)))
    if places[0] > places[-1]:
        places, line = places[::-1], line[::-1]
    ends = np.interp([low, high], places, line)  # along a pass the rope runs one way
    return float(ends.min()), float(ends.max())


def unseen_by(
    method: PlannedMethod,
    passes: Sequence[PlannedPass],
    rigged: RiggedHoist,
    path: PathMap,
    service: Section,
    err_m: float,
) -> tuple[Unseen, ...]:
    """What no pass of a method covers, why, and how to get at it.

    Parameters
    ----------
    method
        Eye or feel.
    passes
        The passes chosen.
    rigged
        The hoist of the day.
    path
        How rope and path belong together.
    service
        The rope that is there.
    err_m
        How far off places on the path may be [m].
    """
    seen = [section for one in passes if one.method == method for section in one.view.sections]
    off = [one.section for each in passes if each.method == method for one in each.hands_off]
    left = subtract([service], seen)
    dead = _dead_wraps(rigged, path)
    pieces = [(section, False) for section in subtract(left, dead)]
    pieces += [(section, True) for section in intersection(left, dead)]
    found = [
        _why(method, section, rigged, path, err_m, is_dead=is_dead)
        for section, is_dead in pieces
        if section.length_m > SLIVER_M
    ]
    if method == "feel":
        found += [
            Unseen(
                method=method,
                section=section,
                why="wires stand out or may stand out here",
                how="stop, isolate; by eye, cloth, strip and count, no hand on moving rope",
            )
            for section in union(off)
        ]
    return tuple(sorted(found, key=lambda one: one.section))


def _why(
    method: PlannedMethod,
    section: Section,
    rigged: RiggedHoist,
    path: PathMap,
    err_m: float,
    *,
    is_dead: bool,
) -> Unseen:
    if rigged.by_payout:
        return Unseen(
            method=method,
            section=section,
            why=f"not known whether it comes past a place, or stays on the drum (± {err_m:.0f} m)",
            how="give the numbers that the plan asks for, or state by hook height what was seen",
        )
    if is_dead:
        return Unseen(
            method=method,
            section=section,
            why="dead wraps: they stay on the drum wherever the crane goes",
            how=f"{rope_off_words(rigged)}, stop, isolate, lock, try; then look at their outer "
            "side and at the clamp through the guard's opening. Their inner side shows only when "
            "the rope is taken off: rope fitters, new clamping, spooling under tension",
        )
    middle = PathPlace(at_m=_path_m(path, (section.from_m + section.to_m) / 2))
    ways, failed = reaches_of(rigged, middle)
    if ways and section.length_m < WORTH_M:
        return Unseen(
            method=method,
            section=section,
            why=f"less than {WORTH_M:g} m of rope: no pass is planned for so little",
            how="stop and isolate with it in front of a place; look at it and feel it at rest",
        )
    verb = "shows it" if method == "eye" else "lets a hand get at it in a safe direction"
    why = f"no stated place {verb}"
    if failed and method == "eye":
        why += f" ({'; '.join(failed[:3])})"
    how = (
        "stop and isolate the crane with this section at rest, and look at it from a walkway, a "
        "platform or a work basket; state that place in the case file"
        if method == "eye"
        else "stop, isolate, then feel it at rest; else by eye all round and gauge"
    )
    return Unseen(method=method, section=section, why=why, how=how)


def _path_m(path: PathMap, rope_m: float) -> float:
    low, high = path.in_service
    return path.to_path_m(min(max(rope_m, low), high))


def _dead_wraps(rigged: RiggedHoist, path: PathMap) -> tuple[Section, ...]:
    """The rope that never leaves the drum, in rope position; on a twin drum at both ends."""
    if rigged.by_payout:
        return ()
    try:
        least, _ = least_and_most_wound_m(rigged.hoist)
    except InputError:
        return ()
    if least <= 0:
        return ()
    found = [Section(max(path.length_m - least, 0.0), path.length_m)]
    if rigged.hoist.reeving.end_a == "drum":
        found.append(Section(0.0, least))
    return in_rope(path, found)
