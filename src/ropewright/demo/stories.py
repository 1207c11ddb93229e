"""The seven ropes of the invented site: their names, what each teaches, and how it is drawn."""

import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from importlib.resources import files
from string import Template
from typing import Final

from ropewright.demo import kq1, kq2, kq3, kq4, kq5

USUAL_SEED: Final = 1
"""The seed of the site as pages and documentation speak of it."""

DEMO_DAY: Final = date(2026, 11, 10)
"""The day on which the site is looked at: the day after the last inspections."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoRope:
    """One rope of the site.

    ``name`` is asked for, ``rope_id`` stands in its file, ``teaches`` says why it is there;
    ``draw`` fills what its frame leaves open; ``written`` is what the usual seed says instead.
    """

    name: str
    rope_id: str
    teaches: str
    draw: Callable[[random.Random], Mapping[str, str]]
    written: Mapping[str, str] | None = None


SITE: Final[tuple[DemoRope, ...]] = (
    DemoRope(
        name="KQ-1",
        rope_id="KQ-1 hoist",
        teaches="broken wires where the rope climbs a layer: remove, order now",
        draw=kq1.draw_hoist,
        written=kq1.HOIST_AS_WRITTEN,
    ),
    DemoRope(
        name="KQ-1-trolley",
        rope_id="KQ-1 trolley",
        teaches="rust at one end and a missing reading: incomplete until measured",
        draw=kq1.draw_trolley,
        written=kq1.TROLLEY_AS_WRITTEN,
    ),
    DemoRope(
        name="KQ-2",
        rope_id="KQ-2 hoist",
        teaches="a birdcage on the drum, unseen until the hook went right down",
        draw=kq2.draw_hoist,
    ),
    DemoRope(
        name="KQ-2-luffing",
        rope_id="KQ-2 luffing",
        teaches="the rope that holds the jib: its own plan, its own cautions",
        draw=kq2.draw_luffing,
    ),
    DemoRope(
        name="KQ-3",
        rope_id="KQ-3 hoist",
        teaches="shortened twice, turned end for end: every place stays right",
        draw=kq3.draw,
    ),
    DemoRope(
        name="KQ-4",
        rope_id="KQ-4 hoist",
        teaches="no broken wire, one, nine, within weeks: what a forecast can do",
        draw=kq4.draw,
    ),
    DemoRope(
        name="KQ-5",
        rope_id="KQ-5 hoist",
        teaches="a new rope: what the first inspection still has to establish",
        draw=kq5.draw,
    ),
)


def case_text(rope: DemoRope, seed: int = USUAL_SEED) -> str:
    """The case file of a rope, the same for the same seed.

    Parameters
    ----------
    rope
        One of `SITE`.
    seed
        Any whole number.
    """
    frame = files("ropewright.demo").joinpath("data", f"{rope.name}.toml").read_text("utf-8")
    if seed == USUAL_SEED and rope.written is not None:
        filled = rope.written
    else:
        filled = rope.draw(random.Random(f"Kestrel Quay, {rope.name}, seed {seed}"))
    return Template(frame).substitute(filled).rstrip("\n") + "\n"
