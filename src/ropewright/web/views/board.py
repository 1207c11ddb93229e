"""The board: every rope in the order of what is most urgent, with the one thing to do next."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from ropewright.rules import LEVELS
from ropewright.units import in_us
from ropewright.web.addresses import in_address, rope_path
from ropewright.web.catalogue import Catalogue
from ropewright.web.glances import Glance
from ropewright.web.wording import without_level

PER_PAGE: Final = 100
#: A shorter length that was not seen is not told on the board [m].
_SHORT_M: Final = 0.05

#: Groups in their order.
URGENCY: Final = ("out", "decide", "none", "incomplete", "monitor", "clear")
#: By what the board may be grouped.
SORTS: Final = ("urgency", "site", "crane", "due")


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
    why_words: str
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
    glances: Sequence[Glance],
    today: date,
    asked: Asked,
    texts: Catalogue,
    *,
    waiting: int = 0,
    units: str = "metric",
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
    texts
        The words.
    waiting
        Ropes that are not judged yet today [-].
    units
        The person's units.
    """
    kept = [one for one in glances if _wanted(one, asked)]
    rows = sorted((_row(one, today, texts, units) for one in kept), key=_weight)
    grouping = _GROUPINGS.get(asked.group, _by_urgency)
    titled = [(grouping(row, texts), row) for row in rows]
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
    return URGENCY.index(row.urgency), level, min(due, order), due, one.rope_id


def _row(one: Glance, today: date, texts: Catalogue, units: str) -> Row:
    due_days = None if one.due is None else (one.due - today).days
    order_days = None if one.order_by is None else (one.order_by - today).days
    return Row(
        glance=one,
        path=rope_path(one.rope_id),
        crane_path=f"/cranes/{in_address(one.rope_id)}",
        urgency=urgency_of(one),
        due_words=days_words(due_days, texts),
        due_days=due_days,
        order_words=days_words(order_days, texts),
        order_days=order_days,
        why_words=one.problem or _why(one),
        seen_words=_seen(one, texts),
        unseen_words=_unseen(one, texts, units),
    )


def days_words(days: int | None, texts: Catalogue) -> str:
    """How far off a day is, ``days`` [days] from today, in words.

    Examples
    --------
    >>> from ropewright.web.catalogue import load_texts
    >>> [days_words(one, load_texts()) for one in (-1, 0, 1, 30, None)]
    ['1 day overdue', 'today', 'tomorrow', 'in 30 days', '']
    """
    if days is None:
        return ""
    if days < 0:
        return texts.tn("days.overdue", -days)
    return texts.t("days.today") if days == 0 else texts.tn("days.in", days)


def _why(one: Glance) -> str:
    return "" if one.level is None else without_level(one.level, one.sentence)


def _seen(one: Glance, texts: Catalogue) -> str:
    if one.last_on is None:
        return texts.t("board.no-inspection")
    methods = (texts.word("method", method) for method in one.last_methods)
    how = ", ".join(methods) or texts.t("board.no-method")
    return f"{one.last_kind}, {how}"


def _unseen(one: Glance, texts: Catalogue, units: str) -> str:
    """What neither eye nor hand went over, and what only one of them did."""
    if one.level is None:
        return texts.t("board.unseen.unknown")
    if one.unseen_whole:
        return texts.t("board.unseen.whole")

    def length(value_m: float) -> str:
        words = f"{value_m:.1f} m"
        return in_us(words) if units == "us" else words

    parts = [] if one.unseen_m < _SHORT_M else [length(one.unseen_m)]
    if one.felt_only_m >= _SHORT_M:
        parts.append(texts.t("board.unseen.felt", length=length(one.felt_only_m)))
    if one.seen_only_m >= _SHORT_M:
        parts.append(texts.t("board.unseen.seen", length=length(one.seen_only_m)))
    return "; ".join(parts) or texts.t("board.unseen.nothing")


# --- Groups -----------------------------------------------------------------------------------


def _by_urgency(row: Row, texts: Catalogue) -> tuple[str, str]:
    return row.urgency, texts.t(f"board.group.{row.urgency}")


def _by_site(row: Row, texts: Catalogue) -> tuple[str, str]:
    name = row.glance.site or texts.t("word.no-site")
    return name, name


def _by_crane(row: Row, texts: Catalogue) -> tuple[str, str]:
    name = row.glance.crane or texts.t("board.no-crane")
    return name, name


def _by_due(row: Row, texts: Catalogue) -> tuple[str, str]:
    days = row.due_days
    if days is None:
        return "5", texts.t("board.due.unknown")
    spans = (("overdue", -1), ("today", 0), ("week", 7), ("month", 30))
    for number, (key, most) in enumerate(spans):
        if days <= most:
            return str(number), texts.t(f"board.due.{key}")
    return "4", texts.t("board.due.later")


_GROUPINGS: Final[Mapping[str, Callable[[Row, Catalogue], tuple[str, str]]]] = {
    "urgency": _by_urgency, "site": _by_site, "crane": _by_crane, "due": _by_due,
}  # fmt: skip


def _grouped(pairs: Iterable[tuple[tuple[str, str], Row]]) -> tuple[Group, ...]:
    groups: dict[tuple[str, str], list[Row]] = {}
    for key, row in pairs:
        groups.setdefault(key, []).append(row)
    return tuple(
        Group(key=key, title=title, rows=tuple(rows)) for (key, title), rows in groups.items()
    )
