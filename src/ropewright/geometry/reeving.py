"""Reeving as data: the rope's path from end A to the drum, span by span, contact by contact."""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal, TypeAlias

import numpy as np

from ropewright.errors import InputError, UnknownNameError
from ropewright.geometry.exposure import SheaveKind
from ropewright.geometry.frames import (
    BOOM,
    DROP,
    JIB,
    MEASURES,
    ONE,
    RADIUS,
    TIE,
    TIE_DIR,
    Frame,
)
from ropewright.geometry.position import Axis, Floats, check_finite, check_positive

Sense: TypeAlias = Literal[1, -1]
EndA: TypeAlias = Literal["fixed", "drum"]
Carrier: TypeAlias = Literal["crane", "trolley", "jib", "block"]
CARRIERS: Final[tuple[Carrier, ...]] = ("crane", "trolley", "jib", "block")

END_A: Final = "end A"
DRUM: Final = "drum"
DRUM_A: Final = "drum A"
"""Where end A lies, on a hoist with both ends on a twin drum: at the clamp of its first half."""
LISTED: Final = "rope path as listed"
"""Name of a path told piece by piece: how it lies in space is not known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A free length of rope between two contacts.

    Its length is ``fixed_m`` plus multiples of the crane's measures: ``per_drop`` [-] metres per
    metre from the upper to the hook sheaves, ``per_radius`` [-] per metre of radius,
    ``per_boom`` [-] per metre of boom, ``per_tie`` [-] per metre from the jib to the A-frame.
    """

    name: str
    fixed_m: float = 0.0
    per_drop: float = 0.0
    per_radius: float = 0.0
    per_boom: float = 0.0
    per_tie: float = 0.0

    def __post_init__(self) -> None:
        for field in ("fixed_m", "per_drop", "per_radius", "per_boom", "per_tie"):
            check_finite(f"span '{self.name}'.{field}", getattr(self, field))


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """An arc of rope on a sheave.

    ``pitch_diameter_mm`` is measured to the rope's centre line (groove bottom plus one rope
    diameter).  ``sense`` says to which side the rope is bent, 1 or -1; two neighbours with
    unlike senses make a reverse bend.  The wrap is ``wrap_deg`` plus ``wrap_per_jib`` [-]
    degrees per degree of jib or boom angle plus ``wrap_per_tie`` [-] degrees per degree of the
    direction from the jib to the A-frame.  ``on`` says what carries the sheave and so which
    motions move it; ``groove`` says what the groove is made of, ``turns`` whether the sheave
    turns at all (an equaliser hardly does).
    """

    name: str
    pitch_diameter_mm: float
    sense: Sense = 1
    wrap_deg: float = 180.0
    wrap_per_jib: float = 0.0
    wrap_per_tie: float = 0.0
    on: Carrier = "crane"
    groove: SheaveKind = "unknown"
    groove_radius_mm: float | None = None
    turns: bool = True

    def __post_init__(self) -> None:
        check_positive(f"sheave '{self.name}'.pitch_diameter_mm", self.pitch_diameter_mm)
        check_positive(f"sheave '{self.name}'.groove_radius_mm", self.groove_radius_mm)
        for field in ("wrap_deg", "wrap_per_jib", "wrap_per_tie"):
            check_finite(f"sheave '{self.name}'.{field}", getattr(self, field))
        if self.sense not in (1, -1):
            raise InputError(
                field=f"sheave '{self.name}'.sense", expected="1 or -1", given=self.sense
            )

    @property
    def radius_m(self) -> float:
        """Radius to the rope's centre line [m]."""
        return self.pitch_diameter_mm / 2000


Element: TypeAlias = Span | Contact


