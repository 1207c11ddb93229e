"""The report: pages, what page 1 answers, what is attached, hostile words, long cases."""

import re
from dataclasses import replace
from datetime import date
from fractions import Fraction
from importlib.resources import files
from typing import Any

import pytest
import typst

from ropewright.errors import RenderError
from ropewright.geometry import Section
from ropewright.inspection import Damage, Person
from ropewright.paper import report_pdf
from ropewright.picture.ink import contrast
from ropewright.rules.ruling import LEVEL_WORDS, Level
from tests.unit.paper import sample
from tests.unit.paper.pdf import Pdf

RECORD = '{"record": 1, "odd": "ä \\u0000 <&>"}\n'.encode()
SHA = "5b9f" * 16


def make(*case: Any, **more: Any) -> bytes:
    how: dict[str, Any] = {
        "json_record": RECORD,
        "file_note": f"KQ-1.toml, SHA-256 {SHA}",
        "seal": None,
        "made_on": sample.MADE_ON,
    }
    return report_pdf(*(case or (sample.DOSSIER, sample.ASSESSMENT)), **(how | more))


@pytest.fixture(scope="module")
def pdf() -> Pdf:
    return Pdf(make())


@pytest.fixture(scope="module")
def everything(pdf: Pdf) -> str:
    return " ".join(pdf.pages)


# --- the file ---------------------------------------------------------------------------------


def test_an_ordinary_case_takes_at_most_three_pages(pdf: Pdf) -> None:
    assert len(pdf.pages) <= 3


def test_nothing_found_takes_two_pages() -> None:
    assert len(Pdf(make(*sample.clear_case())).pages) == 2


def test_it_is_tagged_and_claims_both_standards(pdf: Pdf) -> None:
    assert pdf.is_tagged
    assert "<pdfaid:part>3</pdfaid:part>" in pdf.metadata
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in pdf.metadata
    assert "<pdfuaid:part>1</pdfuaid:part>" in pdf.metadata
    assert b"/Lang(en)" in pdf.catalog


def test_the_record_is_attached_byte_for_byte(pdf: Pdf) -> None:
    assert pdf.attachments == [RECORD]


def test_the_same_input_gives_the_same_bytes() -> None:
    assert make() == make()


def test_another_day_gives_another_report() -> None:
    assert make() != make(made_on=date(2026, 11, 21))


# --- page 1 answers ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    "answer",
    [
        "Remove from service",
        "On hold: a discard criterion is reached.",
        "29 CFR 1926.1413(a)(2)(ii)(A)(2), edition 2010: broken wires in 6 d",
        "Value and clause number read in the rule itself",
        "287.07 m to 287.19 m ± 1 m of rope position · finding F1",
        "5 broken wires in 6 d = 120 mm",
        "2 broken wires or more (found: 250 % of it)",
        "Replace the rope",
        "Who decides Competent person",
        "By when Before further use",
        "Next inspection no later than 2027-02-18, stated at this inspection",
        "No eye and no hand over 405 m to 420 m: 15 m (4 %) of the rope in service.",
        "Hidden from sight (grease): 120 m to 150 m.",
        "Lifting manager accepts until 2026-12-18 that 405 m to 420 m was not seen",
        "3 clauses cannot be judged yet",
        "Periodic inspection of 2026-11-18 · judged for 2026-11-20",
        "20 mm 35(W)x7, steel core, grade 1960 N/mm², Lang lay (left hand)",
        "413.8 m of 420 m as first installed",
        "282 kN, by certificate",
        "20.55 mm on 2025-01-28, empty hook",
        "8 t at 2 falls",
        "Broken wires cut: no hand on moving rope near 287.1 m",
        "On hold: tag the hoist out",
        "It advises; a person decides and signs.",
        "Name Qualification, certificate Employer, address Date Seal or stamp",
        "Signature",
        "only the person who signs answers: safe to operate?",
    ],
)
def test_page_one_answers(pdf: Pdf, answer: str) -> None:
    assert answer in pdf.pages[0]


