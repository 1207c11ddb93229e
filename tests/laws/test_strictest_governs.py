"""Law: the strictest governs.  Adding a rule set never makes a verdict milder."""

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from ropewright.rules import OWN_CHECKS, Assessment, RuleSet, Ruling, assess
from ropewright.rules.model import BreakCheck, DiameterCheck, PartCheck, UnnamedCheck
from ropewright.rules.more_checks import NoLimitCheck
from ropewright.rules.ruling import Level
from tests.laws.building import (
    ORDER,
    TODAY,
    is_as_strict,
    judged,
    level,
    rule_set,
)
from tests.laws.strategies import ALL_RULES, Case, cases


def asks_the_others(ruling: Ruling) -> bool:
    """Whether a clause only asks if any chosen rule speaks of a finding: another one may."""
    clause = next(
        one for one in rule_set(ruling.rule_set).clauses if one.clause_id == ruling.clause_id
    )
    check = clause.check
    return isinstance(check, UnnamedCheck | NoLimitCheck) or (
        isinstance(check, PartCheck) and not check.states
    )


def strictest(rulings: Iterable[Ruling]) -> Level:
    return min((one.level for one in rulings), key=ORDER.index)


def firm(assessment: Assessment) -> list[Ruling]:
    """Rulings other than the questions that another rule set may answer."""
    return [one for one in assessment.rulings if not asks_the_others(one)]


@given(cases(earlier=True), st.sampled_from(ALL_RULES))
def test_adding_a_rule_set_never_makes_the_verdict_milder(case: Case, added: str) -> None:
    before = judged(case.dossier, *case.rules)
    after = judged(case.dossier, *dict.fromkeys((*case.rules, added)))
    assert is_as_strict(strictest(firm(after)), strictest(firm(before)))


@given(cases(earlier=True))
def test_every_rule_set_judges_by_itself(case: Case) -> None:
    together = firm(judged(case.dossier, *case.rules))
    for name in case.rules:
        alone = [one for one in firm(judged(case.dossier, name)) if one.rule_set == name]
        assert alone == [one for one in together if one.rule_set == name]


@given(cases(earlier=True))
def test_the_verdict_is_the_strictest_ruling_and_names_it(case: Case) -> None:
    done = judged(case.dossier, *case.rules)
    verdict = done.verdict
    silent = ("not in force", "not applicable")
    if all(one.rule_set == OWN_CHECKS or one.status in silent for one in done.rulings):
        # no chosen rule speaks of this rope: nothing can be called clear, and it is on hold
        assert verdict.level in ("remove", "decide", "incomplete")
        assert verdict.on_hold
        return
    assert verdict.level == strictest(done.rulings)
    governing = [done.ruling(name) for name in verdict.governing]
    assert all(one is not None and one.level == verdict.level for one in governing)
    assert bool(governing) == (verdict.level != "clear")
    if verdict.level == "remove":
        assert verdict.on_hold


@given(cases(earlier=True))
def test_the_order_of_rule_sets_does_not_change_the_verdict(case: Case) -> None:
    levels = {level(case.dossier, *order) for order in permutations(case.rules)}
    assert len(levels) == 1


def laxer(original: RuleSet, by: Fraction) -> RuleSet:
    """A house rule that asks for the same, with numbers that are easier to keep."""
    clauses = []
    for clause in original.clauses:
        check = clause.check
        if isinstance(check, BreakCheck) and check.limit is not None:
            check = replace(check, limit=check.limit * by)
        elif isinstance(check, DiameterCheck) and check.limit_percent is not None:
            check = replace(check, limit_percent=check.limit_percent * by)
        clauses.append(replace(clause, check=check, demand="monitor"))
    return replace(original, rule_set_id="laxer", short="Laxer", clauses=tuple(clauses))


@given(cases(earlier=True), st.integers(1, 5))
def test_a_laxer_house_rule_is_harmless(case: Case, by: int) -> None:
    rules = [rule_set(name) for name in (*case.rules, OWN_CHECKS)]
    before = assess(case.dossier, rules, TODAY, software="test")
    added = [laxer(rule_set(name), Fraction(by)) for name in case.rules]
    after = assess(case.dossier, [*rules[:-1], *added, rules[-1]], TODAY, software="test")
    assert is_as_strict(after.verdict.level, before.verdict.level)
