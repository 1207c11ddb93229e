"""The trade's lists that a phone offers: damage, parts, places to examine, the shift check."""

from typing import Any, Final

from ropewright.inspection import (
    BREAK_SITES,
    DAMAGE_WORDS,
    EVENT_KINDS,
    INSPECTION_KINDS,
    ITEMS,
    METHODS,
    PART_WORDS,
)
from ropewright.plan.passes import STANDS_OUT

#: What an operator looks at before the shift, in this order; common practice, no source.
SHIFT_ITEMS: Final[tuple[str, ...]] = (
    "limit switches", "rope over sheaves", "falls untwisted", "end A fitting", "spooling",
    "drum", "sheaves", "hook block",
)  # fmt: skip

#: Which part a report from the shift check speaks of.
PART_OF_ITEM: Final[dict[str, str]] = {
    "limit switches": "limit switch",
    "end A fitting": "end fitting",
    "spooling": "spooling",
    "drum": "drum",
    "sheaves": "sheave",
    "hook block": "hook block",
    "rope over sheaves": "sheave",
}

LISTS: Final[dict[str, Any]] = {
    "damage": {
        kind: {"forms": list(forms), "grades": list(grades)}
        for kind, (forms, grades) in DAMAGE_WORDS.items()
    },
    "stands_out": sorted(STANDS_OUT),
    "parts": {part: list(states) for part, states in PART_WORDS.items()},
    "items": list(ITEMS),
    "shift": list(SHIFT_ITEMS),
    "part_of_item": PART_OF_ITEM,
    "events": list(EVENT_KINDS),
    "sites": list(BREAK_SITES),
    "methods": list(METHODS),
    "inspections": list(INSPECTION_KINDS),
}
