"""One cluster close up: breaks at their offsets and strands, windows to scale."""

import xml.etree.ElementTree as ET
from dataclasses import replace
from fractions import Fraction

import pytest

from ropewright.errors import UnknownNameError
from ropewright.geometry import Section
from ropewright.inspection import BREAK_SITES, BreakGroup, BrokenWires
from ropewright.picture import close_up
from ropewright.rules.ruling import Found
from tests.unit.paper import sample
from tests.unit.picture.svg import SVG, placed, text_boxes
from tests.unit.picture.test_chart import crowded


def picture(finding_id: str = "F1", width: int = 720) -> ET.Element:
    return ET.fromstring(close_up(sample.DOSSIER, sample.ASSESSMENT, finding_id, width_px=width))


def words(root: ET.Element) -> list[str]:
    return [one.text or "" for one in root.iter(f"{SVG}text")]


def test_every_break_is_placed() -> None:
    # by hand: the cluster lies at 287.1 m; its groups begin at these offsets [mm]
    at = [float(one.attrib["data-rope-m"]) for one in placed(picture(), "break")]
    assert sorted(at) == pytest.approx([287.1, 287.118, 287.141, 287.155, 287.26, 287.48])


def test_strands_are_lanes() -> None:
    said = words(picture())
    assert [one for one in said if one.startswith("strand")] == [
        "strand 3", "strand 4", "strand 9", "strand 11",
    ]  # fmt: skip
    assert "strand not noted" in words(picture("F2"))


def test_windows_are_drawn_to_scale() -> None:
    root = picture()
    lengths = {}
    for one in placed(root, "window"):
        path = next(one.iter(f"{SVG}path")).attrib["d"]
        length = float(one.attrib["data-rope-to-m"]) - float(one.attrib["data-rope-m"])
        drawn = float(path.split("h")[1].split("v")[0])
        lengths[round(length * 1000)] = drawn
    # by hand: 6 d = 6 × 20 mm, 30 d = 30 × 20 mm; five times as long on paper too
    assert set(lengths) == {120, 600}
    assert lengths[600] / lengths[120] == pytest.approx(5, rel=1e-3)


def test_counts_and_limits_are_written_in() -> None:
    said = words(picture())
    assert "6 d = 120 mm: 5 broken wires" in said
    assert "29 CFR 1926.1413: limit 2 reached · ISO 4309:2017: limit 3 reached" in said
    assert "30 d = 600 mm: 7 broken wires" in said
    assert "×2" in said


def test_an_uncertain_count_is_written_as_one() -> None:
    said = words(picture("F2"))
    assert any("1 to 2 broken wires" in one for one in said)
    assert any("cannot be judged" in one for one in said)


@pytest.mark.parametrize("width", [320, 390, 720, 1100])
@pytest.mark.parametrize("finding_id", ["F1", "F2", "F3"])
def test_no_two_labels_overlap(finding_id: str, width: int) -> None:
    boxes = text_boxes(picture(finding_id, width))
    for at, one in enumerate(boxes):
        assert not [other for other in boxes[:at] if one.overlaps(other)], one
        assert one.left >= 0
        assert one.right <= width + 1


def test_labels_keep_apart_in_a_crowd() -> None:
    case = crowded()
    name = next(
        one.finding_id for one in case[0].inspections[-1].findings if isinstance(one, BrokenWires)
    )
    boxes = text_boxes(ET.fromstring(close_up(*case, name)))
    assert not [(a, b) for at, a in enumerate(boxes) for b in boxes[:at] if a.overlaps(b)]


def test_each_kind_of_break_has_its_own_sign() -> None:
    groups = tuple(
        BreakGroup(from_mm=Fraction(at), to_mm=Fraction(at), count=1, strand=1, site=site)
        for at, site in zip((0, 60, 120, 180), BREAK_SITES, strict=True)
    )
    cluster = BrokenWires(finding_id="S", place=sample.place(50), groups=groups)
    text = close_up(sample.with_findings(cluster), sample.ASSESSMENT, "S")
    said = " ".join(words(ET.fromstring(text)))
    for name in ("crown break", "valley break", "break at an end", "site not noted"):
        assert name in said


def test_a_window_elsewhere_does_not_stretch_the_picture() -> None:
    far = replace(sample.RULINGS[0], ruling_id="far", section=Section(20, 20.12))
    assessment = replace(sample.ASSESSMENT, rulings=(*sample.RULINGS, far))
    root = ET.fromstring(close_up(sample.DOSSIER, assessment, "F1"))
    assert len(placed(root, "window")) == 2


def test_a_limit_that_is_passed_only_by_more_says_so() -> None:
    ruling = replace(
        sample.RULINGS[0], compare="more than",
        found=Found(lower=Fraction(5), upper=Fraction(5), unit="broken wires"),
    )  # fmt: skip
    assessment = replace(sample.ASSESSMENT, rulings=(ruling,))
    root = ET.fromstring(close_up(sample.DOSSIER, assessment, "F1"))
    assert "29 CFR 1926.1413: limit more than 2 reached" in words(root)


@pytest.mark.parametrize("name", ["F4", "nothing", ""])
def test_what_is_no_cluster_is_refused_by_name(name: str) -> None:
    with pytest.raises(UnknownNameError, match="a cluster of broken wires"):
        close_up(sample.DOSSIER, sample.ASSESSMENT, name)
