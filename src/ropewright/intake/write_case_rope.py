"""Crane, rigging, rope, installation, history, marks and events as tables of a case file."""

import os
from dataclasses import fields
from fractions import Fraction
from pathlib import Path
from typing import Final

from ropewright.errors import InputError
from ropewright.geometry import ExposedSection, Section
from ropewright.inspection import (
    Crane,
    DiameterReading,
    Dossier,
    Event,
    Installation,
    Mark,
    Person,
    ReferenceDiameter,
    Release,
    SetUpMeasure,
)
from ropewright.intake.build import UNNAMED_CRANE
from ropewright.intake.write_case_text import (
    Table,
    decimal_text,
    in_unit,
    m,
    mm,
    per_metre,
    without_nothing,
)
from ropewright.rope import Certificate, Cut, EndForEnd, Rope, StrandNumbers

_NUMBERED_ONLY: Final = "given by numbers"
_NUMBERS: Final = tuple(one.name for one in fields(StrandNumbers))


def section_table(section: Section | None) -> Table:
    """A section by rope position."""
    return {} if section is None else {"from": m(section.from_m), "to": m(section.to_m)}


def place_table(at_m: float, abs_err_m: float, rel_err_m: float) -> Table:
    """A place ``at_m`` [m] with its errors ``abs_err_m`` [m] and ``rel_err_m`` [m]."""
    return {
        "at": m(at_m),
        "at_err": m(abs_err_m) if abs_err_m else None,
        "between_err": m(rel_err_m) if rel_err_m else None,
    }


def person_table(person: Person) -> Table:
    """A person; what is not known is left out."""
    table = {one.name: getattr(person, one.name) for one in fields(Person)}
    if person.competence == "unknown":
        del table["competence"]
    return without_nothing(table)


def crane_table(crane: Crane) -> Table:
    """The crane and its site."""
    table: Table = {one.name: getattr(crane, one.name) for one in fields(Crane)}
    name = table.pop("crane_id")
    if crane.kind == "other":
        del table["kind"]
    return without_nothing({"id": "" if name == UNNAMED_CRANE else name, **table})


# --- Rope -------------------------------------------------------------------------------------


def rope_table(rope: Rope) -> Table:
    """The rope as first installed, with what was stated of its make and where that stood."""
    make = rope.construction
    return without_nothing(
        {
            "id": rope.rope_id,
            "diameter": mm(rope.nominal_diameter_mm),
            "length": m(rope.length_m),
            "construction": "" if make.name == _NUMBERED_ONLY else make.name,
            **_numbers(rope, "given numbers"),
            "lay_type": rope.lay_type,
            "lay_hand": rope.lay_hand,
            "lay_length": mm(rope.lay_length_mm),
            "grade": in_unit(rope.grade_n_per_mm2, "N/mm2"),
            "breaking_force": in_unit(rope.minimum_breaking_force_kn, "kN"),
            "finish": rope.finish,
            "plastic": rope.plastic,
            "rcn": rope.given_rcn,
        }
    ) | ({} if rope.certificate is None else {"certificate": _certificate(rope, rope.certificate)})


def _numbers(rope: Rope, origin: str) -> Table:
    make = rope.construction
    return {
        one.field: getattr(make, one.field)
        for one in make.origins
        if one.origin == origin and one.field in _NUMBERS
    }


def _certificate(rope: Rope, certificate: Certificate) -> Table:
    return without_nothing(
        {
            "number": certificate.number,
            "issued_on": certificate.issued_on,
            "breaking_force": in_unit(certificate.minimum_breaking_force_kn, "kN"),
            "grade": in_unit(certificate.grade_n_per_mm2, "N/mm2"),
            "mass": per_metre(certificate.mass_kg_per_m),
            "metallic_area": in_unit(certificate.metallic_area_mm2, "mm2"),
            **_numbers(rope, "certificate"),
        }
    )


def history_tables(dossier: Dossier) -> list[Table]:
    """Cuts and end-for-end turns."""
    return [_step(step) for step in dossier.history.steps]


def _step(step: Cut | EndForEnd) -> Table:
    if isinstance(step, EndForEnd):
        return without_nothing({"kind": "end-for-end", "on": step.on, "remark": step.reason})
    return without_nothing(
        {
            "kind": "cut", "on": step.on, "end": step.end, "length": m(step.length_m),
            "remark": step.reason,
        }
    )  # fmt: skip


