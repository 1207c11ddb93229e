"""The plan as a sheet that a person takes along: passes, hands, gaps, cautions, what to find again.

The same rows stand on paper, in the terminal and on a screen; what is left out of the sheet is in
the plan itself.
"""

from dataclasses import dataclass
from typing import Final

from ropewright.geometry import Section
from ropewright.plan.model import HandsOff, InspectionPlan, LookAgain, PlannedPass, Unseen
from ropewright.plan.order import FIRST, OFF

AT_REST: Final = "rope at rest only, crane stopped and isolated"


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPass:
    """One place and travel, with all methods used there; ``minutes`` [min] for all of them.

    ``hand`` says which way the rope may run at a hand, empty where no hand goes to it.
    """

    methods: str
    place: str
    crane: str
    shows: tuple[Section, ...]
    minutes: float
    rope_m_per_s: float
    hand: str = ""
    hands_off: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetGap:
    """Rope that no pass covers by the methods named: why, and how to get at it."""

    methods: str
    sections: tuple[Section, ...]
    why: str
    how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetFind:
    """Something to find again: what, where on the rope, from where, and the crane's position.

    ``hand_off`` says what stands out there, so that no hand goes to it while the rope runs.
    """

    what: str
    rope_m: float
    err_m: float
    place: str
    crane: str
    hand_off: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanSheet:
    """What a person takes along; ``steps`` are the titles of the work in their order."""

    passes: tuple[SheetPass, ...]
    gaps: tuple[SheetGap, ...]
    finds: tuple[SheetFind, ...]
    cautions: tuple[str, ...]
    steps: tuple[str, ...]


def plan_sheet(plan: InspectionPlan) -> PlanSheet:
    """The sheet of a plan, the same rows merged, nothing invented."""
    carried = [words for step in plan.steps if step.carried for words in step.cautions]
    return PlanSheet(
        passes=_passes(plan.passes),
        gaps=_gaps(plan.unseen),
        finds=tuple(_find(one) for one in plan.again),
        cautions=(*dict.fromkeys(one for one in carried if not one.startswith(OFF)), FIRST),
        steps=tuple(step.title for step in plan.steps),
    )


def off_words(one: HandsOff) -> str:
    """Where the hand is off, in words: by the crane's position where that is known."""
    where = f"{one.section.from_m:.1f}–{one.section.to_m:.1f} m, {one.why}"
    return f"{one.crane}: {where}" if one.crane else where


def _passes(passes: tuple[PlannedPass, ...]) -> tuple[SheetPass, ...]:
    """Eye and hand over the same rope in the same travel as one row, the eye first."""
    rows: list[SheetPass] = []
    taken: set[int] = set()
    for number, one in enumerate(passes):
        if number in taken:
            continue
        same = [
            other
            for other in range(number + 1, len(passes))
            if passes[other].view.place == one.view.place
            and passes[other].view.sections == one.view.sections
            and passes[other].view.how == one.view.how
        ]
        taken.update(same)
        group = [one, *(passes[other] for other in same)]
        felt = next((each for each in group if each.method == "feel"), None)
        view = one.view if felt is None else felt.view
        hand = ""
        if felt is not None:
            hand = felt.view.direction.words if felt.view.direction else AT_REST
        rows.append(
            SheetPass(
                methods=", then ".join(each.method for each in group),
                place=view.place,
                crane=view.travel,
                shows=view.sections,
                minutes=sum(each.view.minutes for each in group),
                rope_m_per_s=view.rope_m_per_s,
                hand=hand,
                hands_off=tuple(off_words(off) for each in group for off in each.hands_off),
            )
        )
    return tuple(rows)


def _gaps(unseen: tuple[Unseen, ...]) -> tuple[SheetGap, ...]:
    """What no eye and no hand gets at as one row; the sections of one reason together."""
    by_section: dict[tuple[Section, str, str], list[str]] = {}
    for one in unseen:
        by_section.setdefault((one.section, one.why, one.how), []).append(one.method)
    rows: dict[tuple[str, str, str], list[Section]] = {}
    for (section, why, how), methods in by_section.items():
        rows.setdefault((" and ".join(methods), why, how), []).append(section)
    return tuple(
        SheetGap(methods=methods, sections=tuple(sections), why=why, how=how)
        for (methods, why, how), sections in rows.items()
    )


def _find(one: LookAgain) -> SheetFind:
    first = one.reaches[0] if one.reaches else None
    return SheetFind(
        what=f"{one.name}: {one.words}",
        rope_m=(one.section.from_m + one.section.to_m) / 2,
        err_m=one.err_m,
        place=first.place if first else "nowhere",
        crane=first.words if first else "; ".join(one.not_reached),
        hand_off=one.hand_off,
    )
