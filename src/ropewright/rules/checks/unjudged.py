"""Damage that the chosen rules name by kind, but give nothing for in its form or grade."""

from ropewright.inspection import Damage
from ropewright.rules import model
from ropewright.rules.checks.damage import may_count, named_damage
from ropewright.rules.checks.named import kinds_named, kinds_without_number
from ropewright.rules.context import Context
from ropewright.rules.model import OWN_CHECKS, Clause
from ropewright.rules.more_checks import UnjudgedCheck
from ropewright.rules.words import place_words


def check_unjudged(clause: Clause, _check: UnjudgedCheck, context: Context) -> None:
    """A finding that every clause leaves out is told, and watched: it was not passed."""
    named = kinds_named(context, besides={OWN_CHECKS}) - kinds_without_number(context)
    made = False
    for finding, inspection in context.evidence.damage():
        if finding.kind not in named or _is_judged(finding, context):
            continue
        made = True
        where = place_words(finding.section, finding.place.abs_err_m)
        context.add(
            clause, status="reached",
            words=f"{named_damage(finding)} {where}: judged by no clause of the chosen rules",
            section=finding.section, section_err_m=finding.place.abs_err_m,
            finding_ids=(finding.finding_id,), inspection_id=inspection.inspection_id,
        )  # fmt: skip
    if not made:
        context.add(clause, status="below", words="no finding is left without a clause")


def _is_judged(finding: Damage, context: Context) -> bool:
    return any(
        _speaks_of(one.check, finding, context)
        for rule_set in context.all_rule_sets
        if rule_set.rule_set_id != OWN_CHECKS
        for one in rule_set.clauses
        if context.is_in_force(one, rule_set) and context.clause_applies(one.when).holds
    )


def _speaks_of(check: model.Check, finding: Damage, context: Context) -> bool:
    if isinstance(check, model.FoundCheck):
        return may_count(check, finding, context)
    if isinstance(check, model.GradedCheck):
        return check.finding == finding.damage and (
            not check.forms or finding.form is None or finding.form in check.forms
        )
    return isinstance(check, model.WornWireCheck) and finding.damage == "abrasion"
