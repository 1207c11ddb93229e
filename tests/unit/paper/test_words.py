"""Letters, figures and places as the report prints them."""

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.errors import RenderError
from ropewright.geometry import Section
from ropewright.inspection import MetallicLoss
from ropewright.paper import letters
from ropewright.paper.cautions import ALWAYS, cautions
from ropewright.paper.facts import facts_of
from ropewright.paper.front import identity, next_examination
from ropewright.paper.letters import drawn, printable, written
from ropewright.paper.tables import findings_table, memory_note, near_lines, parts_table
from ropewright.paper.words import (
    HOLD,
    cut,
    edition,
    found,
    limit,
    metres,
    place,
    result,
    sections,
    share_of,
    short_place,
    short_source,
    source,
)
from tests.unit.paper import sample


def plain(words: str) -> str:
    return words.replace(HOLD, " ")


# --- letters ----------------------------------------------------------------------------------


def test_the_typeface_has_the_letters_the_report_uses() -> None:
    for letter in "abcXYZ019 ±×–…·’²°%/≈äöüéßñłŽЖ":
        assert ord(letter) in printable(), letter
    assert 0x1F600 not in printable()


@pytest.mark.parametrize(
    ("typed", "printed"),
    [
        ("plain", "plain"),
        ("  two\n\tlines \r\n", "two lines"),
        ("😀", "[grinning face]"),
        ("⚠️", "[warning sign]"),
        ("索", "[U+7D22]"),
        ("\x07", "[U+0007]"),
        ("\ud800", "[U+D800]"),
        ("#*_<&>$@\\", "#*_<&>$@\\"),
        ("e\u0301", "é"),
    ],
)
def test_letters_are_printed_or_named(typed: str, printed: str) -> None:
    assert written(typed) == printed


def test_a_long_word_may_be_broken_and_a_clause_stays_whole() -> None:
    assert "\u200b" in written("x" * 80)
    assert written("1926.1413(a)(2)(ii)(A)(2)") == "1926.1413(a)(2)(ii)(A)(2)"


@given(st.text(max_size=300))
def test_every_text_comes_out_printable(text: str) -> None:
    assert all(ord(letter) in printable() or letter in "\u200b " for letter in written(text))
    assert all(ord(letter) in printable() or letter in "\n\t" for letter in drawn(text))


@pytest.mark.parametrize("broken", [b"", b"\x00" * 40, b"\x00\x01\x00\x00\x00\xff" * 3])
def test_a_broken_typeface_is_a_render_error(
    broken: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "face.ttf").write_bytes(broken)
    monkeypatch.setattr(letters, "FOLDER", tmp_path)
    with pytest.raises(RenderError, match="typeface"):
        letters.printable.__wrapped__()


def test_a_missing_typeface_is_a_render_error(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(letters, "FOLDER", tmp_path)
    with pytest.raises(RenderError, match="not installed"):
        letters.printable.__wrapped__()


# --- figures and places -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "words"), [(287.1, "287.1 m"), (0.0, "0 m"), (420.0, "420 m"), (1.005, "1 m")]
)
def test_metres(value: float, words: str) -> None:
    assert plain(metres(value)) == words


def test_places_carry_their_error() -> None:
    assert plain(place(Section(10, 10), 1.0)) == "at 10 m ± 1 m"
    assert plain(place(Section(10, 12.5), 0)) == "10 m to 12.5 m"
    assert plain(short_place(Section(10, 12.5), 0.25)) == "10–12.5 m ± 0.25 m"
    assert place(None, 1.0) == "no single place"


def test_sections_are_counted_when_many() -> None:
    pieces = [Section(at, at + 0.5) for at in range(9)]
    assert plain(sections(pieces, 2)) == "0 m to 0.5 m, 1 m to 1.5 m and 7 more"


def test_share_of_the_rope() -> None:
    # by hand: 15 of 413.8 m is 3.6 %
    assert plain(share_of([Section(405, 420)], Section(6.2, 420))) == "15 m (4 %)"


def test_limits_say_how_they_compare() -> None:
    reached, more = sample.RULINGS[0], sample.RULINGS[7]
    assert limit(reached) == "2 broken wires or more (found: 250 % of it)"
    assert limit(more) == "more than 5 % (found: 40 % of it)"
    assert limit(replace(more, share=None), unit=False) == "more than 5"
    assert limit(replace(more, limit=None)) == ""


def test_found_says_window_and_baseline() -> None:
    assert found(sample.RULINGS[5]) == "1 (sure) to 2 (possible) broken wires in 6 d = 120 mm"
    assert found(sample.RULINGS[6]) == "4.75 %, against the reference diameter 20.55 mm"
    assert found(sample.RULINGS[11]) == sample.RULINGS[11].words


