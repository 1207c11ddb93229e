"""The rope chart: complete, legible, accessible, and the same in grey."""

import random
import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from ropewright.geometry import ExposedSection, Exposure, Section
from ropewright.inspection import DAMAGE_WORDS, Damage, Dossier, MetallicLoss, Waviness
from ropewright.picture import rope_chart, rope_strip
from ropewright.picture.ink import IN_COLOUR, IN_GREY, TEXT_INKS, contrast
from ropewright.picture.symbols import SIGNS
from ropewright.rope import EndForEnd
from ropewright.rules.ruling import Assessment
from tests.unit.paper import sample
from tests.unit.picture.svg import SVG, colours, placed, text_boxes

WIDTHS = (320, 390, 560, 720, 1100)


def chart(*case: Any, **how: Any) -> ET.Element:
    return ET.fromstring(rope_chart(*(case or (sample.DOSSIER, sample.ASSESSMENT)), **how))


def words(root: ET.Element) -> list[str]:
    return [one.text or "" for one in root.iter(f"{SVG}text")]


def crowded() -> tuple[Dossier, Assessment]:
    """Four hundred findings of all kinds, with hostile names and remarks, and many rulings."""
    chance = random.Random(7)
    findings: list[Any] = []
    kinds = sorted(DAMAGE_WORDS)
    for at in range(400):
        place = chance.uniform(7, 419)
        findings.append(
            (
                sample.breaks(f"X{at}", place, [("0", "9", chance.randint(1, 9), None)]),
                sample.diameter(f"X{at}", place, "20.1", "19.87"),
                Damage(finding_id=f"X{at}", place=sample.place(place), damage=kinds[at % 18],
                       length_m=chance.choice([0.0, 4.0]), remark=sample.HOSTILE * 9),
                Waviness(finding_id=f"X{at}", place=sample.place(place), gap_mm=Fraction(10, 3)),
            )[at % 4]
        )  # fmt: skip
    rulings = tuple(
        replace(sample.RULINGS[at % 8], ruling_id=f"r{at}", section=Section(at, at + 1))
        for at in range(250)
    )
    assessment = replace(
        sample.ASSESSMENT,
        rope_id=sample.HOSTILE,
        rulings=rulings,
        verdict=replace(sample.VERDICT, governing=tuple(f"r{at}" for at in range(60))),
    )
    return sample.with_findings(*findings), assessment


CASES = {
    "sample": (sample.DOSSIER, sample.ASSESSMENT),
    "clear": sample.clear_case(),
    "crowded": crowded(),
}


# --- well made --------------------------------------------------------------------------------


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("case", CASES)
def test_no_two_labels_overlap_and_none_leaves_the_paper(case: str, width: int) -> None:
    for draw in (rope_chart, rope_strip):
        root = ET.fromstring(draw(*CASES[case], width_px=width))
        boxes = text_boxes(root)
        clashes = [
            (one.words, other.words)
            for at, one in enumerate(boxes)
            for other in boxes[:at]
            if one.overlaps(other)
        ]
        assert not clashes
        height = float(root.attrib["height"])
        outside = [box for box in boxes if box.left < 0 or box.right > width + 1
                   or box.top < 0 or box.bottom > height]  # fmt: skip
        assert not outside


def test_it_is_an_image_with_title_and_description() -> None:
    root = chart()
    assert root.attrib["role"] == "img"
    title, desc = root.findtext(f"{SVG}title"), root.findtext(f"{SVG}desc")
    assert title == "Rope KQ-1 hoist on 2026-11-20: remove from service, on hold"
    assert desc
    assert "5 broken wires in 6 d" in desc
    assert "Not seen and not felt: 15 m." in desc
    assert root.attrib["aria-labelledby"].split() == [
        one.attrib["id"] for one in (root[0], root[1])
    ]


def test_every_mark_has_a_place_and_words() -> None:
    marks = placed(chart())
    assert len(marks) > 40
    for one in marks:
        assert one.findtext(f"{SVG}title")
        assert 0 <= float(one.attrib["data-rope-m"]) <= 420


