"""Matching: right pairs, honest confidence, questions instead of lower counts."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ropewright.errors import InputError
from ropewright.geometry import RopePlace, Section
from ropewright.inspection import (
    BreakGroup,
    BrokenWires,
    Comparison,
    Damage,
    DiameterReading,
    Inspection,
    Mark,
    Pass,
)
from ropewright.matching import (
    MarkSeen,
    Pairing,
    align,
    follow,
    marks_seen,
    match,
    same_findings,
)
from ropewright.matching.chances import least_cost, pair_chances
from ropewright.rope import Cut, RopeHistory
from tests.calibration.matching_table import HISTORIES, LENGTH_M, invent, measure

FIRST, SECOND, THIRD = date(2026, 1, 10), date(2026, 4, 12), date(2026, 7, 12)
HISTORY = RopeHistory(original_length_m=LENGTH_M)


def breaks(name: str, at_m: float, count: int = 1, *, same_as: str | None = None) -> BrokenWires:
    return BrokenWires(
        finding_id=name,
        place=RopePlace(at_m=at_m, abs_err_m=1.0, rel_err_m=0.05),
        same_as=same_as,
        groups=(BreakGroup(from_mm=Fraction(0), to_mm=Fraction(0), count=count),),
    )


def look(
    on: date,
    *findings: BrokenWires | Damage | DiameterReading,
    over: Section = Section(-5.0, 305.0),  # noqa: B008 - frozen
) -> Inspection:
    return Inspection(
        inspection_id=on.isoformat(),
        kind="periodic",
        on=on,
        passes=(Pass(method="feel", section=over),),
        findings=findings,
    )


def of(
    pairings: tuple[Pairing, ...], earlier: str | None = None, later: str | None = None
) -> Pairing:
    return next(
        one
        for one in pairings
        if (earlier is None or one.earlier == earlier) and (later is None or one.later == later)
    )


def test_a_shifted_pattern_is_recognised_without_marks() -> None:
    places = (40.0, 43.5, 61.2, 90.0)
    before = look(FIRST, *(breaks(f"a{n}", at) for n, at in enumerate(places)))
    after = look(SECOND, *(breaks(f"b{n}", at + 0.8) for n, at in enumerate(places)))
    found = match(before, after, (), HISTORY)
    assert [(one.earlier, one.later) for one in found] == [(f"a{n}", f"b{n}") for n in range(4)]
    assert min(one.confidence for one in found) > 0.95
    # by hand: all places moved by 0.8 m; a stated error of 5 cm each way
    assert align(before, after, (), HISTORY)[0].shift_m == pytest.approx(0.8, abs=0.05)


def test_new_ones_and_vanished_ones_stand_alone() -> None:
    before = look(FIRST, breaks("a", 40.0), breaks("gone", 80.0, 3))
    after = look(SECOND, breaks("b", 40.0), breaks("fresh", 120.0))
    found = match(before, after, (MarkSeen(name="m", before_m=50, after_m=50),), HISTORY)
    assert of(found, earlier="a").later == "b"
    assert of(found, later="fresh").kind == "new"
    lost = of(found, earlier="gone")
    assert lost.kind == "not found again"
    assert "look there again" in lost.asks
    assert "The count stays" in lost.asks


def test_a_place_that_was_not_gone_over_is_no_question() -> None:
    before = look(FIRST, breaks("a", 40.0), breaks("b", 80.0))
    after = look(SECOND, breaks("c", 40.0), over=Section(0.0, 60.0))
    lost = of(match(before, after, (), HISTORY), earlier="b")
    assert (lost.kind, lost.asks) == ("not looked at", "")


def test_what_was_cut_off_is_no_question_either() -> None:
    history = RopeHistory(
        original_length_m=LENGTH_M, steps=(Cut(on=date(2026, 2, 1), end="A", length_m=10.0),)
    )
    before = look(FIRST, breaks("a", 5.0), breaks("b", 80.0))
    after = look(SECOND, breaks("c", 80.0))
    found = match(before, after, (), history)
    assert of(found, earlier="a").kind == "cut off"
    assert of(found, earlier="b").later == "c"


def test_a_count_that_fell_is_a_question() -> None:
    found = match(
        look(FIRST, breaks("a", 40.0, 3)), look(SECOND, breaks("b", 40.0, 2)), (), HISTORY
    )
    pair = of(found, earlier="a")
    assert pair.kind == "same"
    assert "The higher count stays" in pair.asks


def test_different_kinds_are_never_paired_and_readings_are_left_out() -> None:
    rust = Damage(finding_id="rust", place=RopePlace(at_m=40.0), damage="corrosion")
    gauge = DiameterReading(
        finding_id="gauge", place=RopePlace(at_m=40.0), readings_mm=(Fraction(20), Fraction(20))
    )
    found = match(look(FIRST, breaks("a", 40.0), gauge), look(SECOND, rust), (), HISTORY)
    assert {one.kind for one in found} == {"not found again", "new"}
    assert all(one.earlier != "gauge" for one in found)


def test_a_regular_pattern_without_marks_is_doubtful_and_marks_settle_it() -> None:
    # breaks one drum turn apart: shifted by one turn they fit as well but for one at each end
    places = [40.0 + 1.5 * number for number in range(6)]
    before = look(FIRST, *(breaks(f"a{n}", at) for n, at in enumerate(places)))
    moved = look(SECOND, *(breaks(f"b{n}", at + 0.7) for n, at in enumerate(places)))
    bare = match(before, moved, (), HISTORY)
    marks = tuple(MarkSeen(name=str(at), before_m=at, after_m=at + 0.7) for at in (10.0, 100.0))
    sure = match(before, moved, marks, HISTORY)
    assert [one.later for one in sure] == [f"b{n}" for n in range(6)]
    assert min(one.confidence for one in sure) > 0.95
    assert min(one.confidence for one in bare) < min(one.confidence for one in sure)


def test_a_person_confirms_and_overrules() -> None:
    before = look(FIRST, breaks("a", 40.0))
    after = look(SECOND, breaks("near", 40.05), breaks("far", 43.0))
    assert of(match(before, after, (), HISTORY), earlier="a").later == "near"
    said = Comparison(earlier="a", later="far", same=True, by="inspector", on=SECOND)
    chosen = of(match(before, after, (), HISTORY, decisions=(said,)), earlier="a")
    assert (chosen.later, chosen.by) == ("far", "confirmed")
    denied = Comparison(earlier="a", later="near", same=False, by="inspector", on=SECOND)
    assert of(match(before, after, (), HISTORY, decisions=(denied,)), earlier="a").later != "near"
    fresh = Comparison(earlier=None, later="near", same=True, by="inspector", on=SECOND)
    found = match(before, after, (), HISTORY, decisions=(fresh,))
    assert of(found, later="near").kind == "new"
    assert of(found, later="near").by == "confirmed"


def test_a_decision_wins_over_a_name_in_a_finding() -> None:
    before = look(FIRST, breaks("a", 40.0), breaks("b", 41.0))
    after = look(SECOND, breaks("c", 40.0, same_as="b"))
    named = of(match(before, after, (), HISTORY), later="c")
    assert (named.earlier, named.by) == ("b", "named in the finding")
    said = Comparison(earlier="a", later="c", same=True, by="inspector", on=SECOND)
    assert of(match(before, after, (), HISTORY, decisions=(said,)), later="c").earlier == "a"


def test_a_vanished_finding_that_a_person_has_looked_for_asks_no_more() -> None:
    before, after = look(FIRST, breaks("a", 40.0)), look(SECOND)
    said = Comparison(earlier="a", fate="ends removed", by="inspector", on=SECOND)
    alone = of(match(before, after, (), HISTORY, decisions=(said,)), earlier="a")
    assert (alone.kind, alone.asks, alone.by) == ("not found again", "", "confirmed")


def test_marks_are_taken_from_their_dated_entries() -> None:
    def mark(on: date | None, at_m: float) -> Mark:
        return Mark(name="blue", place=RopePlace(at_m=at_m), on=on)

    before, after = look(FIRST), look(SECOND)
    (seen,) = marks_seen((mark(FIRST, 10.0), mark(SECOND, 10.6)), before, after)
    assert (seen.before_m, seen.after_m) == (10.0, 10.6)
    assert not marks_seen((mark(FIRST, 10.0), mark(None, 10.6)), before, after)


def test_inspections_out_of_order_are_refused() -> None:
    with pytest.raises(InputError):
        match(look(SECOND), look(FIRST), (), HISTORY)


def test_only_sure_or_confirmed_pairs_are_passed_on() -> None:
    pairs = (
        Pairing(earlier="a", later="b", kind="same", confidence=0.99),
        Pairing(earlier="c", later="d", kind="same", confidence=0.6),
        Pairing(earlier="e", later="f", kind="same", confidence=0.6, by="confirmed"),
        Pairing(earlier=None, later="g", kind="new", confidence=1.0),
    )
    assert same_findings(pairs) == {"b": "a", "f": "e"}


def test_a_finding_is_followed_through_three_inspections() -> None:
    rows = [
        look(on, breaks(f"{on}", 40.0), breaks(f"{on}x", 60.0)) for on in (FIRST, SECOND, THIRD)
    ]
    found = follow([rows[2], rows[0], rows[1]], (), HISTORY)
    assert same_findings(found)[f"{THIRD}"] == f"{SECOND}"
    assert same_findings(found)[f"{SECOND}"] == f"{FIRST}"


@pytest.mark.parametrize(
    ("name", "findings", "noise_m", "marks", "least"),
    [
        # regression only: shares of docs/calibration.md less three standard errors
        ("as installed", 12, 0.02, 0, 0.96),
        ("as installed", 12, 0.1, 1, 0.96),
        ("as installed", 12, 0.3, 3, 0.92),
        ("after a cut", 12, 0.1, 0, 0.95),
        ("after a turn", 12, 0.1, 3, 0.95),
        ("cut and turn", 12, 0.1, 1, 0.95),
    ],
)
def test_share_decided_rightly(
    name: str, findings: int, noise_m: float, marks: int, least: float
) -> None:
    good, confidence, wrong = measure(name, findings, noise_m, marks, 15)
    assert good >= least
    assert wrong < 0.02
    assert confidence == pytest.approx(good, abs=0.04)


@settings(max_examples=30)
@given(seed=st.integers(0, 10_000), history=st.sampled_from(sorted(HISTORIES)))
def test_every_finding_appears_exactly_once(seed: int, history: str) -> None:
    made = invent(seed, noise_m=0.2, marks=1, findings=6, history=HISTORIES[history])
    found = match(made.before, made.after, made.marks, made.history)
    earlier = [one.earlier for one in found if one.earlier]
    later = [one.later for one in found if one.later]
    assert sorted(earlier) == sorted(one.finding_id for one in made.before.findings)
    assert sorted(later) == sorted(one.finding_id for one in made.after.findings)
    assert all(0 <= one.confidence <= 1 for one in found)


def test_the_order_of_findings_does_not_matter() -> None:
    made = invent(7, noise_m=0.1, marks=0)
    turned = replace(made.after, findings=tuple(reversed(made.after.findings)))
    one = {(p.earlier, p.later) for p in match(made.before, made.after, (), made.history)}
    other = {(p.earlier, p.later) for p in match(made.before, turned, (), made.history)}
    assert one == other


def test_least_cost_and_chances_on_a_table_by_hand() -> None:
    # by hand: crossing pairs cost more than straight ones
    odds = np.log(np.array([[9.0, 1.0], [1.0, 9.0]]))
    alone = np.log(np.array([0.1, 0.1]))
    assert least_cost(odds, alone) == {0: 0, 1: 1}
    # by hand: assignments weigh both straight 81, both crossed 1, one straight 2 * .9,
    # one crossed 2 * .1, none .01; a straight pair has 81 + .9 of 84.01
    chances = pair_chances(odds, alone)
    assert chances[0, 0] == pytest.approx((81 + 0.9) / 84.01, abs=0.02)
    assert least_cost(np.zeros((0, 3)), np.zeros(0)) == {}
