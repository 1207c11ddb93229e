"""What can be chosen on the rope chart agrees with what is said of the same place elsewhere."""

from dataclasses import replace
from datetime import date

import pytest

from ropewright.demo import DEMO_DAY, demo_case
from ropewright.desk import bring_back
from ropewright.desk.chart_places import (
    ChartPlaces,
    chart_key,
    chart_places,
    is_on_chart,
    missing_words,
    trouble_on,
)
from ropewright.desk.judging import judge
from ropewright.desk.planned import plan_for
from ropewright.errors import InputError, InputErrors
from ropewright.inspection import Dossier
from ropewright.intake import PackageShelf, read_case
from ropewright.rules import Assessment
from ropewright.web.catalogue import load_texts
from ropewright.web.views.chart import changes

SHELF = PackageShelf()
NAMES = ("KQ-1", "KQ-2", "KQ-3", "KQ-4")
Known = tuple[Dossier, Assessment, ChartPlaces]


@pytest.fixture(scope="module")
def known() -> dict[str, Known]:
    made = {}
    for name in NAMES:
        dossier = read_case(demo_case(name), file=name, known_rules=SHELF.names()).dossier
        found = judge(dossier, SHELF, DEMO_DAY, software="test")
        made[name] = (dossier, found, chart_places(dossier, found, SHELF, DEMO_DAY))
    return made


# other program: 'ropewright where --bring-back' asks the same of the geometry by another way in
@pytest.mark.parametrize("name", NAMES)
def test_the_way_back_is_the_one_that_is_told_of_a_place_by_itself(
    name: str, known: dict[str, Known]
) -> None:
    dossier, _, found = known[name]
    told = 0
    for one in found.places:
        if one.finding is not None:
            back = bring_back(dossier, one.finding.finding_id, DEMO_DAY)
        elif one.mark is not None:
            back = bring_back(dossier, f"mark {one.mark.name}", DEMO_DAY)
        else:
            continue
        told += 1
        assert one.reaches == back.reaches
        assert bool(one.hand_off) >= bool(back.cautions)  # never less careful
    assert told >= 2
    assert found.missing == ""


# by hand: what lies over broken wires that stand out is no place for a hand, whatever it is
@pytest.mark.parametrize("name", ["KQ-1", "KQ-4"])
def test_a_hand_is_off_wherever_wires_stand_out(name: str, known: dict[str, Known]) -> None:
    found = known[name][2].places
    wires = [one for one in found if one.finding is not None and one.hand_off]
    assert wires
    over = [
        one
        for one in found
        if one.kind in ("trouble", "ruling")
        and any(part.overlaps(each.sections[0]) for part in one.sections for each in wires)
    ]
    assert {one.kind for one in over} == {"trouble", "ruling"}
    assert all(one.hand_off for one in over)
    far = [one for one in found if one.kind == "trouble" and not one.hand_off]
    assert far  # and elsewhere nothing is said to stand out


@pytest.mark.parametrize("name", NAMES)
def test_every_finding_mark_and_worst_place_is_there_once(
    name: str, known: dict[str, Known]
) -> None:
    dossier, assessment, found = known[name]
    keys = [one.key for one in found.places]
    assert len(keys) == len(set(keys))
    wanted = {chart_key("mark", one.name) for one in dossier.marks}
    wanted |= {chart_key("ruling", one.ruling_id) for one in assessment.rulings if is_on_chart(one)}
    wanted |= {chart_key("finding", one.finding_id) for one in dossier.inspections[-1].findings}
    assert wanted <= set(keys)


@pytest.mark.parametrize("name", NAMES)
def test_trouble_spots_lie_where_the_plan_has_them(name: str, known: dict[str, Known]) -> None:
    dossier, _, found = known[name]
    plan, _ = plan_for(dossier, SHELF, DEMO_DAY, software="test")
    quick = trouble_on(dossier, SHELF, DEMO_DAY)
    assert [replace(one, reach=None) for one in plan.trouble] == list(quick)
    placed = [one for one in plan.trouble if one.sections]
    assert [one.spot for one in found.places if one.kind == "trouble"] == placed


def test_where_the_path_is_not_known_it_says_what_to_give(known: dict[str, Known]) -> None:
    dossier, assessment, _ = known["KQ-1"]
    bare = replace(dossier, rigging=())
    said = trouble_on(bare, SHELF, DEMO_DAY)
    assert isinstance(said, str)
    assert said.startswith("not known where: give ")
    found = chart_places(bare, assessment, SHELF, DEMO_DAY)
    assert found.missing == said
    assert [one for one in found.places if one.kind == "trouble"] == []
    first = next(one for one in found.places if one.kind == "finding")
    assert first.reaches == ()
    assert first.drum is None


def test_several_missing_numbers_are_all_named() -> None:
    falls = InputError(field="falls", expected="the falls", given=None)
    hook = InputError(field="hook", expected="the hook heights", given=None)
    both = InputErrors([falls, hook])
    said = missing_words(both)
    assert said == "not known where: give the falls; not known where: give the hook heights"


def test_a_key_has_no_blank_whatever_the_name() -> None:
    assert chart_key("mark", "tape 7/8 é") == "mark/tape%207%2F8%20%C3%A9"
    assert " " not in chart_key("finding", "a\ud800 b")


# by hand: 215 m; 2.4 m and then 3.0 m off end A, both before the rope was turned
def test_cuts_and_the_turn_are_told_with_the_rope_they_took(known: dict[str, Known]) -> None:
    history = known["KQ-3"][0].history
    found = changes(history, load_texts())
    assert [one.on for one in found] == [
        date(2025, 9, 15), date(2026, 3, 16), date(2026, 6, 22)
    ]  # fmt: skip
    first, second, turn = found
    assert first.section is not None
    assert second.section is not None
    ends = [first.section.from_m, first.section.to_m, second.section.from_m, second.section.to_m]
    assert ends == pytest.approx([0.0, 2.4, 2.4, 5.4])
    assert turn.section is None
    for one in (first, second):
        assert one.section is not None
        middle = (one.section.from_m + one.section.to_m) / 2
        assert history.cut_off_on(middle) == one.on
