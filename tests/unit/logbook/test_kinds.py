"""Every kind of entry the trade asks for is there, goes in and comes out the same.  Invented."""

from collections.abc import Iterator
from datetime import UTC, date, datetime
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from ropewright.errors import InputError
from ropewright.geometry import RopePlace, Section
from ropewright.inspection import (
    BreakGroup,
    BrokenWires,
    Crane,
    Damage,
    DiameterReading,
    Event,
    InnerCount,
    Mark,
    Pass,
    Release,
    Rigging,
    UnseenAcceptance,
)
from ropewright.logbook import (
    KINDS,
    Book,
    LogbookDesk,
    MemoryPeople,
    PersonId,
    check_entry,
    create_book,
    new_entry,
    parse_entry,
    stable_id,
    take_in_dossier,
    verify,
)
from ropewright.logbook import payloads as p
from ropewright.logbook.bookkeeping import Correction
from ropewright.logbook.typed import TYPED_KINDS, add_typed
from ropewright.rope import Certificate, Cut, EndForEnd
from tests.unit.logbook.samples import a_dossier, ticking

DAY = date(2026, 11, 25)
HERE = Section(10.0, 12.5)
WHO = PersonId("9b1c3f7e-0000-4000-8000-000000000001")
PLACE = RopePlace(at_m=61.4, abs_err_m=1.0)

#: One of each kind the record is asked for, in the words of the trade.
SAID: dict[str, Any] = {
    "crane": Crane(crane_id="crane 1"),
    "rigging": Rigging(valid_from=DAY, falls=2),
    "certificate": Certificate(number="2", grade_n_per_mm2=Fraction(1960)),
    "cut": Cut(on=DAY, end="A", length_m=6.2),
    "end for end": EndForEnd(on=DAY),
    "re-termination": p.Reterminated(end="A", fitting="wedge socket", tail_mm=Fraction(400)),
    "re-spool": p.Respooled(tension="6 kN"),
    "lubrication": p.Lubricated(lubricant="dressing", section=HERE, cleaned_first=True),
    "re-zero": p.ReZeroed(why="climbing", zero_moved_m=12.0),
    "limit override": p.LimitOverridden(override_id="O1", which="lower", by=WHO, reason="drum"),
    "limit reset": p.LimitReset(override_id="O1", tried=True),
    "event": Event(event_id="E1", kind="snag", on=DAY, section=HERE),
    "hold": p.Held(hold_id="H1", on=DAY, reason="paper missing"),
    "release": p.Released(of="H1", release=Release(by="engineer", on=DAY, evidence="paper 7")),
    "inspection begun": p.InspectionBegun(inspection_id="I1", kind="periodic", on=DAY),
    "pass": p.PassMade(inspection_id="I1", what=Pass(method="feel", section=HERE)),
    "finding": p.FindingMade(
        inspection_id="I1", what=Damage(finding_id="F1", place=PLACE, damage="kink")
    ),
    "cluster": p.ClusterCounted(
        inspection_id="I1",
        what=BrokenWires(
            finding_id="F2",
            place=PLACE,
            groups=(BreakGroup(from_mm=Fraction(0), to_mm=Fraction(120), count=6),),
        ),
    ),
    "reading": p.ReadingTaken(
        inspection_id="I1",
        what=DiameterReading(
            finding_id="F3", place=PLACE, readings_mm=(Fraction("20.4"), Fraction("20.3"))
        ),
    ),
    "photo": p.PhotoTaken(
        sha256="0" * 64, media_type="image/jpeg", size_bytes=7,
        taken_at=datetime(2026, 11, 25, 9, 30, tzinfo=UTC), scale_in_frame=True,
    ),
    "mark": Mark(name="7", place=PLACE, made_of="blue paint", on=DAY),
    "inspection finished": p.InspectionFinished(inspection_id="I1", next_by=date(2026, 12, 25)),
    "inspection signed": p.InspectionSigned(inspection_id="I1", by=WHO, seal="s"),
    "unseen accepted": p.UnseenAccepted(
        inspection_id="I1",
        what=UnseenAcceptance(section=HERE, by="engineer", until=DAY, reason="grease"),
    ),
    "warning shown": p.WarningShown(warning_id="W1", words="look closer", to=WHO),
    "warning dismissed": p.WarningDismissed(warning_id="W1", reason="seen"),
    "verdict accepted": p.VerdictAccepted(level="monitor", as_of=DAY, sentence="s", by=WHO),
    "order": p.Order(order_id="O1", diameter_mm=Fraction(20), by=WHO, to_fill=("finish",)),
    "order checked": p.OrderChecked(order_id="O1", by=WHO, agrees=True),
    "fitting step": p.FittingStepSaid(step="papers", by=WHO, done=True, values={"tag": "1"}),
    "spare stored": p.SpareStored(where="dry store", reel="R1", reel_turned_on=DAY),
    "rope taken off": p.RopeTakenOff(why="discard", went_to="sample"),
    "inner count": InnerCount(
        section=HERE, over_mm=Fraction(120), outer_broken=5, inner_broken=14, sample="S1"
    ),
    "handover taken": p.HandoverTaken(by=WHO, told=("hold H1",)),
    "correction": Correction(corrects=stable_id("x"), reason="misread", payload={"a": "1"}),
}  # fmt: skip


