"""Planning one inspection: judge the rope as it is known, then plan what to look at next."""

from collections.abc import Sequence
from datetime import date

from ropewright.desk.judging import RuleShelf, choose_rule_sets, judge
from ropewright.inspection import Dossier
from ropewright.plan import InspectionPlan, plan_inspection
from ropewright.rules import Assessment


def plan_for(
    dossier: Dossier,
    shelf: RuleShelf,
    as_of: date,
    *,
    software: str,
    added: Sequence[str] = (),
) -> tuple[InspectionPlan, Assessment]:
    """The plan of an inspection on a day, and what the rules say of the rope before it.

    Raises
    ------
    InputError
        If too little is known of the rigging; names the number to give.
    """
    rule_sets = choose_rule_sets(dossier, shelf, added=added)
    assessment = judge(dossier, shelf, as_of, software=software, added=added)
    plan = plan_inspection(dossier, assessment.verdict, as_of, rule_sets=rule_sets)
    return plan, assessment
