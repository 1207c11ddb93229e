"""The ``[[inspection]]`` tables of a case file, made into inspections of the core."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date

from ropewright.inspection import (
    ITEMS,
    Conditions,
    ExaminedItem,
    HiddenSection,
    Inspection,
    Instrument,
    Pass,
    Person,
    RopeFinding,
    UnseenAcceptance,
)
from ropewright.inspection.inspection import ItemState
from ropewright.intake.bench import Bench, part_finding
from ropewright.intake.build_findings import rope_finding
from ropewright.intake.inspection_models import (
    InspectionModel,
    InstrumentModel,
    PersonModel,
)
from ropewright.intake.places import Findings, Ground
from ropewright.intake.wording import one_of
from ropewright.rope import Rope, RopeHistory
from ropewright.units import metres

#: Reads a list of findings named by an inspection: (its name, where it is named, workbench).
ReadList = Callable[[str, str, Bench, str], Sequence[RopeFinding]]


@dataclass(slots=True)
class Register:
    """Every id of a file and where it was first used."""

    found: Findings
    used: dict[str, str] = field(default_factory=dict)

    def take(self, name: str, where: str, *, what: str) -> None:
        """Note an id, or complain that it is used already."""
        first = self.used.setdefault(name, where)
        if first != where:
            self.found.wrong(
                where, expected=f"{what} that is not used elsewhere in this file",
                given=name, hint=f"it stands at {first}",
            )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Workshop:
    """What making inspections needs to know."""

    rope: Rope
    history: RopeHistory
    found: Findings
    read_list: ReadList


def inspections(models: Sequence[InspectionModel], shop: Workshop) -> tuple[Inspection, ...]:
    """Make all inspections, oldest first, each with its findings."""
    ids = Register(shop.found)
    finding_ids = Register(shop.found)
    made: list[Inspection] = []
    for number, model in enumerate(models, 1):
        where = f"inspection[{number}]"
        own = _own_id(model, models[: number - 1])
        ids.take(own, f"{where}.id", what="an id")
        with shop.found.at(where):
            made.append(_inspection(model, own, where, shop, finding_ids))
    _check_same_as(models, finding_ids, shop.found)
    return tuple(sorted(made, key=lambda one: one.on))


def _own_id(model: InspectionModel, before: Sequence[InspectionModel]) -> str:
    """The stated id, or the date, numbered from the second of a day on."""
    if model.id is not None:
        return model.id
    same_day = sum(one.id is None and one.on == model.on for one in before)
    return model.on.isoformat() + (f"-{same_day + 1}" if same_day else "")


def _inspection(
    model: InspectionModel, own: str, where: str, shop: Workshop, finding_ids: Register
) -> Inspection:
    found = shop.found
    ground = Ground.of(shop.history, model.on, before_changes=model.before_changes or False)
    bench = Bench(
        rope=shop.rope,
        ground=ground,
        found=found,
        instruments=frozenset(one.name for one in model.instrument),
    )
    rope_findings: list[RopeFinding] = []
    for number, one in enumerate(model.finding, 1):
        there = f"{where}.finding[{number}]"
        finding_id = one.id or f"{own}/{number}"
        finding_ids.take(finding_id, f"{there}.id", what="an id")
        made = rope_finding(one, finding_id=finding_id, where=there, bench=bench)
        if made is not None:
            rope_findings.append(made)
    if model.findings_file is not None:
        there = f"{where}.findings_file"
        for listed in shop.read_list(model.findings_file, there, bench, own):
            finding_ids.take(listed.finding_id, there, what="finding ids")
            rope_findings.append(listed)
    parts = []
    for number, part in enumerate(model.part, 1):
        there = f"{where}.part[{number}]"
        part_id = part.id or f"{own}/part {number}"
        finding_ids.take(part_id, f"{there}.id", what="an id")
        part_made = part_finding(part, finding_id=part_id, where=there, bench=bench)
        if part_made is not None:
            parts.append(part_made)
    clean = _without_doubles(rope_findings)
    return Inspection(
        inspection_id=own,
        kind=model.kind,
        on=model.on,
        by=tuple(person_of(one) for one in model.person),
        finished=True if model.finished is None else model.finished,
        passes=tuple(_passes(model, where, ground, found)),
        hidden=tuple(_hidden(model, where, ground, found)),
        accepted=tuple(_accepted(model, where, ground, found)),
        examined=tuple(_examined(model, where, found)),
        conditions=_conditions(model),
        instruments=_instruments(model.instrument, model.on, where, found),
        findings=clean,
        part_findings=tuple(parts),
        next_by=model.next_by,
        after_event=model.after_event,
        remark=model.remark or "",
        signed_by=model.signed_by or "",
    )


def _without_doubles(findings: Iterable[RopeFinding]) -> tuple[RopeFinding, ...]:
    """Findings without those whose id came before: that is an error noted already."""
    by_id: dict[str, RopeFinding] = {}
    for finding in findings:
        by_id.setdefault(finding.finding_id, finding)
    return tuple(by_id.values())


def person_of(model: PersonModel) -> Person:
    """A person as the core knows one."""
    return Person(
        role=model.role,
        name=model.name or "",
        qualification=model.qualification or "",
        competence=model.competence or "unknown",
        certificate=model.certificate or "",
        certificate_expires=model.certificate_expires,
        employer=model.employer or "",
        address=model.address or "",
        independent=model.independent,
    )


def _conditions(model: InspectionModel) -> Conditions:
    said = model.conditions
    if said is None:
        return Conditions()
    return Conditions(
        light=said.light or "",
        weather=said.weather or "",
        wind=said.wind or "",
        rope_cleaned=said.rope_cleaned,
        grease=said.grease or "unknown",
        tension=said.tension or "",
        remark=said.remark or "",
    )


def _instruments(
    models: Sequence[InstrumentModel], on: date, where: str, found: Findings
) -> tuple[Instrument, ...]:
    names = Register(found)
    made = []
    for number, model in enumerate(models, 1):
        there = f"{where}.instrument[{number}]"
        names.take(model.name, f"{there}.name", what="a name")
        if model.calibration_due is not None and model.calibration_due < on:
            found.doubt(
                f"{there}.calibration_due",
                f"{model.name} was due for calibration on {model.calibration_due.isoformat()}, "
                f"before this inspection",
            )
        made.append(
            Instrument(
                name=model.name,
                kind=model.kind,
                resolution_mm=model.resolution,
                calibrated_on=model.calibrated_on,
                calibration_due=model.calibration_due,
            )
        )
    return tuple(made)


def _passes(model: InspectionModel, where: str, ground: Ground, found: Findings) -> Iterable[Pass]:
    for number, one in enumerate(model.pass_, 1):
        with found.at(f"{where}.pass[{number}]"):
            yield Pass(
                method=one.method,
                section=ground.section(one),
                point=one.point or "",
                hook_from_m=None if one.hook_from is None else metres(one.hook_from),
                hook_to_m=None if one.hook_to is None else metres(one.hook_to),
                rope_speed_m_per_s=one.rope_speed,
                remark=one.remark or "",
            )


def _hidden(
    model: InspectionModel, where: str, ground: Ground, found: Findings
) -> Iterable[HiddenSection]:
    for number, one in enumerate(model.hidden, 1):
        with found.at(f"{where}.hidden[{number}]"):
            yield HiddenSection(section=ground.section(one), cause=one.cause or "grease")


def _accepted(
    model: InspectionModel, where: str, ground: Ground, found: Findings
) -> Iterable[UnseenAcceptance]:
    for number, one in enumerate(model.accepted, 1):
        with found.at(f"{where}.accepted[{number}]"):
            yield UnseenAcceptance(
                section=ground.section(one), by=one.by, until=one.until, reason=one.reason
            )


def _examined(model: InspectionModel, where: str, found: Findings) -> Iterable[ExaminedItem]:
    lists: tuple[tuple[str, list[str] | None, ItemState], ...] = (
        ("seen", model.seen, "seen"),
        ("not_seen", model.not_seen, "not seen"),
        ("not_fitted", model.not_fitted, "not fitted"),
    )
    said: dict[str, str] = {}
    told = [
        (item, state, "", f"{where}.{key}[{number}]")
        for key, items, state in lists
        for number, item in enumerate(items or (), 1)
    ]
    told += [
        (one.item, one.state, one.remark or "", f"{where}.item[{number}].item")
        for number, one in enumerate(model.item, 1)
    ]
    for item, state, remark, there in told:
        if item not in ITEMS:
            expected, hint = one_of(ITEMS, item)
            found.wrong(there, expected=expected, given=item, hint=hint)
            continue
        first = said.setdefault(item, state)
        if first != state:
            found.wrong(there, expected=f'"{item}" as {first}, as said before', given=state)
            continue
        yield ExaminedItem(item=item, state=state, remark=remark)


def _check_same_as(
    models: Sequence[InspectionModel], finding_ids: Register, found: Findings
) -> None:
    """A finding may only be the same as one of this file, and not as itself."""
    known = list(finding_ids.used)
    for number, model in enumerate(models, 1):
        for place, one in enumerate(model.finding, 1):
            if one.same_as is None:
                continue
            there = f"inspection[{number}].finding[{place}].same_as"
            if one.same_as not in finding_ids.used:
                expected = "the id of another finding in this file"
                close = one_of(known, one.same_as)[1]
                found.unknown(
                    there,
                    expected=f"{expected}, {close}" if close else expected,
                    given=one.same_as,
                )
            elif one.same_as == one.id:
                found.wrong(there, expected="another finding, not itself", given=one.same_as)
