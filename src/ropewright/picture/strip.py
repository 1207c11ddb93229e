"""A strip of the rope: where the verdict is governed, and what was not seen."""

from ropewright.inspection import Dossier
from ropewright.picture.bands import draw_bands
from ropewright.picture.canvas import Canvas
from ropewright.picture.chart import LEAST_WIDTH, USUAL_WIDTH
from ropewright.picture.flags import Item, draw_flags, lay_out
from ropewright.picture.frame import MARGIN, Frame
from ropewright.picture.ink import ink_for
from ropewright.picture.lane import Band, BandLane
from ropewright.picture.rope_bar import HEIGHT, draw_rope
from ropewright.picture.scene import Scene, scene_of
from ropewright.picture.words import error_words, ruling_title, section_words
from ropewright.rules.ruling import Assessment


def rope_strip(
    dossier: Dossier,
    assessment: Assessment,
    *,
    width_px: int = USUAL_WIDTH,
    print_grey: bool = False,
) -> str:
    """The rope in one strip, with the places that govern and the sections not seen, as SVG.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    assessment
        What the rules say of it on a date.
    width_px
        Width in user units.
    print_grey
        Whether to draw in greys only.

    Returns
    -------
    str
        The SVG; whatever has a place on the rope carries ``data-rope-m``.
    """
    scene = scene_of(dossier, assessment)
    width = max(LEAST_WIDTH, width_px)
    name = f"{assessment.rope_id} strip {width} {print_grey}"
    canvas = Canvas(width=width, ink=ink_for(print_grey=print_grey), name=name)
    frame = Frame(left=MARGIN, right=width - MARGIN, shown=scene.whole, compact=True)
    places = _places(scene)
    lane = lay_out("rulings", "Governs at", places, frame, least_nearness=14.0,
                   together=lambda group: group[0].words)  # fmt: skip
    y = 2.0
    if places and lane is not None:
        draw_flags(canvas, frame, lane, y)
        y += lane.height
    draw_rope(canvas, frame, scene, y)
    y += HEIGHT
    bands = _not_seen(scene)
    if bands:
        draw_bands(canvas, frame, BandLane(key="unseen", label="", bands=bands), y + 2)
        y += 18
    where = "; ".join(item.title for item in places) or "no ruling governs at one place"
    unseen = "; ".join(band.title for band in bands) or "nothing stayed unseen"
    return canvas.finish(
        height=y + 2, title=f"Where on the rope: {scene.headline}", desc=f"{where}. {unseen}."
    )


def _places(scene: Scene) -> list[Item]:
    items = []
    for ruling in scene.governing:
        if ruling.section is None:
            continue
        items.append(
            Item(
                sign="governing",
                from_m=ruling.section.from_m,
                to_m=ruling.section.to_m,
                err_m=ruling.section_err_m,
                words=f"{section_words(ruling.section)}{error_words(ruling.section_err_m)}",
                title=ruling_title(ruling),
                name=ruling.ruling_id,
                kind="ruling",
                strong=True,
            )
        )
    return items


def _not_seen(scene: Scene) -> tuple[Band, ...]:
    hidden = scene.latest.hidden if scene.latest else ()
    bands = [
        Band(section=one.section, fill="hatch", kind="hidden", words=f"hidden: {one.cause}",
             title=f"hidden: {one.cause}, {section_words(one.section)}")
        for one in hidden
    ]  # fmt: skip
    bands += [
        Band(section=one, fill="cross", kind="unseen", words="not seen",
             title=f"not seen and not felt: {section_words(one)}")
        for one in scene.unseen
    ]  # fmt: skip
    return tuple(bands)