def test_thirds_are_marked_as_rounded() -> None:
    third = replace(sample.RULINGS[6], found=sample.percent("10/3"))
    assert found(third).startswith("≈ 3.333 %")


def test_sources_name_value_and_clause() -> None:
    mixed = replace(sample.RULINGS[0], provenance="second-hand", clause_provenance="memory")
    assert source(mixed) == (
        "value read in a second-hand source; clause number from memory – check against your copy"
    )
    assert short_source(mixed) == "second-hand; clause from memory"
    assert short_source(sample.RULINGS[15]) == "our own"


def test_results_use_the_level() -> None:
    assert result(sample.RULINGS[9]) == "reached: decide"
    assert result(sample.RULINGS[5]) == "cannot be judged yet"


def test_cut_and_edition() -> None:
    assert cut("abcdef", 4) == "abc…"
    assert edition("2010 (in force from 8 November 2010)") == "2010"


# --- what is chosen ---------------------------------------------------------------------------


def test_cautions_follow_what_was_found() -> None:
    said = " ".join(cautions(facts_of(sample.DOSSIER, sample.ASSESSMENT)))
    assert "Broken wires cut" in said
    assert "both sides secured and seized" in said
    assert "tag the hoist out" in said
    assert "from outside its guard" in said
    assert cautions(facts_of(*sample.clear_case())) == list(ALWAYS)


def test_pulled_in_wraps_call_for_fitters() -> None:
    part = replace(sample.INSPECTION.part_findings[1], state="pulled-in wrap")
    latest = replace(sample.INSPECTION, part_findings=(part,))
    dossier = replace(sample.DOSSIER, inspections=(latest,))
    assert any("rope fitters" in one for one in cautions(facts_of(dossier, sample.ASSESSMENT)))


def test_identity_says_what_is_not_stated() -> None:
    rope = replace(sample.ROPE, lay_type=None, lay_hand=None, certificate=None)
    installation = replace(sample.INSTALLATION, fitted_on=None, reference=None)
    bare = replace(sample.DOSSIER, rope=rope, installation=installation, rigging=())
    rows = dict(identity(facts_of(bare, sample.ASSESSMENT)))
    assert "lay not stated" in rows["Rope"]
    for label in ("Certificate", "Fitted on", "Reference diameter", "Falls"):
        assert rows[label] == "not stated"


def test_the_next_examination_is_the_stated_one_else_the_interval() -> None:
    assert next_examination(facts_of(sample.DOSSIER, sample.ASSESSMENT)).startswith("2027-02-18")
    latest = replace(sample.INSPECTION, next_by=None)
    dossier = replace(sample.DOSSIER, inspections=(latest,))
    assert (
        next_examination(facts_of(dossier, sample.ASSESSMENT))
        == "within 90 days, as set by the competent person"
    )


def test_dangerous_parts_come_first() -> None:
    first, second = sample.INSPECTION.part_findings
    latest = replace(sample.INSPECTION, part_findings=(first, replace(second, dangerous=True)))
    dossier = replace(sample.DOSSIER, inspections=(latest,))
    table = parts_table(facts_of(dossier, sample.ASSESSMENT))
    assert table["rows"][0][0][0]["t"] == "P2"
    assert table["strong"] == [0]


def test_an_earlier_finding_carries_its_date_in_the_table() -> None:
    latest = replace(sample.INSPECTION, findings=(), passes=())
    dossier = replace(sample.DOSSIER, inspections=(sample.EARLIER, latest))
    (row,) = findings_table(facts_of(dossier, sample.ASSESSMENT))["rows"]
    assert row[4][0] == {"t": "2026-08-20", "bold": True, "soft": False}


def test_a_magnetic_finding_is_told() -> None:
    loss = MetallicLoss(finding_id="M1", place=sample.place(77), percent=Fraction("4.5"),
                        over_mm=Fraction(120))  # fmt: skip
    rows = findings_table(facts_of(sample.with_findings(loss), sample.ASSESSMENT))["rows"]
    (row,) = [one for one in rows if one[0][0]["t"] == "M1"]
    assert row[3][0]["t"] == "4.5 % of the metallic area lost over 120 mm"


def test_only_rulings_with_a_share_count_as_near() -> None:
    rows = near_lines(facts_of(sample.DOSSIER, sample.ASSESSMENT))["rows"]
    assert len(rows) == 4
    assert "(95 %)" in rows[0]


def test_no_warning_without_values_from_memory() -> None:
    rulings = tuple(one for one in sample.RULINGS if one.provenance != "memory")
    assert memory_note(facts_of(sample.DOSSIER, replace(sample.ASSESSMENT, rulings=rulings))) == ""
