"""Logs on the rope's own set-ups: months, cuts and turns, the clock, the second opinion."""

from collections.abc import Sequence
from datetime import date
from itertools import pairwise

import numpy as np
import pytest

from ropewright.desk import judge
from ropewright.desk.cutting import _gone, _may_be_done, cut_advice
from ropewright.desk.duty_counting import count_log
from ropewright.desk.duty_pieces import Duty, duty_of_counts, pieces_of
from ropewright.desk.duty_spans import spans_between
from ropewright.desk.wear_data import wear_as_data
from ropewright.desk.wear_figure import wear_figure
from ropewright.desk.wearing import ALL_MODELS, WearResult, result_of, wear_of
from ropewright.errors import InputError
from ropewright.inspection import Dossier
from ropewright.intake import PackageShelf, read_case
from ropewright.wear import DutyChunk
from ropewright.wear.cutting import CutResult
from ropewright.wear.possible_cuts import Cut, after
from ropewright.wear.wear_map import wear_map
from tests.unit.desk.wear_logs import COUNTING, case_text, log

TODAY = date(2026, 6, 30)
CUT = """
[[history]]
on = 2026-03-10
kind = "cut"
end = "B"
length = "1.3 m"

[[history]]
on = 2026-04-15
kind = "end-for-end"
"""


def dossier(**texts: str) -> Dossier:
    """The small case, read."""
    return read_case(case_text(**texts), file="w.toml").dossier


def _wear(rope: Dossier, chunks: Sequence[DutyChunk], **more: object) -> WearResult:
    return wear_of(rope, chunks, COUNTING, TODAY, **more)  # type: ignore[arg-type]


LOG = log(date(2026, 2, 20), 80, 1)


def _duty(rope: Dossier, chunks: Sequence[DutyChunk]) -> Duty:
    return count_log(rope, chunks, COUNTING, TODAY, models=ALL_MODELS)


def test_months_are_read_off_one_running_count() -> None:
    """No movement is lost between months: the pieces add up to the whole count."""
    duty = _duty(dossier(), [LOG])
    pieces = pieces_of(duty, "cubic")
    assert [piece.first.month for piece in pieces] == [2, 3, 4, 5]
    assert len(duty.groups) == 1
    whole = duty.tallies[-1].damage["cubic"]
    assert not isinstance(whole, InputError)
    assert sum(piece.damage.total for piece in pieces) == pytest.approx(whole.total)
    assert sum(piece.days for piece in pieces) == pytest.approx(79.4, abs=0.7)


def test_cuts_and_turns_begin_a_piece_on_their_own_path() -> None:
    rope = dossier(history=CUT)
    duty = _duty(rope, [LOG])
    pieces = pieces_of(duty, "cubic")
    assert len(duty.groups) == 3
    lengths = {(piece.path.length_m, piece.path.turned) for piece in pieces}
    assert lengths == {(210.0, False), (208.7, False), (208.7, True)}
    assert {piece.first for piece in pieces} >= {date(2026, 3, 10), date(2026, 4, 15)}


def test_a_log_in_small_pieces_is_the_same_log() -> None:
    rope = dossier(history=CUT)
    rng = np.random.default_rng(5)
    bounds = [0, *sorted(rng.integers(1, len(LOG), 40).tolist()), len(LOG)]
    parts = [LOG.part(slice(first, last)) for first, last in pairwise(bounds) if last > first]
    whole, small = _wear(rope, [LOG]), _wear(rope, parts)
    assert (whole.wear.full_bends == small.wear.full_bends).all()
    assert whole.clock == small.clock


def test_counts_file_by_file_are_the_same_but_for_the_seams() -> None:
    rope = dossier()
    logs = [log(date(2026, month, 1), 20, month) for month in (2, 3, 4)]
    together = _wear(rope, logs)
    groups = [
        group for one in logs for group in count_log(rope, [one], COUNTING, TODAY, models=()).groups
    ]
    apart = result_of(rope, duty_of_counts(rope, groups, models=ALL_MODELS), TODAY)
    assert apart.top[0].section == together.top[0].section
    assert apart.wear.total.most(0, 210) == pytest.approx(
        together.wear.total.most(0, 210),
        rel=0.01,  # a gap at night is no movement; a few seams
    )


def test_the_site_s_own_days_decide() -> None:
    """A cut on 10 March begins at midnight of the site: 09 March 23:00 UTC in Oslo."""
    rope = dossier(zone='zone = "Europe/Oslo"\n', history=CUT)
    spans = spans_between(rope, date(2026, 3, 1), date(2026, 3, 31))
    assert [span.first.day for span in spans] == [1, 10]
    assert spans[1].start_ms == 1_773_097_200_000  # 2026-03-09T23:00Z, by hand
    with pytest.raises(InputError, match="zone"):
        spans_between(dossier(zone='zone = "Mars/North"\n'), date(2026, 3, 1), TODAY)


