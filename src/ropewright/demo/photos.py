"""Small generated pictures of findings, with a scale in frame and labelled 'invented data'.

They stand in for photos: drawn from what the case file says of a finding, so that offsets on the
scale are the offsets that were typed.  The same finding gives the same bytes.
"""

import io
import random
import tomllib
import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Final

from ropewright.demo.sketch import Sketch

#: Kinds of findings of which a picture says more than the entry.
_PICTURED: Final = ("broken wires", "birdcage", "corrosion", "waviness")

_NAMES: Final = uuid.UUID("c3f0a0de-52a1-5c2c-8a53-90a8e4b1d7f2")


def photo_name(rope: str, finding: str) -> str:
    """The file name of the picture of a finding."""
    return f"{rope}-{finding}.png"


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoPhoto:
    """A generated picture of a finding, as PNG."""

    name: str
    inspection_id: str
    finding_id: str
    on: date
    caption: str
    data: bytes

    @property
    def entry_id(self) -> str:
        """The id of its entry in a logbook: follows from its name."""
        return str(uuid.uuid5(_NAMES, self.name))


def photos_of(rope: str, text: str) -> tuple[DemoPhoto, ...]:
    """Pictures of all findings of a case text that a picture says more of.

    Parameters
    ----------
    rope
        The demo rope's name, such as ``KQ-4``.
    text
        Its case text.
    """
    case = tomllib.loads(text)
    diameter_mm = float(case["rope"]["diameter"].split()[0])
    made = []
    for look in case["inspection"]:
        pictured = [one for one in look.get("finding", ()) if one["kind"] in _PICTURED]
        for one in (*pictured, *look.get("part", ())):
            name = photo_name(rope, one["id"])
            caption = f"{_words(one)}, {look['on'].isoformat()}, invented data"
            sketch = Sketch(title=f"{rope}  {caption}", diameter_mm=diameter_mm, chance=_seed(name))
            _draw(sketch, one)
            made.append(
                DemoPhoto(
                    name=name,
                    inspection_id=look["id"],
                    finding_id=one["id"],
                    on=look["on"],
                    caption=caption,
                    data=_png(sketch),
                )
            )
    return tuple(made)


def _seed(name: str) -> random.Random:
    return random.Random(f"picture of {name}")


def _words(one: Mapping[str, Any]) -> str:
    if "part" in one:
        return f"{one['part']}: {one['state']}"
    if one["kind"] == "broken wires":
        count = len(one["breaks"])
        return "1 broken wire" if count == 1 else f"{count} broken wires"
    return str(one["kind"])


def _mm(quantity: str) -> float:
    number, unit = quantity.split()
    return float(number) * {"mm": 1.0, "m": 1000.0}[unit]


def _draw(sketch: Sketch, one: Mapping[str, Any]) -> None:
    if "part" in one:
        if one["part"] == "spooling":
            sketch.drum(climbed="climbed" in one["state"])
        else:
            sketch.roller()
        return
    if one["kind"] == "broken wires":
        offsets = [_mm(each["at"]) for each in one["breaks"]]
        sketch.show(max(offsets) - min(offsets) + 120)
        sketch.rope()
        for each, offset in zip(one["breaks"], offsets, strict=True):
            sketch.broken_wire(60 + offset - min(offsets), stands_out=each.get("protruding", False))
    else:
        length = _mm(one.get("length", "200 mm"))
        sketch.show(length + 160)
        if one["kind"] == "birdcage":
            sketch.rope(bulge=(80, 80 + length))
        elif one["kind"] == "waviness":
            sketch.rope(wave_mm=_mm(one["gap"]))
        else:
            sketch.rope()
            sketch.rust(80, 80 + length)
    sketch.scale()


def _png(sketch: Sketch) -> bytes:
    made = io.BytesIO()
    sketch.finished().save(made, "PNG", optimize=False)
    return made.getvalue()
