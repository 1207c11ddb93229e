"""A rope, a drum or a roller drawn as plainly as a hand camera would show it, with a scale."""

import math
import random
from typing import Final

from PIL import Image, ImageDraw, ImageFont

_WIDE: Final = 960
_HIGH: Final = 540
_EDGE: Final = 40
_MIDDLE: Final = 235
_BACK: Final = (205, 208, 204)
_STEEL: Final = (128, 132, 136)
_DARK: Final = (62, 66, 70)
_BRIGHT: Final = (196, 200, 203)
_RUST: Final = (139, 80, 42)
_INK: Final = (20, 22, 24)
_PAPER: Final = (250, 248, 236)
_MARK: Final = (176, 24, 24)


class Sketch:
    """One picture in the making.

    Parameters
    ----------
    title
        What stands below the picture.
    diameter_mm
        Rope diameter [mm].
    chance
        Where small irregularities come from.
    """

    def __init__(self, *, title: str, diameter_mm: float, chance: random.Random) -> None:
        self._title = title
        self._diameter_mm = diameter_mm
        self._chance = chance
        self._image = Image.new("RGB", (_WIDE, _HIGH), _BACK)
        self._draw = ImageDraw.Draw(self._image)
        self._px = 4.0
        self._grain()

    def _grain(self) -> None:
        for _ in range(900):
            x, y = self._chance.randrange(_WIDE), self._chance.randrange(_HIGH)
            shade = self._chance.randint(-14, 14)
            self._draw.point((x, y), fill=tuple(one + shade for one in _BACK))

    def show(self, length_mm: float) -> None:
        """Choose the scale for ``length_mm`` [mm] of rope."""
        self._px = (_WIDE - 2 * _EDGE) / length_mm

    def _x(self, along_mm: float) -> float:
        return _EDGE + along_mm * self._px

    @property
    def _half(self) -> float:
        """Half of the rope's breadth in the picture: never too thin to show its strands."""
        return max(26.0, self._diameter_mm * self._px / 2)

    # --- Rope ---------------------------------------------------------------------------------

    def rope(self, *, wave_mm: float = 0.0, bulge: tuple[float, float] | None = None) -> None:
        """The rope from left to right: ``wave_mm`` [mm] of wave, ``bulge`` [mm] where it opens."""
        step = self._half * 0.62
        for number in range(-2, int(_WIDE / step) + 3):
            start = number * step
            middle_mm = (start + self._half * 0.5 - _EDGE) / self._px
            half, open_by = self._half, 0.0
            if bulge is not None and bulge[0] <= middle_mm <= bulge[1]:
                share = (middle_mm - bulge[0]) / (bulge[1] - bulge[0])
                open_by = math.sin(math.pi * share)
                half *= 1 + 0.9 * open_by
            lift = wave_mm * self._px * 2.5 * math.sin(2 * math.pi * start / (_WIDE / 2.0))
            top, low = _MIDDLE - half + lift, _MIDDLE + half + lift
            lean = self._half * 1.05
            wide = max(3, int(step * (0.78 - 0.38 * open_by)))
            self._draw.line([(start, low), (start + lean, top)], fill=_DARK, width=wide + 3)
            self._draw.line([(start, low), (start + lean, top)], fill=_STEEL, width=wide)
            shine = [(start + 2, low - 6), (start + lean - 2, top + 6)]
            self._draw.line(shine, fill=_BRIGHT, width=max(1, wide // 6))

    def broken_wire(self, along_mm: float, *, stands_out: bool) -> None:
        """A broken wire at a place of the scale, ``along_mm`` [mm]."""
        x = self._x(along_mm)
        y = _MIDDLE + self._chance.uniform(-0.55, 0.55) * self._half
        self._draw.ellipse([x - 4, y - 4, x + 4, y + 4], fill=_INK)
        tilt = self._chance.uniform(-0.7, 0.7)
        reach = 26.0 if stands_out else 9.0
        end = (x + reach * math.sin(tilt), y - reach * math.cos(tilt))
        self._draw.line([(x, y), end], fill=_INK, width=3)
        self._draw.line([(x, y), (x + 9, y + 5)], fill=_INK, width=3)
        foot = _MIDDLE + self._half + 16
        self._draw.polygon([(x, foot), (x - 6, foot + 14), (x + 6, foot + 14)], fill=_MARK)

    def rust(self, from_mm: float, to_mm: float) -> None:
        """A film of rust from ``from_mm`` [mm] to ``to_mm`` [mm] of the scale."""
        for _ in range(260):
            x = self._x(self._chance.uniform(from_mm, to_mm))
            y = _MIDDLE + self._chance.uniform(-0.95, 0.95) * self._half
            size = self._chance.uniform(1.5, 6)
            shade = self._chance.randint(-18, 18)
            tint = tuple(max(0, one + shade) for one in _RUST)
            self._draw.ellipse([x - size, y - size / 2, x + size, y + size / 2], fill=tint)

    # --- Parts --------------------------------------------------------------------------------

    def drum(self, *, climbed: bool) -> None:
        """Wraps on a drum, seen from above; one lies on its neighbours, or the layer is loose."""
        self._draw.rectangle([60, 70, _WIDE - 60, 400], fill=(150, 152, 148))
        for flange in (40, _WIDE - 70):
            self._draw.rectangle([flange, 40, flange + 30, 430], fill=(96, 100, 98))
        wraps, odd = 17, 8
        pitch = (_WIDE - 180) / wraps
        for number in range(wraps):
            x = 90 + pitch * (number + 0.5)
            if climbed and number == odd:
                continue
            loose = 0.0 if climbed else self._chance.uniform(-0.22, 0.22) * pitch
            self._wrap(x + loose, 0.42 * pitch)
        if climbed:
            self._wrap(90 + pitch * (odd + 1.0), 0.46 * pitch)
            x = 90 + pitch * (odd + 1.0)
            self._draw.polygon([(x, 422), (x - 8, 440), (x + 8, 440)], fill=_MARK)

    def _wrap(self, x: float, half: float) -> None:
        self._draw.rectangle([x - half - 2, 70, x + half + 2, 400], fill=_DARK)
        self._draw.rectangle([x - half, 70, x + half, 400], fill=_STEEL)
        for y in range(76, 400, 22):
            self._draw.line([(x - half, y + 12), (x + half, y)], fill=_DARK, width=2)

    def roller(self) -> None:
        """A rope roller with a groove worn into it."""
        self._draw.rounded_rectangle([250, 90, 710, 390], 30, fill=(152, 146, 120))
        self._draw.rectangle([455, 90, 505, 390], fill=(98, 92, 70))
        self._draw.line([(480, 90), (480, 390)], fill=_BRIGHT, width=3)
        self._draw.polygon([(480, 400), (472, 420), (488, 420)], fill=_MARK)

    # --- Frame --------------------------------------------------------------------------------

    def scale(self) -> None:
        """A paper strip with millimetres below the rope."""
        top = _MIDDLE + self._half + 52
        self._draw.rectangle([_EDGE - 20, top, _WIDE - _EDGE + 20, top + 58], fill=_PAPER)
        shown_mm = (_WIDE - 2 * _EDGE) / self._px
        for step in (5, 10, 20, 50, 100):
            if step * self._px >= 42:
                break
        small = step / 5
        font = ImageFont.load_default(17)
        for number in range(int(shown_mm / small) + 1):
            x = self._x(number * small)
            long = number % 5 == 0
            self._draw.line([(x, top), (x, top + (24 if long else 12))], fill=_INK, width=1)
            if long:
                words = f"{number * small:.0f}"
                self._draw.text((x, top + 40), words, fill=_INK, font=font, anchor="mm")
        unit = ImageFont.load_default(12)
        self._draw.text((_EDGE - 18, top + 12), "mm", fill=_INK, font=unit, anchor="lm")

    def finished(self) -> Image.Image:
        """The picture with its caption."""
        self._draw.rectangle([0, _HIGH - 52, _WIDE, _HIGH], fill=_INK)
        font = ImageFont.load_default(21)
        self._draw.text((16, _HIGH - 26), self._title, fill=_PAPER, font=font, anchor="lm")
        return self._image
