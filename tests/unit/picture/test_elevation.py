"""Crane and drum drawings: legible at every width, placed, and true to the path."""

import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from ropewright.demo import demo_case
from ropewright.desk import judge
from ropewright.desk.planned import plan_for
from ropewright.geometry import MOTIONS, CranePosition, SeenAtPoint, locate
from ropewright.inspection import Dossier, hoist_on
from ropewright.intake import PackageShelf, load_case, read_case
from ropewright.picture.chart import rope_chart
from ropewright.picture.crane_shapes import shape_of
from ropewright.picture.drum_section import drum_section
from ropewright.picture.elevation import _places, crane_elevation, middle_of
from ropewright.picture.ink import IN_GREY, contrast
from ropewright.picture.plan_picture import plan_picture
from ropewright.picture.rope_line import Round, rope_line, tangent
from tests.unit.picture.svg import SVG, Box, colours, placed, text_boxes
from tests.unit.plan.cranes import CRANES, DAY, by_payout

SHELF = PackageShelf()
SHAFT = Path(__file__).parents[3] / "examples" / "shaft-hoist-spans.toml"
WIDTHS = (320, 390, 560, 720, 1100)


def demo() -> Dossier:
    return read_case(demo_case("KQ-1"), file="KQ-1", known_rules=SHELF.names()).dossier


KINDS: dict[str, Callable[[], Dossier]] = {
    **CRANES,
    "KQ-1": demo,
    "told piece by piece": lambda: load_case(SHAFT).dossier,
}


def picture(dossier: Dossier, width: int = 720) -> ET.Element:
    plan, _ = plan_for(dossier, SHELF, DAY, software="test")
    return ET.fromstring(plan_picture(dossier, plan, width_px=width))


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("kind", KINDS)
def test_no_two_words_overlap_and_none_leaves_the_paper(kind: str, width: int) -> None:
    root = picture(KINDS[kind](), width)
    boxes = boxes_of(root)
    clashes = [
        (one.words, other.words)
        for at, one in enumerate(boxes)
        for other in boxes[at + 1 :]
        if one.overlaps(other)
    ]
    assert not clashes
    height = float(root.attrib["height"])
    assert not [
        one.words
        for one in boxes
        if one.left < 0 or one.right > width + 1 or one.top < 0 or one.bottom > height
    ]


def boxes_of(root: ET.Element) -> list[Box]:
    """Room of all words; those of the crane lie in a group that is moved down as a whole."""
    crane = next(group for group in root.iter(f"{SVG}g") if group.get("class") == "crane")
    moved = re.fullmatch(r"translate\(0 ([\d.]+)\)", crane.attrib["transform"])
    assert moved
    down = float(moved[1])
    inside = [
        one._replace(top=one.top + down, bottom=one.bottom + down) for one in text_boxes(crane)
    ]
    root.remove(crane)
    return inside + text_boxes(root)


def test_findings_marks_and_rope_carry_their_place() -> None:
    root = picture(demo())
    findings = {round(float(one.attrib["data-rope-m"]), 1) for one in placed(root, "finding")}
    # the demo's own places: five findings and mark 7
    assert findings == {60.0, 180.0, 296.1, 296.4, 298.2, 380.0}
    (rope,) = placed(root, "rope")
    assert float(rope.attrib["data-rope-m"]) == 0.0
    arrows = placed(root, "safe-direction")
    assert len(arrows) == 2
    for one in (*placed(root), *arrows):
        title = one.find(f"{SVG}title")
        assert title is not None
        assert title.text


def test_words_stand_for_the_picture() -> None:
    root = picture(demo())
    assert root.get("role") == "img"
    desc = root.find(f"{SVG}desc")
    assert desc is not None
    assert "run the hook up" in (desc.text or "")
    assert "Invented data" in (desc.text or "")


def test_the_drum_shows_which_wrap_a_finding_lies_in() -> None:
    text = drum_section(demo(), DAY)
    # by hand: 123.9 m from the clamp; 38 wraps of 1.5721 m and 38 of 1.6874 m end at 123.86 m
    assert "2026-11-A, layer 3, wrap 1" in text
    assert "motor-side flange" in text


def test_every_wrap_is_drawn() -> None:
    root = ET.fromstring(drum_section(demo(), DAY))
    drum = next(group for group in root.iter(f"{SVG}g") if group.get("class") == "drum")
    rings = [one for one in drum if one.tag == f"{SVG}circle"]
    assert len(rings) == 5 * 38  # by hand: five layers of 38 wraps


def test_the_hook_moves_with_its_height() -> None:
    low = crane_elevation(demo(), DAY, position=CranePosition(hook_m=0.0, radius_m=30.0))
    high = crane_elevation(demo(), DAY, position=CranePosition(hook_m=165.0, radius_m=30.0))
    assert low != high
    # with the hook down almost all rope is off the drum: only what the drum never gives is on it
    assert "On the drum with the crane as drawn" not in low
    assert "On the drum with the crane as drawn" in high


def test_with_little_known_the_path_is_laid_out_flat() -> None:
    text = crane_elevation(by_payout(), DAY)
    assert "no more of the crane is known" in text


