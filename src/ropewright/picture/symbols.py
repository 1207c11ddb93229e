"""Our own signs for what is found: each has a shape of its own, none needs its colour."""

from collections.abc import Mapping
from typing import Final

from ropewright.picture.canvas import Canvas, figure

#: Half the side of a sign, in user units.
HALF: Final = 6.0

# Each sign: strokes and filled shapes round (0, 0), within HALF on every side.
_WAVE: Final = ("M-6 1C-4.5 -5 -2 -5 -1 0S3.5 6 6 -1", "")
_LOOP: Final = ("M-6 4H-2.5C3 4 5 -5 0 -5S-3 4 2.5 4H6", "")
SIGNS: Final[Mapping[str, tuple[str, str]]] = {
    "broken wires": ("M-6 5L-1.2 1.2M-2.8 -0.6L0.4 2.8M6 -5L1.2 -1.2M-0.4 -2.8L2.8 0.6", ""),
    "waviness": _WAVE,
    "diameter": ("M-5 -6V6M5 -6V6M-5 0H5", ""),
    "birdcage": ("M-6 0C-3 -7 3 -7 6 0C3 7 -3 7 -6 0M-6 0H6M-6 0C-3 -3 3 -3 6 0C3 3 -3 3 -6 0", ""),
    "core protrusion": ("M-6 4H6M-6 1H-3M3 1H6", "M-3 1A3 4.5 0 0 1 3 1Z"),
    "strand protrusion": ("M-6 4H6M-5 4C-4 -7 4 -7 5 4", ""),
    "wire loops": _LOOP,
    "local thinning": ("M-6 -5C-2 -5 -2 -1.5 0 -1.5S2 -5 6 -5M-6 5C-2 5 -2 1.5 0 1.5S2 5 6 5", ""),
    "local thickening": ("M-6 -2C-3 -2 -3 -6 0 -6S3 -2 6 -2M-6 2C-3 2 -3 6 0 6S3 2 6 2", ""),
    "strands out of place": ("M-6 -4L6 4M-6 0H6M-6 4L6 -4", ""),
    "broken strand": ("M-1.5 -6L-3.5 6M3.5 -6L1.5 6", "M-6 -2.5H-2V2.5H-6ZM2 -2.5H6V2.5H2Z"),
    "kink": ("M-6 4L1 4L-1 -4L6 -4", ""),
    "flat": ("M-6 3H6", "M-6 -1.5H6V1H-6Z"),
    "bend": ("M-6 4L0 -4L6 4", ""),
    "corrosion": ("", "M-5 1H-2V4H-5ZM2 1H5V4H2ZM-1.5 -5H1.5V-2H-1.5ZM-1.5 3H1.5V6H-1.5Z"),
    "heat": ("M0 -6C5 -1 5 5 0 6C-5 5 -5 -1 0 -6ZM0 0V3.5", ""),
    "arc": ("", "M2 -6L-4 1H-0.5L-2 6L4 -1H0.5Z"),
    "abrasion": ("M-5 0A5 5 0 0 1 5 0Z", "M-5 1.5H5V4H-5Z"),
    "crushing": ("M-6 0H6", "M0 -1.5L-3 -6H3ZM0 1.5L-3 6H3Z"),
    "cut": ("M-6 4H-2L0 -5L2 4H6", ""),
    "unlaying": ("M-6 -1H-2M-2 -1L6 -5M-2 -1L6 -1M-2 -1L6 4", ""),
    "metallic loss": ("M-6 -5H6M-6 5H6M0 -2V2", "M-5 -2H-3V2H-5ZM3 -2H5V2H3Z"),
    "several": ("M-6 -3H2V5H-6ZM-3 -3V-6H6V2H2", ""),
    "mark": ("M-3 6V-5", "M-3 -6H5L2.5 -3L5 0H-3Z"),
    "governing": ("", "M0 6L-6 -3V-6H6V-3Z"),
    "reached": ("M0 5L-5 -3V-5H5V-3Z", ""),
    "not assessable": (
        "M-5 -5H5V5H-5ZM-1.8 -1.2C-1.8 -4 2 -3.8 1.8 -1.4C1.6 0 0 -0.2 0 1.4M0 2.6V3.6", ""
    ),
    "below": ("M-5 3H5M-5 3V-1M5 3V-1", ""),
}  # fmt: skip

#: The same in words, for the legend.
SIGN_WORDS: Final[Mapping[str, str]] = {
    "several": "several kinds",
    "governing": "governs the verdict",
    "reached": "limit reached",
    "not assessable": "cannot be judged yet",
    "below": "limit not reached",
}


def draw_sign(canvas: Canvas, sign: str, x: float, y: float, colour: str) -> None:
    """Draw a sign round ``x`` [-], ``y`` [-] on a small ground of paper."""
    strokes, filled = SIGNS.get(sign, SIGNS["cut"])
    move = f"translate({figure(x)} {figure(y)})"
    side = HALF + 1
    with canvas.group("sign", transform=move):
        canvas.rect(-side, -side, 2 * side, 2 * side, fill=canvas.ink.paper)
        if filled:
            canvas.path(filled, fill=colour)
        if strokes:
            canvas.path(
                strokes,
                fill="none",
                stroke=colour,
                stroke_width="1.5",
                stroke_linejoin="round",
                stroke_linecap="round",
            )
