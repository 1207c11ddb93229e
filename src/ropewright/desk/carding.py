"""Making the field card of one rope: judge it, plan as far as the rigging allows, put it down."""

from collections.abc import Sequence
from datetime import date

from ropewright.card import FieldCard, field_card
from ropewright.desk.judging import RuleShelf, choose_rule_sets, judge
from ropewright.errors import InputError
from ropewright.inspection import Dossier
from ropewright.plan import InspectionPlan, plan_inspection


def card_for(
    dossier: Dossier,
    shelf: RuleShelf,
    today: date,
    *,
    software: str,
    added: Sequence[str] = (),
    book_head: str = "",
    told: Sequence[str] = (),
) -> FieldCard:
    """The field card of one rope.

    Where too little is known of the rigging the card has no plan and says what to give.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    shelf
        Where its rule sets come from.
    today
        The day of the card.
    software
        Name and version.
    added
        Rule sets on top of its own.
    book_head
        Head hash of the logbook, empty for a case file.
    told
        What else the last shift leaves open.
    """
    rule_sets = choose_rule_sets(dossier, shelf, added=added)
    assessment = judge(dossier, shelf, today, software=software, added=added)
    plan: InspectionPlan | None = None
    missing = ""
    try:
        plan = plan_inspection(dossier, assessment.verdict, today, rule_sets=rule_sets)
    except InputError as error:
        missing = str(error)
    return field_card(
        dossier, assessment, plan, rule_sets, today,
        plan_missing=missing, book_head=book_head, told=told,
    )  # fmt: skip
