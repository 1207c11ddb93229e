"""Case file and logbook are one path: the same dossier, so the same verdict."""

import json
from dataclasses import fields, is_dataclass, replace
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings

import ropewright.inspection
from ropewright.desk import judge
from ropewright.errors import BookError, InputError
from ropewright.inspection import Dossier, Inspection, Person, Release
from ropewright.intake import PackageShelf
from ropewright.logbook import (
    MemoryPeople,
    check_entry,
    dossier_from_entries,
    entries_from_dossier,
    new_entry,
    parse_entry,
)
from ropewright.logbook import payloads as p
from ropewright.logbook.bookkeeping import Correction
from ropewright.logbook.canon import canonical
from ropewright.logbook.codec import _NAMES_A_PERSON
from ropewright.logbook.kinds import KINDS
from ropewright.logbook.people import ERASED, Unnamed
from ropewright.rope import RopeHistory
from ropewright.rules import assessment_as_json
from tests.laws.building import judged
from tests.laws.strategies import dossiers
from tests.unit.logbook.samples import a_dossier, begun, case_dossiers, cluster

CASES = dict(case_dossiers())


@pytest.mark.parametrize("name", CASES)
def test_a_case_file_goes_in_and_comes_out_the_same(name: str) -> None:
    one, people = CASES[name], MemoryPeople()
    entries = entries_from_dossier(one, people)
    assert len({entry.entry_id for entry in entries}) == len(entries)
    stored = [parse_entry(check_entry(entry).content) for entry in entries]
    assert tuple(stored) == entries
    again = dossier_from_entries(stored, people)
    assert again == one
    assert entries_from_dossier(again, people) == entries


@pytest.mark.parametrize("name", CASES)
def test_the_verdict_is_the_same_to_the_last_byte(name: str) -> None:
    one, people = CASES[name], MemoryPeople()
    again = dossier_from_entries(entries_from_dossier(one, people), people)
    day = max(inspection.on for inspection in one.inspections) + timedelta(days=1)
    before, after = (judge(each, PackageShelf(), day, software="test") for each in (one, again))
    assert assessment_as_json(before) == assessment_as_json(after)


@settings(max_examples=60)
@given(dossiers())
def test_any_dossier_goes_in_and_comes_out_the_same(one: Dossier) -> None:
    people = MemoryPeople()
    entries = [
        parse_entry(check_entry(entry).content) for entry in entries_from_dossier(one, people)
    ]
    again = dossier_from_entries(entries, people)
    assert again == one
    assert judged(again).verdict == judged(one).verdict


def test_the_entries_of_a_dossier_hold_no_name() -> None:
    name = "A Name That Stands Nowhere Else"
    one = a_dossier()
    first = one.inspections[0]
    one = replace(
        one,
        inspections=(replace(first, by=(Person(role="inspector", name=name),), signed_by=name),),
    )
    people = MemoryPeople()
    entries = entries_from_dossier(one, people)
    assert not [entry for entry in entries if name in entry.content]
    assert sum(name in data for data in people.new.values()) == 2
    gone = MemoryPeople(dict.fromkeys(people.new))
    without = dossier_from_entries(entries, gone).inspections[0]
    assert (without.by[0].role, without.signed_by) == (ERASED, ERASED)


def test_a_day_in_the_past_knows_nothing_of_later_things() -> None:
    one, people = CASES["KQ-1"], MemoryPeople()
    entries = entries_from_dossier(one, people)
    days = sorted({inspection.on for inspection in one.inspections})
    assert len(days) > 1
    for day in days:
        then = dossier_from_entries(entries, people, as_of=day)
        assert then.inspections == tuple(each for each in one.inspections if each.on <= day)
        assert all(step.on <= day for step in then.history.steps)
    with pytest.raises(BookError, match="no installation"):
        dossier_from_entries(entries, people, as_of=date(1999, 1, 1))


def test_nothing_is_left_out_in_silence() -> None:
    people = MemoryPeople()
    entries = entries_from_dossier(a_dossier(), people)
    with pytest.raises(BookError, match="begun in this book"):
        dossier_from_entries([*entries, cluster(1)], people)
    released = p.Released(of="E9", release=Release(by="x", on=date(2026, 11, 1), evidence="y"))
    lost = new_entry(released, people, rope_id="rope 1")
    with pytest.raises(BookError, match="event or hold"):
        dossier_from_entries([*entries, lost], people)
    with pytest.raises(BookError, match="begun twice"):
        dossier_from_entries([*entries, begun(), replace(begun(), entry_id="x")], people)


def test_a_hold_holds_the_rope_until_it_is_released() -> None:
    people = MemoryPeople()
    entries = list(entries_from_dossier(a_dossier(), people))
    held = p.Held(hold_id="H1", on=date(2026, 3, 5), reason="strange noise")
    entries.append(new_entry(held, people, rope_id="rope 1", happened_on=held.on))
    (event,) = dossier_from_entries(entries, people).events
    assert (event.event_id, event.release) == ("H1", None)
    assert judged(dossier_from_entries(entries, people)).verdict.on_hold
    by = Release(by="competent person", on=date(2026, 3, 6), evidence="looked at it all")
    entries.append(new_entry(p.Released(of="H1", release=by), people, rope_id="rope 1"))
    (event,) = dossier_from_entries(entries, people).events
    assert event.release == by


