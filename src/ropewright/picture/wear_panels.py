"""The bands of the wear figure: each draws one quantity along the rope into its own height."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from ropewright.desk.wear_figure import DrumBand, FoundAt, Layered, WearFigure
from ropewright.geometry import Section
from ropewright.picture.canvas import BODY, SMALL, Canvas, figure
from ropewright.picture.frame import Frame, round_step
from ropewright.picture.lettering import folded, shortened, text_width
from ropewright.picture.symbols import SIGNS, draw_sign
from ropewright.wear.top_sections import WornSection

DRUM_HEIGHT: Final = 40.0
FOUND_HEIGHT: Final = 58.0
KEY_LINE: Final = 16.0
TOGETHER: Final = 42.0
"""Findings nearer than this on the paper share a sign."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """Where a band lies: its ``top`` [-] and ``height`` [-] in user units, its name and unit.

    ``head`` [-] is where its name stands on a narrow picture, above the band.
    """

    top: float
    height: float
    name: str
    unit: str
    head: float

    @property
    def foot(self) -> float:
        """The base line [-]."""
        return self.top + self.height


def fill_of(canvas: Canvas, number: int) -> str:
    """The fill of a layer: plain and patterned in turn, so that none needs its colour."""
    ink = canvas.ink
    fills = (ink.line, "hatch", ink.hair, "sparse", ink.rope, "cross", ink.pale)
    fill = fills[number % len(fills)]
    return fill if fill.startswith("#") else canvas.pattern(fill)


def draw_head(canvas: Canvas, frame: Frame, panel: Panel, most: float) -> float:
    """Draw name, unit and scale of a band; give the value at its top [-].

    Parameters
    ----------
    canvas, frame, panel
        Where to draw.
    most
        Greatest value to show [-].
    """
    step = round_step(most or 1.0, 4)
    top = step * -(-most // step) if most else step
    canvas.line(frame.left, panel.foot, frame.right, panel.foot, canvas.ink.line)
    _name(canvas, frame, panel)
    value = step
    while value <= top * (1 + 1e-9):
        at = panel.foot - panel.height * value / top
        canvas.line(frame.left, at, frame.right, at, canvas.ink.hair)
        words = short_number(value)
        canvas.text(frame.left - 5, at + 4, words, size=SMALL, colour=canvas.ink.soft, anchor="end")
        value += step
    return top


def _name(canvas: Canvas, frame: Frame, panel: Panel) -> None:
    """Name and unit: beside the band, or above it on a narrow picture."""
    if frame.compact:
        canvas.text(10, panel.head, panel.name, bold=True)
        x = 16 + text_width(panel.name, BODY, bold=True)
        words = shortened(panel.unit, SMALL, frame.right - x)
        canvas.text(x, panel.head, words, size=SMALL, colour=canvas.ink.soft)
        return
    canvas.text(10, panel.top + 12, panel.name, bold=True)
    y = panel.top + 27
    for line in folded(panel.unit, SMALL, frame.left - 52):
        canvas.text(10, y, line, size=SMALL, colour=canvas.ink.soft)
        y += 14


def short_number(value: float) -> str:
    """A number ``value`` [-] as short as it can be read: 950, 12k, 1.5M."""
    for size, letter in ((1e6, "M"), (1e3, "k")):
        if value >= size:
            return f"{value / size:.3g}{letter}"
    return f"{value:.3g}"


def draw_stack(
    canvas: Canvas,
    frame: Frame,
    panel: Panel,
    edges: Sequence[float],
    layers: Sequence[Layered],
    *,
    worst: Sequence[float] = (),
) -> None:
    """Draw layers on top of each other.

    Parameters
    ----------
    canvas, frame, panel
        Where to draw.
    edges
        Edges of the steps, in rope position [m].
    layers
        The layers, the lowest first.
    worst
        A line above them: the worst place in each step [-].
    """
    steps = len(edges) - 1
    whole = [sum(layer.values[at] for layer in layers) for at in range(steps)]
    top = draw_head(canvas, frame, panel, max([*whole, *worst], default=0.0))
    below = [0.0] * steps
    for number, layer in enumerate(layers):
        above = [low + value for low, value in zip(below, layer.values, strict=True)]
        d = _area(frame, panel, edges, below, above, top)
        with canvas.mark("layer", f"{panel.name}: {layer.name}", edges[0], edges[-1]):
            canvas.path(
                d,
                fill=fill_of(canvas, number),
                stroke=canvas.ink.ink,
                stroke_width="0.7",
                stroke_linejoin="round",
            )
        below = above
    if worst:
        line = steps_line(frame, panel, edges, worst, top)
        canvas.path(line, fill="none", stroke=canvas.ink.ink, stroke_width="1.2")


def steps_line(
    frame: Frame, panel: Panel, edges: Sequence[float], values: Sequence[float], top: float
) -> str:
    """A line in steps: ``values`` [-] between ``edges`` [m], ``top`` [-] at the band's top."""
    heights = [panel.foot - panel.height * value / top for value in values]
    start = f"M{figure(frame.x(edges[0]))} {figure(heights[0])}"
    return start + "".join(
        f"V{figure(height)}H{figure(frame.x(edges[at + 1]))}" for at, height in enumerate(heights)
    )


