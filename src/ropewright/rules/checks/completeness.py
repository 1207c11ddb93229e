"""Was enough seen, by the right person, in time?  What is missing is never passed."""

import calendar
from datetime import date, timedelta
from fractions import Fraction

from ropewright.geometry import Section, covered_length, subtract
from ropewright.inspection import DiameterReading, Inspection, covered_by_all
from ropewright.rules.context import Context
from ropewright.rules.model import (
    AfterEventCheck,
    Clause,
    CoverageCheck,
    GreaseCheck,
    IdleCheck,
    IntervalCheck,
    ItemsCheck,
    PersonCheck,
    ReadingsCheck,
    VanishedCheck,
)
from ropewright.rules.ruling import Found
from ropewright.rules.words import listing, place_words, ways_words

_NO_INSPECTION = "no inspection is on record"
_LOOK_AGAIN = "go back to the place and look and feel again; broken-off ends can no longer be felt"


def add_months(day: date, months: int) -> date:
    """The same day of the month some months later, or the last day of a shorter month."""
    month = day.month - 1 + months
    year, month = day.year + month // 12, month % 12 + 1
    return date(year, month, min(day.day, calendar.monthrange(year, month)[1]))


def _sections_words(sections: tuple[Section, ...]) -> str:
    shown = [f"{one.from_m:.1f} m to {one.to_m:.1f} m" for one in sections[:4]]
    more = len(sections) - len(shown)
    return listing(shown) + (f" and {more} more" if more > 0 else "")


def check_coverage(clause: Clause, check: CoverageCheck, context: Context) -> None:
    """Sections that must be seen, each by one of the ways allowed."""
    inspection = context.latest
    if inspection is None:
        _missing_inspection(clause, context)
        return
    target, target_words = _target(check, context)
    seen: list[Section] = []
    for way in check.by:
        seen.extend(covered_by_all(inspection, way))
    left = subtract([target], seen)
    ways = ways_words(check.by)
    common: dict[str, object] = {"inspection_id": inspection.inspection_id}
    if not left:
        context.add(clause, status="below", words=f"{target_words} covered by {ways}", **common)
        return
    acceptances = [
        f"{one.by} accepts this until {one.until.isoformat()}: {one.reason}"
        for one in inspection.accepted
        if one.until >= context.as_of and any(one.section.overlaps(piece) for piece in left)
    ]
    gap = f"{covered_length(left):.1f} m of the {target_words}"
    words = f"{gap} not covered as this rule asks: by {ways}"
    if acceptances:
        words += f" ({'; '.join(acceptances)})"
    context.add(
        clause, status="not assessable", words=words,
        missing=(f"{ways}: {_sections_words(left)}",),
        how_to_get=(
            f"inspect these sections by {ways}; clean them first where grease hides the wires",
        ),
        section=left[0] if len(left) == 1 else Section(left[0].from_m, left[-1].to_m), **common,
    )  # fmt: skip


def _target(check: CoverageCheck, context: Context) -> tuple[Section, str]:
    service = context.evidence.service
    working = context.dossier.installation.working
    if check.of == "whole rope" or working is None:
        return service, "whole rope"
    extra_m = 0.0
    if check.extra_wraps:
        wrap_m = context.dossier.installation.drum_wrap_length_m
        if wrap_m is None:
            return service, "whole rope"
        extra_m = float(check.extra_wraps) * wrap_m
    low = max(service.from_m, working.from_m)
    high = min(service.to_m, working.to_m)
    path = context.dossier.history.at(context.as_of)
    if path.to_path_m(high) >= path.to_path_m(low):
        high = min(service.to_m, high + extra_m)
    else:
        low = max(service.from_m, low - extra_m)
    extra = f" and {check.extra_wraps} wraps" if check.extra_wraps else ""
    return Section(low, high), f"working length{extra}"


def _missing_inspection(clause: Clause, context: Context) -> None:
    context.add(
        clause, status="not assessable", words=_NO_INSPECTION,
        missing=("an inspection",), how_to_get=("inspect the rope and record it",),
    )  # fmt: skip


def check_items(clause: Clause, check: ItemsCheck, context: Context) -> None:
    """Places and parts that must have been examined or are not fitted."""
    inspection = context.latest
    if inspection is None:
        _missing_inspection(clause, context)
        return
    left = [
        item for item in check.items if inspection.item_state(item) not in ("seen", "not fitted")
    ]
    common: dict[str, object] = {"inspection_id": inspection.inspection_id}
    if left:
        context.add(
            clause, status="not assessable", words=f"not examined: {listing(left)}",
            missing=tuple(left), how_to_get=("examine them, or state that they are not fitted",),
            **common,
        )  # fmt: skip
    else:
        context.add(clause, status="below", words="all places and parts examined", **common)