def test_a_grey_picture_has_greys_only_and_its_words_can_be_read() -> None:
    used = colours(crane_elevation(demo(), DAY, print_grey=True))
    assert used
    assert all(one[1:3] == one[3:5] == one[5:7] for one in used)
    assert contrast(IN_GREY.soft, IN_GREY.paper) > 4.5  # WCAG 2.2, 1.4.3; from memory


# --- The drawn rope ---------------------------------------------------------------------------


@pytest.mark.parametrize("turn", [1, -1])
@pytest.mark.parametrize("other_turn", [1, -1])
def test_a_tangent_touches_both_circles(turn: int, other_turn: int) -> None:
    """By hand: the radius to the point of touch stands upright on the tangent."""
    one = Round(name="one", x=10, y=20, r=7, turn=turn)
    other = Round(name="other", x=90, y=50, r=15, turn=other_turn)
    start, end = tangent(one, other)
    along = (end[0] - start[0], end[1] - start[1])
    for circle, touch in ((one, start), (other, end)):
        radius = (touch[0] - circle.x, touch[1] - circle.y)
        assert math.hypot(*radius) == pytest.approx(circle.r)
        assert radius[0] * along[0] + radius[1] * along[1] == pytest.approx(0.0, abs=1e-9)
        # a circle on which the rope turns left lies to its left; y points down
        left = along[0] * (circle.y - touch[1]) - along[1] * (circle.x - touch[0])
        assert (left < 0) == (circle.turn > 0)


def test_a_place_half_way_is_drawn_half_way() -> None:
    line = rope_line(
        [Round(name="end A", x=100, y=0), Round(name="drum", x=0, y=0)], [(0, 0), (8, 8)]
    )
    assert line.at(4.0) == pytest.approx((50, 0))
    assert line.at(99.0) == pytest.approx((0, 0))
    assert line.heading(4.0) == pytest.approx((-1, 0))


# --- Below the rope chart, and paths told piece by piece --------------------------------------


def with_crane(dossier: Dossier, width: int) -> ET.Element:
    assessment = judge(dossier, SHELF, DAY, software="test")
    return ET.fromstring(rope_chart(dossier, assessment, width_px=width, crane=True))


@pytest.mark.parametrize("width", WIDTHS)
def test_crane_and_drum_stand_below_the_chart_where_the_path_is_known(width: int) -> None:
    root = with_crane(demo(), width)
    assessment = judge(demo(), SHELF, DAY, software="test")
    alone = ET.fromstring(rope_chart(demo(), assessment, width_px=width))
    assert float(root.attrib["height"]) > float(alone.attrib["height"]) + 300
    kinds = {one.attrib.get("class") for one in root.iter(f"{SVG}g")}
    assert {"crane", "drum"} <= kinds
    boxes = boxes_of(root)
    clashes = [
        (one.words, other.words)
        for at, one in enumerate(boxes)
        for other in boxes[at + 1 :]
        if one.overlaps(other)
    ]
    assert not clashes


def test_nothing_is_drawn_below_the_chart_where_no_rigging_is_known() -> None:
    bare = replace(demo(), rigging=())
    assessment = judge(bare, SHELF, DAY, software="test")
    assert rope_chart(bare, assessment, crane=True) == rope_chart(bare, assessment)


def test_a_path_told_piece_by_piece_is_drawn_in_its_order() -> None:
    """By hand: from end A on the right to the drum on the left, the block below the rest."""
    dossier = load_case(SHAFT).dossier
    rigged = hoist_on(dossier, DAY)
    at = CranePosition(hook_m=-20.0)
    shape = shape_of(rigged.hoist, at, width=720, height=392)
    names = [one.name for one in shape.rounds]
    assert names == [
        "end A", "block sheave", "head sheave", "back leg sheave", "foot sheave", "drum"
    ]  # fmt: skip
    places = [one.x for one in shape.rounds]
    assert places == sorted(places, reverse=True)
    block = shape.rounds[1]
    assert all(one.y < block.y for one in shape.rounds if one is not block)


@pytest.mark.parametrize("name", ["KQ-1", "KQ-1-trolley", "KQ-2", "KQ-2-luffing", "KQ-4", "KQ-5"])
def test_an_arrow_points_where_the_rope_runs_and_stands_only_where_it_may(name: str) -> None:
    """Second formulation: the place in front of a person is located before and after the motion."""
    dossier = read_case(demo_case(name), file=name, known_rules=SHELF.names()).dossier
    plan, _ = plan_for(dossier, SHELF, DAY, software="test")
    rigged = hoist_on(dossier, DAY)
    position = middle_of(rigged.hoist)
    points = {one.name: one.point for one in rigged.rigging.points}
    for standing in _places(rigged, position, plan):
        if "no safe direction" in standing.words:
            assert standing.motion is None, standing.words
        if standing.motion is None:
            continue
        axis, (rising, _) = next(
            (axis, both) for axis, both in MOTIONS.items() if standing.motion in both
        )
        point = points[standing.words.split(":")[0]]
        assert point is not None
        step = 0.5 if standing.motion == rising else -0.5
        moved = replace(position, **{axis: (position.value(axis) or 0.0) + step})
        before, after = (
            locate(SeenAtPoint(point=point, position=at), rigged.hoist).at_m
            for at in (position, moved)
        )
        # Rope that runs towards the drum brings rope nearer to end A in front of the person.
        assert standing.towards_drum == (after < before), standing.words
