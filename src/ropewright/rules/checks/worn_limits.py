"""Fewer broken wires are allowed where the outer wires are worn as well."""

from dataclasses import replace
from fractions import Fraction

from ropewright.geometry import Section
from ropewright.inspection import Damage
from ropewright.rules.checks.break_limits import Limit
from ropewright.rules.context import Context
from ropewright.rules.ruling import Step
from ropewright.rules.tables import Table
from ropewright.rules.words import listing, number


def worn_limit(limit: Limit, factors: Table, context: Context, place: Section) -> Limit:
    """The limit times the printed factor for the worst wear at a place.

    Wear counts where it may lie at the place, errors included.  Wear whose depth nobody stated
    takes the smallest factor.
    """
    if limit.value is None:
        return limit
    worn = [
        finding
        for finding, _ in context.evidence.damage()
        if finding.damage == "abrasion"
        and finding.section.widened(finding.place.abs_err_m).overlaps(place)
    ]
    if not worn:
        return limit
    factor, depth = min((_factor(factors, one), _depth_words(one)) for one in worn)
    value = limit.value * factor
    step = Step(
        says="fewer are allowed where outer wires are worn",
        value=f"{number(limit.value)} × {number(factor)} = {number(value)}",
        origin=f"{depth}: {listing([one.finding_id for one in worn])}",
    )
    return replace(limit, value=value, steps=(*limit.steps, step))


def _depth_words(finding: Damage) -> str:
    depth = finding.depth_share
    return "depth not stated" if depth is None else f"worn by {number(depth * 100)} %"


def _factor(factors: Table, finding: Damage) -> Fraction:
    found = Fraction(1)
    for row in factors.rows:
        from_percent, factor = row.number("worn_percent"), row.number("factor")
        if from_percent is None or factor is None:
            continue
        if finding.depth_share is None or finding.depth_share * 100 >= from_percent:
            found = min(found, factor)
    return found
