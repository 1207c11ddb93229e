"""Lanes made of sections: what was seen, felt, gauged, hidden, not seen, and what rope meets."""

from collections.abc import Callable, Mapping, Sequence
from typing import Final

from ropewright.geometry import ExposedSection, Exposure, Section
from ropewright.inspection import exposures_on
from ropewright.picture.ages import age_lanes
from ropewright.picture.canvas import SMALL, Canvas
from ropewright.picture.frame import Frame
from ropewright.picture.lane import Band, BandLane
from ropewright.picture.lettering import text_width
from ropewright.picture.scene import Scene
from ropewright.picture.words import section_words
from ropewright.wear.top_sections import WornSection

BAND: Final = 14.0
PLAN_BAND: Final = 16.0

#: How the lines are dashed that show what the rope meets on drum and sheaves.
MET_DASHES: Final = {
    "drum-single": "none",
    "drum-multi": "none",
    "sheave-steel": "none",
    "sheave-plastic": "2 3",
    "drum-unknown": "5 3",
    "sheave-unknown": "5 3",
}


def coverage_lanes(scene: Scene) -> list[BandLane]:
    """Seen, felt, gauged and so on; hidden; not seen."""
    latest = scene.latest
    lanes: list[BandLane] = []
    if latest is not None:
        lanes += age_lanes(scene, latest)
        hidden = tuple(
            Band(
                section=one.section,
                fill="hatch",
                kind="hidden",
                words=one.cause,
                title=f"hidden: {one.cause}, {section_words(one.section)}",
            )
            for one in latest.hidden
        )
        if hidden:
            lanes.append(BandLane(key="hidden", label="Hidden", bands=hidden))
    lanes.append(_unseen_lane(scene))
    return lanes


def _unseen_lane(scene: Scene) -> BandLane:
    accepted = scene.latest.accepted if scene.latest else ()
    bands = []
    for section in scene.unseen:
        notes = [
            f"; accepted by {one.by} until {one.until.isoformat()}"
            for one in accepted
            if one.section.overlaps(section)
        ]
        bands.append(
            Band(
                section=section,
                fill="cross",
                kind="unseen",
                words="not seen",
                title=f"not seen and not felt: {section_words(section)}{''.join(notes)}",
            )
        )
    remark = "" if bands else "none: an eye or a hand was over all of it"
    return BandLane(key="unseen", label="Not seen", bands=tuple(bands), remark=remark)


_FILLS: Final = {"drum": "drum", "sheaves": "sheave"}
_DRUM_WORDS: Final[Mapping[str, str]] = {
    "none": "not on the drum",
    "single": "single layer",
    "multi": "several layers",
    "unknown": "not known",
}
_SHEAVE_WORDS: Final[Mapping[str, str]] = {
    "none": "no sheave",
    "steel": "steel",
    "plastic": "plastic",
    "unknown": "material not known",
}


def exposure_lanes(scene: Scene) -> list[BandLane]:
    """What the rope meets on drum and sheaves, where that is stated section by section."""
    exposed = exposures_on(scene.dossier, scene.as_of).stated
    if not exposed:
        return []
    crossovers = [
        Band(section=item.section, fill="crossover", kind="crossover",
             title=f"crossover or flange zone: {section_words(item.section)}")
        for item in exposed
        if item.exposure.crossover
    ]  # fmt: skip
    drum = _met_bands(exposed, "drum", _DRUM_WORDS, lambda met: met.drum)
    sheaves = _met_bands(exposed, "sheaves", _SHEAVE_WORDS, lambda met: met.sheaves)
    return [
        BandLane(key="drum", label="Drum", bands=(*drum, *crossovers)),
        BandLane(key="sheaves", label="Sheaves", bands=tuple(sheaves)),
    ]


def _met_bands(
    exposed: Sequence[ExposedSection],
    kind: str,
    names: Mapping[str, str],
    of: Callable[[Exposure], str],
) -> list[Band]:
    """One band for each length of rope that meets the same; neighbours alike are one."""
    alike: list[tuple[Section, str, bool]] = []
    for item in sorted(exposed, key=lambda one: one.section):
        section, what = item.section, of(item.exposure)
        at_end = item.exposure.near_end is True
        if alike and alike[-1][1:] == (what, at_end) and alike[-1][0].to_m == section.from_m:
            section = Section(alike.pop()[0].from_m, section.to_m)
        alike.append((section, what, at_end))
    return [
        Band(
            section=section,
            fill=f"{_FILLS[kind]}-{what}",
            kind=kind,
            words=names[what],
            title=f"{kind}: {names[what]}, {section_words(section)}"
            f"{'; near an end' if at_end else ''}",
        )
        for section, what, at_end in alike
    ]


def worn_lanes(worn: Sequence[WornSection]) -> list[BandLane]:
    """The most worn sections by a duty log, numbered from the worst; no lane without them."""
    bands = tuple(
        Band(
            section=one.section,
            fill="worn",
            kind="worn",
            words=str(number),
            title=f"{number}: worn by {one.words}; {section_words(one.section)}",
        )
        for number, one in enumerate(worn, 1)
    )
    return [BandLane(key="worn", label="Most worn", bands=bands)] if bands else []


