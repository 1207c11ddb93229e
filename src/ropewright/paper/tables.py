"""The report's tables of rulings, rule sets, findings and parts, as plain data.

A table is ``heading``, ``columns`` (words and width), ``rows`` of cells and a ``note``; a cell is
a list of paragraphs, each plain text or text in bold.  What does not fit is counted, not lost:
the attached record holds every ruling, and what it was made from holds every finding.
"""

from collections.abc import Iterable, Sequence
from typing import Any, Final

from ropewright.inspection import (
    BrokenWires,
    Damage,
    DiameterReading,
    Inspection,
    MetallicLoss,
    PartFinding,
    RopeFinding,
    Waviness,
)
from ropewright.paper.facts import Facts
from ropewright.paper.words import (
    MEMORY,
    cut,
    edition,
    first_up,
    found,
    limit,
    metres,
    number,
    result,
    short_place,
    short_source,
)
from ropewright.rules import LEVEL_WORDS, Ruling

MOST_RULINGS: Final = 14
MOST_NEAR: Final = 6
MOST_FINDINGS: Final = 20
MOST_PARTS: Final = 12
MOST_GROUPS: Final = 10
LONGEST_CELL: Final = 220
LONGEST_REMARK: Final = 120

Cell = list[dict[str, Any]]
Table = dict[str, Any]


def text(words: str, *, bold: bool = False, soft: bool = False) -> dict[str, Any]:
    """One paragraph of a cell."""
    return {"t": cut(words, LONGEST_CELL), "bold": bold, "soft": soft}


def cell(*paragraphs: str | dict[str, Any]) -> Cell:
    """A cell of paragraphs; empty ones fall away."""
    made = [text(one) if isinstance(one, str) else one for one in paragraphs]
    return [one for one in made if one["t"]]


def table(
    heading: str,
    columns: Sequence[tuple[str, str]],
    rows: Iterable[Sequence[Cell]],
    *,
    note: str = "",
    empty: str = "",
    strong: Sequence[int] = (),
) -> Table:
    """A table; ``strong`` are the rows that stand out."""
    return {
        "kind": "table",
        "heading": heading,
        "columns": [{"words": words, "width": width} for words, width in columns],
        "rows": [list(row) for row in rows],
        "note": note,
        "empty": empty,
        "strong": list(strong),
    }


def more_note(count: int, shown: int, what: str) -> str:
    """What to write when a table does not hold everything."""
    left = count - shown
    return f"{left} more {what} in the record this was made from." if left > 0 else ""


# --- rulings ---


def rulings_table(facts: Facts) -> Table:
    """Rulings that govern, that reached their limit or that cannot be judged."""
    governing = {one.ruling_id for one in facts.governing}
    grave = facts.rulings("reached", "not assessable")
    shown = grave[:MOST_RULINGS]
    rest = facts.rulings("below", "not applicable", "not in force")
    counts = {
        words: sum(one.status == status for one in rest)
        for status, words in (
            ("below", "not reached"),
            ("not applicable", "do not apply"),
            ("not in force", "not in force"),
        )
    }
    of_all = ", ".join(f"{count} {words}" for words, count in counts.items() if count)
    note = " ".join(
        part
        for part in (
            more_note(len(grave), len(shown), "reached or open rulings"),
            f"Of all {len(facts.ordered)} rulings: {len(facts.rulings('reached'))} reached, "
            f"{len(facts.rulings('not assessable'))} cannot be judged yet"
            + (f", {of_all}." if of_all else "."),
        )
        if part
    )
    return table(
        "Rulings reached or open, the gravest first",
        [
            ("Rule, clause, edition", "2.6fr"),
            ("Found; limit (share of it)", "3.2fr"),
            ("Rope position", "1.95fr"),
            ("Result; who, by when", "2fr"),
            ("Source", "1.2fr"),
        ],
        [_ruling_row(one, governs=one.ruling_id in governing) for one in shown],
        note=note,
        empty="No limit was reached and no clause stayed open.",
        strong=[at for at, one in enumerate(shown) if one.ruling_id in governing],
    )


def near_lines(facts: Facts) -> Table:
    """Limits that were not reached, the nearest first, one line each."""
    near = [one for one in facts.rulings("below") if one.share is not None and one.share > 0]
    near.sort(key=lambda one: -(one.share or 0))
    rows = []
    for one in near[:MOST_NEAR]:
        where = ""
        if one.section is not None:
            where = f" at {short_place(one.section, one.section_err_m)}"
        bound = f"; limit {limit(one, unit=False)}" if one.limit is not None else ""
        title = "" if one.window or one.baseline else f" {one.title}:"
        rows.append(
            cut(f"{one.citation}:{title} {found(one)}{where}{bound}; {short_source(one)}", 260)
        )
    if len(near) > len(rows):
        rows.append(f"{len(near) - len(rows)} more in the record")
    return {"kind": "lines", "heading": "Limits not reached, the nearest first", "rows": rows}


