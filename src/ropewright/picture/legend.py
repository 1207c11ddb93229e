"""The legend: only what the picture uses, in flowing lines."""

from collections.abc import Callable, Collection, Sequence
from typing import Final

from ropewright.picture.bands import MET_DASHES, draw_met
from ropewright.picture.canvas import SMALL, Canvas
from ropewright.picture.frame import Frame
from ropewright.picture.lettering import text_width
from ropewright.picture.symbols import SIGN_WORDS, SIGNS, draw_sign

LINE: Final = 16.0
SAMPLE: Final = 22.0

_FILL_WORDS: Final = {
    "sparse": "one side seen",
    "dense": "all round, or by the method named",
    "past": "on another day",
    "hatch": "hidden from sight",
    "cross": "not seen, not felt, or never",
    "crossover": "crossover or flange zone",
    "drum-single": "one layer, or steel sheaves",
    "drum-multi": "several layers",
    "sheave-plastic": "plastic sheaves",
    "drum-unknown": "not known",
}
_ALIKE: Final = {"sheave-steel": "drum-single", "sheave-unknown": "drum-unknown"}

Entry = tuple[str, str]


def legend_entries(
    signs: Collection[str], fills: Collection[str], *, whisker: bool, cut: bool
) -> list[Entry]:
    """What was used, in the order of the lists of signs and fills, with its words."""
    fills = {_ALIKE.get(fill, fill) for fill in fills}
    entries = [(f"sign:{sign}", SIGN_WORDS.get(sign, sign)) for sign in SIGNS if sign in signs]
    entries += [(f"fill:{fill}", words) for fill, words in _FILL_WORDS.items() if fill in fills]
    if whisker:
        entries.append(("whisker", "± of a place"))
    if cut:
        entries.append(("cut", "cut off"))
    return entries


def draw_legend(canvas: Canvas, frame: Frame, entries: Sequence[Entry], y: float) -> float:
    """Draw the legend from ``y`` [-] on; its height comes back [-]."""
    left = 10.0
    x, row = left, 0
    with canvas.group("legend"):
        for sample, words in entries:
            room = SAMPLE + text_width(words, SMALL) + 14
            if x > left and x + room > frame.right + 6:
                x, row = left, row + 1
            _sample(canvas, sample, x, y + row * LINE)
            canvas.text(x + SAMPLE, y + row * LINE + 12, words, size=SMALL)
            x += room
    return (row + 1) * LINE if entries else 0.0


def _sample(canvas: Canvas, sample: str, x: float, y: float) -> None:
    kind, _, name = sample.partition(":")
    if kind == "sign":
        colour = canvas.ink.grave if name == "governing" else canvas.ink.ink
        draw_sign(canvas, name, x + 8, y + 8, colour)
        return
    drawers: dict[str, Callable[[Canvas, float, float], None]] = {
        "whisker": _whisker,
        "cut": _cut,
    }
    if kind in drawers:
        drawers[kind](canvas, x, y)
    elif name == "crossover":
        canvas.path(f"M{x:.2f} {y + 2}l14 12M{x:.2f} {y + 14}l14 -12", stroke=canvas.ink.ink)
    elif name in MET_DASHES:
        draw_met(canvas, name, x, y + 1, 16)
    elif name == "past":
        canvas.rect(x, y + 1, 16, 14, fill="none", stroke=canvas.ink.cover, stroke_dasharray="2 2")
        canvas.line(x, y + 8, x + 16, y + 8, canvas.ink.cover, stroke_width="1.5",
                    stroke_dasharray="5 4")  # fmt: skip
    elif name == "dense":
        canvas.stripes(x, y + 1, 16, 14, canvas.ink.cover)
    else:
        colour = canvas.ink.cover if name == "sparse" else canvas.ink.ink
        canvas.rect(x, y + 2, 16, 12, fill=canvas.pattern(name), stroke=colour)


def _whisker(canvas: Canvas, x: float, y: float) -> None:
    canvas.path(f"M{x:.2f} {y + 8}h16m-16 -3v6m16 -6v6m-8 -8v10", stroke=canvas.ink.ink,
                fill="none")  # fmt: skip


def _cut(canvas: Canvas, x: float, y: float) -> None:
    canvas.rect(x, y + 2, 16, 12, fill=canvas.ink.paper, stroke=canvas.ink.ink,
                stroke_dasharray="3 3")  # fmt: skip
