"""The chart's lanes of age and of trouble: what they say, and that nothing lies on anything."""

import random
import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

import pytest

from ropewright.geometry import Section
from ropewright.inspection import Dossier, HiddenSection, Inspection, Pass
from ropewright.inspection.findings import Method
from ropewright.picture import rope_chart
from ropewright.picture.frame import frame_for
from ropewright.picture.trouble_lane import trouble_lane
from ropewright.picture.words import ago_words
from ropewright.plan import Listed, TroubleSpot
from tests.unit.paper import sample
from tests.unit.picture.svg import SVG, placed, text_boxes

AS_OF = date.fromisoformat(sample.ASSESSMENT.as_of)
LISTED = Listed(rule="ISO 4309:2017", clause="5.3.3", provenance="text")
WIDTHS = (320, 380, 720, 1100)


def looked(name: str, days: int, *gone: tuple[Method, float, float], **more: Any) -> Inspection:
    return Inspection(
        inspection_id=name,
        kind=more.pop("kind", "periodic"),
        on=AS_OF - timedelta(days=days),
        passes=tuple(Pass(method=m, section=Section(a, b)) for m, a, b in gone),
        **more,
    )


def chart(*some: Inspection, width: int = 1100, **how: Any) -> ET.Element:
    dossier: Dossier = replace(sample.DOSSIER, inspections=some)
    return ET.fromstring(rope_chart(dossier, sample.ASSESSMENT, width_px=width, **how))


def words(root: ET.Element) -> list[str]:
    return [one.text or "" for one in root.iter(f"{SVG}text")]


def sections(root: ET.Element, kind: str) -> list[tuple[str, str]]:
    return [(one.attrib["data-rope-m"], one.attrib["data-rope-to-m"]) for one in placed(root, kind)]


def nothing_overlaps(root: ET.Element) -> None:
    boxes = text_boxes(root)
    assert [
        (one.words, other.words)
        for at, one in enumerate(boxes)
        for other in boxes[:at]
        if one.overlaps(other)
    ] == []
    width, height = float(root.attrib["width"]), float(root.attrib["height"])
    assert [
        box for box in boxes if box.left < 0 or box.right > width + 1 or box.bottom > height
    ] == []


# --- age --------------------------------------------------------------------------------------


# by hand: 6.2 to 420 m are in service; felt now to 300, 40 days ago to 400, beyond it never
def test_rope_not_felt_this_time_says_when_it_was_or_that_it_never_was() -> None:
    root = chart(
        looked("old", 40, ("feel", 0, 400), ("eye-round", 0, 420)),
        looked("new", 1, ("feel", 0, 300), ("eye-round", 0, 420)),
    )
    day = AS_OF - timedelta(days=40)
    assert f"last {day.day} {day:%b %Y}, 40 days ago" in words(root)
    assert "never felt by hand" in words(root)
    assert sections(root, "feel") == [("6.200", "300.000")]
    assert sections(root, "feel-past") == [("300.000", "400.000")]
    assert sections(root, "feel-never") == [("400.000", "420.000")]
    assert placed(root, "eye-past") == placed(root, "eye-never") == []


def test_where_only_one_side_was_seen_it_says_when_all_round_was() -> None:
    root = chart(
        looked("old", 67, ("eye-round", 0, 420)),
        looked("new", 0, ("eye", 0, 420), ("feel", 0, 420)),
    )
    day = AS_OF - timedelta(days=67)
    assert f"one side; all round last {day.day} {day:%b %Y}, 67 days ago" in words(root)
    alone = chart(looked("new", 0, ("eye", 0, 420)))
    assert "one side, never all round" in words(alone)


def test_what_grease_hides_now_keeps_its_cause_and_says_when_it_was_seen() -> None:
    root = chart(
        looked("old", 32, ("eye-round", 0, 420)),
        looked("new", 1, ("eye-round", 0, 420), hidden=(HiddenSection(section=Section(118, 131)),)),
    )
    assert sections(root, "eye-past") == [("118.000", "131.000")]
    assert "grease" in words(root)
    assert any("32 days ago" in one for one in words(root))


def test_a_shift_check_after_it_shows_its_day_but_not_as_judged() -> None:
    """Coverage that is judged is the thorough inspection's; what came later is drawn apart."""
    root = chart(
        looked("new", 9, ("eye-round", 0, 200)), looked("shift", 1, ("eye", 150, 420), kind="shift")
    )
    assert sections(root, "eye-round") == [("6.200", "200.000")]
    assert sections(root, "eye-past") == [("200.000", "420.000")]
    assert any(one.endswith("1 day ago") for one in words(root))


