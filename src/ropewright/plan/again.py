"""Earlier findings and marks, each with the hook height that brings it back to a person."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ropewright.geometry import PathPlace, RopePlace, Section
from ropewright.inspection import Dossier, RiggedHoist
from ropewright.inspection.evidence import Evidence
from ropewright.plan.model import HandsOff, LookAgain
from ropewright.plan.passes import known_hands_off
from ropewright.plan.reach import reaches_of
from ropewright.rope import PathMap


def on_path(place: RopePlace, path: PathMap) -> PathPlace | None:
    """A place of the rope's steel on today's path; none if it was cut off."""
    if not path.is_in_service(place.at_m):
        return None
    return PathPlace(
        at_m=path.to_path_m(place.at_m), abs_err_m=place.abs_err_m, rel_err_m=place.rel_err_m
    )


def look_again(
    dossier: Dossier, evidence: Evidence, rigged: RiggedHoist, path: PathMap
) -> tuple[LookAgain, ...]:
    """Everything that must be found again, from end A on.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    evidence
        What counts on the day.
    rigged
        The hoist of the day.
    path
        How rope and path belong together.
    """
    found = [*_findings(evidence, rigged, path), *_marks(dossier, rigged, path)]
    off = known_hands_off(evidence)
    return tuple(
        replace(one, hand_off=_stands_out(one, off))
        for one in sorted(found, key=lambda one: (one.section, one.name))
    )


def _stands_out(one: LookAgain, off: Sequence[HandsOff]) -> str:
    here = one.section.widened(one.err_m)
    return next((each.why for each in off if each.section.overlaps(here)), "")


def _findings(evidence: Evidence, rigged: RiggedHoist, path: PathMap) -> Iterator[LookAgain]:
    for seen in evidence.seen:
        finding = seen.finding
        words = f"{finding.kind}, found on {seen.inspection.on.isoformat()}"
        yield _again(finding.finding_id, words, finding.place, finding.section, rigged, path)
    for question in evidence.questions:
        finding = question.earlier.finding
        words = f"{finding.kind} of {question.earlier.inspection.on.isoformat()}: {question.why}"
        yield _again(finding.finding_id, words, finding.place, finding.section, rigged, path)


def _marks(dossier: Dossier, rigged: RiggedHoist, path: PathMap) -> Iterator[LookAgain]:
    for mark in dossier.marks:
        here = Section(mark.place.at_m, mark.place.at_m)
        words = mark.made_of or "as placed"
        yield _again(f"mark {mark.name}", words, mark.place, here, rigged, path)


def _again(
    name: str,
    words: str,
    place: RopePlace,
    section: Section,
    rigged: RiggedHoist,
    path: PathMap,
) -> LookAgain:
    today = on_path(place, path)
    if today is None:
        return LookAgain(
            name=name, words=f"{words}; this rope was cut off", section=section,
            err_m=place.abs_err_m, reaches=(), not_reached=("the steel is no longer there",),
        )  # fmt: skip
    reaches, failed = reaches_of(rigged, today)
    return LookAgain(
        name=name, words=words, section=section, err_m=place.abs_err_m + place.rel_err_m,
        reaches=reaches, not_reached=failed,
    )  # fmt: skip