def check_readings(clause: Clause, check: ReadingsCheck, context: Context) -> None:
    """Diameter pairs that must have been taken."""
    inspection = context.latest
    if inspection is None:
        _missing_inspection(clause, context)
        return
    pairs = sum(
        1
        for reading in inspection.findings
        if isinstance(reading, DiameterReading) and reading.measured_mm is not None
    )
    common: dict[str, object] = {
        "inspection_id": inspection.inspection_id,
        "limit": Fraction(check.places),
        "found": Found(lower=Fraction(pairs), upper=Fraction(pairs), unit="diameter pairs"),
    }
    words = f"{pairs} diameter pair{'' if pairs == 1 else 's'} taken, {check.places} asked for"
    if pairs >= check.places:
        context.add(clause, status="below", words=words, **common)
    else:
        context.add(
            clause, status="not assessable", words=words,
            missing=(f"{check.places - pairs} more diameter pair(s)",),
            how_to_get=("measure twice at right angles at one place",), **common,
        )  # fmt: skip


def check_person(clause: Clause, check: PersonCheck, context: Context) -> None:
    """Who inspected."""
    inspection = context.latest
    if inspection is None:
        _missing_inspection(clause, context)
        return
    wanted = " or ".join(check.competence)
    by = next((one for one in inspection.by if one.competence in check.competence), None)
    common: dict[str, object] = {"inspection_id": inspection.inspection_id}
    if by is None:
        context.add(
            clause, status="not assessable",
            words=f"no {wanted} person is named for this inspection",
            missing=(f"a {wanted} person",),
            how_to_get=("name the person and state the qualification, or inspect again",), **common,
        )  # fmt: skip
        return
    expires = by.certificate_expires
    if expires is not None and expires < inspection.on:
        context.add(
            clause, status="not assessable",
            words=f"{by.role}: certificate expired on {expires.isoformat()}",
            missing=("a valid certificate of the person",),
            how_to_get=("renew it, or let another person inspect",), **common,
        )  # fmt: skip
        return
    context.add(clause, status="below", words=f"inspected by {by.role} ({by.competence})", **common)


def check_grease(clause: Clause, _check: GreaseCheck, context: Context) -> None:
    """Lubricant that hides the rope."""
    inspection = context.latest
    if inspection is None:
        _missing_inspection(clause, context)
        return
    sections = tuple(one.section for one in inspection.hidden if one.cause == "grease")
    hides = inspection.conditions.grease == "hides the wires"
    common: dict[str, object] = {"inspection_id": inspection.inspection_id}
    if sections or hides:
        where = _sections_words(sections) if sections else "the rope"
        context.add(clause, status="reached", words=f"grease hides the wires: {where}",
                    section=sections[0] if len(sections) == 1 else None, share=Fraction(1),
                    **common)  # fmt: skip
    elif inspection.conditions.grease == "unknown":
        context.add(
            clause, status="not assessable", words="whether grease hides the wires is not stated",
            missing=("state of the lubricant",), how_to_get=("look and state it",), **common,
        )  # fmt: skip
    else:
        context.add(clause, status="below", words="lubricant leaves the wires in sight",
                    share=Fraction(0), **common)  # fmt: skip


def last_of(kinds: tuple[str, ...], context: Context) -> Inspection | None:
    """The newest finished inspection of these kinds on the date."""
    done = [one for one in context.evidence.past if one.kind in kinds and one.finished]
    return done[-1] if done else None


def check_interval(clause: Clause, check: IntervalCheck, context: Context) -> None:
    """An inspection of these kinds must not be older than the interval."""
    if check.if_broken and not context.evidence.broken_wires():
        context.add(clause, status="not applicable", words="no broken wire is on record")
        return
    last = last_of(check.kinds, context)
    installation = context.dossier.installation
    start = last.on if last is not None else installation.fitted_on
    kinds = " or ".join(check.kinds)
    if last is None and check.stated:
        _no_interval_start(clause, context, kinds)
        return
    if start is None:
        _no_interval_start(clause, context, kinds)
        return
    due = due_date(check, context, start, last)
    if due is None:
        context.add(
            clause, status="not assessable", words="no date for the next inspection is stated",
            missing=("the competent person's longest time to the next inspection",),
            how_to_get=(
                "let the competent person state when the next inspection is due at the latest",
            ),
            inspection_id=last.inspection_id if last else "",
        )  # fmt: skip
        return
    since = f"last on {start.isoformat()}" if last is not None else f"fitted {start.isoformat()}"
    if context.as_of > due:
        context.add(
            clause, status="not assessable",
            words=f"{kinds} inspection overdue since {due.isoformat()} ({since})",
            missing=(f"a {kinds} inspection",), how_to_get=("inspect before further use",),
            inspection_id=last.inspection_id if last else "",
        )  # fmt: skip
        return
    context.add(
        clause, status="below", words=f"{kinds} inspection {since}; next by {due.isoformat()}",
        inspection_id=last.inspection_id if last else "",
    )  # fmt: skip


