"""What is due, as a calendar that any calendar program takes."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from icalendar import Calendar, Event

from ropewright.logbook.canon import read_day
from ropewright.logbook.entry import stable_id
from ropewright.logbook.standing import Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class Due:
    """Something that is due on a day.  ``due_id`` stays the same when the day moves."""

    due_id: str
    on: date
    words: str
    site: str = ""
    remark: str = ""


def dues_of(standing: Iterable[Standing]) -> tuple[Due, ...]:
    """Next inspections and new ropes as the standing of ropes has them; no other date is made."""
    found = []
    for rope in standing:
        if rope["state"] == "taken off":
            continue
        invented = "invented data" if rope.get("invented") else ""
        site = rope.get("site", "")
        next_by = rope.get("last", {}).get("next_by")
        if next_by is not None:
            found.append(
                Due(
                    due_id=f"inspection/{rope['rope']}", on=read_day(next_by), site=site,
                    words=f"Rope inspection: {rope['rope']}", remark=invented,
                )
            )  # fmt: skip
        for order_id, order in rope["orders"].items():
            if "needed_by" in order:
                found.append(
                    Due(
                        due_id=f"order/{rope['rope']}/{order_id}", on=read_day(order["needed_by"]),
                        words=f"New rope needed: {rope['rope']}", site=site, remark=invented,
                    )
                )  # fmt: skip
    return tuple(sorted(found, key=lambda due: (due.on, due.due_id)))


def due_calendar(dues: Iterable[Due], *, book_id: str, made_at: datetime) -> bytes:
    """What is due, as a calendar with one whole-day item each.

    Parameters
    ----------
    dues
        What is due; the days come from the caller.
    book_id
        Makes the items' ids belong to this book.
    made_at
        The moment to write down; same input, same bytes.
    """
    calendar = Calendar()
    calendar.add("prodid", "-//ropewright//logbook//EN")
    calendar.add("version", "2.0")
    for due in dues:
        item = Event()
        item.add("uid", stable_id("due", book_id, due.due_id))
        item.add("dtstamp", made_at.astimezone(UTC))
        item.add("dtstart", due.on)
        item.add("dtend", due.on + timedelta(days=1))
        item.add("summary", due.words)
        if due.site:
            item.add("location", due.site)
        said = (due.remark, "It advises; a person decides and signs.")
        item.add("description", ". ".join(part for part in said if part))
        calendar.add_component(item)
    return bytes(calendar.to_ical())
