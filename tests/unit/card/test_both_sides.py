"""The phone's evaluator against the rules: every case of every rule set, on both sides.

The expected figures are those of the rules, which have their own published cases.
"""

import shutil
from collections import Counter
from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from ropewright.card import card_as_data, field_card
from ropewright.demo import demo_case, demo_names
from ropewright.inspection import Dossier
from ropewright.intake import read_case
from ropewright.rules import OWN_CHECKS, RuleSet, Ruling, assess
from ropewright.rules.model import COMPLETENESS_CHECKS, GreaseCheck
from tests.laws.building import LATEST
from tests.laws.strategies import Case as Drawn
from tests.laws.strategies import cases as drawn_cases
from tests.unit.card.in_node import FIELD, run_module
from tests.unit.rules.test_rule_cases import SHELF, Case, all_cases, case_file

SCRIPT = """
import { judgeBreaks, judgeDamage, judgeDiameter, judgePart, judgeWave, wornPlaces }
  from "@field/evaluate.js";
import { asText } from "@field/exact.js";

const KINDS = { diameter: judgeDiameter, waviness: judgeWave };

function main(cards) {
  return cards.map((card) => {
    const clusters = card.findings.filter((one) => one.groups);
    const made = judgeBreaks(card, clusters, { worn: wornPlaces(card.findings) });
    for (const one of card.findings) {
      const judging = one.damage ? judgeDamage : KINDS[one.kind];
      if (judging) made.push(...judging(card, one).map((r) => ({ ...r, findings: [one.id] })));
    }
    for (const one of card.parts) {
      made.push(...judgePart(card, one).map((r) => ({ ...r, findings: [one.finding_id] })));
    }
    return made.map((one) => ({ ...one, limit: one.limit ? asText(one.limit) : null }));
  });
}
"""
COUNTED = ("breaks", "bunched")
DAY = date(2026, 11, 9)

Key = tuple[str, str, tuple[str, ...], str, str, str]


def of_case(case: Case) -> tuple[Dossier, list[RuleSet], date]:
    data: Mapping[str, Any] = case.data
    own = [] if case.rule_set == OWN_CHECKS else [case.rule_set]
    names = data.get("rules") or own or ["iso-4309-2017"]
    with_rules = {**data, "installation": {**data.get("installation", {}), "rules": names}}
    read = read_case(case_file(with_rules), file="case", known_rules=SHELF.names())
    rule_sets = [SHELF.get(name) for name in (*names, OWN_CHECKS)]
    return read.dossier, rule_sets, data.get("as_of", DAY)


def card_of(dossier: Dossier, rule_sets: list[RuleSet], day: date) -> dict[str, Any]:
    judged = assess(dossier, rule_sets, day, software="tests")
    return card_as_data(field_card(dossier, judged, None, rule_sets, day))


def by_rules(
    rule_sets: list[RuleSet], rulings: tuple[Ruling, ...], card: dict[str, Any]
) -> Counter[Key]:
    """What the rules say of findings, as far as it needs no office; no limit is off the card."""
    kinds = {one["id"]: one["kind"] for one in (*card["limits"], *card["office"])}
    of_no_finding = {
        f"{one.rule_set_id}/{clause.clause_id}"
        for one in rule_sets
        for clause in one.clauses
        if isinstance(clause.check, (*COMPLETENESS_CHECKS, GreaseCheck))
    }
    exact: Counter[Key] = Counter()
    for one in rulings:
        clause_id = f"{one.rule_set}/{one.clause_id}"
        if one.status == "not applicable" or not one.finding_ids or clause_id in of_no_finding:
            continue
        kind = kinds[clause_id]
        if kind == "office":
            continue
        lower = upper = limit = ""
        if kind in COUNTED and one.found is not None:
            lower, upper = str(int(one.found.lower)), str(int(one.found.upper))
        if kind == "breaks":
            limit = "" if one.limit is None else str(one.limit)
        exact[
            f"{one.rule_set}/{one.clause_id}", one.status, tuple(sorted(one.finding_ids)),
            lower, upper, limit,
        ] += 1  # fmt: skip
    return exact


