"""The order of the work with its cautions, each placed where the danger is."""

from collections.abc import Iterator, Sequence

from ropewright.inspection import Dossier, RiggedHoist
from ropewright.plan.doubts import dead_wraps_words
from ropewright.plan.model import HandsOff, PlannedPass, View, WorkStep
from ropewright.plan.resting import has_hook, rope_off_words
from ropewright.rules import LEVEL_WORDS, Verdict

OFF: str = "HAND OFF"
FIRST: str = "Local rule, maker's manual and competent person come first."

_HAND: tuple[str, ...] = (
    "Never where wires are known to protrude; never with the hand between rope and a nip.",
    "Empty hook, creep speed, no other motion; eyes on the rope, nobody looks at a screen.",
    (
        "Rag laid over and pinched lightly: never wrapped round hand or rope. Close gloves, "
        "nothing loose, no rings."
    ),
    "A snag: say the stop word, hand off, the operator reads the height, repeat it, then write.",
)


#: Steps whose cautions go along on the sheet, by how their titles begin.
_CARRIED: tuple[str, ...] = (
    "Last report", "Method", "Radio", "Stop, isolate", "Drum", "Eye pass", "Feel pass",
    "No feel pass",
)  # fmt: skip


def work_steps(
    dossier: Dossier, verdict: Verdict, rigged: RiggedHoist, passes: Sequence[PlannedPass]
) -> tuple[WorkStep, ...]:
    """All steps in their order, from the last report to the signature.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    verdict
        What the rules say of the rope on the day, before this inspection.
    rigged
        The hoist of the day.
    passes
        The passes chosen.
    """
    parts = [
        _last_report(verdict),
        _weather(),
        _method(dossier, rigged),
        _barrier(),
        _radio(),
        _lower(dossier, rigged),
        _isolate(dossier),
        _drum(rigged),
        _guard(),
        *_eye(passes, dossier),
        *_feel(passes, dossier),
        _gauges(dossier),
        _limits(),
        _sign(),
    ]
    return tuple(
        WorkStep(
            number=number,
            title=title,
            words=tuple(words),
            cautions=tuple(cautions),
            carried=title.startswith(_CARRIED),
        )
        for number, (title, words, cautions) in enumerate(parts, 1)
    )


_WATCH = "Watch the drum from outside its guard while the rope runs off."
_NOBODY_UNDER = "This rope holds the jib: nobody under it or on it while it moves."
_JIB_FIRST = (
    "This rope holds the jib: before a hand or a tool goes to it, the jib is pinned or laid down "
    "by the maker's procedure."
)
_DOWN_FIRST = "Jib or boom at its lowest, a telescopic one drawn in, before anyone goes out on it."
_OUT = "Crane stopped, isolated, locked each time before anyone goes out; fall protection."
_BASKET = "Falls hang free: nobody walks there. Work basket by its maker's and local rules only."
_INSIDE = "Internal examination only on slack, isolated, single-layer rope by a competent person."
_Part = tuple[str, Sequence[str], Sequence[str]]


def _last_report(verdict: Verdict) -> _Part:
    holds = [f"On hold: {reason}" for reason in verdict.hold_reasons]
    cautions = []
    if verdict.level == "remove":
        cautions.append(
            "A discard criterion is reached: nothing is lifted. Whether the empty hook may be run "
            "for this inspection is for the competent person to decide first."
        )
    elif verdict.on_hold:
        cautions.append("The rope is on hold: the competent person decides whether it may run.")
    words = [f"Before this inspection the rope stands at: {LEVEL_WORDS[verdict.level]}.", *holds]
    return "Last report, open holds, marks of the last shift", words, cautions


def _weather() -> _Part:
    words = [
        "Light to see single wires all along; dry enough to wipe; wind below the crane's limit"
    ]
    return "Weather, light, wind", words, ["Thunderstorm or wind near the limit: not today."]


def _method(dossier: Dossier, rigged: RiggedHoist) -> _Part:
    words = ["Agree who stands where, by which method, and how somebody is brought down."]
    cautions = [
        (
            "Nobody alone. Nobody on jib or trolley during motion except by the maker's means. "
            "Fall protection on structure."
        ),
    ]
    if dossier.installation.purpose == "luffing":
        cautions.append("This rope holds the jib: the maker's procedure for laying the jib down.")
    if rigged.by_payout:
        words.append(
            "Only falls and hook heights are known: hook heights are the record, not metres."
        )
    return "Method and rescue plan", words, cautions


def _barrier() -> _Part:
    return (
        "Barrier, and a person on the ground",
        ["Close off what lies under hook, jib and rope."],
        ["Nobody under the hook, nor in line with the rope."],
    )


def _radio() -> _Part:
    return (
        "Radio check and stop word",
        ["One person commands, anyone stops; the operator reads the height, it is read back."],
        ["Silence is stop: without 'keep coming' the operator stops within about 5 seconds."],
    )


def _lower(dossier: Dossier, rigged: RiggedHoist) -> _Part:
    if not has_hook(rigged):
        at = rope_off_words(rigged)
        words = [f"Empty hook; {at}: the most rope is off the drum, the dead wraps stay on."]
        words += _dead_wraps(rigged)
        if dossier.installation.purpose == "luffing":
            return "Lower the jib: it pays this rope out", words, [_NOBODY_UNDER, _WATCH]
        return "Run the rope off the drum", words, [_WATCH]
    low = rigged.rigging.hook_low_m
    height = "the lower limit switch" if low is None else f"{low:.1f} m, the lower limit switch"
    words = [f"Empty hook down to {height}, just clear of the ground; the dead wraps stay on."]
    words += _dead_wraps(rigged)
    ground = rigged.hoist.travel.ground_m
    if low is not None and low > ground:
        words.append(
            f"The switch stops the hook {low - ground:.1f} m above the ground: to go lower, the "
            "authorised person overrides it, supervised, recorded, reset and tested."
        )
    cautions = ["A landed block makes slack rope, slack makes birdcages: keep tension on."]
    if dossier.installation.purpose == "hoist":
        cautions.append(_WATCH)
    return "Lower the block", words, cautions


