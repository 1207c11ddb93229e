"""Where to cut the rope, or whether to turn it: what it gains, what it costs, what to mind."""

from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from ropewright.desk.duty_pieces import Duty, pieces_of
from ropewright.desk.wearing import WearResult
from ropewright.errors import InputError
from ropewright.geometry import Drum, Hoist, Section
from ropewright.inspection import Dossier, hoist_on
from ropewright.inspection.evidence import evidence_on
from ropewright.rules import Assessment, Level
from ropewright.wear.cut_effects import CutEffects, cut_effects
from ropewright.wear.cutting import CutPlan, CutResult, damage_after, days_gained, plan_cuts
from ropewright.wear.outlook import Outlook, outlook_from
from ropewright.wear.possible_cuts import LEAST_CUT_M, Cut, cut_limits, drum_shapes
from ropewright.wear.profile import Profile
from ropewright.wear.rows import worst_in_steps
from ropewright.wear.wear_map import DutyPiece, wear_map

AHEAD_STEP_M: Final = 2.0
PERIOD_DAYS: Final = 90.0
"""The period looked ahead where none is given; own choice."""

TWIN_DRUM: Final = (
    "Cuts of a rope with both ends on a drum are not worked out here: ask the rope engineer."
)
NOT_WHILE_REACHED: Final = (
    "Nothing is offered while the rules stand against it: what would gain time leaves damage on "
    "the rope that a rule reached, or turns a rope whose inspection is not complete and clean."
)
NOT_JUDGED: Final = (
    "No rule set has judged this rope: have it judged before any cut. Until then no turn is "
    "offered."
)
CAUTIONS: Final[tuple[str, ...]] = (
    "A cut never undoes a verdict: no rope is cut or turned to dodge a count of broken wires.",
    "Only a competent person decides on it; the maker's manual of crane and rope comes first.",
    (
        "Hook block hung off and crane isolated; both sides of the cut secured and seized; eye "
        "and face protection; hot-work permit if it is cut hot."
    ),
    "Turning end for end: only with the consent of both makers, of the rope and of the crane.",
    (
        "Afterwards the hook hangs higher at the same drum position: set and test the upper "
        "limit switch before the first lift, then the lower one, the height reading and the "
        "dead wraps."
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOption:
    """One way that gains time.

    Parameters
    ----------
    result
        What it does over the period.
    effects
        Which rope comes to lie where.
    words
        What to do, in a line.
    why
        Why it helps, in a few lines.
    labour
        What it takes.
    hook_higher_m
        How much higher the hook hangs at the same drum position afterwards [m].
    findings_gone
        Findings on the rope that is cut off.
    by_models
        Title of each other model and the days gained by it [days].
    """

    result: CutResult
    effects: CutEffects
    words: str
    why: tuple[str, ...]
    labour: tuple[str, ...]
    hook_higher_m: float
    findings_gone: tuple[str, ...]
    by_models: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Ahead:
    """Worst damage along the rope after the period, step by step, in full bends.

    ``without`` [-] is if nothing is done, ``with_best`` [-] after the best way; ``edges_m`` are
    the steps' edges in rope position.
    """

    edges_m: tuple[float, ...]
    without: tuple[float, ...]
    with_best: tuple[float, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutAdvice:
    """Whether and where to cut.

    ``plan`` is there unless ``why_not`` says why nothing could be worked out; ``options`` is
    empty where nothing helps, and ``nothing`` says then why.  ``verdict_first`` is what must be
    settled before any cut.
    """

    on: date
    period_days: float
    plan: CutPlan | None = None
    options: tuple[CutOption, ...] = ()
    why_not: str = ""
    nothing: str = ""
    verdict_first: str = ""
    ahead: Ahead | None = None
    cautions: tuple[str, ...] = CAUTIONS


def cut_advice(
    dossier: Dossier,
    found: WearResult,
    *,
    judged: Assessment | None = None,
    period_days: float = PERIOD_DAYS,
    dead_wraps: float | None = None,
) -> CutAdvice:
    """Weigh every cut and turn against doing nothing.

    A rope that the rules remove is offered only what takes out all the damage they reached; a
    rope is turned only after a complete inspection that reached nothing.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    found
        Its wear.
    judged
        What the rules say of the rope as it is; without a verdict no turn is offered.
    period_days
        How far to look ahead [days].
    dead_wraps
        Wraps that must stay on the drum, if more than three [wraps].
    """
    first = NOT_JUDGED if judged is None else _verdict_first(judged.verdict.level)
    if found.pieces[-1].both_ends:
        return CutAdvice(
            on=found.on, period_days=period_days, why_not=TWIN_DRUM, verdict_first=first
        )
    try:
        rigged = hoist_on(dossier, found.on)
        rigged.drum()
        limits = cut_limits(rigged.hoist, dead_wraps)
        pieces = _of_last_rigging(found.duty, found.pieces)
        outlook = outlook_from(pieces, unit=found.wear.full_bend)
    except InputError as error:
        return CutAdvice(
            on=found.on, period_days=period_days, why_not=str(error), verdict_first=first
        )
    drum = rigged.hoist.wound_drum()
    off = rigged.hoist.tolerances
    shapes = _shapes(found, drum, off.barrel_mm, off.wraps) if drum.layers > 1 else []
    plan = plan_cuts(
        found.wear.total, outlook, found.path, limits=limits, period_days=period_days,
        shapes=shapes,
    )  # fmt: skip
    weighed = plan.best
    plan = replace(
        plan, best=tuple(one for one in weighed if _may_be_done(one, judged, dossier, found))
    )
    others = _other_models(found)
    options = tuple(
        replace(
            _option(dossier, found, rigged.hoist, one, plan, outlook.paid_out_least_m),
            by_models=tuple(
                (title, days_gained(one.cut, damage, pace, found.path, period_days))
                for title, damage, pace in others
            ),
        )
        for one in plan.best
    )
    return CutAdvice(
        on=found.on,
        period_days=period_days,
        plan=plan,
        options=options,
        nothing="" if options else NOT_WHILE_REACHED if weighed else _nothing(plan),
        verdict_first=first,
        ahead=_ahead(found, outlook, plan),
    )


def _ahead(found: WearResult, outlook: Outlook, plan: CutPlan) -> Ahead | None:
    """Worst damage along the rope without and with the best way; none where nothing helps."""
    if not plan.best:
        return None
    low, high = found.path.in_service
    rows = []
    for path in (found.path, plan.best[0].path):
        then = damage_after(found.wear.total, outlook, path, plan.period_days)
        edges, worst = worst_in_steps(then, low, high, AHEAD_STEP_M)
        rows.append(tuple(worst))
    return Ahead(edges_m=tuple(edges), without=rows[0], with_best=rows[1])


def _other_models(found: WearResult) -> list[tuple[str, Profile, Outlook]]:
    """Map and pace by the other models, as far as they give an answer."""
    answers = []
    for other in found.others:
        if other.worst is None:
            continue
        pieces = pieces_of(found.duty, other.card.name)
        worn = wear_map(pieces, found.path)
        last = _of_last_rigging(found.duty, pieces)
        answers.append((other.card.title, worn.total, outlook_from(last, unit=worn.full_bend)))
    return answers


def _shapes(
    found: WearResult, drum: Drum, barrel_mm: float, wraps: float
) -> list[tuple[Profile, Drum | None]]:
    """The map again with the drum's measures off by their usual ±, each with its drum."""
    shapes: list[tuple[Profile, Drum | None]] = []
    for shape in drum_shapes(drum, barrel_mm=barrel_mm, wraps=wraps):
        worn = wear_map(found.pieces, found.path, drums=dict.fromkeys([drum], shape))
        shapes.append((worn.total, shape))
    return shapes


def _verdict_first(level: Level) -> str:
    return {
        "remove": "The rules say: remove the rope from service. No cut changes that, unless the "
        "competent person finds that the cut takes out all of the damage.",
        "decide": "The competent person has to decide on the rope first.",
        "incomplete": "The inspection is incomplete: finish it before any cut.",
    }.get(level, "")


def _of_last_rigging(duty: Duty, pieces: tuple[DutyPiece, ...]) -> tuple[DutyPiece, ...]:
    """Pieces on the same set-up as the last one, cuts in between or not."""
    hoists = {tally.first: tally.hoist.reeving for tally in duty.tallies}
    last = hoists[pieces[-1].first]
    return tuple(piece for piece in pieces if hoists[piece.first] == last)


def _nothing(plan: CutPlan) -> str:
    spare = plan.limits.spare_m
    if spare < LEAST_CUT_M:
        return (
            f"Nothing helps: with the hook at its lowest only {plan.limits.least_on_drum_m:.1f} m "
            f"of rope are on the drum, and {plan.limits.dead_wraps:g} wraps must stay. Turning the "
            "rope gains nothing either."
        )
    return (
        f"Nothing helps: {len(plan.tried)} cuts and turns were weighed, up to {spare:.1f} m at "
        "either end. Each brings the worst place no later to where it would be without."
    )


def _option(
    dossier: Dossier,
    found: WearResult,
    hoist: Hoist,
    result: CutResult,
    plan: CutPlan,
    paid_out_least_m: float,
) -> CutOption:
    effects = cut_effects(
        result.cut, found.path, result.path, hoist.wound_drum(), paid_out_least_m=paid_out_least_m
    )
    return CutOption(
        result=result,
        effects=effects,
        words=_words(result.cut),
        why=tuple(_why(result, effects, plan)),
        labour=tuple(_labour(result.cut, plan, found.path.length_m)),
        hook_higher_m=result.cut.length_m / hoist.reeving.falls if hoist.reeving.falls else 0.0,
        findings_gone=_gone(dossier, found, result),
    )


def _words(cut: Cut) -> str:
    parts = ["turn the rope end for end"] if cut.turn else []
    if cut.at_a_m:
        parts.append(f"cut {cut.at_a_m:.2f} m off at end A")
    if cut.at_drum_m:
        parts.append(f"cut {cut.at_drum_m:.2f} m off at the drum")
    return ", then ".join(parts)


def _why(result: CutResult, effects: CutEffects, plan: CutPlan) -> list[str]:
    lines = [
        (
            f"Worst place after {plan.period_days:.0f} days: {result.worst:,.0f} full bends "
            f"instead of {plan.worst_without:,.0f}, then at {result.worst_rope_m:.1f} m of rope."
        )
    ]
    if result.cut.turn:
        lines.append("Bent and pressed sections come onto the other half of the rope.")
    elif result.cut.at_a_m:
        lines.append(f"Bends come to lie {result.cut.at_a_m:.2f} m further along the rope.")
    if result.cut.at_drum_m and not result.cut.turn:
        for one in effects.layers:
            again = "" if one.again is None else f": {_share(one.again)} of its crossovers again"
            lines.append(f"Layer {one.layer}: the rope moves {one.shift_wraps:.2f} wraps{again}.")
    if effects.layer_changes_again is not None and not result.cut.turn:
        share = _share(effects.layer_changes_again)
        lines.append(f"Layer changes: {share} of the rope that lay in one lies in one again.")
    if result.removed_most > 0:
        lines.append(f"Rope cut off was worn up to {result.removed_most:,.0f} full bends.")
    return lines


def _share(value: float) -> str:
    return f"{value * 100:.0f} %"


def _labour(cut: Cut, plan: CutPlan, rope_m: float) -> list[str]:
    if cut.turn:
        return [
            f"all {rope_m:.0f} m off the crane, turned and reeved anew",
            "both ends re-made; rope fitters, a reel, and a whole day at least",
            "spool under tension, then run in with light loads",
        ]
    if cut.at_drum_m:
        return [
            f"the last {plan.limits.least_on_drum_m:.0f} m off the drum by hand, dead wraps too",
            "clamp re-made, the first layers wound again under tension",
        ]
    return ["end A's fitting re-made; the drum is not touched"]


def _gone(dossier: Dossier, found: WearResult, result: CutResult) -> tuple[str, ...]:
    left = _left(dossier, found, result)
    return tuple(
        f"{one.finding.finding_id} ({one.finding.kind})"
        for one in evidence_on(dossier, found.on).seen
        if one.finding.finding_id not in left
    )


def _left(dossier: Dossier, found: WearResult, result: CutResult) -> set[str]:
    """Findings any part of which may be left on the rope, each with its length and its ±."""
    rope = Section(*result.path.in_service)
    return {
        one.finding.finding_id
        for one in evidence_on(dossier, found.on).seen
        if one.finding.section.widened(
            one.finding.place.abs_err_m + one.finding.place.rel_err_m
        ).overlaps(rope)
    }


def _may_be_done(
    result: CutResult, judged: Assessment | None, dossier: Dossier, found: WearResult
) -> bool:
    """Whether the rules leave this way open: damage that was reached goes with the cut."""
    if judged is None:
        return not result.cut.turn
    level = judged.verdict.level
    if result.cut.turn:
        return level in ("clear", "monitor")
    if level != "remove":
        return True
    reached = [one for one in judged.rulings if one.status == "reached" and one.level == "remove"]
    left = _left(dossier, found, result)
    return bool(reached) and all(
        one.finding_ids and left.isdisjoint(one.finding_ids) for one in reached
    )
