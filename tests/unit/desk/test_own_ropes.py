"""What a company's own ropes teach at the desk: life, hidden breaks, detection, the clock."""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest

from ropewright.desk import foretell
from ropewright.desk.own_ropes import is_alike
from ropewright.forecast import Clock, working_days
from ropewright.geometry import Section
from ropewright.inspection import Crane, Dossier, InnerCount, Trial
from ropewright.intake import PackageShelf
from tests.unit.forecast.test_record import breaks, dossier, look

SHELF = PackageShelf()
TODAY = date(2025, 7, 2)


def rope(name: str = "own", **more: object) -> Dossier:
    known = dossier(
        look(date(2025, 1, 1)),
        look(date(2025, 4, 1), breaks("a", 40.0, 1)),
        look(date(2025, 7, 1), breaks("b", 40.0, 2, same_as="a")),
    )
    return replace(
        known,
        crane=Crane(crane_id="invented", kind="bridge crane"),
        rope=replace(known.rope, rope_id=name, plastic=False),
        installation=replace(known.installation, rules=("iso-4309-2017",)),
        **more,  # type: ignore[arg-type]
    )


def short_lived(number: int) -> Dossier:
    """A rope of the same kind on which six wires were broken after eight months."""
    known = rope(f"past {number}")
    return replace(
        known,
        inspections=(
            look(date(2024, 5, 1)),
            look(date(2024, 7, 1), breaks("a", 40.0, 2)),
            look(date(2024, 9, 1), breaks("b", 40.0, 6, same_as="a")),
        ),
    )


def said(known: Dossier, *own: Dossier, **more: object) -> str:
    found = foretell(known, SHELF, TODAY, software="test", own_ropes=own, **more)  # type: ignore[arg-type]
    return " | ".join(found.notes)


def test_the_kind_of_hoist_follows_from_crane_and_purpose() -> None:
    taken = foretell(rope(), SHELF, TODAY, software="test").forecast.prior
    assert taken.life_from == "usual for: bridge crane hoist"
    stated = foretell(rope(), SHELF, TODAY, software="test", usual_life_days=400.0).forecast.prior
    assert (stated.life, stated.life_from) == (400.0, "stated by a person")


def test_few_own_ropes_are_counted_and_change_nothing() -> None:
    words = said(rope(), short_lived(1))
    # the rope itself is one of them
    assert "2 ropes of one's own; 8 are needed" in words


def test_eight_own_ropes_replace_the_usual_life() -> None:
    own = [short_lived(number) for number in range(8)]
    taken = foretell(rope(), SHELF, TODAY, software="test", own_ropes=own).forecast.prior
    assert "learnt from 9 ropes" in taken.life_from
    # by hand: six of ten broken after eight months; the list says five years
    assert taken.life < 3 * 365
    stated = foretell(
        rope(), SHELF, TODAY, software="test", own_ropes=own, usual_life_days=400.0
    ).forecast.prior
    assert stated.life == 400.0


def test_ropes_of_another_kind_are_left_aside() -> None:
    other = replace(short_lived(1), crane=Crane(crane_id="invented", kind="telescopic crane"))
    assert not is_alike(rope(), other)
    assert "1 of another kind or work were left aside" in said(rope(), other)


def test_opened_ropes_with_most_breaks_inside_end_the_date() -> None:
    opened = InnerCount(
        section=Section(39.0, 41.0), over_mm=Fraction(120), outer_broken=4, inner_broken=20
    )
    known = rope(opened=(opened,))
    found = foretell(known, SHELF, TODAY, software="test")
    assert found.forecast.state == "no date"
    assert found.forecast.rows[0].case_id == "opened"
    # by hand: (20 + 1) / (24 + 3) = 78 %
    assert "about 78% of the breaks lay inside" in " ".join(found.notes)
    few = replace(opened, inner_broken=1)
    assert foretell(rope(opened=(few,)), SHELF, TODAY, software="test").forecast.curve is not None


def test_trials_of_ones_own_change_what_a_pass_is_taken_to_find() -> None:
    trial = Trial(both=10, eye_only=0, feel_only=90, on=date(2025, 7, 1))
    usual = foretell(rope(), SHELF, TODAY, software="test").forecast.prior
    found = foretell(rope(trials=(trial,)), SHELF, TODAY, software="test")
    assert found.forecast.prior.version == f"{usual.version}+trials"
    assert "own trials with 100 broken wires" in " ".join(found.notes)
    # a trial to come is not known yet
    later = replace(trial, on=TODAY + timedelta(days=1))
    assert "own trials" not in said(rope(trials=(later,)))


FITTED = date(2024, 1, 1)


def clock(*damage: float) -> Clock:
    """Damage at the end of each month of thirty days."""
    total, readings = 0.0, []
    for number, more in enumerate(damage, 1):
        total += more
        readings.append((FITTED + timedelta(days=30 * number), total))
    return Clock(fitted_on=FITTED, readings=tuple(readings))


def test_a_clock_of_even_work_is_days() -> None:
    even = working_days(clock(*[5.0] * 12))
    # by hand: the average pace is one a day
    assert even.at(FITTED + timedelta(days=100)) == pytest.approx(100.0)
    assert even.rate == pytest.approx(1.0)
    assert even.rate_spread == pytest.approx(0.0)


def test_a_rope_that_works_harder_of_late_ages_faster() -> None:
    harder = working_days(clock(*[1.0] * 9, *[4.0] * 3))
    # by hand: 21 in 360 days, 12 in the last 90: 0.133 a day against 0.0583
    assert harder.rate == pytest.approx(0.1333 / 0.05833, rel=0.02)
    assert harder.at(FITTED + timedelta(days=360)) == pytest.approx(360.0)
    assert harder.rate_spread > 0.3


def test_the_forecast_says_by_which_clock() -> None:
    assert "clock: days since fitting, not the work done" in said(rope())
    words = said(rope(), clock=clock(*[1.0] * 12, *[3.0] * 6))
    assert "clock: work by the duty log up to 2025-06-24" in words
    clean = replace(rope(), inspections=(look(date(2025, 1, 1)), look(date(2025, 7, 1))))
    lead = [
        foretell(clean, SHELF, TODAY, software="test", clock=one).forecast.lead_days
        for one in (None, clock(*[1.0] * 12, *[3.0] * 6))
    ]
    assert lead[0] is not None
    assert lead[1] is not None
    assert lead[1] < lead[0]
    assert "the log says nothing" in said(rope(), clock_note="the log says nothing")