def test_samples_of_another_rope_and_of_tomorrow_are_left_out() -> None:
    rope = dossier()
    early = log(date(2025, 12, 1), 10, 3)
    late = log(date(2026, 7, 10), 10, 4)
    found = _wear(rope, [early, LOG, late])
    assert (found.duty.before, found.duty.after) == (len(early), len(late))
    assert (found.wear.full_bends == _wear(rope, [LOG]).wear.full_bends).all()
    assert any("before the rope was fitted" in note for note in found.notes)
    with pytest.raises(InputError, match="from its fitting"):
        _wear(rope, [early])
    with pytest.raises(InputError, match="day of the question"):
        _wear(rope, [late])


def test_the_clock_counts_damage_at_the_worst_place() -> None:
    """Second formulation: the map of the log up to a month's end, read at the clock's place."""
    rope = dossier()
    found = _wear(rope, [LOG])
    clock, place = found.clock, found.clock_at
    assert clock is not None
    assert place is not None
    assert clock.kind == "damage"
    march = wear_map(found.pieces[:2], found.path)
    before = clock.at(found.pieces[0].first)
    grown = clock.at(date(2026, 3, 31)) - before
    assert grown == pytest.approx(march.total_in(place, found.wear), rel=1e-6)
    pace = found.wear.total.mean(place.from_m, place.to_m) / found.days
    assert clock.rate == pytest.approx(pace)
    assert before == pytest.approx(pace * (found.pieces[0].first - date(2026, 1, 5)).days)


def test_a_month_in_which_the_hook_rested_adds_nothing() -> None:
    """Half of the log's time at rest: the same map, and a clock that stands still meanwhile."""
    rest_ms = LOG.time_ms[-1] + 86_400_000 * np.arange(1, 41)
    assert LOG.hook_m is not None
    assert LOG.radius_m is not None
    rest = DutyChunk(
        time_ms=rest_ms, hook_m=np.full(40, LOG.hook_m[-1]), radius_m=np.full(40, LOG.radius_m[-1]),
        load_t=np.full(40, 0.4),
    )  # fmt: skip
    rope = dossier()
    found = _wear(rope, [LOG, rest])
    assert found.pieces[-1].first == date(2026, 6, 1)
    assert found.pieces[-1].damage.bends == 0
    assert (found.wear.full_bends == _wear(rope, [LOG]).wear.full_bends).all()
    assert found.clock is not None
    assert found.clock.readings[-1][1] == pytest.approx(found.clock.readings[-2][1])


BREAKS = """
[[inspection]]
id = "I1"
kind = "periodic"
on = 2026-06-20

[[inspection.pass]]
method = "eye-round"
whole = true

[[inspection.pass]]
method = "feel"
whole = true
"""
FOUND = """
[[inspection.finding]]
kind = "broken wires"
at = "{at} m"
count = 2
over = "120 mm"
"""


def test_findings_on_the_most_worn_rope_agree_and_others_do_not() -> None:
    free = _wear(dossier(), [LOG])
    profile = free.wear.total
    places = np.arange(3.0, 206.0, 4.0)
    ranked = sorted(places, key=lambda at: -profile.mean(at - 1, at + 1))
    worst, mildest = ranked[:6], ranked[-6:]
    for chosen, agrees in ((worst, True), (mildest, False)):
        text = BREAKS + "".join(FOUND.format(at=f"{at:.1f}") for at in chosen)
        found = _wear(dossier(inspections=text), [LOG])
        assert found.agreement.breaks == 12
        assert found.agreement.agrees is agrees


def test_second_opinion_only_where_constants_fit() -> None:
    assert "no published constants" in _wear(dossier(), [LOG]).opinion.why_not
    steel = 'core = "steel"\n'
    heavy = _wear(dossier(make="6x36WS", core=steel), [LOG]).opinion
    assert heavy.count is not None
    assert heavy.count.on_6d == heavy.count.on_30d / 2
    assert 50 <= heavy.stress_n_per_mm2 <= 80  # by hand: 5.4 t on 2 falls, 67.6 N/mm²


