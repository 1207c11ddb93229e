"""The page 'Where it is': crane and drum with the findings, and how each comes back to a person."""

from dataclasses import dataclass, replace
from typing import Final

from ropewright.errors import InputError
from ropewright.geometry import CranePosition, Hoist, on_drum
from ropewright.inspection import RiggedHoist, hoist_on
from ropewright.paper.facts import Facts
from ropewright.paper.tables import Cell, Table, cell, table, text
from ropewright.picture import crane_elevation, drum_section
from ropewright.picture.elevation import middle_of
from ropewright.plan import (
    AT_REST,
    Direction,
    InspectionPlan,
    LookAgain,
    on_path,
    plan_inspection,
)

MOST_ROWS: Final = 10
_WIDTH: Final = 720


@dataclass(frozen=True, slots=True, kw_only=True)
class WherePage:
    """What the page says and shows; ``not_drawn`` says why there is none."""

    table: Table | None
    pictures: dict[str, str]
    not_drawn: str = ""


def where_page(facts: Facts) -> WherePage:
    """The page, as far as the rope's path is known."""
    dossier, on = facts.dossier, facts.as_of
    try:
        rigged = hoist_on(dossier, on)
        plan = plan_inspection(dossier, facts.assessment.verdict, on)
    except InputError as error:
        wanted = error.expected or error.message or "more of the rigging"
        words = f"Crane and drum are not drawn: {error.field}: {wanted}."
        return WherePage(table=None, pictures={}, not_drawn=words)
    if rigged.by_payout:
        words = "Crane and drum are not drawn: of the path only falls and hook heights are known."
        return WherePage(table=None, pictures={}, not_drawn=words)
    position = _position(facts, plan, rigged.hoist)
    pictures = {
        "crane.svg": crane_elevation(dossier, on, position=position, plan=plan, width_px=_WIDTH)
    }
    if not rigged.asked_for_drum:
        pictures["drum.svg"] = drum_section(dossier, on, position=position, width_px=_WIDTH)
    return WherePage(table=_table(facts, plan, rigged), pictures=pictures)


def _position(facts: Facts, plan: InspectionPlan, hoist: Hoist) -> CranePosition | None:
    """Where the crane stands when the finding that governs is in front of a person."""
    found = {one.name: one for one in plan.again}
    for ruling in facts.governing:
        for name in ruling.finding_ids:
            for reach in found[name].reaches if name in found else ():
                if reach.position is not None:
                    return _whole(hoist, reach.position)
    return None


def _whole(hoist: Hoist, position: CranePosition) -> CranePosition:
    """The position with every axis of the path, those that make no difference in the middle."""
    stated = {axis: position.value(axis) for axis in hoist.reeving.axes}
    return replace(
        middle_of(hoist), **{axis: value for axis, value in stated.items() if value is not None}
    )


def _table(facts: Facts, plan: InspectionPlan, rigged: RiggedHoist) -> Table:
    rows = [_row(facts, one, rigged) for one in plan.again[:MOST_ROWS]]
    more = len(plan.again) - len(rows)
    note = f"{more} more are left out here; the attached record holds them." if more > 0 else ""
    return table(
        "To find it again",
        [
            ("Finding or mark", "1.3fr"), ("Rope position", "auto"), ("On the drum", "1.1fr"),
            ("Stand at", "1fr"), ("Crane", "1.2fr"),
            ("Which way the rope may run at a hand", "1.6fr"),
        ],
        rows,
        note=note,
        empty="No finding and no mark is on this rope.",
    )  # fmt: skip


def _row(facts: Facts, one: LookAgain, rigged: RiggedHoist) -> list[Cell]:
    middle = (one.section.from_m + one.section.to_m) / 2
    first = one.reaches[0] if one.reaches else None
    if first is None:
        stand, crane, way = "nowhere", "; ".join(one.not_reached), ""
    else:
        stand, crane = first.place, first.words
        way = AT_REST if first.direction is None else _way(first.direction)
    off = f"HAND OFF: {one.hand_off}; stop and isolate first" if one.hand_off else ""
    return [
        cell(text(one.name, bold=True), text(one.words, soft=True)),
        cell(f"{middle:.2f} m ± {one.err_m:.1f}"),
        cell(_drum_words(facts, one, rigged)),
        cell(stand),
        cell(crane),
        cell(text(off, bold=True)) if off else cell(way),
    ]


def _way(direction: Direction) -> str:
    """The direction in which the rope may run, in a few words."""
    if direction.motion is None or direction.ahead_m is None or direction.nearest_m is None:
        return direction.words
    if not direction.hand:
        return "by eye; no hand here"
    motion = direction.words.split(":")[0]
    return (
        f"{motion}: away from the {direction.nearest}; {direction.ahead} "
        f"{direction.ahead_m:.1f} m ahead"
    )


def _drum_words(facts: Facts, one: LookAgain, rigged: RiggedHoist) -> str:
    if rigged.asked_for_drum:
        return "drum not described"
    history = facts.dossier.history.at(facts.as_of)
    places = {mark.name: mark.place for mark in facts.dossier.marks}
    seen = {each.finding.finding_id: each.finding.place for each in facts.evidence.seen}
    place = seen.get(one.name) or places.get(one.name.removeprefix("mark "))
    today = None if place is None else on_path(place, history)
    if today is None:
        return "–"
    try:
        lies = on_drum(today, rigged.hoist)
    except InputError:
        return "never on the drum"
    return f"layer {lies.layer}, wrap {lies.wrap_from_clamp} from the clamp's flange"
