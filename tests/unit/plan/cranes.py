"""Invented cranes of every kind as dossiers, written out as case files."""

from datetime import date
from typing import Any

from ropewright.inspection import Dossier
from ropewright.intake import read_case

DAY = date(2026, 11, 10)

_HEAD = """
schema = 1
invented = true

[[rigging]]
valid_from = 2025-01-09
falls = {falls}
hook_low = "{low}"
hook_high = "{high}"
drum_diameter = "400 mm"
wraps_per_layer = {wraps}
drum_layers = "{layers}"
drum_grooving = "parallel"
{rest}
[rope]
diameter = "20 mm"
construction = "6x36WS"
length = "{length}"

[installation]
fitted_on = 2025-01-09
purpose = "{purpose}"
rules = ["iso-4309-2017", "us-29cfr-1926-1413"]
{more}
"""

TROLLEY = """
[rigging.reeving]
kind = "trolley-jib hoist"
anchor_radius = "50 m"
upper_height = "48.4 m"
upper_sheave = "350 mm"
block_sheave = "350 mm"
root_sheave = "350 mm"
root_radius = "1.2 m"
to_drum = "11 m"

[rigging.travel]
radius_min = "2.2 m"
radius_max = "48 m"

[[rigging.point]]
name = "tower head"
at = "root sheave"
side = "after"
offset = "1.5 m"
by_hand = true
"""

LUFFING = """
[rigging.reeving]
kind = "luffing-jib hoist"
jib_length = "50 m"
foot_height = "40 m"
a_frame_back = "7 m"
a_frame_up = "12 m"
a_frame_sheave = "450 mm"
upper_sheave = "450 mm"
block_sheave = "450 mm"
hook_below = "1 m"
to_drum = "14 m"

[rigging.travel]
jib_min = "20 deg"
jib_max = "80 deg"
room_above = "2 m"

[[rigging.point]]
name = "A-frame platform"
at = "A-frame sheave"
side = "after"
offset = "2 m"
by_hand = true
"""

TELESCOPIC = """
[rigging.reeving]
kind = "telescopic hoist"
foot_height = "2.4 m"
upper_sheave = "420 mm"
block_sheave = "420 mm"
to_drum = "4.5 m"

[rigging.travel]
boom_min = "11 m"
boom_max = "34 m"
boom_angle_min = "20 deg"
boom_angle_max = "82 deg"
room_above = "1.5 m"

[[rigging.point]]
name = "behind the winch"
at = "drum"
offset = "2.5 m"
by_hand = true
"""

TWIN = """
[rigging.reeving]
kind = "bridge hoist, twin drum"
upper_height = "10 m"
upper_sheave = "300 mm"
block_sheave = "300 mm"
equaliser_sheave = "250 mm"
hook_below = "0.6 m"

[[rigging.point]]
name = "crab platform"
at = "drum"
offset = "1 m"
by_hand = true
"""


def read(text: str) -> Dossier:
    """The dossier of a case file."""
    return read_case(text, file="case.toml").dossier


def case_text(  # every key of the head may be chosen
    rest: str = "",
    *,
    falls: int = 2,
    low: str = "0 m",
    high: str = "46 m",
    wraps: float = 30,
    layers: str = "multi",
    length: str = "170 m",
    purpose: str = "hoist",
    more: str = "",
) -> str:
    """A case file of a crane with a rope; ``wraps`` [-] on each layer."""
    return _HEAD.format(
        rest=rest, falls=falls, low=low, high=high, wraps=wraps, layers=layers, length=length,
        purpose=purpose, more=more,
    )  # fmt: skip


def crane(rest: str = "", **head: Any) -> Dossier:
    """A crane with a rope, as `case_text` writes it."""
    return read(case_text(rest, **head))


def trolley_jib(more: str = "", points: str = "", *, falls: int = 2) -> Dossier:
    """A tower crane with a trolley; the whole path is known."""
    length = "170 m" if falls == 2 else "270 m"
    return crane(TROLLEY + points, falls=falls, more=more, length=length)


def luffing_jib() -> Dossier:
    """A tower crane whose jib luffs, one fall."""
    return crane(LUFFING, falls=1, high="86 m", length="190 m")


def telescopic() -> Dossier:
    """A telescopic crane with four falls."""
    return crane(TELESCOPIC, falls=4, low="0.5 m", high="33 m", length="230 m")


def twin_drum() -> Dossier:
    """A bridge crane with both ends on a twin drum, four falls and an equaliser."""
    return crane(TWIN, falls=4, low="0 m", high="8 m", wraps=30, layers="single", length="60 m")


def by_payout() -> Dossier:
    """A crane of which falls and two hook heights are known, and no more."""
    return read(
        """
schema = 1
invented = true

[[rigging]]
valid_from = 2025-01-09
falls = 2
hook_low = "0.5 m"
hook_high = "46 m"

[rope]
diameter = "16 mm"
construction = "35(W)x7"
length = "170 m"

[installation]
rules = ["iso-4309-2017"]
"""
    )


CRANES = {
    "trolley-jib": trolley_jib,
    "four falls": lambda: trolley_jib(falls=4),
    "luffing-jib": luffing_jib,
    "telescopic": telescopic,
    "twin drum": twin_drum,
    "by payout": by_payout,
}
