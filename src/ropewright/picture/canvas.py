"""SVG in small steps: every text escaped, every placed thing named and placed in metres."""

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final
from zlib import crc32

from ropewright.picture.ink import Ink

FONT: Final = "'IBM Plex Sans', system-ui, sans-serif"
BODY: Final = 12.0
SMALL: Final = 11.0
LONGEST_TITLE: Final = 400
LONGEST_DESC: Final = 2000

# What XML 1.0 cannot carry at all, and marks that would turn the direction of a line.
_NOT_XML: Final = re.compile("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_TURNS: Final = re.compile("[\u202a-\u202e\u2066-\u2069\u200e\u200f]")
_SPACES: Final = re.compile(r"\s+")


def plain(text: str) -> str:
    """One line of text that any XML reader accepts and that cannot turn the writing round."""
    return _SPACES.sub(" ", _TURNS.sub("", _NOT_XML.sub("�", text))).strip()


def figure(value: float) -> str:
    """The coordinate ``value`` [-] in at most two decimals."""
    return f"{value:.2f}".rstrip("0").rstrip(".") if value else "0"


def brief(text: str, most: int) -> str:
    """One line of plain text, cut after ``most`` letters."""
    line = plain(text)
    return line if len(line) <= most else line[: most - 1].rstrip() + "…"


class Canvas:
    """An SVG picture that grows downwards.

    Coordinates are SVG user units; they have no unit of their own.
    """

    def __init__(self, *, width: int, ink: Ink, name: str) -> None:
        self.width = width
        self.ink = ink
        self.root = ET.Element("svg", {"xmlns": "http://www.w3.org/2000/svg"})
        self._at: list[ET.Element] = [self.root]
        self._prefix = f"p{crc32(name.encode('utf-8', 'replace')):08x}"
        self._defs = ET.Element("defs")
        self._patterns: set[str] = set()

    # --- structure ---

    @contextmanager
    def group(self, kind: str, **attributes: str) -> Iterator[None]:
        """Hold together what is drawn inside the ``with``."""
        self._at.append(self._put("g", {"class": kind} | _attributes(attributes)))
        yield
        self._at.pop()

    def slot(self, kind: str) -> ET.Element:
        """An empty group at this depth of the picture, to be filled later."""
        return self._put("g", {"class": kind})

    @contextmanager
    def inside(self, slot: ET.Element) -> Iterator[None]:
        """Draw into a slot."""
        self._at.append(slot)
        yield
        self._at.pop()

    @contextmanager
    def mark(
        self, kind: str, title: str, from_m: float, to_m: float | None = None, **more: str
    ) -> Iterator[None]:
        """Hold together something placed on the rope, with its words.

        Parameters
        ----------
        kind
            What it is, as a class name.
        title
            Words shown on pointing and read aloud.
        from_m, to_m
            Its rope position, or its section [m].
        more
            Further attributes.
        """
        place = {"data-rope-m": f"{from_m:.3f}"}
        if to_m is not None:
            place["data-rope-to-m"] = f"{to_m:.3f}"
        with self.group(kind, **place, **more):
            ET.SubElement(self._at[-1], "title").text = brief(title, LONGEST_TITLE)
            yield

    def _put(self, tag: str, attributes: dict[str, str]) -> ET.Element:
        return ET.SubElement(self._at[-1], tag, attributes)

    # --- strokes ---

    def line(self, x1: float, y1: float, x2: float, y2: float, colour: str, **more: str) -> None:
        """A straight line from ``x1`` [-], ``y1`` [-] to ``x2`` [-], ``y2`` [-]."""
        ends = {"x1": figure(x1), "y1": figure(y1), "x2": figure(x2), "y2": figure(y2)}
        self._put("line", ends | {"stroke": colour} | _attributes(more))

    def rect(self, x: float, y: float, w: float, h: float, **more: str) -> None:
        """A rectangle at ``x`` [-], ``y`` [-], ``w`` [-] wide and ``h`` [-] high."""
        box = {"x": figure(x), "y": figure(y), "width": figure(w), "height": figure(h)}
        self._put("rect", box | _attributes(more))

    def path(self, d: str, **more: str) -> None:
        """A path in SVG's own letters."""
        self._put("path", {"d": d} | _attributes(more))

    def circle(self, x: float, y: float, r: float, **more: str) -> None:
        """A circle round ``x`` [-], ``y`` [-] with radius ``r`` [-]."""
        self._put("circle", {"cx": figure(x), "cy": figure(y), "r": figure(r)} | _attributes(more))

    def text(
        self,
        x: float,
        y: float,
        words: str,
        *,
        size: float = BODY,
        colour: str | None = None,
        bold: bool = False,
        anchor: str = "start",
    ) -> None:
        """One line of words with its baseline at ``x`` [-], ``y`` [-], ``size`` [-] high."""
        attributes = {
            "x": figure(x),
            "y": figure(y),
            "font-size": figure(size),
            "fill": colour or self.ink.ink,
        }
        if bold:
            attributes["font-weight"] = "700"
        if anchor != "start":
            attributes["text-anchor"] = anchor
        self._put("text", attributes).text = brief(words, LONGEST_TITLE)

    def stripes(self, x: float, y: float, w: float, h: float, colour: str) -> None:
        """A framed box, striped along: ``x`` [-], ``y`` [-], ``w`` [-] wide, ``h`` [-] high."""
        self.rect(x, y, w, h, fill=self.ink.paper, stroke=colour)
        strokes = "".join(
            f"M{figure(x)} {figure(y + at)}h{figure(w)}" for at in (2.0, 5.5, 9.0, 12.5) if at < h
        )
        self.path(strokes, stroke=colour, stroke_width="2")

    # --- patterns ---

    def pattern(self, kind: str) -> str:
        """Fill of a named pattern: ``sparse``, ``hatch``, ``cross`` or ``lay``."""
        if kind not in self._patterns:
            self._patterns.add(kind)
            self._defs.append(self._pattern(kind))
        return f"url(#{self._prefix}-{kind})"

    def _pattern(self, kind: str) -> ET.Element:
        ink = self.ink
        side, strokes = {
            "sparse": (8, [("M-1 9L9 -1", ink.cover, "1.6")]),
            "hatch": (6, [("M-1 7L7 -1", ink.ink, "1.6")]),
            "cross": (9, [("M0 0L9 9M0 9L9 0", ink.ink, "1.5")]),
            "lay": (7, [("M0 9L7 0", ink.soft, "1.1")]),
        }[kind]
        pattern = ET.Element(
            "pattern",
            {
                "id": f"{self._prefix}-{kind}",
                "width": str(side),
                "height": str(9 if kind == "lay" else side),
                "patternUnits": "userSpaceOnUse",
            },
        )
        for d, colour, width in strokes:
            ET.SubElement(pattern, "path", {"d": d, "stroke": colour, "stroke-width": width})
        return pattern

    # --- finish ---

    def finish(self, *, height: float, title: str, desc: str) -> str:
        """The picture as text, ``height`` [-] high, with its title and description in front."""
        size = figure(round(height + 0.5))
        names = {"width": str(self.width), "height": size}
        self.root.attrib.update(names | {"viewBox": f"0 0 {self.width} {size}", "role": "img"})
        ids = (f"{self._prefix}-title", f"{self._prefix}-desc")
        self.root.attrib.update({"aria-labelledby": " ".join(ids), "font-family": FONT})
        front = [ET.Element("title", {"id": ids[0]}), ET.Element("desc", {"id": ids[1]})]
        front[0].text, front[1].text = brief(title, LONGEST_TITLE), brief(desc, LONGEST_DESC)
        if self._patterns:
            front.append(self._defs)
        paper = ET.Element("rect", {"width": "100%", "height": "100%", "fill": self.ink.paper})
        for at, element in enumerate([*front, paper]):
            self.root.insert(at, element)
        return ET.tostring(self.root, encoding="unicode")


def _attributes(names: dict[str, str]) -> dict[str, str]:
    """Python names to SVG names: ``stroke_width`` to ``stroke-width``."""
    return {name.replace("_", "-"): _NOT_XML.sub("�", text) for name, text in names.items()}
