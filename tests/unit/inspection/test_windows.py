"""Worst windows against a slow, obvious recomputation that tries every placement on a grid.

Expected figures: by hand where a number is written out; elsewhere the brute force below.
"""

import itertools
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations_with_replacement

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ropewright.errors import InputError
from ropewright.inspection import (
    CountedGroup,
    WorstWindow,
    nanometres,
    worst_window,
    worst_window_of_points,
)
from ropewright.inspection.windows import _arrays, _single, _small

MM = 1_000_000  # nanometres


def group(start: int, end: int | None = None, count: int = 1, err: int = 0) -> CountedGroup:
    return CountedGroup(from_nm=start, to_nm=start if end is None else end, count=count, err_nm=err)


def worst(groups: Sequence[CountedGroup], window: int) -> WorstWindow:
    found = worst_window(groups, window)
    assert found is not None
    return found


# ---- the slow recomputation ------------------------------------------------------------------


def most_in_any_window(places: Sequence[int], window: int) -> int:
    """Most places that one closed window of this length holds: try every place as its start."""
    return max(sum(1 for p in places if start <= p <= start + window) for start in places)


def placements(one: CountedGroup) -> Iterator[tuple[int, ...]]:
    """Every way the breaks of a group can really lie on the whole-number grid."""
    for shift in range(-one.err_nm, one.err_nm + 1):
        spots = range(one.from_nm + shift, one.to_nm + shift + 1)
        yield from combinations_with_replacement(spots, one.count)


def true_lower_on_grid(groups: Sequence[CountedGroup], window: int) -> int:
    """The least that the worst window can hold, over all placements on the grid."""
    ways = [sorted(set(placements(one))) for one in groups]
    return min(
        most_in_any_window([place for part in way for place in part], window)
        for way in itertools.product(*ways)
    )


def true_upper_on_grid(groups: Sequence[CountedGroup], window: int) -> int:
    """The most that any window can hold, over all placements on the grid."""
    first = min(one.from_nm - one.err_nm for one in groups) - window
    last = max(one.to_nm + one.err_nm for one in groups)
    return max(
        sum(
            one.count
            for one in groups
            if any(
                start <= place + shift <= start + window
                for shift in range(-one.err_nm, one.err_nm + 1)
                for place in range(one.from_nm, one.to_nm + 1)
            )
        )
        for start in range(first, last + 1)
    )


# ---- strategies ------------------------------------------------------------------------------

windows = st.integers(1, 5)
lengths = st.integers(1, 80) | st.sampled_from([20, 40, 60, 80])


@st.composite
def tiny_groups(draw: st.DrawFn) -> list[CountedGroup]:
    """Few breaks on a small grid, so that every placement can be tried."""
    return [
        group(
            start := draw(st.integers(0, 8)),
            start + draw(st.integers(0, 4)),
            draw(st.integers(1, 2)),
            draw(st.integers(0, 1)),
        )
        for _ in range(draw(st.integers(1, 3)))
    ]


