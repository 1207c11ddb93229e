"""The life of one rope on one page: what it is, what was done to it, what was found, day by day."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final

from ropewright.inspection import (
    BrokenWires,
    CountedGroup,
    DiameterReading,
    Dossier,
    Inspection,
    covered,
    nanometres,
    worst_window,
)
from ropewright.rope import Cut
from ropewright.units import exact_decimal, show_length_mm, show_place_m

_SHORT_D: Final = 6
_LONG_D: Final = 30
_NM_PER_MM: Final = 1_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class LifeLine:
    """One thing that happened: the day (``None``: not dated), what, in words, by whom."""

    on: date | None
    what: str
    words: str
    by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionLine:
    """One inspection: kind, who, the worst counts, the thinnest diameter, what was not seen."""

    on: date
    kind: str
    by: str
    worst_short: str
    worst_long: str
    thinnest: str
    other: str
    state: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RopeLife:
    """Everything that a rope's card shows, in the order of the page."""

    rope_id: str
    crane: str
    made_on: date
    identity: tuple[tuple[str, str], ...]
    inspections: tuple[InspectionLine, ...]
    happened: tuple[LifeLine, ...]
    open_points: tuple[str, ...]
    seal: str
    invented: bool


def rope_life(
    dossier: Dossier, made_on: date, *, work: Sequence[LifeLine] = (), seal: str = ""
) -> RopeLife:
    """The card of a rope.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    made_on
        The day of the card.
    work
        What the logbook holds beyond the dossier: lubrication, orders, overrides and so on.
    seal
        The seal of the book.
    """
    happened = sorted([*_happened(dossier), *work], key=lambda one: one.on or date.min)
    return RopeLife(
        rope_id=dossier.rope.rope_id,
        crane=" · ".join(
            part
            for part in (
                dossier.crane.crane_id, dossier.installation.hoist, dossier.crane.site,
            )
            if part
        ),
        made_on=made_on,
        identity=tuple((name, text) for name, text in _identity(dossier) if text),
        inspections=tuple(_inspection(dossier, one) for one in dossier.inspections),
        happened=tuple(happened),
        open_points=tuple(_open(dossier)),
        seal=seal,
        invented=dossier.invented,
    )  # fmt: skip


def _identity(dossier: Dossier) -> Iterator[tuple[str, str]]:
    rope, make, fitted = dossier.rope, dossier.rope.construction, dossier.installation
    yield "Rope", f"{show_length_mm(rope.nominal_diameter_mm)} {make.name}"
    lay = " ".join(part for part in (_hand(rope.lay_hand), rope.lay_type or "") if part)
    yield "Lay", f"{lay} lay" if lay else ""
    yield "Grade", "" if rope.grade is None else f"{exact_decimal(rope.grade)} N/mm²"
    force = rope.breaking_force()
    yield (
        "Breaking force",
        "" if force is None else f"{float(force.value):.1f} kN, {force.source}",
    )
    paper = rope.certificate
    yield "Certificate", "" if paper is None else _paper(paper.number, paper.issued_on)
    here = dossier.history.at(date.max)
    yield (
        "Length",
        f"{dossier.history.original_length_m:.2f} m as fitted, {here.length_m:.2f} m now"
        + (", turned end for end" if here.turned else ""),
    )
    yield "Fitted", "" if fitted.fitted_on is None else fitted.fitted_on.isoformat()
    yield "Rules", ", ".join(fitted.rules)
    yield "Reference diameter", _reference(dossier)
    yield "Lay length", "" if rope.lay_length_mm is None else show_length_mm(rope.lay_length_mm)


def _hand(hand: str | None) -> str:
    return "" if hand is None else f"{hand}-hand"


def _paper(number: str, issued_on: date | None) -> str:
    return ", ".join(part for part in (number, issued_on.isoformat() if issued_on else "") if part)


def _reference(dossier: Dossier) -> str:
    reference = dossier.installation.reference
    if reference is None:
        return "not measured"
    mean = reference.measured_mm
    value = "incomplete" if mean is None else show_length_mm(mean, 2)
    tension = f", {reference.tension}" if reference.tension else ""
    return f"{value}, {len(reference.readings)} places, {reference.on.isoformat()}{tension}"


