"""Broken wires in a window, from clusters with places, tapes and errors, against brute force.

Everything lies on whole millimetres, so that every real position can be tried.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from itertools import combinations_with_replacement, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.geometry import RopePlace
from ropewright.inspection import BreakGroup, BrokenWires, Dossier, Inspection
from tests.laws.building import (
    EXPOSURES,
    ISO,
    LATEST,
    US,
    breaks,
    damage,
    dossier,
    inspection,
    judged,
    pair,
    rope,
)

#: A 6 d window of 60 mm on the thinnest rope, so that few positions need trying.
D_MM = Fraction(10)
WINDOW_MM = 60
AT_MM = 50_000


def cluster(
    name: str, at_mm: int, groups: Sequence[tuple[int, int, int]], **errs: int
) -> BrokenWires:
    """Groups as (offset, length, count), all in millimetres."""
    return BrokenWires(
        finding_id=name,
        place=RopePlace(at_m=at_mm / 1000, rel_err_m=errs.get("rel", 0) / 1000),
        offset_err_mm=Fraction(errs.get("offset", 0)),
        groups=tuple(
            BreakGroup(from_mm=Fraction(at), to_mm=Fraction(at + length), count=count, strand=1)
            for at, length, count in groups
        ),
    )


def counted(*inspections: Inspection) -> tuple[int, int]:
    """Sure and possible count in the worst 6 d of the whole rope."""
    used = rope("6x36WS", diameter_mm=D_MM)
    done = judged(dossier(*inspections, the_rope=used), ISO)
    found = [one.found for one in done.rulings if one.clause_id == "breaks-6d"]
    known = [one for one in found if one is not None]
    assert len(known) == len(found) > 0
    return max(int(one.lower) for one in known), max(int(one.upper) for one in known)


def positions(one: BrokenWires) -> Iterator[tuple[int, ...]]:
    """Every way the breaks of a cluster may really lie: the cluster moves as a whole."""
    rel = round(one.place.rel_err_m * 1000)
    tape = int(one.offset_err_mm)
    at = round(one.place.at_m * 1000)
    for shift in range(-rel, rel + 1):
        ways = [
            {
                way
                for taped in range(-tape, tape + 1)
                for way in combinations_with_replacement(
                    range(int(g.from_mm) + taped, int(g.to_mm) + taped + 1), g.count
                )
            }
            for g in one.groups
        ]
        for combined in product(*ways):
            yield tuple(at + shift + place for part in combined for place in part)


def most(places: Sequence[int]) -> int:
    return max(sum(1 for p in places if start <= p <= start + WINDOW_MM) for start in places)


def truth(*clusters: BrokenWires) -> tuple[int, int]:
    """Least and most that the worst window can hold, over all real positions."""
    counts = {
        most([place for part in way for place in part])
        for way in product(*(set(positions(one)) for one in clusters))
    }
    return min(counts), max(counts)


# offsets near one window's length, short groups, few breaks: everything can be tried
groups = st.lists(
    st.tuples(st.sampled_from([0, 1, 30, 59, 60, 61]), st.sampled_from([0, 0, 1, 2]), st.just(1)),
    min_size=1,
    max_size=2,
)


@given(groups, st.integers(0, 1))
def test_one_cluster_alone(spots: list[tuple[int, int, int]], tape: int) -> None:
    one = cluster("B", AT_MM, spots, offset=tape)
    lower, upper = counted(inspection("annual", LATEST, pair("10.1"), one))
    least, greatest = truth(one)
    assert lower <= least
    assert upper == greatest
    if tape == 0 and all(length == 0 for _, length, _ in spots):
        assert lower == upper


@given(groups, groups, st.integers(0, 62), st.integers(0, 1), st.integers(0, 1))
def test_two_clusters_of_one_inspection(
    first: list[tuple[int, int, int]],
    second: list[tuple[int, int, int]],
    apart: int,
    rel: int,
    tape: int,
) -> None:
    left = cluster("B1", AT_MM, first, rel=rel, offset=tape)
    right = cluster("B2", AT_MM + apart, second, rel=rel, offset=tape)
    lower, upper = counted(inspection("annual", LATEST, pair("10.1"), left, right))
    least, greatest = truth(left, right)
    assert lower <= least
    assert upper >= greatest
    if rel == tape == 0:
        assert upper == greatest
        if all(length == 0 for _, length, _ in (*first, *second)):
            assert lower == upper == least


@given(groups, groups, st.integers(0, 62))
def test_two_inspections_may_have_counted_the_same_breaks_or_others(
    first: list[tuple[int, int, int]], second: list[tuple[int, int, int]], apart: int
) -> None:
    # a shift check after the annual inspection; nobody says that they are the same
    left, right = cluster("B1", AT_MM, first), cluster("B2", AT_MM + apart, second)
    check = inspection("shift", LATEST + timedelta(days=1), right)
    lower, upper = counted(inspection("annual", LATEST, pair("10.1"), left), check)
    assert upper == truth(left, right)[1]  # all of them may be others
    assert lower <= max(truth(left)[0], truth(right)[0])  # or the same ones


# ---- single cases, by hand -------------------------------------------------------------------


def in_latest(*findings: object) -> Dossier:
    return dossier(inspection("annual", LATEST, pair("20.2"), *findings))


def statuses(one: Dossier, rules: str, clause: str) -> list[str]:
    return [r.status for r in judged(one, rules).rulings if r.clause_id == clause]


def test_a_neighbour_far_off_does_not_blur_what_was_taped() -> None:
    # taped 130 mm apart, window 120 mm; the place error of 50 mm is shared by both breaks, and a
    # neighbour of another kind changes nothing about that
    first = breaks(0, 130, place=RopePlace(at_m=50.0, rel_err_m=0.05), site="valley")
    other = breaks(0, place=RopePlace(at_m=50.2, rel_err_m=0.05), name="B2", site="crown")
    # by hand: at most one valley break in a lay of 130 mm less a hair: 6.4 d
    used = rope(lay_in_d=Fraction("6.4"))
    one = dossier(inspection("annual", LATEST, pair("20.2"), first, other), the_rope=used)
    found = [r.found for r in judged(one, ISO).rulings if r.clause_id == "valley"]
    assert [(int(f.lower), int(f.upper)) for f in found if f is not None] == [(1, 1)]


def test_the_error_that_a_whole_pass_shares_never_changes_a_count() -> None:
    far = breaks(0, 130, place=RopePlace(at_m=50.0, abs_err_m=3.0))
    near = breaks(0, 130, place=RopePlace(at_m=50.0))
    for clause in ("breaks-6d", "breaks-30d"):
        left, right = (
            [r.found for r in judged(in_latest(one), ISO).rulings if r.clause_id == clause]
            for one in (far, near)
        )
        assert left == right


@pytest.mark.parametrize("numerator", range(1, 128, 2))
def test_breaks_typed_in_odd_fractions_of_an_inch_stay_exactly_six_diameters_apart(
    numerator: int,
) -> None:
    # 128ths of an inch are not whole nanometres; 6 d of a 3/4 in rope is 4 1/2 in exactly
    inch = Fraction(254, 10)
    start = Fraction(numerator, 128) * inch
    one = breaks(0, name="B")
    moved = replace(
        one,
        groups=tuple(
            BreakGroup(from_mm=at, to_mm=at, count=1, strand=strand)
            for at, strand in ((start, 1), (start + Fraction(9, 2) * inch, 3))
        ),
    )
    used = rope("35(W)x7", diameter_mm=Fraction(3, 4) * inch)
    done = dossier(inspection("annual", LATEST, pair(Fraction(3, 4) * inch), moved), the_rope=used)
    assert statuses(done, US, "rr-breaks-6d") == ["reached"]


def test_breaks_without_strand_numbers_may_all_be_in_one_strand() -> None:
    # 29 CFR 1926.1413: three in one strand in one lay (published, text)
    numbered = breaks(0, 20, 40, strands=(1, 2, 3))
    assert statuses(in_latest(numbered), US, "breaks-strand") == ["below"]
    unknown = breaks(0, 20, 40, strands=(None, None, None))
    assert statuses(in_latest(unknown), US, "breaks-strand") == ["not assessable"]
    same = breaks(0, 20, 40, strands=(2, 2, 2))
    assert statuses(in_latest(same), US, "breaks-strand") == ["reached"]
    two_and_one = breaks(0, 20, 40, strands=(2, 2, None))
    assert statuses(in_latest(two_and_one), US, "breaks-strand") == ["not assessable"]


def test_seventeen_in_a_lay_of_six_strands_are_three_in_one_of_them() -> None:
    # by hand: 13 breaks spread over 6 strands put 3 into one of them, 12 need not
    for count, status in ((12, "not assessable"), (13, "reached")):
        one = breaks(0, count=count, strands=(None,))
        assert statuses(in_latest(one), US, "breaks-strand") == [status]


# ---- one place must not hide another ---------------------------------------------------------


def chain_of_breaks(first_m: float, count: int) -> list[BrokenWires]:
    """Single breaks every 11 cm, closer than the window of 12 cm: one chain of clusters."""
    return [
        breaks(0, at_m=round(first_m + 0.11 * number, 2), name=f"K{number}")
        for number in range(count)
    ]


def test_a_chain_of_breaks_with_a_worse_end_does_not_hide_damage_beside_the_other_end() -> None:
    # by hand: 4 of 9 breaks = 44.4 % and rough corrosion 60 % at 130 m: together 104.4 %
    corrosion = damage("corrosion", form="external", grade="rough", at_m=130.0)
    here = breaks(0, 10, 20, 30, at_m=130.0, name="here")
    assert statuses(in_latest(corrosion, here), ISO, "combined") == ["reached"]
    chain = chain_of_breaks(130.14, 30)
    worse = breaks(0, 10, 20, 30, 40, 50, 60, at_m=133.4, name="worse")
    assert statuses(in_latest(corrosion, here, *chain, worse), ISO, "combined") == ["reached"]


def test_a_chain_of_breaks_onto_the_drum_does_not_hide_bunched_ones_before_it() -> None:
    # the rope spools from 80 m on; two breaks in neighbouring strands lie before it
    bunched = breaks(0, 10, at_m=78.0, name="bunched", strands=(1, 2))
    assert statuses(in_latest(bunched), ISO, "bunched") == ["reached"]
    chain = chain_of_breaks(78.1, 30)
    worse = breaks(0, 10, 20, 30, at_m=81.4, name="worse", strands=(1, 4, 1, 4))
    assert "reached" in statuses(in_latest(bunched, *chain, worse), ISO, "bunched")


def test_bunched_breaks_stay_bunched_beside_one_whose_strand_nobody_noted() -> None:
    bunched = breaks(0, 10, at_m=60.0, name="bunched", strands=(1, 2))
    unknown = breaks(0, at_m=60.05, name="unknown", strands=(None,))
    assert statuses(in_latest(bunched, unknown), ISO, "bunched") == ["reached"]


def test_a_break_on_steel_sheaves_does_not_make_plastic_ones_elsewhere_tell_more() -> None:
    plastic = tuple(
        replace(one, exposure=replace(one.exposure, sheaves="plastic")) if one.section.from_m == 80
        else one
        for one in EXPOSURES
    )  # fmt: skip
    nothing = dossier(inspection("annual", LATEST, pair("20.2")), exposed=plastic)
    assert statuses(nothing, ISO, "breaks-6d") == ["not assessable"]
    found = dossier(
        inspection("annual", LATEST, pair("20.2"), breaks(0, at_m=50.0)), exposed=plastic
    )
    assert statuses(found, ISO, "breaks-6d") == ["below", "not assessable"]
    there = dossier(
        inspection("annual", LATEST, pair("20.2"), breaks(0, at_m=100.0)), exposed=plastic
    )
    assert statuses(there, ISO, "breaks-6d") == ["not assessable"]  # said once


def test_a_break_that_may_lie_at_the_end_is_asked_about_there() -> None:
    # stated near the end up to 2 m; at 2.5 m ± 1 m it may be there, at 2.5 m exactly it is not
    sure = breaks(0, 20, place=RopePlace(at_m=2.5))
    may = breaks(0, 20, place=RopePlace(at_m=2.5, abs_err_m=1.0))
    assert statuses(in_latest(sure), ISO, "end") == ["below"]
    assert statuses(in_latest(may), ISO, "end") == ["not assessable"]


def test_an_old_thin_reading_counts_until_the_place_is_measured_again() -> None:
    # by hand: 18.6 mm is 8 % of 20 mm below the reference of 20.2 mm; limit 7.5 %
    thin = inspection("annual", date(2026, 2, 2), pair("18.6", name="old"))
    elsewhere = inspection("annual", LATEST, pair("20.2", at_m=150.0))
    assert statuses(dossier(thin, elsewhere), ISO, "diameter-uniform") == ["below", "reached"]
    again = inspection("annual", LATEST, pair("18.5"))
    assert statuses(dossier(thin, again), ISO, "diameter-uniform") == ["reached"]
