"""Which clauses of a rule set bear on a rope on a day: in force, and written for such a rope."""

from datetime import date

from ropewright.inspection import Dossier
from ropewright.inspection.evidence import evidence_on
from ropewright.rules.context import Context
from ropewright.rules.model import Clause, RuleSet


def clauses_bearing(dossier: Dossier, rule_set: RuleSet, on: date) -> tuple[Clause, ...]:
    """The clauses that are in force and whose conditions hold, or may hold.

    Parameters
    ----------
    dossier
        The rope and what it is used for.
    rule_set
        One rule set.
    on
        The day.
    """
    context = Context(
        dossier=dossier,
        evidence=evidence_on(dossier, on),
        rule_set=rule_set,
        all_rule_sets=(rule_set,),
    )
    return tuple(
        clause
        for clause in rule_set.clauses
        if context.is_in_force(clause, rule_set) and context.clause_applies(clause.when).holds
    )
