"""Where it is: crane and drum below another picture, as far as the rope's path is known."""

from datetime import date

from ropewright.errors import InputError
from ropewright.inspection import Dossier, hoist_on
from ropewright.picture.canvas import Canvas
from ropewright.picture.drum_section import draw_drum
from ropewright.picture.elevation import draw_elevation


def draw_where(canvas: Canvas, dossier: Dossier, on: date, top: float) -> float:
    """Draw crane and drum into a canvas from ``top`` [-] on; give the height reached [-].

    Nothing is drawn where too little is known of the rigging.
    """
    try:
        rigged = hoist_on(dossier, on)
    except InputError:
        return top
    y = draw_elevation(canvas, dossier, on, position=None, plan=None, top=top + 8)
    if not rigged.asked_for_drum:
        y = draw_drum(canvas, dossier, on, position=None, top=y + 6)
    return y
