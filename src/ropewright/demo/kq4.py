"""KQ-4, bridge crane of the precast yard: no broken wire, one, nine, within weeks."""

import random
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from ropewright.demo.breaking import (
    Break,
    WornPlace,
    breaks_at,
    cluster_lines,
    most_in_a_strand,
    most_within,
)
from ropewright.demo.photos import photo_name
from ropewright.demo.writing import (
    CALIPER,
    Run,
    both,
    diameter,
    finding,
    hidden,
    inspection,
    metres,
    text,
    together,
)

FITTED: Final = date(2022, 3, 7)
FIRST_LOOK: Final = date(2026, 9, 28)
SECOND_LOOK: Final = date(2026, 10, 19)
THIRD_LOOK: Final = date(2026, 11, 9)

_ROPE_M: Final = 44.0
_D_MM: Final = 13.0
#: Offsets are taped to a millimetre and may be two off at either end of a strip.
_TAPE_MM: Final = 5.0

#: Wires of one lay, drawn and loaded alike: after the first break the others are not far.
_PLACE: Final = WornPlace(
    wires=260, strands=6, spread_mm=48.0, near_mm=84.0, evenness=90.0, share_near=0.5
)

_SEEN: Final = (
    "end A fitting", "end B fitting", "drum anchorage", "drum", "spooling", "sheaves",
    "hook block", "equaliser", "pick-up points", "rubbing points", "limit switches",
    "falls untwisted", "hidden parts", "lubrication", "rope over sheaves", "flange points",
)  # fmt: skip
_NOT_FITTED: Final = (
    "load sensor sheave", "crossovers", "hot places", "rope guide", "reverse bends",
)  # fmt: skip
_CONDITIONS: Final = (
    'light = "hall lights and a hand lamp"',
    'weather = "indoors, dry"',
    "rope_cleaned = true",
    'grease = "right"',
    'tension = "empty hook"',
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """What happened at the worn place, and what was found of it.

    ``at_m`` [m] is the rope position of its middle; ``known`` are the breaks found at the second
    look, ``found`` those of the third, in the order in which they broke.
    """

    at_m: float
    known: tuple[Break, ...]
    found: tuple[Break, ...]
    all_broken: int


def story(chance: random.Random) -> Story:
    """Draw the worn place until it tells the story: 0, 1 and 9 wires within six weeks.

    The calendar follows from the draw: the first wire that a hand can find breaks a few days
    before the second look, the ninth a few days before the third.  A draw whose ninth comes too
    late for that, or whose second comes before the second look, is another rope's story.
    """
    first_on = SECOND_LOOK - timedelta(days=chance.randint(2, 9))
    age_days = (first_on - FITTED).days
    while True:
        made = breaks_at(_PLACE, 22, chance)
        findable = [one for one in made if one.stands_out]
        if len(findable) < 9 or made[0] is not findable[0]:
            continue
        days = [age_days * one.life for one in made]
        second_day, third_day = (SECOND_LOOK - FITTED).days, (THIRD_LOOK - FITTED).days
        broken = [one for one, day in zip(made, days, strict=True) if day <= third_day]
        known = [one for one, day in zip(made, days, strict=True) if day <= second_day]
        found = [one for one in broken if one.stands_out][:9]
        if len(known) == 1 and len(found) == 9 and _tells_it(found):
            at_m = round(chance.uniform(14.0, 16.5), 2)
            return Story(at_m=at_m, known=tuple(known), found=tuple(found), all_broken=len(broken))


def _tells_it(found: Sequence[Break]) -> bool:
    """Close together but not all in one strip, and in several strands."""
    strip_mm = 6 * _D_MM
    return (
        most_within(found, strip_mm) >= 6
        and most_within(found, strip_mm + _TAPE_MM) <= 8
        and most_in_a_strand(found) <= 3
    )


def _cluster(
    name: str, of: Story, breaks: Sequence[Break], *, same_as: str = "", remark: str = ""
) -> str:
    first = min(one.along_mm for one in breaks)
    lines = [
        f"at = {metres(of.at_m + first / 1000, digits=3)}",
        'at_err = "± 0.3 m"',
        'between_err = "± 10 mm"',
        'method = "feel"',
        'offset_err = "± 2 mm"',
    ]
    if same_as:
        lines.insert(0, f"same_as = {text(same_as)}")
    lines.append(cluster_lines(breaks, first_mm=first, protruding=True))
    lines.append(f'photos = ["{photo_name("KQ-4", name)}"]')
    if remark:
        lines.append(f"remark = {text(remark)}")
    return finding("broken wires", name, lines)


def _look(on: date, by: str, days: int, remark: str) -> str:
    """The whole rope by eye and hand; the next look is due within ``days`` [days]."""
    at_rest = "crane isolated, rope at rest, in three positions of the hook"
    return together(
        inspection(
            name=on.isoformat(),
            kind="periodic",
            on=on,
            by=(by, "operator"),
            runs=both(Run(method="eye-round", from_m=0.0, to_m=_ROPE_M, remark=at_rest)),
            seen=_SEEN,
            not_fitted=_NOT_FITTED,
            next_by=on + timedelta(days=days),
            remark=remark,
            conditions=_CONDITIONS,
        ),
        CALIPER,
    )


def _worn(chance: random.Random, less_mm: float) -> list[float]:
    mean = 13.31 - less_mm
    return [round((mean + chance.uniform(-0.03, 0.03)) * 20) / 20 for _ in range(2)]


def draw(chance: random.Random) -> dict[str, str]:
    """What the frame of KQ-4 leaves open."""
    told = story(chance)
    grease_from = round(chance.uniform(25.0, 27.5), 1)
    wrap = chance.randint(7, 11)
    mark_m = told.at_m + round(chance.uniform(0.3, 0.6), 2)
    looks = (
        _look(FIRST_LOOK, "inspector", 92, "no broken wire found"),
        diameter("2026-09-A", 'at = "15.0 m"', _worn(chance, 0.25), err="± 0.3 m"),
        "# Three weeks later: the first broken wire.",
        _look(
            SECOND_LOOK,
            "second inspector",
            92,
            "first broken wire on this rope; marked beside the strands",
        ),
        _cluster("2026-10-A", told, told.known),
        diameter("2026-10-B", 'at = "15.0 m"', _worn(chance, 0.27), err="± 0.3 m"),
        "# Three more weeks: nine, all near the mark. They were counted with a strip cut to 6 d.",
        _look(
            THIRD_LOOK,
            "inspector",
            31,
            "brought forward; crane kept on light lifts since the first broken wire",
        ),
        hidden(grease_from, grease_from + 1.4, "grease"),
        _cluster(
            "2026-11-A",
            told,
            told.found,
            same_as="2026-10-A",
            remark=f"{(mark_m - told.at_m) * 1000:.0f} mm before yellow mark 1, at the place "
            "that runs over the block's sheave in every lift",
        ),
        diameter("2026-11-B", 'at = "15.0 m"', _worn(chance, 0.30), err="± 0.3 m"),
        "\n".join(
            [
                "[[inspection.part]]",
                'id = "2026-11-P1"',
                'part = "spooling"',
                f'which = "drum, far half, wrap {wrap} from the outer end"',
                'state = "wrap climbed out of groove"',
                "dangerous = true",
                'remark = "hook down, crane isolated: rope fitters lay it back, then look why"',
                f'photos = ["{photo_name("KQ-4", "2026-11-P1")}"]',
            ]
        ),
    )
    return {"mark_at": f"{mark_m:.2f} m", "inspections": together(*looks)}
