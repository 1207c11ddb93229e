"""When each piece of rope was last covered: against a slow walk over a grid, and by hand."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.geometry import Section, covered_length
from ropewright.inspection import (
    METHODS,
    HiddenSection,
    Inspection,
    LastCovered,
    Pass,
    last_covered,
)
from ropewright.inspection.findings import Method
from ropewright.rope import Cut, EndForEnd, RopeHistory

CELLS = 24
FIRST = date(2026, 1, 1)
TODAY = date(2026, 3, 1)


def section(ends: tuple[int, int]) -> Section:
    return Section(float(min(ends)), float(max(ends)))


ends = st.tuples(st.integers(0, CELLS), st.integers(0, CELLS))
passes = st.lists(st.tuples(st.sampled_from(METHODS), ends), max_size=4)


@st.composite
def inspections(draw: st.DrawFn) -> list[Inspection]:
    made = []
    for number in range(draw(st.integers(0, 5))):
        made.append(
            Inspection(
                inspection_id=f"I{number}",
                kind=draw(st.sampled_from(["shift", "periodic"])),
                on=FIRST + timedelta(days=draw(st.integers(0, 80))),
                finished=draw(st.booleans()),
                passes=tuple(Pass(method=m, section=section(e)) for m, e in draw(passes)),
                hidden=tuple(
                    HiddenSection(section=section(e)) for e in draw(st.lists(ends, max_size=2))
                ),
            )
        )
    return made


def slow(some: list[Inspection], method: Method, cell: int) -> date | None:
    """The newest day on which somebody went over one metre, asked metre by metre."""
    inside = cell + 0.5
    days = []
    for one in some:
        if one.on > TODAY:
            continue
        ways = {"eye": ("eye", "eye-round")}.get(method, (method,))
        over = any(
            p.method in ways and p.section.from_m < inside < p.section.to_m for p in one.passes
        )
        hid = any(h.section.from_m < inside < h.section.to_m for h in one.hidden)
        if over and not (hid and method in ("eye", "eye-round")):
            days.append(one.on)
    return max(days, default=None)


# second formulation: metre by metre instead of by sections
@given(inspections(), st.sampled_from(METHODS), ends)
def test_it_is_what_a_walk_metre_by_metre_finds(
    some: list[Inspection], method: Method, left: tuple[int, int]
) -> None:
    service = section(left)
    found = last_covered(some, method, service, TODAY)
    assert covered_length([one.section for one in found]) == pytest.approx(service.length_m)
    assert sum(one.section.length_m for one in found) == pytest.approx(service.length_m)
    assert [one.section for one in found] == sorted(one.section for one in found)
    for cell in range(CELLS):
        here = [one for one in found if one.section.from_m <= cell and cell + 1 <= one.section.to_m]
        if service.from_m <= cell and cell + 1 <= service.to_m:
            assert [one.on for one in here] == [slow(some, method, cell)]
        else:
            assert here == []


@given(inspections(), st.sampled_from(METHODS))
def test_another_inspection_makes_nothing_older(some: list[Inspection], method: Method) -> None:
    """Looking again, anywhere and at any time, leaves no metre with an older day."""
    whole = Section(0.0, CELLS)
    before = last_covered(some[:-1], method, whole, TODAY)
    after = last_covered(some, method, whole, TODAY)

    def day(pieces: tuple[LastCovered, ...], cell: int) -> date:
        (one,) = [p for p in pieces if p.section.from_m <= cell and cell + 1 <= p.section.to_m]
        return one.on or date.min

    assert all(day(after, cell) >= day(before, cell) for cell in range(CELLS))


def looked(name: str, on: date, *gone: tuple[Method, float, float]) -> Inspection:
    return Inspection(
        inspection_id=name,
        kind="periodic",
        on=on,
        passes=tuple(Pass(method=m, section=Section(a, b)) for m, a, b in gone),
    )


def test_a_cut_and_a_turn_move_no_place_and_take_away_what_was_cut() -> None:
    """By hand: 100 m; 10 m cut off end A, turned, then 5 m off the new end A, which is 95 to 100.

    Felt in January 0 to 50 m, in February (after the turn) 50 to 95 m, of the rope's own steel.
    """
    history = RopeHistory(
        original_length_m=100.0,
        steps=(
            Cut(on=date(2026, 1, 10), end="A", length_m=10.0),
            EndForEnd(on=date(2026, 1, 11)),
            Cut(on=date(2026, 1, 12), end="A", length_m=5.0),
        ),
    )
    service = Section(*history.at(TODAY).in_service)
    some = [
        looked("jan", date(2026, 1, 5), ("feel", 0, 50)),
        looked("feb", date(2026, 2, 5), ("feel", 50, 90)),
    ]
    found = last_covered(some, "feel", service, TODAY)
    assert [(one.section.from_m, one.section.to_m, one.on) for one in found] == [
        (10.0, 50.0, date(2026, 1, 5)),
        (50.0, 90.0, date(2026, 2, 5)),
        (90.0, 95.0, None),
    ]
    assert [one.days_before(TODAY) for one in found] == [55, 24, None]  # January has 31 days


def test_what_comes_later_does_not_exist_yet() -> None:
    later = looked("mar", date(2026, 3, 2), ("eye", 0, 100))
    (piece,) = last_covered([later], "eye", Section(0, 100), TODAY)
    assert piece.by is None
    assert last_covered([later], "eye", Section(0, 100), date(2026, 3, 2))[0].by is later


def test_of_two_on_one_day_the_later_in_the_record_counts() -> None:
    first = looked("a", TODAY, ("eye", 0, 100))
    second = looked("b", TODAY, ("eye", 40, 60))
    found = last_covered([first, second], "eye", Section(0, 100), TODAY)
    assert [one.by for one in found] == [first, second, first]