def test_models_are_shown_beside_each_other() -> None:
    found = _wear(dossier(), [LOG])
    assert found.card.name == "cubic"
    assert {one.card.name for one in found.others} == {"endurance", "bends"}
    assert not found.own_constants
    borrowed = _wear(dossier(), [LOG], model="endurance")
    assert any("another rope" in note for note in borrowed.notes)
    assert borrowed.wear.life_share is None
    own = _wear(dossier(make="8x19S", core='core = "fibre"\n'), [LOG], model="endurance")
    assert own.wear.life_share is not None


# --- Cutting --------------------------------------------------------------------------------------


def test_cut_advice_says_what_it_takes_or_that_nothing_helps() -> None:
    rope = dossier()
    advice = cut_advice(rope, _wear(rope, [LOG]), period_days=60)
    assert advice.plan is not None
    assert advice.options or advice.nothing
    # by hand: 210 m of rope; hook on the slab leaves what the hoist's own geometry says
    assert advice.plan.limits.dead_wraps == 3
    assert advice.plan.limits.spare_m == pytest.approx(
        max(advice.plan.limits.least_on_drum_m - 3 * np.pi * (0.480 + 0.020), 0), abs=0.01
    )
    for option in advice.options:
        assert option.labour
        assert option.hook_higher_m == pytest.approx(option.result.cut.length_m / 2)
    assert any("hot-work permit" in line for line in advice.cautions)
    assert any("consent of both makers" in line for line in advice.cautions)
    assert any("dodge" in line for line in advice.cautions)


def test_nobody_turns_a_rope_that_nobody_judged() -> None:
    """Common practice, no source: a turn needs a complete inspection that reached nothing."""
    rope = dossier()
    advice = cut_advice(rope, _wear(rope, [LOG]))
    assert "No rule set has judged" in advice.verdict_first
    assert not [one for one in advice.options if one.result.cut.turn]


@pytest.mark.parametrize(
    ("length", "left"),
    [("0.2 m", False), ("3 m", True)],
)
def test_damage_that_reaches_beyond_a_cut_is_not_gone(length: str, left: bool) -> None:
    """By hand: 2 m cut off at end A; a wave from 0.5 m on goes with it, or reaches 3.5 m."""
    text = BREAKS + (
        '[[inspection.finding]]\nid = "W"\nkind = "waviness"\nat = "0.5 m"\n'
        f'at_err = "0.5 m"\ngap = "8 mm"\nlength = "{length}"\n'
    )
    rope = dossier(inspections=text)
    found = _wear(rope, [LOG])
    cut = Cut(way="cut at end A", at_a_m=2.0)
    result = CutResult(
        cut=cut, path=after(found.path, cut), worst=0.0, worst_rope_m=0.0, gained_days=1.0,
        gained_least_days=1.0, removed_most=0.0,
    )  # fmt: skip
    judged = judge(rope, PackageShelf(), TODAY, software="test")
    assert judged.verdict.level == "remove"
    assert _may_be_done(result, judged, rope, found) is not left
    assert _gone(rope, found, result) == (() if left else ("W (waviness)",))


def test_more_dead_wraps_leave_less_to_cut() -> None:
    rope = dossier()
    found = _wear(rope, [LOG])
    plans = [cut_advice(rope, found, dead_wraps=wraps).plan for wraps in (1, 3, 5)]
    spares = [plan.limits.spare_m for plan in plans if plan is not None]
    assert spares[0] == spares[1]  # never fewer than three
    assert spares[2] <= spares[1]


def test_without_a_drum_there_is_no_plan_and_it_says_what_is_missing() -> None:
    text = case_text().replace('drum_diameter = "480 mm"\n', "")
    rope = read_case(text, file="w.toml").dossier
    found = _wear(rope, [LOG])
    advice = cut_advice(rope, found)
    assert advice.plan is None
    assert "drum_diameter" in advice.why_not
    assert any("drum is not known" in note for note in found.notes)


# --- As data ----------------------------------------------------------------------------------


def test_figure_and_data_hold_the_same_map() -> None:
    rope = dossier(history=CUT)
    found = _wear(rope, [LOG])
    data = wear_as_data(rope, found, cut_advice(rope, found))
    assert data["invented"] is True
    steps = len(data["edges_m"]) - 1
    assert all(len(cause["full_bends"]) == steps for cause in data["causes"])
    figure = wear_figure(rope, found, 0.5)
    assert figure.turned
    assert len(figure.pick_ups) == len(figure.edges_m) - 1
    assert sum(figure.pick_ups) > 0
    layers = [band for band in figure.drum if band.kind == "layer"]
    assert [band.layer for band in layers] == sorted(band.layer for band in layers)
    assert layers[0].section.from_m == pytest.approx(0.0)  # turned: the clamp is at rope zero
