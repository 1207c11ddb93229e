"""Every limit on findings, worked out for one rope before anything is found.

What a person at the rope needs without any office behind: the numbers, with their windows,
comparisons and clauses.  A limit that no number can be read for, and a clause that needs more
than one finding to be judged, stays a question for the office and says why.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Any, TypeAlias

from ropewright.inspection import Dossier
from ropewright.inspection.evidence import Evidence, evidence_on
from ropewright.rules import model
from ropewright.rules.checks.break_limits import Limit, limit_for
from ropewright.rules.checks.diameter import baseline_for, diameter_limit
from ropewright.rules.context import Context, Window
from ropewright.rules.limits import limit_words
from ropewright.rules.model import COMPLETENESS_CHECKS, Clause, RuleSet
from ropewright.rules.more_checks import MetallicLossCheck, NoLimitCheck
from ropewright.rules.ruling import Comparison, Level, Provenance
from ropewright.rules.words import baseline_words, listing


@dataclass(frozen=True, slots=True, kw_only=True)
class ClauseWords:
    """What is said of a clause wherever it is named; ``at`` are the inspections it speaks of."""

    limit_id: str
    cite: str
    title: str
    words: str
    provenance: Provenance
    demand: Level
    remedy: tuple[str, ...]
    who: str
    by_when: str
    at: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """``value`` [-] counts broken wires, ``None`` with what is missing; ``unknown``: why strict."""

    value: Fraction | None
    missing: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CountLimit:
    """Broken wires in a window of ``shortest_mm`` to ``longest_mm`` [mm] of this rope.

    ``single`` holds everywhere, ``multi`` where the whole place lies in a crossover and a person
    says so.  ``worn`` [-] are factors, each behind the worn share of the outer wires [%].
    """

    clause: ClauseWords
    sites: tuple[str, ...]
    window: str
    shortest_mm: Fraction
    longest_mm: Fraction
    per: str
    where: str
    protruding_only: bool
    steel_sheaves_only: bool
    compare: Comparison
    single: Figure
    multi: Figure
    worn: tuple[tuple[Fraction, Fraction], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BunchedLimit:
    """Broken wires in neighbouring strands where the rope does not spool, windows in [mm]."""

    clause: ClauseWords
    strands: int
    least: int
    window: str
    shortest_mm: Fraction
    longest_mm: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class DiameterLimit:
    """A change of diameter against ``baseline_mm`` [mm].

    ``limit`` [%] or [mm], as ``unit`` says; percent of ``of_mm`` [mm].
    """

    clause: ClauseWords
    change: str
    baseline: str
    baseline_mm: Fraction
    of_mm: Fraction
    limit: Fraction
    unit: str
    compare: Comparison
    except_crushed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class WaveLimit:
    """A gap ``limit_mm`` [mm] under a straight edge, on rope that bends or never bends."""

    clause: ClauseWords
    limit_mm: Fraction
    section_bends: bool
    compare: Comparison


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundLimit:
    """Damage that counts as soon as it is found; ``ratings`` [%] by grade where it is rated."""

    clause: ClauseWords
    findings: tuple[str, ...]
    forms: tuple[str, ...] = ()
    grades: tuple[str, ...] = ()
    on_bending_rope: bool | None = None
    ratings: Mapping[str, Fraction] | None = None
    limit_percent: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WornLimit:
    """Outer wires worn by ``share`` [-] of their diameter."""

    clause: ClauseWords
    share: Fraction
    compare: Comparison


@dataclass(frozen=True, slots=True, kw_only=True)
class PartLimit:
    """Findings on parts; no states named means any."""

    clause: ClauseWords
    parts: tuple[str, ...]
    states: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OfficeLimit:
    """A clause that cannot be judged at the rope, and why."""

    clause: ClauseWords
    why: str


ResolvedLimit: TypeAlias = (
    CountLimit
    | BunchedLimit
    | DiameterLimit
    | WaveLimit
    | FoundLimit
    | WornLimit
    | PartLimit
    | OfficeLimit
)


def resolved_limits(
    dossier: Dossier, rule_sets: Sequence[RuleSet], as_of: date
) -> tuple[ResolvedLimit, ...]:
    """Every limit of the rule sets that holds for this rope on a date.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    rule_sets
        The chosen rule sets and our own checks.
    as_of
        The day.
    """
    evidence = evidence_on(dossier, as_of)
    shared: dict[Any, Any] = {}
    return tuple(
        limit
        for rule_set in rule_sets
        for limit in _of_one(dossier, evidence, rule_set, tuple(rule_sets), shared)
    )


def _of_one(
    dossier: Dossier,
    evidence: Evidence,
    rule_set: RuleSet,
    all_rule_sets: tuple[RuleSet, ...],
    shared: dict[Any, Any],
) -> Iterator[ResolvedLimit]:
    context = Context(
        dossier=dossier, evidence=evidence, rule_set=rule_set,
        all_rule_sets=all_rule_sets, worked_out=shared,
    )  # fmt: skip
    for clause in rule_set.clauses:
        if not context.is_in_force(clause, rule_set):
            continue
        if not context.clause_applies(clause.when).holds:
            continue
        limit = _resolved(clause, context)
        if limit is not None:
            yield limit


def _words(clause: Clause, context: Context) -> ClauseWords:
    rules = context.rule_set
    joint = "" if clause.clause.startswith("(") else ", "
    return ClauseWords(
        limit_id=f"{rules.rule_set_id}/{clause.clause_id}",
        cite=f"{rules.short}{joint}{clause.clause}",
        title=clause.title,
        words=limit_words(clause),
        provenance=clause.provenance,
        demand=clause.demand,
        remedy=clause.remedy,
        who=clause.who,
        by_when=clause.by_when,
        at=clause.at,
    )


def _resolved(clause: Clause, context: Context) -> ResolvedLimit | None:
    check, words = clause.check, _words(clause, context)
    if isinstance(check, model.BreakCheck):
        return _count(words, check, context)
    if isinstance(check, model.BunchedCheck):
        window = context.window(check.window)
        return BunchedLimit(
            clause=words, strands=check.strands, least=check.least, window=window.words,
            shortest_mm=window.shortest_mm, longest_mm=window.longest_mm,
        )  # fmt: skip
    if isinstance(check, model.DiameterCheck):
        return _diameter(words, check, context)
    if isinstance(check, model.WaveCheck):
        return WaveLimit(
            clause=words, limit_mm=check.share_of_diameter * context.diameter_mm,
            section_bends=check.section_bends, compare=check.compare,
        )  # fmt: skip
    return _of_damage(words, check)


def _of_damage(words: ClauseWords, check: model.Check) -> ResolvedLimit | None:
    if isinstance(check, model.FoundCheck):
        return FoundLimit(
            clause=words, findings=check.findings, forms=check.forms, grades=check.grades,
            on_bending_rope=check.on_bending_rope,
        )  # fmt: skip
    if isinstance(check, model.GradedCheck):
        return FoundLimit(
            clause=words, findings=(check.finding,), forms=check.forms, ratings=check.ratings,
            limit_percent=check.limit_percent,
        )  # fmt: skip
    if isinstance(check, model.WornWireCheck):
        return WornLimit(clause=words, share=check.share, compare=check.compare)
    if isinstance(check, model.PartCheck):
        return PartLimit(clause=words, parts=check.parts, states=check.states)
    why = _why_office(check)
    return OfficeLimit(clause=words, why=why) if why else None


def _why_office(check: model.Check) -> str:
    """Why a clause is left to the office; empty where it speaks of no finding."""
    if isinstance(check, model.CombinedCheck):
        return "adds up different kinds of damage at one place"
    if isinstance(check, MetallicLossCheck):
        return "needs the result of a magnetic rope test"
    if isinstance(check, NoLimitCheck):
        return "the rule gives no number: the competent person decides"
    if isinstance(check, model.EventCheck):
        return "looks at the events on record"
    if isinstance(check, model.UnnamedCheck):
        return "looks for findings that no other clause names"
    if isinstance(check, (*COMPLETENESS_CHECKS, model.GreaseCheck)):
        return ""
    return "is judged in the office"


def _figure(limit: Limit) -> Figure:
    return Figure(value=limit.value, missing=limit.missing, unknown=limit.unknown)


def _count(words: ClauseWords, check: model.BreakCheck, context: Context) -> CountLimit:
    window: Window = context.window(check.window)
    worn = () if check.wear_factors is None else check.wear_factors.rows
    factors = ((row.number("worn_percent"), row.number("factor")) for row in worn)
    return CountLimit(
        clause=words,
        sites=tuple(check.sites),
        window=window.words,
        shortest_mm=window.shortest_mm,
        longest_mm=window.longest_mm,
        per=check.per,
        where=check.where,
        protruding_only=check.protruding_only,
        steel_sheaves_only=check.steel_sheaves_only,
        compare=check.compare,
        single=_figure(limit_for(check, context, "single")),
        multi=_figure(limit_for(check, context, "multi")),
        worn=tuple((worn, by) for worn, by in factors if worn is not None and by is not None),
    )


def _diameter(
    words: ClauseWords, check: model.DiameterCheck, context: Context
) -> DiameterLimit | OfficeLimit:
    limit, unit = diameter_limit(check, context)
    baseline = baseline_for(check, context)
    if limit is None or baseline is None:
        lacks = ["a limit for this rope"] if limit is None else []
        lacks += [f"the {baseline_words(check.baseline)}"] if baseline is None else []
        return OfficeLimit(clause=words, why=f"{listing(lacks)} is not known")
    return DiameterLimit(
        clause=words,
        change=check.change,
        baseline=baseline_words(check.baseline),
        baseline_mm=baseline,
        of_mm=context.diameter_mm if check.percent_of == "nominal" else baseline,
        limit=limit,
        unit=unit,
        compare=check.compare,
        except_crushed=check.except_crushed,
    )
