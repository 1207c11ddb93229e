"""The crane from the side: rope path, places to stand, findings, direction of the rope."""

import math
from collections.abc import Sequence
from datetime import date
from typing import Final

from ropewright.errors import InputError
from ropewright.geometry import (
    MOTIONS,
    CranePosition,
    CranePositions,
    Hoist,
    InspectionPoint,
    SeenAtPoint,
    trace,
)
from ropewright.geometry.locate import path_m_of
from ropewright.inspection import Dossier, RiggedHoist, hoist_on
from ropewright.inspection.evidence import evidence_on
from ropewright.picture.canvas import SMALL, Canvas, figure
from ropewright.picture.crane_shapes import Shape, shape_of
from ropewright.picture.elevation_signs import (
    FoundOn,
    Standing,
    draw_places,
    draw_signs,
    draw_words,
    stroke_of,
)
from ropewright.picture.ink import ink_for
from ropewright.picture.lettering import folded, text_width
from ropewright.picture.rope_line import RopeLine, rope_line
from ropewright.plan import (
    NO_DIRECTION,
    InspectionPlan,
    View,
    on_path,
    places_of,
    position_words,
)
from ropewright.plan.walkways import free_run
from ropewright.rope import PathMap

WIDTH: Final = 720
HEIGHT: Final = 392.0


def crane_elevation(
    dossier: Dossier,
    on: date,
    *,
    position: CranePosition | None = None,
    plan: InspectionPlan | None = None,
    width_px: int = WIDTH,
    print_grey: bool = False,
) -> str:
    """A schematic of the crane with the rope's path, places to stand, findings and directions.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    on
        The day whose rigging is drawn.
    position
        Where the crane stands; the middle of its travel if not given.
    plan
        A plan of the inspection: its sections are drawn along the rope, its directions as arrows.
    width_px
        Width in user units.
    print_grey
        Whether to draw in greys only.

    Returns
    -------
    str
        The SVG; whatever has a place on the rope carries ``data-rope-m``.

    Raises
    ------
    InputError
        If too little is known of the rigging.
    """
    canvas = Canvas(
        width=max(width_px, 320),
        ink=ink_for(print_grey=print_grey),
        name=f"{dossier.rope.rope_id} elevation {width_px} {print_grey}",
    )
    height = draw_elevation(canvas, dossier, on, position=position, plan=plan, top=0.0)
    title = f"Path of the rope: {dossier.crane.crane_id}, {dossier.rope.rope_id}"
    return canvas.finish(height=height, title=title, desc=_description(dossier, on, position))


def draw_elevation(
    canvas: Canvas,
    dossier: Dossier,
    on: date,
    *,
    position: CranePosition | None,
    plan: InspectionPlan | None,
    top: float,
) -> float:
    """Draw the crane into a canvas, from ``top`` [-] on; give the height reached [-]."""
    rigged = hoist_on(dossier, on)
    hoist = rigged.hoist
    here = middle_of(hoist) if position is None else position
    shape = shape_of(hoist, here, width=float(canvas.width), height=HEIGHT)
    line = _line(hoist, here, shape)
    path = dossier.history.at(on)
    head = [
        f"Path of the rope: {dossier.crane.crane_id}, {dossier.rope.rope_id}",
        f"drawn with {position_words(here) or 'the crane at rest'}; not to scale",
    ]
    y = top + 2
    for words in folded(head[0], 14, (canvas.width - 20.0) / 1.06):
        y += 15
        canvas.text(10, y, words, size=14, bold=True)
    for words in folded(head[1], SMALL, canvas.width - 20.0):
        y += 15
        canvas.text(10, y, words, size=SMALL, colour=canvas.ink.soft)
    if dossier.invented:
        y += 15
        canvas.text(10, y, "Invented data – demonstration", bold=True)
    y += 6
    places = _places(rigged, here, plan)
    found = _findings(dossier, on, path)
    with canvas.group("crane", transform=f"translate(0 {figure(y)})"):
        _steel(canvas, shape)
        _in_view(canvas, line, places, path)
        _rope(canvas, shape, line, path)
        _hook(canvas, shape)
        taken: list[tuple[float, float, float, float]] = []
        draw_places(canvas, line, places, taken, path)
        on_drum = draw_signs(canvas, line, found, taken)
    y += shape.ground_y + 26
    return draw_words(canvas, places, on_drum, y)