@pytest.mark.parametrize("level", LEVEL_WORDS)
def test_every_verdict_is_in_the_trade_words(level: Level) -> None:
    verdict = replace(sample.VERDICT, level=level)
    page = Pdf(make(sample.DOSSIER, replace(sample.ASSESSMENT, verdict=verdict))).pages[0]
    words = LEVEL_WORDS[level]
    assert words[0].upper() + words[1:] in page


def test_a_limit_from_memory_is_marked_on_page_one() -> None:
    verdict = replace(sample.VERDICT, governing=(sample.RULINGS[2].ruling_id,))
    page = Pdf(make(sample.DOSSIER, replace(sample.ASSESSMENT, verdict=verdict))).pages[0]
    assert "This limit is from memory: check it against your copy of the rule" in page
    assert "from memory – check against your copy" in page


def test_what_is_missing_and_how_to_get_it_is_on_page_one_of_an_incomplete_case() -> None:
    ruling = sample.RULINGS[10]
    verdict = replace(
        sample.VERDICT, level="incomplete", governing=(ruling.ruling_id,), on_hold=False,
        hold_reasons=(), remedy=(), who="", by_when="",
    )  # fmt: skip
    page = Pdf(make(sample.DOSSIER, replace(sample.ASSESSMENT, verdict=verdict))).pages[0]
    assert "Inspection incomplete" in page
    assert "Missing eye: 120.0 m to 150.0 m and 405.0 m to 420.0 m" in page
    assert "To get it inspect these sections by eye" in page
    assert "Not on hold" in page


def test_a_clear_case_says_what_was_judged_and_seen() -> None:
    page = Pdf(make(*sample.clear_case())).pages[0]
    assert "No discard criterion reached" in page
    assert "6 clauses were judged; none reached its limit and none stayed open." in page
    assert "Nothing: an eye or a hand has been over all of the rope in service." in page


def test_a_rope_never_inspected_says_so() -> None:
    verdict = replace(sample.VERDICT, level="incomplete", governing=(), unseen_whole_rope=True)
    case = (replace(sample.DOSSIER, inspections=()), replace(sample.ASSESSMENT, verdict=verdict))
    page = Pdf(make(*case)).pages[0]
    assert "No inspection on record" in page
    assert "The whole rope: no pass by eye or hand is on record." in page


def test_nobody_is_told_that_a_rope_is_safe_or_fit(everything: str) -> None:
    said = everything.replace("answers: safe to operate?", "").replace("Safe working load", "")
    said = said.replace("no safe direction", "")  # of the way the rope may run, not of a rope
    assert not re.search(r"\b(safe|fit|safely)\b", said, re.IGNORECASE)


# --- behind page 1 ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    "words",
    [
        "Governs the verdict competent person, before further use read in the rule",
        "Governs the verdict competent person, at once from memory",
        "1 (sure) to 2 (possible) broken wires in 6 d = 120 mm; limit 2 or more (100 %)",
        "Of all 16 rulings: 6 reached, 3 cannot be judged yet, 5 not reached",
        "4.75 %, against the reference diameter 20.55 mm at 287.4 m ± 1 m; limit 5 or more (95 %)",
        "2 %, against the nominal diameter 20 mm at 287.4 m ± 1 m; limit more than 5 (40 %)",
        "From memory – check against your copy: figures of ISO 4309:2017",
        "offset mm/strand ± 2 mm: 0/3; 18/3; 41/4; 2× 55–62/11; 160/4; 380/9",
        "ends broken off: can no longer be felt",
        "19.7 / 19.5 mm: 19.6 mm, oval 0.2 mm (plate caliper 2)",
        "20.2 mm; one reading only",
        "Sheave, trolley sheave 2 rope print in groove groove radius 10.4 mm",
        "By hand, feeling 370 m (89 %) 20 m to 390 m",
        "Not seen, not felt 15 m (4 %) 405 m to 420 m",
        "caliper with plates, reads to 0.05 mm, calibrated 2026-02-03, due 2027-02-03",
        "groove gauges, calibration not stated",
        "Not examined drum anchorage (behind the guard)",
        "WRE-2231, expires 2027-06-30",
        "6.2 m cut off at end A (worn at the block)",
        "slack rope, 300 m to 410 m (block landed on the slab): released 2026-10-03 by lifting",
        "permission double-m5-m8 of iso-4309-2017, chosen by lifting manager",
        "Lay length not measured",
        "ropewright 0.1.0",
        "iso-4309-2017 a1a1a1a1a1a1a1a1",
        "none: not made from a logbook",
    ],
)
def test_the_pages_behind_hold(everything: str, words: str) -> None:
    assert words in everything


