"""Where a rope stands: kept step by step, it is what all entries together say."""

import json
from datetime import date, timedelta
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from ropewright.inspection import Event, Release
from ropewright.inspection.inspection import InspectionKind
from ropewright.logbook import Entry, MemoryPeople, dues_of, new_entry, standing_of
from ropewright.logbook import payloads as p
from ropewright.logbook.bookkeeping import Correction
from ropewright.logbook.codec import PersonId
from ropewright.logbook.entry import trusted_entry
from ropewright.logbook.standing import advance, fresh, read_standing, standing_text
from tests.unit.logbook.entries import DAY, NOBODY, begun, cluster

DAYS = st.integers(0, 5).map(lambda number: DAY + timedelta(days=number))
NAMES = st.sampled_from(["A", "B", "C"])
PEOPLE = MemoryPeople()
SOMEBODY = PersonId(PEOPLE.id_of('{"words":"somebody"}'))


@st.composite
def payloads(draw: st.DrawFn) -> Any:
    """Something that happened to a rope."""
    name, on = draw(NAMES), draw(DAYS)
    kind: InspectionKind = draw(st.sampled_from(["shift", "monthly", "annual"]))
    return draw(
        st.sampled_from(
            [
                p.InspectionBegun(inspection_id=name, kind=kind, on=on),
                p.InspectionFinished(inspection_id=name, next_by=on),
                p.InspectionFinished(inspection_id=name),
                p.InspectionSigned(inspection_id=name, by=SOMEBODY),
                Event(event_id=name, kind="snag", on=on),
                p.Held(hold_id=name, on=on, reason="noise"),
                p.Released(of=name, release=Release(by="x", on=on, evidence="y")),
                p.LimitOverridden(override_id=name, which="lower", by=SOMEBODY, reason="z"),
                p.LimitReset(override_id=name, tried=True),
                p.LimitReset(override_id=name, tried=False),
                p.WarningShown(warning_id=name, words="look"),
                p.WarningDismissed(warning_id=name, reason="looked"),
                p.Order(order_id=name, needed_by=on),
                p.OrderChecked(order_id=name, by=SOMEBODY, agrees=True),
                p.SpareStored(where="shed"),
                p.RopeTakenOff(why="worn"),
                p.VerdictAccepted(level="monitor", as_of=on, sentence="s", by=SOMEBODY),
            ]
        )
    )


def entry(payload: Any) -> Entry:
    """An entry about rope 1."""
    return new_entry(payload, PEOPLE, rope_id="rope 1", happened_on=getattr(payload, "on", None))


@given(st.lists(payloads(), max_size=14), st.data())
def test_step_by_step_is_all_at_once(said: list[Any], data: st.DataObject) -> None:
    entries = [entry(one) for one in said]
    record = fresh("rope 1")
    for one in entries:
        record = advance(read_standing(standing_text(record)), one)
    assert standing_text(record) == standing_text(standing_of("rope 1", entries))
    if entries:
        gone = data.draw(st.sampled_from(entries))
        withdrawn = entry(Correction(corrects=gone.entry_id, reason="never was"))
        without = [one for one in entries if one is not gone]
        corrected = standing_of("rope 1", [*entries, withdrawn])
        assert corrected | {"entries": 0} == standing_of("rope 1", without) | {"entries": 0}
        assert corrected["entries"] == len(entries) + 1


@given(st.lists(payloads(), max_size=8))
def test_an_entry_is_read_back_from_its_text(said: list[Any]) -> None:
    for one in map(entry, said):
        assert trusted_entry(one.content) == one


def test_no_word_depends_on_today() -> None:
    """It holds dates; 'due' and 'overdue' are made where it is shown."""
    entries = [
        begun(),
        cluster(1),
        new_entry(
            p.InspectionFinished(inspection_id="I1", next_by=date(2020, 1, 1)),
            NOBODY,
            rope_id="rope 1",
        ),
    ]
    text = standing_text(standing_of("rope 1", entries))
    assert not [word for word in ("due", "late", "soon", "today") if word in text]
    (due,) = dues_of([read_standing(text)])
    assert due.on == date(2020, 1, 1)
    assert json.loads(text)["last"]["next_by"] == "2020-01-01"


def test_a_rope_that_was_taken_off_is_due_for_nothing() -> None:
    off = new_entry(p.RopeTakenOff(why="worn"), NOBODY, rope_id="rope 1")
    order = new_entry(p.Order(order_id="O1", needed_by=DAY), NOBODY, rope_id="rope 1")
    assert [due.words for due in dues_of([standing_of("rope 1", [order])])]
    assert dues_of([standing_of("rope 1", [order, off])]) == ()
