"""What was found last time and stands open, with how it came there."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from ropewright.inspection import (
    BrokenWires,
    DiameterReading,
    Dossier,
    Inspection,
    RopeFinding,
    Waviness,
)
from ropewright.inspection.evidence import Evidence
from ropewright.plan import InspectionPlan, Reach


@dataclass(frozen=True, slots=True, kw_only=True)
class Point:
    """One value of a finding on one day, and ``by`` what method it was found.

    ``value`` [mm] is a diameter or a gap, or a count [-].
    """

    on: date
    value: Fraction
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LastTime:
    """A finding that counts, the inspection that made it, its course, how to reach it.

    ``asks`` says why it is a question, empty if it is none; ``hand_off`` what stands out of the
    rope there, as far as a plan says so.
    """

    finding: RopeFinding
    on: date
    inspection_id: str
    course: tuple[Point, ...]
    reaches: tuple[Reach, ...] = ()
    not_reached: tuple[str, ...] = ()
    asks: str = ""
    hand_off: str = ""


def last_time(
    dossier: Dossier, evidence: Evidence, plan: InspectionPlan | None
) -> tuple[LastTime, ...]:
    """All findings that count on the day, from end A on.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    evidence
        What counts on the day.
    plan
        The plan, which says how to bring them back.
    """
    again = {one.name: one for one in (plan.again if plan else ())}
    asks = {
        one.earlier.finding.finding_id: one.why for one in evidence.questions if one.answer is None
    }
    found = []
    for seen in evidence.seen:
        name = seen.finding.finding_id
        back = again.get(name)
        found.append(
            LastTime(
                finding=seen.finding,
                on=seen.inspection.on,
                inspection_id=seen.inspection.inspection_id,
                course=_course(seen.finding, seen.inspection, dossier.inspections),
                reaches=back.reaches if back else (),
                not_reached=back.not_reached if back else (),
                asks=asks.get(name, ""),
                hand_off=back.hand_off if back else "",
            )
        )
    return tuple(sorted(found, key=lambda one: (one.finding.section, one.finding.finding_id)))


def _course(
    finding: RopeFinding, inspection: Inspection, inspections: Sequence[Inspection]
) -> tuple[Point, ...]:
    """Values of a finding through all inspections that say it is the same, oldest first."""
    earlier = {
        one.finding_id: (one, done)
        for done in inspections
        if done.on <= inspection.on
        for one in done.findings
    }
    course: list[Point] = []
    here: tuple[RopeFinding, Inspection] | None = (finding, inspection)
    named: set[str] = set()
    while here is not None and here[0].finding_id not in named:
        one, done = here
        named.add(one.finding_id)
        value = _value(one)
        if value is not None:
            course.append(Point(on=done.on, value=value, by=one.method or ""))
        here = earlier.get(one.same_as or "")
    return tuple(reversed(course))


def _value(finding: RopeFinding) -> Fraction | None:
    if isinstance(finding, BrokenWires):
        return Fraction(finding.count)
    if isinstance(finding, DiameterReading):
        return finding.measured_mm
    if isinstance(finding, Waviness):
        return finding.gap_mm
    return None
