"""Damage that counts as soon as it is found, graded damage, waves, events and parts."""

from fractions import Fraction

from ropewright.inspection import Damage, DiameterReading, Inspection
from ropewright.rules.checks.named import is_lessened, kinds_named, kinds_without_number
from ropewright.rules.context import Context
from ropewright.rules.model import (
    OWN_CHECKS,
    Clause,
    EventCheck,
    FoundCheck,
    GradedCheck,
    PartCheck,
    UnnamedCheck,
    WaveCheck,
)
from ropewright.rules.ruling import Found, Step
from ropewright.rules.words import listing, number, place_words, threshold


def _common(finding: Damage, inspection: Inspection) -> dict[str, object]:
    return {
        "section": finding.section,
        "section_err_m": finding.place.abs_err_m,
        "finding_ids": (finding.finding_id,),
        "inspection_id": inspection.inspection_id,
    }


def named_damage(finding: Damage) -> str:
    """Damage with its form and grade, where they are stated."""
    extra = [word for word in (finding.form, finding.grade) if word]
    return f"{finding.damage} ({', '.join(extra)})" if extra else finding.damage


def may_count(check: FoundCheck, finding: Damage, context: Context) -> bool:
    """Whether a finding may be what a clause speaks of; what is not stated may be."""
    if finding.damage not in check.findings:
        return False
    if check.on_bending_rope is not None:
        bends = context.exposure(finding.section.widened(finding.place.abs_err_m)).bends
        if bends is not None and bends != check.on_bending_rope:
            return False
    if check.forms and finding.form is not None and finding.form not in check.forms:
        return False
    return not check.grades or finding.grade is None or finding.grade in check.grades


def check_found(clause: Clause, check: FoundCheck, context: Context) -> None:
    """Reached as soon as such damage is found; unstated form or grade is a question."""
    made = False
    for finding, inspection in context.evidence.damage():
        if not may_count(check, finding, context):
            continue
        missing = []
        if check.forms and finding.form is None:
            missing.append("form")
        if check.grades and finding.grade is None:
            missing.append("grade")
        made = True
        where = place_words(finding.section, finding.place.abs_err_m)
        if missing:
            wanted = listing([*(check.forms if "form" in missing else ()),
                              *(check.grades if "grade" in missing else ())])  # fmt: skip
            context.add(
                clause, status="not assessable",
                words=f"{named_damage(finding)} {where}, {listing(missing)} not stated",
                missing=tuple(f"{word} of the {finding.damage}" for word in missing),
                how_to_get=(f"look again and say whether it is: {wanted}",),
                **_common(finding, inspection),
            )  # fmt: skip
            continue
        context.add(
            clause, status="reached", words=f"{named_damage(finding)} {where}",
            share=Fraction(1), steps=(Step(says="found", value=named_damage(finding),
            origin=f"finding {finding.finding_id}"),), **_common(finding, inspection),
        )  # fmt: skip
    if not made:
        what = " or ".join(check.findings)
        context.add(clause, status="below", words=f"no {what} found that counts here",
                    share=Fraction(0))  # fmt: skip


def check_graded(clause: Clause, check: GradedCheck, context: Context) -> None:
    """Damage rated toward discard by printed grades; the person's own rating may be higher."""
    made = False
    for finding, inspection in context.evidence.damage():
        if finding.damage != check.finding:
            continue
        if check.forms and finding.form is not None and finding.form not in check.forms:
            continue
        made = True
        where = place_words(finding.section, finding.place.abs_err_m)
        printed = check.ratings.get(finding.grade) if finding.grade is not None else None
        stated = finding.rating_percent
        known = [value for value in (printed, stated) if value is not None]
        if not known:
            context.add(
                clause, status="not assessable",
                words=f"{named_damage(finding)} {where}, how bad is not stated",
                missing=(f"grade of the {finding.damage}",),
                how_to_get=(f"look again: {', '.join(check.ratings)}",),
                **_common(finding, inspection),
            )  # fmt: skip
            continue
        rating = max(known)
        reached = rating >= check.limit_percent
        steps = (
            Step(says="grade", value=finding.grade or "not stated",
                 origin="" if printed is None else f"printed rating {number(printed)} %"),
            Step(says="person's own rating",
                 value="none" if stated is None else f"{number(stated)} %"),
            Step(says="rating taken, the higher", value=f"{number(rating)} %"),
        )  # fmt: skip
        context.add(
            clause, status="reached" if reached else "below",
            words=f"{named_damage(finding)} {where}: rated {number(rating)} % toward discard",
            compare="reached", limit=check.limit_percent,
            found=Found(lower=rating, upper=rating, unit="% toward discard"),
            share=rating / check.limit_percent, rating_percent=rating, steps=steps,
            **_common(finding, inspection),
        )  # fmt: skip
    if not made:
        context.add(clause, status="below", words=f"no such {check.finding} found",
                    share=Fraction(0))  # fmt: skip


