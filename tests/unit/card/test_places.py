"""Place maps and the drum on the card, read by the phone's own code, against the geometry.

Expected: the path model itself (`locate`, `on_drum`), asked at places the map has no point at.
Tolerance of a place: 5 mm, what a map may cost at most by its own statement.
"""

import random
from typing import Any

import pytest

from ropewright.card import card_as_data
from ropewright.demo import demo_case
from ropewright.desk.carding import card_for
from ropewright.errors import InputError
from ropewright.geometry import (
    AXES,
    CranePosition,
    Flange,
    RopePlace,
    SeenAtPoint,
    SeenFromMark,
    SeenOnDrum,
    drum_metres,
    locate,
    on_drum,
)
from ropewright.inspection import Dossier, hoist_on
from ropewright.intake import PackageShelf, read_case
from ropewright.plan import on_path, places_of
from tests.unit.card.in_node import run_module
from tests.unit.plan.cranes import CRANES, DAY

MAP_M = 0.005
SEEN: tuple[tuple[Flange, float | None], ...] = (("clamp", 0.25), ("far", None))

SCRIPT = """
import { bringTo, onDrum, placeAt, placeFromMark, placeOnDrum } from "@field/places.js";

const answers = {
  at: ({ card, map, position, taped }) => placeAt(card, card.place_maps[map], position, taped),
  drum: ({ card, drum, seen }) => placeOnDrum(card, card.drums[drum], seen),
  wound: ({ card, place }) => onDrum(card, place),
  mark: ({ card, mark, offset }) => placeFromMark(card, mark, offset),
  bring: ({ card, map, rope, others }) => bringTo(card, card.place_maps[map], rope, others),
};

function main({ cards, questions }) {
  return questions.map(({ ask, card, ...rest }) => {
    try {
      return answers[ask]({ card: cards[card], ...rest });
    } catch (problem) {
      return { refused: problem.why ?? String(problem) };
    }
  });
}
"""
#: Every kind of crane, and the demo's rope that was cut twice and turned.
DOSSIERS = {name: make() for name, make in CRANES.items()} | {
    "KQ-3": read_case(demo_case("KQ-3"), file="KQ-3").dossier
}
CARDS = {
    name: card_as_data(card_for(dossier, PackageShelf(), DAY, software="tests"))
    for name, dossier in DOSSIERS.items()
}


def ask(questions: list[dict[str, Any]]) -> list[Any]:
    answers: list[Any] = run_module(SCRIPT, {"cards": CARDS, "questions": questions})
    return answers


def positions(dossier: Dossier, chance: random.Random, many: int) -> list[dict[str, float]]:
    hoist = hoist_on(dossier, DAY).hoist
    bounds = {axis: hoist.travel.range_of(axis) for axis in AXES if axis in hoist.reeving.axes}
    return [
        {axis: chance.uniform(*both) for axis, both in bounds.items() if both is not None}
        for _ in range(many)
    ]


def rope_of(dossier: Dossier, path_m: float) -> float:
    path = dossier.history.at(DAY)
    return path.last_rope_m - path_m if path.turned else path.first_rope_m + path_m


def test_maps_agree_with_the_geometry_between_their_points() -> None:
    chance = random.Random(7)
    questions: list[dict[str, Any]] = []
    expected: list[tuple[str, float, float, float] | None] = []
    for name, dossier in DOSSIERS.items():
        rigged = hoist_on(dossier, DAY)
        points = {one.name: one.point for one in places_of(rigged)}
        for number, one in enumerate(CARDS[name]["place_maps"]):
            point = points[one["point"]]
            if point is None:
                continue
            for position in positions(dossier, chance, 60):
                seen = SeenAtPoint(point=point, position=CranePosition(**position))
                questions.append({"ask": "at", "card": name, "map": number, "position": position})
                try:
                    place = locate(seen, rigged.hoist)
                except InputError:
                    expected.append(None)
                    continue
                made = (name, rope_of(dossier, place.at_m), place.abs_err_m, place.rel_err_m)
                expected.append(made)
    known = refused = 0
    for question, answer, wanted in zip(questions, ask(questions), expected, strict=True):
        if wanted is None:
            refused += "refused" in answer
            continue
        known += 1
        assert "refused" not in answer, (question, answer, wanted)
        assert answer["at_m"] == pytest.approx(wanted[1], abs=MAP_M), question
        assert answer["abs_err_m"] == pytest.approx(wanted[2], abs=0.02), question
        assert answer["rel_err_m"] == pytest.approx(wanted[3], abs=0.02), question
    assert known > 200
    assert refused == sum(1 for one in expected if one is None)


def test_every_place_where_a_person_can_be_has_a_map_or_a_reason() -> None:
    for name, dossier in DOSSIERS.items():
        card = CARDS[name]
        names = {one["point"] for one in card["place_maps"]}
        names |= {one["place"] for one in card["not_mapped"]}
        assert names == {one.name for one in places_of(hoist_on(dossier, DAY))}, name


