"""The field card: its published form, its limits, what it says when little is known."""

import json
import re
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from ropewright.card import GOOD_FOR_DAYS, FieldCard, card_as_data, card_schema
from ropewright.demo import demo_case, demo_names
from ropewright.desk.carding import card_for
from ropewright.inspection import Dossier, Event
from ropewright.intake import PackageShelf, read_case
from tests.unit.plan.cranes import CRANES

DAY = date(2026, 11, 10)
DOCS = Path(__file__).parents[3] / "docs"
SHELF = PackageShelf()


@cache
def demo(name: str) -> Dossier:
    return read_case(demo_case(name), file=name, known_rules=SHELF.names()).dossier


def made(dossier: Dossier, **more: Any) -> FieldCard:
    return card_for(dossier, SHELF, DAY, software="tests", **more)


@cache
def demo_card(name: str) -> FieldCard:
    return made(demo(name))


def limit(data: dict[str, Any], name: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in data["limits"] if one["id"] == name)
    return found


@pytest.fixture(scope="module")
def kq1() -> dict[str, Any]:
    return card_as_data(demo_card("KQ-1"))


def test_the_published_schema_is_the_one_that_holds() -> None:
    text = (DOCS / "field-card.schema.json").read_text(encoding="utf-8")
    assert json.loads(text) == card_schema()


def test_cards_of_all_demo_ropes_and_all_kinds_of_crane_fit_the_schema() -> None:
    check = jsonschema.Draft202012Validator(card_schema())
    cards = [demo_card(name) for name in demo_names()]
    for card in [*cards, *(made(make()) for make in CRANES.values())]:
        data = json.loads(json.dumps(card_as_data(card)))
        problems = sorted(check.iter_errors(data), key=lambda one: one.json_path)
        assert not [f"{one.json_path}: {one.message[:200]}" for one in problems]


def test_the_schema_refuses_a_card_with_a_limit_as_a_number(kq1: dict[str, Any]) -> None:
    wrong = json.loads(json.dumps(kq1))
    limit(wrong, "us-29cfr-1926-1413/rr-breaks-6d")["limit"]["single"]["value"] = 2
    check = jsonschema.Draft202012Validator(card_schema())
    assert not check.is_valid(wrong)


def test_limits_stand_there_as_numbers_of_this_rope(kq1: dict[str, Any]) -> None:
    """Published: 29 CFR 1926.1413(a)(2)(ii)(A)(2), two in 6 d and four in 30 d; 20 mm rope."""
    six = limit(kq1, "us-29cfr-1926-1413/rr-breaks-6d")
    thirty = limit(kq1, "us-29cfr-1926-1413/rr-breaks-30d")
    assert (six["limit"]["single"]["value"], six["longest_mm"], six["compare"]) == (
        "2", "120", "reached",
    )  # fmt: skip
    assert (thirty["limit"]["single"]["value"], thirty["longest_mm"]) == ("4", "600")
    loss = limit(kq1, "us-29cfr-1926-1413/diameter")  # published: more than 5 % of nominal
    assert (loss["limit"], loss["unit"], loss["compare"], loss["of_mm"]) == (
        "5", "%", "more than", "20",
    )  # fmt: skip


def test_a_wave_limit_that_does_not_end_is_shown_rounded_down(kq1: dict[str, Any]) -> None:
    """By hand: 20 / 3 = 6.66…; the exact ratio is compared, the words lean to safety."""
    wave = limit(kq1, "iso-4309-2017/wave-straight")
    assert wave["limit_mm"] == "20/3"
    assert "6.66 mm or more" in wave["words"]


def test_what_needs_the_office_is_listed_with_its_reason(kq1: dict[str, Any]) -> None:
    ids = {one["id"]: one["why"] for one in kq1["office"]}
    assert "iso-4309-2017/combined" in ids
    assert all(ids.values())
    bare = demo("KQ-1")
    bare = replace(bare, installation=replace(bare.installation, reference=None))
    office = {one["id"] for one in card_as_data(made(bare))["office"]}
    assert "iso-4309-2017/diameter-uniform" in office  # no reference diameter


