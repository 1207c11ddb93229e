"""The fitting of a new rope in the book: begun with a hold, step by step, released by name."""

from collections.abc import Mapping, Sequence
from dataclasses import fields, replace
from datetime import date
from fractions import Fraction
from typing import Any

from ropewright.desk.installing import FittingGuide, FittingSaid, StepSaid, fitting_guide
from ropewright.desk.installing_steps import FITTING_STEPS, RELEASE
from ropewright.errors import InputError, UnknownNameError
from ropewright.geometry import RopePlace
from ropewright.inspection import DiameterReading, ReferenceDiameter, Release
from ropewright.logbook import payloads as p
from ropewright.logbook.book import Book, people_of
from ropewright.logbook.corrections import corrected_entries
from ropewright.logbook.entry import Hand, new_entry
from ropewright.logbook.orders import KeptOrder, orders_of, person_id
from ropewright.logbook.people import People, words_of

BEGIN = "begin"
_MOST_MISSING = 5
_NOT_A_FIELD = frozenset({"order_id", "by", "to_fill", "length_steps", "remark"})


def begin_fitting(
    book: Book, rope_id: str, *, by: str, on: date, order_of: str = "", order_id: str = ""
) -> None:
    """Begin to fit a rope: it is on hold until it is released by name.

    Parameters
    ----------
    book
        The book, in which the new rope has its page.
    rope_id
        The new rope.
    by
        Who begins.
    on
        The day.
    order_of
        The rope on whose page the order stands; empty without an order in the book.
    order_id
        Which order; its newest one if there is only one.

    Raises
    ------
    InputError
        If a fitting of this rope is open already.
    UnknownNameError
        If there is no such order.
    """
    said = fitting_said(book, rope_id)
    if said.begun_on is not None and said.released_on is None:
        raise InputError(
            field="fitting", expected="a rope that is not being fitted",
            given=f"begun on {said.begun_on.isoformat()} by {said.begun_by}",
        )  # fmt: skip
    order = _order(book, order_of, order_id) if order_of else None

    def make(people: People) -> list[Any]:
        begun = p.FittingStepSaid(
            step=BEGIN,
            by=person_id(people, by),
            done=True,
            order_of=order_of,
            order_id="" if order is None else order.order.order_id,
        )
        held = p.Held(hold_id=_hold(on), on=on, reason="new rope, not released yet")
        return [
            new_entry(one, people, rope_id=rope_id, happened_on=on) for one in (held, begun)
        ]  # fmt: skip

    book.append_made(make)


def _hold(on: date) -> str:
    return f"fitting {on.isoformat()}"


def _order(book: Book, rope_id: str, order_id: str) -> KeptOrder:
    known = {one.order.order_id: one for one in orders_of(book, rope_id)}
    if order_id in known:
        return known[order_id]
    if order_id or len(known) != 1:
        raise UnknownNameError(what="an order of that rope", given=order_id, known=known)
    return next(iter(known.values()))


def say_step(
    book: Book,
    rope_id: str,
    step: str,
    *,
    by: str,
    on: date,
    done: bool = True,
    values: Mapping[str, str] | None = None,
    remark: str = "",
) -> None:
    """A person did a step of the fitting, or found that it is not right.

    Raises
    ------
    UnknownNameError
        If there is no such step, or no such value in it.
    InputError
        If no fitting is open, or something has to be said in other ways.
    """
    known = {one.key: one for one in FITTING_STEPS if one.key not in (RELEASE, "reference")}
    if step not in known:
        hint = {
            RELEASE: "the release has its own word, --release",
            "reference": "the reference measurement has its own word, --reference",
        }.get(step)
        raise UnknownNameError(
            what="a step that is said to be done", given=step, known=known, field="step", hint=hint
        )
    _open(book, rope_id)
    names = [name for name, _ in known[step].records]
    for name in values or {}:
        if name not in names:
            raise UnknownNameError(
                what=f"a value of step {step!r}", given=name, known=names, field="value"
            )
    if not done and not remark:
        raise InputError(field="remark", expected="what is not right", given=remark)
    missing = [name for name in names if not (values or {}).get(name)]
    if done and missing:
        raise InputError(
            field="value", expected=f"what was found: {', '.join(missing)}", given=None,
            hint=f"such as {missing[0]}={dict(known[step].records)[missing[0]]}",
        )  # fmt: skip

    def make(people: People) -> list[Any]:
        said = p.FittingStepSaid(
            step=step, by=person_id(people, by), done=done, values=dict(values or {}),
            remark=remark,
        )  # fmt: skip
        return [new_entry(said, people, rope_id=rope_id, happened_on=on)]

    book.append_made(make)


