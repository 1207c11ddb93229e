"""How much room words take, without asking a font: wide enough for any plain sans serif."""

from typing import Final

#: Advance of a character in parts of the type size, rounded up over common sans serif faces.
_NARROW: Final = frozenset("iIjl.,:;'|!()[]{} ’·ftr/\\")
_WIDE: Final = frozenset("mwMW@%—…±&GOQCDNHUVAX+=<>×≥≤")
_ODD: Final = {"#": 0.72, "ß": 0.66, "-": 0.42}
_NARROW_EM: Final = 0.38
_USUAL_EM: Final = 0.61
_CAPITAL_EM: Final = 0.70
_WIDE_EM: Final = 0.92
_OUTSIDE_EM: Final = 1.05  # pictographs and scripts written in full squares
_PLAIN_END: Final = 0x2100


def _advance(letter: str) -> float:
    if letter in _NARROW:
        return _NARROW_EM
    if letter in _ODD:
        return _ODD[letter]
    if letter in _WIDE or (letter.isupper() and letter > "\u024f"):
        return _WIDE_EM
    if letter.isupper():
        return _CAPITAL_EM
    return _USUAL_EM if ord(letter) < _PLAIN_END else _OUTSIDE_EM


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width that is surely enough for a line of text.

    Parameters
    ----------
    text
        The line.
    size
        Type size in user units [-].
    bold
        Whether it is set in bold.

    Returns
    -------
    float
        Width in user units [-].
    """
    return size * sum(map(_advance, text)) * (1.06 if bold else 1.0)


def shortened(text: str, size: float, room: float) -> str:
    """The text itself, or its start with an ellipsis, so that it fits the ``room`` [-].

    Parameters
    ----------
    text
        The line.
    size
        Type size in user units [-].
    room
        Width to stay within, in user units [-].
    """
    left, most = room / size - _advance("…"), room / size
    kept = 0
    taken = 0.0
    for letter in text:
        taken += _advance(letter)
        if taken > most:
            return text[:kept].rstrip() + "…"
        if taken <= left:
            kept += 1
    return text


def folded(text: str, size: float, room: float) -> list[str]:
    """The text in as many lines as it takes to stay within the ``room`` [-].

    Parameters
    ----------
    text
        The text; it is parted at spaces, and inside a word only where nothing else helps.
    size
        Type size in user units [-].
    room
        Width of a line in user units [-].
    """
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if text_width(longer, size) <= room:
            line = longer
            continue
        if line:
            lines.append(line)
        while text_width(word, size) > room and len(word) > 1:
            cut = max(1, int(len(word) * room / text_width(word, size)) - 1)
            lines.append(word[:cut])
            word = word[cut:]
        line = word
    return [*lines, line] if line else lines
