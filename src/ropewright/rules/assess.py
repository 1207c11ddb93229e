"""Judge a dossier, clause by clause, on a date."""

from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from typing import Any, Final

from ropewright.errors import InputError
from ropewright.inspection import Dossier
from ropewright.inspection.evidence import Evidence, evidence_on
from ropewright.rules.assumptions import assumptions_used
from ropewright.rules.checks import run_check
from ropewright.rules.confirming import check_confirmations, question_of
from ropewright.rules.context import Context
from ropewright.rules.model import (
    COMPLETENESS_CHECKS,
    OWN_CHECKS,
    Clause,
    CombinedCheck,
    CoverageCheck,
    EventCheck,
    GreaseCheck,
    ItemsCheck,
    PersonCheck,
    ReadingsCheck,
    RuleSet,
    VanishedCheck,
)
from ropewright.rules.ruling import Assessment, RuleSetUsed, Ruling
from ropewright.rules.verdict import verdict_of

#: Checks that ask what the latest inspection did; they cannot be passed before it is finished.
OF_THE_INSPECTION: Final = (
    CoverageCheck, GreaseCheck, ItemsCheck, PersonCheck, ReadingsCheck, VanishedCheck,
)  # fmt: skip


def assess(
    dossier: Dossier, rule_sets: Sequence[RuleSet], as_of: date, *, software: str
) -> Assessment:
    """Judge a rope against every rule set on a date.

    Parameters
    ----------
    dossier : Dossier
        Everything known of the rope.
    rule_sets : sequence of RuleSet
        The chosen rule sets and, beside them, Ropewright's own checks.
    as_of : date
        The date for which the rope is judged; later inspections do not exist yet.
    software : str
        Name and version kept in the result.

    Raises
    ------
    InputError
        If no published or house rule is chosen: there is no default edition.
    UnknownNameError
        If a confirmation names a clause that its rule set does not have.
    """
    chosen = [one for one in rule_sets if one.rule_set_id != OWN_CHECKS]
    if not chosen:
        raise InputError(
            field="rules",
            expected="at least one rule set: there is no default edition",
            given="none",
        )
    check_confirmations(dossier.installation, rule_sets)
    evidence = evidence_on(dossier, as_of)
    rulings: list[Ruling] = []
    shared: dict[Any, Any] = {}
    for rule_set in rule_sets:
        rulings.extend(_judge(dossier, evidence, rule_set, tuple(rule_sets), shared))
    verdict = verdict_of(tuple(rulings), evidence, tuple(rule_sets))
    return Assessment(
        rope_id=dossier.rope.rope_id,
        as_of=as_of.isoformat(),
        software=software,
        verdict=verdict,
        rulings=tuple(rulings),
        rule_sets=tuple(
            RuleSetUsed(
                rule_set=one.rule_set_id, title=one.title, edition=one.edition,
                rules_hash=one.rules_hash, notice=one.notice,
                why_used="used beside every chosen rule"
                if one.rule_set_id == OWN_CHECKS
                else "chosen for this installation",
            )
            for one in rule_sets
        ),
        assumptions=assumptions_used(tuple(rulings)),
        inspections_used=tuple(one.inspection_id for one in evidence.current),
    )  # fmt: skip


def _judge(
    dossier: Dossier,
    evidence: Evidence,
    rule_set: RuleSet,
    all_rule_sets: tuple[RuleSet, ...],
    shared: dict[Any, Any],
) -> list[Ruling]:
    context = Context(
        dossier=dossier,
        evidence=evidence,
        rule_set=rule_set,
        all_rule_sets=all_rule_sets,
        worked_out=shared,
    )
    last: list[Clause] = []
    for clause in rule_set.clauses:
        if isinstance(clause.check, CombinedCheck):
            last.append(clause)  # it adds up what the others found
        else:
            _clause(clause, context)
    for clause in last:
        _clause(clause, context)
    context.breaks_near.clear()  # they hold the context, which would outlive the judging
    return context.rulings


def _clause(clause: Clause, context: Context) -> None:
    if not context.is_in_force(clause, context.rule_set):
        context.add(clause, status="not in force", words="not in force on this date")
        return
    if not context.clause_applies(clause.when).holds:
        context.add(clause, status="not applicable", words="does not apply to this rope or use")
        return
    context.judge_for(clause)
    latest = context.latest
    needs_inspection = not isinstance(clause.check, (*COMPLETENESS_CHECKS, EventCheck))
    if latest is None and needs_inspection:
        context.add(
            clause, status="not assessable", words="no inspection is on record",
            missing=("an inspection",), how_to_get=("inspect the rope and record it",),
        )  # fmt: skip
        return
    if clause.at and latest is not None and latest.kind not in clause.at:
        context.add(
            clause, status="not applicable", words=f"not asked for at a {latest.kind} inspection"
        )
        return
    if latest is not None and not latest.finished and isinstance(clause.check, OF_THE_INSPECTION):
        context.add(
            clause, status="not assessable", words=f"{latest.kind} inspection is not finished",
            missing=("the rest of the inspection",), how_to_get=("finish it and say so",),
            inspection_id=latest.inspection_id,
        )  # fmt: skip
        return
    run_check(clause, context)
    asked = question_of(context.dossier.installation, context.rule_set, clause, context.as_of)
    if asked is not None:
        question, words = asked
        context.add(question, status="reached", words=words, share=Fraction(1))
