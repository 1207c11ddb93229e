"""A rope's change in the book: order, second person, fitting with hold and release.  Invented."""

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from ropewright.errors import InputError, UnknownNameError
from ropewright.inspection import Dossier, SetUpMeasure
from ropewright.logbook import (
    Book,
    MemoryPeople,
    create_book,
    new_entry,
    rebuild,
    take_in_dossier,
    verify,
)
from ropewright.logbook.bookkeeping import Correction
from ropewright.logbook.fitting import (
    begin_fitting,
    fitting_said,
    guide_of,
    record_reference,
    release_fitting,
    say_step,
)
from ropewright.logbook.orders import check_order, keep_order, orders_of
from ropewright.logbook.typed import add_typed
from ropewright.rope import Certificate
from tests.laws.building import judged
from tests.unit.logbook.samples import a_dossier, ticking

DAY = date(2026, 11, 25)
OLD, NEW = "rope 1", "rope 2"
FITTER, PLANNER, ENGINEER = "rope fitter one", "planner one", "rope engineer one"
VALUES: dict[str, Any] = {
    "length_m": 200.0, "diameter_mm": Fraction(20), "lay_hand": "left",
    "breaking_force_kn": Fraction(250), "needed_by": date(2027, 1, 10),
}  # fmt: skip
STEPS: dict[str, dict[str, str]] = {
    "papers": {"reel tag": "4711"},
    "measured": {"readings": "20.5 mm, 20.4 mm, 20.5 mm, 20.6 mm", "instrument": "caliper 1"},
    "sheaves": {"smallest groove": "10.6 mm radius, jib head sheave"},
    "reel": {"runs": "bottom to bottom"},
    "pull in": {"joint": "grip with swivel"},
    "tension": {"tension": "6 kN by brake"},
    "ends": {"end A": "wedge socket", "end B": "two clamps"},
    "limits": {"limits": "both tried twice", "dead wraps": "5 wraps"},
    "break in": {"runs": "5 empty, 5 with part load"},
    "test": {"test": "by the manual"},
}


def new_rope() -> Dossier:
    one = a_dossier(NEW)
    rope = replace(
        one.rope,
        lay_hand="left",
        lay_length_mm=None,
        certificate=Certificate(number="2", minimum_breaking_force_kn=Fraction(252)),
    )
    installation = replace(
        one.installation,
        reference=None,
        set_up=(SetUpMeasure(name="drum hand", value="right"),),
    )
    return replace(one, rope=rope, installation=installation, inspections=())


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    """A book with the old rope and the new one."""
    one = create_book(str(tmp_path / "site.book"), now=ticking())
    take_in_dossier(one, a_dossier(OLD))
    take_in_dossier(one, new_rope())
    yield one
    one.close()


def ordered(book: Book, **more: Any) -> None:
    keep_order(book, OLD, {**VALUES, **more}, order_id="O1", by=PLANNER, on=DAY)


def test_nobody_checks_an_own_order(book: Book) -> None:
    ordered(book)
    with pytest.raises(InputError, match="another person than the one who made the order"):
        check_order(book, OLD, "O1", by=f"  {PLANNER}", on=DAY, agrees=True)
    assert orders_of(book, OLD)[0].agrees is None
    assert book.standing()[0]["orders"]["O1"]["checked"] is False
    check_order(book, OLD, "O1", by=ENGINEER, on=DAY, agrees=True, remark="crane manual, 4.2")
    (kept,) = orders_of(book, OLD)
    assert (kept.ordered_by, kept.checked_by, kept.is_checked) == (PLANNER, ENGINEER, True)
    assert kept.order.diameter_mm == Fraction(20)
    assert book.standing()[0]["orders"]["O1"] == {"checked": True, "needed_by": "2027-01-10"}
    assert verify(book).problems == ()


