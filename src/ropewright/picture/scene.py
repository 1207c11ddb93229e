"""What a picture shows, gathered from dossier and assessment before a line is drawn."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from ropewright.geometry import Section
from ropewright.inspection import Dossier, Inspection, RopeFinding, intersection, unseen
from ropewright.inspection.evidence import Evidence, evidence_on
from ropewright.rules.ruling import LEVEL_WORDS, LEVELS, Assessment, Ruling


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """One rope on one date: its axis, its ends, what was found, seen and ruled."""

    dossier: Dossier
    assessment: Assessment
    as_of: date
    whole: Section
    service: Section
    turned: bool
    evidence: Evidence
    governing: tuple[Ruling, ...]

    @property
    def latest(self) -> Inspection | None:
        """The inspection whose coverage is shown."""
        return self.evidence.latest

    @property
    def found(self) -> tuple[tuple[RopeFinding, Inspection], ...]:
        """Findings that count, with the inspection that made them, from end A on."""
        pairs = ((one.finding, one.inspection) for one in self.evidence.seen)
        return tuple(sorted(pairs, key=lambda pair: (pair[0].section, pair[0].finding_id)))

    @property
    def unseen(self) -> tuple[Section, ...]:
        """Sections in service that no eye and no hand has been over."""
        if self.latest is None:
            return (self.service,)
        return unseen(self.latest, self.service)

    def in_service(self, sections: Iterable[Section]) -> tuple[Section, ...]:
        """The parts of sections that are still on the rope."""
        return intersection(sections, [self.service])

    @property
    def headline(self) -> str:
        """The verdict in one line."""
        words = LEVEL_WORDS[self.assessment.verdict.level]
        hold = ", on hold" if self.assessment.verdict.on_hold else ""
        return f"Rope {self.assessment.rope_id} on {self.assessment.as_of}: {words}{hold}"


def scene_of(dossier: Dossier, assessment: Assessment) -> Scene:
    """Gather what a picture of this rope shows on the date it was judged for."""
    as_of = date.fromisoformat(assessment.as_of)
    evidence = evidence_on(dossier, as_of)
    path = dossier.history.at(as_of)
    by_id = {ruling.ruling_id: ruling for ruling in assessment.rulings}
    governing = (by_id.get(one) for one in assessment.verdict.governing)
    return Scene(
        dossier=dossier,
        assessment=assessment,
        as_of=as_of,
        whole=Section(0.0, dossier.history.original_length_m),
        service=evidence.service,
        turned=path.turned,
        evidence=evidence,
        governing=tuple(one for one in governing if one is not None),
    )


def by_weight(rulings: Iterable[Ruling], governing: Iterable[Ruling]) -> list[Ruling]:
    """Rulings from the gravest on: those that govern, then by level, then by share."""
    first = {ruling.ruling_id for ruling in governing}
    return sorted(
        rulings,
        key=lambda one: (
            one.ruling_id not in first,
            LEVELS.index(one.level),
            -(one.share or Fraction(0)),
            one.ruling_id,
        ),
    )
