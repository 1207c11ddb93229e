"""The sheet that goes along, rests between the ends of travel, and what the lists bear on."""

import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from ropewright.demo import demo_case
from ropewright.desk.planned import plan_for
from ropewright.geometry import Section, SeenAtPoint, covered_length, locate, subtract
from ropewright.inspection import Dossier, hoist_on
from ropewright.intake import PackageShelf, load_case, read_case
from ropewright.plan import AT_REST, FIRST, InspectionPlan, plan_sheet
from ropewright.plan.trouble import listed_in
from ropewright.rules import ASSUMPTIONS, clauses_bearing
from tests.unit.plan.cranes import CRANES, DAY, TROLLEY, crane, telescopic, trolley_jib, twin_drum

SHELF = PackageShelf()
SHAFT = Path(__file__).parents[3] / "examples" / "shaft-hoist-spans.toml"


def planned(dossier: Dossier, on: date = DAY) -> InspectionPlan:
    return plan_for(dossier, SHELF, on, software="test")[0]


def demo() -> Dossier:
    return read_case(demo_case("KQ-1"), file="KQ-1", known_rules=SHELF.names()).dossier


KINDS: dict[str, Callable[[], Dossier]] = {
    **CRANES,
    "KQ-1": demo,
    "shaft": lambda: load_case(SHAFT).dossier,
}


@pytest.mark.parametrize("kind", KINDS)
def test_the_sheet_keeps_every_pass_every_gap_and_every_hand_off(kind: str) -> None:
    """By hand: merging rows may lose no rope, no minute and no HAND OFF."""
    plan = planned(KINDS[kind]())
    sheet = plan_sheet(plan)
    for method in ("eye", "feel"):
        whole = [part for one in plan.passes if one.method == method for part in one.view.sections]
        kept = [part for row in sheet.passes if method in row.methods for part in row.shows]
        assert covered_length(subtract(whole, kept)) == pytest.approx(0.0, abs=1e-9)
        gaps = [one.section for one in plan.unseen if one.method == method]
        said = [part for row in sheet.gaps if method in row.methods for part in row.sections]
        assert sorted(gaps) == sorted(said)
    assert sum(row.minutes for row in sheet.passes) == pytest.approx(plan.minutes)
    off = sum(len(one.hands_off) for one in plan.passes)
    assert sum(len(row.hands_off) for row in sheet.passes) == off
    assert len(sheet.finds) == len(plan.again)


@pytest.mark.parametrize("kind", KINDS)
def test_the_sheet_carries_the_cautions_of_the_rope_that_runs(kind: str) -> None:
    sheet = plan_sheet(planned(KINDS[kind]()))
    said = " ".join(sheet.cautions)
    assert sheet.cautions[-1] == FIRST
    for words in ("Nobody alone", "Silence is stop", "Isolation comes before", "no bars, no hands"):
        assert words in said
    if any("feel" in row.methods and row.hand != AT_REST for row in sheet.passes):
        assert "never wrapped round hand or rope" in said
    else:
        assert "No hand on moving rope" in said or all(row.hand == AT_REST for row in sheet.passes)


def test_a_walkway_shows_rope_between_the_ends_of_the_travel_too() -> None:
    """By hand: with the hook between 3 m and 0 m every metre from 7.4 to 23 m lies up there."""
    plan = planned(load_case(SHAFT).dossier)
    walks = [one.view for one in plan.passes if one.method == "eye" and one.view.how == "walk"]
    seen = [part for view in walks for part in view.sections]
    assert covered_length(subtract([Section(7.6, 23.0)], seen)) < 0.01
    assert all(view.start.hook_m is not None and view.start.hook_m <= 5.0 for view in walks)


def test_a_twin_drum_has_its_end_a_at_the_first_clamp() -> None:
    spots = [one for one in planned(twin_drum()).trouble if one.item == "end A fitting"]
    assert len(spots) == 1
    assert "drum A" in spots[0].words
    assert spots[0].sections == (Section(0.0, 2.0),)


# --- Reverse bends ----------------------------------------------------------------------------


def bends(more: str) -> list[str]:
    rest = TROLLEY.replace('to_drum = "11 m"', f'to_drum = "11 m"\n{more}')
    return [one.words for one in planned(crane(rest)).trouble if one.item == "reverse bends"]