def test_another_wording_has_to_be_checked_anew(book: Book) -> None:
    ordered(book)
    check_order(book, OLD, "O1", by=ENGINEER, on=DAY, agrees=True)
    ordered(book, finish="galvanised")
    (kept,) = orders_of(book, OLD)
    assert (kept.order.finish, kept.is_checked) == ("galvanised", False)
    with pytest.raises(InputError, match="another person"):  # who checked may not make it theirs
        keep_order(book, OLD, VALUES, order_id="O1", by=ENGINEER, on=DAY)


def test_a_correction_makes_no_own_order_checked(book: Book) -> None:
    """Who checked an order cannot be put in afterwards as the one who made it."""
    ordered(book)
    check_order(book, OLD, "O1", by=ENGINEER, on=DAY, agrees=True)
    order, check = (one.entry for one in book.entries(OLD)[-2:])
    said = {**json.loads(order.payload), "by": json.loads(check.payload)["by"]}
    wrong = Correction(corrects=order.entry_id, reason="misread", payload=said)
    with pytest.raises(InputError, match="another person"):
        book.append([new_entry(wrong, MemoryPeople(), rope_id=OLD)])


def test_an_order_with_open_fields_is_not_agreed_to(book: Book) -> None:
    keep_order(book, OLD, VALUES, order_id="O1", by=PLANNER, on=DAY, to_fill=["finish", "end_a"])
    with pytest.raises(InputError, match="finish, end_a"):
        check_order(book, OLD, "O1", by=ENGINEER, on=DAY, agrees=True)
    check_order(book, OLD, "O1", by=ENGINEER, on=DAY, agrees=False, remark="ends are missing")
    assert orders_of(book, OLD)[0].agrees is False
    with pytest.raises(UnknownNameError):
        check_order(book, OLD, "O9", by=ENGINEER, on=DAY, agrees=True)
    with pytest.raises(UnknownNameError):
        keep_order(book, OLD, {"colour": "red"}, order_id="O2", by=PLANNER, on=DAY)
    with pytest.raises(InputError, match="who it is"):
        keep_order(book, OLD, VALUES, order_id="O2", by=" ", on=DAY)


def fit(book: Book, *keys: str, by: str = FITTER) -> None:
    for key in keys:
        say_step(book, NEW, key, by=by, on=DAY, values=STEPS[key])


def measure(book: Book, count: int = 3, **more: Any) -> None:
    readings = (Fraction("20.4"), Fraction("20.5"))
    record_reference(
        book, NEW, by=FITTER, on=DAY, places=[(10.0 + n, readings) for n in range(count)],
        tension="empty hook", lay_length_mm=Fraction(130), **more,
    )  # fmt: skip


def test_a_new_rope_is_on_hold_until_every_step_is_done_and_it_is_released(book: Book) -> None:
    ordered(book)
    check_order(book, OLD, "O1", by=ENGINEER, on=DAY, agrees=True)
    with pytest.raises(InputError, match="a fitting that was begun"):
        fit(book, "papers")
    begin_fitting(book, NEW, by=FITTER, on=DAY, order_of=OLD)
    assert judged(book.dossier(NEW), today=DAY).verdict.on_hold
    with pytest.raises(InputError, match="not being fitted"):
        begin_fitting(book, NEW, by=FITTER, on=DAY)
    fit(book, *STEPS)
    with pytest.raises(InputError, match="reference: not done"):
        release_fitting(book, NEW, by=ENGINEER, on=DAY)
    measure(book, 2)
    assert "2 of 3 places" in guide_of(book, NEW).steps[9].figures[0]
    measure(book)
    assert guide_of(book, NEW).missing == ()
    release_fitting(book, NEW, by=ENGINEER, on=DAY)
    guide = guide_of(book, NEW)
    assert {one.state for one in guide.steps} == {"done"}
    assert (guide.said.released_by, guide.said.order_name) == (ENGINEER, "O1 of rope 1")
    dossier = book.dossier(NEW)
    (event,) = dossier.events
    assert event.release is not None
    assert "fitting steps: papers, measured" in event.release.evidence
    assert dossier.rope.lay_length_mm == Fraction(130)
    assert dossier.rope.certificate is not None
    reference = dossier.installation.reference
    assert reference is not None
    assert reference.measured_mm == Fraction("20.45")  # by hand: mean of 20.4 and 20.5
    # The rules ask for an inspection beside the word of a person.
    assert judged(dossier, today=DAY).verdict.on_hold
    assert "kind after-event" in guide.steps[-1].figures[0]
    looked = replace(a_dossier().inspections[0], kind="after-event", on=DAY, findings=())
    dossier = replace(dossier, inspections=(looked,))
    assert not judged(dossier, today=DAY).verdict.on_hold
    assert verify(book).problems == ()
    assert rebuild(book).changed == ()


