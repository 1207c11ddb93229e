"""The laws again, with ten times as many random ropes; run by ``make proof``."""

from collections.abc import Callable
from functools import partial
from typing import Any

import pytest
from hypothesis import settings

from tests.laws import (
    test_counting,
    test_exact_limits,
    test_more_damage,
    test_strictest_governs,
    test_worse_evidence,
)

EXAMPLES = 1000


def laws() -> dict[str, Callable[..., Any]]:
    """Every property test of the laws, those with parameters once for each."""
    found: dict[str, Callable[..., Any]] = {}
    for module in (
        test_more_damage,
        test_worse_evidence,
        test_strictest_governs,
        test_exact_limits,
        test_counting,
    ):
        for name, law in vars(module).items():
            if not (name.startswith("test_") and getattr(law, "is_hypothesis_test", False)):
                continue
            marks = [m for m in getattr(law, "pytestmark", []) if m.name == "parametrize"]
            if not marks:
                found[name] = law
            for mark in marks:
                argument, values = mark.args
                for number, value in enumerate(values):
                    found[f"{name}[{number}]"] = partial(law, **{argument: value})
    return found


LAWS = laws()


@pytest.mark.proof
@pytest.mark.parametrize("name", LAWS)
def test_law_holds_for_many_more_ropes(name: str) -> None:
    law = LAWS[name]
    inner = law.func if isinstance(law, partial) else law
    usual = inner._hypothesis_internal_use_settings  # type: ignore[attr-defined]
    many = settings(usual, max_examples=EXAMPLES)
    inner._hypothesis_internal_use_settings = many  # type: ignore[attr-defined]
    try:
        law()
    finally:
        inner._hypothesis_internal_use_settings = usual  # type: ignore[attr-defined]


def test_all_laws_are_among_them() -> None:
    assert len(LAWS) > 40
