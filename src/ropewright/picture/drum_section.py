"""The drum cut along its axis, and from the side: layers, wraps, what lies in them."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from ropewright.errors import InputError
from ropewright.geometry import (
    CranePosition,
    Drum,
    PathPlace,
    PlaceOnDrum,
    crossover_parts,
    least_and_most_wound_m,
    on_drum,
    wound,
)
from ropewright.inspection import Dossier, RiggedHoist, hoist_on
from ropewright.inspection.evidence import evidence_on
from ropewright.picture.canvas import SMALL, Canvas, figure
from ropewright.picture.elevation import middle_of
from ropewright.picture.ink import ink_for
from ropewright.picture.lettering import folded, text_width
from ropewright.picture.packing import Flag, Flown, fly
from ropewright.picture.symbols import draw_sign
from ropewright.plan import on_path, position_words

WIDTH: Final = 720
RISE: Final = 0.87
SIDE_R: Final = 46.0
STAFF_ROOM: Final = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """A finding or mark that lies on the drum once wound on."""

    name: str
    sign: str
    rope_m: float
    place: PlaceOnDrum


@dataclass(frozen=True, slots=True, kw_only=True)
class _Grid:
    """Where each wrap is drawn: pitch and radius [-], left end and bottom of the barrel [-]."""

    left: float
    bottom: float
    pitch: float
    counts: tuple[int, ...]

    @property
    def r(self) -> float:
        return self.pitch / 2

    @property
    def width(self) -> float:
        return (max(self.counts) + 0.5) * self.pitch

    def centre(self, layer: int, from_clamp: int) -> tuple[float, float]:
        shift = 0.5 if layer % 2 == 0 else 0.0
        x = self.left + (from_clamp - 0.5 + shift) * self.pitch
        return x, self.bottom - self.r - (layer - 1) * 2 * self.r * RISE


def drum_section(
    dossier: Dossier,
    on: date,
    *,
    position: CranePosition | None = None,
    width_px: int = WIDTH,
    print_grey: bool = False,
) -> str:
    """The drum cut along its axis, with what lies in which layer and wrap, as SVG.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    on
        The day whose rigging is drawn.
    position
        Where the crane stands; the middle of its travel if not given.
    width_px
        Width in user units.
    print_grey
        Whether to draw in greys only.

    Raises
    ------
    InputError
        If the drum is not described; names the number to give.
    """
    canvas = Canvas(
        width=max(width_px, 320),
        ink=ink_for(print_grey=print_grey),
        name=f"{dossier.rope.rope_id} drum {width_px} {print_grey}",
    )
    height = draw_drum(canvas, dossier, on, position=position, top=0.0)
    title = f"Drum: {dossier.crane.crane_id}, {dossier.rope.rope_id}"
    return canvas.finish(height=height, title=title, desc=_description(dossier, on))


def draw_drum(
    canvas: Canvas, dossier: Dossier, on: date, *, position: CranePosition | None, top: float
) -> float:
    """Draw the drum into a canvas, from ``top`` [-] on; give the height reached [-]."""
    rigged = hoist_on(dossier, on)
    drum = rigged.drum()
    here = middle_of(rigged.hoist) if position is None else position
    wound_m = _wound_m(rigged, here)
    found = _on_drum(dossier, rigged, on)
    y = top + 17
    canvas.text(10, y, "Drum, cut along its axis", size=14, bold=True)
    said = f"drawn with {position_words(here)}" if position_words(here) else "drawn"
    for words in folded(f"{said}; empty rings: off the drum", SMALL, canvas.width - 20.0):
        y += 15
        canvas.text(10, y, words, size=SMALL, colour=canvas.ink.soft)
    counts = tuple(math.ceil(wraps - 1e-9) for wraps in drum.wraps)
    room = canvas.width - 110.0
    pitch = min(15.0, room / (max(counts) + 0.5))
    height = len(counts) * pitch * RISE + pitch
    grid = _Grid(left=52.0, bottom=0.0, pitch=pitch, counts=counts)
    flown = _flown(canvas, grid, found)
    rows = 1 + max((one.row for one in flown), default=-1)
    grid = replace(grid, bottom=y + 22 + rows * 17 + 8 + height)
    labels_y = grid.bottom - height - 18
    with canvas.group("drum"):
        _steel(canvas, grid, rigged)
        _wraps(canvas, grid, drum, wound_m, _dead_m(rigged))
        _mark_found(canvas, grid, found, flown, labels_y)
    y = grid.bottom + 46
    return _side_view(canvas, drum, found, y, dossier)


def _wound_m(rigged: RiggedHoist, position: CranePosition) -> float | None:
    try:
        return wound(rigged.hoist, position).on_drum_m
    except InputError:
        return None


def _dead_m(rigged: RiggedHoist) -> float:
    if rigged.by_payout:
        return 0.0
    try:
        return least_and_most_wound_m(rigged.hoist)[0]
    except InputError:
        return 0.0


def _on_drum(dossier: Dossier, rigged: RiggedHoist, on: date) -> list[_Found]:
    path = dossier.history.at(on)
    known = [
        (seen.finding.finding_id, seen.finding.kind, seen.finding.place)
        for seen in evidence_on(dossier, on).seen
    ]
    known += [(f"mark {mark.name}", "mark", mark.place) for mark in dossier.marks]
    found = []
    for name, sign, place in known:
        today: PathPlace | None = on_path(place, path)
        if today is None:
            continue
        try:
            lies = on_drum(today, rigged.hoist)
        except InputError:  # it never gets onto the drum's layers
            continue
        found.append(_Found(name=name, sign=sign, rope_m=place.at_m, place=lies))
    return sorted(found, key=lambda one: one.rope_m)


# --- Strokes ----------------------------------------------------------------------------------


def _steel(canvas: Canvas, grid: _Grid, rigged: RiggedHoist) -> None:
    ink = canvas.ink
    right = grid.left + grid.width
    canvas.rect(grid.left, grid.bottom, grid.width, 12, fill=ink.hair)
    canvas.line(grid.left, grid.bottom + 12, right, grid.bottom + 12, ink.line,
                stroke_dasharray="10 3 2 3")  # fmt: skip
    top = grid.centre(len(grid.counts), 1)[1] - grid.r - 12
    for x in (grid.left - 7, right):
        canvas.rect(x, top, 7, grid.bottom + 12 - top, fill=ink.rope)
    facts = rigged.rigging.drum
    clamp, far = ("", "") if facts is None else (facts.clamp_flange, facts.far_flange)
    y = grid.bottom + 27
    canvas.text(grid.left - 7, y, clamp or "clamp flange", size=SMALL)
    canvas.text(right + 7, y, far or "far flange", size=SMALL, anchor="end")
    layers = range(1, len(grid.counts) + 1)
    if grid.pitch * RISE < SMALL + 1:  # no room for all of them
        layers = range(1, len(grid.counts) + 1, max(len(grid.counts) - 1, 1))
    for layer in layers:
        _, middle = grid.centre(layer, 1)
        canvas.text(right + 12, middle + 4, f"layer {layer}", size=SMALL)


def _wraps(canvas: Canvas, grid: _Grid, drum: Drum, wound_m: float | None, dead_m: float) -> None:
    """Rings for wraps that are off the drum, filled for those on it, hatched for dead wraps."""
    ink = canvas.ink
    edges = (0.0, *drum.layer_ends_m)
    for layer, count in enumerate(grid.counts, 1):
        turn = drum.turn_m[layer - 1]
        for wrap in range(1, count + 1):
            start = edges[layer - 1] + (wrap - 1) * turn
            from_clamp = wrap if layer % 2 else count + 1 - wrap
            x, y = grid.centre(layer, from_clamp)
            is_on = wound_m is None or start < wound_m
            fill = ink.rope if is_on else ink.paper
            if is_on and start + turn <= dead_m + turn / 2:
                fill = ink.line
            canvas.circle(x, y, grid.r - 0.6, fill=fill, stroke=ink.line, stroke_width="0.8")


def _label_words(one: _Found) -> str:
    return f"{one.name}, layer {one.place.layer}, wrap {one.place.wrap_from_clamp}"


def _apart(places: Sequence[float]) -> list[float]:
    """The same places in the same order, moved right until each two are a staff's room apart."""
    moved = list(places)
    least = -math.inf
    for number in sorted(range(len(places)), key=lambda at: places[at]):
        moved[number] = max(places[number], least)
        least = moved[number] + STAFF_ROOM
    return moved


