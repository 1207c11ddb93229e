"""How the forecast behaves, told by data files, and laws that hold between forecasts."""

import tomllib
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ropewright.errors import InputError
from ropewright.forecast import (
    Cap,
    Clock,
    Forecast,
    Limit,
    Look,
    Policy,
    Prior,
    Situation,
    Zone,
    forecast,
)

CASES = sorted((Path(__file__).parent / "cases").glob("*.toml"))
FITTED = date(2020, 1, 1)
YEAR = 365.25
PLAIN = Situation(
    rotation_resistant=False,
    compacted=False,
    plastic_core=False,
    lang_lay=False,
    plastic_sheaves=False,
    steel_core=False,
    multi_layer=False,
)


def say(
    zones: list[Zone],
    day: float,
    *,
    limits: tuple[tuple[int, float], ...] = ((10, 6.0), (20, 30.0)),
    cap_days: int | None = 3650,
    **more: Any,
) -> Forecast:
    today = FITTED + timedelta(days=round(day))
    caps = [] if cap_days is None else [Cap(until=today + timedelta(days=cap_days), by="the rule")]
    asked: dict[str, Any] = {"situation": PLAIN, "persons_lifted": False} | more
    return forecast(
        zones,
        [Limit(count=count, window_d=window) for count, window in limits],
        Clock(fitted_on=FITTED),
        Prior(life=5 * YEAR, life_from="stated by the test"),
        today,
        caps=caps,
        **asked,
    )


def looks(*rows: tuple[float, str, int]) -> tuple[Look, ...]:
    return tuple(
        Look(clock=float(round(years * YEAR)), method=method, new=new)  # type: ignore[arg-type]
        for years, method, new in rows
    )


def clean(years: float, *, every: float = 0.5, method: str = "feel") -> Zone:
    steps = int(years / every + 1e-9)
    return Zone(name="", looks=looks(*((every * (n + 1), method, 0) for n in range(steps))))


def _with(field: str, value: bool | None) -> Situation:
    changed: dict[str, Any] = {field: value}
    return replace(PLAIN, **changed)


def at(zone: Zone) -> float:
    return zone.looks[-1].clock


@pytest.mark.parametrize("file", CASES, ids=[file.stem for file in CASES])
def test_case(file: Path) -> None:
    case = tomllib.loads(file.read_text(encoding="utf-8"))
    zones = [
        Zone(
            name=one.get("name", ""),
            looks=looks(*(tuple(row) for row in one["looks"])),
            exposure=one.get("exposure", ""),
            gone=one.get("gone", False),
            marked=one.get("marked", True),
        )
        for one in case["zone"]
        for _ in range(one.get("times", 1))
    ]
    result = say(
        zones,
        round(case["today"] * YEAR),
        limits=tuple((count, window) for count, window in case["limits"]),
        lead_time_days=case.get("lead_time_days"),
    )
    wanted = case["expect"]
    assert result.state == wanted["state"]
    if "lead_days" in wanted:
        low, high = wanted["lead_days"]
        assert result.lead_days is not None
        assert low <= result.lead_days <= high
    if "present" in wanted:
        low, high = wanted["present"]
        assert result.present_chance is not None
        assert low <= result.present_chance <= high
    if "plan_change" in wanted:
        assert result.plan_change == wanted["plan_change"]
    assert wanted.get("decide", "") in " ".join(result.decide)
    assert bool(wanted.get("decide")) == bool(result.decide)
    assert result.because


def test_a_change_to_the_hand_is_not_read_as_growth() -> None:
    by_hand = Zone(
        name="", looks=looks((2.25, "feel", 1), (2.5, "feel", 1), (2.75, "feel", 0), (3, "feel", 2))
    )
    changed = Zone(
        name="", looks=looks((2.25, "eye", 1), (2.5, "eye", 1), (2.75, "eye", 0), (3, "feel", 2))
    )
    grew, seen_better = (say([one], at(one), limits=((20, 6.0),)) for one in (by_hand, changed))
    assert grew.decide
    assert not seen_better.decide
    assert grew.doubling is not None
    assert seen_better.doubling is not None
    assert seen_better.doubling > grew.doubling


def test_a_repeat_pass_that_finds_nothing_gives_more_time() -> None:
    once = Zone(
        name="", looks=looks((2.25, "feel", 1), (2.5, "feel", 0), (2.75, "feel", 1), (3, "feel", 1))
    )
    twice = replace(once, looks=(*once.looks, Look(clock=at(once) + 1, method="feel")))
    first, second = say([once], at(once)), say([twice], at(twice))
    assert first.present_chance is not None
    assert second.present_chance is not None
    assert second.present_chance < first.present_chance
    assert (second.lead_days or 0) > (first.lead_days or 0)


def test_a_cut_off_hot_window_frees_the_neighbours_but_still_teaches() -> None:
    rows = ((2.25, "feel", 1), (2.5, "feel", 1), (2.75, "feel", 1), (3, "feel", 1))
    hot = Zone(name="hot", looks=looks(*rows), exposure="bending")
    beside = Zone(
        name="beside",
        looks=looks((2.25, "feel", 0), (2.5, "feel", 0), (2.75, "feel", 1), (3, "feel", 0)),
        exposure="bending",
    )
    before = say([hot, beside], at(hot))
    after = say([replace(hot, gone=True), beside], at(hot))
    alone = say([beside], at(hot))
    assert (after.lead_days or 0) > (before.lead_days or 0)
    assert after.band is not None
    assert alone.band is not None
    assert (after.band.median_days or 0) < (alone.band.median_days or 0)


