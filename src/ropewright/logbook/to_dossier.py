"""Entries put together into the dossier that every decision is made from."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any, Final

from ropewright.errors import BookError
from ropewright.inspection import (
    Comparison,
    Confirmation,
    Crane,
    Dossier,
    Event,
    InnerCount,
    Inspection,
    Installation,
    Mark,
    Permission,
    ReferenceDiameter,
    Rigging,
    StoredForecast,
    Trial,
)
from ropewright.logbook import payloads as p
from ropewright.logbook.codec import Value
from ropewright.logbook.corrections import as_on, corrected_entries
from ropewright.logbook.entry import Entry
from ropewright.logbook.kinds import KINDS
from ropewright.logbook.people import People, words_of
from ropewright.rope import Certificate, Cut, EndForEnd, RopeHistory


def dossier_from_entries(
    entries: Iterable[Entry], people: People, *, as_of: date | None = None
) -> Dossier:
    """The dossier of one rope as its entries have it.

    Parameters
    ----------
    entries
        All entries of the rope, in the order of the book; corrections are applied here.
    people
        Who is behind the ids.
    as_of
        Leave out what happened after this day; without it everything counts.

    Raises
    ------
    BookError
        If what every rope needs is missing, or an entry belongs to an inspection or event that
        the book does not have: nothing is left out in silence.
    """
    table = _Table(people)
    for entry in as_on(corrected_entries(entries), as_of):
        put = _PUT.get(KINDS[entry.kind].payload)
        if put is not None:
            put(table, entry.read(people))
    return table.dossier()


@dataclass
class _Open:
    """An inspection while its parts come in."""

    begun: p.InspectionBegun
    passes: list[Any] = field(default_factory=list)
    hidden: list[Any] = field(default_factory=list)
    accepted: list[Any] = field(default_factory=list)
    examined: list[Any] = field(default_factory=list)
    instruments: list[Any] = field(default_factory=list)
    findings: list[Any] = field(default_factory=list)
    part_findings: list[Any] = field(default_factory=list)
    finished: p.InspectionFinished | None = None
    signed_by: str = ""

    def closed(self) -> Inspection:
        begun, finished = self.begun, self.finished
        return Inspection(
            inspection_id=begun.inspection_id,
            kind=begun.kind,
            on=begun.on,
            by=begun.by,
            finished=finished is not None,
            passes=tuple(self.passes),
            hidden=tuple(self.hidden),
            accepted=tuple(self.accepted),
            examined=tuple(self.examined),
            conditions=begun.conditions,
            instruments=tuple(self.instruments),
            findings=tuple(self.findings),
            part_findings=tuple(self.part_findings),
            next_by=(finished and finished.next_by) or begun.next_by,
            after_event=begun.after_event,
            remark=(finished and finished.remark) or begun.remark,
            signed_by=self.signed_by,
        )


class _Table:
    """Lays out what entries say until the dossier can be made."""

    def __init__(self, people: People) -> None:
        self.people = people
        self.page = p.Page()
        self.crane: Crane | None = None
        self.rope: p.RopeStated | None = None
        self.certificate: Certificate | None = None
        self.installation: Installation | None = None
        self.reference: ReferenceDiameter | None = None
        self.permissions: list[Permission] = []
        self.confirmed: list[Confirmation] = []
        self.comparisons: list[Comparison] = []
        self.opened: list[InnerCount] = []
        self.trials: list[Trial] = []
        self.forecasts: list[StoredForecast] = []
        self.steps: list[Cut | EndForEnd] = []
        self.rigging: dict[date, Rigging] = {}
        self.marks: dict[str, Mark] = {}
        self.events: dict[str, Event] = {}
        self.releases: list[p.Released] = []
        self.inspections: dict[str, _Open] = {}
        self.parts: list[tuple[str, Any]] = []

    def fit(self, said: Installation) -> None:
        """A rope on another hoist has no reference measurement and no permissions there yet."""
        if self.installation is not None and self.installation.hoist != said.hoist:
            self.reference = None
            self.permissions.clear()
            self.confirmed.clear()
        self.installation = said

    def begin(self, said: p.InspectionBegun) -> None:
        """An inspection."""
        if said.inspection_id in self.inspections:
            raise BookError(
                field=f"inspection {said.inspection_id}",
                expected="each inspection to begin once; a correction puts it right",
                given="begun twice",
            )
        self.inspections[said.inspection_id] = _Open(begun=said)

    def hold(self, said: p.Held) -> None:
        """A hold counts as an event: the rope is held until somebody releases it."""
        on_hold = Event(
            event_id=said.hold_id, kind="other", on=said.on, section=said.section,
            remark=f"on hold: {said.reason}",
        )  # fmt: skip
        self.happen(on_hold)

    def happen(self, said: Event) -> None:
        """An event or hold; of one told again under its id an earlier release is none."""
        if said.event_id in self.events:
            self.releases = [one for one in self.releases if one.of != said.event_id]
        self.events[said.event_id] = said

    def dossier(self) -> Dossier:
        """The dossier, or what is missing for one."""
        crane, rope, installation = self.crane, self.rope, self.installation
        if crane is None or rope is None or installation is None:
            needed = (("crane", crane), ("rope", rope), ("installation", installation))
            missing = [name for name, value in needed if value is None]
            raise BookError(
                f"the book does not say enough of this rope on that day: no {', '.join(missing)}"
            )
        for released in self.releases:
            self._release(released)
        for inspection_id, payload in self.parts:
            self._part(inspection_id, payload)
        return Dossier(
            crane=crane,
            rope=replace(rope.rope, certificate=self.certificate),
            installation=replace(
                installation,
                reference=self.reference,
                permissions=tuple(self.permissions),
                confirmed=tuple(self.confirmed),
            ),
            history=RopeHistory(original_length_m=rope.first_length_m, steps=tuple(self.steps)),
            rigging=tuple(self.rigging.values()),
            marks=tuple(self.marks.values()),
            events=tuple(self.events.values()),
            # By day, as a case file has them: a late one, or an old card, is no newest one.
            inspections=tuple(
                sorted((one.closed() for one in self.inspections.values()), key=lambda one: one.on)
            ),
            people=self.page.people,
            invented=self.page.invented,
            title=self.page.title,
            comparisons=tuple(self.comparisons),
            opened=tuple(self.opened),
            trials=tuple(self.trials),
            forecasts=tuple(self.forecasts),
        )

    def _release(self, said: p.Released) -> None:
        event = self.events.get(said.of)
        if event is None:
            raise BookError(
                field="release", expected="an event or hold of this rope", given=said.of
            )
        self.events[said.of] = replace(event, release=said.release)

    def _part(self, inspection_id: str, said: Value) -> None:
        one = self.inspections.get(inspection_id)
        if one is None:
            raise BookError(
                field=type(said).__name__,
                expected="an inspection that was begun in this book",
                given=inspection_id,
            )
        if isinstance(said, p.InspectionFinished):
            one.finished = said
        elif isinstance(said, p.InspectionSigned):
            one.signed_by = words_of(self.people.data_of(said.by))
        else:
            getattr(one, _PARTS[type(said)]).append(said.what)


_PARTS: Final[Mapping[type[Any], str]] = {
    p.PassMade: "passes",
    p.HiddenFound: "hidden",
    p.UnseenAccepted: "accepted",
    p.ItemExamined: "examined",
    p.InstrumentUsed: "instruments",
    p.FindingMade: "findings",
    p.ClusterCounted: "findings",
    p.ReadingTaken: "findings",
    p.PartFindingMade: "part_findings",
}

#: How each type of content is laid out; the others say nothing that a decision is made from.
_PUT: Final[Mapping[type[Any], Callable[[_Table, Any], None]]] = {
    p.Page: lambda table, said: setattr(table, "page", said),
    Crane: lambda table, said: setattr(table, "crane", said),
    p.RopeStated: lambda table, said: setattr(table, "rope", said),
    Certificate: lambda table, said: setattr(table, "certificate", said),
    Installation: _Table.fit,
    ReferenceDiameter: lambda table, said: setattr(table, "reference", said),
    Permission: lambda table, said: table.permissions.append(said),
    Confirmation: lambda table, said: table.confirmed.append(said),
    Comparison: lambda table, said: table.comparisons.append(said),
    InnerCount: lambda table, said: table.opened.append(said),
    Trial: lambda table, said: table.trials.append(said),
    StoredForecast: lambda table, said: table.forecasts.append(said),
    Cut: lambda table, said: table.steps.append(said),
    EndForEnd: lambda table, said: table.steps.append(said),
    # of two that hold from the same day the later word counts
    Rigging: lambda table, said: table.rigging.update({said.valid_from: said}),
    Mark: lambda table, said: table.marks.update({said.name: said}),
    Event: _Table.happen,
    p.Held: _Table.hold,
    p.Released: lambda table, said: table.releases.append(said),
    p.InspectionBegun: _Table.begin,
    **{
        kind: lambda table, said: table.parts.append((said.inspection_id, said))
        for kind in (*_PARTS, p.InspectionFinished, p.InspectionSigned)
    },
}