def test_every_finding_that_counts_is_placed_at_its_rope_position() -> None:
    at = {one.get("data-name"): one for one in placed(chart())}
    for finding in sample.FINDINGS:
        mark = at[finding.finding_id]
        assert float(mark.attrib["data-rope-m"]) == pytest.approx(finding.section.from_m, abs=5e-4)
        assert float(mark.attrib["data-rope-to-m"]) == pytest.approx(finding.section.to_m, abs=5e-4)


def test_even_a_crowded_chart_places_every_finding() -> None:
    case = crowded()
    names = {one.get("data-name") for one in placed(chart(*case))}
    assert {one.finding_id for one in case[0].inspections[-1].findings} <= names


def test_the_same_input_gives_the_same_picture() -> None:
    case = (sample.DOSSIER, sample.ASSESSMENT)
    assert rope_chart(*case) == rope_chart(*case)


def test_text_from_people_stays_text() -> None:
    dossier = sample.with_findings(
        sample.breaks('"><script>alert(1)</script>', 50, [("0", "0", 1, None)]),
        Damage(finding_id="a\x00\x0b\ufffe\ud800]]>", place=sample.place(90), damage="kink"),
    )
    text = rope_chart(dossier, replace(sample.ASSESSMENT, rope_id="<b>&amp; \u202eecila"))
    root = ET.fromstring(text)
    assert "<script" not in text
    assert not list(root.iter(f"{SVG}script"))
    assert any(sign in (root.findtext(f"{SVG}title") or "") for sign in ("<b>&amp; ecila",))


# --- colours ----------------------------------------------------------------------------------


@pytest.mark.parametrize("ink", [IN_COLOUR, IN_GREY])
def test_words_stand_out_from_their_ground(ink: Any) -> None:
    # 4.5 : 1 is what the accessibility guidelines ask of small words (from memory)
    for name in TEXT_INKS:
        for ground in (ink.paper, ink.pale):
            assert contrast(getattr(ink, name), ground) >= 4.5


@pytest.mark.parametrize("grey", [False, True])
def test_words_are_written_in_the_three_inks_only(grey: bool) -> None:
    ink = IN_GREY if grey else IN_COLOUR
    allowed = {getattr(ink, name) for name in TEXT_INKS}
    root = chart(print_grey=grey)
    assert {one.attrib["fill"] for one in root.iter(f"{SVG}text")} <= allowed


def test_a_grey_chart_has_no_colour() -> None:
    text = rope_chart(sample.DOSSIER, sample.ASSESSMENT, print_grey=True)
    assert all(one[1:3] == one[3:5] == one[5:7] for one in colours(text))


def test_nothing_is_told_by_colour_alone() -> None:
    """Without its colours the picture still differs wherever kinds differ: in shape or words."""
    shapes = [SIGNS[sign] for sign in SIGNS]
    assert len(set(shapes)) == len(shapes)
    assert {*DAMAGE_WORDS, "broken wires", "waviness", "diameter", "metallic loss"} <= set(SIGNS)
    # seen once, seen all round, hidden, unseen: a pattern or stripes for each, not a colour
    root = chart()
    fills = {}
    for kind in ("eye", "hidden", "unseen"):
        (first, *_) = placed(root, kind)
        fills[kind] = next(
            one.attrib["fill"] for one in first.iter(f"{SVG}rect") if "url" in one.attrib["fill"]
        )
    assert len(set(fills.values())) == 3
    assert any(one.get("stroke-width") == "2" for one in placed(root, "eye-round")[0])


# --- what it says -----------------------------------------------------------------------------


def test_lanes_are_named_in_plain_words() -> None:
    said = words(chart())
    for label in ("Worst places", "Broken wires", "Other findings", "Diameter [mm]", "Marks",
                  "Seen by eye", "Felt by hand", "Gauged", "Hidden", "Not seen", "Drum",
                  "Sheaves"):  # fmt: skip
        assert label in said


def test_the_governing_window_stands_out() -> None:
    root = chart()
    strong = [one for one in root.iter(f"{SVG}text") if one.get("fill") == IN_COLOUR.grave]
    assert [one.text for one in strong] == ["5 in 6 d, limit 2 · 29 CFR 1926.1413 (+3)"]
    assert strong[0].get("font-weight") == "700"


