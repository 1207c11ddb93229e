"""What persons say of two findings: honoured by evidence and forecast, never a lower count."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from ropewright.errors import InputError
from ropewright.forecast import record_of_rope
from ropewright.inspection import Comparison, Dossier
from ropewright.inspection.evidence import evidence_on
from ropewright.intake import read_case
from ropewright.intake.write_case import write_case
from ropewright.logbook import LogbookDesk
from ropewright.matching import follow
from ropewright.rope import Cut, RopeHistory
from tests.unit.forecast.test_record import breaks, dossier, look

FIRST, SECOND, DAY = date(2025, 4, 1), date(2025, 7, 1), date(2025, 7, 2)


def told(*comparisons: Comparison, history: RopeHistory | None = None) -> Dossier:
    """Three wires at 40 m, then four at 40.1 m that are called the same."""
    known = dossier(
        look(FIRST, breaks("a", 40.0, 3)),
        look(SECOND, breaks("b", 40.1, 4, same_as="a")),
        history=history,
    )
    return replace(known, comparisons=comparisons)


def gone(*comparisons: Comparison) -> Dossier:
    """Three wires at 40 m that were not found again."""
    known = dossier(look(FIRST, breaks("a", 40.0, 3)), look(SECOND))
    return replace(known, comparisons=comparisons)


def said(**what: object) -> Comparison:
    return Comparison(**({"by": "rope inspector", "on": DAY} | what))  # type: ignore[arg-type]


def counted(known: Dossier, on: date = DAY) -> list[str]:
    return [one.finding.finding_id for one in evidence_on(known, on).seen]


def test_findings_that_are_told_apart_both_count() -> None:
    assert counted(told()) == ["b"]
    apart = told(said(earlier="a", later="b", same=False))
    assert sorted(counted(apart)) == ["a", "b"]
    # by hand: three and four in one zone
    assert record_of_rope(apart, DAY).zones[0].known == 7
    assert record_of_rope(told(), DAY).zones[0].known == 4


def test_a_finding_that_a_person_calls_new_is_not_the_earlier_one() -> None:
    assert sorted(counted(told(said(later="b")))) == ["a", "b"]


def test_the_newest_word_counts() -> None:
    first = said(earlier="a", later="b", same=False)
    second = said(earlier="a", later="b", on=date(2025, 7, 3))
    assert sorted(counted(told(second, first))) == ["a", "b"]
    assert counted(told(second, first), date(2025, 7, 3)) == ["b"]


def test_new_said_after_the_same_counts_as_new() -> None:
    """By hand: the earlier word is taken back, so both findings count."""
    same = said(earlier="a", later="b")
    new = said(later="b", on=date(2025, 7, 3))
    assert counted(told(same, new)) == ["b"]
    assert sorted(counted(told(same, new), date(2025, 7, 3))) == ["a", "b"]


def test_what_nobody_has_said_yet_does_not_count() -> None:
    later = said(earlier="a", later="b", same=False, on=date(2025, 8, 1))
    assert counted(told(later)) == ["b"]


def test_a_person_can_name_a_finding_far_away_as_the_same() -> None:
    known = dossier(look(FIRST, breaks("a", 40.0, 3)), look(SECOND, breaks("b", 55.0, 4)))
    assert sorted(counted(known)) == ["a", "b"]
    assert counted(replace(known, comparisons=(said(earlier="a", later="b"),))) == ["b"]


@pytest.mark.parametrize("fate", ["ends removed", "other"])
def test_an_answer_closes_the_question_and_the_count_stays(fate: str) -> None:
    (question,) = evidence_on(gone(), DAY).questions
    assert question.answer is None
    answered = gone(said(earlier="a", fate=fate, reason="told by the rope fitter"))
    (question,) = evidence_on(answered, DAY).questions
    assert question.answer is not None
    assert counted(answered) == ["a"]
    assert record_of_rope(answered, DAY).zones[0].known == 3


def test_cut_away_needs_a_cut_on_record() -> None:
    answer = said(earlier="a", fate="cut away")
    (question,) = evidence_on(gone(answer), DAY).questions
    assert question.answer is None
    assert "no cut on record" in question.why
    cut = RopeHistory(
        original_length_m=100.0, steps=(Cut(on=date(2025, 5, 1), end="A", length_m=45.0),)
    )
    shorter = replace(gone(answer), history=cut)
    assert evidence_on(shorter, DAY).questions == ()
    assert counted(shorter) == []


def test_the_matching_takes_it_as_said() -> None:
    known = told(said(earlier="a", later="b", same=False))
    pairs = follow(known.inspections, (), known.history, decisions=known.comparisons)
    assert {(one.earlier, one.later) for one in pairs} == {("a", None), (None, "b")}


@pytest.mark.parametrize(
    ("what", "field"),
    [
        ({}, "earlier"),
        ({"earlier": "a", "later": "a"}, "later"),
        ({"earlier": "a", "later": "b", "fate": "ends removed"}, "fate"),
        ({"earlier": "a"}, "fate"),
        ({"later": "b", "same": False}, "same"),
        ({"earlier": "a", "fate": "other"}, "reason"),
    ],
)
def test_a_comparison_holds_no_nonsense(what: dict[str, object], field: str) -> None:
    with pytest.raises(InputError) as error:
        said(**what)
    assert error.value.field == field


CASE = """
schema = 1
invented = true

