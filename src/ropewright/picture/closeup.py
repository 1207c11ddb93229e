"""One cluster of broken wires close up: offsets, strands, and the windows laid over it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from ropewright.errors import UnknownNameError
from ropewright.geometry import Section
from ropewright.inspection import BreakGroup, BrokenWires, Dossier
from ropewright.picture.canvas import BODY, SMALL, Canvas
from ropewright.picture.chart import LEAST_WIDTH, USUAL_WIDTH
from ropewright.picture.frame import Frame, frame_for, ticks
from ropewright.picture.ink import ink_for
from ropewright.picture.lettering import folded, shortened, text_width
from ropewright.picture.scene import Scene, by_weight, scene_of
from ropewright.picture.words import (
    metres_words,
    place_words,
    ruling_title,
    short_number,
    wires,
)
from ropewright.rules.ruling import Assessment, Ruling

LANE: Final = 20.0
LINE: Final = 15.0
_STATUS: Final = {
    "reached": "reached",
    "below": "not reached",
    "not assessable": "cannot be judged",
}
_SITES: Final = {
    "crown": "crown break",
    "valley": "valley break",
    "end": "break at an end",
    "unknown": "site not noted",
}
MOST_WINDOWS: Final = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Window:
    """A counting window with all rulings made in it."""

    words: str
    section: Section
    rulings: tuple[Ruling, ...]
    governs: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Break:
    """One group of breaks of a cluster, in rope position."""

    cluster: BrokenWires
    group: BreakGroup

    @property
    def section(self) -> Section:
        base = self.cluster.place.at_m
        return Section(
            base + float(self.group.from_mm) / 1000, base + float(self.group.to_mm) / 1000
        )


def close_up(
    dossier: Dossier,
    assessment: Assessment,
    finding_id: str,
    *,
    width_px: int = USUAL_WIDTH,
    print_grey: bool = False,
    headline: bool = True,
) -> str:
    """One cluster enlarged, with the counting windows that were laid over it, as SVG.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    assessment
        What the rules say of it on a date.
    finding_id
        The cluster of broken wires.
    width_px
        Width in user units.
    print_grey
        Whether to draw in greys only.
    headline
        Whether id, count and place stand over the picture.

    Returns
    -------
    str
        The SVG; every break carries ``data-rope-m``.

    Raises
    ------
    UnknownNameError
        If no cluster of broken wires that counts on that date has this id.
    """
    scene = scene_of(dossier, assessment)
    clusters = [one for one, _ in scene.found if isinstance(one, BrokenWires)]
    cluster = next((one for one in clusters if one.finding_id == finding_id), None)
    if cluster is None:
        raise UnknownNameError(
            what="a cluster of broken wires",
            given=finding_id,
            known=[one.finding_id for one in clusters],
            field="finding",
        )
    windows = _windows(scene, cluster)
    shown = _shown(cluster, windows)
    breaks = [
        _Break(cluster=one, group=group)
        for one in sorted(clusters, key=lambda one: one is not cluster)
        if one is cluster or one.section.overlaps(shown)
        for group in one.groups
    ]
    breaks = [one for one in breaks if shown.contains(one.section)]
    width = max(LEAST_WIDTH, width_px)
    name = f"{assessment.rope_id} {finding_id} {width} {print_grey}"
    canvas = Canvas(width=width, ink=ink_for(print_grey=print_grey), name=name)
    frame = frame_for(width=width, shown=shown)
    y = _headline(canvas, scene, cluster, frame) if headline else 2.0
    shades = canvas.slot("shades")
    top = y
    y = _strands(canvas, frame, cluster, breaks, y)
    _scale(canvas, frame, cluster, y)
    y += 24
    bottom = y - 22
    low = y if frame.compact else _legend(canvas, breaks, y - 2, frame.left)
    for window in windows:
        y = _window(canvas, frame, window, y)
    with canvas.inside(shades):
        for at, window in enumerate(windows):
            _shade(canvas, frame, window, top, bottom, filled=at == 0 and window.governs)
    y = _legend(canvas, breaks, y + 4, width) if frame.compact else max(y + 4, low)
    return canvas.finish(
        height=y, title=_title(cluster), desc=_description(cluster, windows, breaks)
    )


def _windows(scene: Scene, cluster: BrokenWires) -> list[_Window]:
    first = {ruling.ruling_id for ruling in scene.governing}
    found: dict[tuple[str, int], list[Ruling]] = {}
    for ruling in by_weight(scene.assessment.rulings, scene.governing):
        if ruling.window and ruling.section and _is_near(cluster, ruling):
            place = (ruling.window, round(ruling.section.from_m * 1000))
            found.setdefault(place, []).append(ruling)
    windows = [
        _Window(
            words=words,
            section=rulings[0].section or cluster.section,
            rulings=tuple(rulings),
            governs=any(one.ruling_id in first for one in rulings),
        )
        for (words, _), rulings in found.items()
    ]
    governing = sum(one.governs for one in windows)
    return windows[: max(governing, MOST_WINDOWS)][: 2 * MOST_WINDOWS]


def _is_near(cluster: BrokenWires, ruling: Ruling) -> bool:
    """Whether a ruling counted this cluster in a window that touches it."""
    section = ruling.section
    if section is None or cluster.finding_id not in ruling.finding_ids:
        return False
    return cluster.section.widened(0.001).overlaps(section)


def _shown(cluster: BrokenWires, windows: Sequence[_Window]) -> Section:
    sections = [cluster.section, *(one.section for one in windows)]
    start = min(one.from_m for one in sections)
    end = max(one.to_m for one in sections)
    edge = max(0.02, (end - start) * 0.03)
    return Section(start - edge, end + edge)


def _title(cluster: BrokenWires) -> str:
    return f"{cluster.finding_id} close up: {wires(cluster.count)} at {place_words(cluster.place)}"


def _headline(canvas: Canvas, scene: Scene, cluster: BrokenWires, frame: Frame) -> float:
    y = 17.0
    for line in folded(_title(cluster), 14, (canvas.width - 20) / 1.06):
        canvas.text(10, y, line, size=14, bold=True)
        y += 17
    end = "A" if scene.turned else "B"
    words = f"offsets in mm from the first break; toward end {end} to the right"
    for line in folded(words, SMALL, canvas.width - 20.0):
        canvas.text(10, y, line, size=SMALL, colour=canvas.ink.soft)
        y += 15
    return y - 4 + (0 if frame.compact else 2)


def _strands(
    canvas: Canvas, frame: Frame, cluster: BrokenWires, breaks: Sequence[_Break], y: float
) -> float:
    """One lane for each strand with breaks; those whose strand was not noted come last."""
    strands: list[int | None] = []
    strands.extend(sorted({one.group.strand for one in breaks if one.group.strand}))
    if any(one.group.strand is None for one in breaks):
        strands.append(None)
    for strand in strands:
        label = "strand not noted" if strand is None else f"strand {strand}"
        if frame.compact:
            canvas.rect(9, y + 1, text_width(label, SMALL) + 2, 12, fill=canvas.ink.paper)
            canvas.text(10, y + 11, label, size=SMALL)
            y += 13
        else:
            canvas.text(10, y + LANE / 2 + 4, label, size=BODY)
        middle = y + LANE / 2
        canvas.line(frame.left, middle, frame.right, middle, canvas.ink.rope, stroke_width="5")
        own_lane = [one for one in breaks if one.group.strand == strand]
        starts = sorted(frame.x(one.section.from_m) for one in own_lane)
        for one in own_lane:
            room = min((x for x in starts if x > frame.x(one.section.to_m) + 1),
                       default=frame.right) - frame.x(one.section.to_m)  # fmt: skip
            _break(canvas, frame, one, middle, own=one.cluster is cluster, room=room)
        y += LANE
    return y


def _break(canvas: Canvas, frame: Frame, one: _Break, y: float, *, own: bool, room: float) -> None:
    group = one.group
    base = one.cluster
    low, high = short_number(group.from_mm), short_number(group.to_mm)
    where = f"{low} mm" if low == high else f"{low} mm to {high} mm"
    err = f" ± {short_number(base.offset_err_mm)} mm" if base.offset_err_mm else ""
    title = f"{base.finding_id}: {wires(group.count)}, {_SITES[group.site]}, at {where}{err}"
    colour = canvas.ink.ink if own else canvas.ink.soft
    section = one.section
    start, width = frame.span(section)
    with canvas.mark(f"break {group.site}", title, section.from_m, section.to_m):
        if base.offset_err_mm:
            reach = section.widened(float(base.offset_err_mm) / 1000)
            left, length = frame.span(reach)
            canvas.path(f"M{left:.2f} {y + 8}h{length:.2f}", stroke=colour)
        if width >= 3:
            canvas.rect(start, y - 7, width, 14, fill=canvas.ink.paper, stroke=colour,
                        stroke_dasharray="2 2")  # fmt: skip
        _site(canvas, group.site, start + width / 2, y, colour)
        if group.count > 1:
            edge = max(start + width, start + width / 2 + 6)
            words = f"×{group.count}"
            taken = text_width(words, SMALL, bold=True) + 2
            if edge + taken + 4 <= start + width + room:
                canvas.rect(edge + 1, y - 8, taken, 15, fill=canvas.ink.paper)
                canvas.text(edge + 2, y + 4, words, size=SMALL, bold=True, colour=colour)


def _site(canvas: Canvas, site: str, x: float, y: float, colour: str) -> None:
    """Crown: a gap in the wire; valley: a V; at an end: a bracket; not noted: a ring."""
    strokes = {
        "crown": f"M{x:.2f} {y - 8}v6m0 4v6M{x - 3:.2f} {y - 2}h6m-6 4h6",
        "valley": f"M{x - 5:.2f} {y - 7}l5 13l5 -13",
        "end": f"M{x + 4:.2f} {y - 7}h-7v14h7",
    }
    if site in strokes:
        canvas.path(strokes[site], fill="none", stroke=colour, stroke_width="1.8")
    else:
        canvas.circle(x, y, 4.5, fill=canvas.ink.paper, stroke=colour, stroke_width="1.8")


def _scale(canvas: Canvas, frame: Frame, cluster: BrokenWires, y: float) -> None:
    """Offsets in millimetres under the strands."""
    ink = canvas.ink
    base = cluster.place.at_m
    offsets = Section((frame.shown.from_m - base) * 1000, (frame.shown.to_m - base) * 1000)
    canvas.line(frame.left, y + 2, frame.right, y + 2, ink.line)
    for offset in ticks(offsets, 6 if frame.compact else 12):
        x = frame.x(base + offset / 1000)
        canvas.line(x, y + 2, x, y + 6, ink.line)
        words = f"{offset:.0f}" if abs(offset) > 0.5 else "0"
        room = text_width(words, SMALL) / 2
        if frame.left + room <= x <= frame.right - room:
            canvas.text(x, y + 17, words, size=SMALL, colour=ink.soft, anchor="middle")
    if not frame.compact:
        canvas.text(10, y + 17, "offset [mm]", size=SMALL, colour=ink.soft)


def _window(canvas: Canvas, frame: Frame, window: _Window, y: float) -> float:
    """A bracket as long as the window, with what was counted in it."""
    ink = canvas.ink
    colour = ink.grave if window.governs else ink.ink
    start, width = frame.span(window.section)
    title = "; ".join(ruling_title(one) for one in window.rulings)
    with canvas.mark("window", title, window.section.from_m, window.section.to_m):
        canvas.path(
            f"M{start:.2f} {y}v7h{width:.2f}v-7", fill="none", stroke=colour,
            stroke_width="2.4" if window.governs else "1.4",
        )  # fmt: skip
        y = _window_words(canvas, frame, window, start, y + 19)
    return y + 8


def _window_words(canvas: Canvas, frame: Frame, window: _Window, start: float, y: float) -> float:
    """The window's length and count, and each rule's limit with what became of it."""
    colour = canvas.ink.grave if window.governs else canvas.ink.ink
    first = window.rulings[0]
    length = f" = {short_number(first.window_mm)} mm" if first.window_mm else ""
    head = f"{window.words}{length}: {_counted(first)}"
    alone = all(_counted(one) == _counted(first) for one in window.rulings)
    room = frame.right - frame.left
    lines = [(shortened(head, BODY, room / 1.06), BODY)]
    for limit in (_limit_words(one, alone=alone) for one in window.rulings):
        longer = f"{lines[-1][0]} · {limit}"
        if len(lines) > 1 and text_width(longer, SMALL) <= room:
            lines[-1] = (longer, SMALL)
        else:
            lines.append((shortened(limit, SMALL, room), SMALL))
    taken = max(text_width(line, size, bold=size == BODY) for line, size in lines)
    x = min(max(frame.left, start), frame.right - taken)
    for line, size in lines:
        bold = size == BODY and window.governs
        canvas.text(x, y, line, size=size, bold=bold, colour=colour)
        y += LINE
    return y - LINE


def _counted(ruling: Ruling) -> str:
    found = ruling.found
    if found is None:
        return "not counted"
    if found.is_exact:
        return f"{short_number(found.upper)} {found.unit}"
    return f"{short_number(found.lower)} to {short_number(found.upper)} {found.unit}"


def _limit_words(ruling: Ruling, *, alone: bool) -> str:
    status = _STATUS.get(ruling.status, ruling.status)
    count = "" if alone else f"{_counted(ruling)}, "
    if ruling.limit is None:
        return f"{ruling.rule_title}: {count}{status}"
    more = "more than " if ruling.compare == "more than" else ""
    return f"{ruling.rule_title}: {count}limit {more}{short_number(ruling.limit)} {status}"


def _shade(
    canvas: Canvas, frame: Frame, window: _Window, top: float, bottom: float, *, filled: bool
) -> None:
    ink = canvas.ink
    start, width = frame.span(window.section)
    if filled:
        canvas.rect(start, top, width, bottom - top, fill=ink.pale)
    dash = "none" if filled else "4 3"
    canvas.path(
        f"M{start:.2f} {top}V{bottom:.2f}M{start + width:.2f} {top}V{bottom:.2f}",
        stroke=ink.line, stroke_dasharray=dash,
    )  # fmt: skip


def _legend(canvas: Canvas, breaks: Sequence[_Break], y: float, right: float) -> float:
    """What the marks mean, from ``y`` on, left of ``right``; where it ends comes back."""
    x = 10.0
    for site in (site for site in _SITES if any(one.group.site == site for one in breaks)):
        room = 20 + text_width(_SITES[site], SMALL) + 14
        if x > 10 and x + room > right - 10:
            x, y = 10.0, y + 18
        _site(canvas, site, x + 7, y + 8, canvas.ink.ink)
        for at, line in enumerate(folded(_SITES[site], SMALL, right - 32)):
            canvas.text(x + 20, y + 12 + 13 * at, line, size=SMALL)
            if at:
                y += 13
        x += room
    return y + 22


def _description(cluster: BrokenWires, windows: Sequence[_Window], breaks: Sequence[_Break]) -> str:
    own = [one.group for one in breaks if one.cluster is cluster]
    parts = [f"{_title(cluster)}."]
    for group in own[:20]:
        strand = "strand not noted" if group.strand is None else f"strand {group.strand}"
        parts.append(f"{wires(group.count)} at {short_number(group.from_mm)} mm, {strand}.")
    for window in windows:
        parts.extend(f"{one.citation}: {one.words}." for one in window.rulings)
    if cluster.ends_broken_off:
        parts.append("Protruding ends were broken off.")
    parts.append(f"Place of the first break: {metres_words(cluster.place.at_m)} m.")
    return " ".join(parts)
