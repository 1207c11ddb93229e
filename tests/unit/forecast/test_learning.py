"""Clock, usual life, one's own detection, and the back-test."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from ropewright.errors import InputError, UnknownNameError
from ropewright.forecast import (
    Clock,
    Limit,
    Look,
    Outcome,
    PastRope,
    Prior,
    Recommendation,
    Zone,
    back_test,
    detection_prior,
    learn,
    own_detection,
    prior_for,
    score,
    working_days,
)
from ropewright.inspection import Trial
from tests.calibration.simulate import draw, zones_of

DAY = date(2025, 1, 1)


def test_days_count_from_fitting_and_stand_still_while_idle() -> None:
    clock = Clock(fitted_on=DAY, idle=((date(2025, 2, 1), date(2025, 3, 1)),))
    assert clock.at(date(2025, 1, 11)) == 10  # by hand
    assert clock.at(date(2025, 4, 1)) == 90 - 28  # by hand


def test_damage_is_read_between_readings_and_goes_on_at_its_rate() -> None:
    clock = Clock(
        fitted_on=DAY, readings=((date(2025, 1, 11), 100.0), (date(2025, 1, 21), 120.0)), rate=3.0
    )
    assert clock.kind == "damage"
    assert clock.at(date(2025, 1, 6)) == 50  # by hand
    assert clock.at(date(2025, 1, 16)) == 110  # by hand
    assert clock.at(date(2025, 1, 31)) == 150  # by hand


def test_a_spread_of_the_rate_keeps_mean_and_variance_of_its_logarithm() -> None:
    nodes = Clock(fitted_on=DAY, rate=2.0, rate_spread=0.3).rates()
    logs = np.log([rate / 2.0 for rate, _ in nodes])
    weights = np.array([weight for _, weight in nodes])
    assert weights.sum() == pytest.approx(1.0)  # by hand
    assert weights @ logs == pytest.approx(0.0, abs=1e-12)  # by hand
    assert weights @ logs**2 == pytest.approx(0.09)  # by hand


def test_a_crane_that_stood_still_is_not_forecast_to_stand_still() -> None:
    """By hand: ten a month for ten months, then none for four; it may be put to work again."""
    months = [
        (DAY + timedelta(days=30 * number), 10.0 * min(number, 10)) for number in range(1, 15)
    ]
    clock = working_days(Clock(fitted_on=DAY, readings=tuple(months)))
    last = months[-1][0]
    assert clock.rate == 1.0
    assert clock.at(last + timedelta(days=60)) - clock.at(last) == pytest.approx(60.0)


def test_a_clock_never_runs_backwards() -> None:
    with pytest.raises(InputError):
        Clock(fitted_on=DAY, readings=((date(2025, 2, 1), 5.0), (date(2025, 3, 1), 4.0)))
    with pytest.raises(InputError):
        Clock(fitted_on=DAY).at(date(2024, 1, 1))


def test_a_stated_usual_life_wins_and_is_named() -> None:
    assert prior_for("bridge crane hoist").life_from == "usual for: bridge crane hoist"
    stated = prior_for("bridge crane hoist", stated_days=900.0, stated_by="competent person")
    assert (stated.life, stated.life_from) == (900.0, "stated by competent person")
    with pytest.raises(UnknownNameError):
        prior_for("ship's hoist")


def test_a_few_ropes_of_ones_own_change_nothing() -> None:
    prior = prior_for()
    found = learn([PastRope(name="one", zones=())], [Limit(count=5, window_d=6.0)], prior)
    assert not found.learnt
    assert found.prior is prior


def test_ropes_of_ones_own_pull_the_usual_life_towards_theirs() -> None:
    truth = Prior(life=700.0, life_spread=0.4, life_from="truth")
    assumed = Prior(life=1826.0, life_from="assumed")
    ropes = []
    for number in range(14):
        rng = np.random.default_rng([20266, number])
        rope = draw(rng, truth, 6.0)
        looks = []
        for clock in np.arange(90.0, 3000.0, 90.0):
            looks.append((float(clock), "feel", rope.look(rng, float(clock), "feel")))
            if sum(new[0] for _, _, new in looks) >= 6:
                break
        ropes.append(PastRope(name=str(number), zones=zones_of(looks), inner=3, outer=9))  # type: ignore[arg-type]
    found = learn(ropes, [Limit(count=6, window_d=6.0)], assumed)
    assert found.learnt
    # between the truth and what was assumed, nearer the truth in logarithms
    assert 500 < found.prior.life < (700 * 1826) ** 0.5
    assert found.hidden_share is not None
    assert 0.2 < found.hidden_share < 0.35


def test_a_trial_of_ones_own_moves_detection_as_far_as_it_is_large() -> None:
    none, small, large = (
        own_detection(trials)
        for trials in ((), (Trial(both=3, eye_only=0, feel_only=7),),
                       (Trial(both=30, eye_only=0, feel_only=70),))
    )  # fmt: skip
    means = [sum(one.eye) / 2 for one in (none, small, large)]
    assert means[0] == pytest.approx(0.5)  # by hand: 5 of 10
    assert means[1] == pytest.approx(8 / 20)  # by hand
    assert means[2] == pytest.approx(35 / 110)  # by hand
    taken = detection_prior(own={"eye": large.eye})
    assert taken[0].chances("eye").mean() == pytest.approx(large.eye[0])
    with pytest.raises(InputError):
        Trial(both=-1, eye_only=0, feel_only=0)


def made(chance: float) -> Recommendation:
    return Recommendation(
        made_on=DAY, until=date(2025, 4, 1), chance=chance, alpha=0.002, version="1",
        prior_version="1",
    )  # fmt: skip


def test_the_score_sums_chances_and_warns_when_too_many_failed() -> None:
    good = score(
        [Outcome(made=made(0.01), passed=False)] * 50 + [Outcome(made=made(0.1), passed=None)]
    )
    assert (good.judged, good.open, good.passed) == (50, 1, 0)
    assert good.expected == pytest.approx(0.5)  # by hand
    assert "do not rely" not in good.words
    bad = score([Outcome(made=made(0.01), passed=True)] * 3)
    # by hand: Poisson, mean 0.03, three or more: 0.03^3 / 6 less a little
    assert bad.p_too_many == pytest.approx(4.4e-6, rel=0.02)
    assert "do not rely" in bad.words


def test_the_back_test_forecasts_each_look_from_the_one_before() -> None:
    zone = Zone(
        name="",
        looks=(
            Look(clock=500.0, method="feel", new=1),
            Look(clock=600.0, method="feel", new=0),
            Look(clock=700.0, method="feel", new=5),
        ),
    )
    limits = [Limit(count=6, window_d=6.0)]
    course = [replace(zone, looks=zone.looks[:number]) for number in range(1, len(zone.looks) + 1)]
    found = back_test([course], limits, Clock(fitted_on=DAY), prior_for("bridge crane hoist"))
    assert [one.passed for one in found] == [False, True]
    assert all(0 < one.made.chance < 1 for one in found)
