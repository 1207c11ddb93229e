"""The plan of an inspection, put together from the geometry, the evidence and the rules' lists."""

from collections.abc import Sequence
from datetime import date

from ropewright.errors import InputError
from ropewright.geometry import AXES, AXIS_WORDS
from ropewright.inspection import Asked, Dossier, RiggedHoist, exposures_on, hoist_on
from ropewright.inspection.evidence import evidence_on
from ropewright.plan.again import look_again
from ropewright.plan.assumed import ASSUMED
from ropewright.plan.doubts import doubts_of
from ropewright.plan.gap_walks import walks_into_gaps
from ropewright.plan.model import InspectionPlan, Unseen
from ropewright.plan.order import total_minutes, work_steps
from ropewright.plan.passes import chosen_passes, known_hands_off, unseen_by
from ropewright.plan.trouble import listed_in, trouble_spots
from ropewright.plan.views import AT_THE_DRUM, places_of, views_of
from ropewright.rules import RuleSet, Verdict

_POINT = Asked(key="point", words="a [[rigging.point]] for each place where a person can be")


def plan_inspection(
    dossier: Dossier, verdict: Verdict, today: date, *, rule_sets: Sequence[RuleSet] = ()
) -> InspectionPlan:
    """What to see, from where, how and in which order; and what stays unseen and why.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    verdict
        What the rules say of the rope before this inspection.
    today
        The day of the inspection.
    rule_sets
        The chosen rule sets, whose lists name the places where damage is to be expected.

    Raises
    ------
    InputError
        If too little is known of the rigging; names the number to give.
    """
    rigged = hoist_on(dossier, today)
    _check_limits(rigged)
    path = dossier.history.at(today)
    evidence = evidence_on(dossier, today)
    service = evidence.service
    views = views_of(rigged, path)
    views = (*views, *walks_into_gaps(rigged, path, views, service))
    passes = chosen_passes(views, service, known_hands_off(evidence), path, rigged)
    err_m = max((view.err_m for view in views), default=0.0)
    unseen: list[Unseen] = []
    for method in ("eye", "feel"):
        if method == "eye" or any(one.method == "feel" for one in passes):
            unseen += unseen_by(method, passes, rigged, path, service, err_m)
    trouble, parts = trouble_spots(rigged, path, listed_in(rule_sets, dossier, today))
    return InspectionPlan(
        rope_id=dossier.rope.rope_id,
        on=today,
        invented=dossier.invented,
        service=service,
        by_payout=rigged.by_payout,
        asked=_asked(rigged),
        err_m=err_m,
        views=views,
        passes=passes,
        unseen=tuple(unseen),
        trouble=trouble,
        parts=parts,
        again=look_again(dossier, evidence, rigged, path),
        steps=work_steps(dossier, verdict, rigged, passes),
        assumptions=ASSUMED,
        minutes=total_minutes(passes),
        calibration=rigged.calibration,
        doubts=(*doubts_of(rigged), *exposures_on(dossier, today).contradictions),
    )


def _asked(rigged: RiggedHoist) -> tuple[Asked, ...]:
    places = () if places_of(rigged) != (AT_THE_DRUM,) else (_POINT,)
    return (*rigged.asked, *rigged.asked_for_drum, *rigged.asked_for_bends, *places)


def _check_limits(rigged: RiggedHoist) -> None:
    for axis in AXES:
        if axis in rigged.hoist.reeving.axes and rigged.hoist.travel.range_of(axis) is None:
            raise InputError(
                field="rigging",
                expected=f"the limits of {AXIS_WORDS[axis]}, for a plan",
                given=None,
            )