def _inspection(dossier: Dossier, one: Inspection) -> InspectionLine:
    d_mm = dossier.rope.nominal_diameter_mm
    means = [
        found.measured_mm
        for found in one.findings
        if isinstance(found, DiameterReading) and found.measured_mm is not None
    ]
    others: dict[str, int] = {}
    for found in one.findings:
        if not isinstance(found, BrokenWires | DiameterReading):
            others[found.kind] = others.get(found.kind, 0) + 1
    if one.part_findings:
        others["on parts"] = len(one.part_findings)
    return InspectionLine(
        on=one.on,
        kind=one.kind,
        by=", ".join(person.role for person in one.by),
        worst_short=_worst(one, _SHORT_D * d_mm),
        worst_long=_worst(one, _LONG_D * d_mm),
        thinnest=show_length_mm(min(means), 2) if means else "",
        other=", ".join(f"{count} {kind}" for kind, count in others.items()),
        state="signed" if one.signed_by else ("finished" if one.finished else "not finished"),
    )


def wires_looked_at(one: Inspection) -> bool:
    """Whether eye or hand went over any of the rope; else no break is no count of none."""
    return bool(covered(one, "eye") or covered(one, "feel"))


def _worst(one: Inspection, window_mm: Fraction) -> str:
    """The most broken wires within a window: a number, or from what is sure to what may be.

    Within a cluster only taped offsets err; between clusters their places do.
    """
    clusters = [found for found in one.findings if isinstance(found, BrokenWires)]
    window_nm = round(window_mm * _NM_PER_MM)
    alone = [worst_window(_counted(found, 0.0), window_nm) for found in clusters]
    together = worst_window(
        [
            group
            for found in clusters
            for group in _counted(found, found.place.rel_err_m if len(clusters) > 1 else 0.0)
        ],
        window_nm,
    )
    if together is None:
        return "0" if wires_looked_at(one) else ""
    lower = max(together.lower, *(worst.lower for worst in alone if worst is not None))
    return str(lower) if lower == together.upper else f"{lower} to {together.upper}"


def _counted(found: BrokenWires, rel_err_m: float) -> list[CountedGroup]:
    here = nanometres(found.place.at_m)
    err_nm = nanometres(rel_err_m) + round(found.offset_err_mm * _NM_PER_MM)
    return [
        CountedGroup(
            from_nm=here + round(group.from_mm * _NM_PER_MM),
            to_nm=here + round(group.to_mm * _NM_PER_MM),
            count=group.count,
            err_nm=err_nm,
        )
        for group in found.groups
    ]


def _happened(dossier: Dossier) -> Iterator[LifeLine]:
    fitted = dossier.installation
    if fitted.fitted_on is not None:
        yield LifeLine(on=fitted.fitted_on, what="fitted", words=f"{fitted.purpose} rope")
    for rigging in dossier.rigging:
        yield LifeLine(
            on=rigging.valid_from,
            what="rigging",
            words=", ".join(
                part
                for part in (f"{rigging.falls} falls" if rigging.falls else "", rigging.remark)
                if part
            ),
        )
    for step in dossier.history.steps:
        if isinstance(step, Cut):
            yield LifeLine(
                on=step.on, what="cut",
                words=_joined(f"{step.length_m:.2f} m off end {step.end}", step.reason),
            )  # fmt: skip
        else:
            yield LifeLine(on=step.on, what="end for end", words=step.reason)
    for event in dossier.events:
        yield LifeLine(on=event.on, what=event.kind, words=_joined(event.event_id, event.remark))
        if event.release is not None:
            word = event.release
            yield LifeLine(
                on=word.on, what="released", words=f"{event.event_id}: {word.evidence}", by=word.by
            )
    for opened in dossier.opened:
        yield LifeLine(
            on=opened.on,
            what="opened",
            words=_joined(
                f"{opened.outer_broken} broken outside, {opened.inner_broken} inside over "
                f"{show_length_mm(opened.over_mm)} at {show_place_m(opened.section.from_m)}",
                opened.sample,
                opened.remark,
            ),
        )
    for mark in dossier.marks:
        yield LifeLine(
            on=mark.on, what="mark",
            words=f"{mark.name} at {show_place_m(mark.place.at_m)}, {mark.made_of}".rstrip(", "),
        )  # fmt: skip


def _joined(*parts: str) -> str:
    return "; ".join(part for part in parts if part)


def _open(dossier: Dossier) -> Iterator[str]:
    for event in dossier.events:
        if event.release is None:
            yield f"on hold since {event.on.isoformat()}: {_joined(event.kind, event.remark)}"
    for one in dossier.inspections:
        if not one.finished:
            yield f"inspection {one.inspection_id} of {one.on.isoformat()} is not finished"
    newest = max(dossier.inspections, key=lambda one: one.on, default=None)
    if newest is not None and newest.finished and not newest.signed_by:
        yield f"inspection {newest.inspection_id} of {newest.on.isoformat()} is not signed"
