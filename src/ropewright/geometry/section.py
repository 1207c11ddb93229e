"""Sections of rope as closed intervals, and sets of them."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from ropewright.errors import InputError

_TOUCH_M = 1e-9  # two sections closer than a nanometre are one


@dataclass(frozen=True, slots=True, order=True)
class Section:
    """A length of rope from ``from_m`` to ``to_m`` [m] in rope position."""

    from_m: float
    to_m: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.from_m) and math.isfinite(self.to_m)):
            raise InputError(
                field="section", expected="two finite places", given=[self.from_m, self.to_m]
            )
        if self.to_m < self.from_m:
            raise InputError(
                field="section",
                expected="a section whose end lies beyond its start",
                given=f"{self.from_m:g} m .. {self.to_m:g} m",
            )

    @property
    def length_m(self) -> float:
        """Length of the section [m]."""
        return self.to_m - self.from_m

    def widened(self, by_m: float) -> "Section":
        """The section made longer at both ends by ``by_m`` [m]."""
        return Section(self.from_m - by_m, self.to_m + by_m)

    def overlaps(self, other: "Section") -> bool:
        """Whether the two closed sections share at least one point."""
        return self.from_m <= other.to_m and other.from_m <= self.to_m

    def contains(self, other: "Section") -> bool:
        """Whether ``other`` lies wholly inside, to a nanometre."""
        return self.from_m <= other.from_m + _TOUCH_M and other.to_m <= self.to_m + _TOUCH_M


def union(sections: Iterable[Section]) -> tuple[Section, ...]:
    """Merge overlapping or touching sections; the result is sorted."""
    merged: list[Section] = []
    for section in sorted(sections):
        if merged and section.from_m <= merged[-1].to_m + _TOUCH_M:
            if section.to_m > merged[-1].to_m:
                merged[-1] = Section(merged[-1].from_m, section.to_m)
        else:
            merged.append(section)
    return tuple(merged)


def subtract(whole: Iterable[Section], parts: Iterable[Section]) -> tuple[Section, ...]:
    """What is left of ``whole`` without ``parts``; slivers under a nanometre are dropped."""
    taken = union(parts)
    left: list[Section] = []
    for section in union(whole):
        start = section.from_m
        for part in taken:
            if part.to_m <= start or part.from_m >= section.to_m:
                continue
            if part.from_m - start > _TOUCH_M:
                left.append(Section(start, part.from_m))
            start = max(start, part.to_m)
        if section.to_m - start > _TOUCH_M:
            left.append(Section(start, section.to_m))
    return tuple(left)


def covered_length(sections: Sequence[Section]) -> float:
    """Total length of the union of the sections [m]."""
    return math.fsum(section.length_m for section in union(sections))
