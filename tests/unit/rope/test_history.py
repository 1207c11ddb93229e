"""Cuts and end-for-end turns, against a slow simulation with a list of markers."""

import math
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.errors import HistoryError, InputError
from ropewright.rope import Cut, EndForEnd, RopeHistory
from ropewright.rope.history import Step

FIRST_DAY = date(2026, 1, 1)


def _day(number: int) -> date:
    return FIRST_DAY + timedelta(days=number)


# Story, worked out by hand: 100 m; 6 m cut at A, turned, 4 m cut at A (old end B), 2 m cut at B.
STORY = RopeHistory(
    original_length_m=100.0,
    steps=(
        Cut(on=_day(10), end="A", length_m=6.0, reason="worn at the dead end"),
        EndForEnd(on=_day(20)),
        Cut(on=_day(30), end="A", length_m=4.0),
        Cut(on=_day(40), end="B", length_m=2.0),
    ),
)


@pytest.mark.parametrize(
    ("day", "in_service", "rope_m", "path_m"),
    [
        (0, (0.0, 100.0), 30.0, 30.0),
        (9, (0.0, 100.0), 100.0, 100.0),
        (10, (6.0, 100.0), 30.0, 24.0),
        (20, (6.0, 100.0), 30.0, 70.0),
        (30, (6.0, 96.0), 30.0, 66.0),
        (40, (8.0, 96.0), 30.0, 66.0),
        (40, (8.0, 96.0), 96.0, 0.0),
        (40, (8.0, 96.0), 8.0, 88.0),
    ],
)
def test_a_story_by_hand(
    day: int, in_service: tuple[float, float], rope_m: float, path_m: float
) -> None:
    path = STORY.at(_day(day))
    assert path.in_service == in_service
    assert path.length_m == in_service[1] - in_service[0]
    assert path.to_path_m(rope_m) == path_m
    assert path.to_rope_m(path_m) == rope_m


def test_several_places_at_once() -> None:
    path = STORY.at(_day(40))
    assert path.to_path_m([8.0, 30.0, 96.0]) == [88.0, 66.0, 0.0]
    assert path.to_rope_m((88.0, 66.0, 0.0)) == [8.0, 30.0, 96.0]
    assert path.to_rope_m([]) == []


def test_before_and_after_the_cut_of_the_same_day() -> None:
    assert STORY.at(_day(10), start_of_day=True).in_service == (0.0, 100.0)
    assert STORY.at(_day(10)).in_service == (6.0, 100.0)


@pytest.mark.parametrize("rope_m", [5.9, -0.1, 100.1, math.nan, math.inf])
def test_a_place_that_is_not_there_has_no_path_position(rope_m: float) -> None:
    path = STORY.at(_day(10))
    assert not path.is_in_service(rope_m)
    with pytest.raises(HistoryError, match=r"on the rope that is left, 6\.000 m to 100\.000 m"):
        path.to_path_m(rope_m)


@pytest.mark.parametrize("path_m", [-0.1, 94.1, math.nan, math.inf])
def test_a_path_has_no_place_beyond_its_ends(path_m: float) -> None:
    with pytest.raises(HistoryError, match=r"on the path, 0\.000 m to 94\.000 m"):
        STORY.at(_day(10)).to_rope_m(path_m)


def test_a_hair_over_the_edge_is_on_the_edge() -> None:
    path = STORY.at(_day(10))
    assert path.to_path_m(6.0 - 1e-12) == 0.0
    assert path.to_path_m(100.0 + 1e-12) == 94.0
    assert path.to_rope_m(-1e-12) == 6.0
    assert path.to_rope_m(94.0 + 1e-12) == 100.0


@pytest.mark.parametrize(
    ("rope_m", "day"),
    [(3.0, 10), (98.0, 30), (7.0, 40), (8.0, None), (50.0, None), (96.0, None)],
)
def test_when_a_place_was_cut_off(rope_m: float, day: int | None) -> None:
    assert STORY.cut_off_on(rope_m) == (None if day is None else _day(day))


def test_a_place_that_never_was_was_not_cut_off() -> None:
    with pytest.raises(HistoryError):
        STORY.cut_off_on(101.0)


def test_steps_are_put_in_order_and_those_of_one_day_stay_as_given() -> None:
    turn, cut = EndForEnd(on=_day(5)), Cut(on=_day(5), end="A", length_m=1.0)
    late = Cut(on=_day(9), end="B", length_m=1.0)
    assert RopeHistory(original_length_m=10.0, steps=(late, turn, cut)).steps == (turn, cut, late)
    turned_first = RopeHistory(original_length_m=10.0, steps=(turn, cut))
    cut_first = RopeHistory(original_length_m=10.0, steps=(cut, turn))
    assert turned_first.at(_day(5)).in_service == (0.0, 9.0)
    assert cut_first.at(_day(5)).in_service == (1.0, 10.0)