def test_last_time_brings_its_course_and_the_way_back(kq1: dict[str, Any]) -> None:
    cluster = next(one for one in kq1["findings"] if one["id"] == "2026-11-A")
    assert [(one["on"], one["value"]) for one in cluster["course"]] == [
        ("2026-10-09", "1"), ("2026-11-09", "5"),
    ]  # fmt: skip
    assert any(one["place"] == "tower head platform" for one in cluster["reaches"])


def test_open_holds_and_what_the_last_shift_leaves_open_are_on_the_card() -> None:
    dossier = demo("KQ-1")
    event = Event(event_id="E9", kind="shock load", on=DAY, remark="load snagged on a scaffold")
    later = Event(event_id="E10", kind="overload", on=DAY + timedelta(days=1))
    dossier = replace(dossier, events=(*dossier.events, event, later))
    data = card_as_data(made(dossier, told=("lower limit switch bridged",), book_head="ab12"))
    assert f"shock load on {DAY.isoformat()}: load snagged on a scaffold" in data["holds"]
    assert not any("overload" in one for one in data["holds"])  # has not happened yet
    assert data["told"] == ["lower limit switch bridged"]
    assert data["book_head"] == "ab12"


def test_the_card_grows_old() -> None:
    card = demo_card("KQ-1")
    assert card.made_on == DAY
    assert card.expires_on == DAY + timedelta(days=GOOD_FOR_DAYS)


def test_little_is_enough_for_a_card_and_it_says_what_is_missing() -> None:
    dossier = replace(demo("KQ-1"), rigging=())
    data = card_as_data(made(dossier))
    assert data["plan"] is None
    assert "rigging" in data["plan_missing"]
    assert data["place_maps"] == []
    assert limit(data, "us-29cfr-1926-1413/rr-breaks-6d")["limit"]["single"]["value"] == "2"


def test_a_grave_verdict_is_the_first_caution() -> None:
    cautions = demo_card("KQ-1").cautions
    assert cautions[0].sign == "hold"
    assert "nothing is lifted" in cautions[0].words
    luffing = [one.sign for one in demo_card("KQ-2-luffing").cautions]
    assert "jib" in luffing


def test_no_caution_calls_anything_safe_or_fit() -> None:
    for name in demo_names():
        words = json.dumps(card_as_data(demo_card(name))["cautions"])
        assert not re.search(r"\b(safe|fit)\b", words, re.IGNORECASE)


def test_every_pass_says_which_way_the_rope_may_run(kq1: dict[str, Any]) -> None:
    runs = [one for one in kq1["plan"]["passes"] if one["how"] == "run"]
    assert runs
    assert all(one["direction"]["words"] for one in runs)
    hand = [one for one in runs if one["method"] == "feel"]
    assert all(one["direction"]["hand"] for one in hand)
    assert any(one["hands_off"] for one in hand)  # broken wires that stand out are known


def test_where_no_hand_may_lie_is_said_by_what_the_crane_shows() -> None:
    """A luffing crane's operator reads an angle, not metres of rope: by the plan's own words."""
    data = card_as_data(demo_card("KQ-2-luffing"))
    off = [each for one in data["plan"]["passes"] for each in one["hands_off"]]
    assert off
    assert all(re.fullmatch(r"jib [\d.]+ to [\d.]+ deg", one["crane"]) for one in off)


def test_a_place_where_wires_stand_out_says_so(kq1: dict[str, Any]) -> None:
    """As the plan has it: mark 7 lies within its error of the wires of 2026-11-A."""
    assert [one["hand_off"] for one in kq1["marks"]] == ["2026-11-A: protruding wires"]
    off = {one["id"]: bool(one["hand_off"]) for one in kq1["findings"]}
    assert off["2026-11-A"]
    assert not all(off.values())
    assert {"birdcage", "wire loops", "broken strand"} <= set(kq1["lists"]["stands_out"])


def test_measured_values_are_exact_text(kq1: dict[str, Any]) -> None:
    reading = next(one for one in kq1["findings"] if one["id"] == "2026-11-B")
    assert [Fraction(one) for one in reading["readings_mm"]] == [
        Fraction("20.25"), Fraction("20.15"),
    ]  # fmt: skip
