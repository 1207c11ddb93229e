"""Orders of new ropes in the book: kept, checked by a second person, read back."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields, replace
from datetime import date
from typing import Any

from ropewright.errors import InputError, UnknownNameError
from ropewright.logbook import payloads as p
from ropewright.logbook.book import Book, people_of
from ropewright.logbook.canon import canonical
from ropewright.logbook.codec import PersonId
from ropewright.logbook.corrections import corrected_entries
from ropewright.logbook.entry import Hand, new_entry
from ropewright.logbook.people import People, words_of

_ORDER_FIELDS = frozenset(one.name for one in fields(p.Order))


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptOrder:
    """An order of a rope as the book has it, with who made and who checked it."""

    order: p.Order
    made_on: date | None
    ordered_by: str
    checked_by: str = ""
    checked_on: date | None = None
    agrees: bool | None = None
    remark: str = ""

    @property
    def is_checked(self) -> bool:
        """Whether a second person went over it and agrees."""
        return self.agrees is True


def person_id(people: People, words: str) -> PersonId:
    """The id of a person who is known by these words.

    Raises
    ------
    InputError
        If nobody is named.
    """
    if not words.strip():
        raise InputError(field="by", expected="who it is, by role or name", given=words)
    return PersonId(people.id_of(canonical({"words": " ".join(words.split())})))


def keep_order(
    book: Book,
    rope_id: str,
    values: Mapping[str, Any],
    *,
    order_id: str,
    by: str,
    on: date,
    to_fill: Sequence[str] = (),
    length_steps: Sequence[str] = (),
) -> None:
    """Keep an order; the same id again is a newer wording, and has to be checked anew.

    Parameters
    ----------
    book
        The book.
    rope_id
        The rope that is to be replaced.
    values
        Fields of an order by name; what is not known is left out.
    order_id
        Its id.
    by
        Who makes it.
    on
        The day.
    to_fill
        Fields that nobody has stated yet.
    length_steps
        How the length was worked out.
    """
    book.need_rope(rope_id)
    unknown = sorted(set(values) - _ORDER_FIELDS)
    if unknown:
        raise UnknownNameError(what="a field of an order", given=unknown[0], known=_ORDER_FIELDS)

    def make(people: People) -> list[Any]:
        said = p.Order(
            order_id=order_id,
            by=person_id(people, by),
            to_fill=tuple(to_fill),
            length_steps=tuple(length_steps),
            **values,
        )
        hand = Hand(person=str(said.by), role="planner")
        return [new_entry(said, people, rope_id=rope_id, happened_on=on, by=(hand,))]

    book.append_made(make)


def check_order(
    book: Book, rope_id: str, order_id: str, *, by: str, on: date, agrees: bool, remark: str = ""
) -> None:
    """A second person went over an order.

    Raises
    ------
    UnknownNameError
        If the rope has no such order.
    InputError
        If it is the person who made it, or fields are still to be filled in.
    """
    known = {one.order.order_id: one for one in orders_of(book, rope_id)}
    if order_id not in known:
        raise UnknownNameError(what="an order of this rope", given=order_id, known=known)
    to_fill = known[order_id].order.to_fill
    if agrees and to_fill:
        raise InputError(
            field="order", expected="an order in which nothing is to be filled in any more",
            given=", ".join(to_fill),
            hint="state the fields, keep the order again under its id, then check it",
        )  # fmt: skip

    def make(people: People) -> list[Any]:
        said = p.OrderChecked(
            order_id=order_id, by=person_id(people, by), agrees=agrees, remark=remark
        )
        return [new_entry(said, people, rope_id=rope_id, happened_on=on)]

    book.append_made(make)


def orders_of(book: Book, rope_id: str) -> tuple[KeptOrder, ...]:
    """The orders of a rope, oldest first, each in its newest wording.

    Raises
    ------
    UnknownNameError
        If the book has no such rope.
    """
    book.need_rope(rope_id)
    entries = corrected_entries(one.entry for one in book.entries(rope_id))
    found: dict[str, KeptOrder] = {}
    with book.reader() as conn:
        people = people_of(conn)
    for entry in entries:
        if entry.kind == "order":
            said = entry.read(people)
            by = "" if said.by is None else words_of(people.data_of(said.by))
            found[said.order_id] = KeptOrder(order=said, made_on=entry.happened_on, ordered_by=by)
        elif entry.kind == "order checked":
            check = entry.read(people)
            known = found.get(check.order_id)
            if known is not None:
                found[check.order_id] = replace(
                    known,
                    checked_by=words_of(people.data_of(check.by)),
                    checked_on=entry.happened_on,
                    agrees=check.agrees,
                    remark=check.remark,
                )
    return tuple(found.values())