def record_reference(
    book: Book,
    rope_id: str,
    *,
    by: str,
    on: date,
    places: Sequence[tuple[float, tuple[Fraction, Fraction]]],
    tension: str,
    lay_length_mm: Fraction | None = None,
    instrument: str | None = None,
) -> None:
    """Keep the reference diameter, and the lay length if it was measured.

    Parameters
    ----------
    book
        The book.
    rope_id
        The rope.
    by
        Who measured.
    on
        The day.
    places
        Rope position [m] and two readings at right angles [mm] for each place.
    tension
        Under what tension.
    lay_length_mm
        Lay length measured at the same time [mm].
    instrument
        What it was measured with.

    Raises
    ------
    InputError
        If a place is not on the rope, or the tension is not named.
    """
    dossier = book.dossier(rope_id)
    here = dossier.history.at(on)
    for at_m, _ in places:
        here.to_path_m(at_m)
    if not tension.strip():
        raise InputError(field="tension", expected="under what tension it was measured", given="")
    reference = ReferenceDiameter(
        on=on,
        tension=tension,
        readings=tuple(
            DiameterReading(
                finding_id=f"reference {number}",
                place=RopePlace(at_m=at_m),
                method="gauge",
                readings_mm=readings,
                instrument=instrument,
                tension=tension,
            )
            for number, (at_m, readings) in enumerate(places, 1)
        ),
    )

    def make(people: People) -> list[Any]:
        hand = Hand(person=person_id(people, by), role="rope fitter")
        said: list[Any] = [reference]
        if lay_length_mm is not None:
            rope = replace(dossier.rope, certificate=None, lay_length_mm=lay_length_mm)
            first_m = dossier.history.original_length_m
            said.append(p.RopeStated(rope=rope, first_length_m=first_m))
        return [
            new_entry(one, people, rope_id=rope_id, happened_on=on, by=(hand,)) for one in said
        ]  # fmt: skip

    book.append_made(make)


def release_fitting(book: Book, rope_id: str, *, by: str, on: date) -> None:
    """Let a new rope into service, by name; only when every step is done and agrees.

    Raises
    ------
    InputError
        If anything is missing: names it.
    """
    begun_on = _open(book, rope_id)
    held = _hold(begun_on)
    check_release(book, rope_id, held)
    steps = ", ".join(one.key for one in FITTING_STEPS if one.key != RELEASE)

    def make(people: People) -> list[Any]:
        name = " ".join(by.split())
        person_id(people, by)
        released = p.Released(
            of=held, release=Release(by=name, on=on, evidence=f"fitting steps: {steps}")
        )
        return [new_entry(released, people, rope_id=rope_id, happened_on=on)]

    book.append_made(make)


def check_release(book: Book, rope_id: str, hold_id: str) -> None:
    """Refuse to release the hold of a fitting while anything of it is missing.

    Raises
    ------
    InputError
        If anything is missing: names it.
    """
    guide = guide_of(book, rope_id)
    begun_on = guide.said.begun_on
    if begun_on is not None and hold_id == _hold(begun_on) and guide.missing:
        raise InputError(
            f"the rope stays on hold: {'; '.join(guide.missing[:_MOST_MISSING])}",
            field="release",
            expected="every step done, and papers that agree",
        )


def _open(book: Book, rope_id: str) -> date:
    """The day on which the open fitting was begun."""
    said = fitting_said(book, rope_id)
    if said.begun_on is None or said.released_on is not None:
        raise InputError(
            field="fitting", expected="a fitting that was begun and is open", given="none",
            hint="begin with --begin --by WHO",
        )  # fmt: skip
    return said.begun_on


def guide_of(book: Book, rope_id: str) -> FittingGuide:
    """The guide of a rope's fitting as the book has it."""
    return fitting_guide(book.dossier(rope_id), fitting_said(book, rope_id))


def fitting_said(book: Book, rope_id: str) -> FittingSaid:
    """What the book holds of the newest fitting of a rope.

    Raises
    ------
    UnknownNameError
        If the book has no such rope.
    """
    book.need_rope(rope_id)
    with book.reader() as conn:
        people = people_of(conn)
    begun: p.FittingStepSaid | None = None
    begun_on: date | None = None
    steps: dict[str, StepSaid] = {}
    released: Release | None = None
    for entry in corrected_entries(one.entry for one in book.entries(rope_id)):
        if entry.kind == "fitting step":
            said = entry.read(people)
            if said.step == BEGIN:
                begun, begun_on, steps, released = said, entry.happened_on, {}, None
            else:
                steps[said.step] = StepSaid(
                    done=said.done,
                    by=words_of(people.data_of(said.by)),
                    on=entry.happened_on,
                    values=said.values,
                    remark=said.remark,
                )
        elif entry.kind == "release" and begun_on is not None:
            word = entry.read(people)
            released = word.release if word.of == _hold(begun_on) else released
    if begun is None:
        return FittingSaid()
    order = _order(book, begun.order_of, begun.order_id) if begun.order_of else None
    return FittingSaid(
        begun_on=begun_on,
        begun_by=words_of(people.data_of(begun.by)),
        order_name="" if order is None else f"{order.order.order_id} of {begun.order_of}",
        order=None if order is None else _values(order),
        order_checked=order is not None and order.is_checked,
        steps=steps,
        released_by="" if released is None else released.by,
        released_on=None if released is None else released.on,
    )


def _values(order: KeptOrder) -> dict[str, Any]:
    said = order.order
    return {
        one.name: getattr(said, one.name)
        for one in fields(said)
        if one.name not in _NOT_A_FIELD
    }  # fmt: skip
