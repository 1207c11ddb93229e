"""The few colours of the pictures, and their greys: nothing is told by colour alone."""

import re
from dataclasses import dataclass, fields
from typing import Final

_HEX: Final = re.compile(r"#[0-9a-f]{6}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Ink:
    """Colours as ``#rrggbb``; words are only ever written in ``ink``, ``soft`` or ``grave``."""

    paper: str = "#ffffff"
    ink: str = "#1b2126"
    soft: str = "#48525a"
    line: str = "#7b868e"
    hair: str = "#d5dade"
    pale: str = "#eceff1"
    rope: str = "#aab3b9"
    cover: str = "#2a6470"
    grave: str = "#8a2a10"


#: The three inks that words may have, and what they stand on.
TEXT_INKS: Final = ("ink", "soft", "grave")

IN_COLOUR: Final = Ink()


def luminance(colour: str) -> float:
    """Relative luminance of a colour, from 0 for black to 1 for white [-].

    Source: Web Content Accessibility Guidelines 2.2, 'relative luminance'
    Provenance: memory
    """
    if not _HEX.fullmatch(colour):
        raise ValueError(f"a colour is written as #rrggbb, not {colour!r}")
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast of two colours, from 1 for none to 21 for black on white [-].

    Source: Web Content Accessibility Guidelines 2.2, 'contrast ratio'
    Provenance: memory
    """
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def as_grey(colour: str) -> str:
    """The grey of the same lightness."""
    light = luminance(colour)
    part = light * 12.92 if light <= 0.0031308 else 1.055 * light ** (1 / 2.4) - 0.055
    return f"#{round(part * 255):02x}" + f"{round(part * 255):02x}" * 2


def _greys(ink: Ink) -> Ink:
    return Ink(**{field.name: as_grey(getattr(ink, field.name)) for field in fields(ink)})


IN_GREY: Final = _greys(IN_COLOUR)


def ink_for(*, print_grey: bool) -> Ink:
    """The colours to draw with: all greys for a grey print."""
    return IN_GREY if print_grey else IN_COLOUR
