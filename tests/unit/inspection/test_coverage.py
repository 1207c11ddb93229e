"""Which sections count as seen or felt; expected figures are by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.geometry import Section, covered_length
from ropewright.inspection import (
    METHODS,
    HiddenSection,
    Inspection,
    Pass,
    covered,
    covered_by_all,
    felt_only,
    intersection,
    seen_only,
    unseen,
)
from ropewright.inspection.findings import Method
from tests.laws.building import LATEST, WHOLE, inspection

CELLS = 20
sections = st.lists(
    st.tuples(st.integers(0, CELLS), st.integers(0, CELLS)).map(
        lambda ends: Section(float(min(ends)), float(max(ends)))
    ),
    max_size=6,
)
methods = st.sampled_from(METHODS)


def cells(some: tuple[Section, ...] | list[Section]) -> set[int]:
    return {
        cell
        for cell in range(CELLS)
        if any(one.from_m <= cell and cell + 1 <= one.to_m for one in some)
    }


def looked(
    *passes: tuple[Method, float, float], hidden: tuple[float, float] | None = None
) -> Inspection:
    return inspection(
        "annual",
        LATEST,
        passes=tuple(Pass(method=m, section=Section(a, b)) for m, a, b in passes),
        hidden=() if hidden is None else (HiddenSection(section=Section(*hidden)),),
    )


@given(sections, sections)
def test_intersection_is_what_both_share(left: list[Section], right: list[Section]) -> None:
    shared = intersection(left, right)
    assert cells(shared) == cells(left) & cells(right)
    assert covered_length(shared) == len(cells(left) & cells(right))


def test_sections_that_only_touch_share_nothing() -> None:
    assert intersection([Section(0, 5)], [Section(5, 7)]) == ()
    assert intersection([Section(0, 5)], [Section(4, 7)]) == (Section(4, 5),)


def test_looking_all_round_includes_one_side_but_not_the_other_way() -> None:
    round_ = looked(("eye-round", 0, 200))
    one_side = looked(("eye", 0, 200))
    assert covered(round_, "eye") == (WHOLE,)
    assert covered(one_side, "eye-round") == ()


@pytest.mark.parametrize("method", METHODS)
def test_a_method_covers_what_it_went_over(method: Method) -> None:
    assert covered(looked((method, 5, 20), (method, 20, 30)), method) == (Section(5, 30),)


def test_what_is_hidden_was_not_seen_but_can_be_felt() -> None:
    one = looked(("eye-round", 0, 200), ("feel", 0, 200), hidden=(50, 60))
    assert covered(one, "eye") == (Section(0, 50), Section(60, 200))
    assert covered(one, "eye-round") == (Section(0, 50), Section(60, 200))
    assert covered(one, "feel") == (WHOLE,)
    assert covered_by_all(one, ("eye", "feel")) == (Section(0, 50), Section(60, 200))
    assert unseen(one, WHOLE) == ()


def test_only_what_every_method_went_over_counts() -> None:
    one = looked(("eye", 0, 120), ("feel", 80, 200))
    assert covered_by_all(one, ("eye", "feel")) == (Section(80, 120),)
    assert covered_by_all(one, ("eye", "feel", "mrt")) == ()
    assert covered_by_all(one, ()) == ()


def test_unseen_is_what_no_eye_and_no_hand_has_been_over() -> None:
    one = looked(("eye", 0, 100), ("feel", 90, 150), ("mrt", 0, 200), hidden=(20, 30))
    assert unseen(one, WHOLE) == (Section(20, 30), Section(150, 200))


def test_what_went_one_way_only_is_neither_unseen_nor_seen_and_felt() -> None:
    one = looked(("eye", 0, 100), ("feel", 90, 250), ("mrt", 0, 200), hidden=(95, 97))
    assert felt_only(one, WHOLE) == (Section(95, 97), Section(100, 200))
    assert seen_only(one, WHOLE) == (Section(0, 90),)


@given(
    st.lists(st.tuples(methods, st.integers(0, 20), st.integers(0, 20)), max_size=6),
    sections,
    methods,
)
def test_hiding_more_never_covers_more(
    passes: list[tuple[Method, int, int]], hidden: list[Section], method: Method
) -> None:
    one = inspection(
        "annual",
        LATEST,
        passes=tuple(
            Pass(method=m, section=Section(float(min(a, b)), float(max(a, b))))
            for m, a, b in passes
        ),
    )
    less = inspection(
        "annual",
        LATEST,
        passes=one.passes,
        hidden=tuple(HiddenSection(section=section) for section in hidden),
    )
    assert cells(covered(less, method)) <= cells(covered(one, method))
