"""KQ-2, luffing-jib crane: a birdcage that nobody could see, and the rope that holds the jib."""

import random
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Final

from ropewright.demo.breaking import WornPlace, breaks_at, cluster_lines
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

ROPE_M: Final = 281.0
LUFFING_ROPE_M: Final = 160.0

#: Rope position that has come off the drum when the hook is at the roof deck [m].
DOWN_TO_DECK_M: Final = 190.0
#: The same with the hook right down beside the building [m].
RIGHT_DOWN_M: Final = 270.0

_SEEN: Final = (
    "end A fitting", "sheaves", "hook block", "pick-up points", "rubbing points", "limit switches",
    "reverse bends", "falls untwisted", "lubrication", "rope over sheaves", "rope guide",
)  # fmt: skip
_AT_THE_DRUM: Final = (
    "end B fitting", "drum anchorage", "drum", "spooling", "crossovers", "flange points",
)  # fmt: skip
_NOT_FITTED: Final = ("equaliser", "load sensor sheave", "hot places")
_MONTHS: Final = (
    date(2026, 5, 6), date(2026, 6, 5), date(2026, 7, 6), date(2026, 8, 5), date(2026, 9, 4),
    date(2026, 10, 5),
)  # fmt: skip
LAST_LOOK: Final = date(2026, 11, 6)


def _conditions(tension: str) -> tuple[str, ...]:
    return (
        'light = "daylight"',
        'weather = "dry, 8 °C"',
        'wind = "5 m/s"',
        "rope_cleaned = true",
        'grease = "right"',
        f"tension = {text(tension)}",
    )


def _accepted(from_m: float, to_m: float, until: date) -> str:
    return "\n".join(
        [
            "[[inspection.accepted]]",
            f"from = {metres(from_m)}",
            f"to = {metres(to_m)}",
            'by = "competent person of the site"',
            f"until = {until.isoformat()}",
            'reason = "the hook reaches the roof deck only; the lower layers stay on the drum"',
        ]
    )


def _to_the_deck(name: str, on: date, *, kind: str = "monthly", after_event: str = "") -> str:
    until = date(2026, 11, 6)
    return together(
        inspection(
            name=name,
            kind=kind,
            on=on,
            by=("competent person" if after_event else "inspector", "operator"),
            runs=both(
                Run(
                    method="eye-round",
                    from_m=0.0,
                    to_m=DOWN_TO_DECK_M,
                    point="A-frame platform",
                    hook_m=(95.0, 38.5),
                    remark="the first falls from the jib walkway, jib at its lowest, at rest",
                )
            ),
            seen=_SEEN,
            not_seen=(*_AT_THE_DRUM, "hidden parts"),
            not_fitted=_NOT_FITTED,
            next_by=None if after_event else on + timedelta(days=31),
            after_event=after_event,
            remark="hook to the roof deck and no farther: three layers stay on the drum",
            conditions=_conditions("empty hook"),
        ),
        hidden(DOWN_TO_DECK_M, ROPE_M, "wound on the drum under other layers"),
        _accepted(DOWN_TO_DECK_M, ROPE_M, until),
    )


def _new_rope(
    rope_m: float, seen: Sequence[str], not_fitted: Sequence[str], limits: str, reading: str
) -> str:
    """The first look: the whole rope, before it went onto the drum."""
    return together(
        inspection(
            name="2026-02-09",
            kind="first",
            on=date(2026, 2, 9),
            by=("engineer", "fitter"),
            runs=both(
                Run(
                    method="eye-round",
                    from_m=0.0,
                    to_m=rope_m,
                    remark="while it was spooled from the reel under tension",
                )
            ),
            seen=(*seen, "hidden parts"),
            not_fitted=not_fitted,
            remark=f"new rope; sheave grooves gauged; {limits} set and tried",
            conditions=_conditions("from a braked reel"),
        ),
        CALIPER,
        reading,
    )