def _no_interval_start(clause: Clause, context: Context, kinds: str) -> None:
    context.add(
        clause, status="not assessable", words=f"no {kinds} inspection is on record",
        missing=(f"a {kinds} inspection",),
        how_to_get=("inspect, or add the earlier inspection to the record",),
    )  # fmt: skip


def due_date(
    check: IntervalCheck, context: Context, start: date, last: Inspection | None
) -> date | None:
    """The last day of an interval that began on a day; ``None`` where nobody stated one."""
    if check.months is not None:
        return add_months(start, check.months)
    if check.days is not None:
        return start + timedelta(days=check.days)
    stated = []
    if last is not None and last.next_by is not None:
        stated.append(last.next_by)
    days = context.dossier.installation.interval_days
    if days is not None:
        stated.append(start + timedelta(days=days))
    return min(stated) if stated else None


def is_idle(check: IdleCheck, idle_since: date, day: date) -> bool:
    """Whether a rope has stood idle for as long as the clause speaks of."""
    limit = add_months(idle_since, check.months)
    return day >= limit if check.compare == "reached" else day > limit


def check_idle(clause: Clause, check: IdleCheck, context: Context) -> None:
    """After standing idle: inspect before use."""
    idle_since = context.dossier.installation.idle_since
    if idle_since is None or not is_idle(check, idle_since, context.as_of):
        how_long = f"{check.months} months" if check.months > 1 else "a month"
        words = f"not idle for {'more than ' if check.compare == 'more than' else ''}{how_long}"
        more = "" if check.compare == "more than" else " or more"
        context.add(clause, status="not applicable", words=words + more)
        return
    last = last_of(check.kinds, context)
    allowed_from = add_months(idle_since, check.months)
    if last is not None and last.on >= allowed_from:
        context.add(
            clause, status="below", words=f"inspected on {last.on.isoformat()} after idle time",
            inspection_id=last.inspection_id,
        )  # fmt: skip
        return
    context.add(
        clause, status="not assessable", words=f"idle since {idle_since.isoformat()}",
        missing=("an inspection after the idle time",), how_to_get=("inspect before further use",),
    )  # fmt: skip


def check_after_event(clause: Clause, check: AfterEventCheck, context: Context) -> None:
    """After an event: an inspection, and a release by name, before the rope works again."""
    made = False
    for event in context.dossier.events:
        if event.on > context.as_of:
            continue
        made = True
        done = any(
            one.kind in check.kinds
            and one.finished
            and one.on >= event.on
            and one.after_event in (None, event.event_id)
            for one in context.evidence.past
        )
        released = event.release is not None and event.on <= event.release.on <= context.as_of
        missing, get = [], []
        if not done:
            missing.append(f"an inspection after the {event.kind}")
            get.append("inspect the rope as after an event")
        if check.needs_release and not released:
            missing.append("release by a named person on named evidence")
            get.append("record who releases the rope, when and on what evidence")
        words = f"{event.kind} on {event.on.isoformat()}"
        common: dict[str, object] = {"section": event.section, "finding_ids": (event.event_id,)}
        if missing:
            context.add(clause, status="not assessable", words=f"{words}: on hold",
                        missing=tuple(missing), how_to_get=tuple(get), **common)  # fmt: skip
        else:
            how = f", released by {event.release.by}" if event.release else ""
            context.add(clause, status="below", words=f"{words}: inspected{how}", **common)
    if not made:
        context.add(clause, status="not applicable", words="no event on record")


def check_vanished(clause: Clause, _check: VanishedCheck, context: Context) -> None:
    """An earlier finding that was not found again is a question, never a lower count."""
    for question in context.evidence.questions:
        finding, inspection = question.earlier.finding, question.earlier.inspection
        where = place_words(finding.section, finding.place.abs_err_m)
        words = f"{finding.kind} {where} of {inspection.on.isoformat()}: {question.why}"
        if question.answer is not None:
            context.add(
                clause, status="below", words=f"{words}; {question.answer.words}; it still counts",
                section=finding.section, section_err_m=finding.place.abs_err_m,
                finding_ids=(finding.finding_id,), inspection_id=inspection.inspection_id,
            )  # fmt: skip
            continue
        context.add(
            clause, status="not assessable",
            words=words,
            missing=("what became of the earlier finding",),
            how_to_get=(_LOOK_AGAIN,),
            section=finding.section, section_err_m=finding.place.abs_err_m,
            finding_ids=(finding.finding_id,), inspection_id=inspection.inspection_id,
        )  # fmt: skip
    if not context.evidence.questions:
        context.add(clause, status="below", words="no earlier finding is left unanswered")
