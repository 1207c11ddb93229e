"""Nobody checks an own order: the rule that the book itself holds."""

import json
from collections.abc import Iterator, Sequence
from typing import Final

from sqlalchemy import Connection, select

from ropewright.errors import InputError, raise_if_any
from ropewright.logbook.corrections import corrected_entries
from ropewright.logbook.entry import Entry, trusted_entry
from ropewright.logbook.tables import ENTRIES

_KINDS: Final = ("order", "order checked", "correction")


def check_second_person(conn: Connection, entries: Sequence[Entry]) -> None:
    """Refuse the check of an order by the person who made it.

    An order that has not arrived yet cannot be compared; it is when it arrives after its check.

    Raises
    ------
    InputError
        If both are by the same person.
    """
    raise_if_any(
        InputError(
            field="order checked.by",
            expected="another person than the one who made the order",
            given=f"the same person, order {order_id}",
        )
        for order_id in _both_by_one(conn, entries)
    )


def _both_by_one(conn: Connection, entries: Sequence[Entry]) -> Iterator[str]:
    ropes = {one.rope_id for one in entries if one.kind in _KINDS}
    for rope_id in sorted(ropes):
        kept = select(ENTRIES.c.content).where(
            ENTRIES.c.rope_id == rope_id,
            ENTRIES.c.kind.in_(_KINDS),
        )
        before = [
            trusted_entry(text)
            for text in conn.execute(kept.order_by(ENTRIES.c.rope_sequence)).scalars()
        ]
        made: dict[str, frozenset[str]] = {}
        checked: dict[str, set[str]] = {}
        mine = (one for one in entries if one.rope_id == rope_id)
        for one in corrected_entries([*before, *mine]):
            if one.kind == "order":
                made[_order(one)] = one.persons
            elif one.kind == "order checked":
                checked.setdefault(_order(one), set()).update(one.persons)
        yield from (name for name, persons in made.items() if persons & checked.get(name, set()))


def _order(entry: Entry) -> str:
    return str(json.loads(entry.payload)["order_id"])