def _flown(canvas: Canvas, grid: _Grid, found: Sequence[_Found]) -> list[Flown]:
    """Where the names fly over the drum: in rows, so that no staff crosses another name."""
    places = [grid.centre(one.place.layer, one.place.wrap_from_clamp)[0] for one in found]
    flags = [
        Flag(x=x, room=text_width(_label_words(one), SMALL) + 5)
        for one, x in zip(found, _apart(places), strict=True)
    ]
    for rows in range(1, len(flags) + 2):
        flown = fly(flags, left=10.0, right=canvas.width - 10.0, rows=rows)
        if flown is not None:
            return flown
    return [  # too wide for any row: signs alone, the words stay in the titles
        Flown(row=row, to_left=False, x=flag.x, left=flag.x, right=flag.x)
        for row, flag in enumerate(flags)
    ]


def _mark_found(
    canvas: Canvas, grid: _Grid, found: Sequence[_Found], flown: Sequence[Flown], y: float
) -> None:
    ink = canvas.ink
    for one, flag in zip(found, flown, strict=True):
        x, wrap_y = grid.centre(one.place.layer, one.place.wrap_from_clamp)
        words = _label_words(one)
        row = y - flag.row * 17
        err = one.place.place.abs_err_m + one.place.place.rel_err_m
        title = f"{words} counted from the clamp's flange, ± {err:.1f} m of rope"
        with canvas.mark("finding", title, one.rope_m):
            bend = f"L{figure(flag.x)} {figure(y + 12)}V{figure(row)}"
            canvas.path(
                f"M{figure(x)} {figure(wrap_y - grid.r)}{bend}", fill="none", stroke=ink.grave,
                stroke_width="0.8",
            )  # fmt: skip
            canvas.circle(
                x, wrap_y, grid.r - 0.6, fill=ink.paper, stroke=ink.grave, stroke_width="2.2"
            )
            draw_sign(canvas, one.sign, flag.x, row, ink.grave)
            if flag.right - flag.left > 1:
                side = -11 if flag.to_left else 11
                canvas.text(
                    flag.x + side,
                    row + 4,
                    words,
                    size=SMALL,
                    anchor="end" if flag.to_left else "start",
                )


