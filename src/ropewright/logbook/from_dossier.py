"""A dossier taken apart into entries, in the order in which it says things."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from typing import Any

from ropewright.inspection import (
    BrokenWires,
    DiameterReading,
    Dossier,
    Inspection,
    Installation,
    RopeFinding,
)
from ropewright.logbook import payloads as p
from ropewright.logbook.canon import canonical
from ropewright.logbook.codec import PersonId, Value
from ropewright.logbook.entry import Entry, new_entry, stable_id
from ropewright.logbook.kinds import KIND_OF
from ropewright.logbook.people import People


def entries_from_dossier(dossier: Dossier, people: People) -> tuple[Entry, ...]:
    """All entries that a dossier stands for.

    The id of an entry follows from the rope, the kind and what it is about (an inspection's id,
    a finding's id, a mark's name, else its number among its like), so the same dossier taken in
    twice is the same entries.  A case file says on which day things happened, not when they
    were typed: that stays open.

    Parameters
    ----------
    dossier
        Everything known of one rope.
    people
        Where persons get their ids.
    """
    return _entries(_said(dossier, people), dossier.rope.rope_id, people, "case file")


def entries_from_inspections(
    inspections: Iterable[Inspection], people: People, *, rope_id: str, origin: str
) -> tuple[Entry, ...]:
    """All entries that some inspections of a rope stand for.

    Parameters
    ----------
    inspections
        The inspections.
    people
        Where persons get their ids.
    rope_id
        The rope.
    origin
        Where they come from; with their ids it makes the ids of the entries.
    """
    said = (
        (payload, one.on, f"{one.inspection_id}/{about}")
        for one in inspections
        for payload, about in _inspection(one, people)
    )
    return _entries(said, rope_id, people, origin)


def _entries(
    said: Iterable[tuple[Any, date | None, str]], rope_id: str, people: People, origin: str
) -> tuple[Entry, ...]:
    seen: Counter[tuple[str, str]] = Counter()
    made = []
    for payload, on, about in said:
        kind = KIND_OF[type(payload)]
        number = seen[kind, about]
        seen[kind, about] += 1
        made.append(
            new_entry(
                payload,
                people,
                rope_id=rope_id,
                entry_id=stable_id(origin, rope_id, kind, about, str(number)),
                happened_on=on,
            )
        )
    return tuple(made)


def _said(dossier: Dossier, people: People) -> Iterator[tuple[Any, date | None, str]]:
    """Each thing a dossier says: what, on which day, what it is about."""
    rope = dossier.rope
    yield (
        p.Page(title=dossier.title, invented=dossier.invented, people=dossier.people), None, "",
    )  # fmt: skip
    yield dossier.crane, None, ""
    stated = replace(rope, certificate=None)
    first_length_m = dossier.history.original_length_m
    yield p.RopeStated(rope=stated, first_length_m=first_length_m), None, ""
    if rope.certificate is not None:
        yield rope.certificate, None, ""
    for rigging in dossier.rigging:
        yield rigging, rigging.valid_from, rigging.valid_from.isoformat()
    yield from _installation(dossier.installation)
    for step in dossier.history.steps:
        yield step, step.on, step.on.isoformat()
    for mark in dossier.marks:
        yield mark, mark.on, mark.name
    yield from _events(dossier)
    for inspection in dossier.inspections:
        for payload, about in _inspection(inspection, people):
            yield payload, inspection.on, f"{inspection.inspection_id}/{about}"
    yield from _experience(dossier)


def _experience(dossier: Dossier) -> Iterator[tuple[Any, date | None, str]]:
    for comparison in dossier.comparisons:
        yield comparison, comparison.on, f"{comparison.earlier}/{comparison.later}"
    for opened in dossier.opened:
        yield opened, opened.on, opened.sample
    for trial in dossier.trials:
        yield trial, trial.on, ""
    for made in dossier.forecasts:
        yield made, made.made_on, made.made_on.isoformat()


def _installation(installation: Installation) -> Iterator[tuple[Any, date | None, str]]:
    yield (
        replace(installation, reference=None, permissions=(), confirmed=()),
        installation.fitted_on,
        installation.hoist,
    )
    if installation.reference is not None:
        yield installation.reference, installation.reference.on, installation.hoist
    for permission in installation.permissions:
        yield permission, permission.on, f"{permission.rule_set}/{permission.permission}"
    for confirmed in installation.confirmed:
        yield confirmed, confirmed.on, f"{confirmed.rule_set}/{confirmed.clause_id}"


def _events(dossier: Dossier) -> Iterator[tuple[Any, date | None, str]]:
    for event in dossier.events:
        yield replace(event, release=None), event.on, event.event_id
        if event.release is not None:
            released = p.Released(of=event.event_id, release=event.release)
            yield released, event.release.on, event.event_id


def _inspection(one: Inspection, people: People) -> Iterator[tuple[Any, str]]:
    name, open_still = one.inspection_id, not one.finished
    yield (
        p.InspectionBegun(
            inspection_id=name,
            kind=one.kind,
            on=one.on,
            by=one.by,
            conditions=one.conditions,
            after_event=one.after_event,
            next_by=one.next_by if open_still else None,
            remark=one.remark if open_still else "",
        ),
        "",
    )
    for made in one.passes:
        yield p.PassMade(inspection_id=name, what=made), made.method
    for hidden in one.hidden:
        yield p.HiddenFound(inspection_id=name, what=hidden), ""
    for accepted in one.accepted:
        yield p.UnseenAccepted(inspection_id=name, what=accepted), ""
    for item in one.examined:
        yield p.ItemExamined(inspection_id=name, what=item), item.item
    for instrument in one.instruments:
        yield p.InstrumentUsed(inspection_id=name, what=instrument), instrument.name
    for finding in one.findings:
        yield _finding(name, finding), finding.finding_id
    for part in one.part_findings:
        yield p.PartFindingMade(inspection_id=name, what=part), part.finding_id
    if one.finished:
        finished = p.InspectionFinished(inspection_id=name, next_by=one.next_by, remark=one.remark)
        yield finished, ""
    if one.signed_by:
        signer = PersonId(people.id_of(canonical({"words": one.signed_by})))
        yield p.InspectionSigned(inspection_id=name, by=signer), ""


def _finding(inspection_id: str, finding: RopeFinding) -> Value:
    if isinstance(finding, BrokenWires):
        return p.ClusterCounted(inspection_id=inspection_id, what=finding)
    if isinstance(finding, DiameterReading):
        return p.ReadingTaken(inspection_id=inspection_id, what=finding)
    return p.FindingMade(inspection_id=inspection_id, what=finding)
