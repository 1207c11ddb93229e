"""Findings as a table in CSV, and what is due as a calendar: for other people's programs."""

import csv
import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from typing import Final

from icalendar import Calendar, Event

from ropewright.inspection import (
    BrokenWires,
    Damage,
    DiameterReading,
    Dossier,
    Inspection,
    MetallicLoss,
    PartFinding,
    RopeFinding,
    Waviness,
)
from ropewright.logbook.canon import float_text, fraction_text, read_day
from ropewright.logbook.entry import stable_id
from ropewright.logbook.standing import Standing

FINDING_COLUMNS: Final = (
    "rope", "crane", "inspection", "on", "kind of inspection", "finding", "kind", "form", "grade",
    "at [m]", "place error [m]", "to [m]", "count", "over [mm]", "readings [mm]", "gap [mm]",
    "loss [%]", "part", "which", "state", "method", "same as", "remark", "invented",
)  # fmt: skip
_MAY_BE_A_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")


def findings_csv(dossiers: Iterable[Dossier]) -> bytes:
    """Every finding of some ropes, one a line, as CSV in UTF-8.

    A text that a spreadsheet would take for a formula gets an apostrophe in front.
    """
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, FINDING_COLUMNS, restval="", lineterminator="\r\n")
    writer.writeheader()
    for dossier in dossiers:
        for inspection in dossier.inspections:
            for row in _rows(inspection):
                row |= {
                    "rope": dossier.rope.rope_id,
                    "crane": dossier.crane.crane_id,
                    "inspection": inspection.inspection_id,
                    "on": inspection.on.isoformat(),
                    "kind of inspection": inspection.kind,
                    "invented": "invented data" if dossier.invented else "",
                }
                writer.writerow({name: _plain_cell(name, text) for name, text in row.items()})
    return out.getvalue().encode()


def _plain_cell(name: str, text: str) -> str:
    is_number = "[" in name or name == "count"
    return f"'{text}" if text.startswith(_MAY_BE_A_FORMULA) and not is_number else text


def _rows(inspection: Inspection) -> Iterator[dict[str, str]]:
    for finding in inspection.findings:
        yield {**_common(finding), **_of_kind(finding)}
    for part in inspection.part_findings:
        yield _part(part)


def _common(finding: RopeFinding) -> dict[str, str]:
    return {
        "finding": finding.finding_id,
        "kind": finding.kind,
        "at [m]": float_text(finding.place.at_m),
        "place error [m]": float_text(finding.place.abs_err_m),
        "to [m]": float_text(round(finding.section.to_m, 9)),
        "method": finding.method or "",
        "same as": finding.same_as or "",
        "remark": finding.remark,
    }


def _of_kind(finding: RopeFinding) -> dict[str, str]:
    match finding:
        case BrokenWires():
            first = min(group.from_mm for group in finding.groups)
            last = max(group.to_mm for group in finding.groups)
            return {"count": str(finding.count), "over [mm]": _exact(last - first)}
        case DiameterReading():
            return {"readings [mm]": " ".join(map(_exact, finding.readings_mm))}
        case Waviness():
            return {"gap [mm]": _exact(finding.gap_mm)}
        case Damage():
            return {"form": finding.form or "", "grade": finding.grade or ""}
        case MetallicLoss():
            over = "" if finding.over_mm is None else _exact(finding.over_mm)
            return {"loss [%]": _exact(finding.percent), "over [mm]": over, "form": finding.of}


def _exact(value: Fraction) -> str:
    return fraction_text(value)


def _part(part: PartFinding) -> dict[str, str]:
    return {
        "finding": part.finding_id, "kind": "part", "part": part.part, "which": part.which,
        "state": part.state, "remark": part.remark,
    }  # fmt: skip


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
