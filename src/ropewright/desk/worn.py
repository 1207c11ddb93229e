"""Wear of a rope by one log: the map, where to stand for its worst sections, whether to cut."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Final

from ropewright.desk.cutting import PERIOD_DAYS, CutAdvice, cut_advice
from ropewright.desk.duty_counting import OpenedDuty
from ropewright.desk.judging import RuleShelf, judge
from ropewright.desk.places import bring_back
from ropewright.desk.wearing import WearResult, wear_of
from ropewright.errors import InputError
from ropewright.geometry import Section
from ropewright.inspection import Dossier
from ropewright.inspection.evidence import evidence_on
from ropewright.plan import Reach, known_hands_off
from ropewright.rules import Assessment
from ropewright.wear.models import ModelName
from ropewright.wear.top_sections import WornSection

SHORT_M: Final = 5.0
"""A section shorter than this is looked at from one position of the crane; own choice."""
ABOUT_M: Final = 1.0
"""So far around a section wires that are known to stand out are warned of; own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WornPlace:
    """A worn section and how it comes in front of a person.

    ``first`` and ``last`` show its two ends at the same place, ``last`` only where the section is
    long; ``why_not`` says why there is none.  ``cautions`` name what stands out of the rope there.
    """

    worn: WornSection
    first: Reach | None = None
    last: Reach | None = None
    why_not: str = ""
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Worn:
    """Wear, places to look at, and cuts, of one rope by one log."""

    found: WearResult
    places: tuple[WornPlace, ...]
    advice: CutAdvice


def worn_rope(
    dossier: Dossier,
    opened: OpenedDuty,
    shelf: RuleShelf,
    today: date,
    *,
    software: str,
    model: ModelName | None = None,
    period_days: float = PERIOD_DAYS,
    dead_wraps: float | None = None,
) -> Worn:
    """Count a log, weigh it, bring the worst sections back, and weigh cuts.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    opened
        The log.
    shelf
        Where rule sets come from: a verdict comes before any cut.
    today
        The day of the question.
    software
        Name and version.
    model
        How a bend is weighed; the usual way if not given.
    period_days
        How far to look ahead for cuts [days].
    dead_wraps
        Wraps that must stay on the drum, if more than three [wraps].

    Raises
    ------
    InputError
        If the log cannot be read or counted on this rope.
    """
    found = wear_of(
        dossier, opened.chunks, opened.counting, today, model=model, log=opened.names,
        records=opened.records,
    )  # fmt: skip
    advice = cut_advice(
        dossier, found, judged=judged_if_ruled(dossier, shelf, today, software),
        period_days=period_days, dead_wraps=dead_wraps,
    )  # fmt: skip
    return Worn(
        found=found, places=tuple(_place(dossier, one, today) for one in found.top), advice=advice
    )


def judged_if_ruled(
    dossier: Dossier, shelf: RuleShelf, today: date, software: str
) -> Assessment | None:
    """What the rules say; none where no rule is chosen, or one cannot be read."""
    try:
        return judge(dossier, shelf, today, software=software)
    except InputError:
        return None


def _place(dossier: Dossier, one: WornSection, on: date) -> WornPlace:
    section = one.section
    short = section.length_m < SHORT_M
    spots = [(section.from_m + section.to_m) / 2] if short else [section.from_m, section.to_m]
    cautions = tuple(_cautions(dossier, section, on))
    try:
        back = [bring_back(dossier, spot, on) for spot in spots]
    except InputError as error:
        return WornPlace(worn=one, why_not=str(error), cautions=cautions)
    for first in back[0].reaches:
        last = next((each for each in back[-1].reaches if each.place == first.place), None)
        if last is not None:
            return WornPlace(worn=one, first=first, last=None if short else last, cautions=cautions)
    missed = back[0].not_reached + (() if short else back[-1].not_reached)
    why = "; ".join(dict.fromkeys(missed)) or "no place shows both of its ends"
    return WornPlace(worn=one, why_not=why, cautions=cautions)


def _cautions(dossier: Dossier, section: Section, on: date) -> Iterator[str]:
    here = section.widened(ABOUT_M)
    for one in known_hands_off(evidence_on(dossier, on)):
        if one.section.overlaps(here):
            yield (
                f"HAND OFF while the rope runs: {one.why}, {one.section.from_m:.1f} to "
                f"{one.section.to_m:.1f} m. Stop and isolate before a hand comes near."
            )