def test_unseen_and_hidden_sections_are_where_they_are() -> None:
    root = chart()
    (unseen,) = placed(root, "unseen")
    assert (unseen.attrib["data-rope-m"], unseen.attrib["data-rope-to-m"]) == ("405.000", "420.000")
    assert "accepted by lifting manager until 2026-12-18" in (unseen.findtext(f"{SVG}title") or "")
    assert [one.attrib["data-rope-m"] for one in placed(root, "hidden")] == ["120.000", "418.000"]


def test_cut_off_rope_is_shown_as_cut_off_and_not_as_seen() -> None:
    root = chart(*sample.clear_case())
    (cut,) = placed(root, "cut-off")
    assert (cut.attrib["data-rope-m"], cut.attrib["data-rope-to-m"]) == ("0.000", "6.200")
    assert all(float(one.attrib["data-rope-m"]) >= 6.2 for one in placed(root, "eye-round"))
    assert "cut off" in words(root)


def test_a_lane_without_anything_says_so() -> None:
    said = words(chart(*sample.clear_case()))
    assert "none found" in said
    assert "no limit came near" in said
    assert "none: an eye or a hand was over all of it" in said


def test_ends_are_named() -> None:
    assert {"end A, anchor", "end B, drum clamp"} <= set(words(chart()))


def test_ends_of_a_turned_rope_are_named_as_of_today() -> None:
    history = replace(
        sample.DOSSIER.history,
        steps=(*sample.DOSSIER.history.steps, EndForEnd(on=date(2026, 6, 1))),
    )
    turned = replace(sample.DOSSIER, history=history)
    assert {"end B today, drum clamp", "end A today, anchor"} <= set(
        words(chart(turned, sample.ASSESSMENT))
    )


def test_a_twin_drum_has_a_clamp_at_both_ends() -> None:
    exposed = (ExposedSection(section=Section(0, 420), exposure=Exposure(drum="single")),)
    twin = replace(
        sample.DOSSIER, installation=replace(sample.DOSSIER.installation, exposed=exposed)
    )
    assert {"end A, drum clamp", "end B, drum clamp"} <= set(words(chart(twin, sample.ASSESSMENT)))


def test_the_legend_explains_only_what_is_used() -> None:
    def legend(root: ET.Element) -> list[str]:
        (group,) = [one for one in root.iter(f"{SVG}g") if one.get("class") == "legend"]
        return [one.text or "" for one in group.iter(f"{SVG}text")]

    full = legend(chart())
    assert {"broken wires", "flat", "hidden from sight", "cut off", "± of a place"} <= set(full)
    assert "birdcage" not in full
    clear = legend(chart(*sample.clear_case()))
    assert "broken wires" not in clear
    assert "hidden from sight" not in clear


def test_invented_data_are_labelled() -> None:
    assert "Invented data – demonstration" in words(chart())
    assert "Invented data – demonstration" not in words(chart(*sample.clear_case()))


def test_an_earlier_finding_carries_its_date() -> None:
    latest = replace(sample.INSPECTION, findings=(), passes=())
    dossier = replace(sample.DOSSIER, inspections=(sample.EARLIER, latest))
    assert "2 (2026-08-20)" in words(chart(dossier, sample.ASSESSMENT))


def test_a_magnetic_finding_is_drawn() -> None:
    loss = MetallicLoss(finding_id="M1", place=sample.place(77), percent=Fraction("4.5"))
    assert "4.5 % of the metallic area lost" in words(
        chart(sample.with_findings(loss), sample.ASSESSMENT)
    )


def test_a_rope_never_inspected_is_all_unseen() -> None:
    dossier = replace(sample.DOSSIER, inspections=())
    (unseen,) = placed(chart(dossier, sample.ASSESSMENT), "unseen")
    assert unseen.attrib["data-rope-m"] == "6.200"


def test_a_narrow_chart_has_its_labels_over_the_lanes() -> None:
    root = chart(width_px=390)
    label = next(one for one in root.iter(f"{SVG}text") if one.text == "Felt by hand")
    band = placed(root, "feel")[0][1]
    assert float(label.attrib["y"]) < float(band.attrib["y"])
    assert float(band.attrib["x"]) < 122


@pytest.mark.parametrize("width", WIDTHS)
def test_words_are_never_set_smaller_than_eleven_units(width: int) -> None:
    root = chart(width_px=width)
    assert min(float(one.attrib["font-size"]) for one in root.iter(f"{SVG}text")) >= 11
