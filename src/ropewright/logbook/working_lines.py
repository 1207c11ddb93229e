"""What the book holds of a rope beyond its dossier, as lines for its card: work, orders, words."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any, Final

from ropewright.desk.rope_life import LifeLine
from ropewright.logbook import payloads as p
from ropewright.logbook.corrections import corrected_entries
from ropewright.logbook.entry import Entry
from ropewright.logbook.kinds import KINDS
from ropewright.logbook.people import People, words_of


def working_lines(entries: Iterable[Entry], people: People) -> tuple[LifeLine, ...]:
    """Lines for what was done, ordered, overridden and told; corrections are applied.

    Parameters
    ----------
    entries
        All entries of the rope, in the order of the book.
    people
        Who is behind the ids.
    """
    made = []
    for entry in corrected_entries(entries):
        said_by = _SAID.get(KINDS[entry.kind].payload)
        if said_by is None:
            continue
        said = entry.read(people)
        by = getattr(said, "by", None)
        made.append(
            LifeLine(
                on=entry.happened_on,
                what=entry.kind,
                words=_joined(said_by(said), getattr(said, "remark", "")),
                by="" if by is None else words_of(people.data_of(by)),
            )
        )
    return tuple(made)


def _joined(*parts: str) -> str:
    return "; ".join(part for part in parts if part)


def _order(said: p.Order) -> str:
    needed = "" if said.needed_by is None else f"needed by {said.needed_by.isoformat()}"
    return _joined(said.order_id, needed)


def _fitting(said: p.FittingStepSaid) -> str:
    values = ", ".join(f"{name}: {value}" for name, value in said.values.items())
    return _joined(said.step if said.done else f"{said.step}: not right", values)


_SAID: Final[Mapping[type[Any], Callable[[Any], str]]] = {
    p.Reterminated: lambda said: f"end {said.end}: {said.fitting}",
    p.Respooled: lambda said: said.tension,
    p.Lubricated: lambda said: said.lubricant,
    p.ReZeroed: lambda said: said.why,
    p.LimitOverridden: lambda said: f"{said.which}: {said.reason}",
    p.LimitReset: lambda said: "tried" if said.tried else "not tried",
    p.WarningDismissed: lambda said: said.reason,
    p.VerdictAccepted: lambda said: said.sentence,
    p.Order: _order,
    p.OrderChecked: lambda said: f"{said.order_id}: {'agrees' if said.agrees else 'refused'}",
    p.FittingStepSaid: _fitting,
    p.SpareStored: lambda said: _joined(
        said.where, f"reel turned {said.reel_turned_on.isoformat()}" if said.reel_turned_on else ""
    ),
    p.RopeTakenOff: lambda said: f"{said.why}, went to {said.went_to}",
}
