"""A clause held against somebody's own copy of the standard: it agrees, or it is a question.

A value from memory keeps its provenance for ever; a confirmation is added beside it, with the
person, the day and the edition.  Where the copy says something else, the clause is still judged
as it stands, and the difference is a ruling of its own for the competent person.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from ropewright.errors import UnknownNameError
from ropewright.inspection import Confirmation, Installation
from ropewright.rules.model import Clause, RuleSet


def confirmation_of(
    installation: Installation, rule_set: RuleSet, clause_id: str, as_of: date
) -> Confirmation | None:
    """The newest confirmation of a clause on a date; of one day, a 'no' goes before a 'yes'."""
    known = [
        one
        for one in installation.confirmed
        if one.rule_set == rule_set.rule_set_id and one.clause_id == clause_id and one.on <= as_of
    ]
    return max(known, key=lambda one: (one.on, not one.agrees)) if known else None


def confirmed_words(
    installation: Installation, rule_set: RuleSet, clause: Clause, as_of: date
) -> str:
    """The label of a clause that agrees with somebody's own copy; empty if nobody says so."""
    if not installation.confirmed:
        return ""
    one = confirmation_of(installation, rule_set, clause.clause_id, as_of)
    if one is None or not one.agrees:
        return ""
    weaker = "memory" if "memory" in (clause.provenance, clause.clause_provenance) else ""
    what = weaker or clause.provenance
    return f"{what}, confirmed by {one.by} on {one.on.isoformat()} against {one.edition}"


def question_of(
    installation: Installation, rule_set: RuleSet, clause: Clause, as_of: date
) -> tuple[Clause, str] | None:
    """A clause of its own, with its words, where somebody's own copy says something else."""
    one = confirmation_of(installation, rule_set, clause.clause_id, as_of)
    if one is None or one.agrees:
        return None
    remark = f": {one.remark}" if one.remark else ""
    words = (
        f"{one.by} found on {one.on.isoformat()} that {one.edition} differs from what stands "
        f"here for '{clause.title}'{remark}"
    )
    asked = replace(
        clause,
        clause_id=f"{clause.clause_id}.differs",
        title=f"Own copy differs: {clause.title}",
        demand="decide",
        remedy=("inspect closer",),
        who="competent person",
        by_when="before further use",
        note="Judge by the copy. The value that stands here was used all the same.",
    )
    return asked, words


def check_confirmations(installation: Installation, rule_sets: Sequence[RuleSet]) -> None:
    """Refuse a confirmation of a clause that its rule set does not have.

    Raises
    ------
    UnknownNameError
        Naming the clause and near ones.
    """
    by_id = {one.rule_set_id: one for one in rule_sets}
    for number, one in enumerate(installation.confirmed, 1):
        rule_set = by_id.get(one.rule_set)
        if rule_set is None:
            continue  # a rule set that is not used now
        known = [clause.clause_id for clause in rule_set.clauses]
        if one.clause_id not in known:
            raise UnknownNameError(
                what=f"a clause of {rule_set.rule_set_id}",
                field=f"installation.confirmed[{number}].clause",
                given=one.clause_id,
                known=known,
            )
