"""How far an inspection has come, against a count in steps of a metre (by hand)."""

from dataclasses import replace
from datetime import date
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.demo import demo_case
from ropewright.desk.planned import plan_for
from ropewright.desk.progress import progress_of
from ropewright.geometry import Section
from ropewright.inspection import Dossier, ExaminedItem, HiddenSection, Inspection, Pass
from ropewright.inspection.inspection import ItemState
from ropewright.intake import PackageShelf, read_case
from ropewright.plan import InspectionPlan

DAY = date(2026, 11, 10)


@cache
def planned() -> tuple[Dossier, InspectionPlan]:
    """The plan of the trolley-jib demo crane, whose path is known."""
    shelf = PackageShelf()
    case = read_case(demo_case("KQ-1"), file="KQ-1.toml", known_rules=shelf.names())
    return case.dossier, plan_for(case.dossier, shelf, DAY, software="test")[0]


def begun(*passes: Pass, hidden: tuple[Section, ...] = ()) -> Inspection:
    return replace(
        planned()[0].inspections[-1],
        passes=passes,
        hidden=tuple(HiddenSection(section=one) for one in hidden),
        examined=(),
    )


def test_nothing_is_done_before_the_first_pass() -> None:
    _, plan = planned()
    found = progress_of(plan, begun())
    assert {one.done_m for one in found.passes} == {0.0}
    assert not found.is_done
    assert set(found.parts_left) == {one.item for one in plan.parts}
    assert found.parts_left


def test_a_pass_over_all_of_it_leaves_nothing_but_what_grease_hid() -> None:
    _, plan = planned()
    whole = [Pass(method=one, section=Section(0.0, 420.0)) for one in ("eye-round", "feel")]
    clean = progress_of(plan, begun(*whole))
    assert all(one.left == () and one.share == 1.0 for one in clean.passes)
    greasy = progress_of(plan, begun(*whole, hidden=(Section(118.0, 131.0),)))
    left = {one.method: one.left for one in greasy.passes if one.left}
    assert left == {"eye": (Section(118.0, 131.0),)}  # a hand feels through grease


def test_a_part_that_was_not_seen_is_still_to_be_looked_at() -> None:
    _, plan = planned()
    item = plan.parts[0].item
    states: dict[ItemState, bool] = {"seen": False, "not fitted": False, "not seen": True}
    for state, left in states.items():
        looked = replace(begun(), examined=(ExaminedItem(item=item, state=state),))
        assert (item in progress_of(plan, looked).parts_left) is left


@given(st.lists(st.tuples(st.integers(0, 419), st.integers(1, 200)), max_size=5))
def test_the_rope_done_is_counted_once(runs: list[tuple[int, int]]) -> None:
    """The shares of all passes of a method together are the rope of the plan that was felt."""
    _, plan = planned()
    passes = [Pass(method="feel", section=Section(float(a), float(a + b))) for a, b in runs]
    found = [one for one in progress_of(plan, begun(*passes)).passes if one.method == "feel"]
    tenths = [
        at / 10 + 0.05
        for at in range(4200)
        if any(a <= at / 10 + 0.05 <= a + b for a, b in runs)
        and any(part.contains(Section(at / 10 + 0.05, at / 10 + 0.05))
                for one in found for part in one.shows)
    ]  # fmt: skip
    assert sum(one.done_m for one in found) == pytest.approx(len(tenths) / 10, abs=0.5)
    assert all(0 <= one.done_m <= one.whole_m + 1e-9 for one in found)
