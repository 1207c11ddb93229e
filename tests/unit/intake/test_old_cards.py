"""Old paper cards: counts with an honest length and place; what is not said stays unknown.

Expected figures: by hand, from the line of the card beside them.  Invented data.
"""

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ropewright.errors import InputError, InputErrors
from ropewright.inspection import (
    BreakGroup,
    BrokenWires,
    DiameterReading,
    Dossier,
    Inspection,
    covered,
)
from ropewright.intake import OldCards, read_old_cards
from ropewright.rope import Cut, RopeHistory
from tests.laws.building import LATEST, LENGTH_M, is_as_strict, judged
from tests.laws.strategies import dossiers
from tests.unit.logbook.samples import a_dossier

HEAD = "date,card,kind,at,at_path,place_err,count,over,reading_1,reading_2,method,who,remark"


def read(tmp_path: Path, *lines: str, one: Dossier | None = None, **more: Any) -> OldCards:
    path = tmp_path / "cards.csv"
    path.write_text("\n".join((HEAD, *lines)) + "\n", encoding="utf-8")
    return read_old_cards(path, one or a_dossier(), **more)


def counted(card: Inspection, number: int = 0) -> BreakGroup:
    """The count of one finding of a card."""
    found = card.findings[number]
    assert isinstance(found, BrokenWires)
    return found.groups[0]


def test_a_count_over_a_length_is_a_cluster_and_nothing_is_made_up(tmp_path: Path) -> None:
    cards = read(tmp_path, "2025-10-06,,,61.4 m,,± 1 m,6,120 mm,,,,card writer,greasy")
    (card,) = cards.inspections
    (found,) = card.findings
    assert isinstance(found, BrokenWires)
    assert (card.inspection_id, card.on) == ("old card 2025-10-06", date(2025, 10, 6))
    assert (found.count, found.groups[0].to_mm) == (6, Fraction(120))
    assert found.groups[0].from_mm == 0
    assert (found.place.at_m, found.place.abs_err_m, found.place.rel_err_m) == (61.4, 1.0, 1.0)
    assert (found.method, found.groups[0].site) == (None, "unknown")
    assert (card.kind, card.passes, card.by[0].name) == ("shift", (), "card writer")
    assert covered(card, "eye") == covered(card, "feel") == ()
    assert str(cards.lines[0]).startswith("row 2: taken: 2025-10-06, 6 broken wires over 120 mm")


def test_an_unknown_length_is_all_that_the_place_may_mean(tmp_path: Path) -> None:
    cards = read(tmp_path, "2025-10-06,,,61.4 m,,1.5 m,4,not known,,,,,")
    group = counted(cards.inspections[0])
    assert (group.from_mm, group.to_mm) == (
        Fraction(-1500),
        Fraction(1500),
    )  # by hand: 1.5 m to both sides


def test_lines_of_one_day_are_one_card_unless_numbered(tmp_path: Path) -> None:
    cards = read(
        tmp_path,
        "2025-10-06,1,monthly,10 m,,1 m,1,,,,feel,writer one,",
        "2025-10-06,1,,20 m,,1 m,2,6 d,,,,writer two,",
        "2025-10-06,2,,30 m,,1 m,,,19.8 mm,19.6 mm,gauge,,",
        "2025-11-06,,,,,,0,,,,,,dry",
    )
    assert [one.inspection_id for one in cards.inspections] == [
        "old card 2025-10-06 1", "old card 2025-10-06 2", "old card 2025-11-06",
    ]  # fmt: skip
    first, second, third = cards.inspections
    assert (first.kind, [one.name for one in first.by]) == ("monthly", ["writer one", "writer two"])
    d_mm = a_dossier().rope.nominal_diameter_mm
    assert counted(first, 1).to_mm == 6 * d_mm
    assert isinstance(second.findings[0], DiameterReading)
    assert second.findings[0].measured_mm == Fraction("19.7")  # by hand: mean of both
    assert third.findings == ()
    assert "the card says: no broken wires" in third.remark


def test_a_path_position_goes_through_the_cuts_of_that_day(tmp_path: Path) -> None:
    one = a_dossier()
    cut = Cut(on=date(2025, 11, 1), end="A", length_m=5.0)
    one = Dossier(
        crane=one.crane, rope=one.rope, installation=one.installation,
        history=RopeHistory(original_length_m=LENGTH_M, steps=(cut,)),
    )  # fmt: skip
    cards = read(
        tmp_path,
        "2025-10-06,,,,10 m,1 m,1,,,,,,",
        "2025-12-06,,,,10 m,1 m,1,,,,,,",
        one=one,
    )
    places = [each.findings[0].place.at_m for each in cards.inspections]
    assert places == [10.0, 15.0]  # by hand: 5 m were cut off end A in between


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("x,,,1 m,,1 m,1,,,,,,", "row 2, column date: expected a day like 2019-05-03"),
        ("2025-10-06,,,1 m,,1 m,,,,,,,", "column count: expected how many broken wires"),
        ("2025-10-06,,,1 m,,1 m,-1,,,,,,", "column count: expected a whole number"),
        ("2025-10-06,,,1 m,,1 m,3,,,,,,", 'column over: expected over which length: "120 mm"'),
        ("2025-10-06,,,1 m,,1 m,3,wide,,,,,", "column over: expected a length"),
        ("2025-10-06,,,1 m,,1 m,3,0 mm,,,,,", "column over: expected a length above 0"),
        ("2025-10-06,,,1 m,,,1,,,,,,", "column place_err: expected how far off"),
        ("2025-10-06,,,,,1 m,1,,,,,,", "column at: expected the place of the count"),
        ("2025-10-06,,,1 m,1 m,1 m,1,,,,,,", "both of them"),
        ("2025-10-06,,,999 m,,1 m,1,,,,,,", "column at: expected a place on the rope"),
        ("2025-10-06,,,1 m,,1 m,1,,,,look,,", "column method: expected one of"),
        ("2025-10-06,,yearly,1 m,,1 m,1,,,,,,", "column kind: expected one of"),
        ("1999-10-06,,,1 m,,1 m,1,,,,,,", "when the rope was fitted"),
        ("2025-10-06,,,1 m,,1 m,1,,19 mm,,,,", "a line of its own for a diameter"),
        ("2025-10-06,,,1 m,,1 m,0,,19 mm,,,,", "a line of its own for a diameter"),
    ],
)
def test_what_cannot_be_read_is_refused_by_row_and_column(
    tmp_path: Path, line: str, words: str
) -> None:
    good = "2025-10-06,,,2 m,,1 m,1,,,,,,"
    with pytest.raises(InputError) as caught:
        read(tmp_path, line, good)
    assert words in str(caught.value)
    cards = read(tmp_path, line, good, leave_out=True)
    assert [one.taken for one in cards.lines] == [False, True]
    assert [each.findings[0].place.at_m for each in cards.inspections] == [2.0]


