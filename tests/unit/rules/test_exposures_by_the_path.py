"""What the rules say of the same damage at places that the path alone tells apart.

By hand, of the trolley-jib crane of the plan's tests: rope at 20 m never reaches the drum, rope
at 100 m spools, the first metre never bends, the last one is dead wraps.
"""

from fractions import Fraction

import pytest

from ropewright.desk.judging import judge
from ropewright.intake import PackageShelf, read_case
from ropewright.rules import Ruling
from tests.unit.plan.cranes import DAY, TROLLEY, case_text

SHELF = PackageShelf()

TWO_BREAKS = """
[[inspection]]
kind = "periodic"
on = 2026-11-09

[[inspection.finding]]
kind = "broken wires"
at = "{at}"
at_err = "± 0.05 m"
breaks = [{{ at = "0 mm", strand = 2 }}, {{ at = "30 mm", strand = 3 }}]
"""

WAVE = """
[[inspection]]
kind = "periodic"
on = 2026-11-09

[[inspection.finding]]
kind = "waviness"
at = "{at}"
at_err = "± 0.05 m"
gap = "4 mm"
"""


def rulings(more: str, clause: str, rest: str = TROLLEY) -> list[Ruling]:
    dossier = read_case(case_text(rest, more=more), file="case.toml").dossier
    found = judge(dossier, SHELF, DAY, software="test").rulings
    return [one for one in found if one.rule_set == "iso-4309-2017" and one.clause_id == clause]


@pytest.mark.parametrize(
    ("at", "statuses"),
    [("20 m", {"reached"}), ("100 m", set()), ("169.5 m", {"reached"})],
    ids=["never spools", "spools", "dead wraps do not spool on and off"],
)
def test_bunched_breaks_are_judged_where_rope_does_not_spool(at: str, statuses: set[str]) -> None:
    """Published (ISO 4309:2017, Table 2): two breaks in one or neighbouring strands where rope
    does not spool on and off the drum."""
    made = rulings(TWO_BREAKS.format(at=at), "bunched")
    assert {one.status for one in made if one.finding_ids} == statuses


def test_a_wave_is_judged_as_on_straight_rope_only_where_rope_never_bends() -> None:
    """By hand: 4 mm of a 20 mm rope is more than a tenth of it and less than a third."""
    near_a, on_jib = (
        {one.status for name in ("wave-bending", "wave-straight")
         for one in rulings(WAVE.format(at=at), name) if one.finding_ids}
        for at in ("0.1 m", "20 m")
    )  # fmt: skip
    assert Fraction(4, 20) > Fraction(1, 10)
    assert near_a == {"below"}
    assert on_jib == {"reached"}
