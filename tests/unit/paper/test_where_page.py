"""The report's page 'Where it is': crane, drum, and how each finding comes back."""

from dataclasses import replace
from datetime import date

import pytest

from ropewright.demo import demo_case
from ropewright.desk import judge
from ropewright.inspection import Dossier
from ropewright.intake import PackageShelf, read_case
from ropewright.paper import report_pdf
from ropewright.paper.facts import facts_of
from ropewright.paper.where_page import where_page
from tests.unit.paper.pdf import Pdf
from tests.unit.plan.cranes import by_payout, twin_drum

SHELF = PackageShelf()
DAY = date(2026, 11, 10)


def demo() -> Dossier:
    return read_case(demo_case("KQ-1"), file="KQ-1", known_rules=SHELF.names()).dossier


def report(dossier: Dossier) -> list[str]:
    assessment = judge(dossier, SHELF, DAY, software="test")
    made = report_pdf(
        dossier, assessment, json_record=b"{}", file_note="test", seal=None, made_on=DAY
    )
    return [" ".join(page.split()) for page in Pdf(made).pages]


def test_the_page_is_there_where_the_path_is_known() -> None:
    (page,) = [one for one in report(demo()) if "Where it is" in one]
    assert "To find it again" in page
    assert "tower head platform" in page
    assert "look at the rope before you rely on them" in page


def test_the_crane_stands_where_the_finding_that_governs_is_in_front_of_a_person() -> None:
    """By hand, from the plan of KQ-1: 2026-11-A comes to the tower head with the hook at 50 m."""
    facts = facts_of(demo(), judge(demo(), SHELF, DAY, software="test"))
    page = where_page(facts)
    assert "drawn with hook 50.0 m" in page.pictures["crane.svg"]
    assert "drawn with hook 50.0 m" in page.pictures["drum.svg"]
    assert 'class="safe-direction"' in page.pictures["crane.svg"]


def test_no_direction_is_given_for_a_hand_where_wires_stand_out() -> None:
    """KQ-1: protruding wires at 296.4 m ± 1 m; the diameter read there and mark 7 lie in it too."""
    facts = facts_of(demo(), judge(demo(), SHELF, DAY, software="test"))
    made = where_page(facts).table
    assert made is not None
    said = {row[0][0]["t"]: row[-1][0]["t"] for row in made["rows"]}
    for name in ("2026-11-A", "2026-11-D", "mark 7"):
        assert said[name].startswith("HAND OFF: 2026-11-A: protruding wires"), name
    assert "run the hook up" in said["2026-11-E"]


@pytest.mark.parametrize("name", ["KQ-1-trolley", "KQ-2-luffing"])
def test_where_no_direction_is_worked_out_the_rope_must_be_stopped(name: str) -> None:
    """Trolley or jib run that rope past the place: 'at rest' is an order, not what it does."""
    dossier = read_case(demo_case(name), file=name, known_rules=SHELF.names()).dossier
    made = where_page(facts_of(dossier, judge(dossier, SHELF, DAY, software="test"))).table
    assert made is not None
    said = {row[-1][0]["t"] for row in made["rows"]}
    assert "rope at rest only, crane stopped and isolated" in said
    assert "rope at rest" not in said


@pytest.mark.parametrize(
    ("dossier", "words"),
    [
        (by_payout(), "of the path only falls and hook heights are known"),
        (replace(demo(), rigging=()), "not drawn: rigging"),
    ],
)
def test_what_is_not_drawn_is_said(dossier: Dossier, words: str) -> None:
    pages = report(dossier)
    assert all("Where it is" not in page for page in pages)
    assert any(words in page for page in pages)


def test_a_rope_without_findings_still_shows_its_path() -> None:
    facts = facts_of(twin_drum(), judge(twin_drum(), SHELF, DAY, software="test"))
    page = where_page(facts)
    assert set(page.pictures) == {"crane.svg", "drum.svg"}
    assert page.table is not None
    assert page.table["empty"] == "No finding and no mark is on this rope."
