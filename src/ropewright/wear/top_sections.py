"""The most worn sections of a rope: where to look first, and what wears them."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from ropewright.geometry import Section
from ropewright.wear.damage import CauseKind
from ropewright.wear.wear_map import WearMap, metre_by_metre

STEP_M: Final = 1.0
APART: Final = 2
"""Steps beside a section that are not put forward again; own choice."""
SAME_PLACE: Final = 0.6
"""Steps beside a peak belong to its section while they reach this share of it; own choice."""
WORTH_NAMING: Final = 0.4
"""Sections below this share of the worst are not put forward; own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WornSection:
    """A section that is worn more than the rest.

    ``mean`` [-] is the mean of its worst metre and ``most`` [-] its worst place, in full bends;
    ``share`` [-] is how that metre stands to the rope's worst one; ``causes`` [-] are kind,
    name and share, the greatest first.
    """

    section: Section
    mean: float
    most: float
    share: float
    causes: tuple[tuple[CauseKind, str, float], ...]

    @property
    def words(self) -> str:
        """What wears it, in words."""
        return cause_words(self.causes)


def cause_words(causes: tuple[tuple[CauseKind, str, float], ...]) -> str:
    """What wears a section, the greatest first, each with its share.

    Parameters
    ----------
    causes
        Kind, name and share of each cause [-].
    """
    return ", ".join(f"{_named(kind, name)}: {share * 100:.0f} %" for kind, name, share in causes)


def _named(kind: CauseKind, name: str) -> str:
    other_drum = f" of {name}" if name != "drum" else ""
    return {
        "sheave": name,
        "reverse bends": f"bent both ways between {name}",
        "drum": name,
        "crossovers": f"crossovers on the drum{other_drum}",
        "layer change": f"layer changes on the drum{other_drum}",
    }[kind]


def top_sections(wear: WearMap, most: int = 5) -> tuple[WornSection, ...]:
    """The most worn sections, the worst first.

    Parameters
    ----------
    wear
        The map.
    most
        How many at most.
    """
    edges, means = metre_by_metre(wear, STEP_M)
    left = means.copy()
    worst = float(means.max(initial=0.0))
    found: list[WornSection] = []
    while len(found) < most and worst > 0:
        peak = int(np.argmax(left))
        level = left[peak]
        if level < WORTH_NAMING * worst:
            break
        first = last = peak
        while first > 0 and left[first - 1] >= SAME_PLACE * level:
            first -= 1
        while last < left.size - 1 and left[last + 1] >= SAME_PLACE * level:
            last += 1
        section = Section(float(edges[first]), float(edges[last + 1]))
        left[max(first - APART, 0) : last + 1 + APART] = -1.0
        found.append(
            WornSection(
                section=section,
                mean=float(level),
                most=wear.total.most(section.from_m, section.to_m),
                share=float(level / worst),
                causes=wear.shares(section.from_m, section.to_m)[:4],
            )
        )
    return tuple(found)
