"""What the tests ask of an SVG: boxes of its words, colours, placed marks."""

import re
import xml.etree.ElementTree as ET
from typing import NamedTuple

from ropewright.picture.lettering import text_width

SVG = "{http://www.w3.org/2000/svg}"


class Box(NamedTuple):
    words: str
    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: "Box") -> bool:
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )


def text_boxes(root: ET.Element) -> list[Box]:
    """The room that each line of words takes, on the wide side."""
    boxes = []
    for one in root.iter(f"{SVG}text"):
        words, size = one.text or "", float(one.attrib["font-size"])
        width = text_width(words, size, bold="font-weight" in one.attrib)
        x, y = float(one.attrib["x"]), float(one.attrib["y"])
        left = x - {"end": width, "middle": width / 2}.get(one.get("text-anchor", "start"), 0)
        boxes.append(Box(words, left, y - 0.72 * size, left + width, y + 0.2 * size))
    return boxes


def placed(root: ET.Element, kind: str | None = None) -> list[ET.Element]:
    """Groups that carry a rope position, those of a kind if one is named."""
    return [
        one
        for one in root.iter(f"{SVG}g")
        if "data-rope-m" in one.attrib and (kind is None or kind in one.attrib["class"].split())
    ]


def colours(text: str) -> set[str]:
    return set(re.findall(r"#[0-9a-f]{6}", text))