@pytest.mark.parametrize("end", ["999 m", "5 m"])
def test_what_cannot_have_been_looked_over_is_refused_by_row(tmp_path: Path, end: str) -> None:
    path = tmp_path / "cards.csv"
    head = "date,count,looked_from,looked_to,method"
    path.write_text(f"{head}\n2025-10-06,0,10 m,{end},eye\n2025-10-07,0,,,\n", encoding="utf-8")
    with pytest.raises(InputError, match="row 2, column looked_to"):
        read_old_cards(path, a_dossier())
    cards = read_old_cards(path, a_dossier(), leave_out=True)
    assert [one.taken for one in cards.lines] == [False, True]


def test_how_far_off_a_place_may_be_is_named_when_it_cannot_be_read(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="how far off a place may be: expected"):
        read(tmp_path, "2025-10-06,,,2 m,,,1,,,,,,", place_err="wide")


def test_all_errors_come_at_once(tmp_path: Path) -> None:
    with pytest.raises(InputErrors):
        read(tmp_path, "x,,,1 m,,1 m,1,,,,,,", "y,,,1 m,,1 m,1,,,,,,")
    path = tmp_path / "cards.csv"
    path.write_text("day,count\n2025-10-06,1\n", encoding="utf-8")
    with pytest.raises(InputError, match="unknown column"):
        read_old_cards(path, a_dossier())
    path.write_text("date,at\n2025-10-06,1 m\n", encoding="utf-8")
    with pytest.raises(InputError, match='not without "count"'):
        read_old_cards(path, a_dossier())


@pytest.mark.parametrize("over", ["120 mm", "not known"])
@pytest.mark.parametrize("count", [0, 1, 30])
def test_an_old_card_never_makes_a_verdict_better(tmp_path: Path, over: str, count: int) -> None:
    one = a_dossier()
    on = LATEST - timedelta(days=20)
    cards = read(tmp_path, f"{on},,,61.4 m,,1 m,{count},{over},,,,,", one=one)
    more = Dossier(
        **{name: getattr(one, name) for name in Dossier.__slots__ if name != "inspections"},
        inspections=(*one.inspections, *cards.inspections),
    )
    assert is_as_strict(judged(more).verdict.level, judged(one).verdict.level)


def test_a_spreadsheet_gives_the_same_cards(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.append(["Date", "At [m]", "Count", "Over [mm]", "Place err [m]", "Who"])
    sheet.append([date(2025, 10, 6), 61.4, 6, 120, 1, "card writer"])
    sheet.append([date(2025, 10, 7), 12, "=2+2", 120, 1, ""])
    path = tmp_path / "cards.xlsx"
    book.save(path)
    with pytest.raises(InputError, match="a value, not a formula"):
        read_old_cards(path, a_dossier())
    cards = read_old_cards(path, a_dossier(), leave_out=True)
    (found,) = cards.inspections[0].findings
    typed = read(tmp_path, "2025-10-06,,,61.4 m,,1 m,6,120 mm,,,,card writer,")
    assert cards.inspections == typed.inspections
    assert found.place.at_m == 61.4
    assert [one.taken for one in cards.lines] == [True, False]


@settings(max_examples=40, deadline=None)
@given(
    one=dossiers(earlier=True),
    days=st.integers(1, 170),
    count=st.sampled_from([0, 1, 4, 40]),
    over=st.sampled_from(["120 mm", "not known"]),
    at_m=st.sampled_from([49.0, 50.0, 50.05, 120.0]),
)
def test_no_card_makes_any_rope_look_better(
    one: Dossier, days: int, count: int, over: str, at_m: float
) -> None:
    on = LATEST - timedelta(days=days)
    with TemporaryDirectory() as folder:
        line = f"{on},,,{at_m} m,,1 m,{count},{over},,,,,"
        cards = read(Path(folder), line, one=one)
    both = sorted((*cards.inspections, *one.inspections), key=lambda each: each.on)
    more = replace(one, inspections=tuple(both))
    assert is_as_strict(judged(more).verdict.level, judged(one).verdict.level)
