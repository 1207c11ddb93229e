"""How worn is this rope, and where: bends and damage from the log, held against what was found."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from itertools import pairwise
from typing import Final

from ropewright.desk.duty_counting import LiftsRecord, count_lifts, count_log
from ropewright.desk.duty_pieces import Duty, pieces_of
from ropewright.desk.wear_clock import damage_clock
from ropewright.errors import InputError
from ropewright.forecast import Clock
from ropewright.geometry import Section, union
from ropewright.inspection import Dossier, covered
from ropewright.inspection.evidence import Evidence, evidence_on
from ropewright.rope import PathMap
from ropewright.rules import provenance_words
from ropewright.wear.agreement import Agreement, Found, agreement, step_for_m
from ropewright.wear.discard_counts import DiscardCount, discard_count, row_for
from ropewright.wear.model import DutyChunk
from ropewright.wear.models import MODELS, ModelCard, ModelName
from ropewright.wear.possible_cuts import drum_shapes
from ropewright.wear.settings import Counting
from ropewright.wear.top_sections import WornSection, top_sections
from ropewright.wear.wear_map import DutyPiece, WearMap, metre_by_metre, wear_map

ALL_MODELS: Final[tuple[ModelName, ...]] = ("cubic", "endurance", "bends")


@dataclass(frozen=True, slots=True, kw_only=True)
class SecondOpinion:
    """Numbers of broken wires that ended the life of ropes in tests, or why there are none.

    ``stress_n_per_mm2`` is S/d², ``ratio`` [-] D/d at which they hold.
    """

    count: DiscardCount | None = None
    stress_n_per_mm2: float = 0.0
    ratio: float = 0.0
    why_not: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherModel:
    """What another model says: its worst section, or why it says nothing."""

    card: ModelCard
    worst: WornSection | None = None
    why_not: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WearResult:
    """The wear of one rope as a log shows it.

    Parameters
    ----------
    rope_id, on
        Which rope, on which day.
    log
        Names of the logs.
    card
        The model used.
    own_constants
        Whether the model's constants belong to this kind of rope.
    wear
        The map.
    top
        The most worn sections, the worst first.
    agreement
        How the map agrees with broken wires found.
    opinion
        Numbers of broken wires from tests.
    others
        What the other models say.
    clock
        Damage at the worst place against days, for the forecast; none without a fitting date.
    clock_at
        The section whose damage the clock counts.
    pieces, duty
        The duty piece by piece, and the log as counted.
    path
        How rope and path belong together on the day.
    notes
        What the reader must know: what was assumed, borrowed or left out.
    """

    rope_id: str
    on: date
    log: tuple[str, ...]
    card: ModelCard
    own_constants: bool
    wear: WearMap
    top: tuple[WornSection, ...]
    agreement: Agreement
    opinion: SecondOpinion
    others: tuple[OtherModel, ...]
    clock: Clock | None
    clock_at: Section | None
    pieces: tuple[DutyPiece, ...]
    duty: Duty
    path: PathMap
    notes: tuple[str, ...] = field(default=())

    @property
    def full_bend_words(self) -> str:
        """What the unit of damage is, in words."""
        if self.wear.full_force_n is None:
            return "one bend, whatever hangs on the hook"
        return "one bend under the greatest force of the log, on the hardest sheave"

    @property
    def days(self) -> float:
        """Days that the log stands for [days]."""
        return sum(piece.days for piece in self.pieces)


def wear_of(
    dossier: Dossier,
    chunks: Iterable[DutyChunk],
    counting: Counting,
    today: date,
    *,
    model: ModelName | None = None,
    log: Sequence[str] = (),
    records: Sequence[LiftsRecord] = (),
) -> WearResult:
    """Count a log, weigh it, place it on the rope and hold it against the findings.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    chunks
        The log, in order of time.
    counting
        How to count.
    today
        The day of the question.
    model
        The model; without one the cube of the force, or every bend alike for a rope whose force
        the load does not tell.
    log
        Names of the logs, for the record.
    records
        Lifts that were listed or described, where nothing was logged, each for its own days;
        taken instead of a log.

    Raises
    ------
    InputError
        If no sample belongs to the rope, its path is not known, or the model refuses.
    """
    if records:
        duty = count_lifts(dossier, records, counting, today, models=ALL_MODELS)
    else:
        duty = count_log(dossier, chunks, counting, today, models=ALL_MODELS)
    return result_of(dossier, duty, today, model=model, log=log)


def result_of(
    dossier: Dossier,
    duty: Duty,
    today: date,
    *,
    model: ModelName | None = None,
    log: Sequence[str] = (),
) -> WearResult:
    """The wear of a rope from a log that is counted already; as `wear_of`."""
    path = dossier.history.at(today)
    chosen, pieces = _by_model(duty, model)
    worn = wear_map(pieces, path)
    evidence = evidence_on(dossier, today)
    clock, clock_at = damage_clock(dossier, pieces, worn, evidence)
    return WearResult(
        rope_id=dossier.rope.rope_id,
        on=today,
        log=tuple(log),
        card=MODELS[chosen],
        own_constants=pieces[-1].damage.life_known,
        wear=worn,
        top=top_sections(worn),
        agreement=agreement_with(worn, evidence),
        opinion=second_opinion(dossier, pieces[-1]),
        others=tuple(_other(duty, name, path) for name in duty.models if name != chosen),
        clock=clock,
        clock_at=clock_at,
        pieces=pieces,
        duty=duty,
        path=path,
        notes=tuple(_notes(dossier, duty, pieces, worn, chosen)),
    )


def _by_model(duty: Duty, model: ModelName | None) -> tuple[ModelName, tuple[DutyPiece, ...]]:
    if model is not None:
        return model, pieces_of(duty, model)
    try:
        return "cubic", pieces_of(duty, "cubic")
    except InputError:
        return "bends", pieces_of(duty, "bends")


def _other(duty: Duty, name: ModelName, path: PathMap) -> OtherModel:
    try:
        found = top_sections(wear_map(pieces_of(duty, name), path), most=1)
    except InputError as error:
        return OtherModel(card=MODELS[name], why_not=error.message or str(error))
    return OtherModel(card=MODELS[name], worst=found[0] if found else None)


def broken_wires_found(evidence: Evidence) -> tuple[Found, ...]:
    """All broken wires that count, each cluster at its middle."""
    return tuple(
        Found(
            rope_m=(finding.section.from_m + finding.section.to_m) / 2,
            count=finding.count,
        )
        for finding, _ in evidence.broken_wires()
    )


def looked_over(evidence: Evidence) -> tuple[Section, ...]:
    """Rope that an eye or a hand went over."""
    return union(
        section
        for inspection in evidence.current
        for method in ("eye", "feel")
        for section in covered(inspection, method)
    )


def agreement_with(worn: WearMap, evidence: Evidence) -> Agreement:
    """How a map agrees with the broken wires that count, over rope that was looked at.

    Parameters
    ----------
    worn
        The map.
    evidence
        What counts on the day.
    """
    edges, means = metre_by_metre(worn, step_for_m(worn.in_service.length_m))
    return agreement(edges, means, broken_wires_found(evidence), looked_over(evidence))


def second_opinion(dossier: Dossier, piece: DutyPiece) -> SecondOpinion:
    """Broken wires at which tests ended a rope's life, under the greatest force of the log.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    piece
        The latest piece of duty.
    """
    row = row_for(dossier.rope)
    if row is None:
        return SecondOpinion(why_not="no published constants for this rope")
    damage = piece.damage
    if damage.full_force_n is None:
        return SecondOpinion(why_not="the log tells no rope force")
    diameter = float(dossier.rope.nominal_diameter_mm)
    stress, ratio = damage.full_force_n / diameter**2, damage.full_sheave_mm / diameter
    reverse = any(cause.kind == "reverse bends" for cause in damage.causes)
    try:
        count = discard_count(
            row[0], stress_n_per_mm2=stress, ratio=ratio, reverse=reverse, six_strands=row[1]
        )
    except InputError as error:
        return SecondOpinion(stress_n_per_mm2=stress, ratio=ratio, why_not=str(error))
    return SecondOpinion(count=count, stress_n_per_mm2=stress, ratio=ratio)


def _notes(
    dossier: Dossier, duty: Duty, pieces: Sequence[DutyPiece], worn: WearMap, model: ModelName
) -> list[str]:
    """What the reader must know."""
    origin = provenance_words(MODELS[model].provenance)
    notes = [
        "Wear gives the shape along the rope; how far the rope is gone, inspections say.",
        f"Constants of the model, {origin}: {MODELS[model].source}.",
    ]
    if model == "endurance" and not pieces[-1].damage.life_known:
        notes.append("The constants are those of another rope (8x19 fibre core): shape only.")
    if worn.light_share > 0:
        notes.append(
            f"{worn.light_share * 100:.0f} % of the bends lie below 50 N/mm² and were counted as "
            "at 50."
        )
    if worn.unknown_share > 0:
        notes.append(
            f"{worn.unknown_share * 100:.0f} % of the bends have no load and were counted under "
            "the greatest."
        )
    if worn.crossover is not None:
        notes.append(
            f"A pass through a crossover counts {worn.crossover.value:.1f} times its bend on top "
            f"of it ({provenance_words(worn.crossover.provenance)}; {worn.crossover.source})."
        )
        notes.append(_drum_note(duty))
    notes += _log_notes(dossier, duty, pieces)
    return notes


def _drum_note(duty: Duty) -> str:
    """How well the drum's measures say where a layer ends."""
    hoist = duty.tallies[-1].hoist
    drum, off = hoist.wound_drum(), hoist.tolerances
    shapes = drum_shapes(drum, barrel_mm=off.barrel_mm, wraps=off.wraps)
    inner = range(drum.layers - 1)
    errs = [
        math.hypot(*(
            (one.layer_ends_m[layer] - other.layer_ends_m[layer]) / 2
            for one, other in zip(shapes[::2], shapes[1::2], strict=True)
        ))
        for layer in inner
    ]  # fmt: skip
    worst = max(inner, key=errs.__getitem__)
    return (
        f"Layer changes and crossovers lie where the drum's numbers put them, ± {errs[0]:.1f} m at "
        f"layer 1 to 2, ± {errs[worst]:.1f} m at layer {worst + 1} to {worst + 2}: count the wraps "
        "to be sure."
    )


