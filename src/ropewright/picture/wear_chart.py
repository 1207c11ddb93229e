"""The wear figure: duty, bends, damage, drum and findings of one rope on one axis."""

from collections.abc import Sequence
from typing import Final

from ropewright.desk.cutting import Ahead, CutAdvice
from ropewright.desk.wear_figure import Layered, WearFigure, wear_figure
from ropewright.desk.wear_words import agreement_words, duty_words
from ropewright.desk.wearing import WearResult
from ropewright.inspection import Dossier
from ropewright.picture.canvas import BODY, SMALL, Canvas
from ropewright.picture.frame import Frame
from ropewright.picture.ink import ink_for
from ropewright.picture.lettering import folded
from ropewright.picture.wear_ahead import HEIGHT, draw_ahead
from ropewright.picture.wear_panels import (
    DRUM_HEIGHT,
    FOUND_HEIGHT,
    KEY_LINE,
    Panel,
    draw_axis,
    draw_drum,
    draw_found,
    draw_keys,
    draw_stack,
    draw_tops,
    key_lines,
)
from ropewright.rules import provenance_words
from ropewright.wear.top_sections import WornSection

WIDTH: Final = 1680
"""Wide enough that the figure fills a landscape sheet of A3."""
LABEL_ROOM: Final = 168.0
COMPACT_LABEL_ROOM: Final = 44.0
COMPACT_BELOW: Final = 700
THREE_COLUMNS_FROM: Final = 1200
STEPS_PER_UNIT: Final = 0.8


def wear_chart(
    dossier: Dossier,
    found: WearResult,
    advice: CutAdvice | None = None,
    *,
    width_px: int = WIDTH,
    print_grey: bool = False,
    feet: bool = False,
) -> str:
    """Draw the wear of one rope.

    Parameters
    ----------
    dossier
        The rope.
    found
        Its wear.
    advice
        Whether and where to cut, for a line below the figure.
    width_px
        Width in user units.
    print_grey
        Whether to draw in greys only.
    feet
        Whether the scale counts feet; figures inside words stay metric.

    Returns
    -------
    str
        The SVG; whatever has a place on the rope carries ``data-rope-m``.
    """
    width = max(width_px, 360)
    canvas = Canvas(
        width=width,
        ink=ink_for(print_grey=print_grey),
        name=f"{found.rope_id} wear {width} {print_grey}",
    )
    compact = width < COMPACT_BELOW
    left = COMPACT_LABEL_ROOM if compact else LABEL_ROOM
    whole = found.path.length_m
    step_m = max(0.25, round(whole / ((width - left) * STEPS_PER_UNIT), 2))
    shown = wear_figure(dossier, found, step_m)
    frame = Frame(left=left, right=width - 18.0, shown=shown.whole, compact=compact, feet=feet)
    y = _heading(canvas, dossier, found)
    y = _bands(canvas, frame, shown, found, advice, y)
    y = _below(canvas, frame, found, advice, y)
    title = f"Wear along rope {found.rope_id}, {dossier.crane.crane_id}, {found.on.isoformat()}"
    return canvas.finish(height=y + 8, title=title, desc=_description(dossier, found))


def _heading(canvas: Canvas, dossier: Dossier, found: WearResult) -> float:
    size = 20 if canvas.width >= COMPACT_BELOW else 16
    y = 8.0
    for line in folded(f"{found.rope_id}: where the rope is worn", size, canvas.width - 30.0):
        y += size + 2
        canvas.text(10, y, line, size=size, bold=True)
    origin = provenance_words(found.card.provenance)
    text = (
        f"Crane {dossier.crane.crane_id}, as on {found.on.isoformat()}. Bends {duty_words(found)}; "
        f"weighed by {found.card.title} (constants {origin}). Wear gives the "
        "shape, inspections give the scale."
    )
    if dossier.invented:
        y += 18
        canvas.text(10, y, "Invented data – demonstration", bold=True)
    y += 6
    for line in folded(text, BODY, canvas.width - 30.0):
        y += 16
        canvas.text(10, y, line, colour=canvas.ink.soft)
    return y + 22


