"""A validated case made into a dossier, with every contradiction in it noted."""

from collections.abc import Iterator, Sequence
from datetime import date

from ropewright.geometry import ExposedSection, Exposure, Section
from ropewright.inspection import (
    Crane,
    DiameterReading,
    Dossier,
    Event,
    Installation,
    Mark,
    Permission,
    ReferenceDiameter,
    Release,
)
from ropewright.intake.bench import doubt_readings
from ropewright.intake.build_inspections import Register, Workshop, inspections, person_of
from ropewright.intake.build_rope import history_of, rope_of
from ropewright.intake.case_model import CaseModel
from ropewright.intake.checks import check_dates, check_events_named, rules_named
from ropewright.intake.experience import comparisons, opened_ropes, past_forecasts, trials
from ropewright.intake.findings_list import Lists
from ropewright.intake.models import (
    CraneModel,
    InstallationModel,
    ReferenceModel,
    SectionModel,
)
from ropewright.intake.places import Findings, Ground, says_a_section
from ropewright.intake.rigging import check_riggings, riggings
from ropewright.intake.set_up import confirmations, set_up_measures
from ropewright.rope import Rope, RopeHistory
from ropewright.units import metres

UNNAMED_CRANE = "crane not named"


def build_dossier(
    case: CaseModel,
    *,
    found: Findings,
    known_rules: Sequence[str] | None,
    lists: Lists,
) -> Dossier | None:
    """Put the dossier together; what is wrong goes to ``found`` and may give ``None``.

    Parameters
    ----------
    case
        The validated case.
    found
        Where complaints and doubts go.
    known_rules
        Ids of the rule sets that may be named; ``None`` takes any name.
    lists
        The lists of findings that inspections may name.
    """
    crane = _crane(case.crane)
    hoist = case.installation.hoist or "hoist"
    is_named = crane.crane_id != UNNAMED_CRANE
    own_id = f"{crane.crane_id} {hoist}" if is_named else hoist
    rope = rope_of(case.rope, rope_id=case.rope.id or own_id, found=found)
    rules = rules_named(case.installation, known_rules, lists.folder, found)
    history = None if rope is None else history_of(case.history, rope=rope, found=found)
    if rope is None or history is None:
        return None
    installation = _installation(
        case.installation,
        hoist=hoist,
        rules=rules,
        known_rules=known_rules,
        rope=rope,
        history=history,
        found=found,
    )
    shop = Workshop(rope=rope, history=history, found=found, read_list=lists.read)
    events = tuple(_events(case, history, found))
    inspected = inspections(case.inspection, shop)
    check_dates(case, found)
    check_events_named(case, events, found)
    dossier = Dossier(
        crane=crane,
        rope=rope,
        installation=installation,
        history=history,
        rigging=tuple(riggings(case.rigging, found, fitted_on=installation.fitted_on)),
        marks=tuple(_marks(case, history, found)),
        events=events,
        inspections=inspected,
        people=tuple(person_of(one) for one in case.person),
        invented=case.invented or False,
        title=case.title or "",
        comparisons=comparisons(case.comparison, inspected, found),
        opened=tuple(opened_ropes(case.opened, history, found)),
        trials=tuple(trials(case.trial)),
        forecasts=tuple(past_forecasts(case.forecast, found)),
    )
    check_riggings(dossier, found)
    return dossier


def _crane(model: CraneModel | None) -> Crane:
    if model is None:
        return Crane(crane_id=UNNAMED_CRANE)
    return Crane(
        crane_id=model.id or UNNAMED_CRANE,
        kind=model.kind or "other",
        site=model.site or "",
        site_address=model.site_address or "",
        zone=model.zone or "",
        owner=model.owner or "",
        owner_address=model.owner_address or "",
        safe_working_load=model.safe_working_load or "",
        built=model.built or "",
    )