def _dead_wraps(rigged: RiggedHoist) -> list[str]:
    stated = rigged.rigging.dead_wraps
    doubt = dead_wraps_words(rigged)
    if doubt:
        return [f"{doubt[0].upper()}{doubt[1:]}."]
    return [] if stated is None else [f"{stated:g} dead wraps should be left: count them."]


def _isolate(dossier: Dossier) -> _Part:
    return (
        "Stop, isolate, lock, try",
        ["Switch off, lock, keep the key, try the controls: nothing may move."],
        [
            "Isolation comes before any guard is opened and before a hand goes to rope at rest.",
            *_holds_the_jib(dossier),
        ],
    )


def _holds_the_jib(dossier: Dossier) -> list[str]:
    """The caution that belongs wherever a hand or a tool goes to a luffing rope at rest."""
    return [_JIB_FIRST] if dossier.installation.purpose == "luffing" else []


def _drum(rigged: RiggedHoist) -> _Part:
    words = ["Clamp and its bolts, grooves, flanges; how the wraps lie; dead wraps by eye."]
    if rigged.hoist.drum is not None and rigged.hoist.drum.layers > 1:
        words.append("Look for wraps pulled in or out of place, at the flanges first.")
    cautions = [
        "A pulled-in wrap: no bars, no hands. It is re-spooled under load by rope fitters.",
    ]
    return "Drum, clamp, spooling", words, cautions


def _guard() -> _Part:
    return "Guard on again", ["Close and fasten it, count the tools, give the key back."], ()


def _run_words(view: View) -> str:
    return f"{view.place}: {view.travel}"


def _eye(passes: Sequence[PlannedPass], dossier: Dossier) -> Iterator[_Part]:
    mine = [one.view for one in passes if one.method == "eye"]
    runs = [view for view in mine if view.how == "run"]
    walks = [view for view in mine if view.how == "walk"]
    if runs:
        yield (
            "Eye pass: the rope runs, hands off",
            [_run_words(view) for view in runs]
            + ["One pass shows one side: two people, or a second pass from the other side."],
            ["While the rope runs for the eye: hands off it; look from outside guards."],
        )
    if walks:
        yield (
            f"Eye pass: rope at rest, from {_standing(walks)}",
            [_run_words(view) for view in walks],
            [_OUT, *_going_out(walks), *_holds_the_jib(dossier)],
        )


def _standing(walks: Sequence[View]) -> str:
    """Walkway, work basket or both, in words."""
    kinds = sorted({one.from_basket for one in walks})
    return " and ".join("a work basket" if basket else "the walkway" for basket in kinds)


def _going_out(walks: Sequence[View]) -> list[str]:
    said = [_DOWN_FIRST] if any(one.on_lowered_arm for one in walks) else []
    return [*said, _BASKET] if any(one.from_basket for one in walks) else said


def _off_words(one: HandsOff) -> str:
    where = f"{one.section.from_m:.1f} to {one.section.to_m:.1f} m ({one.why})"
    return f"{OFF} at {where}." if not one.crane else f"{OFF} between {one.crane}: {where}."


def _feel(passes: Sequence[PlannedPass], dossier: Dossier) -> Iterator[_Part]:
    mine = [one for one in passes if one.method == "feel"]
    runs = [one for one in mine if one.view.how == "run"]
    walks = [one for one in mine if one.view.how == "walk"]
    if runs:
        words, cautions = [], list(_HAND)
        for one in runs:
            direction = one.view.direction
            words.append(_run_words(one.view))
            words.append(f"{one.view.place}: {direction.words if direction else ''}")
            cautions = [_off_words(off) for off in one.hands_off] + cautions
        if dossier.installation.purpose == "luffing":
            cautions.append(_NOBODY_UNDER)
        yield "Feel pass: the rope runs away from the nearest nip", words, cautions
    if walks:
        off = [_off_words(each) for one in walks for each in one.hands_off]
        yield (
            "Feel pass: rope at rest",
            [_run_words(one.view) for one in walks],
            [*off, _OUT, *_going_out([one.view for one in walks]), *_holds_the_jib(dossier)],
        )
    if not mine:
        yield (
            "No feel pass on running rope",
            ["No stated place has a safe direction for a hand: by eye, or stop, isolate and feel."],
            ["No hand on moving rope."],
        )


def _gauges(dossier: Dossier) -> _Part:
    return (
        "Gauges and counts, on isolated rope",
        [
            (
                "Diameter twice at right angles, clear of the end; at each snag the strip of 6 d "
                "and 30 d is laid on, offsets taped, strands numbered, the place painted and named."
            ),
        ],
        [
            _INSIDE,
            *_holds_the_jib(dossier),
        ],
    )


def _limits() -> _Part:
    return "Limits restored and tested", ["Upper and lower limit with the empty hook, by name."], ()


def _sign() -> _Part:
    words = [
        "What was seen, by whom, how; what was not seen, why, and who accepts that until when."
    ]
    return "Record and sign", words, ()


def total_minutes(plan_passes: Sequence[PlannedPass]) -> float:
    """Time the rope runs or is walked along in all passes [min]."""
    return sum(one.view.minutes for one in plan_passes)
