"""Papers of a new rope held against its order and its crane; the tension to spool it with."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final

from ropewright.desk.ordering_model import OrderValue
from ropewright.inspection import Dossier
from ropewright.units import exact_decimal, parse_mass

_G: Final = Fraction("9.80665")
#: A number that goes on to the left, as in '10 000 kg' or '1,5 t', is not read from its middle.
_LOAD: Final = re.compile(
    r"(?<![0-9.,])(?<![0-9][.,\s'])([0-9]+(?:\.[0-9]+)?)\s*(kg|t|lb)\b"
    r"(?:\s+on\s+([0-9]+)\s+falls?)?"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """One line of papers against order or crane; ``agrees`` is ``None`` if nothing is asked.

    Papers that are silent about what was ordered do not agree with it.
    """

    what: str
    papers: str
    against: str
    agrees: bool | None

    @property
    def words(self) -> str:
        """What does not agree, in one line."""
        return f"{self.what}: papers say {self.papers}, {self.against}"


def papers_compared(
    dossier: Dossier, order: Mapping[str, OrderValue] | None
) -> tuple[Compared, ...]:
    """What the new rope's papers say, held against its order and the crane, line by line.

    A breaking force or a length may be larger than ordered; everything else has to be the same.
    ``order`` [-] has the fields of the order, each in the unit its key names; without one only the
    crane is left.
    """
    against_order = () if order is None else _against_order(dossier, order)
    return (*against_order, *_against_crane(dossier))


def _against_order(dossier: Dossier, order: Mapping[str, OrderValue]) -> Iterator[Compared]:
    rope = dossier.rope
    make = rope.construction
    paper = rope.certificate
    force = None if paper is None else paper.minimum_breaking_force_kn
    lines: tuple[tuple[str, str, OrderValue, str], ...] = (
        ("Construction", "construction", make.name, "same"),
        ("Nominal diameter [mm]", "diameter_mm", rope.nominal_diameter_mm, "same"),
        ("Length [m]", "length_m", rope.length_m, "at least"),
        ("Lay hand", "lay_hand", rope.lay_hand, "same"),
        ("Lay type", "lay_type", rope.lay_type, "same"),
        ("Core", "core", make.core, "same"),
        ("Plastic in the core", "plastic_core", rope.plastic, "same"),
        ("Strands compacted", "compacted", make.compacted, "same"),
        ("Rotation-resistant", "rotation_resistant", make.rotation_resistant, "same"),
        ("Grade [N/mm²]", "grade_n_per_mm2", rope.grade, "same"),
        ("Minimum breaking force [kN]", "breaking_force_kn", force, "at least"),
        ("Finish", "finish", rope.finish or None, "same"),
    )
    for what, key, papers, how in lines:
        ordered = order.get(key)
        ordered = None if ordered == "" else ordered
        yield Compared(
            what=what,
            papers=_shown(papers),
            against=f"ordered {_shown(ordered)}",
            agrees=_agrees(papers, ordered, how),
        )


def _agrees(papers: OrderValue, ordered: OrderValue, how: str) -> bool | None:
    if ordered is None:
        return None
    if how == "at least" and isinstance(papers, Fraction | float | int):
        return not isinstance(ordered, str | date) and papers >= ordered
    return papers == ordered


def _shown(value: OrderValue) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Fraction):
        return exact_decimal(value)
    return f"{value:g}" if isinstance(value, float) else str(value)


def _against_crane(dossier: Dossier) -> Iterator[Compared]:
    """A right-hand grooved drum takes left-hand lay rope and the other way round.

    Common practice, no source.
    """
    hand = next((one.value for one in dossier.installation.set_up if one.name == "drum hand"), None)
    lay = dossier.rope.lay_hand
    known = hand in ("right", "left") and lay is not None
    yield Compared(
        what="Lay hand and drum",
        papers="nothing" if lay is None else f"{lay}-hand lay",
        against="the drum's groove hand is not stated" if hand is None
        else f"the drum is {hand}{'-hand grooved' if hand in ('right', 'left') else ''}",
        agrees=lay != hand if known else (True if hand == "not grooved" else None),
    )  # fmt: skip


# --- Spooling tension -------------------------------------------------------------------------


def spooling_tension(dossier: Dossier) -> tuple[str, ...]:
    """The tension to spool with: the larger of 2 % of breaking force and 10 % of what it carries.

    Common practice, no source: the careful reading.  Winding with the empty hook gives less on
    most tower cranes.
    """
    force = dossier.rope.breaking_force()
    by_force = None if force is None else force.value * Fraction(2, 100)
    lines = [
        "2 % of breaking force: not known"
        if force is None or by_force is None
        else f"2 % of breaking force: {_kn(force.value)} × 0.02 = {_kn(by_force)}"
    ]
    by_load, words = _tenth_of_load(dossier)
    lines.append(words)
    if by_force is not None and by_load is not None:
        lines.append(f"spool with {_kn(max(by_force, by_load))} or more, the larger of both")
    else:
        known = by_force if by_load is None else by_load
        least = "" if known is None else f"at least {_kn(known)}; "
        lines.append(f"{least}the tension is to be filled in: one of both is not known")
    lines.append("the empty hook alone pulls less than this on most tower cranes")
    return tuple(lines)


def _kn(value: Fraction) -> str:
    return f"{float(value):.2f} kN"


def _tenth_of_load(dossier: Dossier) -> tuple[Fraction | None, str]:
    match = _LOAD.search(dossier.crane.safe_working_load)
    if match is None:
        return None, "10 % of safe working load: not known"
    falls = int(match[3]) if match[3] else _falls(dossier)
    if not falls:
        return None, "10 % of safe working load: the falls are not known"
    mass = parse_mass(f"{match[1]} {match[2]}")
    force = mass * _G / 1000 / falls / 10
    return force, (
        f"10 % of the rope's share of the safe working load: {exact_decimal(mass)} kg × g ÷ "
        f"{falls} falls × 0.1 = {_kn(force)}"
    )


def _falls(dossier: Dossier) -> int | None:
    newest = max(dossier.rigging, key=lambda one: one.valid_from, default=None)
    return None if newest is None else newest.falls
