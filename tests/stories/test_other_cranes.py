"""What KQ-3 and KQ-4 teach, on five seeds that were chosen beforehand."""

import random
from datetime import date, timedelta

import pytest

from ropewright.demo import kq3, kq4
from ropewright.inspection import BrokenWires, Waviness
from tests.stories.site import DAY, SEEDS, foretold, judged, rope

pytestmark = pytest.mark.parametrize("seed", SEEDS)

# ---- KQ-3: every place stays right --------------------------------------------------------------


def test_kq_3_is_the_same_steel_every_time(seed: int) -> None:
    """Second formulation: the generator taped along the path of each day and knows the steel."""
    dossier = rope("KQ-3", seed)
    told = kq3.story(random.Random(f"Kestrel Quay, KQ-3, seed {seed}"))
    waves = [
        next(one for one in look.findings if isinstance(one, Waviness))
        for look in dossier.inspections
    ]
    assert len(waves) == 7
    for wave in waves:
        # typed to 0.01 m, taped within 0.15 m
        assert wave.section.from_m == pytest.approx(told.wave_m, abs=0.16)
        assert wave.section.length_m == pytest.approx(0.3, abs=1e-9)
        assert abs(wave.section.from_m - told.wave_m) <= wave.place.abs_err_m
    (mark,) = dossier.marks
    assert mark.place.at_m == pytest.approx(told.mark_m, abs=0.01)


def test_kq_3_was_taped_at_unlike_places_of_the_path(seed: int) -> None:
    """By hand: two cuts at end A and a turn move it along the path, by metres."""
    dossier = rope("KQ-3", seed)
    wave_m = next(
        one.section.from_m for one in dossier.inspections[-1].findings if isinstance(one, Waviness)
    )
    paths = [dossier.history.at(look.on).to_path_m(wave_m) for look in dossier.inspections]
    told = kq3.story(random.Random(f"Kestrel Quay, KQ-3, seed {seed}"))
    assert paths[0] - paths[1] == pytest.approx(told.cut_1_m)
    assert paths[2] - paths[3] == pytest.approx(told.cut_2_m)
    assert paths[4] + paths[5] == pytest.approx(told.left_m)
    assert dossier.history.at(DAY).turned
    assert dossier.history.at(DAY).length_m == pytest.approx(told.left_m)


def test_kq_3_is_monitored(seed: int) -> None:
    result = judged(rope("KQ-3", seed))
    assert result.verdict.level == "monitor"
    assert "wave" in result.verdict.sentence


# ---- KQ-4: what a forecast can do ---------------------------------------------------------------

_BRIDGE = "bridge crane hoist"


def test_kq_4_shows_0_1_and_9_broken_wires_within_weeks(seed: int) -> None:
    looks = rope("KQ-4", seed).inspections
    counts = [
        sum(one.count for one in look.findings if isinstance(one, BrokenWires)) for look in looks
    ]
    assert counts == [0, 1, 9]
    assert (looks[-1].on - looks[0].on).days == 42


@pytest.mark.parametrize("hoist_type", [None, _BRIDGE])
def test_kq_4_gets_a_date_from_its_first_broken_wire(seed: int, hoist_type: str | None) -> None:
    """The interval the competent person set is 92 days; the forecast is sooner."""
    dossier = rope("KQ-4", seed)
    before = foretold(dossier, date(2026, 9, 29), hoist_type)
    found = foretold(dossier, date(2026, 10, 20), hoist_type)
    assert before.next_inspection is not None
    assert found.state == "inspect by"
    assert found.bounded_by == "this forecast"
    assert found.next_inspection is not None
    assert date(2026, 10, 20) <= found.next_inspection < kq4.SECOND_LOOK + timedelta(days=92)
    assert found.next_inspection - found.as_of < before.next_inspection - before.as_of
    assert "1 broken wire is known" in found.because
    assert found.missing == ()


def test_kq_4_shows_its_growth(seed: int) -> None:
    found = foretold(rope("KQ-4", seed), DAY, _BRIDGE)
    assert found.state == "look closer now"
    assert any("the count doubled" in words and "from 1 to 9" in words for words in found.decide)
    assert found.plan_change
    assert (found.order_now, found.order_by) == (True, DAY)  # nobody said how long a rope takes
    assert found.present_chance is not None
    assert found.present_chance > 0.01  # the alarm of the assumption register


def test_kq_4_is_for_a_person_to_decide(seed: int) -> None:
    dossier = rope("KQ-4", seed)
    result = judged(dossier)
    assert result.verdict.level == "decide"
    assert "from 1 to 9" in result.verdict.sentence  # eight times one, a wrap out of place once
    assert any("climbed out of groove" in one.words for one in result.rulings)
    greasy = [one for one in dossier.inspections[-1].hidden if one.cause == "grease"]
    assert len(greasy) == 1
    assert [one.section for one in greasy] == list(result.verdict.felt_only)
    unseen = [one for one in result.rulings if one.clause_id == "coverage"]
    assert unseen
    assert all(one.status == "not assessable" for one in unseen)


def test_kq_4_hides_a_few_more_than_were_found(seed: int) -> None:
    """The generator knows what is broken: a hand finds most of it and never more."""
    told = kq4.story(random.Random(f"Kestrel Quay, KQ-4, seed {seed}"))
    assert len(told.found) == 9 <= told.all_broken
    lives = [one.life for one in told.found]
    assert lives == sorted(lives)