def _area(
    frame: Frame,
    panel: Panel,
    edges: Sequence[float],
    below: Sequence[float],
    above: Sequence[float],
    top: float,
) -> str:
    """Outline of one layer, in steps."""

    def y(value: float) -> float:
        return panel.foot - panel.height * value / top

    there = [f"H{figure(frame.x(edges[at + 1]))}V{figure(y(value))}" for at, value in _next(above)]
    back = [
        f"H{figure(frame.x(edges[at]))}V{figure(y(value))}"
        for at, value in reversed(list(_previous(below)))
    ]
    start = f"M{figure(frame.x(edges[0]))} {figure(y(above[0]))}"
    turn = f"H{figure(frame.x(edges[-1]))}V{figure(y(below[-1]))}"
    return start + "".join(there) + turn + "".join(back) + f"H{figure(frame.x(edges[0]))}Z"


def _next(values: Sequence[float]) -> list[tuple[int, float]]:
    """Where a line of steps changes, going right: step before the change, and the new value."""
    return [(at, values[at + 1]) for at in range(len(values) - 1) if values[at + 1] != values[at]]


def _previous(values: Sequence[float]) -> list[tuple[int, float]]:
    """Where a line of steps changes, going left: step behind the change, and the new value."""
    return [(at, values[at - 1]) for at in range(1, len(values)) if values[at - 1] != values[at]]


def key_lines(frame: Frame, names: Sequence[str]) -> list[list[tuple[int, str, float]]]:
    """The key of a stack in lines: number, name and place of each entry.

    Parameters
    ----------
    frame
        Where the axis lies.
    names
        Names of the layers.

    Returns
    -------
    list
        For each line its entries; the place is in user units [-].
    """
    lines: list[list[tuple[int, str, float]]] = [[]]
    x = frame.left
    for number, name in enumerate(names):
        room = 20 + text_width(name, SMALL) + 16
        if x + room > frame.right and lines[-1]:
            lines.append([])
            x = frame.left
        lines[-1].append((number, name, x))
        x += room
    return lines


def draw_keys(canvas: Canvas, frame: Frame, names: Sequence[str], y: float) -> None:
    """Draw the key of a stack, the base of its last line at ``y`` [-]."""
    lines = key_lines(frame, names)
    for count, line in enumerate(lines):
        base = y - KEY_LINE * (len(lines) - 1 - count)
        for number, name, x in line:
            canvas.rect(x, base - 10, 14, 11, fill=fill_of(canvas, number),
                        stroke=canvas.ink.ink, stroke_width="0.7")  # fmt: skip
            canvas.text(x + 19, base, name, size=SMALL)


def draw_tops(
    canvas: Canvas, frame: Frame, tops: Sequence[WornSection], y: float, foot: float
) -> None:
    """Number the most worn sections above the damage.

    Parameters
    ----------
    canvas, frame
        Where to draw.
    tops
        The sections.
    y
        Middle of the numbers [-].
    foot
        How far down the marks go [-].
    """
    taken: list[float] = []
    for number, one in enumerate(tops, 1):
        x, width = frame.span(one.section, 2.0)
        middle = x + width / 2
        while any(abs(middle - other) < 18 for other in taken):
            middle += 18
        taken.append(middle)
        words = f"{number}: worn by {one.words}"
        with canvas.mark("worn", words, one.section.from_m, one.section.to_m):
            canvas.rect(x, y + 10, width, foot - y - 10, fill="none", stroke=canvas.ink.grave,
                        stroke_dasharray="4 3")  # fmt: skip
            canvas.circle(middle, y, 8.5, fill=canvas.ink.grave)
            canvas.text(middle, y + 4, str(number), colour=canvas.ink.paper, bold=True,
                        anchor="middle")  # fmt: skip


def draw_drum(
    canvas: Canvas, frame: Frame, bands: Sequence[DrumBand], whole: Section, top: float
) -> None:
    """Draw which rope lies in which layer, and where it crosses and climbs.

    Parameters
    ----------
    canvas, frame
        Where to draw.
    bands
        Layers and zones.
    whole
        The rope that is there.
    top
        Where the band begins [-].
    """
    ink = canvas.ink
    y = top - 5 if frame.compact else top + 12
    canvas.text(10, y, "On the drum", bold=True)
    if not frame.compact:
        canvas.text(10, y + 15, "fine marks: crossovers", size=SMALL, colour=ink.soft)
        canvas.text(10, y + 29, "bars: layer changes", size=SMALL, colour=ink.soft)
    x, width = frame.span(whole)
    canvas.rect(x, top, width, DRUM_HEIGHT, fill=ink.paper, stroke=ink.hair)
    for band in bands:
        x, width = frame.span(band.section)
        title = f"{band.kind} {band.layer}" if band.kind == "layer" else _zone_words(band)
        with canvas.mark(band.kind.replace(" ", "-"), title, *_ends(band.section)):
            if band.kind == "layer":
                fill = ink.pale if band.layer % 2 else ink.paper
                canvas.rect(x, top, width, DRUM_HEIGHT, fill=fill, stroke=ink.line)
            elif band.kind == "crossover":
                canvas.rect(x, top + 20, max(width, 0.4), DRUM_HEIGHT - 20, fill=ink.line)
            elif band.kind == "layer change":
                canvas.rect(x, top, max(width, 3.0), DRUM_HEIGHT, fill=ink.ink)
    for band in bands:
        x, width = frame.span(band.section)
        words = f"layer {band.layer}"
        if band.kind == "layer" and text_width(words, SMALL) + 6 < width:
            canvas.text(x + width / 2, top + 14, words, size=SMALL, anchor="middle")
    if not bands:
        canvas.text(frame.left + 6, top + 21, "the drum is not known", size=SMALL, colour=ink.soft)


