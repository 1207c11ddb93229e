"""The rope chart: the whole rope on one axis, with everything on it."""

import xml.etree.ElementTree as ET
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Final

from ropewright.inspection import Dossier
from ropewright.picture.bands import (
    BAND,
    coverage_lanes,
    draw_bands,
    exposure_lanes,
    worn_lanes,
)
from ropewright.picture.canvas import BODY, SMALL, Canvas
from ropewright.picture.flags import FlagLane, draw_flags
from ropewright.picture.frame import ROW, Frame, frame_for
from ropewright.picture.ink import ink_for
from ropewright.picture.items import (
    break_lane,
    broken_total,
    diameter_lane,
    mark_lane,
    other_lane,
    ruling_lane,
)
from ropewright.picture.lane import BandLane
from ropewright.picture.legend import draw_legend, legend_entries
from ropewright.picture.lettering import folded
from ropewright.picture.notes import draw_notes, notes_height, notes_under
from ropewright.picture.rope_bar import HEIGHT, axis_words, draw_rope, end_words
from ropewright.picture.scene import Scene, scene_of
from ropewright.picture.trouble_lane import LABEL, TroubleLane, draw_trouble, trouble_lane
from ropewright.picture.where_it_is import draw_where
from ropewright.picture.words import metres_words, section_words
from ropewright.plan import TroubleSpot
from ropewright.rules.ruling import Assessment
from ropewright.wear.top_sections import WornSection

#: Width of a chart in user units: about what a page of A4 carries at a readable size.
USUAL_WIDTH: Final = 720
LEAST_WIDTH: Final = 320
BETWEEN: Final = 5.0


@dataclass(slots=True)
class _Used:
    signs: set[str] = field(default_factory=set)
    fills: set[str] = field(default_factory=set)


def rope_chart(
    dossier: Dossier,
    assessment: Assessment,
    *,
    width_px: int = USUAL_WIDTH,
    print_grey: bool = False,
    headline: bool = True,
    crane: bool = False,
    worn: Sequence[WornSection] = (),
    feet: bool = False,
    trouble: Sequence[TroubleSpot] | str = (),
) -> str:
    """The whole rope with what was found, judged, seen and not seen, as SVG.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    assessment
        What the rules say of it on a date.
    width_px
        Width in user units; a narrow chart is drawn with fewer words, for a phone.
    print_grey
        Whether to draw in greys only.
    headline
        Whether rope, date and verdict stand over the picture.
    crane
        Whether crane and drum are drawn below, where the rope's path is known.
    worn
        The most worn sections by a duty log, the worst first, for a lane of their own.
    feet
        Whether the scale counts feet; figures inside words stay metric.
    trouble
        Where damage is to be expected, for a lane of its own; or in words what is missing to
        know it.

    Returns
    -------
    str
        The SVG; whatever has a place on the rope carries ``data-rope-m``.
    """
    scene = scene_of(dossier, assessment)
    width = max(LEAST_WIDTH, width_px)
    frame = frame_for(width=width, shown=scene.whole, feet=feet)
    name = f"{assessment.rope_id} chart {width} {print_grey}"
    canvas = Canvas(width=width, ink=ink_for(print_grey=print_grey), name=name)
    used = _Used()

    y = _headline(canvas, scene, frame) if headline else 2.0
    grid = canvas.slot("grid")
    top = y
    if not frame.compact:
        axis_words(canvas, frame, y)
    cut = draw_rope(canvas, frame, scene, y)
    y += HEIGHT + BETWEEN
    flags, bands = _lanes(scene, frame)
    bands += worn_lanes(worn)
    spots = trouble_lane(trouble, frame)
    for lane in flags:
        y = _flag_lane(canvas, frame, lane, y, used)
    for band in bands:
        y = _band_lane(canvas, frame, band, y, used)
    if spots is not None:
        y = _trouble_lane(canvas, frame, spots, y)
    _grid(canvas, frame, scene, grid, top + HEIGHT - 15, y - BETWEEN)
    whisker = any(item.err_m for lane in flags for item in lane.items)
    entries = legend_entries(used.signs, used.fills, whisker=whisker, cut=cut)
    y += draw_legend(canvas, frame, entries, y + 2) + 6
    if crane:
        y = draw_where(canvas, dossier, date.fromisoformat(assessment.as_of), y)
    return canvas.finish(height=y, title=scene.headline, desc=_description(scene))


