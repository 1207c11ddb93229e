"""What the report rests on, gathered once: rope in service, evidence, rulings by weight."""

from dataclasses import dataclass
from datetime import date

from ropewright.geometry import Section
from ropewright.inspection import Dossier, Inspection, Rigging, unseen
from ropewright.inspection.evidence import Evidence, evidence_on
from ropewright.rules import LEVELS, Assessment, Ruling


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """Dossier and assessment with what both together say."""

    dossier: Dossier
    assessment: Assessment
    as_of: date
    evidence: Evidence
    governing: tuple[Ruling, ...]
    ordered: tuple[Ruling, ...]

    @property
    def latest(self) -> Inspection | None:
        """The inspection that the report is about."""
        return self.evidence.latest

    @property
    def service(self) -> Section:
        """The rope in service."""
        return self.evidence.service

    @property
    def rigging(self) -> Rigging | None:
        """The set-up of the rope's path on that date."""
        return self.dossier.rigging_at(self.as_of)

    @property
    def unseen(self) -> tuple[Section, ...]:
        """Sections that no eye and no hand has been over."""
        if self.latest is None:
            return (self.service,)
        return unseen(self.latest, self.service)

    def rulings(self, *statuses: str) -> tuple[Ruling, ...]:
        """Rulings with these statuses, the gravest first."""
        return tuple(one for one in self.ordered if one.status in statuses)


def facts_of(dossier: Dossier, assessment: Assessment) -> Facts:
    """Gather the facts of a report."""
    as_of = date.fromisoformat(assessment.as_of)
    by_id = {one.ruling_id: one for one in assessment.rulings}
    governing = tuple(by_id[one] for one in assessment.verdict.governing if one in by_id)
    first = {one.ruling_id: at for at, one in enumerate(governing)}
    ordered = sorted(
        assessment.rulings,
        key=lambda one: (
            first.get(one.ruling_id, len(first)),
            LEVELS.index(one.level),
            -(one.share or 0),
            one.ruling_id,
        ),
    )
    return Facts(
        dossier=dossier,
        assessment=assessment,
        as_of=as_of,
        evidence=evidence_on(dossier, as_of),
        governing=governing,
        ordered=tuple(ordered),
    )