def test_a_correction_takes_the_place_of_the_first_word_and_may_be_corrected() -> None:
    people = MemoryPeople()
    entries = [*entries_from_dossier(a_dossier(), people), begun(), cluster(1), cluster(2)]
    wrong = cluster(1)

    def counted(*more: Correction) -> list[tuple[str, int]]:
        added = [new_entry(one, people, rope_id="rope 1") for one in more]
        found = dossier_from_entries([*entries, *added], people).inspections[-1].findings
        return [(each.finding_id, getattr(each, "count", 0)) for each in found]

    three = Correction(
        corrects=wrong.entry_id,
        reason="miscounted",
        payload=json.loads(cluster(1, count=3).payload),
    )
    withdrawn = Correction(corrects=wrong.entry_id, reason="it was rope 2")
    assert counted() == [("F1", 1), ("F2", 1)]
    assert counted(three) == [("F1", 3), ("F2", 1)]
    assert counted(three, withdrawn) == [("F2", 1)]
    with pytest.raises(InputError):
        Correction(corrects=wrong.entry_id, reason=" ")


@pytest.mark.parametrize(
    ("payload", "words"),
    [
        ('{"inspection_id":"I1"}', "payload.what: is missing"),
        ('{"inspection_id":"I1","what":1}', "what.is: expected one of"),
        ('{"inspection_id":"I1","what":{"is":"rust"}}', "expected one of"),
        ('{"extra":1}', "payload.extra"),
        ("1", "expected an object"),
        ('{ "inspection_id":"I1"}', "payload"),
    ],
)
def test_content_that_does_not_fit_its_kind_is_refused(payload: str, words: str) -> None:
    entry = replace(begun(), kind="finding", payload=payload)
    with pytest.raises(InputError, match=words.replace(".", r"\.")):
        check_entry(entry)


def test_entries_are_checked_as_a_whole() -> None:
    good = begun()
    for wrong in (
        replace(good, entry_id="not-a-uuid"),
        replace(good, entry_id=good.entry_id.upper()),
        replace(good, kind="rumour"),
        replace(good, rope_id=""),
        replace(good, rope_id=" x"),
        replace(good, rope_id="x\n"),
        replace(good, payload=good.payload.replace('"periodic"', '"perodic"')),
        replace(good, payload=good.payload[:-1] + ',"remark":""}'),
    ):
        with pytest.raises(InputError):
            check_entry(wrong)
    for text in ("", "[]", good.content + " ", good.content.replace('"schema":1', '"schema":2')):
        with pytest.raises(InputError):
            parse_entry(text)


def _shape(kind: type) -> str:
    from ropewright.logbook.codec import _parts

    return ",".join(
        f"{part.name}{'' if not part.may_be_left_out else f'={part.default!r}'}"
        for part in _parts(kind)
    )


def test_every_kind_has_a_type_that_can_be_written() -> None:
    """A field that is added needs a default, so old entries stay what they are."""
    for kind in KINDS.values():
        assert _shape(kind.payload), kind.name
    # Regression only: a field of a finding that loses or changes its default changes what
    # entries written earlier mean.
    assert _shape(p.InspectionFinished) == "inspection_id,next_by=None,remark=''"


def test_persons_stand_for_themselves_where_only_the_form_counts() -> None:
    people = Unnamed()
    assert people.id_of(canonical({"words": "a"})) == people.id_of(canonical({"role": "a"})) == "a"


def _names(kind: Any) -> set[str]:
    return {one.name for one in fields(kind)}


def test_every_field_of_a_dossier_has_its_way_into_the_book() -> None:
    """A new field has to be given its entry here and in both directions, or it would be lost."""
    assert _names(Dossier) == {
        *("crane", "rope", "installation", "history", "rigging", "marks", "events"),
        *("inspections", "people", "invented", "title"),
        *("comparisons", "opened", "trials", "forecasts"),
    }
    assert _names(Inspection) == {
        *("inspection_id", "kind", "on", "by", "finished", "passes", "hidden", "accepted"),
        *("examined", "conditions", "instruments", "findings", "part_findings", "next_by"),
        *("after_event", "remark", "signed_by"),
    }
    assert _names(RopeHistory) == {"original_length_m", "steps"}


def test_every_core_field_that_names_a_person_is_kept_apart() -> None:
    """Whoever adds a field such as `by` decides: a person's words, or none."""
    apart = {(kind, name) for kind, names in _NAMES_A_PERSON.items() for name in names}
    apart.add((Inspection, "signed_by"))
    found = {
        (kind, one.name)
        for kind in vars(ropewright.inspection).values()
        if isinstance(kind, type) and is_dataclass(kind)
        for one in fields(kind)
        if (one.name == "by" or one.name.endswith("_by")) and one.type in (str, "str")
    }
    assert found == apart
