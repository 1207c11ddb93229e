"""How far an inspection has come, held against its plan."""

from collections.abc import Iterable
from dataclasses import dataclass

from ropewright.geometry import Section, covered_length, subtract, union
from ropewright.inspection import Inspection, covered, intersection
from ropewright.plan import InspectionPlan
from ropewright.plan.model import PlannedMethod


@dataclass(frozen=True, slots=True, kw_only=True)
class PassDone:
    """One planned pass: from where, how much of it is done, and what is left of it.

    ``done_m`` and ``whole_m`` [m] are rope that it shows, without the rope of passes before it by
    the same method.
    """

    method: PlannedMethod
    place: str
    crane: str
    shows: tuple[Section, ...]
    left: tuple[Section, ...]
    done_m: float
    whole_m: float

    @property
    def share(self) -> float:
        """How much of it is done [-]."""
        return self.done_m / self.whole_m if self.whole_m else 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """Planned passes with what is done of them, and the parts that nobody has looked at yet."""

    passes: tuple[PassDone, ...]
    parts_left: tuple[str, ...]

    @property
    def is_done(self) -> bool:
        """Whether every planned pass is done and every part was looked at."""
        return not self.parts_left and not any(one.left for one in self.passes)


#: A left piece no longer than this is the end of a pass, not a piece to go back for [m]; own.
SLIVER_M = 0.1


def progress_of(plan: InspectionPlan, one: Inspection) -> Progress:
    """Hold an inspection, finished or not, against a plan.

    Parameters
    ----------
    plan
        The plan.
    one
        The inspection as far as it is known.

    Examples
    --------
    A pass planned over 0 m to 50 m of which 0 m to 30 m was seen has 20 m left.
    """
    done: list[PassDone] = []
    planned: dict[PlannedMethod, tuple[Section, ...]] = {}
    for each in plan.passes:
        before = planned.get(each.method, ())
        fresh = subtract(each.view.sections, before)
        planned[each.method] = union([*before, *each.view.sections])
        seen = covered(one, each.method)
        done.append(
            PassDone(
                method=each.method,
                place=each.view.place,
                crane=each.view.travel,
                shows=each.view.sections,
                left=_worth(subtract(fresh, seen)),
                done_m=covered_length(intersection(fresh, seen)),
                whole_m=covered_length(fresh),
            )
        )
    said = {item.item for item in one.examined if item.state != "not seen"}
    parts = dict.fromkeys(spot.item for spot in plan.parts)
    return Progress(
        passes=tuple(done), parts_left=tuple(item for item in parts if item not in said)
    )


def _worth(sections: Iterable[Section]) -> tuple[Section, ...]:
    return tuple(section for section in sections if section.length_m > SLIVER_M)
