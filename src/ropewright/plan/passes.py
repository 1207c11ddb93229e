"""Which passes to make: the fewest that cover the rope; where no hand may lie; what is left."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

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
from ropewright.plan.views import in_rope, run_words
from ropewright.rope import PathMap

#: Damage out of which wires or strands may stand.
STANDS_OUT: Final = frozenset(
    {
        "birdcage", "core protrusion", "strand protrusion", "wire loops", "broken strand",
        "strands out of place", "unlaying", "cut",
    }
)  # fmt: skip


def chosen_passes(
    views: Sequence[View], service: Section, hands_off: Sequence[HandsOff], path: PathMap
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
            hands_off=tuple(_hands_off(felt[number], hands_off, path)),
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


def _hands_off(view: View, known: Sequence[HandsOff], path: PathMap) -> list[HandsOff]:
    found = []
    for one in known:
        if not any(one.section.overlaps(section) for section in view.sections):
            continue
        heights = _heights(view, one.section, path)
        found.append(
            one
            if heights is None
            else HandsOff(
                section=one.section, why=one.why, hook_from_m=heights[0], hook_to_m=heights[1]
            )
        )
    return found


def _heights(view: View, section: Section, path: PathMap) -> tuple[float, float] | None:
    """Hook heights between which a section passes, with what placing it here leaves open.

    Path and hook go along together evenly.
    """
    start, end = view.start.hook_m, view.end.hook_m
    first, last = view.at_start_m, view.at_end_m
    if start is None or end is None or start == end or first is None or last is None:
        return None
    hooks = []
    wide = section.widened(view.err_m)
    for rope_m in (wide.from_m, wide.to_m):
        share = (_path_m(path, rope_m) - first) / (last - first)
        hooks.append(start + min(max(share, 0.0), 1.0) * (end - start))
    return min(hooks), max(hooks)


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
            how="hook at its lowest, stop, isolate, lock, try; then look at their outer side "
            "and at the clamp through the guard's opening. Their inner side shows only when the "
            "rope is taken off: rope fitters, new clamping, spooling under tension",
        )
    middle = PathPlace(at_m=_path_m(path, (section.from_m + section.to_m) / 2))
    _, failed = reaches_of(rigged, middle)
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