def _log_notes(dossier: Dossier, duty: Duty, pieces: Sequence[DutyPiece]) -> list[str]:
    notes = []
    fitted = dossier.installation.fitted_on
    if duty.before:
        notes.append(f"{duty.before} samples from before the rope was fitted were left out.")
    if duty.after:
        notes.append(f"{duty.after} samples from after the day of the question were left out.")
    if fitted is not None and pieces[0].first > fitted + timedelta(days=1):
        gap = (pieces[0].first - fitted).days
        notes.append(f"The log begins {gap} days after the rope was fitted: the map lacks them.")
    notes += _between_lists(duty)
    if not dossier.crane.zone:
        notes.append("No time zone is stated for the site: days are those of UTC.")
    if any(piece.drum is None for piece in pieces):
        notes.append("The drum is not known: crossovers and layer changes are not in the map.")
    return notes


def _between_lists(duty: Duty) -> list[str]:
    """Days between lists of lifts that none of them covers; between logs the crane rested."""
    day = timedelta(days=1)
    open_days = [
        (before.last + day, after.first - day)
        for before, after in pairwise(duty.groups)
        if "log" not in (before.count.origin, after.count.origin)
        and after.first - before.last > day
    ]
    if not open_days:
        return []
    whole = sum((last - first).days + 1 for first, last in open_days)
    first, last = max(open_days, key=lambda one: one[1] - one[0])
    return [
        f"{whole} days between the lists are in none of them, the longest gap from "
        f"{first.isoformat()} to {last.isoformat()}: the map lacks them."
        if len(open_days) > 1
        else f"No list covers {first.isoformat()} to {last.isoformat()}: the map lacks these days."
    ]