def test_drum_places_both_ways() -> None:
    questions: list[dict[str, Any]] = []
    expected: list[Any] = []
    for name, dossier in DOSSIERS.items():
        rigged = hoist_on(dossier, DAY)
        if not CARDS[name]["drums"]:
            continue
        for number, one in enumerate(CARDS[name]["drums"]):
            for layer in one["layers"]:
                for wrap in (1, 2, int(layer["wraps"])):
                    for flange, part in SEEN:
                        seen = SeenOnDrum(
                            layer=layer["layer"], wrap=wrap, part=part,
                            counted_from=flange, side=one["side"],
                        )  # fmt: skip
                        said = {"layer": layer["layer"], "wrap": wrap}
                        said |= {"flange": flange, "part": part}
                        try:
                            place = locate(seen, rigged.hoist)
                        except InputError:
                            continue  # more wraps than there is rope for
                        questions.append(
                            {"ask": "drum", "card": name, "drum": number, "seen": said}
                        )
                        expected.append((dossier, rigged.hoist, place))
    answers = ask(questions)
    again = [
        {"ask": "wound", "card": question["card"], "place": answer}
        for question, answer in zip(questions, answers, strict=True)
    ]
    for answer, back, (dossier, hoist, place) in zip(answers, ask(again), expected, strict=True):
        assert answer["at_m"] == pytest.approx(rope_of(dossier, place.at_m), abs=1e-6)
        assert answer["rel_err_m"] == pytest.approx(place.rel_err_m, abs=1e-6)
        assert answer["abs_err_m"] >= place.abs_err_m - 0.05  # the widest of the layer is taken
        wound = on_drum(place, hoist)
        assert (back["layer"], back["wrap"], back["side"]) == (wound.layer, wound.wrap, wound.side)
        assert (back["from_clamp"], back["from_far"]) == (
            wound.wrap_from_clamp, wound.wrap_from_far,
        )  # fmt: skip
        # a full turn and none are the same line
        assert (back["part"] - wound.part + 0.5) % 1 - 0.5 == pytest.approx(0, abs=1e-6)
    assert len(questions) > 20


def test_the_turned_rope_is_among_them() -> None:
    assert CARDS["KQ-3"]["service"]["turned"] is True
    assert CARDS["KQ-3"]["service"]["from_m"] > 0


@pytest.mark.parametrize("name", ["trolley-jib", "KQ-3"])
def test_a_place_from_a_mark(name: str) -> None:
    dossier = DOSSIERS[name]
    mark = {"at_m": 90.0, "abs_err_m": 0.8, "rel_err_m": 0.2}
    offsets = [2.1, -3.5, 0.0]
    asked = [{"ask": "mark", "card": name, "mark": mark, "offset": one} for one in offsets]
    place = on_path(RopePlace(**mark), dossier.history.at(DAY))
    assert place is not None
    for offset, answer in zip(offsets, ask(asked), strict=True):
        wanted = locate(SeenFromMark(mark=place, offset_m=offset), hoist_on(dossier, DAY).hoist)
        assert answer["at_m"] == pytest.approx(rope_of(dossier, wanted.at_m), abs=1e-9)
        assert answer["rel_err_m"] == pytest.approx(wanted.rel_err_m, abs=1e-9)


def test_bringing_back_a_place_gives_the_height_it_was_read_at() -> None:
    """By hand: reading a map one way and then back must come out where it began."""
    chance = random.Random(3)
    asked: list[dict[str, Any]] = []
    for name, dossier in DOSSIERS.items():
        for number, one in enumerate(CARDS[name]["place_maps"]):
            if one["kind"] == "run" and any(axis["axis"] == "hook_m" for axis in one["axes"]):
                asked += [
                    {"ask": "at", "card": name, "map": number, "position": position}
                    for position in positions(dossier, chance, 8)
                ]
    tried = 0
    answers = ask(asked)
    back = [
        {
            "ask": "bring", "card": question["card"], "map": question["map"],
            "rope": answer.get("at_m", 0), "others": question["position"],
        }
        for question, answer in zip(asked, answers, strict=True)
    ]  # fmt: skip
    for question, answer, heights in zip(asked, answers, ask(back), strict=True):
        if "refused" in answer or not heights:
            continue
        tried += 1
        wanted = question["position"]["hook_m"]
        assert min(abs(one - wanted) for one in heights) < 1e-3
    assert tried > 20


@pytest.mark.parametrize(
    ("ask_for", "why"),
    [
        ({"ask": "at", "map": 0, "position": {}}, "axis missing"),
        ({"ask": "at", "map": 0, "position": {"hook_m": -30.0}}, "below the ground"),
        ({"ask": "drum", "drum": 0, "seen": {"layer": 40, "wrap": 1}}, "no such layer"),
        ({"ask": "drum", "drum": 0, "seen": {"layer": 1, "wrap": 900}}, "no such wrap"),
        (
            {"ask": "mark", "mark": {"at_m": 1, "abs_err_m": 0, "rel_err_m": 0}, "offset": -90},
            "off the rope",
        ),
    ],
)
def test_what_cannot_be_is_refused_by_name(ask_for: dict[str, Any], why: str) -> None:
    name = next(
        one for one, card in CARDS.items()
        if card["drums"] and card["place_maps"][0]["axes"][0]["axis"] == "hook_m"
    )  # fmt: skip
    assert ask([{"card": name} | ask_for]) == [{"refused": why}]


def test_drum_metres_of_the_card_are_those_of_the_drum() -> None:
    for name, dossier in DOSSIERS.items():
        hoist = hoist_on(dossier, DAY).hoist
        for one in CARDS[name]["drums"]:
            for layer in one["layers"]:
                start = drum_metres(
                    hoist.wound_drum(), layer=layer["layer"], wrap=1, part=layer["start_part"]
                )
                assert layer["from_m"] == pytest.approx(float(start[0]), abs=1e-9)