@pytest.mark.parametrize("kind", SAID)
def test_each_kind_goes_in_and_comes_out_the_same(kind: str) -> None:
    people = MemoryPeople()
    entry = new_entry(SAID[kind], people, rope_id="rope 1", happened_on=DAY)
    assert entry.kind == kind
    again = parse_entry(check_entry(entry).content)
    assert again == entry
    assert again.read(people) == SAID[kind]


def test_no_kind_of_a_rope_is_without_a_sample() -> None:
    by_case_file = {
        "page", "rope", "installation", "reference measurement", "permission", "rule confirmed",
        "hidden section", "examined", "instrument", "part finding",
    }  # fmt: skip
    elsewhere = {"comparison", "detection trial", "forecast made"}
    of_rope = {name for name, kind in KINDS.items() if kind.of_rope}
    assert of_rope - by_case_file - elsewhere == set(SAID)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    one = create_book(str(tmp_path / "site.book"), now=ticking())
    take_in_dossier(one, a_dossier())
    yield one
    one.close()


def typed(book: Book, kind: str, on: date = DAY, **values: str) -> None:
    add_typed(book, "rope 1", kind, values, by="keeper one", role="keeper", on=on)


def test_what_was_typed_is_read_back_at_any_past_day(book: Book) -> None:
    first, second, third = (date(2026, 11, day) for day in (1, 10, 20))
    typed(book, "hold", first, hold_id="H1", reason="paper missing")
    typed(book, "limit override", first, override_id="L1", which="lower", reason="drum look")
    typed(book, "cut", second, end="A", length_m="6.2 m", reason="worn end")
    typed(book, "limit reset", second, override_id="L1", tried="yes")
    typed(book, "release", third, of="H1", evidence="paper came")
    typed(book, "spare stored", third, where="dry store", reel_turned_on="2026-11-20")
    before = book.standing_on("rope 1", date(2026, 10, 31))
    assert (before["holds"], before["overrides"]) == ({}, {})
    held = book.standing_on("rope 1", first)
    assert (list(held["holds"]), list(held["overrides"])) == (["H1"], ["L1"])
    assert list(book.standing_on("rope 1", second)["overrides"]) == []
    now = book.standing_on("rope 1", third)
    assert (now["holds"], now["state"], now["reel_turned_on"]) == ({}, "in store", "2026-11-20")
    lengths = [book.dossier("rope 1", as_of=day).history.at(day).length_m for day in (first, DAY)]
    assert lengths[0] - lengths[1] == pytest.approx(6.2, abs=1e-9)  # by hand
    assert verify(book).problems == ()
    assert LogbookDesk().typed_kinds().keys() == TYPED_KINDS.keys()


def test_a_hold_told_again_is_not_released_by_the_earlier_word(book: Book) -> None:
    first, second, third = (date(2026, 11, day) for day in (1, 10, 20))
    typed(book, "hold", first, hold_id="H1", reason="paper missing")
    typed(book, "release", second, of="H1", evidence="paper came")
    assert book.dossier("rope 1").events[-1].release is not None
    typed(book, "hold", third, hold_id="H1", reason="the paper is of another rope")
    (event,) = (one for one in book.dossier("rope 1").events if one.event_id == "H1")
    assert (event.on, event.release) == (third, None)
    assert list(book.standing_on("rope 1", third)["holds"]) == ["H1"]
    typed(book, "release", third, of="H1", evidence="the right paper")
    (event,) = (one for one in book.dossier("rope 1").events if one.event_id == "H1")
    assert event.release is not None
    assert event.release.evidence == "the right paper"


@pytest.mark.parametrize(
    ("kind", "values", "words"),
    [
        ("cut", {"end": "A", "length_m": "900 m"}, "leaves no rope"),
        ("cut", {"end": "C", "length_m": "1 m"}, "one of A, B"),
        ("cut", {"end": "A"}, "length_m: expected length_m="),
        ("cut", {"end": "A", "length_m": "1"}, "length_m: expected a length"),
        ("release", {"of": "H9", "evidence": "x"}, "an event or hold of this rope"),
        ("release", {"of": "H9"}, "on what evidence"),
        ("lubrication", {"lubricant": "x", "cleaned_first": "perhaps"}, "yes or no"),
        ("lubrication", {"lubricant": "x", "section": "3 m"}, "a section like"),
        ("lubrication", {"oil": "x"}, "a field of lubrication"),
        ("inner count", {"section": "1 m .. 2 m", "over_mm": "1 m", "outer_broken": "a",
                         "inner_broken": "1"}, "a whole number"),
        ("crane", {"crane_id": "x"}, "a kind of entry that can be typed"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_and_nothing_is_written(
    book: Book, kind: str, values: dict[str, str], words: str
) -> None:
    seal = book.seal()
    with pytest.raises(InputError) as caught:
        typed(book, kind, DAY, **values)
    assert words in str(caught.value)
    assert book.seal() == seal