def _bands(
    canvas: Canvas,
    frame: Frame,
    shown: WearFigure,
    found: WearResult,
    advice: CutAdvice | None,
    y: float,
) -> float:
    above = 20.0 if frame.compact else 0.0
    y += above
    duty = Panel(
        top=y, height=70, name="Duty", unit="pick-ups while on a sheave or at the drum", head=y - 8
    )
    pick_ups = Layered(name="pick-ups", values=shown.pick_ups)
    draw_stack(canvas, frame, duty, shown.edges_m, [pick_ups])
    names = [one.name for one in shown.bends]
    y = duty.foot + 30 + above + KEY_LINE * (len(key_lines(frame, names)) - 1)
    draw_keys(canvas, frame, names, y - 6)
    bends = Panel(top=y, height=150, name="Bends", unit="there and back is two",
                  head=duty.foot + 26)  # fmt: skip
    draw_stack(canvas, frame, bends, shown.edges_m, shown.bends)
    y = bends.foot + 52 + above
    draw_keys(canvas, frame, [one.name for one in shown.damage], bends.foot + 24 + above)
    damage = Panel(
        top=y, height=180, name="Damage", unit="full bends; the line: worst place",
        head=bends.foot + 25,
    )  # fmt: skip
    draw_stack(canvas, frame, damage, shown.damage_edges_m, shown.damage, worst=shown.worst)
    draw_tops(canvas, frame, found.top, y - 12, damage.foot)
    y = damage.foot
    if advice is not None and advice.ahead is not None:
        y = _look_ahead(canvas, frame, advice, advice.ahead, y)
    y += 14 + above / 2
    draw_drum(canvas, frame, shown.drum, shown.whole, y)
    y += DRUM_HEIGHT + 12
    draw_found(canvas, frame, shown, y)
    return draw_axis(canvas, frame, shown, y + FOUND_HEIGHT + 8)


def _look_ahead(canvas: Canvas, frame: Frame, advice: CutAdvice, ahead: Ahead, y: float) -> float:
    """The worst damage after the period, without and with the best way."""
    top = y + 30 + (20 + KEY_LINE if frame.compact else 0.0)
    panel = Panel(
        top=top, height=HEIGHT, name=f"In {advice.period_days:.0f} days",
        unit="worst place, full bends", head=y + 22,
    )  # fmt: skip
    draw_ahead(canvas, frame, panel, ahead, advice.options[0].words)
    return panel.foot


def _below(
    canvas: Canvas, frame: Frame, found: WearResult, advice: CutAdvice | None, y: float
) -> float:
    """The most worn sections in words, what it means and what it rests on, in columns if wide."""
    left = [(str(number), _worn_line(one)) for number, one in enumerate(found.top, 1)]
    right = [("Findings", agreement_words(found.agreement))]
    if advice is not None:
        right += [("Cut or turn", line) for line in _cut_lines(advice)]
        right += [("Caution", line) for line in advice.cautions]
    mind = [("Full bend", found.full_bend_words)]
    mind += [("Mind", note) for note in found.notes[1:]]
    y += 20
    if frame.compact:
        whole = canvas.width - 20.0
        y = _column(canvas, "Look here first", left, 10, whole, y)
        y = _column(canvas, "What it means", right, 10, whole, y + 24)
        return _column(canvas, "What it rests on", mind, 10, whole, y + 24)
    if canvas.width >= THREE_COLUMNS_FROM:
        third = (canvas.width - 76.0) / 3
        return max(
            _column(canvas, head, entries, 10 + number * (third + 24), third, y)
            for number, (head, entries) in enumerate(
                (("Look here first", left), ("What it means", right), ("What it rests on", mind))
            )
        )
    half = (canvas.width - 40.0) / 2
    one = _column(canvas, "Look here first", left, 10, half, y)
    one = _column(canvas, "What it rests on", mind, 10, half, one + 24)
    other = _column(canvas, "What it means", right, 30 + half, half, y)
    return max(one, other)


def _worn_line(one: WornSection) -> str:
    return (
        f"{one.section.from_m:.0f} to {one.section.to_m:.0f} m: worst metre {one.mean:,.0f}, worst "
        f"place {one.most:,.0f} full bends; worn by {one.words}"
    )


def _cut_lines(advice: CutAdvice) -> list[str]:
    lines = [advice.verdict_first] if advice.verdict_first else []
    if advice.options:
        best = advice.options[0]
        lines.append(
            f"{best.words}: gains {best.result.gained_days:.0f} days over {advice.period_days:.0f} "
            "of the same duty. A competent person decides; never to dodge a count of breaks."
        )
    else:
        lines.append(advice.nothing or advice.why_not)
    return lines


def _column(
    canvas: Canvas,
    head: str,
    entries: Sequence[tuple[str, str]],
    x: float,
    width: float,
    y: float,
) -> float:
    canvas.text(x, y, head, bold=True)
    before = ""
    for label, text in entries:
        numbered = label.isdigit()
        room = 26.0 if numbered else 82.0
        y += 6
        for count, line in enumerate(folded(text, SMALL, width - room)):
            y += 14
            if not count and numbered:
                canvas.circle(x + 8, y - 4, 8, fill=canvas.ink.grave)
                canvas.text(x + 8, y, label, size=SMALL, colour=canvas.ink.paper, bold=True,
                            anchor="middle")  # fmt: skip
            elif not count and label != before:
                canvas.text(x, y, label, size=SMALL, colour=canvas.ink.soft)
            canvas.text(x + room, y, line, size=SMALL)
        before = label
    return y


def _description(dossier: Dossier, found: WearResult) -> str:
    parts = [
        f"{number}: {one.section.from_m:.0f} to {one.section.to_m:.0f} m, worn by {one.words}."
        for number, one in enumerate(found.top, 1)
    ]
    if dossier.invented:
        parts.append("Invented data for demonstration.")
    return "Most worn sections, the worst first. " + " ".join(parts)
