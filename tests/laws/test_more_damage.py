"""Law: more damage never gives a milder verdict.

What exactly holds, and why some of it is narrower than it sounds, is in
docs/decisions/0003-evidence-and-laws.md.
"""

from dataclasses import replace
from fractions import Fraction
from typing import Any

from hypothesis import assume, given
from hypothesis import strategies as st

from ropewright.geometry import RopePlace
from ropewright.inspection import DAMAGE_WORDS, BrokenWires, Damage, Dossier
from ropewright.inspection.again import is_near
from ropewright.rope import Rope
from ropewright.rules import Assessment
from ropewright.rules.ruling import Level
from tests.laws.building import (
    EARLIER,
    ISO,
    LATEST,
    ORDER,
    US,
    dossier,
    inspection,
    is_as_strict,
    judged,
    level,
    pair,
)
from tests.laws.strategies import (
    Case,
    cases,
    clusters,
    damages,
    events,
    part_findings,
    rope_findings,
    ropes,
    waves,
)

#: Our own questions whose answer is a finding: a finding may answer them.
ANSWERED_BY_FINDINGS = frozenset({"own-checks/vanished"})


def without_questions(assessment: Assessment) -> Level:
    """The strictest level, leaving out the question what became of an earlier finding."""
    return min(
        (
            one.level
            for one in assessment.rulings
            if f"{one.rule_set}/{one.clause_id}" not in ANSWERED_BY_FINDINGS
        ),
        key=ORDER.index,
    )


def adding(one: Dossier, number: int, *findings: Any, parts: Any = ()) -> Dossier:
    """The dossier with findings added to one of its inspections."""
    inspections = list(one.inspections)
    old = inspections[number]
    inspections[number] = replace(
        old,
        findings=(*old.findings, *findings),
        part_findings=(*old.part_findings, *parts),
    )
    return replace(one, inspections=tuple(inspections))


@given(cases(), rope_findings("added"))
def test_one_more_finding_on_the_rope_never_makes_the_verdict_milder(
    case: Case, finding: Any
) -> None:
    before = judged(case.dossier, *case.rules)
    after = judged(adding(case.dossier, -1, finding), *case.rules)
    assert is_as_strict(after.verdict.level, before.verdict.level)


@given(cases(earlier=True), rope_findings("added"), st.data())
def test_a_new_finding_only_ever_answers_what_became_of_an_earlier_one(
    case: Case, finding: Any, data: st.DataObject
) -> None:
    inspections = case.dossier.inspections
    number = data.draw(st.integers(0, len(inspections) - 1))
    earlier = [old for one in inspections for old in one.findings]
    if any(is_near(old, finding) or is_near(finding, old) for old in earlier):
        return  # found again, not new: see the stories of what counts on a date
    before = judged(case.dossier, *case.rules)
    after = judged(adding(case.dossier, number, finding), *case.rules)
    assert is_as_strict(without_questions(after), without_questions(before))


@given(cases(earlier=True), part_findings("added"), st.data())
def test_one_more_finding_on_a_part_never_makes_the_verdict_milder(
    case: Case, finding: Any, data: st.DataObject
) -> None:
    number = data.draw(st.integers(0, len(case.dossier.inspections) - 1))
    before = judged(case.dossier, *case.rules)
    after = judged(adding(case.dossier, number, parts=[finding]), *case.rules)
    assert is_as_strict(after.verdict.level, before.verdict.level)


@given(cases(earlier=True), events())
def test_one_more_event_never_makes_the_verdict_milder(case: Case, event: Any) -> None:
    eventful = replace(
        case.dossier,
        events=(*case.dossier.events, replace(event, event_id="added event")),
    )
    before = judged(case.dossier, *case.rules)
    after = judged(eventful, *case.rules)
    assert is_as_strict(after.verdict.level, before.verdict.level)
    assert after.verdict.on_hold or not before.verdict.on_hold


@given(cases(earlier=True), st.sampled_from(["clear", "monitor"]))
def test_broken_wires_are_never_clear(case: Case, mild: Level) -> None:
    assessment = judged(case.dossier, *case.rules)
    counted = any(
        one.found is not None and one.found.unit == "broken wires" and one.found.upper > 0
        for one in assessment.rulings
    )
    if counted:
        assert assessment.verdict.level != "clear", mild


@st.composite
def found_again(draw: st.DrawFn) -> tuple[Any, Any]:
    """Damage, and damage of the same kind at the same place, as grave or not, named or not."""
    kind = draw(st.sampled_from([clusters, damages, waves]))
    place = RopePlace(at_m=draw(st.sampled_from([30.0, 100.0, 121.5])))
    named = draw(st.sampled_from([None, "old"]))
    old: Any = replace(draw(kind("old")), place=place)
    new: Any = replace(draw(kind("new")), place=place, same_as=named)
    if isinstance(old, BrokenWires):
        # offsets of less than the tape's slack apart are the same to it
        assume(all(group.from_mm != 121 for one in (old, new) for group in one.groups))
        new = replace(new, crossover_damage=old.crossover_damage, offset_err_mm=old.offset_err_mm)
    elif isinstance(old, Damage):
        grades = DAMAGE_WORDS[old.damage][1]
        grade = draw(st.sampled_from([None, *grades]))
        new = replace(new, damage=old.damage, form=old.form, grade=grade)
    return old, new


@given(ropes(), found_again())
def test_damage_found_again_never_turns_mild_by_itself(the_rope: Rope, pair_: Any) -> None:
    old, new = pair_
    sound_mm = the_rope.nominal_diameter_mm * Fraction("1.01")
    first = inspection("annual", EARLIER, pair(sound_mm, name="D0"), old)
    second = inspection("annual", LATEST, pair(sound_mm), new)
    before = level(dossier(first, the_rope=the_rope), ISO, US)
    after = level(dossier(first, second, the_rope=the_rope), ISO, US)
    if before in ("remove", "decide"):
        assert ORDER.index(after) <= ORDER.index("incomplete")