def test_all_contents_of_the_statutory_report_have_their_place(everything: str) -> None:
    # LOLER 1998, Schedule 1: items 1 to 8 read in the text, the rest from memory
    _, _, rest = everything.partition("Contents asked for by LOLER 1998, Schedule 1")
    for label in (
        "Employer, name and address", "Place of examination", "Equipment, when built",
        "Last thorough examination 2026-08-20", "Safe working load", "Kind of examination",
        "Defects that are, or could become, a danger", "Repair needed, by when",
        "Latest next examination 2027-02-18", "Tests made", "Date of this examination 2026-11-18",
        "Examiner", "Authenticated by",
    ):  # fmt: skip
        assert label in rest


def test_what_the_record_does_not_know_is_left_to_the_pen() -> None:
    crane = replace(sample.CRANE, owner="", owner_address="", safe_working_load="", built="")
    rest = " ".join(Pdf(make(replace(sample.DOSSIER, crane=crane), sample.ASSESSMENT)).pages)
    assert "Employer, name and address to be filled in by hand" in rest
    assert "Safe working load to be filled in by hand" in rest


def test_findings_below_every_limit_are_not_called_nothing() -> None:
    rulings = tuple(one for one in sample.RULINGS if one.status == "below")
    latest = replace(sample.INSPECTION, part_findings=())
    case = (replace(sample.DOSSIER, inspections=(latest,)),
            replace(sample.ASSESSMENT, rulings=rulings))  # fmt: skip
    rest = " ".join(Pdf(make(*case)).pages)
    assert "none reached a limit; all findings stand above" in rest


def test_record_and_rules_are_named_by_hash(everything: str) -> None:
    squeezed = everything.replace(" ", "")
    assert SHA in squeezed
    assert "SHA-256" in everything


def test_a_seal_is_printed() -> None:
    assert "c0ffee" in " ".join(Pdf(make(seal="c0ffee")).pages)


def test_pages_are_numbered_and_labelled(pdf: Pdf) -> None:
    for number, page in enumerate(pdf.pages, start=1):
        head = f"made 2026-11-20 · page {number} of {len(pdf.pages)}"
        assert page.startswith(
            f"Rope KQ-1 hoist · inspection report Invented data – demonstration {head}"
        )


def test_real_data_are_not_called_invented() -> None:
    assert "Invented" not in " ".join(Pdf(make(*sample.clear_case())).pages)


# --- words from people ------------------------------------------------------------------------


def test_hostile_words_are_printed_as_they_are(everything: str) -> None:
    assert "At the crossover of layer 2. " + sample.HOSTILE in everything


def test_letters_the_typeface_lacks_are_named(everything: str) -> None:
    assert "crack? [grinning face][warning sign] [U+7D22] [right-to-left override]" in everything


@pytest.mark.parametrize("bad", ['#import "x"', "]", "\\", "\x00", "\ud800", "{{", "$"])
def test_no_text_can_steer_the_layout(bad: str) -> None:
    person = Person(role=bad, name=bad, qualification=bad, employer=bad)
    latest = replace(sample.INSPECTION, by=(person,), remark=bad)
    dossier = replace(
        sample.DOSSIER, crane=replace(sample.CRANE, crane_id=bad, site=bad), inspections=(latest,)
    )
    assert make(dossier, replace(sample.ASSESSMENT, rope_id=f"r{bad}"), file_note=bad)