def middle_of(hoist: Hoist) -> CranePosition:
    """The crane in the middle of its travel, as far as that is known."""
    axes = {}
    for axis in hoist.reeving.axes:
        bounds = hoist.travel.range_of(axis)
        if bounds is not None:
            axes[axis] = sum(bounds) / 2
    return CranePosition(**axes)


def _line(hoist: Hoist, position: CranePosition, shape: Shape) -> RopeLine:
    found = trace(hoist, CranePositions.one(position))
    places = [(0.0, float(found.base_m[0]))]
    for start, end in zip(found.start_m, found.end_m, strict=True):
        places.append((float(start[0]), float(end[0])))
    out = float(found.out_m[0])
    places.append((out, out))
    return rope_line(shape.rounds, places)


def _places(
    rigged: RiggedHoist, position: CranePosition, plan: InspectionPlan | None
) -> list[Standing]:
    found = []
    for number, one in enumerate(places_of(rigged), 1):
        path_m, run = None, None
        if one.point is not None:
            path_m = _in_front_m(rigged.hoist, one.point, position)
        else:
            run = free_run(rigged.hoist, one.along, position)
            path_m = None if run is None else (run.from_m + run.to_m) / 2
        motion, words, towards_drum = None, one.name, True
        view = _view_of(one.name, plan)
        if view is not None and view.direction is not None:
            barred = view.direction.words.startswith(NO_DIRECTION)
            motion = None if barred else view.direction.motion
            towards_drum = _towards_drum(view)
            hand = "" if view.direction.hand or motion is None else " (by eye, no hand)"
            words = f"{one.name}: {view.direction.words}{hand}"
        if one.along:
            words = f"{one.name}: rope at rest, crane stopped and isolated"
        found.append(
            Standing(
                number=number,
                path_m=path_m,
                words=words,
                motion=motion,
                towards_drum=towards_drum,
                run=run,
            )
        )
    return found


def _view_of(place: str, plan: InspectionPlan | None) -> View | None:
    """The view whose direction is drawn at a place: of the hook's motion where there is one."""
    known = [
        view
        for view in (plan.views if plan is not None else ())
        if view.place == place and view.direction is not None
    ]
    hook = [view for view in known if view.axis == "hook_m"]
    return next(iter(hook or known), None)


def _towards_drum(view: View) -> bool:
    """Whether the rope runs towards the drum for the motion of a view's direction."""
    if view.axis is None or view.direction is None or None in (view.at_start_m, view.at_end_m):
        return True
    start, end = view.start.value(view.axis) or 0.0, view.end.value(view.axis) or 0.0
    falling = ((view.at_end_m or 0.0) - (view.at_start_m or 0.0)) * (end - start) < 0
    # What is in front of a person lies nearer to end A as rope runs towards the drum.
    return falling == (view.direction.motion == MOTIONS[view.axis][0])


def _in_front_m(hoist: Hoist, point: InspectionPoint, position: CranePosition) -> float | None:
    try:
        seen = SeenAtPoint(point=point, position=position)
        return path_m_of(seen, hoist, hoist.corrections)
    except InputError:
        return None


def _findings(dossier: Dossier, on: date, path: PathMap) -> list[FoundOn]:
    found = [
        FoundOn(
            sign=seen.finding.kind,
            name=f"{seen.finding.finding_id}: {seen.finding.kind}",
            rope_m=seen.finding.place.at_m,
            path_m=None if (at := on_path(seen.finding.place, path)) is None else at.at_m,
        )
        for seen in evidence_on(dossier, on).seen
    ]
    for mark in dossier.marks:
        at = on_path(mark.place, path)
        found.append(
            FoundOn(
                sign="mark",
                name=f"mark {mark.name}",
                rope_m=mark.place.at_m,
                path_m=None if at is None else at.at_m,
            )
        )
    return sorted(found, key=lambda one: (one.rope_m, one.name))


# --- Strokes ----------------------------------------------------------------------------------


def _steel(canvas: Canvas, shape: Shape) -> None:
    ink = canvas.ink
    if shape.steel:
        right = canvas.width - 10.0
        canvas.line(10, shape.ground_y, right, shape.ground_y, ink.line, stroke_width="1.5")
    for steel in shape.steel:
        canvas.path(stroke_of(steel), fill="none", stroke=ink.hair, stroke_width="3")
    for (x, y), words in shape.notes:
        for count, line in enumerate(folded(words, SMALL, canvas.width - x - 8)):
            canvas.text(x, y + 15 * count, line, size=SMALL, colour=ink.soft)
    if shape.hook_scale is not None:
        _hook_scale(canvas, shape)


