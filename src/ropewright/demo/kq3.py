"""KQ-3, telescopic crane: shortened twice, turned once, and the same place every time.

Every place is typed as it was taped on its day, along the path of that day.  Where that is on
the steel is left to whoever reads the file.
"""

import random
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from ropewright.demo.photos import photo_name
from ropewright.demo.writing import (
    CALIPER,
    Run,
    both,
    diameter,
    finding,
    inspection,
    metres,
    millimetres,
    text,
    together,
)

FIRST_M: Final = 215.0
_WAVE_MM: Final = 300

_SEEN: Final = (
    "end A fitting", "end B fitting", "drum anchorage", "drum", "spooling", "sheaves",
    "hook block", "crossovers", "flange points", "pick-up points", "rubbing points",
    "limit switches", "reverse bends", "falls untwisted", "hidden parts", "lubrication",
    "rope over sheaves",
)  # fmt: skip
_NOT_FITTED: Final = ("equaliser", "load sensor sheave", "hot places", "rope guide")
_CONDITIONS: Final = (
    'light = "daylight"',
    'weather = "dry"',
    "rope_cleaned = true",
    'grease = "thin"',
    'tension = "empty block"',
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Story:
    """Where the wave lies in the steel, and what was cut off: all in metres [m]."""

    wave_m: float
    mark_m: float
    cut_1_m: float
    cut_2_m: float

    @property
    def left_m(self) -> float:
        """Length that is left after both cuts [m]."""
        return FIRST_M - self.cut_1_m - self.cut_2_m

    def taped_m(self, on: date, *, long_m: float = 0.0, steel_m: float | None = None) -> float:
        """Where a place was on the path of a day, from that day's end A [m].

        Parameters
        ----------
        on
            The day.
        long_m
            How long the thing is; its start is what was taped [m].
        steel_m
            Another place than the wave, in the steel as first fitted [m].
        """
        place = self.wave_m if steel_m is None else steel_m
        if on >= date(2026, 6, 22):  # turned: end A is now at the steel's far end
            return FIRST_M - place - long_m
        if on >= date(2026, 3, 16):
            return place - self.cut_1_m - self.cut_2_m
        return place - (self.cut_1_m if on >= date(2025, 9, 15) else 0.0)

    def rope_left_m(self, on: date) -> float:
        """Length of the rope on a day [m]."""
        if on >= date(2026, 3, 16):
            return self.left_m
        return FIRST_M - (self.cut_1_m if on >= date(2025, 9, 15) else 0.0)


LOOKS: Final[tuple[tuple[date, str, str], ...]] = (
    (
        date(2025, 6, 16),
        "periodic",
        "slight wave, marked: the rope had lain over a tube",
    ),
    (date(2025, 9, 29), "periodic", "two weeks after the first cut"),
    (date(2025, 12, 15), "periodic", ""),
    (date(2026, 3, 20), "annual", "after the second cut"),
    (date(2026, 6, 19), "periodic", "whole rope, before it was turned end for end"),
    (date(2026, 8, 17), "periodic", "turned since: places now count from the other end"),
    (date(2026, 11, 5), "periodic", ""),
)


def story(chance: random.Random) -> Story:
    """Draw place and cuts."""
    wave = round(chance.uniform(92.0, 124.0), 1)
    return Story(
        wave_m=wave,
        mark_m=wave + round(chance.uniform(0.5, 1.5), 1),
        cut_1_m=round(chance.uniform(2.2, 4.2), 1),
        cut_2_m=round(chance.uniform(2.0, 3.6), 1),
    )


def draw(chance: random.Random) -> dict[str, str]:
    """What the frame of KQ-3 leaves open."""
    told = story(chance)
    looks = []
    gap_mm = 0.60
    for number, (on, kind, remark) in enumerate(LOOKS):
        taped = told.taped_m(on, long_m=_WAVE_MM / 1000) + chance.uniform(-0.15, 0.15)
        name = on.isoformat()
        gap_mm += 0.05 * chance.randint(0, 1)  # a wave does not heal
        lines = [
            f"at_path = {metres(taped, digits=2)}",
            'at_err = "± 0.5 m"',
            f'length = "{_WAVE_MM} mm"',
            f"gap = {millimetres(gap_mm, digits=2)}",
            'method = "eye-round"',
        ]
        if number:
            lines.insert(0, f"same_as = {text(f'{LOOKS[number - 1][0].isoformat()}-A')}")
        else:
            lines.append(f'photos = ["{photo_name("KQ-3", f"{name}-A")}"]')
        left = told.rope_left_m(on)
        mean = 19.32 - 0.02 * number
        read = [round((mean + chance.uniform(-0.04, 0.04)) * 20) / 20 for _ in range(2)]
        looks += [
            inspection(
                name=name,
                kind=kind,
                on=on,
                by=("engineer" if kind == "annual" else "inspector", "operator"),
                runs=both(
                    Run(
                        method="eye-round",
                        from_m=0.0,
                        to_m=left,
                        by_path=True,
                        remark="boom out and in, block up and down; ends and drum at rest",
                    )
                ),
                seen=_SEEN,
                not_fitted=_NOT_FITTED,
                next_by=on + timedelta(days=92),
                remark=remark,
                conditions=_CONDITIONS,
            ),
            CALIPER,
            finding("waviness", f"{name}-A", lines),
            diameter(
                f"{name}-B",
                f"at_path = {metres(told.taped_m(on, steel_m=60.0))}",
                read,
                err="± 0.5 m",
            ),
        ]
    return {
        "cut_1": f"{told.cut_1_m:.1f} m",
        "cut_2": f"{told.cut_2_m:.1f} m",
        "mark_path": f"{told.mark_m:.1f} m",
        "inspections": together(*looks),
    }
