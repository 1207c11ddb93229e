"""Signs of growth between two inspections: a count that doubled, a first cluster."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from ropewright.inspection import BrokenWires, Compared, Inspection, covered
from ropewright.inspection.again import SAME_PLACE_M
from ropewright.inspection.findings import CLOSENESS, Method
from ropewright.inspection.windows import CountedGroup, nanometres, worst_window
from ropewright.rules.context import NANOMETRES_PER_MM, Context
from ropewright.rules.model import Clause
from ropewright.rules.more_checks import GrowthCheck
from ropewright.rules.ruling import Step
from ropewright.rules.words import place_words


def check_growth(clause: Clause, check: GrowthCheck, context: Context) -> None:
    """Compare broken wires that count with all that was known before they were found.

    A sign stays until its place is looked at again, whatever was looked at elsewhere since.  A
    closer look that finds more is not growth: a doubling counts only against passes that looked
    as closely.
    """
    past = context.evidence.past
    if not _is_comparable(past):
        context.add(clause, status="not applicable", words="no two inspections to compare")
        return
    said = Compared(one for one in context.dossier.comparisons if one.on <= context.as_of)
    made = False
    for finding, inspection in context.evidence.broken_wires():
        before = [one for one in past if one.on < inspection.on]
        if not any(one.is_thorough and one.finished for one in before):
            continue
        sign = _sign(check, finding, inspection, before, said, context)
        if sign is not None:
            made = True
            words, share = sign
            where = place_words(finding.section, finding.place.abs_err_m)
            context.add(
                clause, status="reached", words=f"{words} {where}", share=share,
                steps=(Step(says="compared with what was known before", value=words,
                            origin=f"finding {finding.finding_id}"),),
                section=finding.section, section_err_m=finding.place.abs_err_m,
                finding_ids=(finding.finding_id,), inspection_id=inspection.inspection_id,
            )  # fmt: skip
    if not made:
        context.add(clause, status="below", words="no count doubled and no first cluster")


def _is_comparable(past: Sequence[Inspection]) -> bool:
    """Whether breaks could be counted at an inspection after a finished thorough one."""
    thorough = [one.on for one in past if one.is_thorough and one.finished]
    able = [
        one.on
        for one in past
        if one.is_thorough or any(isinstance(item, BrokenWires) for item in one.findings)
    ]
    return bool(thorough) and min(thorough) < max(able)


def _sign(
    check: GrowthCheck,
    finding: BrokenWires,
    inspection: Inspection,
    before: Sequence[Inspection],
    said: Compared,
    context: Context,
) -> tuple[str, Fraction] | None:
    """What the sign is, and how many times what is asked about was found; none without one."""
    earlier = [list(_again(finding, one, said)) for one in before]
    # what a person told apart from this finding was known there, and is there still
    told = [[item for item in found if said.is_apart(item, finding)] for found in earlier]
    known = max((sum(item.count for item in found) for found in earlier), default=0)
    apart = max((sum(item.count for item in found) for found in told), default=0)
    here = list(_again(finding, inspection, said))  # this finding, and others typed beside it
    if known == 0:
        most = _most_in(here, context.window(check.window).longest_nm)
        if most >= check.first:
            words = f"first cluster: {most} broken wires in {check.window}"
            return f"{words}, where none was known before", Fraction(most, check.first)
        return None
    now = sum(item.count for item in here) + apart
    asked = max(known, check.doubled_by)
    if now - known >= asked and _as_close(finding, earlier, before):
        words = f"the count doubled between two inspections: from {known} to {now}"
        return words, Fraction(now - known, asked)
    return None


def _again(finding: BrokenWires, inspection: Inspection, said: Compared) -> Iterator[BrokenWires]:
    """Broken wires that an inspection knew there, by name or by place."""
    around = finding.section.widened(SAME_PLACE_M + finding.place.rel_err_m)
    for one in inspection.findings:
        if not isinstance(one, BrokenWires):
            continue
        near = one.section.widened(one.place.rel_err_m + _shared_m(one, finding))
        if said.is_named(one, finding) or near.overlaps(around):
            yield one


def _shared_m(one: BrokenWires, other: BrokenWires) -> float:
    """How far off two passes may be against each other [m]."""
    return max(one.place.abs_err_m, other.place.abs_err_m)


def _most_in(findings: Sequence[BrokenWires], window_nm: int) -> int:
    worst = worst_window(
        [
            CountedGroup(
                from_nm=(base := nanometres(finding.place.at_m))
                + int(group.from_mm * NANOMETRES_PER_MM),
                to_nm=base + int(group.to_mm * NANOMETRES_PER_MM),
                count=group.count,
            )
            for finding in findings
            for group in finding.groups
        ],
        window_nm,
    )
    return 0 if worst is None else worst.upper


def _as_close(
    finding: BrokenWires, earlier: Sequence[Sequence[BrokenWires]], before: Sequence[Inspection]
) -> bool:
    """Whether somebody had looked there as closely before; what is not stated counts so."""
    if finding.method is None:
        return True
    ways: set[Method] = {
        method
        for one in before
        for method in CLOSENESS
        if any(piece.contains(finding.section) for piece in covered(one, method))
    }
    found = [item for items in earlier for item in items]
    if any(item.method is None for item in found):
        return True
    ways |= {item.method for item in found if item.method is not None}
    closest = max((CLOSENESS.get(way, 0) for way in ways), default=0)
    return CLOSENESS.get(finding.method, 0) <= closest
