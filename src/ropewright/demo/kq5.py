"""KQ-5: a new rope, and what the first inspection still has to establish."""

import random
from datetime import date
from typing import Final

from ropewright.demo.writing import CALIPER, Run, both, diameter, inspection, together

ROPE_M: Final = 295.0
FIRST_LOOK: Final = date(2026, 11, 4)

_SEEN: Final = (
    "end A fitting", "end B fitting", "drum anchorage", "drum", "spooling", "sheaves",
    "hook block", "crossovers", "flange points", "pick-up points", "rubbing points",
    "reverse bends", "falls untwisted", "hidden parts", "lubrication", "rope over sheaves",
    "rope guide",
)  # fmt: skip
_NOT_FITTED: Final = ("equaliser", "load sensor sheave", "hot places")


def draw(chance: random.Random) -> dict[str, str]:
    """What the frame of KQ-5 leaves open."""
    tenths = chance.randint(12, 19)  # below the two per cent that many ask for
    mean = 18.48 + chance.uniform(-0.05, 0.05)
    read = [round((mean + chance.uniform(-0.03, 0.03)) * 20) / 20 for _ in range(2)]
    return {
        "tension": f"{tenths // 10}.{tenths % 10} %",
        "inspections": together(
            inspection(
                name="2026-11-04",
                kind="first",
                on=FIRST_LOOK,
                by=("inspector", "fitter"),
                runs=both(
                    Run(
                        method="eye-round",
                        from_m=0.0,
                        to_m=ROPE_M,
                        remark="while it was spooled from the reel under tension",
                    )
                ),
                seen=_SEEN,
                not_seen=("limit switches",),
                not_fitted=_NOT_FITTED,
                remark="new rope; not yet run in, limits not yet set, certificate not yet here",
                conditions=(
                    'light = "daylight"',
                    'weather = "dry, 10 °C"',
                    "rope_cleaned = false",
                    'grease = "right"',
                    'tension = "from a braked reel"',
                ),
            ),
            CALIPER,
            diameter("2026-11-A", 'at = "120.0 m"', read, remark="before running in"),
        ),
    }