def by_phone(made: list[dict[str, Any]], rulings: tuple[Ruling, ...]) -> Counter[Key]:
    """What the phone says, without clauses that the inspection on record does not ask."""
    silent = {
        f"{one.rule_set}/{one.clause_id}" for one in rulings if one.status == "not applicable"
    } - {f"{one.rule_set}/{one.clause_id}" for one in rulings if one.finding_ids}
    exact: Counter[Key] = Counter()
    for one in made:
        if one["id"] in silent:
            continue
        counted = one["kind"] in COUNTED
        limit = one["limit"] if one["kind"] == "breaks" and one["limit"] is not None else ""
        exact[
            one["id"], one["status"], tuple(sorted(one["findings"])),
            str(one["lower"]) if counted else "", str(one["upper"]) if counted else "",
            str(Fraction(limit)) if limit else "",
        ] += 1  # fmt: skip
    return exact


def differences(
    names: list[str],
    judged: list[tuple[Dossier, list[RuleSet], date]],
    *,
    field: Path = FIELD,
) -> tuple[list[str], Counter[str]]:
    """Where phone and rules differ, and how many rulings of each status agreed on."""
    cards, expected = [], []
    for dossier, rule_sets, day in judged:
        rulings = assess(dossier, rule_sets, day, software="tests").rulings
        card = card_of(dossier, rule_sets, day)
        cards.append(card)
        expected.append((by_rules(rule_sets, rulings, card), rulings))
    wrong, compared = [], Counter[str]()
    answers = run_module(SCRIPT, cards, field=field)
    for name, made, (rules, rulings) in zip(names, answers, expected, strict=True):
        phone = by_phone(made, rulings)
        for key, count in rules.items():
            compared[key[1]] += count
        if phone != rules:
            wrong.append(f"{name}: phone only {phone - rules}, rules only {rules - phone}")
    return wrong, compared


def test_every_rule_case_comes_out_the_same_on_the_phone() -> None:
    """Status, sure and possible count, and limit of every ruling on a finding."""
    cases = [case for case in all_cases() if "finding" in case.data or "part" in case.data]
    wrong, compared = differences([str(one) for one in cases], [of_case(one) for one in cases])
    assert not wrong, f"{len(wrong)} of {len(cases)}\n" + "\n".join(wrong[:12])
    assert min(compared[one] for one in ("below", "reached", "not assessable")) > 50, compared


def test_the_demo_ropes_come_out_the_same() -> None:
    """Ropes whose sections are worked out from their path, with an earlier and a later look."""
    ropes = [read_case(demo_case(name), file=name).dossier for name in demo_names()]
    judged = [
        (rope, [SHELF.get(name) for name in (*rope.installation.rules, OWN_CHECKS)], day)
        for rope in ropes
        for day in (date(2026, 11, 10), date(2026, 6, 30))
    ]
    wrong, compared = differences([str(number) for number in range(len(judged))], judged)
    assert not wrong, "\n".join(wrong[:5])
    assert sum(compared.values()) > 60


def test_one_comparison_turned_round_is_caught(tmp_path: Path) -> None:
    """An open window instead of a closed one: the cases at the window's edge see it."""
    shutil.copytree(FIELD, tmp_path / "field")
    changed = tmp_path / "field" / "windows.js"
    text = changed.read_text(encoding="utf-8")
    assert "other.high >= left" in text
    changed.write_text(text.replace("other.high >= left", "other.high > left"), encoding="utf-8")
    cases = [
        one for one in all_cases() if one.rule_set == "iso-4309-2017" and "finding" in one.data
    ]
    judged = [of_case(one) for one in cases]
    names = [str(one) for one in cases]
    assert differences(names, judged)[0] == []
    assert differences(names, judged, field=tmp_path / "field")[0]


def check_drawn(drawn: list[Drawn]) -> None:
    judged = [
        (one.dossier, [SHELF.get(name) for name in (*one.rules, OWN_CHECKS)], LATEST)
        for one in drawn
    ]
    wrong, _ = differences([str(number) for number in range(len(drawn))], judged)
    assert not wrong, "\n".join(wrong[:5])


@settings(max_examples=3, phases=[Phase.generate])
@given(st.lists(drawn_cases(earlier=True), min_size=15, max_size=15))
def test_ropes_drawn_at_random_come_out_the_same(drawn: list[Drawn]) -> None:
    """Clusters that meet and miss by little, unknown lay, strands, sites and places."""
    check_drawn(drawn)


@pytest.mark.proof
@settings(max_examples=60, phases=[Phase.generate], suppress_health_check=list(HealthCheck))
@given(st.lists(drawn_cases(earlier=True), min_size=15, max_size=15))
def test_many_ropes_drawn_at_random_come_out_the_same(drawn: list[Drawn]) -> None:
    check_drawn(drawn)
