"""What a plan of an inspection is made of."""

from dataclasses import dataclass
from datetime import date
from typing import Literal, TypeAlias

from ropewright.geometry import Axis, CranePosition, NoWay, Section
from ropewright.inspection import Asked, Assumption, ReadingsFit
from ropewright.rules.ruling import Provenance

How: TypeAlias = Literal["run", "walk"]
PlannedMethod: TypeAlias = Literal["eye", "feel"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Direction:
    """In which direction the rope may be run at a point while a hand is near.

    ``motion`` is the motion for which the rope runs away from the nearest nip, none where there
    is no such direction or a nip is too near; ``hand`` tells whether a hand may follow.
    ``nearest_m`` and ``ahead_m`` are the least distances to the nearest nip and to the next one
    ahead.
    """

    motion: str | None
    words: str
    hand: bool
    why_none: NoWay | None = None
    nearest: str | None = None
    nearest_m: float | None = None
    ahead: str | None = None
    ahead_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """What one place sees in one way: rope run past it, or rope at rest that a person walks along.

    ``sections`` lie in rope position, ``path`` on today's path; ``beside`` says where the other
    axes stand.  ``rope_per_axis`` [-] is the
    rope that runs past per metre or degree of the motion; ``minutes`` [min] is the time for it.
    ``at_start_m`` and ``at_end_m`` are the path positions in front of the person, ``err_m`` how
    far off they may be.  ``from_basket`` tells falls that only a work basket gets at,
    ``on_lowered_arm`` rope along a jib or boom that must be down and in meanwhile.
    """

    place: str
    how: How
    start: CranePosition
    end: CranePosition
    path: tuple[Section, ...]
    sections: tuple[Section, ...]
    travel: str
    axis: Axis | None = None
    beside: str = ""
    at_start_m: float | None = None
    at_end_m: float | None = None
    err_m: float = 0.0
    rope_per_axis: float = 0.0
    rope_m_per_s: float = 0.0
    minutes: float = 0.0
    by_hand: bool = False
    from_basket: bool = False
    on_lowered_arm: bool = False
    usable: bool = True
    why_not: str = ""
    direction: Direction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HandsOff:
    """A section on which no hand may lie, and where the crane stands while it passes.

    ``crane`` says that in words, for whatever axis moves; hook heights [m] where it is the hook.
    """

    section: Section
    why: str
    crane: str = ""
    hook_from_m: float | None = None
    hook_to_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedPass:
    """One pass of the inspection: a view and the method."""

    method: PlannedMethod
    view: View
    hands_off: tuple[HandsOff, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Unseen:
    """A section that no pass covers: why, and how to get at it."""

    method: PlannedMethod
    section: Section
    why: str
    how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Listed:
    """A published list that names a place: rule, clause, and how far it was seen."""

    rule: str
    clause: str
    provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class Reach:
    """How a place comes in front of a person.

    ``hook_m`` is the hook height with its ``hook_err_m``; the motion is the one for which the
    rope runs away from the nearest nip on the last metres, none if there is none.
    """

    place: str
    words: str
    hook_m: float | None = None
    hook_err_m: float = 0.0
    position: CranePosition | None = None
    direction: Direction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TroubleSpot:
    """Where damage is to be expected, and the published lists that name it."""

    item: str
    words: str
    sections: tuple[Section, ...] = ()
    lists: tuple[Listed, ...] = ()
    reach: Reach | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LookAgain:
    """An earlier finding or a mark, and how it comes in front of a person again.

    ``hand_off`` says what stands out of the rope there, the place's own error included: whatever
    direction a reach names, no hand goes to running rope then.
    """

    name: str
    words: str
    section: Section
    err_m: float
    reaches: tuple[Reach, ...]
    not_reached: tuple[str, ...] = ()
    hand_off: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkStep:
    """One step of the work, in its place in the order, with its cautions.

    ``carried`` tells that its cautions stand on the sheet that a person takes along.
    """

    number: int
    title: str
    words: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    carried: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionPlan:
    """What to see, from where, how, in which order; and what stays unseen.

    ``minutes`` [min] is the time the rope runs or is walked along, nothing else.  ``doubts`` are
    numbers of the set-up that do not go together.
    """

    rope_id: str
    on: date
    invented: bool
    service: Section
    by_payout: bool
    asked: tuple[Asked, ...]
    err_m: float
    views: tuple[View, ...]
    passes: tuple[PlannedPass, ...]
    unseen: tuple[Unseen, ...]
    trouble: tuple[TroubleSpot, ...]
    parts: tuple[TroubleSpot, ...]
    again: tuple[LookAgain, ...]
    steps: tuple[WorkStep, ...]
    assumptions: tuple[Assumption, ...]
    minutes: float
    calibration: ReadingsFit | None = None
    doubts: tuple[str, ...] = ()
