"""The band of the wear figure that looks ahead: the worst damage with and without the best way."""

from typing import Final

from ropewright.desk.cutting import Ahead
from ropewright.picture.canvas import SMALL, Canvas
from ropewright.picture.frame import Frame
from ropewright.picture.lettering import shortened, text_width
from ropewright.picture.wear_panels import KEY_LINE, Panel, draw_head, steps_line

HEIGHT: Final = 100.0
DASHES: Final = "6 4"


def draw_ahead(canvas: Canvas, frame: Frame, panel: Panel, ahead: Ahead, best: str) -> None:
    """Draw the worst damage after the period: a thin line without, a dashed one with the best way.

    Parameters
    ----------
    canvas, frame, panel
        Where to draw.
    ahead
        What to draw.
    best
        The best way in words, for the key.
    """
    top = draw_head(canvas, frame, panel, max((*ahead.without, *ahead.with_best), default=0.0))
    lines = (
        ("if nothing is done", ahead.without, canvas.ink.ink, "none"),
        (best, ahead.with_best, canvas.ink.grave, DASHES),
    )
    for words, values, colour, dashes in lines:
        with canvas.mark("ahead", words, ahead.edges_m[0], ahead.edges_m[-1]):
            canvas.path(
                steps_line(frame, panel, ahead.edges_m, values, top),
                fill="none", stroke=colour, stroke_width="1.6", stroke_dasharray=dashes,
            )  # fmt: skip
    x, y = frame.left, panel.top - 6
    for words, _, colour, dashes in lines:
        if frame.compact and x > frame.left:
            x, y = frame.left, y - KEY_LINE
        canvas.line(x, y - 4, x + 22, y - 4, colour, stroke_width="1.6", stroke_dasharray=dashes)
        shown = shortened(words, SMALL, frame.right - x - 28)
        canvas.text(x + 28, y, shown, size=SMALL)
        x += 44 + text_width(shown, SMALL)