[rope]
id = "invented"
diameter = "20 mm"
construction = "6x36WS"
length = "180 m"

[installation]
rules = ["iso-4309-2017"]
fitted_on = 2024-01-01

[[inspection]]
id = "I1"
kind = "periodic"
on = 2025-11-09
finding = [{ id = "a", kind = "broken wires", at = "61.4 m", count = 3, over = "120 mm" }]

[[inspection]]
id = "I2"
kind = "periodic"
on = 2026-01-09
finding = [{ id = "b", kind = "broken wires", at = "61.5 m", count = 4, over = "120 mm" }]

[[comparison]]
earlier = "a"
later = "b"
same = false
by = "rope inspector"
on = 2026-01-10
reason = "other strand"

[[opened]]
from = "61 m"
to = "62 m"
over = "120 mm"
outer = 7
inner = 9
on = 2026-02-01

[[trial]]
both = 6
eye_only = 2
feel_only = 5
on = 2026-01-09

[[forecast]]
made_on = 2025-11-09
state = "inspect by"
until = 2026-01-09
chance_now = "0.01 %"
chance = "0.2 %"
taken = "0.2 %"
limit = 10
window_d = "6"
life_days = "1826.25"
model = "1"
priors = "1"
"""


def test_case_file_and_logbook_hold_the_same(tmp_path: Path) -> None:
    read = read_case(CASE, file="invented.toml").dossier
    assert len(read.comparisons) == len(read.opened) == len(read.trials) == len(read.forecasts) == 1
    assert read_case(write_case(read), file="again.toml").dossier == read
    desk = LogbookDesk()
    address = str(tmp_path / "site.book")
    desk.init(address)
    desk.take_in(address, read)
    assert desk.load(address, "invented").dossier == read


def test_an_unknown_finding_is_named_in_the_error() -> None:
    with pytest.raises(InputError, match=r"comparison\[1\]\.later: .*\bbb\b"):
        read_case(CASE.replace('later = "b"', 'later = "bb"'), file="invented.toml")


def test_a_comparison_added_to_a_logbook_is_honoured(tmp_path: Path) -> None:
    read = read_case(CASE, file="invented.toml").dossier
    desk = LogbookDesk()
    address = str(tmp_path / "site.book")
    desk.init(address)
    desk.take_in(address, replace(read, comparisons=()))
    before = desk.load(address, "invented").dossier
    assert sorted(counted(before, date(2026, 2, 1))) == ["b"]
    desk.add(address, "invented", read.comparisons[0], on=date(2026, 1, 10))
    after = desk.load(address, "invented").dossier
    assert sorted(counted(after, date(2026, 2, 1))) == ["a", "b"]
