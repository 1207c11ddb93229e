"""Putting one rope on a card."""

import hashlib
from collections.abc import Sequence
from datetime import date, timedelta

from ropewright.card.assumed import GOOD_FOR_DAYS, JOIN_WITHIN_DAYS
from ropewright.card.cautions import cautions_of
from ropewright.card.drums import card_drums
from ropewright.card.last_time import last_time
from ropewright.card.maps import NoMap, PlaceMap, place_maps
from ropewright.card.model import FieldCard, MarkOnCard, RopeOnCard
from ropewright.errors import InputError
from ropewright.inspection import Dossier, Event, Inspection, RiggedHoist, hoist_on
from ropewright.inspection.evidence import evidence_on
from ropewright.inspection.exposed import exposures_on
from ropewright.plan import InspectionPlan
from ropewright.rules import Assessment, RuleSet, resolved_limits


def field_card(
    dossier: Dossier,
    assessment: Assessment,
    plan: InspectionPlan | None,
    rule_sets: Sequence[RuleSet],
    today: date,
    *,
    plan_missing: str = "",
    book_head: str = "",
    told: Sequence[str] = (),
) -> FieldCard:
    """One rope on a card.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    assessment
        What the rules say of it before the inspection.
    plan
        The plan of the inspection; none where too little is known of the rigging.
    rule_sets
        The rule sets that govern, with our own checks.
    today
        The day of the card.
    plan_missing
        Why there is no plan.
    book_head
        Head hash of the logbook, empty for a case file.
    told
        What else the last shift leaves open, such as a bridged limit switch.
    """
    evidence = evidence_on(dossier, today)
    exposures = exposures_on(dossier, today)
    path = dossier.history.at(today)
    rigged, why = _rigged(dossier, today)
    maps: tuple[PlaceMap, ...] = ()
    not_mapped: tuple[NoMap, ...] = ()
    if rigged is not None:
        maps, not_mapped = place_maps(rigged, path, plan)
    return FieldCard(
        made_on=today,
        expires_on=today + timedelta(days=GOOD_FOR_DAYS),
        invented=dossier.invented,
        book_head=book_head,
        rules_hash=_rules_hash(rule_sets),
        software=assessment.software,
        crane=dossier.crane,
        rope=_rope(dossier),
        path=path,
        elsewhere=exposures.elsewhere,
        zones=exposures.stated,
        limits=resolved_limits(dossier, rule_sets, today),
        place_maps=maps,
        not_mapped=not_mapped,
        travel=None if rigged is None else rigged.hoist.travel,
        readings=None if rigged is None else rigged.hoist.readings,
        by_payout=rigged is not None and rigged.by_payout,
        drums=() if rigged is None else card_drums(rigged),
        plan=plan,
        plan_missing=plan_missing or why,
        marks=_marks(dossier, plan),
        last_time=last_time(dossier, evidence, plan),
        parts=evidence.parts,
        last=evidence.latest,
        unfinished=_unfinished(dossier, today),
        verdict=assessment.verdict,
        events=_open_events(dossier, today),
        told=tuple(told),
        cautions=cautions_of(dossier, assessment.verdict),
    )


def _rigged(dossier: Dossier, today: date) -> tuple[RiggedHoist | None, str]:
    try:
        return hoist_on(dossier, today), ""
    except InputError as error:
        return None, str(error)


def _rules_hash(rule_sets: Sequence[RuleSet]) -> str:
    lines = sorted(f"{one.rule_set_id} {one.rules_hash}" for one in rule_sets)
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()


def _rope(dossier: Dossier) -> RopeOnCard:
    rope, construction = dossier.rope, dossier.rope.construction
    reference = dossier.installation.reference
    return RopeOnCard(
        rope_id=rope.rope_id,
        hoist=dossier.installation.hoist,
        purpose=dossier.installation.purpose,
        construction=construction.name,
        diameter_mm=rope.nominal_diameter_mm,
        reference_mm=None if reference is None else reference.measured_mm,
        outer_strands=construction.outer_strands,
        wires=construction.load_bearing_outer_wires,
        lay_mm=rope.lay_length_mm,
        rotation_resistant=construction.rotation_resistant,
    )


def _marks(dossier: Dossier, plan: InspectionPlan | None) -> tuple[MarkOnCard, ...]:
    again = {one.name: one for one in (plan.again if plan else ())}
    found = [MarkOnCard(mark=mark, again=again.get(f"mark {mark.name}")) for mark in dossier.marks]
    return tuple(sorted(found, key=lambda one: (one.mark.place.at_m, one.mark.name)))


def _unfinished(dossier: Dossier, today: date) -> tuple[Inspection, ...]:
    """Inspections of the last days that somebody began and nobody finished, the newest first."""
    since = today - timedelta(days=JOIN_WITHIN_DAYS)
    found = [one for one in dossier.inspections if not one.finished and since <= one.on <= today]
    return tuple(sorted(found, key=lambda one: (one.on, one.inspection_id), reverse=True))


def _open_events(dossier: Dossier, today: date) -> tuple[Event, ...]:
    return tuple(
        one
        for one in dossier.events
        if one.on <= today and (one.release is None or one.release.on > today)
    )
