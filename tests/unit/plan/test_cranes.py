"""Plans of cranes of every kind: sound everywhere, and right where a hand can check them."""

import itertools
import json

import pytest

from ropewright.desk.planned import plan_for
from ropewright.geometry import Section, covered_length, rope_past, subtract, union
from ropewright.inspection import Dossier, hoist_on
from ropewright.intake import PackageShelf
from ropewright.plan import InspectionPlan, places_of, plan_as_data
from tests.unit.plan.cranes import CRANES, DAY, by_payout, crane, telescopic, trolley_jib, twin_drum

SHELF = PackageShelf()


def plan_of(dossier: Dossier) -> InspectionPlan:
    return plan_for(dossier, SHELF, DAY, software="test")[0]


@pytest.mark.parametrize("kind", CRANES)
def test_a_plan_leaves_no_rope_unmentioned(kind: str) -> None:
    plan = plan_of(CRANES[kind]())
    for method in {one.method for one in plan.passes}:
        seen = [part for one in plan.passes if one.method == method for part in one.view.sections]
        unseen = [one.section for one in plan.unseen if one.method == method]
        # by hand: gaps of up to 5 cm are taken for closed, and there are at most a few of them
        assert covered_length(subtract([plan.service], [*seen, *unseen])) < 0.2
        assert all(one.why and one.how for one in plan.unseen)


@pytest.mark.parametrize("kind", CRANES)
def test_every_pass_shows_what_the_geometry_says_it_shows(kind: str) -> None:
    dossier = CRANES[kind]()
    hoist = hoist_on(dossier, DAY).hoist
    points = {one.name: one.point for one in places_of(hoist_on(dossier, DAY))}
    for one in plan_of(dossier).passes:
        point = points[one.view.place]
        assert point is not None
        past = rope_past(hoist, point, one.view.start, one.view.end)
        assert [round(part.from_m, 6) for part in past.sections] == [
            round(part.from_m, 6) for part in one.view.path
        ]


@pytest.mark.parametrize("kind", CRANES)
def test_no_hand_without_a_safe_direction(kind: str) -> None:
    for one in plan_of(CRANES[kind]()).passes:
        if one.method == "feel" and one.view.how == "run":
            direction = one.view.direction
            assert direction is not None
            assert direction.hand
            assert direction.ahead_m is not None
            assert direction.ahead_m >= 2.0  # own assumption of the plan
            start, end = one.view.start.hook_m, one.view.end.hook_m
            assert start is not None
            assert end is not None
            assert (end > start) == (direction.motion == "hook up")


@pytest.mark.parametrize("kind", CRANES)
def test_a_plan_is_plain_data(kind: str) -> None:
    plan = plan_of(CRANES[kind]())
    data = json.loads(json.dumps(plan_as_data(plan)))
    assert data["plan"] == 1
    assert len(data["steps"]) == len(plan.steps)


def test_a_short_boom_bounds_the_hook() -> None:
    """By hand: head of an 11 m boom at 82 degrees is 2.4 + 10.893 m up, the block stops 1.5 m
    below it: 11.793 m."""
    views = [one for one in plan_of(telescopic()).views if one.axis == "hook_m"]
    highest = {one.start.boom_m: one.end.hook_m for one in views if one.start.boom_deg == 82}
    assert highest[11.0] == pytest.approx(11.793, abs=5e-4)
    assert highest[34.0] == 33.0


def test_dead_wraps_of_a_twin_drum_lie_at_both_ends() -> None:
    dead = [one.section for one in plan_of(twin_drum()).unseen if one.why.startswith("dead")]
    assert [one.from_m == 0.0 for one in dead] == [True, False]
    # by hand: the two sides are alike
    assert dead[0].length_m == pytest.approx(dead[1].length_m)


def test_with_payout_alone_nothing_is_called_dead_wraps() -> None:
    plan = plan_of(by_payout())
    assert plan.by_payout
    assert {one.key for one in plan.asked} >= {"reeving.kind", "drum_diameter", "point"}
    assert not any("dead wraps" in one.why for one in plan.unseen)
    assert not any(one.method == "feel" for one in plan.passes)


WALKWAYS = """
[[rigging.point]]
name = "jib, outer part"
along = "from the jib tip"
by_hand = true

[[rigging.point]]
name = "jib, inner part"
along = "along the jib"
by_hand = true

[[rigging.point]]
name = "counter-jib"
along = "to the drum"
by_hand = true
"""


def test_walkways_close_the_gaps_of_a_tower_crane() -> None:
    """By hand: all but the dead wraps lie beside a walkway or come past the tower head."""
    plan = plan_of(trolley_jib(points=WALKWAYS))
    left = [one for one in plan.unseen if one.method == "eye"]
    assert [one.why.partition(":")[0] for one in left] == ["dead wraps"]
    assert len([one for one in plan.passes if one.method == "eye"]) == 4


