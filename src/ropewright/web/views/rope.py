"""One rope: verdict, what each rule set says, findings, coverage, diameter, forecast, history."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final

from ropewright.desk.open_book import Line
from ropewright.desk.overview import Overview
from ropewright.geometry import Section
from ropewright.inspection import (
    BrokenWires,
    Damage,
    DiameterReading,
    Inspection,
    MetallicLoss,
    PartFinding,
    RopeFinding,
    Waviness,
)
from ropewright.inspection.evidence import Evidence, evidence_on
from ropewright.rules import LEVELS, Assessment, Level, Ruling
from ropewright.units import exact_decimal
from ropewright.web.addresses import in_address, rope_path
from ropewright.web.catalogue import Catalogue
from ropewright.web.wording import without_level

#: Entries that changed the rope, its path or its use: what the history on the page shows.
TOLD: Final = frozenset(
    """cut;end for end;re-termination;re-spool;lubrication;re-zero;limit override;limit reset;event;
    hold;release;rigging;installation;rope taken off;spare stored;
    inspection signed;order;order checked;correction;verdict accepted;handover taken;inner count;
    permission;rule confirmed""".replace("\n    ", "").split(";")
)

#: So many entries stand on a rope's page; the page of its entries has all.
MOST_TOLD: Final = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class SideBySide:
    """What one rule set says alone; ``share`` [-] is the highest share of a limit."""

    rule_set: str
    title: str
    edition: str
    level: Level
    governing: Ruling | None
    reached: int
    open_still: int
    share: Fraction | None
    notice: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """One finding as a line: what it is in words, where, from which inspection."""

    finding_id: str
    what: str
    section: Section | None
    err_m: float
    method: str
    inspection: str
    remark: str
    same_as: str
    photos: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionLine:
    """One inspection in the list."""

    inspection: Inspection
    path: str
    findings: int
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RopeView:
    """The whole page.  ``windows`` are counts of broken wires, gravest first.

    ``said`` is the sentence of the verdict without the level, which stands over it.
    """

    whole: Overview
    path: str
    said: str
    governing: tuple[Ruling, ...]
    rule_sets: tuple[SideBySide, ...]
    rulings: tuple[Ruling, ...]
    silent: int
    windows: tuple[Ruling, ...]
    diameters: tuple[Ruling, ...]
    readings: tuple[Found, ...]
    findings: tuple[Found, ...]
    parts: tuple[Found, ...]
    questions: tuple[str, ...]
    inspections: tuple[InspectionLine, ...]
    open_holds: Mapping[str, Mapping[str, str]]
    told: tuple[Line, ...]
    from_memory: int


def rope_view(
    whole: Overview,
    today: date,
    holds: Mapping[str, Mapping[str, str]],
    lines: Sequence[Line],
    texts: Catalogue,
) -> RopeView:
    """Put one rope's page together.

    Parameters
    ----------
    whole
        What was judged.
    today
        The day.
    holds
        Open holds by their id.
    lines
        Entries of the rope, newest first.
    texts
        The words.
    """
    found = whole.assessment
    evidence = evidence_on(whole.dossier, today)
    by_id = {one.ruling_id: one for one in found.rulings}
    wanted = [one for one in found.rulings if _speaks(one)]
    wanted.sort(key=_weight)
    path = rope_path(whole.dossier.rope.rope_id)
    return RopeView(
        whole=whole,
        path=path,
        said=without_level(found.verdict.level, found.verdict.sentence),
        governing=tuple(by_id[name] for name in found.verdict.governing if name in by_id),
        rule_sets=side_by_side(found),
        rulings=tuple(wanted),
        silent=len(found.rulings) - len(wanted),
        windows=tuple(one for one in wanted if one.window is not None and one.found is not None),
        diameters=tuple(one for one in wanted if "diameter" in one.clause_id),
        readings=tuple(
            _found(one, name, texts)
            for one, name in _seen(evidence)
            if isinstance(one, DiameterReading)
        ),
        findings=tuple(
            _found(one, name, texts)
            for one, name in _seen(evidence)
            if not isinstance(one, DiameterReading)
        ),
        parts=tuple(_part(one.finding, one.inspection.inspection_id) for one in evidence.parts),
        questions=tuple(one.why for one in evidence.questions),
        inspections=tuple(
            _inspection(one, path, texts)
            for one in sorted(whole.dossier.inspections, key=lambda one: one.on, reverse=True)
        ),
        open_holds=holds,
        told=_newest(lines),
        from_memory=sum(
            1
            for one in found.rulings
            if one.status in ("reached", "below")
            and "memory" in (one.provenance, one.clause_provenance)
            and not one.confirmed
        ),
    )


def _newest(lines: Sequence[Line]) -> tuple[Line, ...]:
    """What happened last comes first, whenever it was written down."""
    kept = [one for one in lines if one.kind in TOLD]
    kept.sort(key=lambda one: one.happened_on or one.arrived_at.date(), reverse=True)
    return tuple(kept[:MOST_TOLD])


def _speaks(one: Ruling) -> bool:
    return one.status in ("reached", "not assessable") or (
        one.status == "below" and bool(one.share)
    )


def _weight(one: Ruling) -> tuple[int, Fraction, str]:
    return LEVELS.index(one.level), -(one.share or Fraction(0)), one.ruling_id


def side_by_side(found: Assessment) -> tuple[SideBySide, ...]:
    """What each rule set says alone, in the order they were chosen."""
    made = []
    for used in found.rule_sets:
        own = [one for one in found.rulings if one.rule_set == used.rule_set]
        level: Level = min((one.level for one in own), key=LEVELS.index, default="incomplete")
        gravest = sorted((one for one in own if one.level == level and _speaks(one)), key=_weight)
        shares = [one.share for one in own if one.share is not None]
        made.append(
            SideBySide(
                rule_set=used.rule_set, title=used.title, edition=used.edition, level=level,
                governing=gravest[0] if gravest else None,
                reached=sum(one.status == "reached" for one in own),
                open_still=sum(one.status == "not assessable" for one in own),
                share=max(shares, default=None), notice=used.notice,
            )
        )  # fmt: skip
    return tuple(made)


# --- Findings as lines ------------------------------------------------------------------------


def _seen(evidence: Evidence) -> Iterable[tuple[RopeFinding, str]]:
    for one in sorted(evidence.seen, key=lambda one: one.finding.section.from_m):
        yield one.finding, one.inspection.inspection_id


def finding_words(one: RopeFinding, texts: Catalogue) -> str:
    """A finding in a few words."""
    match one:
        case BrokenWires():
            first = min(group.from_mm for group in one.groups)
            last = max(group.to_mm for group in one.groups)
            if last == first:
                return texts.tn("finding.breaks", one.count)
            length = f"{exact_decimal(last - first)} mm"
            return texts.tn("finding.breaks-over", one.count, length=length)
        case DiameterReading():
            both = texts.t("finding.and")
            values = both.join(exact_decimal(value) for value in one.readings_mm)
            if not values:
                return texts.t("finding.no-diameter")
            return texts.t("finding.diameter", size=f"{values} mm")
        case Waviness():
            return texts.t("finding.waviness", gap=f"{exact_decimal(one.gap_mm)} mm")
        case Damage():
            kind = texts.word("kind", one.damage)
            return ", ".join(part for part in (kind, one.form, one.grade) if part)
        case MetallicLoss():
            share = f"{exact_decimal(one.percent)} %"
            return texts.t("finding.lost", share=share, of=one.of)


def _found(one: RopeFinding, inspection: str, texts: Catalogue) -> Found:
    return Found(
        finding_id=one.finding_id, what=finding_words(one, texts), section=one.section,
        err_m=one.place.abs_err_m + one.place.rel_err_m, method=one.method or "",
        inspection=inspection, remark=one.remark, same_as=one.same_as or "",
        photos=tuple(one.photos),
    )  # fmt: skip


def _part(one: PartFinding, inspection: str) -> Found:
    measured = "; ".join(
        f"{name} {exact_decimal(value)} mm" for name, value in one.measured.items()
    )
    words = f"{one.part} {one.which}: {one.state}"
    return Found(
        finding_id=one.finding_id, what=f"{words}, {measured}" if measured else words,
        section=None, err_m=0.0, method="", inspection=inspection, remark=one.remark, same_as="",
        photos=tuple(one.photos),
    )  # fmt: skip


def state_of(one: Inspection, texts: Catalogue) -> str:
    """Where an inspection stands."""
    if one.signed_by:
        return texts.t("inspection.signed-by", who=one.signed_by)
    return texts.t("inspection.not-signed" if one.finished else "inspection.not-finished")


def _inspection(one: Inspection, path: str, texts: Catalogue) -> InspectionLine:
    return InspectionLine(
        inspection=one,
        path=f"{path}/inspections/{in_address(one.inspection_id)}",
        findings=len(one.findings) + len(one.part_findings),
        state=state_of(one, texts),
    )