def _ruling_row(ruling: Ruling, *, governs: bool) -> list[Cell]:
    says = [first_up(found(ruling) if ruling.found is not None else cut(ruling.words, 130))]
    if ruling.limit is not None:
        says[0] += f"; limit {limit(ruling, unit=False)}"
    if ruling.status == "not assessable" and ruling.missing:
        says.append(f"Missing: {cut('; '.join(ruling.missing[:3]), 160)}")
    follow = ""
    if ruling.status == "reached":
        follow = ", ".join(part for part in (ruling.who, ruling.by_when) if part)
    elif ruling.how_to_get:
        follow = first_up(cut("; ".join(ruling.how_to_get[:2]), 160))
    findings = ", ".join(ruling.finding_ids[:4])
    memory = "memory" in (ruling.provenance, ruling.clause_provenance) and not ruling.confirmed
    words = "Governs the verdict" if governs else first_up(result(ruling))
    return [
        cell(text(ruling.citation, bold=True), f"{edition(ruling.edition)}: {ruling.title}"),
        cell(*says),
        cell(short_place(ruling.section, ruling.section_err_m), text(findings, soft=True)),
        cell(text(words, bold=governs), follow),
        cell(text(short_source(ruling), bold=memory)),
    ]


def side_by_side(facts: Facts) -> Table:
    """What each rule set says of the rope, beside the others."""
    rows = []
    for used in facts.assessment.rule_sets:
        own = [one for one in facts.ordered if one.rule_set == used.rule_set]
        gravest = own[0] if own else None
        counts = {status: sum(one.status == status for one in own) for status in
                  ("reached", "not assessable", "below")}  # fmt: skip
        words = "no ruling" if gravest is None else LEVEL_WORDS[gravest.level]
        said = gravest.words if gravest and gravest.level not in ("clear", "monitor") else ""
        rows.append(
            [
                cell(text(used.title, bold=True), text(f"edition {edition(used.edition)}, "
                                                       f"{used.why_used}", soft=True)),
                cell(text(first_up(words), bold=True), cut(said, 140)),
                cell(str(counts["reached"])),
                cell(str(counts["not assessable"])),
                cell(str(counts["below"])),
            ]
        )  # fmt: skip
    return table(
        "What each rule set says (the strictest governs)",
        [
            ("Rule set", "3.6fr"),
            ("Says", "3.9fr"),
            ("Reached", "0.8fr"),
            ("Open", "0.6fr"),
            ("Not reached", "1.1fr"),
        ],
        rows,
    )


# --- findings ---


def findings_table(facts: Facts) -> Table:
    """Findings on the rope that count, clusters with their offsets and strands."""
    grave = {name: at for at, one in enumerate(facts.ordered) for name in one.finding_ids[::-1]
             if one.status in ("reached", "not assessable")}  # fmt: skip
    seen = sorted(
        facts.evidence.seen,
        key=lambda one: (
            grave.get(one.finding.finding_id, len(facts.ordered)),
            -(one.finding.count if isinstance(one.finding, BrokenWires) else 0),
        ),
    )
    shown = sorted(seen[:MOST_FINDINGS], key=lambda one: one.finding.section)
    governing = {name for one in facts.governing for name in one.finding_ids}
    return table(
        "Findings on the rope, from end A",
        [
            ("Id", "auto"),
            ("Finding", "1.8fr"),
            ("Rope position", "1.9fr"),
            ("In detail", "4.75fr"),
            ("Found", "1.15fr"),
            ("Remark", "2.65fr"),
        ],
        [_finding_row(one.finding, one.inspection, facts.latest) for one in shown],
        note=more_note(len(seen), len(shown), "findings"),
        empty="Nothing was found on the rope.",
        strong=[at for at, one in enumerate(shown) if one.finding.finding_id in governing],
    )


def _finding_row(
    finding: RopeFinding, inspection: Inspection, latest: Inspection | None
) -> list[Cell]:
    how = f"by {finding.method}" if finding.method else ""
    when = "" if inspection is latest else inspection.on.isoformat()
    same = f"same as {finding.same_as}" if finding.same_as else ""
    photos = f"photos: {', '.join(finding.photos[:3])}" if finding.photos else ""
    return [
        cell(text(finding.finding_id, bold=True)),
        cell(_finding_words(finding), text(same, soft=True)),
        cell(short_place(finding.section, finding.place.abs_err_m)),
        cell(*_finding_detail(finding)),
        cell(text(when, bold=True), how),
        cell(cut(finding.remark, LONGEST_REMARK), text(photos, soft=True)),
    ]


