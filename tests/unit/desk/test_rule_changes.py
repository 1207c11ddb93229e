"""What an edition change would alter: no difference of a clause may be silently left out."""

from dataclasses import fields, replace
from datetime import date

from ropewright.desk.rule_changes import READ_BOTH, rule_changes
from ropewright.intake import PackageShelf
from ropewright.rules import RuleSet
from ropewright.rules.model import BreakCheck

SHELF = PackageShelf()
#: Who read a clause and where, and its note: not what it asks for.
_ABOUT_THE_TEXT = {"clause_provenance", "provenance", "source", "note", "title", "clause_id"}


def one_clause() -> RuleSet:
    """A rule set of a single clause with a condition and a check."""
    rule_set = SHELF.get("us-29cfr-1926-1413")
    clause = next(one for one in rule_set.clauses if one.clause_id == "rr-breaks-6d")
    return replace(rule_set, clauses=(clause,))


def test_a_rule_set_does_not_differ_from_itself() -> None:
    for name in SHELF.names():
        assert rule_changes(SHELF.get(name), SHELF.get(name)) == ()


def test_every_field_of_a_clause_that_asks_for_something_is_compared() -> None:
    """By hand: one field changed at a time gives at least one line."""
    left = one_clause()
    (clause,) = left.clauses
    assert isinstance(clause.check, BreakCheck)
    changed = {
        "clause": "another", "demand": "monitor", "remedy": ("inspect again",), "who": "owner",
        "by_when": "at once", "at": ("shift",), "needed_at": ("shift",),
        "when": replace(clause.when, persons_lifted=True),
        "check": replace(clause.check, sites=("valley",)),
        "in_force_from": date(1990, 1, 1), "in_force_to": date(2090, 1, 1),
    }  # fmt: skip
    assert {one.name for one in fields(clause)} == set(changed) | _ABOUT_THE_TEXT
    for name, value in changed.items():
        right = replace(left, clauses=(replace(clause, **{name: value}),))  # type: ignore[arg-type]
        (line,) = rule_changes(left, right)
        assert line.kind == "differs", name


def test_a_difference_without_words_of_its_own_says_to_read_both() -> None:
    """The two rules print the same limit for rotation-resistant rope and count it otherwise."""
    left, right = SHELF.get("asme-b30-16-2007"), SHELF.get("us-29cfr-1926-1413")
    said = [one for one in rule_changes(left, right) if one.clause_id == "rr-breaks-6d"]
    assert ("how it is counted or measured", READ_BOTH) in [(one.what, one.after) for one in said]


def test_added_and_taken_away_clauses_are_named() -> None:
    left = one_clause()
    none = replace(left, clauses=())
    assert [one.kind for one in rule_changes(left, none)] == ["taken away"]
    assert [one.kind for one in rule_changes(none, left)] == ["added"]
