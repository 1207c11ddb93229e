"""The order sheet: every field with its origin, what is not known left open, the length by parts.

Kinds of the expected figures stand beside them.  Invented data.
"""

import json
import math
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from ropewright.desk import (
    ORDER_WORDS,
    TO_FILL,
    OrderWish,
    order_as_data,
    order_sheet,
    read_order_values,
)
from ropewright.errors import InputError, UnknownNameError
from ropewright.inspection import Dossier, ReevingFacts, Rigging, SetUpMeasure, TravelFacts
from ropewright.rope import Cut, LayHand, RopeHistory
from tests.unit.logbook.samples import a_dossier

DAY = date(2026, 11, 25)
WISH = OrderWish(crops_m=12.0, ends_m=2.0, lead_weeks=Fraction(12), stated_by="rope engineer")


RIGGING = Rigging(
    valid_from=date(2025, 1, 9),
    falls=2,
    drum_layers="multi",
    drum_grooving="parallel",
    drum_diameter_mm=Fraction(480),
    dead_wraps=5.0,
    hook_low_m=0.0,
    hook_high_m=165.0,
    reeving=ReevingFacts(
        kind="trolley-jib hoist", anchor="jib tip", anchor_m=60.0, upper_height_m=168.2,
        hook_below_m=1.2, upper_sheave_mm=500.0, block_sheave_mm=500.0, root_sheave_mm=500.0,
        root_m=1.5, to_drum_m=17.56,
    ),
    travel=TravelFacts(radius_min_m=2.5, radius_max_m=58.0),
)  # fmt: skip


@pytest.fixture(scope="module")
def tower() -> Dossier:
    """A trolley-jib tower crane whose path is known; its rope is 420 m of 20 mm."""
    one = a_dossier()
    rope = replace(one.rope, nominal_diameter_mm=Fraction(20), length_m=420.0, lay_length_mm=None)
    return replace(
        one,
        rope=rope,
        rigging=(RIGGING,),
        history=RopeHistory(original_length_m=420.0),
        installation=replace(one.installation, reference=None, drum_wrap_length_m=None),
    )


def test_every_field_of_the_trade_is_on_the_sheet() -> None:
    """Common practice, no source: what the trade asks to be stated in an order."""
    sheet = order_sheet(a_dossier(), DAY)
    words = " ".join(ORDER_WORDS.values()).casefold()
    for asked in (
        "length", "diameter", "new and unloaded", "construction", "right or left hand",
        "ordinary or lang", "core", "plastic", "compacted", "grade", "breaking force", "finish",
        "lubricant", "end a", "end b", "certificate", "reel size", "mass", "bore",
        "spooling direction", "needed by", "groove hand",
    ):  # fmt: skip
        assert asked in words
    assert [one.key for one in sheet.fields] == list(ORDER_WORDS)
    for one in sheet.fields:
        assert one.words == ORDER_WORDS[one.key]
        assert (one.how == TO_FILL) == (one.value is None), one
        assert one.how == TO_FILL or one.source, one
    json.dumps(order_as_data(sheet))


def test_the_length_is_the_sum_of_its_parts_by_hand(tower: Dossier) -> None:
    """By hand, without the path kernel.

    Two falls from the trolley to the block: 2 × (168.2 − 0 − 1.2) = 334 m.  Jib tip to the root
    sheave: 60 − 1.5 = 58.5 m.  On to the drum: 17.56 m.  Bent lengths: 90° at each of two trolley
    sheaves and the root, 180° at the block, 450° of 260 mm radius = 2.042 m.  Together 412.10 m.
    Dead wraps: 5 × π × 0.5 m = 7.85 m.  Ends 2 m, crops 12 m: 433.96 m, so 434 m.
    """
    length = order_sheet(tower, DAY, wish=WISH).get("length_m")
    out_m = 334 + 58.5 + 17.56 + math.radians(450) * 0.26
    assert length.steps[0].startswith(f"{out_m:.2f} m")
    assert length.steps[1].startswith(f"{5 * math.pi * 0.5:.2f} m")
    assert length.value == math.ceil(out_m + 5 * math.pi * 0.5 + 2 + 12) == 434
    assert length.how == "worked out"
    assert length.look == ""  # by hand: 421.96 m without crops is within 2 % of 420 m
    longer = replace(tower, history=RopeHistory(original_length_m=500.0))
    assert "500.00 m" in order_sheet(longer, DAY, wish=WISH).get("length_m").look


def test_the_length_does_not_follow_a_shortened_rope(tower: Dossier) -> None:
    short = replace(
        tower,
        history=RopeHistory(
            original_length_m=tower.rope.length_m,
            steps=(Cut(on=date(2026, 11, 1), end="A", length_m=6.0),),
        ),
    )
    whole, less = (order_sheet(one, DAY, wish=WISH).get("length_m") for one in (tower, short))
    assert whole.value == less.value == 434.0
    assert any("6.00 m were cut off since" in step for step in less.steps)


