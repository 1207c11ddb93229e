"""Law: worse evidence never gives a better verdict.

Two forms, told apart in docs/decisions/0003-evidence-and-laws.md:

- *strict*: seeing less leaves every verdict at least as strict as it was;
- *blurred*: measuring or knowing less may turn 'remove' or 'decide' into 'incomplete', since the
  certainty itself is gone, but never into 'monitor' or 'clear', and never 'incomplete' into them.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.geometry import Exposure, Section
from ropewright.inspection import (
    BrokenWires,
    Conditions,
    DiameterReading,
    Dossier,
    HiddenSection,
    Inspection,
)
from ropewright.rules.ruling import Level
from tests.laws.building import ISO, ORDER, WHOLE, is_as_strict, judged, level
from tests.laws.strategies import Case, cases

INCOMPLETE = ORDER.index("incomplete")


def is_blurred_only(after: Level, before: Level) -> bool:
    """As strict as before, or 'incomplete' where it was 'remove' or 'decide'."""
    return ORDER.index(after) <= max(ORDER.index(before), INCOMPLETE)


def change_latest(one: Dossier, change: Callable[[Inspection], Inspection]) -> Dossier:
    """Change the latest thorough inspection (a shift check may come after it)."""
    numbers = [n for n, done in enumerate(one.inspections) if done.is_thorough]
    inspections = list(one.inspections)
    inspections[numbers[-1]] = change(inspections[numbers[-1]])
    return replace(one, inspections=tuple(inspections))


def each_exposure(one: Dossier, **changes: Any) -> Dossier:
    """The same change to what every section is exposed to, and nothing said by the rigging."""
    exposed = tuple(
        replace(item, exposure=replace(item.exposure, **changes))
        for item in one.installation.exposed
    )
    return replace(one, rigging=(), installation=replace(one.installation, exposed=exposed))


# ---- strict: seeing less ---------------------------------------------------------------------


def shrink_pass(one: Inspection, number: int, by_m: float) -> Inspection:
    if not one.passes:
        return one
    passes = list(one.passes)
    chosen = passes[number % len(passes)]
    end = max(chosen.section.from_m, chosen.section.to_m - by_m)
    passes[number % len(passes)] = replace(chosen, section=Section(chosen.section.from_m, end))
    return replace(one, passes=tuple(passes))


def delete_pass(one: Inspection, number: int, _by_m: float) -> Inspection:
    keep = [p for n, p in enumerate(one.passes) if n != number % max(1, len(one.passes))]
    return replace(one, passes=tuple(keep))


def poorer_method(one: Inspection, _number: int, _by_m: float) -> Inspection:
    return replace(
        one,
        passes=tuple(
            replace(p, method="eye") if p.method == "eye-round" else p for p in one.passes
        ),
    )


def hide(one: Inspection, number: int, by_m: float) -> Inspection:
    hidden = Section(float(number * 10), min(200.0, number * 10 + by_m))
    return replace(one, hidden=(*one.hidden, HiddenSection(section=hidden)))


def examine_less(one: Inspection, number: int, _by_m: float) -> Inspection:
    if not one.examined:
        return one
    gone = one.examined[number % len(one.examined)]
    return replace(one, examined=tuple(item for item in one.examined if item != gone))


def call_not_seen(one: Inspection, number: int, _by_m: float) -> Inspection:
    if not one.examined:
        return one
    items = list(one.examined)
    items[number % len(items)] = replace(items[number % len(items)], state="not seen")
    return replace(one, examined=tuple(items))


def nobody(one: Inspection, _number: int, _by_m: float) -> Inspection:
    return replace(one, by=())


def somebody(one: Inspection, _number: int, _by_m: float) -> Inspection:
    return replace(one, by=tuple(replace(who, competence="unknown") for who in one.by))


def grease_not_stated(one: Inspection, _number: int, _by_m: float) -> Inspection:
    return replace(one, conditions=Conditions()) if one.conditions.grease == "right" else one


def no_next_date(one: Inspection, _number: int, _by_m: float) -> Inspection:
    return replace(one, next_by=None)


LESS_SEEN = [
    shrink_pass, delete_pass, poorer_method, hide, examine_less, call_not_seen, nobody, somebody,
    grease_not_stated, no_next_date,
]  # fmt: skip


@pytest.mark.parametrize("less", LESS_SEEN, ids=[one.__name__ for one in LESS_SEEN])
@given(cases(earlier=True), st.integers(0, 20), st.sampled_from([0.5, 10.0, 150.0, 200.0]))
def test_seeing_less_never_makes_the_verdict_milder(
    less: Callable[[Inspection, int, float], Inspection], case: Case, number: int, by_m: float
) -> None:
    poorer = change_latest(case.dossier, lambda one: less(one, number, by_m))
    before, after = level(case.dossier, *case.rules), level(poorer, *case.rules)
    assert is_as_strict(after, before)


@given(cases(earlier=True))
def test_an_inspection_that_is_not_finished_is_no_better_than_none(case: Case) -> None:
    unfinished = change_latest(case.dossier, lambda one: replace(one, finished=False))
    without = replace(
        case.dossier,
        inspections=tuple(one for one in unfinished.inspections if one.finished),
    )
    assert is_as_strict(level(unfinished, *case.rules), level(without, *case.rules))


@given(cases())
def test_an_only_inspection_that_is_not_finished_is_never_clear(case: Case) -> None:
    unfinished = replace(
        case.dossier,
        inspections=tuple(replace(one, finished=False) for one in case.dossier.inspections),
    )
    assert ORDER.index(level(unfinished, *case.rules)) <= INCOMPLETE


@given(cases())
def test_no_inspection_is_never_monitor_or_clear(case: Case) -> None:
    assert ORDER.index(level(replace(case.dossier, inspections=()), *case.rules)) <= INCOMPLETE


# ---- strict: knowing less about what the rope meets, where the stricter reading is taken -------


@pytest.mark.parametrize(
    "unknown",
    [{"sheaves": "unknown"}, {"drum": "unknown"}, {"crossover": None}, {"bends": None}],
    ids=["sheaves", "drum", "crossover", "bends"],
)
@given(cases(earlier=True))
def test_not_knowing_what_the_rope_meets_never_makes_the_verdict_milder(
    unknown: dict[str, Any], case: Case
) -> None:
    poorer = each_exposure(case.dossier, **unknown)
    same = each_exposure(case.dossier)  # the rigging is gone in both
    assert is_as_strict(level(poorer, *case.rules), level(same, *case.rules))


@given(cases(earlier=True))
def test_without_a_rigging_the_verdict_is_never_milder(case: Case) -> None:
    poorer = replace(case.dossier, rigging=())
    assert is_as_strict(level(poorer, *case.rules), level(case.dossier, *case.rules))


@given(cases(earlier=True))
def test_without_any_exposure_the_verdict_is_as_with_unknown_ones(case: Case) -> None:
    silent = replace(
        case.dossier,
        rigging=(),
        installation=replace(case.dossier.installation, exposed=()),
    )
    unknown = each_exposure(
        case.dossier, drum="unknown", sheaves="unknown", crossover=None, near_end=None, bends=None
    )
    assert level(silent, *case.rules) == level(unknown, *case.rules)
    assert Exposure() == Exposure(drum="unknown", sheaves="unknown")


@given(cases(earlier=True))
def test_not_knowing_the_lay_type_never_makes_the_verdict_milder(case: Case) -> None:
    rope = replace(case.dossier.rope, lay_type=None)
    poorer = replace(case.dossier, rope=rope)
    assert is_as_strict(level(poorer, *case.rules), level(case.dossier, *case.rules))


@given(cases(earlier=True))
def test_not_knowing_the_core_never_makes_the_verdict_milder(case: Case) -> None:
    rope = case.dossier.rope
    silent = replace(rope, construction=replace(rope.construction, core=None))
    poorer = replace(case.dossier, rope=silent)
    assert is_as_strict(level(poorer, *case.rules), level(case.dossier, *case.rules))


@given(cases(earlier=True))
def test_not_knowing_whether_it_is_rotation_resistant_never_makes_the_verdict_milder(
    case: Case,
) -> None:
    rope = case.dossier.rope
    silent = replace(rope, construction=replace(rope.construction, rotation_resistant=None))
    poorer = replace(case.dossier, rope=silent)
    assert is_as_strict(level(poorer, *case.rules), level(case.dossier, *case.rules))


# ---- blurred: measuring less -----------------------------------------------------------------


@given(cases(earlier=True))
def test_an_unmeasured_lay_is_never_better(case: Case) -> None:
    # lays between 6 d and 7.25 d: outside them a measured lay knows more than the usual ones
    poorer = replace(case.dossier, rope=replace(case.dossier.rope, lay_length_mm=None))
    assert is_blurred_only(level(poorer, *case.rules), level(case.dossier, *case.rules))


@given(cases(earlier=True))
def test_a_lost_reference_diameter_is_never_better(case: Case) -> None:
    poorer = replace(case.dossier, installation=replace(case.dossier.installation, reference=None))
    assert is_blurred_only(level(poorer, *case.rules), level(case.dossier, *case.rules))


@given(cases(earlier=True))
def test_numbers_of_wires_that_nobody_knows_are_never_better(case: Case) -> None:
    rope = case.dossier.rope
    silent = replace(
        rope.construction,
        outer_strands=None,
        wires_per_outer_strand=None,
        load_bearing_outer_wires=None,
    )
    poorer = replace(case.dossier, rope=replace(rope, construction=silent))
    assert is_blurred_only(level(poorer, *case.rules), level(case.dossier, *case.rules))


@given(cases(earlier=True), st.data())
def test_half_a_pair_is_never_better(case: Case, data: st.DataObject) -> None:
    spots = [(n, k) for n, k, one in _findings(case.dossier) if isinstance(one, DiameterReading)]
    if not spots:
        return
    n, k = data.draw(st.sampled_from(spots))
    poorer = _replaced(
        case.dossier, n, k, lambda one: replace(one, readings_mm=one.readings_mm[:1])
    )
    assert is_blurred_only(level(poorer, *case.rules), level(case.dossier, *case.rules))


@given(cases(earlier=True), st.data())
def test_deleting_a_reading_takes_away_what_it_said_and_nothing_else(
    case: Case, data: st.DataObject
) -> None:
    # the record is append-only, so this is about readings that were never entered: the rest
    # of the verdict stands, and the last pair of an inspection leaves it incomplete
    spots = [
        (n, k, one) for n, k, one in _findings(case.dossier) if isinstance(one, DiameterReading)
    ]
    if not spots:
        return
    n, k, reading = data.draw(st.sampled_from(spots))
    before = judged(case.dossier, *case.rules)
    after = level(_deleted(case.dossier, n, k), *case.rules)
    rest = min(
        (one.level for one in before.rulings if reading.finding_id not in one.finding_ids),
        key=ORDER.index,
    )
    assert is_as_strict(after, rest)


@given(cases(), st.data())
def test_deleting_the_only_reading_is_never_monitor_or_clear(
    case: Case, data: st.DataObject
) -> None:
    if ISO not in case.rules:
        return  # not every rule asks for a diameter at every inspection
    poorer = case.dossier
    for n, k, one in reversed(list(_findings(poorer))):
        if isinstance(one, DiameterReading):
            poorer = _deleted(poorer, n, k)
    assert ORDER.index(level(poorer, *case.rules)) <= INCOMPLETE


@given(cases(earlier=True), st.data(), st.sampled_from([0.1, 1.0, 10.0]))
def test_a_less_certain_place_is_never_better(case: Case, data: st.DataObject, by_m: float) -> None:
    spots = [(n, k) for n, k, _ in _findings(case.dossier)]
    if not spots:
        return
    n, k = data.draw(st.sampled_from(spots))
    field = data.draw(st.sampled_from(["abs_err_m", "rel_err_m"]))
    poorer = _replaced(
        case.dossier, n, k,
        lambda one: replace(
            one, place=replace(one.place, **{field: getattr(one.place, field) + by_m})
        ),
    )  # fmt: skip
    assert is_blurred_only(level(poorer, *case.rules), level(case.dossier, *case.rules))


@given(cases(earlier=True), st.data(), st.sampled_from([1, 50, 1000]), st.integers(0, 2))
def test_a_coarser_count_is_never_better(
    case: Case, data: st.DataObject, by_mm: int, way: int
) -> None:
    spots = [(n, k) for n, k, one in _findings(case.dossier) if isinstance(one, BrokenWires)]
    if not spots:
        return
    n, k = data.draw(st.sampled_from(spots))
    poorer = _replaced(case.dossier, n, k, lambda one: _coarser(one, by_mm, way))
    assert is_blurred_only(level(poorer, *case.rules), level(case.dossier, *case.rules))


def _coarser(one: BrokenWires, by_mm: int, way: int) -> BrokenWires:
    if way == 0:  # the tape is less exact
        return replace(one, offset_err_mm=one.offset_err_mm + by_mm)
    first, *rest = one.groups
    if way == 1:  # the same number over a longer length
        longer = replace(
            first, from_mm=first.from_mm - Fraction(by_mm, 2), to_mm=first.to_mm + by_mm
        )
        return replace(one, groups=(longer, *rest))
    low = min(group.from_mm for group in one.groups)  # one number for the whole cluster
    high = max(group.to_mm for group in one.groups)
    whole = replace(first, from_mm=low, to_mm=high, count=one.count, site="unknown", strand=None)
    return replace(one, groups=(whole,))


@given(cases(earlier=True), st.data(), st.sampled_from(["site", "strand"]))
def test_breaks_of_unknown_kind_or_strand_are_never_better(
    case: Case, data: st.DataObject, field: str
) -> None:
    spots = [(n, k) for n, k, one in _findings(case.dossier) if isinstance(one, BrokenWires)]
    if not spots:
        return
    n, k = data.draw(st.sampled_from(spots))
    unknown: dict[str, Any] = {field: {"site": "unknown", "strand": None}[field]}

    def silent(one: BrokenWires) -> BrokenWires:
        return replace(one, groups=tuple(replace(group, **unknown) for group in one.groups))

    poorer = _replaced(case.dossier, n, k, silent)
    assert is_blurred_only(level(poorer, *case.rules), level(case.dossier, *case.rules))


def _findings(one: Dossier) -> Iterator[tuple[int, int, Any]]:
    for n, done in enumerate(one.inspections):
        for k, finding in enumerate(done.findings):
            yield n, k, finding


def _replaced(one: Dossier, n: int, k: int, change: Callable[[Any], Any]) -> Dossier:
    inspections = list(one.inspections)
    findings = list(inspections[n].findings)
    findings[k] = change(findings[k])
    inspections[n] = replace(inspections[n], findings=tuple(findings))
    return replace(one, inspections=tuple(inspections))


def _deleted(one: Dossier, n: int, k: int) -> Dossier:
    inspections = list(one.inspections)
    findings = [f for number, f in enumerate(inspections[n].findings) if number != k]
    inspections[n] = replace(inspections[n], findings=tuple(findings))
    return replace(one, inspections=tuple(inspections))


assert WHOLE.length_m == 200.0
