"""Where visible breaks tell the truth, where only with a warning, and where there is no date."""

from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

Treatment: TypeAlias = Literal["date", "date with warning", "no date"]
TREATMENTS: Final[tuple[Treatment, ...]] = ("date", "date with warning", "no date")


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One row of the table: what kind of rope or damage, how it is treated, why, what to do."""

    case_id: str
    when: str
    treatment: Treatment
    why: str
    action: str


_INNER: Final = "have the rope examined inside or tested magnetically, and keep the interval short"

CASES: Final[tuple[Case, ...]] = (
    Case(
        case_id="ordinary",
        when="ordinary-lay single-layer strand rope, fibre core, steel sheaves, breaks by bending",
        treatment="date",
        why="outer wires on the crown break first and can be seen and felt",
        action="inspect by the date given",
    ),
    Case(
        case_id="steel-core",
        when="steel core without plastic",
        treatment="date with warning",
        why="wires also break inside, where strands touch the core; they are not counted",
        action="open a discarded rope of this kind once and compare inner with outer breaks",
    ),
    Case(
        case_id="no-marks",
        when="breaks were counted but not marked",
        treatment="date with warning",
        why="old and new breaks cannot be told apart: the same misses are assumed every time",
        action="mark each break with paint beside it and name the finding as the same next time",
    ),
    Case(
        case_id="eye-only",
        when="the zone was looked at by eye only",
        treatment="date with warning",
        why="an eye pass sees about half of the rope and the same half again",
        action="add a hand pass",
    ),
    Case(
        case_id="multi-layer",
        when="multi-layer drum",
        treatment="date with warning",
        why="damage where wraps cross does not grow like bending fatigue",
        action="look at crossovers and layer changes separately",
    ),
    Case(
        case_id="hidden",
        when="part of the rope was hidden",
        treatment="date with warning",
        why="nothing is known of what was not seen",
        action="clean and look, or pay the rope out",
    ),
    Case(
        case_id="rotation-resistant",
        when="rotation-resistant rope",
        treatment="no date",
        why="wires break inside, between the layers, before anything shows outside",
        action=_INNER,
    ),
    Case(
        case_id="compacted",
        when="compacted strands",
        treatment="no date",
        why="broken ends lie flat and are hardly seen or felt",
        action=_INNER,
    ),
    Case(
        case_id="plastic-core",
        when="plastic-coated or filled core",
        treatment="no date",
        why="plastic hides what breaks inside and keeps the rope's shape",
        action=_INNER,
    ),
    Case(
        case_id="lang-lay",
        when="Lang lay",
        treatment="no date",
        why="outer breaks come late and give no reliable sign",
        action=_INNER,
    ),
    Case(
        case_id="plastic-sheaves",
        when="plastic sheaves",
        treatment="no date",
        why="wires break inside first, where the soft groove does not reach",
        action=_INNER,
    ),
    Case(
        case_id="crossover",
        when="breaks from crossovers or from wraps rubbing at the flange",
        treatment="no date",
        why="they come from spooling, not from bending: they can appear within days",
        action="re-spool under tension or move the wear zone, and look again after a week's work",
    ),
    Case(
        case_id="termination",
        when="breaks at an end fitting",
        treatment="no date",
        why="one end break is for the competent person now",
        action="re-terminate, and look again at the next shift check",
    ),
    Case(
        case_id="valley",
        when="breaks in a valley between strands",
        treatment="no date",
        why="one valley break speaks of more inside",
        action="have the competent person decide now",
    ),
    Case(
        case_id="corrosion",
        when="corrosion that is rough, pitted or inside",
        treatment="no date",
        why="rusty wires break without the slow growth of fatigue",
        action="have the competent person decide, and follow the grade instead",
    ),
    Case(
        case_id="opened",
        when="most breaks of opened ropes of this kind lay inside",
        treatment="no date",
        why="the outside shows less than half of what is broken",
        action=_INNER,
    ),
    Case(
        case_id="unstated",
        when="something that decides between the rows above is not stated",
        treatment="no date",
        why="what is not known takes the stricter row",
        action="state it in the case file",
    ),
)

_BY_ID: Final = {case.case_id: case for case in CASES}


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """What decides on the row of the table; ``None`` is 'not stated' and takes the stricter row."""

    rotation_resistant: bool | None = None
    compacted: bool | None = None
    plastic_core: bool | None = None
    lang_lay: bool | None = None
    plastic_sheaves: bool | None = None
    steel_core: bool | None = None
    multi_layer: bool | None = None
    crossover_damage: bool = False
    end_breaks: bool = False
    valley_breaks: bool = False
    corroded: bool = False
    hidden: bool = False
    marked: bool = True
    eye_only: bool = False
    mostly_inside: bool = False


_MUST_BE_STATED: Final = (
    ("rotation_resistant", "rotation-resistant", "whether the rope is rotation-resistant"),
    ("compacted", "compacted", "whether the strands are compacted"),
    ("plastic_core", "plastic-core", "whether plastic covers or fills the core"),
    ("lang_lay", "lang-lay", "ordinary or Lang lay"),
    ("plastic_sheaves", "plastic-sheaves", "what the sheaves are made of"),
)


def rows_for(situation: Situation) -> tuple[Case, ...]:
    """All rows of the table that hold, the strictest first; at least one."""
    said = [(getattr(situation, field), case) for field, case, _ in _MUST_BE_STATED] + [
        (situation.crossover_damage, "crossover"),
        (situation.end_breaks, "termination"),
        (situation.valley_breaks, "valley"),
        (situation.corroded, "corrosion"),
        (situation.mostly_inside, "opened"),
        (situation.steel_core in (True, None), "steel-core"),
        (not situation.marked, "no-marks"),
        (situation.eye_only, "eye-only"),
        (situation.multi_layer in (True, None), "multi-layer"),
        (situation.hidden, "hidden"),
    ]
    held = [_BY_ID[case] for holds, case in said if holds is True]
    if unstated(situation) and all(case.treatment != "no date" for case in held):
        held.append(_BY_ID["unstated"])
    if not held:
        return (_BY_ID["ordinary"],)
    return tuple(sorted(held, key=lambda case: -TREATMENTS.index(case.treatment)))


def unstated(situation: Situation) -> tuple[str, ...]:
    """What must be stated before there can be a date."""
    return tuple(words for field, _, words in _MUST_BE_STATED if getattr(situation, field) is None)
