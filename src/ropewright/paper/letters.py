"""Which letters the paper's typeface can print, and what is printed for those it cannot.

A report that must be readable in ten years may not hold a letter that its own typeface lacks:
such a letter is named in brackets instead.  The attached record keeps every letter as typed.
"""

import re
import struct
import unicodedata
from functools import cache
from pathlib import Path
from typing import Final

import fontpkg_ibm_plex_sans

from ropewright.errors import RenderError

FAMILY: Final[str] = fontpkg_ibm_plex_sans.FAMILY
FOLDER: Final = Path(fontpkg_ibm_plex_sans.ROOT) / "files"

#: Longest word that is set as it is; longer ones may be broken, in pieces of at most `PIECE`.
LONGEST_WORD: Final = 32
PIECE: Final = 22
_BREAK: Final = "\u200b"
_LONG: Final = re.compile(rf"[^ ]{{{LONGEST_WORD + 1},}}")
_AFTER: Final = re.compile(r"(?<=[/_\-.,;:=&?+])(?=\w)")
_SPACES: Final = re.compile(r"[^\S\u00a0]+")
_SEGMENTS: Final = 4
_GROUPS: Final = 12


@cache
def printable() -> frozenset[int]:
    """Code points for which the upright face has a glyph.

    Raises
    ------
    RenderError
        If the typeface is not there or cannot be read.
    """
    faces = sorted(path for path in FOLDER.glob("*.ttf") if "Italic" not in path.name)
    if not faces:
        raise RenderError("the typeface of the report is not installed", field=FAMILY)
    try:
        return frozenset(_code_points(faces[0].read_bytes()))
    except (struct.error, ValueError, KeyError) as error:
        raise RenderError("the typeface of the report cannot be read", field=FAMILY) from error


def _code_points(font: bytes) -> set[int]:
    """Read the character map of an OpenType font, its formats 4 and 12."""
    tables = struct.unpack_from(">H", font, 4)[0]
    places = {}
    for at in range(tables):
        tag, _sum, offset, _length = struct.unpack_from(">4sLLL", font, 12 + 16 * at)
        places[tag] = offset
    base = places[b"cmap"]
    found: set[int] = set()
    for at in range(struct.unpack_from(">H", font, base + 2)[0]):
        _platform, _encoding, offset = struct.unpack_from(">HHL", font, base + 4 + 8 * at)
        form = struct.unpack_from(">H", font, base + offset)[0]
        if form == _SEGMENTS:
            found |= _segments(font, base + offset)
        elif form == _GROUPS:
            found |= _groups(font, base + offset)
    return found


def _segments(font: bytes, start: int) -> set[int]:
    count = struct.unpack_from(">H", font, start + 6)[0] // 2
    ends = struct.unpack_from(f">{count}H", font, start + 14)
    firsts = struct.unpack_from(f">{count}H", font, start + 16 + 2 * count)
    deltas = struct.unpack_from(f">{count}H", font, start + 16 + 4 * count)
    ranges_at = start + 16 + 6 * count
    found = set()
    for at in range(count):
        offset = struct.unpack_from(">H", font, ranges_at + 2 * at)[0]
        for code in range(firsts[at], min(ends[at], 0xFFFE) + 1):
            if offset:
                where = ranges_at + 2 * at + offset + 2 * (code - firsts[at])
                glyph = struct.unpack_from(">H", font, where)[0]
            else:
                glyph = (code + deltas[at]) & 0xFFFF
            if glyph:
                found.add(code)
    return found


def _groups(font: bytes, start: int) -> set[int]:
    found: set[int] = set()
    for at in range(struct.unpack_from(">L", font, start + 12)[0]):
        first, last, glyph = struct.unpack_from(">LLL", font, start + 16 + 12 * at)
        if glyph and last - first < 0x20000:
            found.update(range(first, last + 1))
    return found


def written(text: str) -> str:
    """The text as the report prints it: one line, only letters that the typeface has.

    Runs of spaces and line ends become one space, but spaces that hold words together stay; a
    letter the typeface lacks is named in brackets; words too long for any column may be broken.
    """
    line = _SPACES.sub(" ", unicodedata.normalize("NFC", text)).strip()
    line = "".join(_letter(letter) for letter in line)
    return _LONG.sub(lambda found: _breakable(found[0]), line)


def _letter(letter: str) -> str:
    if letter == " " or ord(letter) in printable():
        return letter
    if unicodedata.category(letter) in ("Mn", "Me") or letter in "\u200d\ufe0f":
        return ""
    name = unicodedata.name(letter, "").lower()
    if not name or len(name) > 40 or any(sign.isdigit() for sign in name):
        name = f"U+{ord(letter):04X}"
    return f"[{name}]"


def _breakable(word: str) -> str:
    parts = _AFTER.split(word)
    pieces = []
    for part in parts:
        pieces += [part[at : at + PIECE] for at in range(0, len(part), PIECE)]
    return _BREAK.join(pieces)


def drawn(svg: str) -> str:
    """A picture whose letters the typeface can all print; others become the sign for that."""
    return "".join(
        letter if letter in "\n\t" or ord(letter) in printable() else "�" for letter in svg
    )
