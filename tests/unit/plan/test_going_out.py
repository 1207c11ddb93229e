"""Where a person goes out to rope at rest, a rope that holds the jib, numbers that do not agree."""

from dataclasses import replace

import pytest

from ropewright.demo import demo_case
from ropewright.desk.planned import plan_for
from ropewright.geometry import wound
from ropewright.inspection import Dossier, hoist_on
from ropewright.intake import PackageShelf, read_case
from ropewright.plan import InspectionPlan
from ropewright.plan.doubts import WRAPS_OVER, dead_wraps_words
from ropewright.plan.resting import most_rope_off
from ropewright.plan.walkways import hangs_free, lies_on_arm
from tests.unit.plan.cranes import CRANES, DAY, LUFFING, TELESCOPIC, crane

SHELF = PackageShelf()


def plan_of(dossier: Dossier) -> InspectionPlan:
    return plan_for(dossier, SHELF, DAY, software="test")[0]


def along(span: str) -> str:
    return f'\n[[rigging.point]]\nname = "beside it"\nalong = "{span}"\nby_hand = true\n'


def test_nobody_goes_along_a_boom_unless_it_is_down_and_in() -> None:
    dossier = crane(TELESCOPIC + along("along the boom"), falls=4, low="0.5 m", high="33 m",
                    length="230 m")  # fmt: skip
    travel = hoist_on(dossier, DAY).hoist.travel
    plan = plan_of(dossier)
    walks = [one for one in plan.views if one.how == "walk"]
    assert walks
    assert {(one.start.boom_m, one.start.boom_deg) for one in walks} == {
        (travel.boom_min_m, travel.boom_min_deg)
    }
    assert len({one.start.hook_m for one in walks}) > 1  # the hook may stand anywhere
    for reach in (one for found in plan.again for one in found.reaches):
        if reach.place == "beside it" and reach.position is not None:
            assert reach.position.boom_deg == travel.boom_min_deg
    steps = [one for one in plan.steps if "rope at rest" in one.title]
    assert steps
    assert all(any("at its lowest" in words for words in one.cautions) for one in steps)


def test_along_a_luffing_jib_it_is_at_its_lowest() -> None:
    dossier = crane(LUFFING + along("to the A-frame"), falls=1, high="86 m", length="190 m")
    hoist = hoist_on(dossier, DAY).hoist
    walks = [one for one in plan_of(dossier).views if one.how == "walk"]
    assert walks
    assert {one.start.jib_deg for one in walks} == {hoist.travel.jib_min_deg}
    assert all(one.on_lowered_arm for one in walks)


def test_falls_hang_free_and_only_a_work_basket_gets_there() -> None:
    dossier = crane(LUFFING + along("fall 1"), falls=1, high="86 m", length="190 m")
    plan = plan_of(dossier)
    walks = [one for one in plan.views if one.how == "walk"]
    assert walks
    assert all(one.from_basket and "work basket" in one.travel for one in walks)
    (step, *_) = [one for one in plan.steps if "rope at rest" in one.title]
    assert "a work basket" in step.title
    assert any("nobody walks there" in words for words in step.cautions)


def test_what_hangs_and_what_lies_on_the_jib_is_told_from_the_path() -> None:
    """By hand: falls hang; only what lies on a jib or boom that moves needs it lowered."""
    expected = {
        "trolley-jib": ({"fall 1", "fall 2"}, set()),
        "luffing-jib": ({"fall 1"}, {"to the A-frame"}),
        "telescopic": ({"fall 1", "fall 2", "fall 3", "fall 4"}, {"along the boom"}),
    }
    for kind, (falls, on_arm) in expected.items():
        hoist = hoist_on(CRANES[kind](), DAY).hoist
        names = {one.name for one in hoist.reeving.spans}
        assert {one for one in names if hangs_free(hoist, one)} == falls
        assert {one for one in names if lies_on_arm(hoist, one)} == on_arm
        assert not hangs_free(hoist, "no such span")
        assert not lies_on_arm(hoist, "no such span")


def test_falls_of_a_luffing_rope_hang_too() -> None:
    hoist = hoist_on(luffing_rope(), DAY).hoist
    falls = [one.name for one in hoist.reeving.spans if one.per_tie]
    assert falls
    assert all(hangs_free(hoist, one) for one in falls)


def luffing_rope() -> Dossier:
    return read_case(demo_case("KQ-2-luffing"), file="KQ-2-luffing").dossier


def test_a_luffing_rope_is_paid_out_by_the_jib_and_holds_it() -> None:
    plan = plan_of(luffing_rope())
    titles = [one.title for one in plan.steps]
    assert "Lower the block" not in titles
    assert any("Lower the jib" in one for one in titles)
    for title in ("Stop, isolate, lock, try", "Gauges and counts, on isolated rope"):
        step = plan.steps[titles.index(title)]
        assert any("the jib is pinned or laid down" in words for words in step.cautions)
    hoist_plan = plan_of(CRANES["luffing-jib"]())
    said = [words for one in hoist_plan.steps for words in one.cautions]
    assert not any("This rope holds the jib" in words for words in said)


@pytest.mark.parametrize(
    ("over", "says"),
    [(0.0, ""), (WRAPS_OVER, ""), (9.0, "longer than needed"), (-7.0, "too little rope")],
    ids=["agree", "rope in hand", "many more", "fewer"],
)
def test_dead_wraps_stated_and_worked_out_are_compared(over: float, says: str) -> None:
    rigged = hoist_on(CRANES["trolley-jib"](), DAY)
    position = most_rope_off(rigged.hoist)
    assert position is not None
    left = wound(rigged.hoist, position)
    # by hand: an ordinary ± of a rope this long is below three wraps
    stated = max(left.turns - over, 0.0)
    known = replace(rigged, rigging=replace(rigged.rigging, dead_wraps=stated))
    words = dead_wraps_words(known)
    assert (says in words) if says else not words
    if says:
        assert f"{left.turns:.1f}" in words


def test_the_doubt_stands_on_the_plan_and_in_the_step() -> None:
    dossier = CRANES["trolley-jib"]()
    wrong = replace(dossier, rigging=(replace(dossier.rigging[0], dead_wraps=60.0),))
    plan = plan_of(wrong)
    (words,) = plan.doubts
    assert words.startswith("dead wraps: 60 stated")
    (step,) = [one for one in plan.steps if one.title == "Lower the block"]
    assert any("60 stated" in one for one in step.words)
    assert plan_of(dossier).doubts == ()