def test_a_place_on_the_trolley_is_never_used_while_it_moves() -> None:
    point = """
[[rigging.point]]
name = "trolley basket"
at = "inner trolley sheave"
side = "after"
offset = "1 m"
by_hand = true
"""
    plan = plan_of(trolley_jib(points=point))
    mine = [one for one in plan.views if one.place == "trolley basket"]
    assert mine
    assert not any(one.usable for one in mine)
    assert "maker's means" in mine[0].why_not
    assert not any(one.view.place == "trolley basket" for one in plan.passes)


BREAKS = """
[[inspection]]
kind = "periodic"
on = 2026-11-09

[[inspection.finding]]
id = "F1"
kind = "broken wires"
at = "100 m"
at_err = "± 1 m"
breaks = [{{ at = "0 mm", strand = 3, protruding = {protruding} }}]
"""


@pytest.mark.parametrize(("protruding", "off"), [("true", True), ("false", False)])
def test_the_hand_comes_off_where_wires_stand_out(protruding: str, off: bool) -> None:
    plan = plan_of(trolley_jib(more=BREAKS.format(protruding=protruding)))
    feel = [one for one in plan.passes if one.method == "feel"]
    assert feel
    assert bool(feel[0].hands_off) is off
    if off:
        (one,) = feel[0].hands_off
        assert one.section == Section(99.0, 101.0)  # by hand: 100 m ± 1 m
        assert one.hook_from_m is not None
        assert one.hook_to_m is not None
        # by hand: 2 m of section and twice the ± of placing it, on two falls
        err = feel[0].view.err_m
        assert one.hook_to_m - one.hook_from_m == pytest.approx((2 + 2 * err) / 2)


def test_hook_heights_to_look_again_bring_the_place_to_the_point() -> None:
    plan = plan_of(trolley_jib(more=BREAKS.format(protruding="true")))
    (again,) = plan.again
    reach = again.reaches[0]
    feel = next(one for one in plan.passes if one.method == "feel").view
    assert feel.at_start_m is not None
    assert feel.at_end_m is not None
    assert feel.start.hook_m is not None
    # by hand: the path falls by 2 m for each metre the hook rises
    assert reach.hook_m == pytest.approx(feel.start.hook_m + (feel.at_start_m - 100.0) / 2)
    assert reach.direction is not None
    assert reach.direction.motion == "hook up"


def test_lists_are_named_and_their_provenance_goes_along() -> None:
    plan = plan_of(trolley_jib())
    flange = [one for one in plan.trouble if one.item == "flange points"]
    # 29 CFR 1926.1413(a)(3) names flange points; published, text seen
    assert {one.rule for spot in flange for one in spot.lists} == {"29 CFR 1926.1413"}
    assert {one.provenance for spot in flange for one in spot.lists} == {"text"}
    changes = [spot.sections[0] for spot in flange]
    assert all(one.to_m < other.from_m for one, other in itertools.pairwise(changes))


def test_a_single_layer_has_no_flange_points() -> None:
    """By hand: with one layer the rope never climbs; the list still names it, so it is left out."""
    plan = plan_of(twin_drum())
    assert not any(one.item in ("flange points", "crossovers") for one in plan.trouble)
    assert any(one.item == "equaliser" and one.sections for one in plan.trouble)


def test_rope_that_was_cut_off_is_said_to_be_gone() -> None:
    cut = """
[[mark]]
name = "1"
at = "3 m"

[[history]]
kind = "cut"
on = 2026-11-01
end = "A"
length = "5 m"
"""
    plan = plan_of(trolley_jib(more=cut))
    (mark,) = plan.again
    assert "cut off" in mark.words
    assert plan.service == Section(5.0, 170.0)
    # by hand: sections in rope position start 5 m later than on the path
    view = plan.passes[0].view
    assert union(view.sections)[0].from_m == pytest.approx(view.path[0].from_m + 5.0)


def test_nothing_known_asks_for_the_least() -> None:
    from ropewright.errors import InputError
    from tests.unit.plan.cranes import read

    text = (
        'schema = 1\ninvented = true\n[rope]\ndiameter = "16 mm"\nconstruction = "35(W)x7"\n'
        'length = "170 m"\n[installation]\nrules = ["iso-4309-2017"]\n'
    )
    with pytest.raises(InputError, match="falls and the lowest and highest hook height"):
        plan_of(read(text))
    with pytest.raises(InputError, match="what kind of path"):
        plan_of(crane(purpose="trolley"))
