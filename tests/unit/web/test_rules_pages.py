"""The pages of rules: names that people know, and the answer where they look for it."""

import html
import re

import pytest

from ropewright.intake import PackageShelf
from ropewright.rules import PROVENANCES, limit_words
from ropewright.web.catalogue import load_texts
from ropewright.web.pages.rules import limit_said
from tests.unit.web.conftest import Served

ROPE = "/ropes/KQ-1 hoist"


def test_table_is_named_by_the_number_of_the_standard() -> None:
    """By hand: clause 6.2, Table 3 of ISO 4309:2017; a clause without a number keeps the name."""
    shelf = PackageShelf()
    iso = {one.clause_id: one for one in shelf.get("iso-4309-2017").clauses}
    assert limit_said(iso["breaks-6d"]) == (
        "the number in Table 3, by construction, or more broken wires in 6 d"
    )
    for name in shelf.names():
        for clause in shelf.get(name).clauses:
            if "Table" not in clause.clause:
                assert limit_said(clause) == limit_words(clause)


def test_rule_sets_to_compare_with_are_called_by_their_titles(shared: Served) -> None:
    page = html.unescape(
        shared.browser("planner").get("/rules/iso-4309-2017?against=iso-4309-2010").text
    )
    choices = re.findall(r'<option value="([^"]+)"[^>]*>([^<]+)</option>', page)
    assert len(choices) > 20
    for name, words in choices:
        assert name != words
    assert "breaks-6d" not in re.sub(r"<[^>]+>", " ", page)


def test_answer_stands_before_the_question_and_the_rest_is_folded(shared: Served) -> None:
    page = shared.browser("inspector").get(f"{ROPE}/rules?try=iso-4309-2010").text
    assert 'action="#another"' in page
    assert page.index('id="another"') < page.index('role="status"') < page.index('name="try"')
    chosen = page.index('value="iso-4309-2017" checked')
    assert chosen < page.index("<details>") < page.index('value="iso-4309-2010"')


def test_who_may_not_choose_reads_which_rules_govern(shared: Served) -> None:
    page = shared.browser("planner").get(f"{ROPE}/rules").text
    assert '<a href="/rules/iso-4309-2017">' in page
    assert 'type="checkbox"' not in page


@pytest.mark.parametrize("one", PROVENANCES)
def test_every_origin_has_plain_words(one: str) -> None:
    assert load_texts().word("prov", one) != one
