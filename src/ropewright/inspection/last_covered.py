"""When each piece of the rope was last covered by a method, over every inspection on record."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from ropewright.geometry import Section, subtract
from ropewright.inspection.coverage import covered, intersection
from ropewright.inspection.findings import Method
from ropewright.inspection.inspection import Inspection


@dataclass(frozen=True, slots=True, kw_only=True)
class LastCovered:
    """A piece of rope with the newest inspection that covered it; none: never on record."""

    section: Section
    by: Inspection | None

    @property
    def on(self) -> date | None:
        """The day on which it was last covered; none if it never was."""
        return None if self.by is None else self.by.on

    def days_before(self, today: date) -> int | None:
        """Days from then to a day [d]; none if it never was covered."""
        return None if self.by is None else (today - self.by.on).days


def last_covered(
    inspections: Iterable[Inspection], method: Method, service: Section, today: date
) -> tuple[LastCovered, ...]:
    """The rope in pieces from its lower end on, each with who covered it last.

    Places are metres in the rope's own steel, which neither a cut nor a turn end for end moves:
    what was cut off falls away because it is not in service, and nothing else changes.  An
    inspection that is not finished counts with the passes it made; one after ``today`` does not
    exist yet.  Where wires were hidden from sight the eye has not been.

    Parameters
    ----------
    inspections
        All inspections on record; of two on one day the later one in the record is the newer.
    method
        The method; a stronger one covers what it asks for.
    service
        The rope that is still there.
    today
        The day.

    Returns
    -------
    tuple of LastCovered
        Together exactly the rope in service, in order, without gaps or overlaps.
    """
    past = sorted((one for one in inspections if one.on <= today), key=lambda one: one.on)
    left: tuple[Section, ...] = (service,)
    pieces: list[LastCovered] = []
    for done in reversed(past):
        if not left:
            break
        here = intersection(left, covered(done, method))
        pieces += [LastCovered(section=one, by=done) for one in here]
        left = subtract(left, here)
    pieces += [LastCovered(section=one, by=None) for one in left]
    return tuple(sorted(pieces, key=lambda one: one.section))
