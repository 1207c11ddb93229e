"""The sheet of a plan on paper: one page to take along, drawings on its back."""

import re
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from ropewright.demo import demo_case
from ropewright.desk.planned import plan_for
from ropewright.inspection import Dossier
from ropewright.intake import PackageShelf, load_case, read_case
from ropewright.paper import plan_pdf
from tests.unit.paper.pdf import Pdf
from tests.unit.plan.cranes import CRANES, DAY, trolley_jib

SHELF = PackageShelf()
SHAFT = Path(__file__).parents[3] / "examples" / "shaft-hoist-spans.toml"


def demo() -> Dossier:
    return read_case(demo_case("KQ-1"), file="KQ-1", known_rules=SHELF.names()).dossier


def sheet(dossier: Dossier, on: date = DAY) -> bytes:
    plan, assessment = plan_for(dossier, SHELF, on, software="test")
    return plan_pdf(dossier, plan, assessment)


KINDS: dict[str, Callable[[], Dossier]] = {
    **CRANES,
    "KQ-1": demo,
    "shaft": lambda: load_case(SHAFT).dossier,
}


@pytest.mark.parametrize("kind", KINDS)
def test_all_words_stand_on_one_page_and_the_drawings_on_its_back(kind: str) -> None:
    pages = Pdf(sheet(KINDS[kind]())).pages
    assert len(pages) == 2
    for words in ("Passes", "Not covered", "Cautions", "Order of the work", "person decides"):
        assert words in pages[0]
    assert "Where it is" in pages[1]
    assert all("Invented data" in page for page in pages)


def test_the_page_says_hand_off_direction_and_what_to_find_again() -> None:
    page = " ".join(Pdf(sheet(demo())).pages[0].split())
    assert "51.0 m: 295.1–297.7 m, 2026-11-A: protruding wires" in page
    assert "runs away from the root sheave" in page
    assert "2026-11-A" in page
    assert "mark 7" in page
    assert "Remove from service, on hold" in page


@pytest.mark.parametrize("name", ["KQ-1", "KQ-2", "KQ-2-luffing", "KQ-3"])
def test_every_caution_of_going_out_and_of_a_rope_that_holds_the_jib_is_printed(name: str) -> None:
    dossier = read_case(demo_case(name), file=name, known_rules=SHELF.names()).dossier
    plan, assessment = plan_for(dossier, SHELF, DAY, software="test")
    pages = Pdf(plan_pdf(dossier, plan, assessment)).pages
    assert len(pages) == 2
    page = re.sub(r"\s", "", pages[0])
    near_rope = [one for one in plan.steps if "pass" in one.title]
    cautions = {words for one in near_rope for words in one.cautions}
    assert any("anyone goes out" in words or "holds the jib" in words for words in cautions)
    for words in cautions:
        if not words.startswith("HAND OFF"):
            assert re.sub(r"\s", "", words) in page, words


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert sheet(trolley_jib()) == sheet(trolley_jib())


def test_many_marks_stay_on_one_page_and_what_is_left_out_is_said() -> None:
    marks = "".join(
        f'\n[[mark]]\nname = "{number}"\nat = "{10 + 3 * number} m"\n'
        f'made_of = "paint of a long and careful description, number {number}"\n'
        for number in range(30)
    )
    pages = Pdf(sheet(trolley_jib(more=marks))).pages
    assert "Order of the work" in pages[0]
    assert "Where it is" in pages[1]
    assert "22 more places to find again" in " ".join(pages[0].split())


def test_no_verdict_of_the_forbidden_kind() -> None:
    said = " ".join(" ".join(Pdf(sheet(demo())).pages).split())
    said = said.replace("no safe direction", "")  # the only use: of a direction, not of a rope
    assert not re.search(r"\b(safe|fit|safely)\b", said, re.IGNORECASE)
