"""The rope itself across the paper: its ends, its metres, what was cut off."""

from typing import Final

from ropewright.geometry import Section, exposure_over, subtract
from ropewright.picture.canvas import BODY, SMALL, Canvas
from ropewright.picture.frame import Frame
from ropewright.picture.lettering import text_width
from ropewright.picture.scene import Scene
from ropewright.picture.words import metres_words, section_words

BAR: Final = 12.0
HEIGHT: Final = 48.0


def end_words(scene: Scene) -> tuple[str, str]:
    """What stands at the left and right end of the axis."""
    low, high = scene.service.from_m, scene.service.to_m
    if scene.turned:
        return f"end B today, {_fitting(scene, low, 'B')}", f"end A today, {_fitting(scene, high)}"
    return f"end A, {_fitting(scene, low)}", f"end B, {_fitting(scene, high, 'B')}"


def _fitting(scene: Scene, end_m: float, end: str = "A") -> str:
    """End B is a drum clamp; end A is the anchor, or the first clamp of a twin drum."""
    if end == "B" or _end_a_on_drum(scene):
        return "drum clamp"
    met = exposure_over(Section(end_m, end_m), scene.dossier.installation.exposed)
    return "drum clamp" if met.drum in ("single", "multi") else "anchor"


def _end_a_on_drum(scene: Scene) -> bool:
    """Tell a twin drum, or a path whose end A is stated to lie on the drum."""
    rigging = scene.dossier.rigging_at(scene.as_of)
    facts = None if rigging is None else rigging.reeving
    return facts is not None and (facts.kind == "bridge hoist, twin drum" or facts.end_a == "drum")


def draw_rope(canvas: Canvas, frame: Frame, scene: Scene, y: float) -> bool:
    """Draw the rope with its scale, top at ``y`` [-]; tells whether any of it was cut off."""
    ink = canvas.ink
    left_end, right_end = end_words(scene)
    start, width = frame.span(scene.service)
    bar = y + 17
    canvas.text(frame.left, y + 11, left_end, bold=True)
    canvas.text(frame.right, y + 11, right_end, bold=True, anchor="end")
    cut = subtract([frame.shown], [scene.service])
    for section in cut:
        _cut_off(canvas, frame, section, bar)
    words = f"rope in service, {section_words(scene.service)}"
    with canvas.mark("rope", words, scene.service.from_m, scene.service.to_m):
        canvas.rect(start, bar, width, BAR, rx="3", fill=ink.pale)
        canvas.rect(
            start, bar, width, BAR, rx="3", fill=canvas.pattern("lay"), stroke=ink.ink,
            stroke_width="1.4",
        )  # fmt: skip
    _scale(canvas, frame, bar + BAR)
    return bool(cut)


def _cut_off(canvas: Canvas, frame: Frame, section: Section, y: float) -> None:
    ink = canvas.ink
    start, width = frame.span(section, 4.0)
    words = f"cut off, {metres_words(section.length_m)} m"
    with canvas.mark("cut-off", f"{words}: {section_words(section)}", section.from_m, section.to_m):
        canvas.rect(
            start, y, width, BAR, fill=ink.paper, stroke=ink.ink, stroke_dasharray="3 3",
        )  # fmt: skip
        if width > text_width(words, SMALL) + 6:
            canvas.text(start + width / 2, y + 10, words, size=SMALL, anchor="middle")


def _scale(canvas: Canvas, frame: Frame, y: float) -> None:
    ink = canvas.ink
    most = 5 if frame.compact else 10
    last_end = float("-inf")
    for place, number in frame.scale(most):
        x = frame.x(place)
        words = metres_words(number)
        room = text_width(words, SMALL)
        x_words = min(max(x, frame.left + room / 2), frame.right - room / 2)
        canvas.line(x, y, x, y + 4, ink.line)
        if x_words - room / 2 > last_end + 6:
            canvas.text(x_words, y + 15, words, size=SMALL, colour=ink.soft, anchor="middle")
            last_end = x_words + room / 2


def axis_words(canvas: Canvas, frame: Frame, y: float) -> None:
    """Name the axis in the label column, for the lane whose top is at ``y`` [-]."""
    canvas.text(10, y + 27, "Rope position", size=BODY, bold=True)
    words = f"{'feet' if frame.feet else 'metres'} from end A"
    canvas.text(10, y + 41, words, size=SMALL, colour=canvas.ink.soft)
