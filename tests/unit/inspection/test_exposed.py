"""Exposure of a section: what is stated stays, the path fills what is open, the stricter wins."""

from dataclasses import replace
from datetime import date

import pytest

from ropewright.geometry import ExposedSection, Exposure, Section
from ropewright.inspection import Dossier, exposures_on
from ropewright.intake import read_case
from ropewright.rope import EndForEnd, RopeHistory
from tests.unit.plan.cranes import (
    CRANES,
    DAY,
    TROLLEY,
    by_payout,
    case_text,
    trolley_jib,
    twin_drum,
)

# by hand, of the trolley-jib crane of these tests: end A lies at the jib tip 50 m out, the trolley
# goes to 48 m; so the first metre never meets a sheave, 20 m always run over the trolley's sheaves
# and never reach the drum, 100 m spools and never gets that far out on the jib, and the last metre
# of its 170 m lies on the drum for good.
NEAR_A, ON_JIB, SPOOLS, DEAD = (Section(at, at) for at in (0.1, 20.0, 100.0, 169.0))


def stated(dossier: Dossier, *exposed: ExposedSection) -> Dossier:
    return replace(dossier, installation=replace(dossier.installation, exposed=exposed))


def rigged(dossier: Dossier, **changes: object) -> Dossier:
    rigging = replace(dossier.rigging[0], **changes)  # type: ignore[arg-type]
    return replace(dossier, rigging=(rigging,))


def test_the_path_says_what_nobody_stated() -> None:
    found = exposures_on(rigged(trolley_jib(), sheaves="steel"), DAY)
    assert found.over(NEAR_A) == Exposure(drum="none", sheaves="none", bends=False)
    assert found.over(ON_JIB) == Exposure(drum="none", sheaves="steel", bends=True)
    assert found.over(SPOOLS).drum == "multi"
    assert found.over(SPOOLS).bends is True
    assert found.over(DEAD) == Exposure(drum="unknown", sheaves="none")
    assert found.contradictions == ()


def test_sheaves_that_nobody_states_stay_unknown() -> None:
    found = exposures_on(trolley_jib(), DAY)
    assert found.over(ON_JIB).sheaves == "unknown"
    assert found.over(Section(0.0, 170.0)).sheaves == "unknown"


def test_the_whole_of_a_hoist_with_plastic_sheaves_counts_as_plastic() -> None:
    found = exposures_on(rigged(trolley_jib(), sheaves="plastic"), DAY)
    assert found.over(Section(0.0, 170.0)).sheaves == "plastic"
    assert found.over(NEAR_A).sheaves == "none"


def test_both_halves_of_a_twin_drum_spool() -> None:
    """By hand: the two halves are alike, and so is what is known of them."""
    found = exposures_on(twin_drum(), DAY)
    length = twin_drum().history.original_length_m
    for at in (0.2, 4.0, 9.0, 14.0, 20.0, 29.0):
        one, other = Section(at, at), Section(length - at, length - at)
        assert found.over(one) == found.over(other)
    assert {one.exposure.drum for one in found.stated} >= {"single", "unknown"}


def test_what_is_stated_stays_and_gaps_are_filled() -> None:
    said = ExposedSection(section=Section(90.0, 110.0), exposure=Exposure(near_end=True))
    found = exposures_on(stated(rigged(trolley_jib(), sheaves="steel"), said), DAY)
    inside = found.over(SPOOLS)
    assert (inside.near_end, inside.drum, inside.bends) == (True, "multi", True)
    assert found.over(Section(60.0, 60.0)).near_end is None
    assert found.over(ON_JIB).drum == "none"


@pytest.mark.parametrize(
    ("at", "said", "holds", "words"),
    [
        (ON_JIB, Exposure(drum="multi"), Exposure(drum="none", sheaves="plastic", bends=True),
         "spools in several layers, the path that it never spools"),
        (SPOOLS, Exposure(drum="single"), Exposure(drum="single", sheaves="plastic", bends=True),
         "spools in one layer, the path that it spools in several layers"),
        (ON_JIB, Exposure(bends=False), Exposure(drum="none", sheaves="plastic", bends=True),
         "does not bend, by the path it does"),
        (NEAR_A, Exposure(bends=True), Exposure(drum="none", sheaves="none", bends=True),
         "it bends, by the path it does not"),
        (ON_JIB, Exposure(sheaves="steel"), Exposure(drum="none", sheaves="plastic", bends=True),
         "sheaves: steel, by the path it may run over plastic ones"),
    ],
)  # fmt: skip
def test_a_contradiction_is_named_and_the_stricter_one_used(
    at: Section, said: Exposure, holds: Exposure, words: str
) -> None:
    case = stated(
        rigged(trolley_jib(), sheaves="plastic"),
        ExposedSection(section=at.widened(0.05), exposure=said),
    )
    found = exposures_on(case, DAY)
    assert found.over(at) == holds
    (only,) = found.contradictions
    assert words in only
    assert "the stricter one is used" in only


def test_of_a_turned_rope_nothing_is_ruled_out() -> None:
    """What never meets a sheave today may have run over one before the rope was turned."""
    case = rigged(trolley_jib(), sheaves="plastic")
    turned = replace(
        case,
        history=RopeHistory(
            original_length_m=case.history.original_length_m,
            steps=(EndForEnd(on=date(2026, 3, 1)),),
        ),
    )
    before, after = exposures_on(turned, date(2026, 2, 28)), exposures_on(turned, DAY)
    assert before.over(NEAR_A) == Exposure(drum="none", sheaves="none", bends=False)
    # by hand: end A of today is rope position 170 m, and what lay on the drum lies near end A
    assert after.over(Section(169.9, 169.9)) == Exposure(drum="none", sheaves="plastic")
    assert after.over(Section(70.0, 70.0)).drum == "multi"


def test_where_the_path_is_not_known_the_rigging_speaks_for_the_whole_rope() -> None:
    found = exposures_on(by_payout(), DAY)
    assert found.stated == ()
    assert found.elsewhere.drum == (by_payout().rigging[0].drum_layers or "unknown")


@pytest.mark.parametrize("kind", CRANES)
def test_a_case_of_every_crane_is_read_without_a_contradiction(kind: str) -> None:
    assert exposures_on(CRANES[kind](), DAY).contradictions == ()


def test_nothing_is_known_before_the_first_rigging() -> None:
    found = exposures_on(trolley_jib(), date(2020, 1, 1))
    assert (found.stated, found.elsewhere) == ((), Exposure())


def test_a_case_file_that_contradicts_its_path_is_warned_of() -> None:
    text = """
[[installation.exposure]]
from = "10 m"
to = "30 m"
drum = "multi"
"""
    file = case_text(TROLLEY, more=text)
    (words,) = read_case(file, file="case.toml").warnings
    assert words.startswith("exposure 10.0 to 30.0 m: the case file says it spools")
