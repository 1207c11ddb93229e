"""KQ-1, trolley-jib crane: breaks where the rope climbs a layer, and a rusty trolley rope.

The usual seed tells both as they were first written down by hand; any other seed draws them.
"""

import random
from collections.abc import Mapping
from typing import Final

from ropewright.demo.breaking import Break, WornPlace, breaks_at, cluster_lines, most_within
from ropewright.demo.writing import millimetres

#: The hoist rope as first written down.
HOIST_AS_WRITTEN: Final[Mapping[str, str]] = {
    "at": "296.1 m",
    "mark_at": "298.2 m",
    "crushed_at": "296.4 m",
    "first_strand": "3",
    "breaks": """breaks = [
    { at = "0 mm", strand = 3, site = "crown", protruding = true },
    { at = "96 mm", strand = 9, site = "crown", protruding = true },
    { at = "250 mm", strand = 14, site = "crown", protruding = false },
    { at = "390 mm", strand = 6, site = "crown", protruding = true },
    { at = "540 mm", strand = 11, site = "crown", protruding = false },
]""",
    "read_b": '"20.25 mm", "20.15 mm"',
    "read_c": '"20.20 mm", "20.15 mm"',
    "read_d": '"20.30 mm", "19.65 mm"',
    "read_e": '"20.30 mm", "20.25 mm"',
}

#: The trolley rope as first written down.
TROLLEY_AS_WRITTEN: Final[Mapping[str, str]] = {
    "rust_length": "600 mm",
    "read_b": '"10.10 mm", "10.05 mm"',
    "read_c": '"10.00 mm"',
}

#: Outer wires that are squeezed wherever the rope climbs at the flange.
_CROSSOVER: Final = WornPlace(
    wires=160, strands=16, spread_mm=190.0, near_mm=130.0, evenness=20.0, findable=0.9
)
_STRIP_MM: Final = 120.0
_LONG_MM: Final = 580.0


def _pair(chance: random.Random, mean_mm: float, apart_mm: float = 0.0) -> str:
    one = round((mean_mm + apart_mm / 2 + chance.uniform(-0.04, 0.04)) * 20) / 20
    two = round((mean_mm - apart_mm / 2 + chance.uniform(-0.04, 0.04)) * 20) / 20
    return f"{millimetres(one, digits=2)}, {millimetres(two, digits=2)}"


def _five(chance: random.Random) -> list[Break]:
    """Five found breaks: the first one foremost, two close together, each in its own strand."""
    while True:
        made = [one for one in breaks_at(_CROSSOVER, 9, chance) if one.stands_out][:5]
        if len(made) < 5:
            continue
        along = [one.along_mm for one in made]
        if (
            min(along) == along[0]
            and max(along) - min(along) <= _LONG_MM
            and most_within(made, _STRIP_MM) == 2
            and len({one.strand for one in made}) == 5
        ):
            return made


def draw_hoist(chance: random.Random) -> Mapping[str, str]:
    """What the frame of KQ-1 leaves open, drawn."""
    made = _five(chance)
    at_m = round(chance.uniform(295.6, 296.1), 1)
    return {
        "at": f"{at_m:.1f} m",
        "mark_at": f"{at_m + 2.1:.1f} m",
        "crushed_at": f"{at_m + 0.3:.1f} m",
        "first_strand": str(made[0].strand),
        "breaks": cluster_lines(made, first_mm=made[0].along_mm, protruding=True),
        "read_b": _pair(chance, 20.20),
        "read_c": _pair(chance, 20.20),
        "read_d": _pair(chance, 19.95, 0.6),
        "read_e": _pair(chance, 20.27),
    }


def draw_trolley(chance: random.Random) -> Mapping[str, str]:
    """What the frame of KQ-1's trolley rope leaves open, drawn."""
    return {
        "rust_length": f"{10 * chance.randint(40, 85)} mm",
        "read_b": _pair(chance, 10.08),
        "read_c": millimetres(round(chance.uniform(9.96, 10.09) * 20) / 20, digits=2),
    }
