"""Planning one inspection: judge the rope as it is known, then plan what to look at next."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import Final

from ropewright.desk.judging import RuleShelf, choose_rule_sets, judge
from ropewright.geometry import PathPlace
from ropewright.inspection import Dossier, hoist_on
from ropewright.plan import InspectionPlan, Listed, TroubleSpot, plan_inspection, reaches_of
from ropewright.rules import Assessment
from ropewright.wear.top_sections import WornSection

MOST_WORN: Final = "most worn by the duty log"
SHORT_M: Final = 5.0
"""A section shorter than this is looked at from one position of the crane; own choice."""
BY_THE_LOG: Final = Listed(rule="the duty log", clause="wear along the rope", provenance="own")


def plan_for(
    dossier: Dossier,
    shelf: RuleShelf,
    as_of: date,
    *,
    software: str,
    added: Sequence[str] = (),
    worn: Sequence[WornSection] = (),
) -> tuple[InspectionPlan, Assessment]:
    """The plan of an inspection on a day, and what the rules say of the rope before it.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    shelf
        Where its rule sets come from.
    as_of
        The day of the inspection.
    software
        Name and version.
    added
        Names of added rule sets.
    worn
        The most worn sections by a duty log, the worst first: places to look at.

    Raises
    ------
    InputError
        If too little is known of the rigging; names the number to give.
    """
    rule_sets = choose_rule_sets(dossier, shelf, added=added)
    assessment = judge(dossier, shelf, as_of, software=software, added=added)
    plan = plan_inspection(dossier, assessment.verdict, as_of, rule_sets=rule_sets)
    spots = tuple(_worn_spot(dossier, one, as_of) for one in worn)
    return replace(plan, trouble=(*spots, *plan.trouble)), assessment


def _worn_spot(dossier: Dossier, one: WornSection, on: date) -> TroubleSpot:
    """A worn section as a place where damage is to be expected, with a way to look at it."""
    path, reach = dossier.history.at(on), None
    middle = (one.section.from_m + one.section.to_m) / 2
    if one.section.length_m < SHORT_M and path.is_in_service(middle):
        ways, _ = reaches_of(hoist_on(dossier, on), PathPlace(at_m=path.to_path_m(middle)))
        reach = ways[0] if ways else None
    return TroubleSpot(
        item=MOST_WORN,
        words=f"worn by {one.words}",
        sections=(one.section,),
        lists=(BY_THE_LOG,),
        reach=reach,
    )
