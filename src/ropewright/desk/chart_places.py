"""Everything that has a place on the rope chart, and how each comes back in front of a person."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal, TypeAlias
from urllib.parse import quote

from ropewright.desk.judging import RuleShelf, choose_rule_sets
from ropewright.desk.places import drum_place, flange_names, zone_words
from ropewright.errors import InputError, InputErrors
from ropewright.geometry import PlaceOnDrum, RopePlace, Section
from ropewright.inspection import Dossier, Inspection, Mark, RiggedHoist, RopeFinding, hoist_on
from ropewright.inspection.evidence import Evidence, evidence_on
from ropewright.plan import HandsOff, LookAgain, Reach, TroubleSpot, look_again, on_path
from ropewright.plan.passes import known_hands_off
from ropewright.plan.trouble import listed_in, trouble_spots
from ropewright.rope import PathMap
from ropewright.rules import Assessment, Ruling

ChartKind: TypeAlias = Literal["ruling", "finding", "mark", "trouble"]


def chart_key(kind: ChartKind, name: str) -> str:
    """The name under which a thing on the chart is chosen: without blanks, whatever it is called.

    Examples
    --------
    >>> chart_key("mark", "tape 7")
    'mark/tape%207'
    """
    name = quote(name, safe="", errors="backslashreplace")
    return f"{kind}/{name}"


def is_on_chart(ruling: Ruling) -> bool:
    """Whether a ruling has a place among the worst ones; what was not seen has its own lanes."""
    if ruling.section is None:
        return False
    if ruling.status == "reached":
        return True
    if ruling.status == "not assessable":
        return bool(ruling.finding_ids)
    return ruling.status == "below" and bool(ruling.share) and ruling.window is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartPlace:
    """One thing on the chart: what it is, where it lies, how it comes back.

    One of ``finding`` (with its ``inspection``), ``mark``, ``ruling`` and ``spot`` is there.
    ``rulings`` rest on the finding.  ``drum`` is where it lies once wound on, with the names of
    the ``flanges`` and the ``zones`` in words.  ``not_reached`` says why other places do not see
    it; ``hand_off`` what stands out there.
    """

    key: str
    kind: ChartKind
    sections: tuple[Section, ...]
    err_m: float = 0.0
    finding: RopeFinding | None = None
    inspection: Inspection | None = None
    mark: Mark | None = None
    ruling: Ruling | None = None
    spot: TroubleSpot | None = None
    rulings: tuple[Ruling, ...] = ()
    drum: PlaceOnDrum | None = None
    flanges: tuple[str, str] = ("", "")
    zones: tuple[str, ...] = ()
    reaches: tuple[Reach, ...] = ()
    not_reached: tuple[str, ...] = ()
    hand_off: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartPlaces:
    """All of them, findings and marks from end A on; ``missing`` says what keeps the path open."""

    places: tuple[ChartPlace, ...]
    missing: str


def trouble_on(
    dossier: Dossier, shelf: RuleShelf, today: date, *, added: Sequence[str] = ()
) -> tuple[TroubleSpot, ...] | str:
    """Where damage is to be expected, without ways to get there; or in words what is missing.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    shelf
        Where its rule sets come from, whose lists name such places.
    today
        The day.
    added
        Names of added rule sets.
    """
    return _trouble(dossier, shelf, today, with_reach=False, added=added)


def _trouble(
    dossier: Dossier,
    shelf: RuleShelf,
    today: date,
    *,
    with_reach: bool,
    added: Sequence[str] = (),
) -> tuple[TroubleSpot, ...] | str:
    try:
        rigged = hoist_on(dossier, today)
        lists = listed_in(choose_rule_sets(dossier, shelf, added=added), dossier, today)
        path = dossier.history.at(today)
        spots, _ = trouble_spots(rigged, path, lists, with_reach=with_reach)
    except InputError as error:
        return missing_words(error)
    return spots


def missing_words(error: InputError) -> str:
    """What must be given before places can be worked out."""
    if isinstance(error, InputErrors):
        return "; ".join(missing_words(one) for one in error.errors)
    return f"not known where: give {error.expected}" if error.expected else str(error)


def chart_places(
    dossier: Dossier, assessment: Assessment, shelf: RuleShelf, today: date
) -> ChartPlaces:
    """Everything on the chart that can be chosen, with the way back to it.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    assessment
        What the rules say of it.
    shelf
        Where its rule sets come from.
    today
        The day.
    """
    evidence = evidence_on(dossier, today)
    path = dossier.history.at(today)
    rigged, missing = None, ""
    try:
        rigged = hoist_on(dossier, today)
        again = {one.name: one for one in look_again(dossier, evidence, rigged, path)}
    except InputError as error:
        again, missing = {}, missing_words(error)
    off = known_hands_off(evidence)
    known = _Known(dossier, assessment, evidence, rigged, path, again, off)
    spots = _trouble(dossier, shelf, today, with_reach=True)
    return ChartPlaces(
        places=(
            *known.findings(),
            *known.marks(today),
            *known.rulings(),
            *(() if isinstance(spots, str) else _spots(spots, off)),
        ),
        missing=missing or (spots if isinstance(spots, str) else ""),
    )


@dataclass(frozen=True, slots=True)
class _Known:
    """What is known of the rope on the day."""

    dossier: Dossier
    assessment: Assessment
    evidence: Evidence
    rigged: RiggedHoist | None
    path: PathMap
    again: dict[str, LookAgain]
    off: tuple[HandsOff, ...]

    def findings(self) -> Iterator[ChartPlace]:
        """Every finding that counts."""
        for seen in sorted(self.evidence.seen, key=lambda one: one.finding.section):
            finding = seen.finding
            drum, flanges, zones = self._on_drum(finding.place)
            back = self.again.get(finding.finding_id)
            yield ChartPlace(
                key=chart_key("finding", finding.finding_id),
                kind="finding",
                sections=(finding.section,),
                err_m=finding.place.abs_err_m + finding.place.rel_err_m,
                finding=finding,
                inspection=seen.inspection,
                rulings=tuple(
                    one
                    for one in self.assessment.rulings
                    if finding.finding_id in one.finding_ids
                    and (one.status != "below" or one.share)
                    and one.status in ("reached", "not assessable", "below")
                ),
                drum=drum,
                flanges=flanges,
                zones=zones,
                reaches=back.reaches if back else (),
                not_reached=back.not_reached if back else (),
                hand_off=back.hand_off if back else "",
            )

    def marks(self, today: date) -> Iterator[ChartPlace]:
        """Every mark that was set by then."""
        for mark in sorted(self.dossier.marks, key=lambda one: one.place.at_m):
            if mark.on is not None and mark.on > today:
                continue
            drum, flanges, zones = self._on_drum(mark.place)
            back = self.again.get(f"mark {mark.name}")
            yield ChartPlace(
                key=chart_key("mark", mark.name),
                kind="mark",
                sections=(Section(mark.place.at_m, mark.place.at_m),),
                err_m=mark.place.abs_err_m + mark.place.rel_err_m,
                mark=mark,
                drum=drum,
                flanges=flanges,
                zones=zones,
                reaches=back.reaches if back else (),
                not_reached=back.not_reached if back else (),
                hand_off=back.hand_off if back else "",
            )

    def rulings(self) -> Iterator[ChartPlace]:
        """Every ruling that has a place; how to get there stands at the findings it rests on."""
        for one in self.assessment.rulings:
            if one.section is not None and is_on_chart(one):
                yield ChartPlace(
                    key=chart_key("ruling", one.ruling_id),
                    kind="ruling",
                    sections=(one.section,),
                    err_m=one.section_err_m,
                    ruling=one,
                    hand_off=_hand_off([one.section.widened(one.section_err_m)], self.off),
                )

    def _on_drum(
        self, place: RopePlace
    ) -> tuple[PlaceOnDrum | None, tuple[str, str], tuple[str, ...]]:
        here = on_path(place, self.path)
        if self.rigged is None or here is None:
            return None, ("", ""), ()
        drum = drum_place(self.rigged, here)
        zones = () if drum is None else zone_words(self.rigged, drum)
        return drum, flange_names(self.rigged), zones


def _hand_off(sections: Sequence[Section], off: Sequence[HandsOff]) -> str:
    """What stands out, or may, on any of the sections; empty if nothing is known to."""
    return "; ".join(
        one.why for one in off if any(one.section.overlaps(section) for section in sections)
    )


def _spots(spots: Sequence[TroubleSpot], off: Sequence[HandsOff]) -> Iterator[ChartPlace]:
    for number, one in enumerate(spots):
        if one.sections:
            yield ChartPlace(
                key=chart_key("trouble", str(number)),
                kind="trouble",
                sections=one.sections,
                spot=one,
                reaches=() if one.reach is None else (one.reach,),
                hand_off=_hand_off(one.sections, off),
            )
