"""Ratings of different kinds of damage at one place, added up."""

from collections.abc import Iterator
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
    best: tuple[Fraction, list[_Rated]] = (Fraction(0), [])
    breaks, others = _rated(context)
    ends = {one.section.from_m for one in others}
    ends |= {
        reach.from_m for ruling in breaks for reach in context.breaks_near[ruling.ruling_id].reaches
    }
    for end in sorted(ends):
        window = Section(end - window_m, end)
        per_mode: dict[str, _Rated] = {}
        for one in others:
            if one.section.overlaps(window):
                _keep_higher(per_mode, one)
        if not per_mode:
            continue  # broken wires alone are one kind
        for one in _breaks_within(breaks, window, context):
            _keep_higher(per_mode, one)
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


def _keep_higher(per_mode: dict[str, _Rated], one: _Rated) -> None:
    if one.mode not in per_mode or one.rating > per_mode[one.mode].rating:
        per_mode[one.mode] = one


def _breaks_within(breaks: list[Ruling], window: Section, context: Context) -> Iterator[_Rated]:
    """Broken wires counted anew from the clusters that the window touches."""
    for ruling in breaks:
        near = context.breaks_near[ruling.ruling_id]
        if not any(reach.overlaps(window) for reach in near.reaches):
            continue
        found = near.rate(window)
        if found is not None:
            yield _Rated(ruling, "broken wires", found[1], found[0])


def _rated(context: Context) -> tuple[list[Ruling], list[_Rated]]:
    """Rated rulings on broken wires, and all other ratings."""
    checks = {clause.clause_id: clause.check for clause in context.rule_set.clauses}
    breaks: list[Ruling] = []
    others: list[_Rated] = []
    for ruling in context.rulings:
        rating = ruling.rating_percent
        if not rating or ruling.section is None:
            continue
        check = checks[ruling.clause_id]
        if isinstance(check, BreakCheck):
            breaks.append(ruling)
        elif isinstance(check, DiameterCheck | GradedCheck):
            mode = "diameter" if isinstance(check, DiameterCheck) else check.finding
            section = ruling.section.widened(_reach(context, ruling))
            others.append(_Rated(ruling, mode, section, rating))
    return breaks, others


def _reach(context: Context, ruling: Ruling) -> float:
    errors = [
        seen.finding.place.rel_err_m
        for seen in context.evidence.seen
        if seen.finding.finding_id in ruling.finding_ids
    ]
    return max(errors, default=0.0)