def _finding_words(finding: RopeFinding) -> str:
    if isinstance(finding, BrokenWires):
        return f"{finding.count} broken wire{'' if finding.count == 1 else 's'}"
    if isinstance(finding, Damage):
        words = [finding.kind, finding.form, finding.grade]
        return first_up(", ".join(word for word in words if word))
    return first_up(finding.kind)


def _finding_detail(finding: RopeFinding) -> list[str]:
    if isinstance(finding, BrokenWires):
        return _cluster_detail(finding)
    if isinstance(finding, DiameterReading):
        pair = " / ".join(number(one) for one in finding.readings_mm) + " mm"
        if finding.measured_mm is None or finding.ovality_mm is None:
            return [f"{pair}; one reading only"]
        oval = f", oval {number(finding.ovality_mm)} mm" if finding.ovality_mm else ""
        gauge = f" ({finding.instrument})" if finding.instrument else ""
        return [f"{pair}: {number(finding.measured_mm)} mm{oval}{gauge}"]
    if isinstance(finding, Waviness):
        return [f"gap {number(finding.gap_mm)} mm under the straight edge"]
    if isinstance(finding, MetallicLoss):
        over = f" over {number(finding.over_mm)} mm" if finding.over_mm is not None else ""
        return [f"{number(finding.percent)} % of the {finding.of} lost{over}"]
    return _damage_detail(finding)


def _damage_detail(finding: Damage) -> list[str]:
    lines = []
    if finding.length_m:
        lines.append(f"over {metres(finding.length_m)}")
    if finding.rating_percent is not None:
        lines.append(f"rated {number(finding.rating_percent)} % toward discard")
    if finding.depth_share is not None:
        lines.append(f"worn by {number(finding.depth_share)} of the wire diameter")
    return lines


def _cluster_detail(finding: BrokenWires) -> list[str]:
    groups = []
    for group in finding.groups[:MOST_GROUPS]:
        low, high = number(group.from_mm), number(group.to_mm)
        where = f"{low}" if low == high else f"{low}–{high}"
        count = f"{group.count}× " if group.count > 1 else ""
        strand = f"/{group.strand}" if group.strand is not None else "/?"
        site = "" if group.site == "crown" else f" {group.site}"
        groups.append(f"{count}{where}{strand}{site}")
    more = len(finding.groups) - len(groups)
    tail = f" and {more} more" if more else ""
    err = f" ± {number(finding.offset_err_mm)} mm" if finding.offset_err_mm else ""
    lines = [f"offset mm/strand{err}: {'; '.join(groups)}{tail}"]
    if finding.ends_broken_off:
        lines.append("ends broken off: can no longer be felt")
    if finding.crossover_damage:
        lines.append("said to come from a crossover or from wraps rubbing")
    return lines


def parts_table(facts: Facts) -> Table:
    """Findings on parts, with their measure."""
    parts = sorted(facts.evidence.parts, key=lambda one: (one.finding.dangerous is not True,
                                                          one.finding.finding_id))  # fmt: skip
    shown = parts[:MOST_PARTS]
    return table(
        "Findings on parts",
        [
            ("Id", "auto"),
            ("Part", "2.2fr"),
            ("State", "2fr"),
            ("Measured", "2fr"),
            ("Danger", "1.4fr"),
            ("Remark", "2.6fr"),
        ],
        [_part_row(one.finding) for one in shown],
        note=more_note(len(parts), len(shown), "findings on parts"),
        empty="Nothing was found on parts.",
        strong=[at for at, one in enumerate(shown) if one.finding.dangerous],
    )


def _part_row(part: PartFinding) -> list[Cell]:
    measured = "; ".join(f"{name} {number(value)} mm" for name, value in part.measured.items())
    danger = {True: "is a danger", False: "no danger stated", None: "not stated"}[part.dangerous]
    return [
        cell(text(part.finding_id, bold=True)),
        cell(f"{first_up(part.part)}, {part.which}" if part.which else first_up(part.part)),
        cell(part.state),
        cell(measured or "–"),
        cell(text(danger, bold=part.dangerous is True)),
        cell(cut(part.remark, LONGEST_REMARK)),
    ]


def memory_note(facts: Facts) -> str:
    """A warning for values that were read nowhere, if any ruling rests on one."""
    rulings = [one for one in facts.ordered if one.provenance == "memory" and not one.confirmed]
    if not rulings:
        return ""
    sets = sorted({one.rule_title for one in rulings})
    return (
        f"{first_up(MEMORY)}: figures of {', '.join(sets)} so marked were not read in the text "
        "of the rule."
    )
