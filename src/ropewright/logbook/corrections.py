"""What stands after corrections: the newest word on each entry, in the place of the first."""

from collections.abc import Iterable
from datetime import date

from ropewright.logbook.canon import canonical, plain, read_day
from ropewright.logbook.entry import Entry, with_payload


def corrected_entries(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The entries that hold, each with its newest content; withdrawn ones are gone.

    Corrections themselves are not among them.  A correction may itself be corrected.
    """
    kept: dict[str, Entry | None] = {}
    for entry in entries:
        if entry.kind != "correction":
            kept[entry.entry_id] = entry
            continue
        said = plain(entry.payload)
        target = said["corrects"]
        before = kept.get(target)
        if before is None:
            continue
        if said.get("payload") is None:
            kept[target] = None
            continue
        kept[target] = with_payload(
            before, canonical(said["payload"]), _day(said, before.happened_on)
        )
    return tuple(entry for entry in kept.values() if entry is not None)


def _day(said: dict[str, object], before: date | None) -> date | None:
    given = said.get("happened_on")
    return before if given is None else read_day(given)


def as_on(entries: Iterable[Entry], as_of: date | None) -> tuple[Entry, ...]:
    """Entries of things that had happened by the end of a day; ``None`` keeps all."""
    return tuple(
        entry
        for entry in entries
        if as_of is None or entry.happened_on is None or entry.happened_on <= as_of
    )
