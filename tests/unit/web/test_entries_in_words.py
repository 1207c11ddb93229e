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
    assert said_words(mark, NAMES, TEXTS) == "mark 7, at 298.2 m"
    rigging = line("rigging", valid_from="2025-01-09", falls=2, hook_high_m="165", drum={"a": 1})
    assert said_words(rigging, NAMES, TEXTS) == "2 falls, hook – to 165 m"
    release = line("order checked", order_id="O", agrees=False, by={"person": "p-1"})
    assert said_words(release, NAMES, TEXTS) == "O, agrees: no"


def test_entries_of_every_kind_come_in_words_without_names_of_fields() -> None:
    """By hand, from what each kind holds."""
    place = {"at_m": "15.02", "abs_err_m": "0.3"}
    groups = [
        {"count": 1, "from_mm": "0", "to_mm": "0"}, {"count": 8, "from_mm": "24", "to_mm": "218"}
    ]  # fmt: skip
    what = {"finding_id": "A", "place": place, "method": "feel", "groups": groups}
    cases: dict[str, tuple[dict[str, Any], str]] = {
        "cluster": (
            {"inspection_id": "I", "what": what},
            "A: 9 broken wires over 218 mm, at 15.02 m, by hand",
        ),
        "photo": (
            {"sha256": "0" * 64, "media_type": "image/png", "finding_id": "A", "caption": "waves"},
            "Photo of finding A: waves",
        ),
        "person": ({"person": "p-1", "seal": "0" * 64}, "added: rope inspector"),
        "examined": (
            {"inspection_id": "I", "what": {"item": "sheaves", "state": "seen"}}, "sheaves: seen",
        ),
        "pass": (
            {"what": {"method": "eye-round", "section": {"from_m": "0", "to_m": "44"}}},
            "by eye all round, 0 m to 44 m",
        ),
        "hidden section": (
            {"what": {"section": {"from_m": "1", "to_m": "2"}}}, "1 m to 2 m, grease",
        ),
        "comparison": (
            {"earlier": "B", "later": "A", "same": False, "reason": "another strand"},
            "A is not the same as B: another strand",
        ),
        "release": ({"of": "x", "release": {"evidence": "nothing found"}}, "nothing found"),
        "cut": ({"end": "A", "length_m": "3", "on": "2026-03-16"}, "3 m cut off at end A"),
        "reading": ({"what": {"finding_id": "C", "readings_mm": []}}, "C: diameter not read"),
        "finding": (
            {"what": {"finding_id": "D", "is": "damage", "damage": "birdcage", "place": place}},
            "D: birdcage, at 15.02 m",
        ),
        "inspection finished": (
            {"inspection_id": "I", "next_by": "2026-12-10"}, "I, next one by 10 Dec 2026",
        ),
    }  # fmt: skip
    for kind, (payload, words) in cases.items():
        assert said_words(line(kind, **payload), NAMES, TEXTS) == words


def test_a_role_in_the_name_is_not_said_twice() -> None:
    one = line("hold", reason="x")
    assert (
        told(one, {"p-1": "the night shift, Inspector"}, TEXTS).who == "the night shift, Inspector"
    )


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
