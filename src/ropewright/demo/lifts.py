"""What the site's cranes lifted, week by week: lists of lifts, from fitting to the last look.

They are written in the plain form of a list of lifts: pick, place and highest point, load, how
often.  Loads and heights are what such cranes do; every figure is invented.
"""

import random
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

_LAST: Final = date(2026, 11, 6)


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """One kind of lift of a crane: ranges from .. to, in the columns' units.

    ``pick`` [m], ``place`` [m] and ``over`` [m] are hook heights; ``load`` [t] hangs on the hook;
    ``weekly`` [-] is how many of them a week has; ``swing`` [m] [deg] are the other readings of
    pick and place, such as the radius, under the reading's heading.
    """

    pick: tuple[float, float]
    place: tuple[float, float]
    over: tuple[float, float]
    load: tuple[float, float]
    weekly: tuple[int, int]
    swing: Mapping[str, tuple[tuple[float, float], tuple[float, float]]]


#: Rope of the site: the day its list begins, and what its crane does.
_WORK: Final[Mapping[str, tuple[date, tuple[Work, ...]]]] = {
    "KQ-1": (
        date(2025, 1, 9),
        (
            Work(
                pick=(0.5, 1.5), place=(22.0, 52.0), over=(54.0, 72.0), load=(0.8, 3.2),
                weekly=(60, 110), swing={"radius [m]": ((12.0, 40.0), (8.0, 52.0))},
            ),
            Work(
                pick=(0.5, 1.5), place=(18.0, 48.0), over=(53.0, 60.0), load=(3.5, 7.2),
                weekly=(8, 22), swing={"radius [m]": ((10.0, 24.0), (8.0, 26.0))},
            ),
        ),
    ),
    "KQ-2": (
        date(2026, 2, 9),
        (
            Work(
                pick=(38.5, 40.0), place=(42.0, 74.0), over=(78.0, 88.0), load=(1.0, 6.0),
                weekly=(50, 90), swing={"jib [deg]": ((52.0, 70.0), (62.0, 76.0))},
            ),
        ),
    ),
    # Since it was turned end for end: a list speaks of one set-up and one length of rope.
    "KQ-3": (
        date(2026, 6, 22),
        (
            Work(
                pick=(0.5, 1.5), place=(4.0, 12.0), over=(13.0, 18.0), load=(2.0, 12.0),
                weekly=(20, 60),
                swing={
                    "boom [m]": ((29.0, 29.0), (29.0, 29.0)),
                    "boom_angle [deg]": ((58.0, 64.0), (62.0, 72.0)),
                },
            ),
        ),
    ),
    "KQ-4": (
        date(2022, 3, 7),
        (
            Work(
                pick=(0.4, 0.9), place=(0.5, 1.4), over=(3.0, 4.4), load=(2.5, 7.6),
                weekly=(90, 150), swing={},
            ),
            Work(
                pick=(0.4, 1.2), place=(1.6, 2.6), over=(3.2, 5.0), load=(0.6, 2.4),
                weekly=(40, 80), swing={},
            ),
        ),
    ),
}  # fmt: skip


def lift_lists(rope: str, seed: int) -> Mapping[str, str]:
    """Lists of lifts of a rope's crane by file name, as CSV; none for ropes that have none.

    Parameters
    ----------
    rope
        The demo rope's name.
    seed
        The site's seed.
    """
    known = _WORK.get(rope)
    if known is None:
        return {}
    start, works = known
    chance = random.Random(f"Kestrel Quay, lifts of {rope}, seed {seed}")
    swing = list(works[0].swing)
    heads = ["date", "times", "pick [m]", "place [m]", "over [m]", "load [t]"]
    heads += [f"{end}_{name}" for name in swing for end in ("pick", "place")]
    rows = _rows(start, works, swing, chance)
    return {f"{rope}-lifts.csv": "\n".join([",".join(heads), *rows]) + "\n"}


def _rows(
    first: date, works: tuple[Work, ...], swing: list[str], chance: random.Random
) -> Iterator[str]:
    day = first
    while day <= _LAST:
        for work in works:
            pick = chance.uniform(*work.pick)
            place = chance.uniform(*work.place)
            over = max(chance.uniform(*work.over), pick, place)
            cells = [
                day.isoformat(),
                str(chance.randint(*work.weekly)),
                *(f"{value:.2f}" for value in (pick, place, over, chance.uniform(*work.load))),
            ]
            for name in swing:
                cells += [f"{chance.uniform(*span):.1f}" for span in work.swing[name]]
            yield ",".join(cells)
        day += timedelta(days=7)