def mark_table(mark: Mark) -> Table:
    """A mark on the rope."""
    place = mark.place
    return without_nothing(
        {
            "name": mark.name,
            **place_table(place.at_m, place.abs_err_m, place.rel_err_m),
            "made_of": mark.made_of,
            "on": mark.on,
        }
    )


def event_table(event: Event) -> Table:
    """Something that may have hurt the rope."""
    return without_nothing(
        {
            "id": event.event_id, "kind": event.kind, "on": event.on,
            **section_table(event.section), "remark": event.remark,
            "release": _release(event.release),
        }
    )  # fmt: skip


def _release(release: Release | None) -> Table | None:
    if release is None:
        return None
    return {"by": release.by, "on": release.on, "evidence": release.evidence}


# --- Installation -----------------------------------------------------------------------------


def installation_table(installation: Installation, *, folder: Path | None) -> Table:
    """The rope on its hoist; rule files are named as seen from ``folder``."""
    one = installation
    return without_nothing(
        {
            "hoist": one.hoist,
            "fitted_on": one.fitted_on,
            "use": one.use if one.use != "running" else None,
            "purpose": one.purpose if one.purpose != "hoist" else None,
            "persons_lifted": one.persons_lifted,
            "mechanism_class": one.mechanism_class,
            "rules": [_rule(name, folder) for name in one.rules],
            "interval_days": one.interval_days,
            "interval_by": one.interval_by,
            "lubricant": one.lubricant,
            "idle_since": one.idle_since,
            "drum_wrap_length": m(one.drum_wrap_length_m),
            "working": section_table(one.working),
            "exposure": [_exposure(item) for item in one.exposed],
            "reference": None if one.reference is None else _reference(one.reference),
            "permission": [
                {name.name: getattr(item, name.name) for name in fields(item)}
                for item in one.permissions
            ],
            "confirmed": [
                without_nothing(
                    {
                        "rule_set": item.rule_set, "clause": item.clause_id, "by": item.by,
                        "edition": item.edition, "on": item.on, "agrees": item.agrees,
                        "remark": item.remark,
                    }
                )
                for item in one.confirmed
            ],
            "set_up": [_set_up(item) for item in one.set_up],
        }
    )  # fmt: skip


def _rule(name: str, folder: Path | None) -> str:
    """A rule set by its name, or a rule file by its path from the case file's folder."""
    if not ("/" in name or "\\" in name or name.endswith(".toml")):
        return name
    if folder is not None:
        path = os.path.relpath(Path(name).resolve(), folder.resolve())
        if not path.startswith(".."):
            return f"./{Path(path).as_posix()}"
    raise InputError(
        field="installation.rules",
        expected="a rule file beside the case file that is written, or in a folder below it",
        given=name,
    )


def _exposure(item: ExposedSection) -> Table:
    said = item.exposure
    return without_nothing(
        {
            **section_table(item.section),
            "drum": None if said.drum == "unknown" else said.drum,
            "sheaves": None if said.sheaves == "unknown" else said.sheaves,
            "crossover": said.crossover,
            "near_end": said.near_end,
            "bends": said.bends,
        }
    )


def _reference(reference: ReferenceDiameter) -> Table:
    return without_nothing(
        {
            "on": reference.on,
            "tension": reference.tension,
            "reading": [
                _reading(one, number, reference.tension)
                for number, one in enumerate(reference.readings, 1)
            ],
        }
    )


def _reading(one: DiameterReading, number: int, tension: str) -> Table:
    place = one.place
    return without_nothing(
        {
            "id": one.finding_id if one.finding_id != f"reference {number}" else None,
            **place_table(place.at_m, place.abs_err_m, place.rel_err_m),
            "readings": [mm(value) for value in one.readings_mm],
            "instrument": one.instrument,
            "tension": one.tension if one.tension != tension else None,
            "remark": one.remark,
        }
    )


def _set_up(item: SetUpMeasure) -> Table:
    value = item.value
    if isinstance(value, Fraction):
        unit = "" if item.unit == "-" else item.unit
        value = mm(value) or "" if unit == "mm" else f"{decimal_text(value)} {unit}".strip()
    return without_nothing(
        {
            "measure": item.name,
            "value": value,
            "how": item.how if item.how != "stated" else None,
            "on": item.on,
            "which": item.which,
        }
    )
