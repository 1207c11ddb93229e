"""What the rules ask to be done: by whom, by when, on what record, kept how long; and holds.

A due date is the last day on which the interval is still kept.  It is worked out from the
record alone: the newest finished inspection of the kinds that count, or the day the rope was
fitted.  Duties that come with every shift or event have no date; an event that was not
followed up is a hold.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from ropewright.inspection import Dossier, Inspection
from ropewright.inspection.evidence import evidence_on
from ropewright.rules.checks import run_check
from ropewright.rules.checks.completeness import add_months, due_date, is_idle, last_of
from ropewright.rules.checks.measured import fulfils
from ropewright.rules.context import Context
from ropewright.rules.limits import limit_words
from ropewright.rules.model import (
    AfterEventCheck,
    Clause,
    Duty,
    IdleCheck,
    IntervalCheck,
    RuleSet,
)
from ropewright.rules.more_checks import MeasuredWithinCheck
from ropewright.rules.ruling import Provenance

_SPAN: Final = re.compile(r"(\d{1,3}) (day|week|month|year)s?\b")
_DAYS: Final = {"day": 1, "week": 7}
_MONTHS: Final = {"month": 1, "year": 12}
_AFTER_EVENT: Final = ("after-event", "periodic", "annual", "first")


@dataclass(frozen=True, slots=True, kw_only=True)
class DueDuty:
    """One duty on a date.

    ``due`` is the last day on which it is kept, ``None`` where it comes with every shift or
    event or nobody stated a day; ``when`` says it in words.  ``last_on`` is when it was last
    done, ``keep_until`` the last day on which that record must be kept, if a time is stated.
    """

    rule_set: str
    rule: str
    duty_id: str
    kind: str
    title: str
    who: str
    every: str
    when: str
    due: date | None
    overdue: bool
    last_on: date | None
    last_inspection: str
    record: str
    keep: str
    keep_until: date | None
    clause: str
    provenance: Provenance
    clause_provenance: Provenance


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """The rope is on hold: why, by which rule, and what releases it."""

    rule: str
    clause: str
    words: str
    missing: tuple[str, ...]
    how_to_get: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DutyPlan:
    """All duties of the chosen rules on a date, soonest first, and what holds the rope."""

    as_of: date
    duties: tuple[DueDuty, ...]
    holds: tuple[Hold, ...]


@dataclass(frozen=True, slots=True)
class _Timing:
    due: date | None
    when: str
    last: Inspection | None


def duties_of(dossier: Dossier, rule_sets: Sequence[RuleSet], today: date) -> DutyPlan:
    """What is due for a rope on a date, by every rule set that is in force.

    Parameters
    ----------
    dossier : Dossier
        Everything known of the rope.
    rule_sets : sequence of RuleSet
        The chosen rule sets and, beside them, Ropewright's own checks.
    today : date
        The date; later inspections do not exist yet.
    """
    evidence = evidence_on(dossier, today)
    due: list[DueDuty] = []
    holds: list[Hold] = []
    for rule_set in rule_sets:
        if not _in_force(rule_set, today):
            continue
        context = Context(
            dossier=dossier, evidence=evidence, rule_set=rule_set, all_rule_sets=tuple(rule_sets)
        )
        due.extend(_due_of(rule_set, context))
        holds.extend(_holds_of(rule_set, context))
    far = date.max
    due.sort(key=lambda one: (one.due or far, one.rule_set, one.duty_id))
    return DutyPlan(as_of=today, duties=tuple(due), holds=tuple(dict.fromkeys(holds)))


def _in_force(rule_set: RuleSet, day: date) -> bool:
    starts, ends = rule_set.in_force_from, rule_set.in_force_to
    return (starts is None or day >= starts) and (ends is None or day <= ends)


def _clauses(rule_set: RuleSet, context: Context) -> list[Clause]:
    return [
        one
        for one in rule_set.clauses
        if context.is_in_force(one, rule_set) and context.clause_applies(one.when).holds
    ]


# ---------------------------------------------------------------- holds


def _holds_of(rule_set: RuleSet, context: Context) -> Iterator[Hold]:
    for clause in _clauses(rule_set, context):
        if not isinstance(clause.check, AfterEventCheck | IdleCheck):
            continue
        before = len(context.rulings)
        run_check(clause, context)
        for ruling in context.rulings[before:]:
            if ruling.status == "not assessable":
                yield Hold(
                    rule=rule_set.short, clause=clause.clause, words=ruling.words,
                    missing=ruling.missing, how_to_get=ruling.how_to_get,
                )  # fmt: skip


# ---------------------------------------------------------------- due dates


def _due_of(rule_set: RuleSet, context: Context) -> Iterator[DueDuty]:
    clauses = _clauses(rule_set, context)
    used: set[str] = set()
    for duty in rule_set.duties:
        if not context.clause_applies(duty.when).holds:
            continue
        clause = _clause_of(duty, clauses)
        if clause is not None:
            used.add(clause.clause_id)
        yield _duty_on(duty, rule_set, _timing(duty, clause, clauses, context), context)
    for clause in clauses:
        if clause.clause_id in used or not isinstance(
            clause.check, IntervalCheck | MeasuredWithinCheck
        ):
            continue
        timing = _by_clause(clause, context)
        if timing is not None:
            yield _clause_on(clause, rule_set, timing, context)


def _clause_of(duty: Duty, clauses: Sequence[Clause]) -> Clause | None:
    """The clause that asks for the same: by name, else by the kind of inspection."""
    timed = [one for one in clauses if isinstance(one.check, IntervalCheck | MeasuredWithinCheck)]
    for clause in timed:
        if clause.clause_id == duty.duty_id:
            return clause
    if _SPAN.match(duty.every):
        return None  # the duty says itself how often
    return next(
        (
            one
            for one in timed
            if isinstance(one.check, IntervalCheck)
            and one.check.kinds[0] == duty.kind
            and duty.clause.startswith(one.clause)
        ),
        None,
    )


def _kinds_that_count(duty: Duty, clauses: Sequence[Clause]) -> tuple[str, ...]:
    """Inspections that fulfil a duty: as it says, else as an interval for its kind says."""
    for clause in clauses:
        check = clause.check
        if not duty.kinds and isinstance(check, IntervalCheck) and check.kinds[0] == duty.kind:
            return check.kinds
    return duty.kinds or (duty.kind,)


def _timing(
    duty: Duty, clause: Clause | None, clauses: Sequence[Clause], context: Context
) -> _Timing:
    if clause is not None:
        by_clause = _by_clause(clause, context)
        if by_clause is not None:
            return by_clause
        return _Timing(None, f"{duty.every}; not due now", None)
    last = last_of(_kinds_that_count(duty, clauses), context)
    span = _span_of(duty)
    if span is not None:
        start = last.on if last is not None else context.dossier.installation.fitted_on
        return _counted(start, _after(start, span), last)
    return _without_interval(duty, last, context)


def _span_of(duty: Duty) -> tuple[int, int] | None:
    """Months and days of an interval, stated as such or the first words of ``every``."""
    if duty.months is not None or duty.days is not None:
        return duty.months or 0, duty.days or 0
    return _span_in(duty.every)


def _span_in(text: str) -> tuple[int, int] | None:
    match = _SPAN.match(text)
    if match is None:
        return None
    count = int(match[1])
    return count * _MONTHS.get(match[2], 0), count * _DAYS.get(match[2], 0)


def _after(start: date | None, span: tuple[int, int]) -> date | None:
    months, days = span
    return None if start is None else add_months(start, months) + timedelta(days=days)


def _counted(start: date | None, due: date | None, last: Inspection | None) -> _Timing:
    if start is None:
        return _Timing(None, "now: never done, and the day the rope was fitted is not known", last)
    since = "last done" if last is not None else "counted from the day the rope was fitted,"
    if due is None:
        return _Timing(None, "no day was stated by the competent person", last)
    return _Timing(due, f"by {due.isoformat()}, {since} {start.isoformat()}", last)


def _by_clause(clause: Clause, context: Context) -> _Timing | None:
    check = clause.check
    if isinstance(check, MeasuredWithinCheck):
        return _measured(check, context)
    if not isinstance(check, IntervalCheck):
        return None
    if check.if_broken and not context.evidence.broken_wires():
        return None
    last = last_of(check.kinds, context)
    start = last.on if last is not None else context.dossier.installation.fitted_on
    due = None if start is None else due_date(check, context, start, last)
    return _counted(start, due, last)


def _measured(check: MeasuredWithinCheck, context: Context) -> _Timing:
    done = [one for one in context.evidence.past if fulfils(one, check)]
    last = done[-1] if done else None
    start = last.on if last is not None else context.dossier.installation.fitted_on
    return _counted(start, _after(start, (check.months, 0)), last)


def _without_interval(duty: Duty, last: Inspection | None, context: Context) -> _Timing:
    """Duties that come with a shift, an event, idle time or a new rope."""
    today = context.as_of
    open_event = _open_event(duty, context)
    if open_event:
        return _Timing(today, f"now: {open_event}", last)
    if duty.kind == "after-idle" and _stands_idle(context):
        return _Timing(today, "before restart: the rope stands idle", last)
    if duty.kind == "first" and not duty.after and not context.evidence.past:
        return _Timing(today, "now: no inspection of this rope is on record", last)
    return _Timing(None, duty.every, last)


def _open_event(duty: Duty, context: Context) -> str:
    if not duty.after and duty.kind != "after-event":
        return ""
    for event in context.dossier.events:
        if event.on > context.as_of or (duty.after and event.kind not in duty.after):
            continue
        followed = any(
            one.finished and one.on >= event.on and one.kind in _AFTER_EVENT
            and one.after_event in (None, event.event_id)
            for one in context.evidence.past
        )  # fmt: skip
        if not followed:
            return f"{event.kind} on {event.on.isoformat()}"
    return ""


def _stands_idle(context: Context) -> bool:
    since = context.dossier.installation.idle_since
    if since is None:
        return False
    return any(
        is_idle(check, since, context.as_of)
        for clause in context.rule_set.clauses
        if isinstance(check := clause.check, IdleCheck)
        and ((last := last_of(check.kinds, context)) is None
             or last.on < add_months(since, check.months))
    )  # fmt: skip


# ---------------------------------------------------------------- results


def _keep_until(keep: str, months: int | None, last: Inspection | None) -> date | None:
    if last is None:
        return None
    span = (months, 0) if months is not None else _span_in(keep)
    return None if span is None else _after(last.on, span)


def _duty_on(duty: Duty, rule_set: RuleSet, timing: _Timing, context: Context) -> DueDuty:
    return DueDuty(
        rule_set=rule_set.rule_set_id,
        rule=rule_set.short,
        duty_id=duty.duty_id,
        kind=duty.kind,
        title=duty.title,
        who=duty.who,
        every=duty.every,
        when=timing.when,
        due=timing.due,
        overdue=timing.due is not None and context.as_of > timing.due,
        last_on=None if timing.last is None else timing.last.on,
        last_inspection="" if timing.last is None else timing.last.inspection_id,
        record=duty.record,
        keep=duty.keep,
        keep_until=_keep_until(duty.keep, duty.keep_months, timing.last),
        clause=duty.clause,
        provenance=duty.provenance,
        clause_provenance=duty.clause_provenance,
    )


def _clause_on(clause: Clause, rule_set: RuleSet, timing: _Timing, context: Context) -> DueDuty:
    check = clause.check
    kind = check.kinds[0] if isinstance(check, IntervalCheck) else "periodic"
    return DueDuty(
        rule_set=rule_set.rule_set_id,
        rule=rule_set.short,
        duty_id=clause.clause_id,
        kind=kind,
        title=clause.title,
        who=clause.who,
        every=limit_words(clause),
        when=timing.when,
        due=timing.due,
        overdue=timing.due is not None and context.as_of > timing.due,
        last_on=None if timing.last is None else timing.last.on,
        last_inspection="" if timing.last is None else timing.last.inspection_id,
        record="not stated",
        keep="not stated",
        keep_until=None,
        clause=clause.clause,
        provenance=clause.provenance,
        clause_provenance=clause.clause_provenance,
    )