def test_what_is_not_known_is_asked_for_and_never_guessed(tower: Dossier) -> None:
    sheet = order_sheet(tower, DAY)
    length = sheet.get("length_m")
    assert (length.how, length.value) == (TO_FILL, None)
    assert "--crops" in length.shown
    assert "--ends" in length.shown
    assert length.shown.startswith("at least ")
    assert sheet.get("reel").how == TO_FILL
    bare = order_sheet(replace(tower, rigging=()), DAY, wish=WISH)
    assert bare.get("length_m").value is None
    assert "dead wraps" in bare.get("length_m").shown
    assert bare.get("tolerance").how == bare.get("drum_grooving").how == TO_FILL
    for key in ("end_a", "end_b", "certificate_type", "reel_bore_mm", "spooling_direction"):
        assert sheet.get(key).how == TO_FILL


@pytest.mark.parametrize(
    ("grooving", "words"),
    [
        ("parallel", "+2 to +4 %, 20.4 to 20.8 mm"),  # common practice, no source
        ("helical", "0 to +5 %, 20 to 21 mm"),  # published: EN 12385-4, as trade pages restate it
    ],
)
def test_the_tolerance_follows_the_drum(tower: Dossier, grooving: Any, words: str) -> None:
    one = replace(tower, rigging=(replace(RIGGING, drum_grooving=grooving),))
    assert order_sheet(one, DAY).get("tolerance").value == words


@pytest.mark.parametrize(
    ("drum", "lay", "said"),
    [("right", "right", "do not order"), ("right", "left", ""), ("left", "left", "do not order")],
)
def test_the_hand_of_the_lay_is_held_against_the_drum(drum: str, lay: LayHand, said: str) -> None:
    """Common practice, no source: a right-hand grooved drum takes left-hand lay."""
    one = a_dossier()
    one = replace(
        one,
        rope=replace(one.rope, lay_hand=lay),
        installation=replace(
            one.installation, set_up=(SetUpMeasure(name="drum hand", value=drum),)
        ),
    )
    look = order_sheet(one, DAY).get("lay_hand").look
    assert (said in look) if said else (look == "")


def test_a_late_rope_is_told() -> None:
    wish = OrderWish(needed_by=date(2026, 12, 25), lead_weeks=Fraction(8))
    look = order_sheet(a_dossier(), DAY, wish=wish).get("needed_by").look
    # by hand: 25 November + 56 days = 20 January 2027, 26 days after 25 December
    assert look == "ordered today it comes about 2027-01-20: 26 days late"
    shown = order_sheet(a_dossier(), DAY, wish=wish).get("needed_by").shown
    assert shown == "2026-12-25; order by 2026-10-30"  # by hand: 56 days before
    assert order_sheet(a_dossier(), DAY).get("needed_by").how == TO_FILL
    said = order_sheet(a_dossier(), DAY, forecast="Not assessable: no age").get("needed_by")
    assert (said.how, said.shown) == (TO_FILL, "Not assessable: no age")


def test_a_late_rope_is_told_whichever_way_day_and_weeks_were_stated() -> None:
    stated = read_order_values(["needed_by=2026-12-25", "lead_weeks=8"])
    one = order_sheet(a_dossier(), DAY, wish=OrderWish(stated=stated)).get("needed_by")
    wish = OrderWish(needed_by=date(2026, 12, 25), lead_weeks=Fraction(8))
    assert one == order_sheet(a_dossier(), DAY, wish=wish).get("needed_by")
    assert "26 days late" in one.look


def test_a_stated_field_wins_and_says_so() -> None:
    values = read_order_values(["diameter_mm=22 mm", "End A (dead end)=seized", "compacted=yes"])
    assert values == {"diameter_mm": Fraction(22), "end_a": "seized", "compacted": True}
    sheet = order_sheet(a_dossier(), DAY, wish=OrderWish(stated=values, stated_by="planner"))
    one = sheet.get("diameter_mm")
    assert (one.value, one.shown, one.how) == (Fraction(22), "22 mm", "stated")
    assert one.source == "stated by planner"
    assert one.look.startswith("instead of 20 mm")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("finish", "expected KEY=VALUE"),
        ("colour=red", "a field of an order"),
        ("diameter_mm=20", "--set diameter_mm: expected a length"),
        ("lay_hand=up", "one of right, left"),
        ("compacted=maybe", "yes or no"),
        ("needed_by=soon", "a day like"),
    ],
)
def test_a_field_that_cannot_be_read_is_refused(text: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        read_order_values([text])
    assert words in str(caught.value)


def test_an_unknown_field_is_refused() -> None:
    with pytest.raises(UnknownNameError):
        order_sheet(a_dossier(), DAY, wish=OrderWish(stated={"colour": "red"}))


def test_the_mass_is_length_times_mass_per_metre(tower: Dossier) -> None:
    """By hand: metres ordered × kg/m of the rope, rounded up to whole kilograms."""
    sheet = order_sheet(tower, DAY, wish=WISH)
    per_m = tower.rope.length_mass()
    length, mass = sheet.get("length_m").value, sheet.get("reel_mass_kg").value
    assert per_m is not None
    assert isinstance(length, float)
    assert mass == math.ceil(per_m.value * Fraction(int(length)))