def _zone_words(band: DrumBand) -> str:
    if band.kind == "layer change":
        return f"the rope climbs from layer {band.layer} to {band.layer + 1}"
    return f"crossover in layer {band.layer}"


def _ends(section: Section) -> tuple[float, float]:
    return section.from_m, section.to_m


def draw_found(canvas: Canvas, frame: Frame, shown: WearFigure, top: float) -> None:
    """Draw what was looked at and what was found, broken wires with their number.

    Parameters
    ----------
    canvas, frame
        Where to draw.
    shown
        The figure.
    top
        Where the band begins [-].
    """
    ink = canvas.ink
    y = top + 8 if frame.compact else top + 12
    canvas.text(10, y, "Found", bold=True)
    if not frame.compact:
        canvas.text(10, y + 15, "on rope looked at", size=SMALL, colour=ink.soft)
    lane = top + FOUND_HEIGHT - 12
    x, width = frame.span(shown.whole)
    canvas.rect(x, lane, width, 9, fill=ink.paper, stroke=ink.hair)
    for section in shown.seen:
        x, width = frame.span(section, 1.0)
        with canvas.mark("seen", "looked at or felt", *_ends(section)):
            canvas.stripes(x, lane, width, 9, ink.cover)
    for group in _groups(frame, shown.found):
        first, last = group[0].section.from_m, max(one.section.to_m for one in group)
        x, width = frame.span(Section(first, last))
        x = min(max(x + width / 2, frame.left + 8), frame.right - 26)
        with canvas.mark("found", "; ".join(one.name for one in group), first, last):
            for row, (sign, count) in enumerate(_signs(group)):
                level = lane - 12 - row * 19
                draw_sign(canvas, sign, x, level, ink.ink)
                if count:
                    canvas.text(x + 10, level + 4, str(count), size=SMALL, bold=True)
    if not shown.found:
        canvas.text(frame.left + 6, lane - 10, "nothing on record", size=SMALL, colour=ink.soft)


def _groups(frame: Frame, found: Sequence[FoundAt]) -> list[list[FoundAt]]:
    """Findings in order of their places, those too near to be told apart together."""
    groups: list[list[FoundAt]] = []
    start = -1e9
    for one in sorted(found, key=lambda each: each.section.from_m):
        x = frame.x(one.section.from_m)
        if x - start < TOGETHER:
            groups[-1].append(one)
        else:
            groups.append([one])
            start = x
    return groups


def _signs(group: Sequence[FoundAt]) -> list[tuple[str, int]]:
    """One or two signs for a group: broken wires with their number, and whatever else."""
    breaks = sum(one.count or 0 for one in group)
    others = {one.sign for one in group if one.count is None}
    signs = [("broken wires", breaks)] if breaks else []
    if others:
        one = others.pop() if len(others) == 1 else "several"
        signs.append((one if one in SIGNS else "several", 0))
    return signs


def draw_axis(canvas: Canvas, frame: Frame, shown: WearFigure, y: float) -> float:
    """Draw the scale; give the height reached [-].

    Parameters
    ----------
    canvas, frame
        Where to draw.
    shown
        The figure.
    y
        The axis' place [-].
    """
    ink = canvas.ink
    canvas.line(frame.left, y, frame.right, y, ink.ink, stroke_width="1.5")
    for at, number in frame.scale(12):
        x = frame.x(at)
        canvas.line(x, y, x, y + 6, ink.ink)
        canvas.text(x, y + 19, f"{number:g}", size=SMALL, anchor="middle")
    left, right = ("drum clamp", "end A") if shown.turned else ("end A", "drum clamp")
    canvas.text(frame.left, y + 35, f"← {left}", size=SMALL, colour=ink.soft)
    canvas.text(frame.right, y + 35, f"{right} →", size=SMALL, colour=ink.soft, anchor="end")
    middle = (frame.left + frame.right) / 2
    words = f"{'feet' if frame.feet else 'metres'} of rope, from end A as first installed"
    below = y + (50 if frame.compact else 35)
    canvas.text(middle, below, words, size=SMALL, colour=ink.soft, anchor="middle")
    return below + 7
