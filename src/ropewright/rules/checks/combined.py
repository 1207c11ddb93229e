"""Ratings of different kinds of damage at one place, added up."""

from dataclasses import dataclass
from fractions import Fraction

from ropewright.geometry import Section
from ropewright.rules.context import Context
from ropewright.rules.model import BreakCheck, Clause, CombinedCheck, DiameterCheck, GradedCheck
from ropewright.rules.ruling import Found, Ruling, Step
from ropewright.rules.words import listing, number, place_words


@dataclass(frozen=True, slots=True)
class _Rated:
    ruling: Ruling
    mode: str
    section: Section
    rating: Fraction


def check_combined(clause: Clause, check: CombinedCheck, context: Context) -> None:
    """Add the highest rating of each kind of damage within one place.

    Only ratings of this rule set count.  Two ratings belong to one place when one window can
    touch both, wherever their places may lie relative to each other.
    """
    window_m = float(context.window(check.window).longest_mm) / 1000
    rated = _rated(context)
    best: tuple[Fraction, list[_Rated]] = (Fraction(0), [])
    for anchor in rated:
        start = anchor.section.from_m - window_m
        touched = [
            one
            for one in rated
            if one.section.from_m <= start + window_m and one.section.to_m >= start
        ]
        per_mode: dict[str, _Rated] = {}
        for one in touched:
            if one.mode not in per_mode or one.rating > per_mode[one.mode].rating:
                per_mode[one.mode] = one
        total = sum((one.rating for one in per_mode.values()), Fraction(0))
        if len(per_mode) > 1 and total > best[0]:
            best = (total, list(per_mode.values()))
    total, parts = best
    if not parts:
        context.add(
            clause, status="below", words="no two kinds of damage at one place",
            limit=check.limit_percent, share=Fraction(0),
        )  # fmt: skip
        return
    section = Section(
        min(one.section.from_m for one in parts), max(one.section.to_m for one in parts)
    )
    err_m = max(one.ruling.section_err_m for one in parts)
    names = listing([f"{one.mode} {number(one.rating)} %" for one in parts])
    context.add(
        clause,
        status="reached" if total >= check.limit_percent else "below",
        words=f"{names} {place_words(section, err_m)}: together {number(total)} %",
        compare="reached", limit=check.limit_percent, window=check.window,
        found=Found(lower=total, upper=total, unit="% toward discard"),
        share=total / check.limit_percent, section=section, section_err_m=err_m,
        finding_ids=tuple(dict.fromkeys(i for one in parts for i in one.ruling.finding_ids)),
        steps=(
            context.window(check.window).step,
            *(
                Step(says=f"rating for {one.mode}", value=f"{number(one.rating)} %",
                     origin=one.ruling.ruling_id)
                for one in parts
            ),
            Step(says="sum at this place", value=f"{number(total)} %"),
        ),
    )  # fmt: skip


def _rated(context: Context) -> list[_Rated]:
    checks = {clause.clause_id: clause.check for clause in context.rule_set.clauses}
    rated = []
    for ruling in context.rulings:
        rating = ruling.rating_percent
        if not rating or ruling.section is None or ruling.rule_set != context.rule_set.rule_set_id:
            continue
        check = checks[ruling.clause_id]
        if isinstance(check, BreakCheck):
            mode = "broken wires"
        elif isinstance(check, DiameterCheck):
            mode = "diameter"
        elif isinstance(check, GradedCheck):
            mode = check.finding
        else:
            continue
        # A window may lie anywhere over the breaks it holds, so take the whole of it.
        reach_m = _reach(context, ruling)
        rated.append(_Rated(ruling, mode, ruling.section.widened(reach_m), rating))
    return sorted(rated, key=lambda one: one.section)


def _reach(context: Context, ruling: Ruling) -> float:
    errors = [
        seen.finding.place.rel_err_m
        for seen in context.evidence.seen
        if seen.finding.finding_id in ruling.finding_ids
    ]
    return max(errors, default=0.0)
