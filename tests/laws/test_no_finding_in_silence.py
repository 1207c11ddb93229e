"""Law: no finding is passed over in silence, whichever rule set is chosen.

Every finding is named by at least one ruling that judges it, or says that it cannot be judged.
"""

from collections.abc import Iterator
from typing import Any

import pytest

from ropewright.inspection import BREAK_SITES, DAMAGE_WORDS, PART_WORDS
from tests.laws.building import (
    LATEST,
    breaks,
    damage,
    dossier,
    inspection,
    judged,
    pair,
    part,
    wave,
)
from tests.laws.strategies import ALL_RULES

#: A rust film that wipes off: some rules name only corrosion that is worse.
FILM = "wipes off"


def rope_findings() -> Iterator[Any]:
    for at_m in (1.0, 50.0):  # where the rope never bends, and where it does
        for what, (forms, grades) in DAMAGE_WORDS.items():
            for form in (None, *forms):
                for grade in (None, *grades):
                    yield damage(what, form=form, grade=grade, at_m=at_m, name="found")
        for gap_mm in ("1", "3", "9"):
            yield wave(gap_mm, at_m=at_m, name="found")
        for site in BREAK_SITES:
            yield breaks(0, site=site, at_m=at_m, name="found")
        yield pair("19.9", at_m=at_m, name="found")


@pytest.mark.parametrize("rules", ALL_RULES)
def test_every_finding_on_the_rope_is_judged_or_asked_about(rules: str) -> None:
    silent = []
    for finding in rope_findings():
        done = judged(dossier(inspection("annual", LATEST, pair("20.2"), finding)), rules)
        spoken = [
            one
            for one in done.rulings
            if "found" in one.finding_ids and one.status in ("below", "reached", "not assessable")
        ]
        if not spoken and getattr(finding, "grade", None) != FILM:
            silent.append(finding)
    assert not silent


@pytest.mark.parametrize("rules", ALL_RULES)
def test_every_finding_on_a_part_is_at_least_decided(rules: str) -> None:
    for what, states in PART_WORDS.items():
        for state in states:
            one = dossier(
                inspection("annual", LATEST, pair("20.2"), parts=[part(what, state, name="found")])
            )
            reached = [r for r in judged(one, rules).rulings if "found" in r.finding_ids]
            assert [r.status for r in reached] == ["reached"] * len(reached)
            assert reached, (what, state)