def test_never_and_past_differ_without_colour() -> None:
    root = chart(looked("old", 40, ("feel", 0, 400)), looked("new", 1, ("feel", 0, 300)))
    (past,), (never,) = placed(root, "feel-past"), placed(root, "feel-never")
    assert all("url" not in one.get("fill", "") for one in past.iter(f"{SVG}rect"))
    assert any("url" in one.get("fill", "") for one in never.iter(f"{SVG}rect"))


@pytest.mark.parametrize("width", WIDTHS)
def test_a_patchwork_of_days_stays_legible_and_never_is_always_told(width: int) -> None:
    chance = random.Random(11)
    done = [
        looked(f"I{at}", 400 - at * 9, *(("feel", a, a + chance.uniform(1, 30))
               for a in sorted(chance.uniform(6, 380) for _ in range(6))))
        for at in range(40)
    ]  # fmt: skip
    root = chart(*done, width=width)
    nothing_overlaps(root)
    assert any("never" in one for one in words(root))


@pytest.mark.parametrize(
    ("days", "said"),
    [
        (-1, "today"), (0, "today"), (1, "1 day ago"), (99, "99 days ago"),
        (100, "about 3 months ago"), (302, "about 10 months ago"), (425, "about 14 months ago"),
        (730, "about 2.0 years ago"),
    ],
)  # fmt: skip
def test_how_long_ago(days: int, said: str) -> None:
    # by hand: 100 / 30.44 = 3.3, 302 / 30.44 = 9.9, 425 / 30.44 = 14.0, 730 / 365.25 = 2.0
    assert ago_words(days) == said


# --- trouble ----------------------------------------------------------------------------------


def spots(count: int, seed: int) -> list[TroubleSpot]:
    chance = random.Random(seed)
    items = ("flange points", "crossovers", "reverse bends", "rope over sheaves", "equaliser")
    made = []
    for at in range(count):
        start = chance.uniform(6.2, 415)
        length = chance.choice([0.2, 2, 40, 400])
        made.append(
            TroubleSpot(
                item=items[at % 5], words="as a list says", lists=(LISTED,),
                sections=(Section(start, min(start + length, 420.0)),),
            )
        )  # fmt: skip
    return made


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("width", WIDTHS)
def test_no_bar_and_no_name_of_a_row_lies_on_another(seed: int, width: int) -> None:
    frame = frame_for(width=width, shown=Section(0, 420))
    lane = trouble_lane(spots(5 + 4 * seed, seed), frame)
    assert lane is not None
    assert {bar.key for one in lane.entries for bar in one.bars} == {
        f"trouble/{at}" for at in range(5 + 4 * seed)
    }
    for row in range(lane.rows):
        here = [one for one in lane.entries if one.row == row]
        bars = sorted((bar.left, bar.right) for one in here for bar in one.bars)
        # neighbours of one kind may touch, and a bar is drawn three units wide at least
        assert all(a[1] <= b[0] + 6 for a, b in pairwise(bars))
    nothing_overlaps(chart(*sample.DOSSIER.inspections, width=width, trouble=spots(30, seed)))


def test_a_short_bar_is_not_hidden_by_its_name() -> None:
    frame = frame_for(width=1100, shown=Section(0, 215))
    lane = trouble_lane(
        [
            TroubleSpot(item="flange points", words="", sections=(Section(81, 82),)),
            TroubleSpot(item="flange points", words="", sections=(Section(123, 124),)),
            TroubleSpot(item="pick-up points", words="", sections=(Section(103, 103.5),)),
        ],
        frame,
    )
    assert lane is not None
    for one in lane.entries:
        for bar in one.bars:
            assert bar.right <= one.words_at or one.words_at + 60 <= bar.left


def test_what_has_no_place_is_named_and_what_is_missing_is_said() -> None:
    open_yet = TroubleSpot(item="hot places", words="near heat", lists=(LISTED,))
    said = words(chart(*sample.DOSSIER.inspections, trouble=(open_yet,)))
    assert "not placed on the chart: hot places" in said
    said = words(chart(*sample.DOSSIER.inspections, trouble="not known where: give the falls"))
    assert "not known where: give the falls" in said
    assert "Trouble spots" not in words(chart(*sample.DOSSIER.inspections))


def test_everything_that_can_be_chosen_has_a_key_without_blanks() -> None:
    root = chart(*sample.DOSSIER.inspections, trouble=spots(5, 1))
    flags = [one for one in placed(root) if "flag" in one.attrib["class"].split()]
    assert flags
    for one in (*flags, *placed(root, "trouble")):
        for key in one.attrib["data-keys"].split(" "):
            kind, _, name = key.partition("/")
            assert kind in ("finding", "mark", "ruling", "trouble")
            assert name
