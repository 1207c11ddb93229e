"""From many rulings to one verdict: the strictest governs, nothing is averaged."""

from fractions import Fraction
from typing import Final

from ropewright.inspection import felt_only, seen_only, unseen
from ropewright.inspection.evidence import Evidence
from ropewright.rules.model import OWN_CHECKS, AfterEventCheck, IdleCheck, RuleSet
from ropewright.rules.ruling import (
    LEVEL_WORDS,
    LEVELS,
    PROVENANCES,
    Level,
    Ruling,
    Verdict,
)

#: 'By when' words that mean: not before somebody has acted.
AT_ONCE: Final = ("at once", "before further use")

#: Who completes an inspection, and by when.
COMPLETES: Final = "inspector; the competent person decides whether the rope works meanwhile"
COMPLETE_BY: Final = "before this inspection is signed"
MONITORS: Final = "inspector and operator"


def verdict_of(
    rulings: tuple[Ruling, ...], evidence: Evidence, rule_sets: tuple[RuleSet, ...]
) -> Verdict:
    """The strictest level of all rulings, which rulings govern, and what follows."""
    level: Level = min((one.level for one in rulings), key=LEVELS.index, default="incomplete")
    judged = _was_judged(rulings)
    if not judged and LEVELS.index(level) >= LEVELS.index("incomplete"):
        return _nothing_in_force(evidence, _holds("incomplete", [], rulings, rule_sets))
    governing = sorted((one for one in rulings if one.level == level), key=_weight)
    if level == "clear":
        governing = []
    latest = evidence.latest
    sections = (evidence.service,) if latest is None else unseen(latest, evidence.service)
    holds = _holds(level, governing, rulings, rule_sets)
    if not judged:
        holds = (_nothing_words(evidence), *holds)
    first = governing[0] if governing else None
    remedy, who, by_when = _what_follows(level, governing)
    return Verdict(
        level=level,
        governing=tuple(one.ruling_id for one in governing),
        on_hold=bool(holds),
        hold_reasons=holds,
        remedy=remedy,
        who=who,
        by_when=by_when,
        sentence=_sentence(level, first, len(governing)),
        unseen=sections,
        unseen_whole_rope=latest is None or not latest.passes,
        felt_only=() if latest is None else felt_only(latest, evidence.service),
        seen_only=() if latest is None else seen_only(latest, evidence.service),
    )


def _was_judged(rulings: tuple[Ruling, ...]) -> bool:
    """Whether any chosen rule (besides our own checks) is in force and applies."""
    silent = ("not in force", "not applicable")
    return any(one.rule_set != OWN_CHECKS and one.status not in silent for one in rulings)


def _nothing_words(evidence: Evidence) -> str:
    return (
        f"none of the chosen rules is in force on {evidence.as_of.isoformat()} "
        "and applies to this rope"
    )


def _nothing_in_force(evidence: Evidence, holds: tuple[str, ...]) -> Verdict:
    """Without a rule in force nothing can be called clear, whatever was found or not."""
    words = _nothing_words(evidence)
    return Verdict(
        level="incomplete",
        governing=(),
        on_hold=True,
        hold_reasons=(words, *holds),
        remedy=("choose the rule that is in force, and judge again",),
        who="competent person",
        by_when="before further use",
        sentence=f"{LEVEL_WORDS['incomplete'][0].upper()}{LEVEL_WORDS['incomplete'][1:]}: {words}.",
        unseen=(evidence.service,),
        unseen_whole_rope=evidence.latest is None or not evidence.latest.passes,
    )


def _what_follows(level: Level, governing: list[Ruling]) -> tuple[tuple[str, ...], str, str]:
    """What to do, who, by when: from the clauses, or what completes the inspection."""
    if not governing:
        return (), "", ""
    if level == "incomplete":
        get = dict.fromkeys(word for one in governing for word in one.how_to_get)
        return tuple(get), COMPLETES, COMPLETE_BY
    if level == "monitor":
        return ("keep in service and watch these places at every inspection",), MONITORS, ""
    remedy = dict.fromkeys(word for one in governing for word in one.remedy)
    return tuple(remedy), governing[0].who, governing[0].by_when


def _weight(ruling: Ruling) -> tuple[int, Fraction, str]:
    """Clauses whose text was seen come before those from memory, then the larger share."""
    worst = max(PROVENANCES.index(ruling.provenance), PROVENANCES.index(ruling.clause_provenance))
    if ruling.confirmed:  # somebody held it against a copy: as good as a second-hand value
        worst = min(worst, PROVENANCES.index("second-hand"))
    return worst, -(ruling.share or Fraction(0)), ruling.ruling_id


def _holds(
    level: Level,
    governing: list[Ruling],
    rulings: tuple[Ruling, ...],
    rule_sets: tuple[RuleSet, ...],
) -> tuple[str, ...]:
    reasons = []
    if level == "remove":
        reasons.append("a discard criterion is reached")
    if level == "decide" and any(one.by_when.startswith(AT_ONCE) for one in governing):
        reasons.append("a competent person has to decide first")
    holding = {
        (rule_set.rule_set_id, clause.clause_id)
        for rule_set in rule_sets
        for clause in rule_set.clauses
        if isinstance(clause.check, AfterEventCheck | IdleCheck)
    }
    reasons.extend(
        one.words
        for one in rulings
        if one.status == "not assessable" and (one.rule_set, one.clause_id) in holding
    )
    return tuple(dict.fromkeys(reasons))


def _sentence(level: Level, first: Ruling | None, count: int) -> str:
    words = LEVEL_WORDS[level]
    start = words[0].upper() + words[1:]
    if first is None:
        return f"{start}."
    more = f" ({count - 1} more)" if count > 1 else ""
    return f"{start}: {first.words}. {first.citation}{more}."