def test_idle_rope_does_not_make_a_hot_window_look_younger() -> None:
    hot = Zone(
        name="hot", looks=looks((1, "feel", 1), (2, "feel", 0), (3, "feel", 1)), exposure="bending"
    )
    idle = [
        Zone(name=f"idle {number}", looks=looks((1, "feel", 0), (2, "feel", 0), (3, "feel", 0)),
             exposure="bending")
        for number in range(99)
    ]  # fmt: skip
    alone, padded = say([hot], at(hot)), say([hot, *idle], at(hot))
    assert alone.lead_days is not None
    assert padded.lead_days is not None
    assert padded.lead_days <= alone.lead_days


def test_a_clean_rope_past_half_its_usual_life_never_gets_longer() -> None:
    leads = [say([clean(years)], at(clean(years))).lead_days for years in (2.5, 3, 4, 6, 8, 12)]
    assert None not in leads
    for younger, older in pairwise(leads):
        assert older <= younger + 1e-9  # type: ignore[operator]


def test_the_model_alone_would_trust_an_old_clean_rope_more_and_more() -> None:
    young, old = clean(1.0), clean(2.0)
    first, second = (say([one], at(one)).band for one in (young, old))
    assert first is not None
    assert second is not None
    assert (second.late_days or 0) > (first.late_days or 0)


@settings(max_examples=25)
@given(
    new=st.lists(st.integers(0, 2), min_size=1, max_size=6),
    cap=st.integers(0, 400),
    hand=st.booleans(),
)
def test_the_date_never_goes_beyond_the_cap(new: list[int], cap: int, hand: bool) -> None:
    method = "feel" if hand else "eye"
    zone = Zone(name="", looks=looks(*((1 + 0.25 * n, method, one) for n, one in enumerate(new))))
    result = say([zone], at(zone), cap_days=cap, explain=False)
    if result.next_inspection is not None:
        assert result.next_inspection <= result.as_of + timedelta(days=cap)


@settings(max_examples=20)
@given(new=st.lists(st.integers(0, 2), min_size=2, max_size=6))
def test_one_break_more_never_gives_more_time(new: list[int]) -> None:
    worse = list(new)
    worse[-1] += 1
    first, second = (
        Zone(name="", looks=looks(*((1 + 0.25 * n, "feel", one) for n, one in enumerate(rows))))
        for rows in (new, worse)
    )
    less, more = (say([one], at(one), explain=False) for one in (first, second))
    if more.lead_days is not None and any(new):
        assert less.lead_days is not None
        assert more.lead_days <= less.lead_days * 1.02 + 0.5  # the grid's own error


def test_persons_lifted_or_not_known_takes_the_smaller_chance() -> None:
    zone = clean(1.5)
    load, persons, unknown = (
        say([zone], at(zone), persons_lifted=one) for one in (False, True, None)
    )
    assert (load.alpha, persons.alpha, unknown.alpha) == (0.002, 0.001, 0.001)
    assert load.lead_days is not None
    assert persons.lead_days is not None
    assert persons.lead_days < load.lead_days


def test_without_any_interval_the_next_inspection_is_not_assessable() -> None:
    zone = clean(1.5)
    result = say([zone], at(zone), cap_days=None)
    assert result.state == "not assessable"
    assert result.next_inspection is None
    assert "interval" in result.missing[0]


def test_an_interval_that_has_run_out_means_today() -> None:
    zone = clean(1.5)
    result = say([zone], at(zone), cap_days=-10)
    assert result.next_inspection == result.as_of


def test_totals_without_marks_are_taken_more_strictly() -> None:
    rows = looks((2.25, "feel", 1), (2.5, "feel", 0), (2.75, "feel", 1), (3, "feel", 1))
    marked, bare = Zone(name="", looks=rows), Zone(name="", looks=rows, marked=False)
    first = say([marked], at(marked), limits=((20, 6.0),))
    second = say([bare], at(bare), limits=((20, 6.0),))
    assert first.lead_days is not None
    assert second.lead_days is not None
    assert second.lead_days < first.lead_days
    assert "marks" in second.lengthen


def test_ordering_counts_back_from_the_early_end_of_the_band() -> None:
    zone = clean(1.5)
    result = say([zone], at(zone), lead_time_days=90.0, change_days=14.0)
    assert result.band is not None
    assert result.band.early_days is not None
    assert result.order_by is not None
    # by hand: early end less 104 days, whole days
    assert (result.order_by - result.as_of).days == int(result.band.early_days - 104.0)


@pytest.mark.parametrize(
    "field",
    ["rotation_resistant", "compacted", "plastic_core", "lang_lay", "plastic_sheaves"],
)
def test_where_breaks_do_not_tell_the_truth_there_is_no_date_of_its_own(field: str) -> None:
    zone = clean(1.5)
    for value in (True, None):
        result = say([zone], at(zone), situation=_with(field, value), cap_days=91)
        assert result.state == "no date"
        assert result.bounded_by == "the rule"
        assert result.curve is None
        assert result.rows[0].action


def test_a_look_after_today_is_refused() -> None:
    zone = clean(2.0)
    with pytest.raises(InputError, match="no look after today"):
        say([zone], at(zone) - 10)


def test_what_it_rests_on_is_stored() -> None:
    zone = clean(1.0)
    result = say([zone], at(zone), policy=Policy(alpha=0.01))
    assert result.alpha == 0.01
    assert result.prior.life_from == "stated by the test"
    assert (result.version, result.prior.version) == ("1", "1")