def _readings(chance: random.Random, mean_mm: float) -> list[float]:
    return [round((mean_mm + chance.uniform(-0.06, 0.06)) * 20) / 20 for _ in range(2)]


def draw_hoist(chance: random.Random) -> dict[str, str]:
    """What the frame of KQ-2 leaves open."""
    at_m = round(chance.uniform(262.0, 266.0), 1)
    length_mm = 10 * chance.randint(24, 46)
    monthly = [_to_the_deck(on.isoformat(), on) for on in _MONTHS]
    event = _to_the_deck(
        "2026-10-21", date(2026, 10, 21), kind="after-event", after_event="slack in October"
    )
    last = together(
        "# ---- The hook goes right down, beside the building ----",
        inspection(
            name="2026-11-06",
            kind="periodic",
            on=LAST_LOOK,
            by=("inspector", "operator"),
            runs=(
                *both(
                    Run(
                        method="eye-round",
                        from_m=0.0,
                        to_m=258.0,
                        point="A-frame platform",
                        hook_m=(95.0, 0.5),
                        remark="jib at 80 deg; the first falls from the jib walkway, at rest",
                    )
                ),
                Run(
                    method="eye-round",
                    from_m=257.0,
                    to_m=RIGHT_DOWN_M,
                    point="drum platform",
                    remark="hook right down, crane isolated, two people, one each side",
                ),
            ),
            seen=(*_SEEN, *_AT_THE_DRUM),
            not_seen=("hidden parts",),
            not_fitted=_NOT_FITTED,
            remark="street closed: first time since February that the hook went right down",
            conditions=_conditions("empty hook"),
        ),
        CALIPER,
        hidden(RIGHT_DOWN_M, ROPE_M, "dead wraps on the drum"),
        finding(
            "birdcage",
            "2026-11-A",
            [
                f"at = {metres(at_m)}",
                'at_err = "± 1.0 m"',
                f'length = "{length_mm} mm"',
                'method = "eye-round"',
                f'photos = ["{photo_name("KQ-2", "2026-11-A")}"]',
                'remark = "layer 1, under the layers that stay on when the hook is at the deck"',
            ],
        ),
        *(
            diameter(f"2026-11-{letter}", f"at = {metres(place)}", _readings(chance, mean))
            for letter, place, mean in (
                ("B", 60.0, 22.30),
                ("C", 150.0, 22.30),
                ("D", 240.0, 22.35),
            )
        ),
        "\n".join(
            [
                "[[inspection.part]]",
                'id = "2026-11-P1"',
                'part = "spooling"',
                'which = "drum, layer 1"',
                'state = "slack layer"',
                "dangerous = true",
                'remark = "the first layer lies loose since the rope went slack"',
            ]
        ),
    )
    new = _new_rope(
        ROPE_M,
        (*_SEEN, *_AT_THE_DRUM),
        _NOT_FITTED,
        "limits",
        diameter("2026-02-A", 'at = "150.0 m"', (22.50, 22.45), remark="before running in"),
    )
    return {"inspections": together(new, *monthly, event, last)}


#: Compacted strands over a covered core: few breaks show, and late.
_LUFFING_PLACE: Final = WornPlace(
    wires=180, strands=8, spread_mm=150.0, near_mm=156.0, evenness=12.0, findable=0.6
)
_LUFFING_SEEN: Final = (
    "end A fitting", "end B fitting", "drum anchorage", "drum", "spooling", "sheaves",
    "crossovers", "flange points", "pick-up points", "rubbing points", "limit switches",
    "reverse bends", "lubrication", "rope over sheaves", "rope guide",
)  # fmt: skip
_LUFFING_NOT_FITTED: Final = (
    "hook block", "falls untwisted", "equaliser", "load sensor sheave", "hot places",
)  # fmt: skip