def check_wave(clause: Clause, check: WaveCheck, context: Context) -> None:
    """Gap of a wave; a section that may bend is judged as one that bends."""
    limit_mm = check.share_of_diameter * context.diameter_mm
    made = False
    for finding, inspection in context.evidence.waves():
        bends = context.exposure(finding.section.widened(finding.place.abs_err_m)).bends
        if check.section_bends is (bends is False):
            continue
        made = True
        reached = (
            finding.gap_mm >= limit_mm if check.compare == "reached" else finding.gap_mm > limit_mm
        )
        where = place_words(finding.section, finding.place.abs_err_m)
        unknown = "" if bends is not None else "; whether it bends is not known, stricter taken"
        share = check.share_of_diameter
        steps = (
            Step(says="limit", value=f"{number(share)} × {number(context.diameter_mm)} mm = "
                 f"{number(limit_mm)} mm"),
            Step(says="gap measured", value=f"{number(finding.gap_mm)} mm",
                 origin=f"finding {finding.finding_id}{unknown}"),
        )  # fmt: skip
        context.add(
            clause, status="reached" if reached else "below",
            words=f"wave with a gap of {number(finding.gap_mm)} mm {where}; "
            f"limit {threshold(f'{number(limit_mm)} mm', check.compare)}",
            compare=check.compare, baseline="nominal diameter", limit=limit_mm,
            found=Found(lower=finding.gap_mm, upper=finding.gap_mm, unit="mm"),
            share=finding.gap_mm / limit_mm, steps=steps, section=finding.section,
            section_err_m=finding.place.abs_err_m, finding_ids=(finding.finding_id,),
            inspection_id=inspection.inspection_id,
        )  # fmt: skip
    if not made:
        context.add(clause, status="below", words="no such wave found", share=Fraction(0))


def check_event(clause: Clause, check: EventCheck, context: Context) -> None:
    """An event that by itself takes the rope out."""
    fitted = context.dossier.installation.fitted_on
    made = False
    for event in context.dossier.events:
        if event.kind not in check.events or event.on > context.as_of:
            continue
        if fitted is not None and event.on < fitted:
            continue
        made = True
        context.add(
            clause, status="reached", words=f"{event.kind} on {event.on.isoformat()}",
            section=event.section, finding_ids=(event.event_id,), share=Fraction(1),
        )  # fmt: skip
    if not made:
        context.add(clause, status="below", words=f"no {' or '.join(check.events)} on record",
                    share=Fraction(0))  # fmt: skip


def _states_named(context: Context) -> set[tuple[str, str]]:
    """Part findings that a clause of a chosen rule (other than our own checks) speaks of."""
    named: set[tuple[str, str]] = set()
    for rule_set in context.all_rule_sets:
        for clause in rule_set.clauses:
            check = clause.check
            if isinstance(check, PartCheck) and check.states:
                named |= {(part, state) for part in check.parts for state in check.states}
    return named


def check_part(clause: Clause, check: PartCheck, context: Context) -> None:
    """Findings on parts; a clause without states takes what no other clause speaks of."""
    elsewhere = _states_named(context) if not check.states else set()
    made = False
    for one in context.evidence.parts:
        finding = one.finding
        if finding.part not in check.parts or (check.states and finding.state not in check.states):
            continue
        if (finding.part, finding.state) in elsewhere:
            continue
        made = True
        context.add(
            clause, status="reached", words=f"{finding.part} {finding.which}: {finding.state}",
            finding_ids=(finding.finding_id,), inspection_id=one.inspection.inspection_id,
            share=Fraction(1),
        )  # fmt: skip
    if not made:
        context.add(clause, status="below", words="nothing found on these parts that counts here",
                    share=Fraction(0))  # fmt: skip


def check_unnamed(clause: Clause, _check: UnnamedCheck, context: Context) -> None:
    """Damage that no clause of the chosen rules speaks of is never passed over."""
    named = kinds_named(context, besides={OWN_CHECKS}) | kinds_without_number(context)
    made = False
    for seen in context.evidence.seen:
        kind = seen.finding.kind
        if kind in named:
            continue
        where = place_words(seen.finding.section, seen.finding.place.abs_err_m)
        if isinstance(seen.finding, DiameterReading):
            if seen.finding.measured_mm is None:
                made = True
                context.add(
                    clause, status="not assessable",
                    words=f"diameter {where}: the second reading at right angles missing",
                    missing=("the second reading at right angles",),
                    how_to_get=("measure twice at right angles at the same place",),
                    section=seen.finding.section, finding_ids=(seen.finding.finding_id,),
                    section_err_m=seen.finding.place.abs_err_m,
                    inspection_id=seen.inspection.inspection_id,
                )  # fmt: skip
                continue
            if not is_lessened(seen.finding, context.diameter_mm):
                continue  # a diameter is damage only where some is lost
        made = True
        context.add(
            clause, status="reached",
            words=f"{kind} {where}: no clause of the chosen rules names it",
            section=seen.finding.section, section_err_m=seen.finding.place.abs_err_m,
            finding_ids=(seen.finding.finding_id,), share=Fraction(1),
            inspection_id=seen.inspection.inspection_id,
        )  # fmt: skip
    if not made:
        context.add(clause, status="below", words="every finding is named by a clause",
                    share=Fraction(0))  # fmt: skip