def test_no_other_way_releases_a_rope_whose_fitting_is_not_done(book: Book) -> None:
    begin_fitting(book, NEW, by=FITTER, on=DAY)
    said = {"of": f"fitting {DAY.isoformat()}", "evidence": "looked at it"}
    with pytest.raises(InputError, match="the rope stays on hold: papers: not done"):
        add_typed(book, NEW, "release", said, by=ENGINEER, role="keeper", on=DAY)
    assert judged(book.dossier(NEW), today=DAY).verdict.on_hold
    assert guide_of(book, NEW).said.released_on is None


def test_what_does_not_agree_keeps_it_on_hold_until_somebody_explains(book: Book) -> None:
    ordered(book, lay_hand="right")
    check_order(book, OLD, "O1", by=ENGINEER, on=DAY, agrees=True)
    begin_fitting(book, NEW, by=FITTER, on=DAY, order_of=OLD, order_id="O1")
    fit(book, *STEPS)
    measure(book)
    with pytest.raises(InputError, match="papers say left, ordered right"):
        release_fitting(book, NEW, by=ENGINEER, on=DAY)
    say_step(
        book, NEW, "papers", by=ENGINEER, on=DAY, values=STEPS["papers"],
        remark="the drum is right-hand: left lay is right, the order was wrong",
    )  # fmt: skip
    release_fitting(book, NEW, by=ENGINEER, on=DAY)


def test_a_step_that_is_not_right_stops_the_release(book: Book) -> None:
    begin_fitting(book, NEW, by=FITTER, on=DAY)
    fit(book, *STEPS)
    measure(book)
    with pytest.raises(InputError, match="what is not right"):
        say_step(book, NEW, "sheaves", by=FITTER, on=DAY, done=False)
    say_step(book, NEW, "sheaves", by=FITTER, on=DAY, done=False, remark="two grooves too small")
    with pytest.raises(InputError, match="sheaves: two grooves too small"):
        release_fitting(book, NEW, by=ENGINEER, on=DAY)
    fit(book, "sheaves")
    release_fitting(book, NEW, by=ENGINEER, on=DAY)
    begin_fitting(book, NEW, by=FITTER, on=date(2027, 1, 5))  # taken off and fitted anew
    assert fitting_said(book, NEW).steps == {}


@pytest.mark.parametrize(
    ("step", "values", "words"),
    [
        ("paper", {}, "a step that is said to be done"),
        ("release", {}, "--release"),
        ("reference", {}, "--reference"),
        ("papers", {}, "expected what was found: reel tag"),
        ("papers", {"tag": "1"}, "a value of step 'papers'"),
    ],
)
def test_a_step_needs_its_values(book: Book, step: str, values: dict[str, str], words: str) -> None:
    begin_fitting(book, NEW, by=FITTER, on=DAY)
    with pytest.raises(InputError) as caught:
        say_step(book, NEW, step, by=FITTER, on=DAY, values=values)
    assert words in str(caught.value)


def test_a_reference_has_to_lie_on_the_rope_under_a_named_tension(book: Book) -> None:
    readings = (Fraction(20), Fraction(20))
    for places, tension in (([(999.0, readings)], "empty hook"), ([(1.0, readings)], " ")):
        with pytest.raises(InputError):
            record_reference(book, NEW, by=FITTER, on=DAY, places=places, tension=tension)
