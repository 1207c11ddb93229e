"""The picture of a plan: the crane with its places to stand, and the drum if it is known."""

from typing import Final

from ropewright.inspection import Dossier, hoist_on
from ropewright.picture.canvas import Canvas
from ropewright.picture.drum_section import draw_drum
from ropewright.picture.elevation import draw_elevation
from ropewright.picture.ink import ink_for
from ropewright.plan import InspectionPlan

WIDTH: Final = 720


def plan_picture(
    dossier: Dossier, plan: InspectionPlan, *, width_px: int = WIDTH, print_grey: bool = False
) -> str:
    """Crane and drum of a plan as one SVG.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    plan
        The plan whose places and directions are drawn.
    width_px
        Width in user units.
    print_grey
        Whether to draw in greys only.
    """
    canvas = Canvas(
        width=max(width_px, 320),
        ink=ink_for(print_grey=print_grey),
        name=f"{plan.rope_id} plan {width_px} {print_grey}",
    )
    y = draw_elevation(canvas, dossier, plan.on, position=None, plan=plan, top=0.0)
    if not hoist_on(dossier, plan.on).asked_for_drum:
        y = draw_drum(canvas, dossier, plan.on, position=None, top=y + 6)
    title = f"Plan of an inspection: rope {plan.rope_id} on {plan.on.isoformat()}"
    return canvas.finish(height=y, title=title, desc=_description(plan))


def _description(plan: InspectionPlan) -> str:
    parts = []
    for one in plan.passes:
        sections = ", ".join(
            f"{part.from_m:.1f} to {part.to_m:.1f} m" for part in one.view.sections
        )
        parts.append(f"{one.method}, {one.view.place}, {one.view.travel}: {sections}.")
        if one.method == "feel" and one.view.direction is not None:
            parts.append(f"{one.view.direction.words}.")
    if plan.invented:
        parts.append("Invented data for demonstration.")
    return " ".join(parts)
