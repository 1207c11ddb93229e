"""Forecasts kept in the record are held against what came; words for a score."""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from ropewright.errors import InputError
from ropewright.forecast import (
    Outcome,
    Recommendation,
    forecast_of,
    prior_for,
    score,
    to_store,
)
from ropewright.inspection import Dossier, StoredForecast
from tests.unit.forecast.test_record import LIMITS, breaks, dossier, look

FIRST, SECOND, THIRD = date(2025, 4, 1), date(2025, 7, 1), date(2025, 8, 1)
TOLD = dossier(
    look(date(2025, 1, 1)),
    look(FIRST, breaks("a", 40.0, 1)),
    look(SECOND, breaks("b", 40.0, 2, same_as="a")),
    look(THIRD, breaks("c", 40.0, 11, same_as="b")),
)


def known_by(day: date) -> Dossier:
    return replace(TOLD, inspections=tuple(one for one in TOLD.inspections if one.on <= day))


def made_on(day: date, *, until: date | None = None) -> StoredForecast:
    found = forecast_of(known_by(day), day, limits=LIMITS, prior=prior_for("bridge crane hoist"))
    record = found.record
    kept = to_store(found.forecast, (*record.zones, *record.apart), found.limits, by="planner")
    return kept if until is None else replace(kept, until=until)


def with_forecasts(*made: StoredForecast, today: date = THIRD) -> tuple[Outcome, ...]:
    told = replace(known_by(today), forecasts=made)
    return forecast_of(told, today, limits=LIMITS, prior=prior_for("bridge crane hoist")).stored


def test_what_is_kept_has_priors_chance_and_version() -> None:
    kept = made_on(FIRST)
    assert (kept.model, kept.priors, kept.by) == ("1", "1", "planner")
    assert kept.alpha == Fraction("0.002")
    assert kept.limit == 10
    assert kept.window_d == 6
    assert kept.until is not None
    assert kept.chance is not None
    # the forecast named the last whole day within the chance taken
    assert kept.chance <= Fraction("0.002")
    assert kept.life_days == Fraction("1826.25")


def test_the_next_look_decides() -> None:
    (outcome,) = with_forecasts(made_on(FIRST, until=SECOND))
    assert (outcome.passed, outcome.looked_on) == (False, SECOND)
    # by hand: eleven broken wires at the next look, limit 10
    (outcome,) = with_forecasts(made_on(SECOND, until=THIRD))
    assert (outcome.passed, outcome.looked_on) == (True, THIRD)


def test_an_earlier_look_is_held_against_the_chance_up_to_it() -> None:
    until = SECOND + timedelta(days=62)
    kept = replace(made_on(SECOND, until=until), chance_now=Fraction(0), chance=Fraction(1, 100))
    (outcome,) = with_forecasts(kept)
    # by hand: 31 of 62 days
    assert outcome.made.chance == pytest.approx(0.005)


def test_a_look_that_came_too_late_is_not_the_forecasts_fault() -> None:
    (outcome,) = with_forecasts(made_on(SECOND, until=SECOND + timedelta(days=10)))
    assert (outcome.passed, outcome.looked_on) == (None, THIRD)
    assert score((outcome,)).judged == 0


@pytest.mark.parametrize(("count", "passed"), [(11, True), (9, None)])
def test_a_shift_check_can_show_that_the_limit_was_passed_never_that_it_was_not(
    count: int, passed: bool | None
) -> None:
    day = SECOND + timedelta(days=5)
    check = replace(look(day, breaks("s", 40.0, count, same_as="b")), kind="shift")
    kept = made_on(SECOND, until=SECOND + timedelta(days=10))
    told = known_by(SECOND)
    told = replace(told, inspections=(*told.inspections, check), forecasts=(kept,))
    prior = prior_for("bridge crane hoist")
    (outcome,) = forecast_of(told, THIRD, limits=LIMITS, prior=prior).stored
    assert (outcome.passed, outcome.looked_on) == (passed, day if passed else None)


def test_nobody_looked_since() -> None:
    (outcome,) = with_forecasts(made_on(SECOND, until=THIRD), today=SECOND)
    assert (outcome.passed, outcome.looked_on) == (None, None)


def test_a_forecast_without_a_date_is_not_judged() -> None:
    assert with_forecasts(replace(made_on(FIRST), until=None)) == ()


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("chance", Fraction(2)),
        ("alpha", Fraction(-1, 100)),
        ("limit", 0),
        ("window_d", Fraction(0)),
        ("life_days", Fraction(0)),
        ("until", date(2024, 1, 1)),
    ],
)
def test_a_stored_forecast_holds_no_nonsense(field: str, value: object) -> None:
    with pytest.raises(InputError) as error:
        replace(made_on(FIRST), **{field: value})  # type: ignore[arg-type]
    assert error.value.field == field


def outcome_of(chance: float, passed: bool | None) -> Outcome:
    made = Recommendation(
        made_on=FIRST, until=SECOND, chance=chance, alpha=0.002, version="1", prior_version="1"
    )
    return Outcome(made=made, passed=passed)


FOLLOWED = "followed by a look: the limit was"
EXPECTED = "times were to be expected"
TOO_MANY = "; that is more than chance explains: do not rely on the forecast here"


@pytest.mark.parametrize(
    ("outcomes", "words"),
    [
        ((), "no forecast was followed by a look yet"),
        (
            (outcome_of(0.002, False),),
            f"1 forecast was {FOLLOWED} never found passed, 0.002 {EXPECTED}",
        ),
        (
            (outcome_of(0.4, True), outcome_of(0.3, False), outcome_of(0.1, None)),
            f"2 forecasts were {FOLLOWED} found passed once, 0.70 {EXPECTED}",
        ),
        (
            (outcome_of(0.002, True), outcome_of(0.002, True)),
            f"2 forecasts were {FOLLOWED} found passed 2 times, 0.004 {EXPECTED}{TOO_MANY}",
        ),
    ],
)
def test_the_score_in_words(outcomes: tuple[Outcome, ...], words: str) -> None:
    assert score(outcomes).words == words
