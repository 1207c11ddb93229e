"""What is written on a drawn crane: numbered places, arrows, findings and the words below."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from ropewright.geometry import Section
from ropewright.picture.canvas import BODY, SMALL, Canvas, figure
from ropewright.picture.lettering import folded, text_width
from ropewright.picture.rope_line import Point, RopeLine
from ropewright.picture.symbols import draw_sign
from ropewright.rope import PathMap

NARROW: Final = 560


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A numbered place to stand: where on the drawn rope, and its words.

    ``towards_drum`` tells which way the rope runs for the motion named.
    """

    number: int
    path_m: float | None
    words: str
    motion: str | None
    towards_drum: bool = True
    run: Section | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundOn:
    """A finding or mark: its sign, name, place in the steel and on the path."""

    sign: str
    name: str
    rope_m: float
    path_m: float | None


def stroke_of(points: Sequence[Point]) -> str:
    """The path through drawn ``points`` [-]."""
    return "M" + "L".join(f"{figure(x)} {figure(y)}" for x, y in points)


def draw_places(
    canvas: Canvas,
    line: RopeLine,
    places: Sequence[Standing],
    taken: list[tuple[float, float, float, float]],
    path: PathMap,
) -> None:
    """Draw each place to stand and the arrow of its rope; ``taken`` [-] are boxes in use."""
    ink = canvas.ink
    for place in places:
        if place.path_m is None:
            continue
        x, y = line.at(place.path_m)
        across, down = line.heading(place.path_m)
        off = _free_side(x, y, across, down, taken, canvas.width)
        if place.motion is not None:
            way = 1.0 if place.towards_drum else -1.0
            at = path.to_rope_m(min(max(place.path_m, 0.0), path.length_m))
            with canvas.mark("safe-direction", place.words, at):
                _arrow(canvas, x, y, across * way, down * way)
        canvas.line(x, y, off[0], off[1], ink.cover, stroke_width="1")
        canvas.circle(x, y, 3, fill=ink.cover)
        with canvas.group("place"):
            canvas.circle(off[0], off[1], 8.5, fill=ink.paper, stroke=ink.cover, stroke_width="2")
            canvas.text(off[0], off[1] + 4, str(place.number), size=SMALL, anchor="middle")
        taken.append((off[0] - 10, off[1] - 10, off[0] + 10, off[1] + 10))


def _free_side(
    x: float,
    y: float,
    across: float,
    down: float,
    taken: Sequence[tuple[float, float, float, float]],
    width: float,
) -> Point:
    """A spot beside the rope that is not taken yet and lies within the drawing."""
    for reach in (24.0, 40.0, 56.0, 72.0):
        for side in (1.0, -1.0):
            spot = (x + side * down * reach, y - side * across * reach)
            box = (spot[0] - 10, spot[1] - 10, spot[0] + 10, spot[1] + 10)
            inside = spot[1] > 12 and box[0] >= 2 and box[2] <= width - 2
            if inside and not any(_overlap(box, other) for other in taken):
                return spot
    return x, y - 24.0


def _overlap(
    one: tuple[float, float, float, float], other: tuple[float, float, float, float]
) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _arrow(canvas: Canvas, x: float, y: float, across: float, down: float) -> None:
    """An arrow beside the rope in the direction in which it may run."""
    side, half = 9.0, 20.0 if canvas.width >= NARROW else 9.0
    x0, y0 = x + down * side, y - across * side
    start = (x0 - across * half, y0 - down * half)
    end = (x0 + across * half, y0 + down * half)
    ink = canvas.ink
    canvas.path(stroke_of([start, end]), fill="none", stroke=ink.cover, stroke_width="3")
    tip = (x0 + across * (half + 9), y0 + down * (half + 9))
    wing = [
        (end[0] - down * 6, end[1] + across * 6),
        tip,
        (end[0] + down * 6, end[1] - across * 6),
    ]
    canvas.path(stroke_of(wing) + "Z", fill=ink.cover)


def draw_signs(
    canvas: Canvas,
    line: RopeLine,
    found: Sequence[FoundOn],
    taken: list[tuple[float, float, float, float]],
) -> list[FoundOn]:
    """Draw what lies on free rope, clear of ``taken`` [-]; give back what lies on the drum."""
    on_drum = []
    whole = line.pieces[-1].to_m
    for one in found:
        if one.path_m is None:
            continue
        if one.path_m > whole or one.path_m < line.pieces[0].from_m:
            on_drum.append(one)
            continue
        x, y = line.at(one.path_m)
        across, down = line.heading(one.path_m)
        spot = _free_side(x, y, -across, -down, taken, canvas.width)
        taken.append((spot[0] - 10, spot[1] - 10, spot[0] + 10, spot[1] + 10))
        with canvas.mark("finding", f"{one.name} at {one.rope_m:.1f} m", one.rope_m):
            canvas.line(x, y, spot[0], spot[1], canvas.ink.line)
            draw_sign(canvas, one.sign, spot[0], spot[1], canvas.ink.grave)
            _name(canvas, one.name.partition(":")[0], spot, to_left=spot[0] < x, taken=taken)
    return on_drum


def _name(
    canvas: Canvas,
    words: str,
    spot: Point,
    *,
    to_left: bool,
    taken: list[tuple[float, float, float, float]],
) -> None:
    """Write a name beside its sign, away from the rope, where there is room for it."""
    wide = text_width(words, SMALL)
    left = spot[0] - 11 - wide if to_left else spot[0] + 11
    box = (left, spot[1] - 8, left + wide, spot[1] + 8)
    if left < 4 or box[2] > canvas.width - 4 or any(_overlap(box, one) for one in taken[:-1]):
        return
    taken.append(box)
    x, anchor = (spot[0] - 11, "end") if to_left else (spot[0] + 11, "start")
    canvas.text(x, spot[1] + 4, words, size=SMALL, anchor=anchor)


def draw_words(
    canvas: Canvas, places: Sequence[Standing], on_drum: Sequence[FoundOn], y: float
) -> float:
    """Write the words of the places below the drawing from height ``y`` [-].

    Returns
    -------
    float
        Where the next thing may begin [-].
    """
    ink = canvas.ink
    for place in places:
        lines = folded(place.words, SMALL, canvas.width - 52.0)
        canvas.circle(20, y + 8, 8.5, fill=ink.paper, stroke=ink.cover, stroke_width="2")
        canvas.text(20, y + 12, str(place.number), size=SMALL, anchor="middle")
        for words in lines:
            canvas.text(38, y + 12, words, size=SMALL)
            y += 15
        y += 6
    if on_drum:
        names = ", ".join(f"{one.name} ({one.rope_m:.1f} m)" for one in on_drum)
        for words in folded(f"On the drum with the crane as drawn: {names}", SMALL,
                            canvas.width - 20.0):  # fmt: skip
            canvas.text(10, y + 12, words, size=SMALL)
            y += 15
    if any(place.motion for place in places):
        y += 3
        words = "Arrow: the way the rope may run there, away from the nearest nip."
        for part in folded(words, BODY, canvas.width - 20.0):
            canvas.text(10, y + 12, part, bold=False)
            y += 16
    return y + 8
