"""Single entries in few words; light, for programs that are started often.  Invented."""

from datetime import date
from fractions import Fraction

from ropewright.geometry import RopePlace
from ropewright.inspection import BreakGroup, BrokenWires
from ropewright.logbook import Entry, MemoryPeople, new_entry, stable_id
from ropewright.logbook import payloads as p

DAY = date(2026, 11, 10)
NOBODY = MemoryPeople()


def cluster(number: int, rope_id: str = "rope 1", *, count: int = 1, salt: str = "") -> Entry:
    """A broken wire that was counted; the same number is the same entry."""
    found = BrokenWires(
        finding_id=f"F{number}",
        place=RopePlace(at_m=float(number)),
        groups=(BreakGroup(from_mm=Fraction(0), to_mm=Fraction(0), count=count),),
    )
    return new_entry(
        p.ClusterCounted(inspection_id="I1", what=found),
        NOBODY,
        rope_id=rope_id,
        entry_id=stable_id("test", rope_id, str(number), salt),
        happened_on=DAY,
    )


def begun(rope_id: str = "rope 1", name: str = "I1", on: date = DAY) -> Entry:
    """An inspection that was begun."""
    return new_entry(
        p.InspectionBegun(inspection_id=name, kind="periodic", on=on),
        NOBODY,
        rope_id=rope_id,
        entry_id=stable_id("test", rope_id, "begun", name),
        happened_on=on,
    )