# --- long cases -------------------------------------------------------------------------------


def test_hundreds_of_findings_are_counted_not_lost() -> None:
    crowd = [
        sample.breaks(f"X{at}", 10 + at, [(str(9 * k), str(9 * k), 1, k + 1) for k in range(30)],
                      remark=sample.HOSTILE * 20)
        for at in range(200)
    ] + [
        Damage(finding_id=f"Y{at}" + "y" * 90, place=sample.place(2 * at + 7), damage="corrosion",
               remark="x" * 4000)
        for at in range(150)
    ]  # fmt: skip
    pages = Pdf(make(sample.with_findings(sample.CLUSTER, *crowd), sample.ASSESSMENT)).pages
    said = " ".join(pages)
    assert len(pages) <= 6
    assert "331 more findings in the record this was made from." in said
    assert "and 20 more" in said
    assert "F1 7 broken wires" in said  # what governs is never the one left out


def test_very_long_texts_do_not_break_the_first_page() -> None:
    long = (sample.HOSTILE + " " + "word " * 40) * 20
    verdict = replace(
        sample.VERDICT, remedy=(long,) * 9, hold_reasons=(long,) * 9, who=long, by_when=long
    )
    rulings = tuple(
        replace(sample.RULINGS[at % 10], ruling_id=f"r{at}", words=long, title=long, who=long,
                by_when=long, missing=(long,) * 5, how_to_get=(long,) * 5, note=long)
        for at in range(200)
    )  # fmt: skip
    assessment = replace(
        sample.ASSESSMENT, rope_id="R" * 300, rulings=rulings, assumptions=(long,) * 30,
        verdict=replace(verdict, governing=tuple(f"r{at}" for at in range(50))),
    )  # fmt: skip
    crane = replace(sample.CRANE, site=long, owner=long, safe_working_load=long)
    pdf = Pdf(make(replace(sample.DOSSIER, crane=crane), assessment))
    first = pdf.pages[0]
    for words in ("Remove from service", "On hold", "Who decides", "By when", "Not seen, and open"):
        assert words in first
    assert "more reached or open rulings in the record" in " ".join(pdf.pages)


def test_what_page_one_has_no_room_for_comes_behind() -> None:
    long = "remedy with many words to make it long " * 3
    verdict = replace(sample.VERDICT, remedy=(long,) * 4)
    pdf = Pdf(make(sample.DOSSIER, replace(sample.ASSESSMENT, verdict=verdict)))
    assert "Decided and signed" in pdf.pages[0]
    assert "Nobody works alone" in " ".join(pdf.pages)
    assert "What each rule set says" in " ".join(pdf.pages)


# --- the layout -------------------------------------------------------------------------------


def test_words_stand_out_in_the_layout() -> None:
    template = files("ropewright.paper").joinpath("report.typ").read_text(encoding="utf-8")
    inks = dict(re.findall(r'#let (ink|soft|pale) = rgb\("(#[0-9a-f]{6})"\)', template))
    assert set(inks) == {"ink", "soft", "pale"}
    for words, ground in (("ink", "#ffffff"), ("soft", "#ffffff"), ("ink", inks["pale"]),
                          ("soft", inks["pale"])):  # fmt: skip
        assert contrast(inks[words], ground) >= 4.5
    assert contrast("#ffffff", inks["ink"]) >= 4.5  # the verdict, white on dark


def test_a_layout_that_fails_is_a_render_error(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> bytes:
        raise RuntimeError("no page")

    monkeypatch.setattr(typst, "compile", broken)
    with pytest.raises(RenderError, match="no page"):
        make()


def test_a_wave_and_a_heavy_clause_are_not_reached_by_accident() -> None:
    """A share of exactly 100 % is printed as such."""
    ruling = replace(sample.RULINGS[0], share=Fraction(1), section=Section(10, 10))
    assessment = replace(sample.ASSESSMENT, rulings=(ruling, *sample.RULINGS[1:]))
    assert "(found: 100 % of it)" in Pdf(make(sample.DOSSIER, assessment)).pages[0]