def _hook_scale(canvas: Canvas, shape: Shape) -> None:
    """A ruler of hook heights at the left edge."""
    if shape.hook_scale is None:
        return
    (low, bottom), (high, top) = shape.hook_scale
    x = 16.0
    canvas.line(x, bottom, x, top, canvas.ink.line)
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        y = bottom + share * (top - bottom)
        canvas.line(x, y, x + 5, y, canvas.ink.line)
        words = f"{low + share * (high - low):.0f} m"
        canvas.text(x + 8, y + 4, words, size=SMALL, colour=canvas.ink.soft)
    canvas.text(x - 6, top - 12, "hook height", size=SMALL, colour=canvas.ink.soft)


def _in_view(canvas: Canvas, line: RopeLine, places: Sequence[Standing], path: PathMap) -> None:
    """A pale band along rope at rest that a person can walk along."""
    for place in places:
        if place.run is None:
            continue
        low, high = max(place.run.from_m, 0.0), min(place.run.to_m, path.length_m)
        points = line.between(low, high)
        if high <= low or len(points) < 2:
            continue
        ends = sorted((path.to_rope_m(low), path.to_rope_m(high)))
        with canvas.mark("in-view", place.words, ends[0], ends[1]):
            canvas.path(stroke_of(points), fill="none", stroke=canvas.ink.hair, stroke_width="11")


def _rope(canvas: Canvas, shape: Shape, line: RopeLine, path: PathMap) -> None:
    ink = canvas.ink
    whole = line.pieces[-1].to_m
    for one in shape.rounds:
        if one.r:
            is_drum = one.name in ("drum", "drum A")
            canvas.circle(
                one.x, one.y, one.r - 1.5, fill=ink.pale if is_drum else ink.paper, stroke=ink.line,
                stroke_width="1.5",
            )  # fmt: skip
            canvas.circle(one.x, one.y, 1.5, fill=ink.line)
        else:
            canvas.rect(one.x - 4, one.y - 4, 8, 8, fill=ink.ink)
    low, high = path.to_rope_m(0.0), path.to_rope_m(min(max(whole, 0.0), path.length_m))
    with canvas.mark("rope", "the rope's path from end A to the drum", low, high):
        points = [point for piece in line.pieces for point in piece.points]
        canvas.path(
            stroke_of(points),
            fill="none",
            stroke=ink.ink,
            stroke_width="2",
            stroke_linejoin="round",
        )
    for one in shape.rounds:
        if one.name in ("drum", "drum A"):
            outward = -1 if one.x < canvas.width / 2 else 1
            x = one.x + outward * (one.r + 5)
            wide = text_width(one.name, SMALL)
            if x - wide < 4 if outward < 0 else x + wide > canvas.width - 4:
                canvas.text(one.x, one.y + one.r + 14, one.name, size=SMALL, anchor="middle")
            else:
                anchor = "end" if outward < 0 else "start"
                canvas.text(x, one.y + 4, one.name, size=SMALL, anchor=anchor)
        elif one.name == "end A" and one.x > canvas.width - 60.0:
            x = min(one.x, canvas.width - 30.0)
            canvas.text(x, one.y - 10, one.name, size=SMALL, anchor="middle")
        elif one.name == "end A":
            canvas.text(one.x + 9, one.y + 4, one.name, size=SMALL)


def _hook(canvas: Canvas, shape: Shape) -> None:
    if shape.hook is None:
        return
    x, y = shape.hook
    d = f"M{figure(x)} {figure(y)}v9a5 5 0 1 1 -5 5"
    canvas.path(d, fill="none", stroke=canvas.ink.ink, stroke_width="2.5", stroke_linecap="round")


def _description(dossier: Dossier, on: date, position: CranePosition | None) -> str:
    rigged = hoist_on(dossier, on)
    here = middle_of(rigged.hoist) if position is None else position
    found = trace(rigged.hoist, CranePositions.one(here))
    parts = [f"The crane as rigged on {on.isoformat()}, drawn with {position_words(here)}."]
    for number, name in enumerate(found.contacts):
        start = float(found.start_m[number][0])
        if not math.isnan(start):
            parts.append(f"{name} at {start:.1f} m of path.")
    out = float(found.out_m[0])
    if not math.isnan(out):
        parts.append(f"The rope meets the drum at {out:.1f} m.")
    if dossier.invented:
        parts.append("Invented data for demonstration.")
    return " ".join(parts)