@pytest.mark.parametrize("length_m", [0.0, -1.0, math.nan, math.inf])
def test_lengths_are_above_zero(length_m: float) -> None:
    with pytest.raises(HistoryError, match="length above zero"):
        RopeHistory(original_length_m=length_m)
    with pytest.raises(HistoryError, match="length above zero") as caught:
        RopeHistory(original_length_m=9.0, steps=(Cut(on=_day(1), end="A", length_m=length_m),))
    assert caught.value.field == "history[0].length"


@pytest.mark.parametrize("length_m", [4.0, 4.1])
def test_a_cut_leaves_some_rope(length_m: float) -> None:
    early = Cut(on=_day(1), end="A", length_m=6.0)
    late = Cut(on=_day(2), end="B", length_m=length_m)
    with pytest.raises(HistoryError, match="leaves no rope") as caught:
        RopeHistory(original_length_m=10.0, steps=(late, early))
    assert caught.value.field == "history[0].length"  # as given, not as sorted
    assert caught.value.expected == "less than the 4.000 m that were left"
    assert isinstance(caught.value, InputError)


def test_there_are_two_ends() -> None:
    with pytest.raises(HistoryError, match='"A" or "B"'):
        RopeHistory(
            original_length_m=9.0,
            steps=(Cut(on=_day(1), end="C", length_m=1.0),),  # type: ignore[arg-type]
        )


# --- Against a simulation with one marker each centimetre -----------------------------------------

LENGTH_CM = st.integers(200, 2000)
STEPS = st.lists(
    st.tuples(st.integers(0, 5), st.sampled_from(["A", "B", "turn"]), st.integers(1, 300)),
    max_size=8,
)


def _simulate(length_cm: int, steps: list[tuple[int, str, int]]) -> list[int]:
    """Slice and reverse a list of markers; the first one lies at end A."""
    markers = list(range(length_cm + 1))
    for _, kind, cut_cm in steps:
        if kind == "A":
            markers = markers[cut_cm:]
        elif kind == "B":
            markers = markers[:-cut_cm]
        else:
            markers.reverse()
    return markers


def _as_step(day: int, kind: str, cut_cm: int) -> Step:
    if kind == "turn":
        return EndForEnd(on=_day(day))
    return Cut(on=_day(day), end="A" if kind == "A" else "B", length_m=cut_cm / 100)


@given(LENGTH_CM, STEPS, st.integers(0, 6), st.booleans())
def test_the_map_agrees_with_sliced_and_reversed_markers(
    length_cm: int, raw: list[tuple[int, str, int]], day: int, morning: bool
) -> None:
    in_order = sorted(raw, key=lambda step: step[0])
    if (
        len(_simulate(length_cm, in_order)) < 2
        or sum(cut for _, kind, cut in raw if kind != "turn") >= length_cm
    ):
        with pytest.raises(HistoryError):
            RopeHistory(
                original_length_m=length_cm / 100, steps=tuple(_as_step(*one) for one in raw)
            )
        return
    history = RopeHistory(
        original_length_m=length_cm / 100, steps=tuple(_as_step(*one) for one in raw)
    )
    path = history.at(_day(day), start_of_day=morning)
    done = [step for step in in_order if step[0] < day or (step[0] == day and not morning)]
    markers = _simulate(length_cm, done)
    lying = {marker: place for place, marker in enumerate(markers)}
    for marker in range(0, length_cm + 1, 7):
        rope_m = marker / 100
        # A marker on the cut itself stays with the rope that is left.
        assert path.is_in_service(rope_m) == (marker in lying)
        if marker in lying:
            assert path.to_path_m(rope_m) == pytest.approx(lying[marker] / 100, abs=1e-9)
    for place in range(0, len(markers), 7):
        assert path.to_rope_m(place / 100) == pytest.approx(markers[place] / 100, abs=1e-9)


@given(LENGTH_CM, STEPS, st.floats(0, 1))
def test_there_and_back(length_cm: int, raw: list[tuple[int, str, int]], share: float) -> None:
    try:
        history = RopeHistory(
            original_length_m=length_cm / 100, steps=tuple(_as_step(*one) for one in raw)
        )
    except HistoryError:
        return
    path = history.at(_day(9))
    path_m = share * path.length_m
    rope_m = path.to_rope_m(path_m)
    assert path.is_in_service(rope_m)
    assert path.to_path_m(rope_m) == pytest.approx(path_m, abs=1e-9)
    assert history.cut_off_on(rope_m) is None
