"""The board: every rope in the order of what is most urgent, with the one thing to do next."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from ropewright.rules import LEVELS
from ropewright.web.addresses import in_address, rope_path
from ropewright.web.glances import Glance

PER_PAGE: Final = 100

#: Groups in their order, with their headings.
URGENCY: Final[Mapping[str, str]] = {
    "out": "Remove or on hold",
    "decide": "To be decided",
    "none": "Cannot be judged",
    "incomplete": "Inspection incomplete",
    "monitor": "Monitor",
    "clear": "No criterion reached",
}
SORTS: Final[Mapping[str, str]] = {
    "urgency": "urgency", "site": "site", "crane": "crane", "due": "due date",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What part of the board is wanted."""

    group: str = "urgency"
    site: str = ""
    crane: str = ""
    words: str = ""
    page: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One rope on the board.  ``due_days`` counts from today [days]."""

    glance: Glance
    path: str
    crane_path: str
    urgency: str
    due_words: str
    due_days: int | None
    order_words: str
    order_days: int | None
    seen_words: str
    unseen_words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Rows under one heading."""

    key: str
    title: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """The whole board.  ``waiting`` ropes are still being judged today."""

    groups: tuple[Group, ...]
    counts: Mapping[str, int]
    overdue: int
    week: int
    total: int
    shown: int
    page: int
    pages: int
    sites: tuple[str, ...]
    cranes: tuple[str, ...]
    waiting: int
    asked: Asked
    invented: bool


def urgency_of(one: Glance) -> str:
    """The group a rope stands in."""
    if one.level == "remove" or one.on_hold:
        return "out"
    return "none" if one.level is None else one.level


def board(
    glances: Sequence[Glance], today: date, asked: Asked, *, waiting: int = 0, units: str = "metric"
) -> Board:
    """Put ropes in order.

    Parameters
    ----------
    glances
        Every rope that was judged.
    today
        The day.
    asked
        What part is wanted.
    waiting
        Ropes that are not judged yet today [-].
    units
        The person's units.
    """
    kept = [one for one in glances if _wanted(one, asked)]
    rows = sorted((_row(one, today, units) for one in kept), key=_weight)
    grouping = _GROUPINGS.get(asked.group, _by_urgency)
    titled = [(grouping(row), row) for row in rows]
    if asked.group in ("site", "crane", "due"):
        titled.sort(key=lambda pair: pair[0])
    pages = max(1, -(-len(titled) // PER_PAGE))
    page = min(max(1, asked.page), pages)
    part = titled[(page - 1) * PER_PAGE : page * PER_PAGE]
    counts = dict.fromkeys(URGENCY, 0)
    for one in glances:
        counts[urgency_of(one)] += 1
    return Board(
        groups=_grouped(part),
        counts=counts,
        overdue=sum(one.overdue for one in glances),
        week=sum(
            1
            for one in glances
            if one.due is not None and not one.overdue and (one.due - today).days <= 7
        ),
        total=len(glances),
        shown=len(part),
        page=page,
        pages=pages,
        sites=tuple(sorted({one.site for one in glances if one.site})),
        cranes=tuple(sorted({one.crane for one in glances if one.crane})),
        waiting=waiting,
        asked=asked,
        invented=any(one.invented for one in glances),
    )


def _wanted(one: Glance, asked: Asked) -> bool:
    words = asked.words.casefold().strip()
    text = f"{one.rope_id} {one.crane} {one.hoist} {one.site}".casefold()
    return (
        (not asked.site or one.site == asked.site)
        and (not asked.crane or one.crane == asked.crane)
        and (not words or words in text)
    )


def _weight(row: Row) -> tuple[int, int, int, int, str]:
    one = row.glance
    far = 10**6
    due = far if row.due_days is None else row.due_days
    order = far if row.order_days is None else row.order_days
    level = len(LEVELS) if one.level is None else LEVELS.index(one.level)
    return list(URGENCY).index(row.urgency), level, min(due, order), due, one.rope_id


def _row(one: Glance, today: date, units: str) -> Row:
    due_days = None if one.due is None else (one.due - today).days
    order_days = None if one.order_by is None else (one.order_by - today).days
    return Row(
        glance=one,
        path=rope_path(one.rope_id),
        crane_path=f"/cranes/{in_address(one.rope_id)}",
        urgency=urgency_of(one),
        due_words=days_words(due_days),
        due_days=due_days,
        order_words=days_words(order_days),
        order_days=order_days,
        seen_words=_seen(one),
        unseen_words=_unseen(one, units),
    )


def days_words(days: int | None) -> str:
    """How far off a day is, ``days`` [days] from today, in words.

    Examples
    --------
    >>> [days_words(one) for one in (-1, 0, 1, 30, None)]
    ['1 day overdue', 'today', 'tomorrow', 'in 30 days', '']
    """
    if days is None:
        return ""
    if days < 0:
        return f"{-days} day{'s' if days < -1 else ''} overdue"
    if days == 0:
        return "today"
    return "tomorrow" if days == 1 else f"in {days} days"


def _seen(one: Glance) -> str:
    if one.last_on is None:
        return "no inspection on record"
    how = ", ".join(one.last_methods) or "method not stated"
    return f"{one.last_kind}, {how}"


def _unseen(one: Glance, units: str) -> str:
    if one.level is None:
        return "not known"
    if one.unseen_whole:
        return "the whole rope"
    if one.unseen_m < 0.05:
        return "nothing"
    return f"{one.unseen_m / 0.3048:.0f} ft" if units == "us" else f"{one.unseen_m:.1f} m"


# --- Groups -----------------------------------------------------------------------------------


def _by_urgency(row: Row) -> tuple[str, str]:
    return row.urgency, URGENCY[row.urgency]


def _by_site(row: Row) -> tuple[str, str]:
    name = row.glance.site or "no site stated"
    return name, name


def _by_crane(row: Row) -> tuple[str, str]:
    name = row.glance.crane or "no crane stated"
    return name, name


def _by_due(row: Row) -> tuple[str, str]:
    days = row.due_days
    if days is None:
        return "5", "No date known"
    for key, most, title in (
        ("0", -1, "Overdue"), ("1", 0, "Today"), ("2", 7, "Within 7 days"),
        ("3", 30, "Within 30 days"),
    ):  # fmt: skip
        if days <= most:
            return key, title
    return "4", "Later"


_GROUPINGS: Final[Mapping[str, Callable[[Row], tuple[str, str]]]] = {
    "urgency": _by_urgency, "site": _by_site, "crane": _by_crane, "due": _by_due,
}  # fmt: skip


def _grouped(pairs: Iterable[tuple[tuple[str, str], Row]]) -> tuple[Group, ...]:
    groups: dict[tuple[str, str], list[Row]] = {}
    for key, row in pairs:
        groups.setdefault(key, []).append(row)
    return tuple(
        Group(key=key, title=title, rows=tuple(rows)) for (key, title), rows in groups.items()
    )
