"""Findings, readings and inspections as plain tables: for other people's programs."""

import csv
import io
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date
from fractions import Fraction
from typing import Final, TypeAlias

from ropewright.desk.rope_life import wires_looked_at
from ropewright.geometry import covered_length, union
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
from ropewright.inspection.coverage import SIGHT_METHODS
from ropewright.logbook.canon import float_text, fraction_text

FINDING_COLUMNS: Final = (
    "rope", "crane", "inspection", "on", "kind of inspection", "finding", "kind", "form", "grade",
    "at [m]", "place error [m]", "to [m]", "count", "over [mm]", "readings [mm]", "gap [mm]",
    "loss [%]", "part", "which", "state", "method", "same as", "remark", "invented",
)  # fmt: skip
READING_COLUMNS: Final = (
    "rope", "crane", "inspection", "on", "finding", "at [m]", "place error [m]", "nominal [mm]",
    "reading 1 [mm]", "reading 2 [mm]", "mean [mm]", "out of round [mm]", "instrument", "tension",
    "remark", "invented",
)  # fmt: skip
INSPECTION_COLUMNS: Final = (
    "rope", "crane", "inspection", "on", "kind of inspection", "by", "state", "rope [m]",
    "run past the eye [m]", "run past the hand [m]", "hidden [m]", "findings",
    "most broken wires in one place", "findings on parts", "next by", "remark", "invented",
)  # fmt: skip
#: Names of columns, and rows by column.
Table: TypeAlias = tuple[Sequence[str], Sequence[Mapping[str, str]]]

_MAY_BE_A_FORMULA: Final = ("=", "+", "-", "@", "\t", "\r")


def table_csv(table: Table) -> bytes:
    """A table as CSV in UTF-8.

    A text that a spreadsheet would take for a formula gets an apostrophe in front.
    """
    columns, rows = table
    return b"".join(table_pieces(columns, [rows]))


def table_pieces(
    columns: Sequence[str], tables: Iterable[Sequence[Mapping[str, str]]]
) -> Iterator[bytes]:
    """The rows of several tables with the same columns as one CSV, its head first, in pieces.

    Parameters
    ----------
    columns
        Names of the columns.
    tables
        Rows of each table.
    """
    out = io.StringIO(newline="")
    writer = csv.DictWriter(out, columns, restval="", lineterminator="\r\n")
    writer.writeheader()
    for rows in tables:
        for row in rows:
            writer.writerow({name: _plain_cell(name, text) for name, text in row.items()})
        yield out.getvalue().encode()
        out.seek(0)
        out.truncate()
    yield out.getvalue().encode()


def findings_csv(dossiers: Iterable[Dossier]) -> bytes:
    """Every finding of some ropes, one a line, as CSV in UTF-8."""
    return table_csv(findings_table(dossiers))


def findings_table(dossiers: Iterable[Dossier]) -> Table:
    """Every finding of some ropes, one a line."""
    return FINDING_COLUMNS, [
        row | _head(dossier, inspection)
        for dossier in dossiers
        for inspection in dossier.inspections
        for row in _rows(inspection)
    ]


def _head(dossier: Dossier, inspection: Inspection) -> dict[str, str]:
    return {
        "rope": dossier.rope.rope_id,
        "crane": dossier.crane.crane_id,
        "inspection": inspection.inspection_id,
        "on": inspection.on.isoformat(),
        "kind of inspection": inspection.kind,
        "invented": "invented data" if dossier.invented else "",
    }


def readings_table(dossiers: Iterable[Dossier]) -> Table:
    """Every diameter of some ropes, the reference measurement first, one a line."""
    rows = []
    for dossier in dossiers:
        common = {
            "rope": dossier.rope.rope_id,
            "crane": dossier.crane.crane_id,
            "nominal [mm]": _exact(dossier.rope.nominal_diameter_mm),
            "invented": "invented data" if dossier.invented else "",
        }
        reference = dossier.installation.reference
        for one in () if reference is None else reference.readings:
            rows.append(common | _reading(one, "reference", reference.on if reference else None))
        for inspection in dossier.inspections:
            for finding in inspection.findings:
                if isinstance(finding, DiameterReading):
                    rows.append(common | _reading(finding, inspection.inspection_id, inspection.on))
    return READING_COLUMNS, rows


def _reading(one: DiameterReading, inspection: str, on: date | None) -> dict[str, str]:
    values = [_exact(value) for value in one.readings_mm]
    mean, oval = one.measured_mm, one.ovality_mm
    return {
        "inspection": inspection,
        "on": "" if on is None else on.isoformat(),
        "finding": one.finding_id,
        "at [m]": float_text(one.place.at_m),
        "place error [m]": float_text(one.place.abs_err_m),
        "reading 1 [mm]": values[0],
        "reading 2 [mm]": values[1] if len(values) > 1 else "",
        "mean [mm]": "" if mean is None else _exact(mean),
        "out of round [mm]": "" if oval is None else _exact(oval),
        "instrument": one.instrument or "",
        "tension": one.tension,
        "remark": one.remark,
    }


def inspections_table(dossiers: Iterable[Dossier]) -> Table:
    """Every inspection of some ropes, one a line."""
    rows = []
    for dossier in dossiers:
        for one in dossier.inspections:
            seen = union(item.section for item in one.passes if item.method in SIGHT_METHODS)
            felt = union(item.section for item in one.passes if item.method == "feel")
            clusters = [item.count for item in one.findings if isinstance(item, BrokenWires)]
            rows.append(
                _head(dossier, one)
                | {
                    "by": ", ".join(person.role for person in one.by),
                    "state": "signed" if one.signed_by else (
                        "finished, not signed" if one.finished else "not finished"
                    ),
                    "rope [m]": float_text(dossier.history.at(one.on, start_of_day=True).length_m),
                    "run past the eye [m]": float_text(round(covered_length(seen), 3)),
                    "run past the hand [m]": float_text(round(covered_length(felt), 3)),
                    "hidden [m]": float_text(
                        round(covered_length([item.section for item in one.hidden]), 3)
                    ),
                    "findings": str(len(one.findings)),
                    "most broken wires in one place": (
                        str(max(clusters, default=0)) if clusters or wires_looked_at(one) else ""
                    ),
                    "findings on parts": str(len(one.part_findings)),
                    "next by": "" if one.next_by is None else one.next_by.isoformat(),
                    "remark": one.remark,
                }
            )  # fmt: skip
    return INSPECTION_COLUMNS, rows


#: Tables that can be handed out, by name.
TABLES: Final[Mapping[str, Callable[[Iterable[Dossier]], Table]]] = {
    "findings": findings_table,
    "readings": readings_table,
    "inspections": inspections_table,
}


def as_numbers(table: Table) -> tuple[Sequence[str], list[dict[str, object]]]:
    """The table with numbers as numbers, for a spreadsheet; a ratio such as 1/3 stays text."""
    columns, rows = table
    return columns, [
        {name: _number(text) if _is_number(name) else text for name, text in row.items()}
        for row in rows
    ]


def _number(text: str) -> object:
    try:
        return float(text) if "." in text else int(text)
    except ValueError:
        return text


def _is_number(name: str) -> bool:
    return "[" in name or name in ("count", "findings", "findings on parts") or "most" in name


def _plain_cell(name: str, text: str) -> str:
    return f"'{text}" if text.startswith(_MAY_BE_A_FORMULA) and not _is_number(name) else text


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