def _lanes(scene: Scene, frame: Frame) -> tuple[list[FlagLane], list[BandLane]]:
    flags = [
        ruling_lane(scene, frame),
        break_lane(scene, frame),
        other_lane(scene, frame),
        diameter_lane(scene, frame),
        mark_lane(scene, frame),
    ]
    bands = [*coverage_lanes(scene), *exposure_lanes(scene)]
    return [lane for lane in flags if lane is not None], bands


def _headline(canvas: Canvas, scene: Scene, frame: Frame) -> float:
    """What rope, what date, what verdict; and that data are invented, where they are."""
    y = 17.0
    room = canvas.width - 20.0
    for line in folded(scene.headline, 14, room / 1.06):
        canvas.text(10, y, line, size=14, bold=True)
        y += 17
    if scene.dossier.invented:
        canvas.text(10, y, "Invented data – demonstration", bold=True)
        y += 16
    latest = scene.latest
    if latest is not None:
        words = f"Coverage: {latest.kind} inspection of {latest.on.isoformat()}"
        canvas.text(10, y, words, size=SMALL, colour=canvas.ink.soft)
        y += 15
    return y - 6 + (0 if frame.compact else 2)


def _label(canvas: Canvas, frame: Frame, words: str, y: float, height: float) -> float:
    """Write a lane's label: beside it, or over it where paper is narrow; room taken [-]."""
    if frame.compact:
        canvas.text(10, y + 11, words, size=BODY, bold=True)
        return 16.0
    canvas.text(10, y + height - min(4.0, height - 11), words, size=BODY, bold=True)
    return 0.0


def _flag_lane(canvas: Canvas, frame: Frame, lane: FlagLane, y: float, used: _Used) -> float:
    with canvas.group(f"lane {lane.key}"):
        y += _label(canvas, frame, lane.label, y, lane.height)
        used.signs |= draw_flags(canvas, frame, lane, y)
    return y + lane.height + BETWEEN


def _band_lane(canvas: Canvas, frame: Frame, lane: BandLane, y: float, used: _Used) -> float:
    with canvas.group(f"lane {lane.key}"):
        y += _label(canvas, frame, lane.label, y, BAND)
        used.fills |= draw_bands(canvas, frame, lane, y)
        notes = notes_under(lane, frame)
        draw_notes(canvas, notes, y + BAND)
    return y + BAND + notes_height(notes) + BETWEEN


def _trouble_lane(canvas: Canvas, frame: Frame, lane: TroubleLane, y: float) -> float:
    with canvas.group("lane trouble-spots"):
        y += _label(canvas, frame, LABEL, y, ROW)
        draw_trouble(canvas, frame, lane, y)
    return y + lane.height + BETWEEN


def _grid(
    canvas: Canvas, frame: Frame, scene: Scene, grid: ET.Element, top: float, bottom: float
) -> None:
    """Fine lines at the metres, and a pale band where the verdict is governed."""
    with canvas.inside(grid):
        for ruling in scene.governing:
            if ruling.section is None:
                continue
            start, width = frame.span(ruling.section.widened(ruling.section_err_m), 7.0)
            if width < (frame.right - frame.left) / 3:
                canvas.rect(start, top, width, bottom - top, fill=canvas.ink.pale)
        for place, _ in frame.scale(5 if frame.compact else 10):
            canvas.line(frame.x(place), top, frame.x(place), bottom, canvas.ink.hair)


def _description(scene: Scene) -> str:
    left, right = end_words(scene)
    parts = [
        f"The rope from {left} to {right}, {section_words(scene.service)} of rope position.",
        f"{len(scene.found)} findings that count, {broken_total(scene)} among them.",
    ]
    for ruling in scene.governing[:3]:
        place = f" {section_words(ruling.section)}" if ruling.section else ""
        parts.append(f"Governing: {ruling.citation}{place}: {ruling.words}.")
    unseen = sum(section.length_m for section in scene.unseen)
    parts.append(f"Not seen and not felt: {metres_words(unseen)} m.")
    if scene.dossier.invented:
        parts.append("Invented data for demonstration.")
    return " ".join(parts)
