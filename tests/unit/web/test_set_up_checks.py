"""What is asked of a fact of the set-up: what matters is in view, what is milder is folded."""

import html
import re
from fractions import Fraction
from typing import Any

from ropewright.rules import Ruling
from ropewright.web.views.set_up_checks import facts_checked
from tests.unit.web.conftest import Served


def ruling(name: str, status: Any, words: str, limit: str, compare: Any = "less than") -> Ruling:
    return Ruling(
        ruling_id=name, rule_set="set-up-figures", rule_title="Set-up figures", edition="1",
        clause_id=name, clause="1", title=name, status=status, provenance="text",
        clause_provenance="text", source=name, words=words, compare=compare, limit=Fraction(limit),
    )  # fmt: skip


def test_what_is_not_met_and_the_strictest_that_is_are_in_view() -> None:
    """By hand: of 2, 3 and 3 wraps that are met one 3 is in view; 5 is not met."""
    said = [
        ruling("five", "reached", "dead wraps: 3 wraps; at least 5 wraps asked for", "5"),
        ruling("two", "below", "dead wraps: 3 wraps; at least 2 wraps asked for", "2"),
        ruling("three", "below", "dead wraps: 3 wraps; at least 3 wraps asked for", "3"),
        ruling("three too", "below", "dead wraps: 3 wraps; at least 3 wraps asked for", "3"),
    ]
    (fact,) = facts_checked(said)
    assert fact.fact == "dead wraps: 3 wraps"
    assert [one.ruling.ruling_id for one in fact.asks] == ["five", "three"]
    assert {one.ruling.ruling_id for one in fact.milder} == {"two", "three too"}
    assert fact.worst is said[0]


def test_least_and_greatest_are_both_in_view() -> None:
    said = [
        ruling("least", "below", "pitch: 1.153846 d; at least 1.09 d asked for", "1.09"),
        ruling("most", "below", "pitch: 1.153846 d; at most 1.2 d asked for", "1.2", "more than"),
        ruling("wide", "below", "pitch: 1.153846 d; at most 1.3 d asked for", "1.3", "more than"),
    ]
    (fact,) = facts_checked(said)
    assert fact.fact == "pitch: 1.15 d"
    assert {one.ruling.ruling_id for one in fact.asks} == {"least", "most"}
    assert [one.ruling.ruling_id for one in fact.milder] == ["wide"]


def test_figure_that_only_seems_to_be_enough_stays_exact() -> None:
    said = [ruling("a", "reached", "clearance: 1.4999 mm; at least 1.5 mm asked for", "1.5")]
    (fact,) = facts_checked(said)
    assert fact.fact == "clearance: 1.4999 mm"


def test_page_has_every_ask_once_and_its_derivation(shared: Served) -> None:
    """By brute force: each link leads to a derivation, none stands twice."""
    client = shared.browser("planner")
    page = html.unescape(client.get("/cranes/KQ-1 hoist").text)
    links = re.findall(r'href="([^"]+/why/set-up-figures[^"]*)"', page)
    assert len(links) > 5
    assert len(links) == len(set(links))
    assert client.get(links[0]).status_code == 200
    assert re.search(r"\d\.\d{3}", re.sub(r"<[^>]+>", " ", page.split("Checks of the")[1])) is None
