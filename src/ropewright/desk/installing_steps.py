"""Fitting a new rope, step by step: what to do, what to write down, where it can hurt.

Common practice, no source, unless a step says otherwise; the maker's manual comes first.
"""

from dataclasses import dataclass
from typing import Final

RELEASE: Final = "release"


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingStep:
    """One step: its key, title, what to do, cautions at that point, what to write down.

    ``records`` are names of values to record, each with an example.
    """

    key: str
    title: str
    do: tuple[str, ...]
    cautions: tuple[str, ...] = ()
    records: tuple[tuple[str, str], ...] = ()


FITTING_STEPS: Final[tuple[FittingStep, ...]] = (
    FittingStep(
        key="papers",
        title="Hold certificate and reel tag against order and crane",
        do=(
            "Construction, diameter, tolerance, grade, breaking force, lay, length: line by line.",
            "Photograph the reel tag. A rope that does not agree is not unwound.",
        ),
        records=(("reel tag", "tag number as read"),),
    ),
    FittingStep(
        key="measured",
        title="Measure the new rope before it is fitted",
        do=(
            "On a straight, unloaded length, at two places a metre or more apart.",
            "Two readings at right angles at each place, over the crowns.",
        ),
        cautions=("Secure the free end: a reel that runs on, or a cut end, springs.",),
        records=(("readings", "20.5 mm, 20.4 mm, 20.5 mm, 20.5 mm"), ("instrument", "caliper 1")),
    ),
    FittingStep(
        key="sheaves",
        title="Gauge every sheave and the drum grooves",
        do=(
            "Groove gauges on every sheave: one that is too small is changed now, not later.",
            "Each sheave turns freely, no print of the old rope, keepers in place.",
        ),
        cautions=("Crane isolated and locked; nobody moves the hook while hands are at sheaves.",),
        records=(("smallest groove", "10.4 mm radius, jib head sheave"),),
    ),
    FittingStep(
        key="reel",
        title="Reel on a braked stand",
        do=(
            "Top to top or bottom to bottom, so that the rope never bends the other way.",
            "The stand is braked and anchored; the rope runs off straight.",
        ),
        cautions=(
            "The reel weighs what it weighs: lifting plan, nobody under it or in its way.",
            "Nobody in a loop of rope or between reel and drum.",
        ),
        records=(("runs", "bottom to bottom"),),
    ),
    FittingStep(
        key="pull in",
        title="Pull the rope in",
        do=(
            "Grip with swivel between old and new; a pulling rope of the same lay direction.",
            "Creep speed, one person commands, silence is stop. No twist goes into the new rope.",
        ),
        cautions=(
            "No hand on running rope near a sheave or the drum. Guards on.",
            "A joint never goes over the drum under load; watch it over every sheave.",
            "Cutting: both sides seized, eye and face protection, hot-work permit.",
        ),
        records=(("joint", "grip with swivel"),),
    ),
    FittingStep(
        key="tension",
        title="Spool on the drum under tension",
        do=("Every wrap tight against the last; look at each layer change.",),
        cautions=(
            "Stay outside the guard: rope under tension and a turning drum. No bars, no hands.",
            "A wrap that climbs: stop, isolate, unwind, wind again under tension.",
        ),
        records=(("tension", "6 kN, by brake on the stand, load cell 3"),),
    ),
    FittingStep(
        key="ends",
        title="Fit both ends",
        do=(
            "Live part in line with the pin; wedge and socket matched and marked for the rope.",
            "A clip on the tail only. Pin secured. Clamp bolts to the maker's torque.",
            "6- and 8-strand ropes, 18x7 and 19x7 never hang on a free swivel.",
        ),
        cautions=("A wedge that was not pulled home lets go at the first load: seat it.",),
        records=(("end A", "wedge socket, tail 400 mm"), ("end B", "2 clamp plates, 120 Nm")),
    ),
    FittingStep(
        key="limits",
        title="Set and try limits and zero",
        do=(
            "Upper and lower limit, slow-down, hook height zero, falls and load display.",
            "Each limit tried with the empty hook, twice. Dead wraps counted at the lowest.",
        ),
        cautions=("Two-block danger until the upper limit has been tried. Creep speed.",),
        records=(("limits", "upper and lower tried twice"), ("dead wraps", "5 wraps")),
    ),
    FittingStep(
        key="break in",
        title="Break the rope in",
        do=(
            "Several full runs with the empty hook, then with part load, rising step by step.",
            "Falls untwisted, spooling watched at every layer change.",
        ),
        cautions=("Area under the hook kept clear; no persons lifted before release.",),
        records=(("runs", "5 empty, 5 with 10 %, 5 with 50 % of safe working load"),),
    ),
    FittingStep(
        key="reference",
        title="Measure reference diameter and lay length",
        do=(
            "After running in, at three or more places that do not bend, clear of the sockets.",
            "Two readings at right angles at each place, under a named tension.",
            "Lay length at the same time.",
        ),
        cautions=("Rope isolated and at rest while the gauge is on it.",),
    ),
    FittingStep(
        key="test",
        title="Function and limit test",
        do=(
            "Brake, limits, overload device, spooling from end to end.",
            "With the test load that the crane's manual or the law names.",
        ),
        cautions=("Test area barred; nobody near the load or under it.",),
        records=(("test", "110 % of safe working load, by the manual"),),
    ),
    FittingStep(
        key=RELEASE,
        title="Release the rope by name",
        do=("A named person lets the rope into service on the evidence of all steps above.",),
        cautions=("Until then the rope is on hold.",),
    ),
)