def test_bends_nobody_stated_are_asked_for_and_not_taken_for_none() -> None:
    plan = planned(trolley_jib())
    asked = {one.key for one in plan.asked}
    assert {"reeving.root_bend", "reeving.drum_bend"} <= asked
    said = [one.words for one in plan.trouble if one.item == "reverse bends"]
    assert sum("not stated" in words for words in said) == 2


@pytest.mark.parametrize(
    ("root", "drum", "expected"),
    [
        ("same way", "same way", []),
        ("other way", "same way", ["inner trolley sheave, the other way at the root sheave"]),
        ("same way", "other way", ["root sheave, the other way on the drum"]),
        (
            "other way",
            "other way",
            ["inner trolley sheave, the other way at the root sheave", "root sheave, the other"],
        ),
    ],
)
def test_a_reverse_bend_is_found_where_the_sense_turns(
    root: str, drum: str, expected: list[str]
) -> None:
    said = bends(f'root_bend = "{root}"\ndrum_bend = "{drum}"')
    at_lead = [words for words in said if "root sheave" in words or "drum" in words]
    assert len(at_lead) == len(expected)
    for words, part in zip(at_lead, expected, strict=True):
        assert part in words


# --- Lists ------------------------------------------------------------------------------------


def test_a_list_for_another_kind_of_rope_names_nothing_here() -> None:
    """29 CFR 1926.1413(a)(3) asks for reverse bends and flange points of running ropes."""
    dossier = trolley_jib()
    rule_set = SHELF.get("us-29cfr-1926-1413")
    standing = replace(dossier, installation=replace(dossier.installation, use="standing"))
    running = {one.clause_id for one in clauses_bearing(dossier, rule_set, DAY)}
    still = {one.clause_id for one in clauses_bearing(standing, rule_set, DAY)}
    assert running != still
    limited = replace(
        rule_set,
        clauses=tuple(
            replace(one, when=replace(one.when, purposes=("luffing",))) for one in rule_set.clauses
        ),
    )
    assert any(listed_in([rule_set], dossier, DAY).values())
    assert not any(listed_in([limited], dossier, DAY).values())


def test_a_list_not_yet_in_force_names_nothing() -> None:
    rule_set = SHELF.get("us-29cfr-1926-1413")
    assert rule_set.in_force_from is not None
    before = date(rule_set.in_force_from.year - 1, 1, 1)
    assert not any(listed_in([rule_set], telescopic(), before).values())


# --- Assumptions ------------------------------------------------------------------------------


def test_the_register_holds_the_rows_of_every_room() -> None:
    from ropewright.desk import assumption_register

    groups = assumption_register()
    ids = [row.assumption_id for group in groups for row in group.rows]
    assert len(ids) == len(set(ids))
    assert {one.assumption_id for one in ASSUMPTIONS} <= set(ids)
    assert {one.assumption_id for one in planned(trolley_jib()).assumptions} <= set(ids)
    assert "place-contradiction" in ids
    for group in groups:
        for row in group.rows:
            assert row.says, row.assumption_id
            assert row.effect, row.assumption_id
            assert row.shows, row.assumption_id


# --- Hand off, for whatever moves --------------------------------------------------------------


@pytest.mark.parametrize("name", ["KQ-1", "KQ-2-luffing"])
def test_the_hand_is_off_while_the_place_and_its_error_go_past(name: str) -> None:
    """Second formulation: the ends of the range, located again, are the ends of the section."""
    dossier = read_case(demo_case(name), file=name, known_rules=SHELF.names()).dossier
    rigged = hoist_on(dossier, DAY)
    off = [
        (one.view, each)
        for one in planned(dossier).passes
        for each in one.hands_off
        if one.view.axis is not None
    ]
    assert off
    for view, each in off:
        found = re.search(r"(\d+\.\d) to (\d+\.\d) (m|deg)$", each.crane)
        assert found, each.crane
        (point,) = [one.point for one in rigged.rigging.points if one.name == view.place]
        assert point is not None
        ends = []
        for value in (float(found[1]), float(found[2])):
            at = replace(view.start, **{view.axis or "hook_m": value})
            ends.append(locate(SeenAtPoint(point=point, position=at), rigged.hoist).at_m)
        wide = each.section.widened(view.err_m)
        rope = sorted(dossier.history.at(DAY).to_rope_m(end) for end in ends)
        # The range is printed to 0.1 m or 0.1 degree; so much is rope_per_axis times that.
        slack = 0.051 * view.rope_per_axis + 0.01
        assert rope[0] == pytest.approx(wide.from_m, abs=slack)
        assert rope[1] == pytest.approx(wide.to_m, abs=slack)
