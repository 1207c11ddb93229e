"""What holds for every rule set of the other rules: sources, words, doubts, and a clear base."""

import tomllib
from typing import Any

import pytest

from ropewright.intake.shelf import PackageShelf
from ropewright.rules import PROVENANCES, RuleSet, limit_words
from ropewright.rules.model import (
    COMPLETENESS_CHECKS,
    BreakCheck,
    CoverageCheck,
    DiameterCheck,
    IdleCheck,
    WornWireCheck,
)
from tests.unit.rules.test_rule_cases import CASES, all_cases, judge, laid_over
from tests.unit.rules.test_tables import PUBLISHED

SHELF = PackageShelf()
FIRST = ("house-template", "iso-4309-2017", "own-checks", "us-29cfr-1926-1413")
OTHERS = tuple(name for name in SHELF.names() if name not in FIRST)
#: Sources that only dates, notes or unread parts lean on.
SPARE = {"table-a-copy", "older-list"}
#: Sets whose own values are told apart by source, or are those of another edition.
NOTED_ELSEWHERE = ("set-up-figures", "iso-4309-2010")


@pytest.fixture(scope="module", params=OTHERS)
def rules(request: pytest.FixtureRequest) -> RuleSet:
    return SHELF.get(request.param)


def test_the_folder_is_the_id(rules: RuleSet) -> None:
    assert rules.rule_set_id in OTHERS
    assert not rules.template


def test_every_value_says_where_it_was_read(rules: RuleSet) -> None:
    for clause in rules.clauses:
        source = rules.source(clause.source)
        weaker = PROVENANCES.index(clause.provenance) >= PROVENANCES.index(source.provenance)
        assert weaker, f"{clause.clause_id}: {clause.provenance} from {source.provenance}"
    for duty in rules.duties:
        source = rules.source(duty.source)
        assert PROVENANCES.index(duty.provenance) >= PROVENANCES.index(source.provenance)


def test_every_source_is_used(rules: RuleSet) -> None:
    used = {one.source for one in rules.clauses} | {one.source for one in rules.duties}
    used |= {one.source for one in rules.permissions}
    assert {source.source_id for source in rules.sources} - used <= SPARE


def test_our_own_values_say_so_in_a_note(rules: RuleSet) -> None:
    for clause in rules.clauses:
        if clause.provenance == "own" and rules.rule_set_id not in NOTED_ELSEWHERE:
            assert "own" in clause.note or "asks for it" in clause.note, clause.clause_id


def test_words_never_promise_safety(rules: RuleSet) -> None:
    for text in SHELF.rule_files(rules.rule_set_id).values():
        words = set(text.lower().replace(".", " ").replace(",", " ").split())
        assert not words & {"safe", "fit", "safely"}


def test_every_clause_has_limit_words(rules: RuleSet) -> None:
    for clause in rules.clauses:
        assert limit_words(clause)
        assert "Fraction" not in limit_words(clause)


def test_nothing_is_clear_unseen(rules: RuleSet) -> None:
    """Every set asks for coverage at every kind of inspection."""
    covered = {
        kind for one in rules.clauses if isinstance(one.check, CoverageCheck) for kind in one.at
    }
    thorough = {"periodic", "annual", "after-event", "after-idle", "first"}
    assert covered >= {"shift", *thorough}


def _base_of(rule_set: str) -> dict[str, Any]:
    """The base as the first case file of a set states it, without any case."""
    folder = CASES / rule_set
    criteria = folder / "criteria.toml"
    path = criteria if criteria.is_file() else min(folder.glob("*.toml"))
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    base = laid_over({key: data[key] for key in data if key not in ("case", "edition")}, {})
    if SHELF.get(rule_set).in_force_to is not None:  # withdrawn: as on the day of its inspection
        base["as_of"] = base["inspection"]["on"]
    return base


@pytest.mark.parametrize("name", OTHERS)
def test_the_base_of_a_set_is_clear_under_it(name: str) -> None:
    assessment = judge(_base_of(name), name)
    open_rulings = [one.words for one in assessment.rulings if one.level != "clear"]
    assert assessment.verdict.level == "clear", open_rulings


def test_every_set_has_cases() -> None:
    assert {one.rule_set for one in all_cases()} >= set(OTHERS)


# ---------------------------------------------------------------- between all of them


def test_every_window_baseline_and_comparison_occurs() -> None:
    windows, baselines, compares, shares, units = set(), set(), set(), set(), set()
    for name in SHELF.names():
        for clause in SHELF.get(name).clauses:
            check = clause.check
            if isinstance(check, BreakCheck):
                windows.add(check.window)
                compares.add(("breaks", check.compare))
                shares.add(check.share_of)
            if isinstance(check, DiameterCheck):
                baselines.add(check.baseline)
                compares.add(("diameter", check.compare))
                units.add("mm" if check.steps is not None else "%")
            if isinstance(check, WornWireCheck | IdleCheck):
                compares.add((type(check).__name__, check.compare))
    assert windows >= {"1 lay", "6 d", "8 d", "10 d", "30 d"}
    assert baselines == {"nominal", "reference", "measured in each third"}
    assert units == {"mm", "%"}
    for what in ("breaks", "diameter", "WornWireCheck", "IdleCheck"):
        assert {(what, "reached"), (what, "more than")} <= compares
    assert shares >= {"all wires", "outer wires", "wires of a strand"}


def test_completeness_is_asked_only_where_it_is_demanded_as_such() -> None:
    for name in OTHERS:
        for clause in SHELF.get(name).clauses:
            if clause.demand == "incomplete":
                assert isinstance(clause.check, COMPLETENESS_CHECKS), clause.clause_id


# ---------------------------------------------------------------- doubts


def _doubts() -> list[dict[str, Any]]:
    data = tomllib.loads((PUBLISHED / "doubts.toml").read_text(encoding="utf-8"))
    doubts: list[dict[str, Any]] = data["doubt"]
    return doubts


@pytest.mark.parametrize("doubt", _doubts(), ids=lambda doubt: str(doubt["what"])[:60])
def test_every_doubt_has_a_note_and_a_case(doubt: dict[str, Any]) -> None:
    for name, where, words in doubt["says"]:
        rules = SHELF.get(name)
        if where == "notice":
            assert words in rules.notice, name
            continue
        (note,) = (one.note for one in rules.clauses if one.clause_id == where)
        assert words in note, f"{name}/{where}"
    for folder, words in doubt["case"]:
        sentences = [one.data["sentence"] for one in all_cases() if one.rule_set == folder]
        assert any(words.lower() in one.lower() for one in sentences), f"{folder}: {words}"