#: Dead wraps: monthly one side from outside the guard, quarterly all round.
_DEAD_WRAPS: Final = {
    "monthly": Run(
        method="eye",
        from_m=152.5,
        to_m=LUFFING_ROPE_M,
        point="luffing drum platform",
        remark="dead wraps from outside the guard, jib at its lowest; crane isolated",
    ),
    "periodic": Run(
        method="eye-round",
        from_m=152.5,
        to_m=LUFFING_ROPE_M,
        point="luffing drum platform",
        remark="dead wraps with lamp and mirror, guard off, jib at its lowest; crane isolated",
    ),
}


def _luffing_look(name: str, on: date, *, kind: str = "monthly", remark: str = "") -> str:
    """Everything but the dead wraps: by eye in motion, by hand with the jib pinned."""
    return together(
        inspection(
            name=name,
            kind=kind,
            on=on,
            by=("inspector", "operator", "competent person"),
            runs=(*_luffing_runs(), _DEAD_WRAPS[kind]),
            seen=(*_LUFFING_SEEN, *(("hidden parts",) if kind == "periodic" else ())),
            not_seen=() if kind == "periodic" else ("hidden parts",),
            not_fitted=_LUFFING_NOT_FITTED,
            next_by=on + timedelta(days=92 if kind == "periodic" else 31),
            remark=remark,
            conditions=_conditions("empty hook, jib pinned for the hand pass"),
        ),
        CALIPER,
    )


def _luffing_runs() -> Sequence[Run]:
    return (
        Run(
            method="eye-round",
            from_m=0.0,
            to_m=153.0,
            point="A-frame platform",
            remark="jib from 15 to 80 deg at creep speed, empty hook",
        ),
        Run(
            method="feel",
            from_m=0.0,
            to_m=143.0,
            point="A-frame platform",
            remark="rope at rest, jib pinned, crane isolated; in seven positions of the jib",
        ),
    )


def draw_luffing(chance: random.Random) -> dict[str, str]:
    """What the frame of KQ-2's luffing rope leaves open."""
    at_m = round(chance.uniform(68.0, 80.0), 1)
    while True:
        made = [one for one in breaks_at(_LUFFING_PLACE, 8, chance) if one.stands_out][:2]
        if len(made) == 2 and abs(made[0].along_mm - made[1].along_mm) <= 650:
            break
    first = made[0]
    clusters = []
    for name, known, same in (("2026-10-A", [first], ""), ("2026-11-A", made, "2026-10-A")):
        start = min(one.along_mm for one in known)
        lines = [] if not same else [f"same_as = {text(same)}"]
        lines += [
            f"at = {metres(at_m + (start - first.along_mm) / 1000, digits=2)}",
            'at_err = "± 0.5 m"',
            'between_err = "± 10 mm"',
            'method = "feel"',
            'offset_err = "± 2 mm"',
            cluster_lines(known, first_mm=start),
            f'photos = ["{photo_name("KQ-2-luffing", name)}"]',
        ]
        clusters.append(finding("broken wires", name, lines))
    return {
        "mark_at": f"{at_m + 0.4:.1f} m",
        "inspections": together(
            _new_rope(
                LUFFING_ROPE_M,
                _LUFFING_SEEN,
                _LUFFING_NOT_FITTED,
                "luffing limits",
                diameter("2026-02-A", 'at = "75.0 m"', (24.60, 24.55), err="± 0.5 m"),
            ),
            _luffing_look("2026-08-05", date(2026, 8, 5), remark="no broken wire found"),
            _luffing_look(
                "2026-09-04", date(2026, 9, 4), kind="periodic", remark="no broken wire found"
            ),
            diameter("2026-09-A", 'at = "75.0 m"', _readings(chance, 24.45), err="± 0.5 m"),
            _luffing_look("2026-10-07", date(2026, 10, 7), remark="first broken wire"),
            clusters[0],
            diameter("2026-10-B", 'at = "75.0 m"', _readings(chance, 24.40), err="± 0.5 m"),
            _luffing_look("2026-11-06", LAST_LOOK, remark="one more at the same place"),
            clusters[1],
            diameter("2026-11-B", 'at = "75.0 m"', _readings(chance, 24.40), err="± 0.5 m"),
        ),
    }