@dataclass(frozen=True, slots=True, kw_only=True)
class Reeving:
    """The rope's path: spans and contacts in order from end A to the drum.

    ``end_a`` is 'fixed' for a rope fastened at its dead end, 'drum' for a rope whose two ends
    lie on a twin drum, wound alike; ``end_a_on`` says what carries end A's fitting.
    ``drum_sense`` is the sense in which the drum bends the rope.  ``all_sheaves`` is false where
    sheaves between end A and the first one named are left out because nobody knows them.
    """

    name: str
    frame: Frame
    elements: tuple[Element, ...]
    end_a: EndA = "fixed"
    end_a_on: Carrier = "crane"
    drum_sense: Sense = 1
    all_sheaves: bool = True

    def __post_init__(self) -> None:
        if not any(isinstance(element, Span) for element in self.elements):
            raise InputError(field="elements", expected="at least one span of rope", given=None)
        names = [DRUM, END_A, DRUM_A]
        for element in self.elements:
            if isinstance(element, Contact):
                if element.name in names:
                    raise InputError(
                        field="elements",
                        expected="another name for each sheave (not 'end A', 'drum' or 'drum A')",
                        given=element.name,
                    )
                names.append(element.name)

    @property
    def contacts(self) -> tuple[Contact, ...]:
        """The sheaves in order from end A to the drum."""
        return tuple(element for element in self.elements if isinstance(element, Contact))

    @property
    def spans(self) -> tuple[Span, ...]:
        """The free lengths in order from end A to the drum."""
        return tuple(element for element in self.elements if isinstance(element, Span))

    @property
    def falls(self) -> float:
        """Metres of rope per metre of hook travel, as geared to the drum [-]."""
        paid = math.fsum(span.per_drop for span in self.spans)
        return paid / 2 if self.end_a == "drum" else paid

    @property
    def axes(self) -> tuple[Axis, ...]:
        """The axes of the crane that the path depends on, the hook first."""
        table = path_table(self)
        used = np.any(np.vstack([table.spans, table.arcs]) != 0, axis=0)
        wanted = {axis for row, axes in self.frame.needs.items() if used[row] for axis in axes}
        order: tuple[Axis, ...] = ("hook_m", "radius_m", "boom_m", "jib_deg", "boom_deg")
        return tuple(axis for axis in order if axis in wanted)

    def contact(self, name: str) -> Contact:
        """The sheave of that name."""
        return self.contacts[self.index(name)]

    def index(self, name: str) -> int:
        """Number of a sheave, counted from end A beginning with 0."""
        names = [contact.name for contact in self.contacts]
        if name not in names:
            raise UnknownNameError(
                what="a sheave of this path", given=name, known=names, field="at"
            )
        return names.index(name)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PathTable:
    """A path as rows of multiples of the measures, summed up from end A.

    ``start`` [m] and ``end`` [m] have one row per contact, ``out`` [m] is the row of the drum's
    tangent point, ``spans`` [m] and ``arcs`` [m] the single pieces.  From contact number
    ``lead_from`` on, counted from 0, the contacts lie beyond the sheave of the last fall.
    """

    start: Floats
    end: Floats
    out: Floats
    spans: Floats
    arcs: Floats
    lead_from: int


def _span_row(span: Span) -> Floats:
    row = np.zeros(MEASURES)
    row[ONE] = span.fixed_m
    row[DROP] = span.per_drop
    row[RADIUS] = span.per_radius
    row[BOOM] = span.per_boom
    row[TIE] = span.per_tie
    return row


def _arc_row(contact: Contact) -> Floats:
    row = np.zeros(MEASURES)
    row[ONE] = math.radians(contact.wrap_deg)
    row[JIB] = contact.wrap_per_jib
    row[TIE_DIR] = contact.wrap_per_tie
    return row * contact.radius_m


def _stack(rows: list[Floats]) -> Floats:
    return np.array(rows, dtype=np.float64).reshape(len(rows), MEASURES)


@lru_cache(maxsize=64)
def path_table(reeving: Reeving) -> PathTable:
    """The path of a reeving as rows of multiples of the measures."""
    here = np.zeros(MEASURES)
    starts: list[Floats] = []
    ends: list[Floats] = []
    spans: list[Floats] = []
    arcs: list[Floats] = []
    lead_from = 0
    for element in reeving.elements:
        if isinstance(element, Span):
            spans.append(_span_row(element))
            here = here + spans[-1]
            if element.per_drop:
                lead_from = len(starts) + 1
        else:
            arcs.append(_arc_row(element))
            starts.append(here)
            here = here + arcs[-1]
            ends.append(here)
    if not any(span.per_drop for span in reeving.spans):
        lead_from = len(starts)
    return PathTable(
        start=_stack(starts),
        end=_stack(ends),
        out=here,
        spans=_stack(spans),
        arcs=_stack(arcs),
        lead_from=lead_from,
    )
