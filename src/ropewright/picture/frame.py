"""The one axis of a rope chart: metres, or feet, from end A to places on the paper."""

import math
from dataclasses import dataclass
from typing import Final

from ropewright.geometry import Section

#: Below this width, in user units, a chart is drawn with fewer words, for a phone.
COMPACT_BELOW: Final = 560
LABEL_ROOM: Final = 122.0
MARGIN: Final = 10.0
ROW: Final = 16.0
FOOT_M: Final = 0.3048


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where the axis lies: from ``left`` [-] to ``right`` [-] for the section ``shown``.

    With ``feet`` its scale counts feet.
    """

    left: float
    right: float
    shown: Section
    compact: bool
    feet: bool = False

    def x(self, rope_m: float) -> float:
        """Where ``rope_m`` [m] lies on the paper, kept inside the axis; the result in units [-]."""
        length = self.shown.length_m
        share = (rope_m - self.shown.from_m) / length if length else 0.5
        return self.left + min(1.0, max(0.0, share)) * (self.right - self.left)

    def span(self, section: Section, least: float = 0.0) -> tuple[float, float]:
        """Start and width of a section on the paper, at least ``least`` [-] wide [-]."""
        start, end = self.x(section.from_m), self.x(section.to_m)
        if end - start < least:
            middle = min(max((start + end) / 2, self.left + least / 2), self.right - least / 2)
            start, end = middle - least / 2, middle + least / 2
        return start, end - start

    def scale(self, most: int) -> list[tuple[float, float]]:
        """Places of the scale [m] with the number that stands there, [m] or [ft].

        Parameters
        ----------
        most
            About how many places there may be.
        """
        per = FOOT_M if self.feet else 1.0
        counted = Section(self.shown.from_m / per, self.shown.to_m / per)
        return [(number * per, number) for number in ticks(counted, most)]


def frame_for(*, width: int, shown: Section, feet: bool = False) -> Frame:
    """The frame of a chart that is ``width`` user units wide."""
    compact = width < COMPACT_BELOW
    left = MARGIN if compact else LABEL_ROOM
    return Frame(left=left, right=width - MARGIN - 6, shown=shown, compact=compact, feet=feet)


def round_step(length: float, most: int) -> float:
    """The smallest 'round' step (1, 2 or 5 times a power of ten) that gives few enough parts.

    Parameters
    ----------
    length
        What is to be parted, in any unit [-].
    most
        The largest number of parts.

    Returns
    -------
    float
        The step, in the same unit [-].
    """
    if length <= 0:
        return 1.0
    rough = length / max(1, most)
    power = 10.0 ** math.floor(math.log10(rough))
    for factor in (1.0, 2.0, 5.0):
        if factor * power >= rough * (1 - 1e-9):
            return factor * power
    return 10.0 * power


def ticks(shown: Section, most: int) -> list[float]:
    """Round rope positions inside a section, at most about ``most`` of them [m]."""
    step = round_step(shown.length_m, most)
    first = math.ceil(shown.from_m / step - 1e-9)
    last = math.floor(shown.to_m / step + 1e-9)
    return [count * step for count in range(first, last + 1)]
