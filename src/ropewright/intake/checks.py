"""What a case file must not contradict itself in: rules, dates, names of events."""

from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path

from ropewright.inspection import Event
from ropewright.intake.beside import file_beside
from ropewright.intake.case_model import CaseModel
from ropewright.intake.models import InstallationModel
from ropewright.intake.places import Findings
from ropewright.intake.wording import near, quoted


def rules_named(
    model: InstallationModel,
    known_rules: Sequence[str] | None,
    folder: Path | None,
    found: Findings,
) -> tuple[str, ...]:
    """Return the rule sets to judge by: at least one, each known or a file; no default.

    A rule file of one's own is named by its path beside the case file and comes out as a path
    that can be opened from where the command was started.
    """
    if not model.rules:
        known = sorted(known_rules) if known_rules else ["iso-4309-2017"]
        found.wrong(
            "installation.rules",
            expected="the rule sets that govern this rope, "
            + ("known are " if known_rules else "such as ")
            + quoted(known),
            given=model.rules,
            hint="there is no default: the law, the contract or a competent person decides",
        )
    named: list[str] = []
    for number, one in enumerate(model.rules or (), 1):
        where = f"installation.rules[{number}]"
        if "/" in one or "\\" in one or one.endswith(".toml"):
            with found.at(""):
                path = file_beside(
                    folder, one, where=where, what="a rule file", such_as="house.toml"
                )
                named.append(str(path))
            continue
        _check_rule(one, where, known_rules, found)
        named.append(one)
    for number, permission in enumerate(model.permission, 1):
        if permission.rule_set not in (model.rules or ()):
            where = f"installation.permission[{number}].rule_set"
            _check_rule(permission.rule_set, where, known_rules, found)
    return tuple(dict.fromkeys(named))


def _check_rule(name: str, where: str, known_rules: Sequence[str] | None, found: Findings) -> None:
    if known_rules is None or name in known_rules:
        return
    close = near(list(known_rules), name)
    found.wrong(
        where,
        expected=f"a known rule set, one of {quoted(sorted(known_rules))}, "
        "or a rule file such as ./house.toml",
        given=name,
        hint=f"near ones: {quoted(close)}" if close else None,
    )


def check_dates(case: CaseModel, found: Findings) -> None:
    """Nothing happens to a rope before it is fitted, and nothing ends before it begins."""
    fitted = case.installation.fitted_on
    for where, day in _days_on_the_rope(case):
        if fitted is not None and day < fitted:
            found.wrong(
                where,
                expected=f"a day on or after {fitted.isoformat()}, when the rope was fitted",
                given=day,
            )
    for number, event in enumerate(case.event, 1):
        if event.release is not None and event.release.on < event.on:
            found.wrong(
                f"event[{number}].release.on",
                expected=f"a day on or after the event, {event.on.isoformat()}",
                given=event.release.on,
            )
    for number, one in enumerate(case.inspection, 1):
        if one.next_by is not None and one.next_by < one.on:
            found.wrong(
                f"inspection[{number}].next_by",
                expected=f"a day on or after the inspection, {one.on.isoformat()}",
                given=one.next_by,
            )
    days: dict[date, int] = {}
    for number, rigging in enumerate(case.rigging, 1):
        first = days.setdefault(rigging.valid_from, number)
        if first != number:
            found.wrong(
                f"rigging[{number}].valid_from",
                expected=f"another day than that of rigging[{first}]",
                given=rigging.valid_from,
            )


def _days_on_the_rope(case: CaseModel) -> Iterator[tuple[str, date]]:
    yield from ((f"history[{n}].on", one.on) for n, one in enumerate(case.history, 1))
    yield from ((f"event[{n}].on", one.on) for n, one in enumerate(case.event, 1))
    yield from ((f"inspection[{n}].on", one.on) for n, one in enumerate(case.inspection, 1))
    marks = ((f"mark[{n}].on", one.on) for n, one in enumerate(case.mark, 1))
    yield from ((where, on) for where, on in marks if on is not None)
    if case.installation.reference is not None:
        yield "installation.reference.on", case.installation.reference.on
    if case.installation.idle_since is not None:
        yield "installation.idle_since", case.installation.idle_since


def check_events_named(case: CaseModel, events: Sequence[Event], found: Findings) -> None:
    """An inspection after an event names one that is in the file."""
    known = [event.event_id for event in events]
    for number, one in enumerate(case.inspection, 1):
        if one.after_event is not None and one.after_event not in known:
            listed = f", one of {quoted(known)}" if known else ""
            found.unknown(
                f"inspection[{number}].after_event",
                expected=f"the id of an [[event]]{listed}",
                given=one.after_event,
            )