def _side_view(
    canvas: Canvas, drum: Drum, found: Sequence[_Found], y: float, dossier: Dossier
) -> float:
    """The drum seen along its axis: crossovers as sectors, findings by their part of turn."""
    ink = canvas.ink
    x0, y0 = 10 + SIDE_R + 8, y + SIDE_R + 4
    canvas.circle(x0, y0, SIDE_R, fill=ink.paper, stroke=ink.line)
    crossing = crossover_parts(drum) if drum.layers > 1 else ()
    for first, last in crossing:
        canvas.path(_sector(x0, y0, SIDE_R, first, last), fill=ink.rope)
    canvas.circle(x0, y0, SIDE_R * 0.5, fill=ink.pale, stroke=ink.line)
    top = _spot(x0, y0, SIDE_R + 7, 0.0)
    canvas.line(x0, y0, top[0], top[1], ink.ink, stroke_width="1.5")
    for one in found:
        share = 0.55 + 0.4 * one.place.layer / max(len(drum.wraps), 1)
        x, yy = _spot(x0, y0, SIDE_R * share, one.place.part)
        with canvas.mark("part-of-turn", f"{one.name}: {one.place.part:.2f} of a turn",
                         one.rope_m):  # fmt: skip
            canvas.circle(x, yy, 3.2, fill=ink.grave)
    words = ["Seen along the axis, from the clamp's flange."]
    if crossing:
        words.append("Grey sectors: crossovers, the same in every layer.")
    words.append("Upright line: the clamp's line, from which parts of a turn are counted.")
    words.append("Dots: parts of a turn worked out; look at the drum before you rely on them.")
    words.append("Dark wraps: dead wraps. Wraps are counted from the clamp's flange.")
    if dossier.invented:
        words.append("Invented data – demonstration.")
    line_y = y + 14
    for sentence in words:
        for part in folded(sentence, SMALL, canvas.width - (x0 + SIDE_R + 40)):
            canvas.text(x0 + SIDE_R + 26, line_y, part, size=SMALL)
            line_y += 15
    return max(line_y, y0 + SIDE_R + 8) + 6


def _spot(x: float, y: float, r: float, part: float) -> tuple[float, float]:
    angle = 2 * math.pi * part
    return x + r * math.sin(angle), y - r * math.cos(angle)


def _sector(x: float, y: float, r: float, first: float, last: float) -> str:
    one, other = _spot(x, y, r, first), _spot(x, y, r, last)
    large = 1 if last - first > 0.5 else 0
    return (
        f"M{figure(x)} {figure(y)}L{figure(one[0])} {figure(one[1])}"
        f"A{figure(r)} {figure(r)} 0 {large} 1 {figure(other[0])} {figure(other[1])}Z"
    )


def _description(dossier: Dossier, on: date) -> str:
    rigged = hoist_on(dossier, on)
    drum = rigged.drum()
    parts = [f"{drum.layers} layers of {', '.join(f'{wraps:g}' for wraps in drum.wraps)} wraps."]
    for one in _on_drum(dossier, rigged, on):
        parts.append(
            f"{one.name} at {one.rope_m:.1f} m: layer {one.place.layer}, wrap "
            f"{one.place.wrap_from_clamp} from the clamp's flange."
        )
    if dossier.invented:
        parts.append("Invented data for demonstration.")
    return " ".join(parts)
