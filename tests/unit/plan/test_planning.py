"""The plan of the demo rope: what is covered, what is not, and where a hand may be."""

import itertools
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.demo import demo_case
from ropewright.desk.planned import plan_for
from ropewright.geometry import Section, covered_length, subtract
from ropewright.intake import PackageShelf, read_case
from ropewright.plan import FIRST, Choice, InspectionPlan, smallest_cover

SHELF = PackageShelf()
DAY = date(2026, 11, 10)


@pytest.fixture(scope="module")
def plan() -> InspectionPlan:
    """The plan of an inspection of KQ-1."""
    dossier = read_case(demo_case("KQ-1"), file="KQ-1", known_rules=SHELF.names()).dossier
    return plan_for(dossier, SHELF, DAY, software="test")[0]


def test_what_is_not_seen_is_said_and_the_rest_is_covered(plan: InspectionPlan) -> None:
    """By hand: passes and what stays unseen make up the whole rope, nothing is left between."""
    whole = [Section(0.0, 420.0)]
    for method in ("eye", "feel"):
        seen = [part for one in plan.passes if one.method == method for part in one.view.sections]
        unseen = [one.section for one in plan.unseen if one.method == method]
        assert covered_length(subtract(whole, [*seen, *unseen])) == pytest.approx(0.0, abs=0.02)


def test_dead_wraps_stay_unseen_and_it_is_said_how_to_get_at_them(plan: InspectionPlan) -> None:
    last = [one for one in plan.unseen if one.section.to_m == pytest.approx(420.0)]
    assert last
    assert all(one.how for one in last)


def test_no_hand_where_wires_stand_out(plan: InspectionPlan) -> None:
    """Common practice, no source: never feel rope with known protruding wires as it runs."""
    off = [one.section for each in plan.passes for one in each.hands_off]
    assert any(one.from_m <= 296.1 and one.to_m >= 296.6 for one in off)


def test_a_hand_pass_with_moving_rope_has_a_direction_away_from_the_nip(
    plan: InspectionPlan,
) -> None:
    """Geometry proves the direction (tests/simulator); here it must be printed."""
    moving = [one for one in plan.passes if one.method == "feel" and one.view.axis is not None]
    assert moving
    for one in moving:
        assert one.view.direction is not None
        assert "runs away" in one.view.direction.words


def test_the_work_begins_with_report_and_holds_and_carries_its_cautions(
    plan: InspectionPlan,
) -> None:
    words = " ".join(" ".join((one.title, *one.words, *one.cautions)) for one in plan.steps).lower()
    for needed in ("stop word", "isolate", "fall protection", "glove", "silence is stop"):
        assert needed in words, needed
    assert plan.steps[0].title.lower().startswith("last report")
    assert "competent person" in str(FIRST)


@given(
    st.lists(
        st.builds(
            lambda start, length, minutes: Choice(
                sections=(Section(float(start), float(start + length)),), minutes=float(minutes)
            ),
            st.integers(0, 18), st.integers(1, 8), st.integers(1, 9),
        ),
        min_size=1, max_size=7,
    )
)  # fmt: skip
def test_the_passes_are_the_fewest(choices: list[Choice]) -> None:
    """Against brute force over all sets of choices: none smaller covers as much."""
    whole = Section(0.0, 26.0)
    chosen = smallest_cover(choices, whole)
    everything = covered_length([part for one in choices for part in one.sections])
    assert covered_length(
        [part for number in chosen for part in choices[number].sections]
    ) == pytest.approx(everything)
    for size in range(len(chosen)):
        for subset in itertools.combinations(choices, size):
            assert covered_length([p for one in subset for p in one.sections]) < everything - 1e-9
