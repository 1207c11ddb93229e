"""The wear map through cuts and turns: against a walk over marked pieces of steel."""

from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ropewright.errors import InputError
from ropewright.geometry import Drum
from ropewright.rope import Cut, EndForEnd, RopeHistory
from ropewright.rope.history import Step
from ropewright.wear.damage import Cause, PathDamage
from ropewright.wear.drum_wear import crossover_weight
from ropewright.wear.models import Floats
from ropewright.wear.profile import Profile, bins_profile, merged_edges, sum_of
from ropewright.wear.rows import wear_rows, worst_rows
from ropewright.wear.top_sections import top_sections
from ropewright.wear.wear_map import DutyPiece, WearMap, metre_by_metre, wear_map

DAY = [date(2026, month, 1) for month in range(1, 13)]
BIN_M = 0.5


def _damage(values: Floats, *, kind: str = "sheave", full: float = 1.0) -> PathDamage:
    return PathDamage(
        model="bends",
        causes=(Cause(kind=kind, name="drum" if kind == "drum" else "sheave 1", damage=values),),  # type: ignore[arg-type]
        bin_m=BIN_M,
        full_bend=full,
        full_force_n=None,
        full_sheave_mm=500.0,
        life_known=False,
        light_share=0.0,
        unknown_share=0.0,
        bends=float(values.sum()),
    )


def _piece(
    history: RopeHistory, day: date, values: Floats, *, kind: str = "sheave",
    drum: Drum | None = None, on_drum_m: float = 0.0, full: float = 1.0,
) -> DutyPiece:  # fmt: skip
    return DutyPiece(
        first=day, last=day, days=1.0, damage=_damage(values, kind=kind, full=full),
        path=history.at(day), drum=drum, on_drum_m=on_drum_m,
    )  # fmt: skip


def _at(worn: WearMap, rope_m: float) -> float:
    return float(worn.total.at(np.array([rope_m]))[0])


def test_a_cut_and_a_turn_by_hand() -> None:
    """100 m; 10 m off at end A in March, turned in May.  Bends always on path 20 to 30 m."""
    history = RopeHistory(
        original_length_m=100.0,
        steps=(Cut(on=DAY[2], end="A", length_m=10.0), EndForEnd(on=DAY[4])),
    )
    bent = np.zeros(200)
    bent[40:60] = 7.0
    pieces = [_piece(history, day, bent) for day in (DAY[0], DAY[3], DAY[5])]
    worn = wear_map(pieces, history.at(DAY[6]))
    # January: rope 20 to 30 m; April: 30 to 40 m; June, from the other end: 100 - 20 to 70 m
    for place, expected in ((25.0, 7), (35.0, 7), (75.0, 7), (15.0, 0), (45.0, 0), (85.0, 0)):
        assert _at(worn, place) == expected
    assert worn.in_service.from_m == 10.0
    assert worn.in_service.to_m == 100.0


@st.composite
def _histories(draw: st.DrawFn) -> RopeHistory:
    steps: list[Step] = []
    for month in sorted(draw(st.lists(st.integers(0, 11), max_size=4))):
        if draw(st.booleans()):
            steps.append(EndForEnd(on=DAY[month]))
        else:
            length = draw(st.integers(1, 12)) * BIN_M
            end = draw(st.sampled_from(("A", "B")))
            steps.append(Cut(on=DAY[month], end=end, length_m=length))  # type: ignore[arg-type]
    return RopeHistory(original_length_m=60.0, steps=tuple(steps))


@settings(max_examples=60, deadline=None)
@given(_histories(), st.integers(0, 2**32 - 1))
def test_every_piece_of_steel_keeps_its_own_bends(history: RopeHistory, seed: int) -> None:
    """Second formulation: mark the steel every half metre, and carry each mark's sum along."""
    rng = np.random.default_rng(seed)
    marks = np.arange(0.25, 60.0, BIN_M)
    carried = np.zeros(marks.size)
    pieces = []
    for day in DAY:
        path = history.at(day)
        values = rng.integers(0, 9, size=120).astype(float)
        pieces.append(_piece(history, day, values))
        for number, mark in enumerate(marks):
            if path.is_in_service(float(mark)):
                carried[number] += values[int(path.to_path_m(float(mark)) / BIN_M)]
    now = history.at(DAY[-1])
    worn = wear_map(pieces, now)
    for number, mark in enumerate(marks):
        if now.is_in_service(float(mark)):
            assert _at(worn, float(mark)) == pytest.approx(carried[number])


