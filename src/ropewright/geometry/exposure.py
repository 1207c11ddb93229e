"""What a section of rope meets in service: drum layers, sheaves, crossovers, ends, bending."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

from ropewright.geometry.section import Section, union

DrumLayers: TypeAlias = Literal["none", "single", "multi", "unknown"]
SheaveKind: TypeAlias = Literal["none", "steel", "plastic", "unknown"]

DRUM_LAYERS: Final[tuple[DrumLayers, ...]] = ("none", "single", "multi", "unknown")
SHEAVE_KINDS: Final[tuple[SheaveKind, ...]] = ("none", "steel", "plastic", "unknown")


@dataclass(frozen=True, slots=True, kw_only=True)
class Exposure:
    """What one section of rope is exposed to; ``None`` means 'not known'.

    ``drum``: does it spool, and in how many layers.  ``sheaves``: what sheaves it runs over.
    ``crossover``: does the whole section lie in a crossover or flange zone of a multi-layer
    drum.  ``near_end``: does it lie at a termination.  ``bends``: does it ever run over a
    sheave or spool.
    """

    drum: DrumLayers = "unknown"
    sheaves: SheaveKind = "unknown"
    crossover: bool | None = None
    near_end: bool | None = None
    bends: bool | None = None

    @property
    def unknowns(self) -> tuple[str, ...]:
        """Names of what is not known here, in the words of the case file."""
        names = []
        if self.drum == "unknown":
            names.append("drum layers")
        if self.sheaves == "unknown":
            names.append("sheave material")
        if self.bends is None:
            names.append("whether this section bends")
        return tuple(names)


@dataclass(frozen=True, slots=True, kw_only=True)
class ExposedSection:
    """One section of rope with its exposure."""

    section: Section
    exposure: Exposure


def _worst_drum(values: list[DrumLayers]) -> DrumLayers:
    if len(set(values)) == 1:
        return values[0]
    return "unknown"


def _worst_sheaves(values: list[SheaveKind]) -> SheaveKind:
    for kind in ("plastic", "unknown", "steel"):
        if kind in values:
            return kind
    return "none"


def _every(values: list[bool | None]) -> bool | None:
    if all(value is True for value in values):
        return True
    return False if any(value is False for value in values) else None


def _any(values: list[bool | None]) -> bool | None:
    if any(value is True for value in values):
        return True
    return False if all(value is False for value in values) else None


def exposure_over(
    section: Section, exposed: Iterable[ExposedSection], *, otherwise: Exposure | None = None
) -> Exposure:
    """The exposure that holds for a whole section, unknown wherever its parts disagree.

    Plastic sheaves anywhere count for the whole; 'crossover' holds only if every part lies in
    one; 'bends' and 'near end' hold if any part does.  Parts of the section that nothing is
    said about are as ``otherwise``, or unknown.
    """
    parts: list[Exposure] = []
    said: list[Section] = []
    from_m, to_m = section.from_m, section.to_m
    for item in exposed:
        stated = item.section
        if stated.from_m <= to_m and from_m <= stated.to_m:  # they overlap
            parts.append(item.exposure)
            said.append(stated)
    rest = otherwise or Exposure()
    if not parts:
        return rest
    if not _fully_said(section, said):
        parts.append(rest)
    if len(parts) == 1:
        return parts[0]
    return Exposure(
        drum=_worst_drum([part.drum for part in parts]),
        sheaves=_worst_sheaves([part.sheaves for part in parts]),
        crossover=_every([part.crossover for part in parts]),
        near_end=_any([part.near_end for part in parts]),
        bends=_any([part.bends for part in parts]),
    )


def _fully_said(section: Section, said: list[Section]) -> bool:
    return any(piece.contains(section) for piece in said) or any(
        piece.contains(section) for piece in union(said)
    )
