"""Which kinds of finding the chosen rules speak of with a limit of their own."""

from collections.abc import Container, Iterator
from fractions import Fraction

from ropewright.inspection import DiameterReading
from ropewright.rules import model
from ropewright.rules.context import Context
from ropewright.rules.more_checks import MetallicLossCheck, NoLimitCheck

_WEIGHTY = ("remove", "decide")
_WHOLE_ROPE = ("anywhere", "not at an end")


def kinds_named(
    context: Context, *, besides: Container[str], with_weight: bool = False
) -> frozenset[str]:
    """Kinds of finding for which a chosen rule has a clause that applies and is in force.

    ``besides`` are ids of rule sets that do not count.  ``with_weight`` takes only published
    clauses that demand removal or a decision: a house rule with a generous number must not
    silence a question.  Broken wires are named only by a clause on breaks of the whole rope, a
    diameter only by a clause on its decrease.
    """
    return frozenset(
        kind
        for rule_set in context.all_rule_sets
        if rule_set.rule_set_id not in besides
        for clause in rule_set.clauses
        if not with_weight or (clause.demand in _WEIGHTY and clause.provenance != "own")
        if context.is_in_force(clause, rule_set) and context.clause_applies(clause.when).holds
        for kind in _kinds(clause.check)
    )


def kinds_without_number(context: Context) -> frozenset[str]:
    """Kinds of finding of which a chosen rule says that it gives no number."""
    return frozenset(
        kind
        for rule_set in context.all_rule_sets
        for clause in rule_set.clauses
        if isinstance(clause.check, NoLimitCheck)
        and context.is_in_force(clause, rule_set)
        and context.clause_applies(clause.when).holds
        for kind in clause.check.findings
    )


def is_lessened(reading: DiameterReading, nominal_mm: Fraction) -> bool | None:
    """Whether a reading lies below nominal; ``None`` if one reading of the pair is missing.

    Parameters
    ----------
    reading
        The pair of readings.
    nominal_mm
        Nominal diameter [mm].
    """
    measured = reading.measured_mm
    return None if measured is None else measured < nominal_mm


def _kinds(check: model.Check) -> Iterator[str]:
    if isinstance(check, model.BreakCheck):
        if "crown" in check.sites and check.where in _WHOLE_ROPE:
            yield "broken wires"
    elif isinstance(check, model.DiameterCheck):
        if check.change == "decrease":
            yield "diameter"
    elif isinstance(check, model.FoundCheck):
        yield from check.findings
    elif isinstance(check, model.GradedCheck):
        yield check.finding
    elif isinstance(check, model.WornWireCheck):
        yield "abrasion"
    elif isinstance(check, model.WaveCheck):
        yield "waviness"
    elif isinstance(check, MetallicLossCheck):
        yield "metallic loss"