def draw_bands(canvas: Canvas, frame: Frame, lane: BandLane, y: float) -> set[str]:
    """Draw a lane whose top is at ``y`` [-]; the fills that were used come back."""
    ink = canvas.ink
    middle = y + BAND / 2
    canvas.line(frame.left, middle, frame.right, middle, ink.hair)
    spans = []
    for band in lane.bands:
        start, width = frame.span(band.section, 9.0 if band.kind == "crossover" else 3.0)
        spans.append((start, start + width))
        with canvas.mark(band.kind, band.title, band.section.from_m, band.section.to_m):
            _fill(canvas, band.fill, start, y, width)
    _name_bands(canvas, frame, lane, spans, y)
    if lane.remark:
        canvas.rect(frame.left, y, text_width(lane.remark, SMALL) + 6, BAND, fill=ink.paper)
        canvas.text(frame.left, y + 11, lane.remark, size=SMALL, colour=ink.soft)
    return {band.fill for band in lane.bands}


Span = tuple[float, float]


def _name_bands(
    canvas: Canvas, frame: Frame, lane: BandLane, spans: Sequence[Span], y: float
) -> None:
    """Write the words of each band inside it, else beside it, where they are in nobody's way."""
    zipped = list(zip(lane.bands, spans, strict=True))
    taken: list[Span] = [span for band, span in zipped if band.kind == "crossover"]
    for band, (start, end) in zipped:
        if not band.words:
            continue
        said = next(
            (
                (words, inside)
                for words in dict.fromkeys((band.words, band.short))
                if words and (inside := _inside(words, (start, end), taken)) is not None
            ),
            None,
        )
        if said is not None:
            taken.append(said[1])
            _chip(canvas, said[0], said[1], y)
            continue
        room = text_width(band.words, SMALL) + 8
        if band.kind not in ("hidden", "unseen", "worn"):
            continue
        for beside in ((end + 1, end + 1 + room), (start - 1 - room, start - 1)):
            on_paper = beside[0] >= frame.left and beside[1] <= frame.right
            if on_paper and _free(beside, [*taken, *spans]):
                taken.append(beside)
                _chip(canvas, band.words, beside, y)
                break


def _inside(words: str, band: Span, taken: Sequence[Span]) -> Span | None:
    """Where words stand inside a band: in its middle, else left or right of that."""
    start, end = band
    room = text_width(words, SMALL) + 8
    for part in (0.5, 0.25, 0.75):
        middle = start + (end - start) * part
        span = (middle - room / 2, middle + room / 2)
        if start + 4 <= span[0] and span[1] <= end - 4 and _free(span, taken):
            return span
    return None


def _free(span: Span, others: Sequence[Span]) -> bool:
    return all(span[0] >= end or span[1] <= start for start, end in others)


def _chip(canvas: Canvas, words: str, span: Span, y: float) -> None:
    width = span[1] - span[0]
    canvas.rect(span[0], y + 0.5, width, BAND - 1, rx="2", fill=canvas.ink.paper)
    canvas.text(span[0] + width / 2, y + 11, words, size=SMALL, anchor="middle")


def _fill(canvas: Canvas, fill: str, x: float, y: float, w: float) -> None:
    ink = canvas.ink
    if fill == "dense":
        canvas.stripes(x, y, w, BAND, ink.cover)
    elif fill in ("sparse", "hatch", "cross"):
        colour = ink.cover if fill == "sparse" else ink.ink
        canvas.rect(x, y, w, BAND, fill=ink.paper)
        canvas.rect(
            x, y, w, BAND, fill=canvas.pattern(fill), stroke=colour,
            stroke_width="2" if fill == "cross" else "1",
        )  # fmt: skip
    elif fill == "past":
        canvas.rect(x, y, w, BAND, fill=ink.paper, stroke=ink.cover, stroke_dasharray="2 2")
        middle = y + BAND / 2
        canvas.line(x, middle, x + w, middle, ink.cover, stroke_width="1.5", stroke_dasharray="5 4")
    elif fill == "worn":
        canvas.rect(x, y, w, BAND, fill=ink.line, stroke=ink.ink)
    elif fill == "crossover":
        canvas.path(f"M{x:.2f} {y}V{y + BAND}M{x + w:.2f} {y}V{y + BAND}", stroke=ink.ink)
        canvas.path(
            f"M{x:.2f} {y}L{x + w:.2f} {y + BAND}M{x:.2f} {y + BAND}L{x + w:.2f} {y}",
            stroke=ink.ink, stroke_width="1.5",
        )  # fmt: skip
    else:
        draw_met(canvas, fill, x, y, w)
        canvas.path(f"M{x:.2f} {y}V{y + BAND}M{x + w:.2f} {y}V{y + BAND}", stroke=ink.line)


def draw_met(canvas: Canvas, fill: str, x: float, y: float, w: float) -> None:
    """What the rope meets, as lines: one for each layer, dots for plastic, dashes for unknown.

    ``x`` [-], ``y`` [-] is the corner and ``w`` [-] the width.
    """
    ink = canvas.ink
    offsets: Sequence[float] = {"drum-multi": (3.0, 7.0, 11.0), "drum-none": ()}.get(fill, (7.0,))
    for offset in offsets if fill != "sheave-none" else ():
        canvas.line(
            x, y + offset, x + w, y + offset, ink.ink,
            stroke_width="2", stroke_dasharray=MET_DASHES.get(fill, "none"),
        )  # fmt: skip
