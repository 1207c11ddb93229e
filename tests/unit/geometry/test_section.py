"""Sections and sets of sections, against a grid that is coloured in cell by cell."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.errors import InputError
from ropewright.geometry import Section, covered_length, subtract, union

CELLS = 24

# whole metres, so that every section is a run of whole cells of one metre
whole_sections = st.lists(
    st.tuples(st.integers(0, CELLS), st.integers(0, CELLS)).map(
        lambda ends: Section(float(min(ends)), float(max(ends)))
    ),
    max_size=8,
)
real = st.floats(-500, 500).map(lambda x: round(x, 6))
real_sections = st.lists(
    st.tuples(real, real).map(lambda ends: Section(min(ends), max(ends))), max_size=8
)


def cells(sections: list[Section] | tuple[Section, ...]) -> set[int]:
    """Cells of one metre that lie inside."""
    return {
        cell
        for cell in range(CELLS)
        if any(one.from_m <= cell and cell + 1 <= one.to_m for one in sections)
    }


@given(whole_sections)
def test_union_colours_the_same_cells(sections: list[Section]) -> None:
    merged = union(sections)
    assert cells(merged) == cells(sections)
    assert covered_length(sections) == len(cells(sections))


@given(whole_sections)
def test_union_is_sorted_and_has_gaps(sections: list[Section]) -> None:
    merged = union(sections)
    assert list(merged) == sorted(merged)
    for left, right in itertools.pairwise(merged):
        assert left.to_m < right.from_m
    assert union(merged) == merged
    assert union(reversed(sections)) == merged


@given(whole_sections, whole_sections)
def test_subtract_takes_exactly_the_cells_away(whole: list[Section], parts: list[Section]) -> None:
    left = subtract(whole, parts)
    assert cells(left) == cells(whole) - cells(parts)
    assert all(one.length_m > 0 for one in left)
    assert covered_length(left) == len(cells(whole) - cells(parts))


@given(real_sections, real_sections)
def test_what_is_left_and_what_is_taken_make_up_the_whole(
    whole: list[Section], parts: list[Section]
) -> None:
    left = subtract(whole, parts)
    taken = subtract(whole, left)
    # each cut may drop a sliver under a nanometre
    slack = 1e-9 * (len(whole) + len(parts) + 1) * 4
    total = covered_length(left) + covered_length(taken)
    assert total == pytest.approx(covered_length(whole), abs=slack)
    assert covered_length(union([*left, *parts])) >= covered_length(whole) - slack


def test_sections_that_touch_become_one() -> None:
    assert union([Section(0, 5), Section(5, 7)]) == (Section(0, 7),)
    # closer than a nanometre counts as touching
    assert union([Section(0, 5), Section(5 + 5e-10, 7)]) == (Section(0, 7),)
    assert union([Section(0, 5), Section(5 + 2e-9, 7)]) == (Section(0, 5), Section(5 + 2e-9, 7))


def test_slivers_under_a_nanometre_are_not_left_over() -> None:
    assert subtract([Section(0, 10)], [Section(5e-10, 10 - 5e-10)]) == ()
    assert subtract([Section(0, 10)], []) == (Section(0, 10),)


def test_a_point_overlaps_what_it_touches_and_has_no_length() -> None:
    point = Section(5, 5)
    assert point.length_m == 0
    assert point.overlaps(Section(5, 6))
    assert point.overlaps(Section(4, 5))
    assert not point.overlaps(Section(5.1, 6))
    assert Section(4, 6).contains(point)
    assert subtract([point], []) == ()


def test_contains_is_to_a_nanometre() -> None:
    assert Section(1, 2).contains(Section(1 - 5e-10, 2 + 5e-10))
    assert not Section(1, 2).contains(Section(1 - 2e-9, 2))


def test_widened_is_longer_at_both_ends() -> None:
    assert Section(10, 12).widened(1.5) == Section(8.5, 13.5)


@pytest.mark.parametrize(("start", "end"), [(2.0, 1.0), (float("nan"), 1.0), (0.0, float("inf"))])
def test_impossible_sections_are_refused(start: float, end: float) -> None:
    with pytest.raises(InputError, match="section"):
        Section(start, end)
