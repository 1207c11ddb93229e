"""The order of the board, checked against a plain sorting of the same ropes."""

from dataclasses import replace
from datetime import date, timedelta
from itertools import islice, permutations
from typing import Any

from ropewright.desk.overview import NextStep
from ropewright.web.catalogue import load_texts
from ropewright.web.glances import Glance
from ropewright.web.views.board import PER_PAGE, URGENCY, Asked, board, days_words, urgency_of

TODAY = date(2026, 11, 10)
TEXTS = load_texts()
PLAIN = Glance(
    rope_id="R", level="clear", sentence="", problem="", citation="", on_hold=False,
    hold_reasons=(), next_step=NextStep(what="look", when=""), who="", due=None, overdue=False,
    order_by=None, last_kind="", last_on=None, last_methods=(), last_signed=False, unseen_m=0.0,
    unseen_whole=False, felt_only_m=0.0, seen_only_m=0.0, marks=0, crane="C", site="S",
    hoist="hoist", invented=False,
)  # fmt: skip


def rope(name: str, **more: Any) -> Glance:
    return replace(PLAIN, rope_id=name, **more)


def due(days: int) -> dict[str, Any]:
    return {"due": TODAY + timedelta(days=days), "overdue": days < 0}


ROPES = (
    rope("removed", level="remove", on_hold=True),
    rope("held", level="monitor", on_hold=True),
    rope("decide", level="decide"),
    rope("unknown", level=None, problem="no installation"),
    rope("incomplete", level="incomplete"),
    rope("late", level="monitor", **due(-3)),
    rope("soon", level="monitor", **due(2)),
    rope("order", level="monitor", **due(40), order_by=TODAY + timedelta(days=5)),
    rope("watched", level="monitor"),
    rope("clear", level="clear", **due(1)),
)


def names(shown: Any) -> list[str]:
    return [row.glance.rope_id for group in shown.groups for row in group.rows]


def test_most_urgent_comes_first_whatever_order_they_come_in() -> None:
    """By hand: the order of the design: out, decide, cannot be judged, incomplete, monitor."""
    expected = [one.rope_id for one in ROPES]
    for order in islice(permutations(ROPES), 0, None, 90_721):
        assert names(board(order, TODAY, Asked(), TEXTS)) == expected


def test_what_cannot_be_judged_is_never_below_what_can_wait() -> None:
    keys = list(URGENCY)
    assert keys.index("none") < keys.index("incomplete") < keys.index("clear")
    assert urgency_of(rope("x", level="clear", on_hold=True)) == "out"


def test_filters_and_counts() -> None:
    ropes = (rope("a", site="one", crane="1"), rope("b", site="two", crane="2"))
    shown = board(ropes, TODAY, Asked(site="two"), TEXTS)
    assert names(shown) == ["b"]
    assert shown.total == 2
    assert names(board(ropes, TODAY, Asked(words="A "), TEXTS)) == ["a"]
    assert names(board(ropes, TODAY, Asked(crane="3"), TEXTS)) == []


def test_grouped_by_due_date() -> None:
    shown = board(ROPES, TODAY, Asked(group="due"), TEXTS)
    heads = [group.title for group in shown.groups]
    assert heads == ["Overdue", "Within 7 days", "Later", "No date known"]


def test_pages_hold_every_rope_once() -> None:
    many = [rope(f"{number:04d}", **due(number % 50)) for number in range(2 * PER_PAGE + 7)]
    seen = [
        name for page in (1, 2, 3) for name in names(board(many, TODAY, Asked(page=page), TEXTS))
    ]
    assert sorted(seen) == [one.rope_id for one in many]
    assert len(names(board(many, TODAY, Asked(page=99), TEXTS))) == 7


def test_days_in_words() -> None:
    assert [days_words(one, TEXTS) for one in (-2, -1, 0, 1, 2)] == [
        "2 days overdue", "1 day overdue", "today", "tomorrow", "in 2 days",
    ]  # fmt: skip


def test_what_only_a_hand_or_only_an_eye_went_over_is_told() -> None:
    """By hand; a foot is 0.3048 m, so 7.9 m are 25.9 ft and 13 m are 42.7 ft."""

    def unseen(units: str = "metric", **more: Any) -> str:
        shown = board([rope("R", **more)], TODAY, Asked(), TEXTS, units=units)
        return shown.groups[0].rows[0].unseen_words

    assert unseen() == "nothing"
    assert unseen(unseen_m=7.9) == "7.9 m"
    assert unseen(unseen_m=7.9, felt_only_m=13.0) == "7.9 m; 13.0 m by hand only"
    assert unseen(seen_only_m=2.0) == "2.0 m by eye only"
    assert unseen("us", unseen_m=7.9, felt_only_m=13.0) == "25.9 ft; 42.7 ft by hand only"
    assert unseen(unseen_whole=True, felt_only_m=1.0) == "the whole rope"