def many_groups(most: int = 40, err: int = 20) -> st.SearchStrategy[list[CountedGroup]]:
    """Groups on a fine grid, or on one of 20 that the windows lie on too, so that ends touch."""

    def on_grid(step: int) -> st.SearchStrategy[list[CountedGroup]]:
        def upto(highest: int) -> st.SearchStrategy[int]:
            return st.integers(0, highest // step).map(lambda n: n * step)

        one = st.builds(
            lambda start, length, count, err: group(start - 200, start - 200 + length, count, err),
            upto(400),
            upto(60) | st.just(0),
            st.integers(0, 6),
            upto(err) | st.just(0),
        )
        return st.lists(one, max_size=most)

    return on_grid(1) | on_grid(20)


# ---- against the slow recomputation ----------------------------------------------------------


@given(tiny_groups(), windows)
def test_no_placement_holds_fewer_than_the_lower_count(
    groups: list[CountedGroup], window: int
) -> None:
    assert worst(groups, window).lower <= true_lower_on_grid(groups, window)


@given(tiny_groups(), windows)
def test_upper_count_is_the_most_that_any_placement_holds(
    groups: list[CountedGroup], window: int
) -> None:
    assert worst(groups, window).upper == true_upper_on_grid(groups, window)


@given(
    st.lists(st.tuples(st.integers(0, 30), st.integers(1, 3)), min_size=1, max_size=12),
    st.integers(1, 12),
)
def test_points_have_one_exact_count(points: list[tuple[int, int]], window: int) -> None:
    places = [place for place, count in points for _ in range(count)]
    found = worst([group(place, count=count) for place, count in points], window)
    assert found.lower == found.upper == most_in_any_window(places, window)
    held = sum(1 for place in places if found.from_nm <= place <= found.to_nm)
    assert held == found.upper
    assert found.to_nm - found.from_nm == window


@pytest.mark.parametrize("window", [1, 2, 3])
@pytest.mark.parametrize("length", [0, 1, 2, 3, 4, 6])
@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_lower_count_of_one_group_is_exact(length: int, window: int, count: int) -> None:
    # Four grid steps for each unit: breaks can then be spread a little more than a window apart,
    # which is the favourable case that the pigeonhole bound speaks of.
    steps = 4
    one = group(0, steps * length, count)
    found = worst([one], steps * window)
    assert found.lower == true_lower_on_grid([one], steps * window)
    assert found.upper == count


@given(many_groups(), lengths)
def test_small_and_array_paths_agree(groups: list[CountedGroup], window: int) -> None:
    held = [one for one in groups if one.count]
    if not held:
        assert worst_window(groups, window) is None
        return
    assert _small(held, window) == _arrays(held, window)
    if len(held) == 1:
        alone = _single(held[0], window)
        assert (alone.lower, alone.upper) == (
            _small(held, window).lower,
            _small(held, window).upper,
        )


@given(many_groups(), lengths, st.randoms(use_true_random=False))
def test_order_does_not_matter(groups: list[CountedGroup], window: int, rnd: object) -> None:
    shuffled = list(groups)
    rnd.shuffle(shuffled)  # type: ignore[attr-defined]
    assert worst_window(shuffled, window) == worst_window(groups, window)


@given(many_groups(), lengths, st.integers(-(10**12), 10**12))
def test_the_whole_rope_may_be_moved(groups: list[CountedGroup], window: int, by: int) -> None:
    moved = [group(g.from_nm + by, g.to_nm + by, g.count, g.err_nm) for g in groups]
    here, there = worst_window(groups, window), worst_window(moved, window)
    assert (here is None) == (there is None)
    if here is not None and there is not None:
        assert (there.lower, there.upper) == (here.lower, here.upper)


@given(many_groups(), lengths)
def test_the_window_shown_can_hold_the_upper_count(groups: list[CountedGroup], window: int) -> None:
    found = worst_window(groups, window)
    if found is None:
        return
    assert 1 <= found.lower <= found.upper
    assert found.to_nm - found.from_nm == window
    touched = sum(
        one.count
        for one in groups
        if one.from_nm - one.err_nm <= found.to_nm and one.to_nm + one.err_nm >= found.from_nm
    )
    assert touched == found.upper


# ---- worse evidence never narrows the two counts ---------------------------------------------


@given(many_groups(), lengths, st.integers(0, 30), st.integers(0, 30), st.data())
def test_a_coarser_count_never_lowers_the_upper_nor_raises_the_lower(
    groups: list[CountedGroup], window: int, before: int, after: int, data: st.DataObject
) -> None:
    held = [one for one in groups if one.count]
    if not held:
        return
    which = data.draw(st.integers(0, len(held) - 1))
    wider_err = data.draw(st.integers(0, 10))
    old = held[which]
    coarser = list(held)
    coarser[which] = group(
        old.from_nm - before, old.to_nm + after, old.count, old.err_nm + wider_err
    )
    fine, coarse = worst(held, window), worst(coarser, window)
    assert coarse.upper >= fine.upper
    assert coarse.lower <= fine.lower


@given(many_groups(), lengths, st.integers(1, 40))
def test_a_longer_window_holds_no_fewer(groups: list[CountedGroup], window: int, more: int) -> None:
    short, long = worst_window(groups, window), worst_window(groups, window + more)
    if short is not None and long is not None:
        assert long.lower >= short.lower
        assert long.upper >= short.upper


@given(many_groups(), many_groups(3), lengths)
def test_one_more_group_never_lowers_a_count(
    groups: list[CountedGroup], added: list[CountedGroup], window: int
) -> None:
    before, after = worst_window(groups, window), worst_window([*groups, *added], window)
    if before is not None:
        assert after is not None
        assert after.lower >= before.lower
        assert after.upper >= before.upper


# ---- windows are closed, places are exact ----------------------------------------------------


def inch(text: str) -> int:
    exact = Fraction(text) * Fraction(254, 10) * MM
    assert exact.denominator == 1  # a 64th of an inch is 396 875 nm exactly
    return int(exact)


@pytest.mark.parametrize(
    ("apart", "expected"),
    [
        (120 * MM, 2),  # by hand: exactly 6 d of a 20 mm rope, a closed window holds both
        (120 * MM + 1, 1),  # one nanometre more
        (120 * MM - 1, 2),
    ],
)
def test_breaks_exactly_one_window_apart_count_together(apart: int, expected: int) -> None:
    found = worst([group(0), group(apart)], 120 * MM)
    assert (found.lower, found.upper) == (expected, expected)


@pytest.mark.parametrize("numerator", [1, 3, 7, 63])
def test_inch_fractions_are_exact(numerator: int) -> None:
    # by hand: window of 6 d on a 3/4 in rope = 4 1/2 in; both breaks moved by 64ths of an inch
    window = 6 * inch("3/4")
    start = inch(f"{numerator}/64")
    assert worst([group(start), group(start + window)], window).lower == 2
    assert worst([group(start), group(start + window + inch("1/64"))], window).upper == 1


def test_ends_of_a_group_touch_a_window_too() -> None:
    # by hand: group 0..100, break at 220, window 120: window 100..220 touches both
    found = worst([group(0, 100, 3), group(220)], 120)
    assert found.upper == 4
    assert found.lower == 3


def test_errors_widen_what_may_lie_together() -> None:
    # by hand: 130 apart, errors 5 each: between 120 and 140 apart
    found = worst([group(0, err=5), group(130, err=5)], 120)
    assert (found.lower, found.upper) == (1, 2)


def test_six_on_two_metres_says_little_about_six_diameters() -> None:
    # by hand: 2000/120 -> 17 windows, so only one break is sure to lie in some window
    found = worst([group(0, 2000 * MM, 6)], 120 * MM)
    assert (found.lower, found.upper) == (1, 6)


def test_many_on_a_long_length_are_sure_to_meet_somewhere() -> None:
    # by hand: 35 on 2000 mm, 17 windows of 120 mm: ceil(35/17) = 3
    assert worst([group(0, 2000 * MM, 35)], 120 * MM).lower == 3


def test_metres_become_whole_nanometres() -> None:
    assert nanometres(0.0) == 0
    assert nanometres(296.1) == 296_100_000_000
    assert nanometres(-0.000_000_001) == -1


# ---- refusals --------------------------------------------------------------------------------


def test_no_breaks_no_window() -> None:
    assert worst_window([], 10) is None
    assert worst_window([group(0, count=0)], 10) is None
    nothing = np.array([], dtype=np.int64)
    assert worst_window_of_points(nothing, nothing, 10) is None
    assert worst_window_of_points(np.array([5]), np.array([0]), 10) is None


@pytest.mark.parametrize("window", [0, -1])
def test_a_window_has_a_length(window: int) -> None:
    with pytest.raises(InputError, match="window"):
        worst_window([group(0)], window)
    with pytest.raises(InputError, match="window"):
        worst_window_of_points(np.array([0]), np.array([1]), window)


@pytest.mark.parametrize(
    ("bad", "field"),
    [
        ({"from_nm": 2, "to_nm": 1, "count": 1}, "counted length"),
        ({"from_nm": 0, "to_nm": 1, "count": -1}, "count"),
        ({"from_nm": 0, "to_nm": 1, "count": 1, "err_nm": -1}, "err"),
    ],
)
def test_impossible_groups_are_refused(bad: dict[str, int], field: str) -> None:
    with pytest.raises(InputError, match=field):
        CountedGroup(**bad)


# ---- very many breaks ------------------------------------------------------------------------


@given(
    st.lists(st.tuples(st.integers(0, 400), st.integers(0, 3)), min_size=1, max_size=200),
    st.integers(1, 60),
)
def test_point_arrays_give_what_groups_give(points: list[tuple[int, int]], window: int) -> None:
    places = np.array([place for place, _ in points], dtype=np.int64)
    counts = np.array([count for _, count in points], dtype=np.int64)
    found = worst_window_of_points(places, counts, window)
    same = worst_window([group(place, count=count) for place, count in points], window)
    if same is None:
        assert found is None
        return
    assert found is not None
    count, start, end = found
    assert count == same.lower == same.upper
    assert end - start == window
    assert count == sum(c for p, c in points if start <= p <= end)


@settings(max_examples=5)
@given(st.integers(0, 2**32 - 1))
def test_a_million_breaks(seed: int) -> None:
    # second formulation: counts in bins of one window's length; a window of that length holds
    # at least the fullest bin and at most the fullest two neighbouring bins
    rng = np.random.default_rng(seed)
    places = rng.integers(0, 1000 * 1000 * MM, 1_000_000)  # on 1000 m of rope
    window = 120 * MM
    found = worst_window_of_points(places, np.ones(places.size, dtype=np.int64), window)
    assert found is not None
    count, start, end = found
    assert count == int(((places >= start) & (places <= end)).sum())
    bins = np.bincount(places // window)
    assert int(bins.max()) <= count <= int((bins[:-1] + bins[1:]).max())
