"""The wear figure: nothing overlaps, nothing runs out, nothing needs its colour."""

import xml.etree.ElementTree as ET
from datetime import date
from functools import cache
from itertools import combinations

import pytest

from ropewright.desk.cutting import cut_advice
from ropewright.desk.wear_figure import DAMAGE_STEP_M, wear_figure
from ropewright.desk.wearing import WearResult, wear_of
from ropewright.inspection import Dossier
from ropewright.intake import read_case
from ropewright.picture.ink import IN_GREY
from ropewright.picture.wear_chart import wear_chart
from ropewright.picture.wear_panels import short_number
from tests.unit.desk.wear_logs import COUNTING, case_text, log
from tests.unit.picture.svg import colours, placed, text_boxes

TODAY = date(2026, 6, 30)
BREAKS = """
[[inspection]]
id = "I1"
kind = "periodic"
on = 2026-06-20

[[inspection.pass]]
method = "eye-round"
from = "0 m"
to = "200 m"
""" + "".join(
    f"""
[[inspection.finding]]
id = "F{number}"
kind = "broken wires"
at = "{60 + number} m"
count = 3
over = "120 mm"
"""
    for number in range(6)
)


@cache
def made(inspections: str = "", drum: bool = True) -> tuple[Dossier, WearResult]:
    text = case_text(inspections=inspections)
    if not drum:
        text = text.replace('drum_diameter = "480 mm"\n', "")
    rope = read_case(text, file="w.toml").dossier
    return rope, wear_of(rope, [log(date(2026, 2, 20), 40, 1)], COUNTING, TODAY)


def draw(width: int = 1400, *, grey: bool = False, inspections: str = "") -> ET.Element:
    rope, found = made(inspections)
    text = wear_chart(rope, found, cut_advice(rope, found), width_px=width, print_grey=grey)
    return ET.fromstring(text)


@pytest.mark.parametrize("width", [390, 760, 1400])
def test_words_stay_on_the_paper_and_apart(width: int) -> None:
    root = draw(width, inspections=BREAKS)
    boxes = text_boxes(root)
    assert [box for box in boxes if box.left < 0 or box.right > width] == []
    height = float(root.attrib["height"])
    assert [box for box in boxes if box.bottom > height] == []
    assert [(a, b) for a, b in combinations(boxes, 2) if a.overlaps(b)] == []


def test_greys_are_greys() -> None:
    rope, found = made()
    text = wear_chart(rope, found, print_grey=True)
    assert all(one[1:3] == one[3:5] == one[5:7] for one in colours(text))
    assert IN_GREY.paper in colours(text)


def test_everything_is_on_the_one_axis() -> None:
    root = draw(inspections=BREAKS)
    kinds = ("layer", "worn", "found", "seen", "crossover", "layer-change")
    for kind in kinds:
        assert placed(root, kind), kind
    worn = placed(root, "worn")
    _, found = made(BREAKS)
    assert [float(one.attrib["data-rope-m"]) for one in worn] == [
        pytest.approx(one.section.from_m, abs=0.001) for one in found.top
    ]


def test_invented_data_and_the_cautions_are_in_the_picture() -> None:
    words = " ".join(box.words for box in text_boxes(draw()))
    assert "Invented data" in words
    assert "inspections give the scale" in words
    assert "competent person" in words or "Nothing helps" in words


def test_without_a_drum_the_figure_says_so() -> None:
    rope, found = made(drum=False)
    root = ET.fromstring(wear_chart(rope, found))
    assert any("drum is not known" in box.words for box in text_boxes(root))


def test_the_damage_band_holds_the_whole_map() -> None:
    """By sums: both layers of the band together are the map's mean, step by step."""
    rope, found = made()
    shown = wear_figure(rope, found, 0.5)
    both = [sum(values) for values in zip(*(one.values for one in shown.damage), strict=True)]
    whole = found.wear.total
    for at, value in enumerate(both):
        low, high = shown.damage_edges_m[at], shown.damage_edges_m[at + 1]
        assert value == pytest.approx(whole.mean(low, high), abs=0.01)
        assert shown.worst[at] >= value - 0.01
    assert shown.damage_edges_m[1] == DAMAGE_STEP_M
    rope, found = made(drum=False)
    assert wear_figure(rope, found, 0.5).damage_edges_m[1] == 0.5  # nothing crosses: no need


def test_the_look_ahead_is_the_plan_s_own() -> None:
    rope, found = made()
    advice = cut_advice(rope, found)
    root = ET.fromstring(wear_chart(rope, found, advice))
    if advice.ahead is None:
        assert advice.nothing
        assert placed(root, "ahead") == []
        return
    assert advice.plan is not None
    assert max(advice.ahead.without) == pytest.approx(advice.plan.worst_without)
    assert max(advice.ahead.with_best) == pytest.approx(advice.plan.best[0].worst)
    words = [one.find("{http://www.w3.org/2000/svg}title") for one in placed(root, "ahead")]
    assert [one.text for one in words if one is not None] == [
        "if nothing is done", advice.options[0].words,
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("value", "words"), [(0.25, "0.25"), (950, "950"), (12_000, "12k"), (1.5e6, "1.5M")]
)
def test_short_numbers(value: float, words: str) -> None:
    assert short_number(value) == words