def test_crossovers_stay_with_the_clamp() -> None:
    """A cut at the drum moves presses along the rope; the bends stay where they were."""
    drum = Drum(
        barrel_mm=480, rope_mm=20.4, wraps=(10.0, 10.0), rise_mm=18.0, pitch_mm=20.9,
        grooving="parallel",
    )  # fmt: skip
    history = RopeHistory(original_length_m=60.0, steps=(Cut(on=DAY[1], end="B", length_m=0.4),))
    flat = np.full(120, 2.0)
    made = [
        wear_map(
            [_piece(history, day, flat, kind="drum", drum=drum, on_drum_m=30.0)], history.at(day)
        )
        for day in (DAY[0], DAY[2])
    ]
    weight = crossover_weight(None).value
    for worn, length in zip(made, (60.0, 59.6), strict=True):
        # by hand: layer 2 at 5.3 turns, behind the crossover that ends at half a turn, before
        # the one that ends at the clamp's line; pressed once, by its own passes
        turn_1, turn_2 = drum.turn_m
        in_it = length - (10 * turn_1 + 5.45 * turn_2)
        beside = length - (10 * turn_1 + 5.3 * turn_2)
        assert _at(worn, beside) == 2.0
        assert _at(worn, in_it) == pytest.approx(2.0 * (1 + weight))
        assert {kind for kind, _ in worn.causes} == {"drum", "crossovers", "layer change"}
    assert made[0].crossover is not None
    assert made[0].crossover.provenance == "own"


def test_full_bends_are_those_of_the_hardest_piece() -> None:
    history = RopeHistory(original_length_m=60.0)
    pieces = [
        _piece(history, DAY[0], np.full(120, 8.0), full=2.0),
        _piece(history, DAY[1], np.full(120, 8.0), full=4.0),
    ]
    assert _at(wear_map(pieces, history.at(DAY[2])), 30.0) == 4.0  # by hand: 16 / 4


def test_shares_and_top_sections_by_hand() -> None:
    history = RopeHistory(original_length_m=60.0)
    hot, all_over = np.zeros(120), np.full(120, 1.0)
    hot[40:50] = 9.0
    pieces = [
        _piece(history, DAY[0], hot),
        _piece(history, DAY[1], all_over, kind="drum"),
    ]
    worn = wear_map(pieces, history.at(DAY[2]))
    top = top_sections(worn)
    assert (top[0].section.from_m, top[0].section.to_m) == (20.0, 25.0)
    assert top[0].mean == 10.0
    assert [kind for kind, _, _ in top[0].causes] == ["sheave", "drum"]
    assert [share for _, _, share in top[0].causes] == pytest.approx([0.9, 0.1])
    assert "sheave 1: 90 %" in top[0].words
    assert len(top) == 1  # the rest has a tenth of it
    edges, means = metre_by_metre(worn, 1.0)
    assert edges[-1] == 60.0
    assert means.sum() == pytest.approx(60 + 45)
    rows_edges, rows = wear_rows(worn, 4.0)
    assert len(rows_edges) == 16
    assert sum(map(sum, rows)) * 4 == pytest.approx(105)
    assert max(worst_rows(worn, 4.0)) == 10.0


def test_unlike_models_do_not_mix() -> None:
    with pytest.raises(InputError, match="one model"):
        wear_map([], RopeHistory(original_length_m=60.0).at(DAY[0]))


# --- Profiles -----------------------------------------------------------------------------------


def test_profiles_by_hand() -> None:
    one = Profile(edges_m=np.array([0.0, 2.0, 5.0]), values=np.array([1.0, 3.0]))
    assert one.at(np.array([-1.0, 0.0, 1.9, 2.0, 5.0])).tolist() == [0, 1, 1, 3, 0]
    assert one.mean(0.0, 4.0) == 2.0
    assert one.most(0.0, 2.0) == 1.0
    assert one.moved(1.0).edges_m.tolist() == [1, 3, 6]
    assert one.mirrored(5.0).values.tolist() == [3, 1]
    assert one.mirrored(5.0).edges_m.tolist() == [0, 3, 5]
    whole = sum_of([one, bins_profile(np.array([1.0, 1.0]), 1.5)], from_m=0.0, to_m=5.0)
    assert whole.at(np.array([1.0, 2.5, 4.0])).tolist() == [2, 4, 3]


def test_edges_closer_than_a_nanometre_are_one() -> None:
    edges = merged_edges(np.array([1.0, 1.0 + 1e-12, 2.0]), from_m=0.0, to_m=3.0)
    assert edges.tolist() == [0, 1, 2, 3]


def test_profiles_refuse_edges_that_do_not_rise() -> None:
    with pytest.raises(InputError):
        Profile(edges_m=np.array([0.0, 0.0]), values=np.array([1.0]))
