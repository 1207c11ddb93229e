"""The one picture: inspections a year against share of ropes that passed the limit unseen."""

import math
import xml.etree.ElementTree as ET
from collections.abc import Sequence

from tests.calibration.policies import Row

WIDTH, HEIGHT = 720, 440
LEFT, RIGHT, TOP, BOTTOM = 70, 150, 30, 60
INK, SOFT, OURS = "#1b1b1b", "#b9b9b9", "#0b5c8a"


def policy_picture(rows: Sequence[Row]) -> str:
    """An SVG scatter of the ways of choosing the next inspection."""
    most = max(4.0, *(math.ceil(one.inspections_a_year / 2) * 2.0 for one in rows))
    root = ET.Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "viewBox": f"0 0 {WIDTH} {HEIGHT}",
            "role": "img",
            "font-family": "'IBM Plex Sans', system-ui, sans-serif",
            "font-size": "13",
        },
    )
    ET.SubElement(root, "title").text = "Inspections a year against ropes past the limit unseen"
    ET.SubElement(root, "rect", {"width": str(WIDTH), "height": str(HEIGHT), "fill": "#ffffff"})

    def across(value: float) -> float:
        return LEFT + value / most * (WIDTH - LEFT - RIGHT)

    def down(share: float) -> float:
        return TOP + (1 - share) * (HEIGHT - TOP - BOTTOM)

    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        _line(root, LEFT, down(share), WIDTH - RIGHT, down(share), SOFT)
        _text(root, LEFT - 8, down(share) + 4, f"{share:.0%}", "end")
    for value in range(0, int(most) + 1, 2):
        _line(root, across(value), down(0), across(value), down(0) + 5, INK)
        _text(root, across(value), down(0) + 20, str(value), "middle")
    _text(root, (LEFT + WIDTH - RIGHT) / 2, HEIGHT - 14, "inspections a year", "middle")
    _text(root, 8, 18, "ropes that passed the limit unseen", "start")
    taken: list[tuple[float, float]] = []
    for one in sorted(rows, key=lambda row: (row.passed, row.inspections_a_year)):
        x, y = across(one.inspections_a_year), down(one.passed)
        mine = one.name.startswith("forecast")
        colour = OURS if mine else INK
        if mine:
            ET.SubElement(
                root, "circle", {"cx": f"{x:.1f}", "cy": f"{y:.1f}", "r": "6", "fill": colour}
            )
        else:
            box = {"x": f"{x - 5:.1f}", "y": f"{y - 5:.1f}", "width": "10", "height": "10"}
            ET.SubElement(root, "rect", box | {"fill": "none", "stroke": colour})
        label_y = y + 4 if one.passed > 0.5 else y - 14
        # labels give way upwards in the lower half, downwards in the upper
        step = 16 if one.passed > 0.5 else -16
        while any(abs(label_y - other) < 15 and abs(x - at) < 130 for at, other in taken):
            label_y += step
        taken.append((x, label_y))
        _text(root, x + 11, label_y, one.name, "start", colour)
    return ET.tostring(root, encoding="unicode") + "\n"


def _line(root: ET.Element, x1: float, y1: float, x2: float, y2: float, colour: str) -> None:
    ends = {"x1": f"{x1:.1f}", "y1": f"{y1:.1f}", "x2": f"{x2:.1f}", "y2": f"{y2:.1f}"}
    ET.SubElement(root, "line", ends | {"stroke": colour})


def _text(root: ET.Element, x: float, y: float, words: str, anchor: str, colour: str = INK) -> None:
    at = {"x": f"{x:.1f}", "y": f"{y:.1f}", "text-anchor": anchor, "fill": colour}
    ET.SubElement(root, "text", at).text = words
