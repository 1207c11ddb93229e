"""Findings for which a rule gives no number: the competent person decides, and it is said so."""

from fractions import Fraction

from ropewright.inspection import DiameterReading
from ropewright.inspection.evidence import Seen
from ropewright.rules.checks.named import is_lessened, kinds_named
from ropewright.rules.context import Context
from ropewright.rules.model import OWN_CHECKS, Clause
from ropewright.rules.more_checks import NoLimitCheck
from ropewright.rules.words import listing, place_words


def check_no_limit(clause: Clause, check: NoLimitCheck, context: Context) -> None:
    """One ruling for every finding of these kinds that no other chosen rule has a number for."""
    besides = {context.rule_set.rule_set_id, OWN_CHECKS}
    elsewhere = kinds_named(context, besides=besides, with_weight=True) & set(check.findings)
    made = False
    for seen in context.evidence.seen:
        if seen.finding.kind in check.findings and seen.finding.kind not in elsewhere:
            made |= _rule(clause, context, seen)
    if made:
        return
    if elsewhere:
        context.add(
            clause, status="not applicable",
            words=f"this rule gives no number; another chosen rule judges "
            f"{listing(sorted(elsewhere))}",
        )  # fmt: skip
        return
    context.add(
        clause, status="below", share=Fraction(0),
        words=f"this rule gives no number, and no {' or '.join(check.findings)} was found",
    )  # fmt: skip


def _rule(clause: Clause, context: Context, seen: Seen) -> bool:
    finding = seen.finding
    where = place_words(finding.section, finding.place.abs_err_m)
    common: dict[str, object] = {
        "section": finding.section,
        "section_err_m": finding.place.abs_err_m,
        "finding_ids": (finding.finding_id,),
        "inspection_id": seen.inspection.inspection_id,
    }
    if isinstance(finding, DiameterReading):
        lessened = is_lessened(finding, context.diameter_mm)
        if lessened is False:
            return False
        if lessened is None:
            context.add(
                clause, status="not assessable",
                words=f"diameter {where}: the second reading is missing",
                missing=("the second reading at right angles",),
                how_to_get=("measure twice at right angles at the same place",), **common,
            )  # fmt: skip
            return True
    context.add(
        clause, status="reached", share=Fraction(1),
        words=f"{finding.kind} {where}: this rule gives no number, "
        "so the competent person decides", **common,
    )  # fmt: skip
    return True
