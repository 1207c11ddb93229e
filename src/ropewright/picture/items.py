"""What the flags of a rope chart stand for: findings, worst windows, diameters, marks."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from ropewright.desk.chart_places import is_on_chart
from ropewright.inspection import BrokenWires, DiameterReading, Inspection, RopeFinding
from ropewright.picture.flags import FlagLane, Item, lay_out
from ropewright.picture.frame import Frame
from ropewright.picture.scene import Scene, by_weight
from ropewright.picture.words import (
    count_words,
    finding_title,
    finding_words,
    metres_words,
    ruling_title,
    short_number,
    wires,
)
from ropewright.rules.ruling import Ruling

#: So many rulings are flown at most; the rest stands in the tables.
MOST_RULINGS: Final = 24


def _finding_item(scene: Scene, finding: RopeFinding, inspection: Inspection) -> Item:
    section = finding.section
    count = finding.count if isinstance(finding, BrokenWires) else 1
    words = str(count) if isinstance(finding, BrokenWires) else finding_words(finding)
    if inspection not in scene.evidence.current:
        words = f"{words} ({inspection.on.isoformat()})"
    return Item(
        sign=finding.kind,
        from_m=section.from_m,
        to_m=section.to_m,
        err_m=finding.place.abs_err_m,
        words=words,
        title=finding_title(finding, inspection),
        name=finding.finding_id,
        count=count,
    )


def _wires_together(group: Sequence[Item]) -> str:
    return f"{sum(item.count for item in group)} at {len(group)} places"


def _kinds_together(group: Sequence[Item]) -> str:
    if len({item.sign for item in group}) > 1:
        return f"{len(group)} findings"
    return f"{len(group)} × {group[0].sign}"


def break_lane(scene: Scene, frame: Frame) -> FlagLane | None:
    """Clusters of broken wires with their counts."""
    items = [
        _finding_item(scene, one, by) for one, by in scene.found if isinstance(one, BrokenWires)
    ]
    return lay_out("breaks", "Broken wires", items, frame, together=_wires_together,
                   remark="none found")  # fmt: skip


def other_lane(scene: Scene, frame: Frame) -> FlagLane | None:
    """Everything else that was found on the rope, but diameters."""
    items = [
        _finding_item(scene, one, by)
        for one, by in scene.found
        if not isinstance(one, BrokenWires | DiameterReading)
    ]
    if not items:
        return None
    return lay_out("others", "Other findings", items, frame, together=_kinds_together)


def diameter_lane(scene: Scene, frame: Frame) -> FlagLane | None:
    """Measured diameters; a single reading is marked as such."""
    items = []
    values: dict[str, Fraction] = {}
    for finding, inspection in scene.found:
        if not isinstance(finding, DiameterReading):
            continue
        measured = finding.measured_mm
        values[finding.finding_id] = measured or finding.readings_mm[0]
        words = (
            f"{short_number(finding.readings_mm[0])} (one reading)"
            if measured is None
            else short_number(measured)
        )
        items.append(
            Item(
                sign="diameter",
                from_m=finding.place.at_m,
                to_m=finding.place.at_m,
                err_m=finding.place.abs_err_m,
                words=words,
                title=finding_title(finding, inspection),
                name=finding.finding_id,
                kind="diameter",
            )
        )
    if not items:
        return None

    def together(group: Sequence[Item]) -> str:
        sizes = sorted(values[item.name] for item in group)
        return f"{len(group)}: {short_number(sizes[0])} to {short_number(sizes[-1])}"

    return lay_out("diameter", "Diameter [mm]", items, frame, together=together)


def mark_lane(scene: Scene, frame: Frame) -> FlagLane | None:
    """Tape and paint marks by name."""
    items = [
        Item(
            sign="mark",
            from_m=mark.place.at_m,
            to_m=mark.place.at_m,
            err_m=mark.place.abs_err_m,
            words=mark.name,
            title=f"mark {mark.name} at {metres_words(mark.place.at_m)} m"
            + (f", {mark.made_of}" if mark.made_of else ""),
            name=mark.name,
            kind="mark",
        )
        for mark in scene.dossier.marks
        if mark.on is None or mark.on <= scene.as_of
    ]
    if not items:
        return None

    def together(group: Sequence[Item]) -> str:
        return f"{group[0].words} … {group[-1].words}"

    return lay_out("marks", "Marks", items, frame, together=together)


def ruling_lane(scene: Scene, frame: Frame) -> FlagLane | None:
    """The worst windows and places on which rules bite; those that govern stand out."""
    first = {ruling.ruling_id for ruling in scene.governing}
    placed = [
        one for one in by_weight(scene.assessment.rulings, scene.governing) if is_on_chart(one)
    ]
    if frame.compact:
        placed = [one for one in placed if one.ruling_id in first] or placed[:2]
    items: list[Item] = []
    for ruling in placed:
        item = _ruling_item(ruling, governs=ruling.ruling_id in first, frame=frame)
        if not any(_same_flag(item, other) for other in items):
            items.append(item)
    rank = {item.name: at for at, item in enumerate(items)}

    def together(group: Sequence[Item]) -> str:
        gravest = min(group, key=lambda item: rank[item.name])
        return f"{gravest.words} (+{len(group) - 1})"

    # the gravest are flown; what finds no room beside them stands in the tables
    governing = sum(item.strong for item in items)
    for most in (*range(min(MOST_RULINGS, len(items)), governing, -1), governing):
        lane = lay_out(
            "rulings", "Worst places", items[:most], frame, together=together,
            remark="no limit came near", least_nearness=14.0, most_nearness=14.0,
            may_shorten=most == governing,
        )  # fmt: skip
        if lane is not None:
            return lane
    return None


def _same_flag(one: Item, other: Item) -> bool:
    same = (one.words, one.sign) == (other.words, other.sign)
    return same and abs(one.middle_m - other.middle_m) < 0.5


def _ruling_item(ruling: Ruling, *, governs: bool, frame: Frame) -> Item:
    section = ruling.section
    if section is None:
        raise ValueError("only a ruling with a section has a place on the rope")
    words = count_words(ruling)
    if governs and not frame.compact:
        words = f"{words} · {ruling.rule_title}"
    return Item(
        sign="governing" if governs else ruling.status,
        from_m=section.from_m,
        to_m=section.to_m,
        err_m=ruling.section_err_m,
        words=words,
        title=ruling_title(ruling),
        name=ruling.ruling_id,
        kind="ruling",
        strong=governs,
    )


def broken_total(scene: Scene) -> str:
    """How many broken wires count in all, in words."""
    total = sum(one.count for one, _ in scene.found if isinstance(one, BrokenWires))
    return wires(total)