def _installation(
    model: InstallationModel,
    *,
    hoist: str,
    rules: tuple[str, ...],
    known_rules: Sequence[str] | None,
    rope: Rope,
    history: RopeHistory,
    found: Findings,
) -> Installation:
    working: Section | None = None
    if model.working is not None:
        with found.at("installation.working"):
            working = _standing(model.working, history)
    wrap = model.drum_wrap_length
    return Installation(
        hoist=hoist,
        fitted_on=model.fitted_on,
        use=model.use or "running",
        purpose=model.purpose or "hoist",
        persons_lifted=model.persons_lifted,
        mechanism_class=model.mechanism_class,
        exposed=tuple(_exposed(model, history, found)),
        working=working,
        drum_wrap_length_m=None if wrap is None else metres(wrap),
        reference=_reference(model.reference, rope, history, found),
        rules=rules,
        permissions=tuple(
            Permission(
                rule_set=one.rule_set,
                permission=one.permission,
                by=one.by,
                on=one.on,
                reason=one.reason,
            )
            for one in model.permission
        ),
        confirmed=confirmations(model.confirmed, known_rules, found),
        set_up=set_up_measures(model.set_up, found),
        interval_days=model.interval_days,
        interval_by=model.interval_by or "",
        lubricant=model.lubricant or "",
        idle_since=model.idle_since,
    )


def _standing(model: SectionModel, history: RopeHistory) -> Section:
    """A section that is not tied to a day: the rope as installed, or the path as it is last."""
    by_path = model.from_path is not None or model.to_path is not None
    return Ground.of(history, date.max if by_path else date.min).section(model)


def _exposed(
    model: InstallationModel, history: RopeHistory, found: Findings
) -> Iterator[ExposedSection]:
    for number, one in enumerate(model.exposure, 1):
        with found.at(f"installation.exposure[{number}]"):
            yield ExposedSection(
                section=_standing(one, history),
                exposure=Exposure(
                    drum=one.drum or "unknown",
                    sheaves=one.sheaves or "unknown",
                    crossover=one.crossover,
                    near_end=one.near_end,
                    bends=one.bends,
                ),
            )


def _reference(
    model: ReferenceModel | None, rope: Rope, history: RopeHistory, found: Findings
) -> ReferenceDiameter | None:
    if model is None:
        return None
    ground = Ground.of(history, model.on)
    readings: list[DiameterReading] = []
    for number, one in enumerate(model.reading, 1):
        where = f"installation.reference.reading[{number}]"
        doubt_readings(
            one.readings,
            nominal_mm=rope.nominal_diameter_mm,
            where=f"{where}.readings",
            found=found,
        )
        with found.at(where):
            readings.append(
                DiameterReading(
                    finding_id=one.id or f"reference {number}",
                    place=ground.place(one),
                    method="gauge",
                    remark=one.remark or "",
                    readings_mm=tuple(one.readings),
                    instrument=one.instrument,
                    tension=one.tension or model.tension or "",
                )
            )
    return ReferenceDiameter(on=model.on, readings=tuple(readings), tension=model.tension or "")


def _marks(case: CaseModel, history: RopeHistory, found: Findings) -> Iterator[Mark]:
    names = Register(found)
    for number, one in enumerate(case.mark, 1):
        where = f"mark[{number}]"
        names.take(one.name, f"{where}.name", what="a name")
        day = one.on or (date.min if one.at_path is None else date.max)
        with found.at(where):
            yield Mark(
                name=one.name,
                place=Ground.of(history, day).place(one),
                made_of=one.made_of or "",
                on=one.on,
            )


def _events(case: CaseModel, history: RopeHistory, found: Findings) -> Iterator[Event]:
    ids = Register(found)
    for number, one in enumerate(case.event, 1):
        where = f"event[{number}]"
        own = one.id or f"{one.kind} {one.on.isoformat()}"
        ids.take(own, f"{where}.id", what="an id")
        section: Section | None = None
        if says_a_section(one):
            with found.at(where):
                section = Ground.of(history, one.on, before_changes=True).section(one)
        release = one.release
        yield Event(
            event_id=own,
            kind=one.kind,
            on=one.on,
            section=section,
            remark=one.remark or "",
            release=None
            if release is None
            else Release(by=release.by, on=release.on, evidence=release.evidence),
        )
