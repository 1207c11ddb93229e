"""Inspections and findings as tables of a case file."""

from dataclasses import fields
from fractions import Fraction
from typing import Any

from ropewright.inspection import (
    BreakGroup,
    BrokenWires,
    Conditions,
    Damage,
    DiameterReading,
    ExaminedItem,
    HiddenSection,
    Inspection,
    Instrument,
    MetallicLoss,
    PartFinding,
    Pass,
    RopeFinding,
    UnseenAcceptance,
    Waviness,
)
from ropewright.intake.write_case_rope import person_table, place_table, section_table
from ropewright.intake.write_case_text import Table, in_unit, m, mm, share, without_nothing
from ropewright.rope import RopeHistory


def inspection_table(one: Inspection, history: RopeHistory) -> Table:
    """One inspection with everything in it.

    A rope that was cut or turned on that day is taken as it was before: all its places are
    rope positions, and those hold before and after.
    """
    cut_that_day = any(step.on == one.on for step in history.steps)
    return without_nothing(
        {
            "id": one.inspection_id,
            "kind": one.kind,
            "on": one.on,
            "finished": None if one.finished else False,
            "before_changes": cut_that_day or None,
            "next_by": one.next_by,
            "after_event": one.after_event,
            "remark": one.remark,
            "signed_by": one.signed_by,
            **_examined(one.examined),
            "conditions": _conditions(one.conditions),
            "person": [person_table(person) for person in one.by],
            "instrument": [_instrument(item) for item in one.instruments],
            "pass": [_pass(item) for item in one.passes],
            "hidden": [_hidden(item) for item in one.hidden],
            "accepted": [_accepted(item) for item in one.accepted],
            "finding": [_finding(item) for item in one.findings],
            "part": [_part(item) for item in one.part_findings],
        }
    )


def _examined(items: tuple[ExaminedItem, ...]) -> Table:
    """Places and parts in three short lists, or one by one if that would lose order or remarks."""
    lists: Table = {
        key: [item.item for item in items if item.state == state]
        for key, state in (("seen", "seen"), ("not_seen", "not seen"), ("not_fitted", "not fitted"))
    }
    in_lists = [*lists["seen"], *lists["not_seen"], *lists["not_fitted"]]
    if in_lists == [item.item for item in items] and not any(item.remark for item in items):
        return lists
    return {
        "item": [
            without_nothing({"item": item.item, "state": item.state, "remark": item.remark})
            for item in items
        ]
    }


def _conditions(said: Conditions) -> Table:
    table: Table = {one.name: getattr(said, one.name) for one in fields(said)}
    if said.grease == "unknown":
        del table["grease"]
    return without_nothing(table)


def _instrument(item: Instrument) -> Table:
    return without_nothing(
        {
            "name": item.name, "kind": item.kind, "resolution": mm(item.resolution_mm),
            "calibrated_on": item.calibrated_on, "calibration_due": item.calibration_due,
        }
    )  # fmt: skip


def _pass(item: Pass) -> Table:
    return without_nothing(
        {
            "method": item.method,
            **section_table(item.section),
            "point": item.point,
            "hook_from": m(item.hook_from_m),
            "hook_to": m(item.hook_to_m),
            "rope_speed": in_unit(item.rope_speed_m_per_s, "m/s"),
            "remark": item.remark,
        }
    )


def _hidden(item: HiddenSection) -> Table:
    return without_nothing({**section_table(item.section), "cause": item.cause})


def _accepted(item: UnseenAcceptance) -> Table:
    return {
        **section_table(item.section), "by": item.by, "until": item.until, "reason": item.reason,
    }  # fmt: skip


# --- Findings ---------------------------------------------------------------------------------


def _finding(finding: RopeFinding) -> Table:
    place = finding.place
    return without_nothing(
        {
            "kind": finding.kind,
            "id": finding.finding_id,
            **place_table(place.at_m, place.abs_err_m, place.rel_err_m),
            "method": finding.method,
            **_of_kind(finding),
            "same_as": finding.same_as,
            "remark": finding.remark,
            "photos": list(finding.photos),
        }
    )


def _of_kind(finding: RopeFinding) -> dict[str, Any]:
    match finding:
        case BrokenWires():
            return _broken_wires(finding)
        case DiameterReading():
            return {
                "readings": [mm(value) for value in finding.readings_mm],
                "instrument": finding.instrument,
                "tension": finding.tension,
                "crushed_by_crossover": finding.crushed_by_crossover,
            }
        case Waviness():
            return {"gap": mm(finding.gap_mm), "length": _length(finding.length_m)}
        case Damage():
            return {
                "length": _length(finding.length_m),
                "form": finding.form,
                "grade": finding.grade,
                "rating": in_unit(finding.rating_percent, "%"),
                "depth": share(finding.depth_share),
            }
        case MetallicLoss():
            return {
                "loss": in_unit(finding.percent, "%"),
                "over": mm(finding.over_mm),
                "of": finding.of if finding.of != "metallic area" else None,
            }


def _length(length_m: float) -> str | None:
    return m(length_m) if length_m else None


def _broken_wires(finding: BrokenWires) -> dict[str, Any]:
    more = {
        "offset_err": mm(finding.offset_err_mm) if finding.offset_err_mm else None,
        "crossover_damage": finding.crossover_damage,
        "ends_broken_off": finding.ends_broken_off,
    }
    first = finding.groups[0]
    short = len(finding.groups) == 1 and first.from_mm == 0 and (first.to_mm > 0 or first.count < 2)
    if short:
        over = mm(first.to_mm) if first.to_mm > 0 else None
        return {"count": first.count, "over": over, **_group(first), **more}
    return {"breaks": [_break(group) for group in finding.groups], **more}


def _break(group: BreakGroup) -> Table:
    if group.from_mm == group.to_mm:
        where: Table = {"at": mm(group.from_mm)}
    else:
        where = {"from": mm(group.from_mm), "to": mm(group.to_mm)}
    count = group.count if group.count > 1 else None
    return without_nothing({**where, "count": count, **_group(group)})


def _group(group: BreakGroup) -> Table:
    return {
        "strand": group.strand,
        "site": group.site if group.site != "crown" else None,
        "protruding": group.protruding,
    }


def _part(part: PartFinding) -> Table:
    return without_nothing(
        {
            "part": part.part,
            "id": part.finding_id,
            "which": part.which,
            "state": part.state,
            "measured": {name: mm(Fraction(value)) for name, value in part.measured.items()},
            "dangerous": part.dangerous,
            "remark": part.remark,
            "photos": list(part.photos),
        }
    )
