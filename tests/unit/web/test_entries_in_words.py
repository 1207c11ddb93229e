"""Entries as people read them; nothing is left out of the full list."""

from datetime import UTC, datetime
from typing import Any

from ropewright.desk.open_book import Line
from ropewright.web.catalogue import load_texts
from ropewright.web.views.entries import rows_of, said_words, told

NAMES = {"p-1": "rope inspector"}
TEXTS = load_texts()


def line(kind: str, **payload: Any) -> Line:
    return Line(
        sequence=1, rope_sequence=1, entry_id="e", rope_id="R", kind=kind, says="",
        payload=payload, happened_on=None, happened_at=None, typed_at=None, clock_off_s=None,
        arrived_at=datetime(2026, 11, 10, tzinfo=UTC), by=(("p-1", "inspector"),), book_hash="",
        rope_hash="",
    )  # fmt: skip


def test_an_entry_in_words() -> None:
    hold = line("hold", hold_id="H", on="2026-11-10", reason="bang when lowering")
    assert told(hold, NAMES, TEXTS).words == "bang when lowering"
    assert told(hold, NAMES, TEXTS).who == "rope inspector (inspector)"
    mark = line("mark", name="7", place={"at_m": "298.2"}, made_of="")
    assert said_words(mark, NAMES, TEXTS) == "name 7, place at 298.2 m"
    rigging = line("rigging", valid_from="2025-01-09", falls=2, hook_high_m="165", drum={"a": 1})
    assert said_words(rigging, NAMES, TEXTS) == "falls 2, hook high 165 m"
    release = line("order checked", order_id="O", agrees=False, by={"person": "p-1"})
    assert said_words(release, NAMES, TEXTS) == "O, agrees: no"


def test_long_words_are_cut() -> None:
    assert len(said_words(line("hold", reason="x" * 500), NAMES, TEXTS)) == 160


def test_every_value_stands_in_the_full_list() -> None:
    """By brute force: each leaf of the content is found in the rows."""
    data = {
        "a": "leaf one", "b": {"c": "leaf two", "d": [{"e": "leaf three"}, {"e": "leaf four"}]},
        "by": {"person": "p-1"}, "list": ["leaf five", "leaf six"], "yes": True, "none": None,
    }  # fmt: skip
    text = " ".join(f"{name}: {value}" for name, value in rows_of(data, NAMES, TEXTS))
    for leaf in ("one", "two", "three", "four", "five", "six"):
        assert f"leaf {leaf}" in text
    assert "by: rope inspector" in text
    assert "yes: yes" in text
