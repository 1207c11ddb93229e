"""From a dossier to what the model needs: zones with their looks, and the situation."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import groupby
from typing import Final

from ropewright.errors import InputError
from ropewright.forecast.cases import Situation
from ropewright.forecast.chains import Chain, chains_of
from ropewright.forecast.clock import Clock
from ropewright.forecast.zone import UNIT_D, Look, Zone
from ropewright.geometry import Exposure, Section
from ropewright.inspection import (
    Compared,
    Damage,
    Dossier,
    Inspection,
    covered,
    exposures_on,
)
from ropewright.inspection.findings import CLOSENESS, Method

#: Clusters no farther apart than this, in rope diameters, are one zone [-]; own.
SAME_ZONE_D: Final = 30.0

_LOOKING: Final = tuple(sorted(CLOSENESS, key=CLOSENESS.__getitem__, reverse=True))
_RUSTY: Final = frozenset({"rough", "pitted"})
_RUSTY_FORMS: Final = frozenset({"internal", "fretting"})


@dataclass(frozen=True, slots=True, kw_only=True)
class RopeRecord:
    """Zones, clock and situation of one rope on a day, and what had to be assumed.

    ``apart`` are zones of breaks that do not come from bending on the crown (crossovers, ends,
    valleys): they are shown, but the model of growth does not hold for them.
    """

    zones: tuple[Zone, ...]
    clock: Clock
    situation: Situation
    notes: tuple[str, ...]
    apart: tuple[Zone, ...] = ()


def record_of_rope(
    dossier: Dossier,
    today: date,
    *,
    same: Mapping[str, str] | None = None,
    clock: Clock | None = None,
) -> RopeRecord:
    """What a dossier tells the model on a day.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    today
        Later inspections do not exist yet.
    same
        Findings that a person confirmed, or the matching is sure of, to be an earlier one:
        later id to earlier id.  What findings themselves name as the same is known anyway.
    clock
        Damage from a duty log; days since fitting if not given.

    Raises
    ------
    InputError
        If it is not known when the rope was fitted and no clock is given.
    """
    if clock is None:
        if dossier.installation.fitted_on is None:
            raise InputError(
                field="installation.fitted_on",
                expected="the day the rope was fitted",
                given=None,
                hint="without it the rope has no age",
            )
        clock = Clock(fitted_on=dossier.installation.fitted_on)
    past = sorted(
        (one for one in dossier.inspections if clock.fitted_on <= one.on <= today),
        key=lambda one: one.on,
    )
    said = [one for one in dossier.comparisons if one.on <= today]
    chains = chains_of(past, same or {}, Compared(said))
    bending, others = _sorted_out(dossier, today, chains)
    zones = (
        *_broken_zones(dossier, today, clock, past, bending),
        _rest(dossier, today, clock, past),
    )
    notes = []
    if any(not zone.marked for zone in zones):
        notes.append("some findings are not named as the same: their counts are taken as totals")
    situation = _situation(dossier, today, past, others, zones)
    return RopeRecord(
        zones=zones,
        clock=clock,
        situation=situation,
        notes=tuple(notes),
        apart=_broken_zones(dossier, today, clock, past, others),
    )


def known_then(
    dossier: Dossier,
    record: RopeRecord,
    zone: Zone,
    *,
    same: Mapping[str, str] | None = None,
) -> tuple[Zone, ...]:
    """A zone with broken wires as it was known after each look at it, oldest first.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    record
        What it tells today.
    zone
        One of its zones.
    same
        Later finding id to earlier finding id.
    """
    course: list[Zone] = []
    for on in sorted({look.on for look in zone.looks if look.on is not None}):
        then = record_of_rope(dossier, on, same=same, clock=record.clock)
        parts = [one for one in (*then.zones, *then.apart) if one.overlaps(zone)]
        looks = tuple(look for look in zone.looks if look.on is not None and look.on <= on)
        known = sum(part.known for part in parts)
        if len(parts) == 1 and known == sum(look.new for look in looks):
            course.append(replace(parts[0], looks=looks, gone=zone.gone, exposure=zone.exposure))
        else:
            # nothing known yet, or told in another way then: its breaks are taken together
            course.append(replace(zone, looks=looks, places_d=None, length_d=UNIT_D))
    return tuple(course)


def _exposure(dossier: Dossier, today: date, section: Section) -> Exposure:
    return exposures_on(dossier, today).over(section)


def _sorted_out(
    dossier: Dossier, today: date, chains: Iterable[Chain]
) -> tuple[list[Chain], list[Chain]]:
    """Chains of breaks by bending on the crown, and all the others."""
    bending: list[Chain] = []
    others: list[Chain] = []
    for chain in chains:
        newest = chain.newest
        near_end = _exposure(dossier, today, newest.section).near_end is True
        odd = newest.crossover_damage or any(
            group.site in ("end", "valley") for group in newest.groups
        )
        (others if odd or near_end else bending).append(chain)
    return bending, others


def _situation(
    dossier: Dossier,
    today: date,
    past: Sequence[Inspection],
    others: Sequence[Chain],
    zones: Sequence[Zone],
) -> Situation:
    rope, construction = dossier.rope, dossier.rope.construction
    left = Section(*dossier.history.at(today).in_service)
    here = [chain for chain in others if chain.newest.section.overlaps(left)]
    sites = {group.site for chain in here for group in chain.newest.groups}
    where = _exposure(dossier, today, dossier.installation.working or left)
    core = construction.core
    plastic = True if core == "plastic-coated steel" else rope.plastic
    if plastic is None and core == "fibre":
        plastic = False
    looks = [look.method for zone in zones for look in zone.looks]
    return Situation(
        rotation_resistant=construction.rotation_resistant,
        compacted=construction.compacted,
        plastic_core=plastic,
        lang_lay=None if rope.lay_type is None else rope.lay_type == "lang",
        plastic_sheaves=None if where.sheaves == "unknown" else where.sheaves == "plastic",
        steel_core=None if core is None else core != "fibre",
        multi_layer=_multi_layer(dossier, today, dossier.installation.working or left),
        crossover_damage=any(chain.newest.crossover_damage for chain in here),
        end_breaks="end" in sites
        or any(_exposure(dossier, today, chain.newest.section).near_end for chain in here),
        valley_breaks="valley" in sites,
        corroded=_is_corroded(past, left),
        hidden=bool(past and past[-1].hidden),
        marked=all(zone.marked for zone in zones),
        eye_only=bool(looks) and all(method == "eye" for method in looks),
    )


def _multi_layer(dossier: Dossier, today: date, section: Section) -> bool | None:
    """Whether any of a section spools in several layers: by section, else as the drum is stated."""
    found = exposures_on(dossier, today)
    drums = {one.exposure.drum for one in found.stated if one.section.overlaps(section)}
    if "multi" in drums:
        return True
    rigging = dossier.rigging_at(today)
    if rigging is not None and rigging.drum_layers is not None:
        return rigging.drum_layers == "multi"
    return False if drums and "unknown" not in drums else None


def _is_corroded(past: Sequence[Inspection], left: Section) -> bool:
    return any(
        isinstance(finding, Damage)
        and finding.damage == "corrosion"
        and finding.section.overlaps(left)
        and (
            finding.grade in _RUSTY or finding.form in _RUSTY_FORMS or bool(finding.rating_percent)
        )
        for one in past
        for finding in one.findings
    )


def _broken_zones(
    dossier: Dossier,
    today: date,
    clock: Clock,
    past: Sequence[Inspection],
    chains: Sequence[Chain],
) -> tuple[Zone, ...]:
    """Zones in which wires are known to be broken."""
    diameter_m = float(dossier.rope.nominal_diameter_mm) / 1000
    left = Section(*dossier.history.at(today).in_service)
    return tuple(
        _zone(group, past, clock, diameter_m, left)
        for group in _neighbours(chains, SAME_ZONE_D * diameter_m)
    )


def _rest(dossier: Dossier, today: date, clock: Clock, past: Sequence[Inspection]) -> Zone:
    """Everything else: the working rope as a whole, as it was gone over."""
    left = Section(*dossier.history.at(today).in_service)
    working = dossier.installation.working or left
    if working.overlaps(left):
        working = Section(max(working.from_m, left.from_m), min(working.to_m, left.to_m))
    looks = [
        Look(clock=max(clock.at(one.on), 0.0), method=method, on=one.on)
        for one in past
        if (method := _best_over(one, working)) is not None
    ]
    return Zone(name="the rest of the rope", looks=tuple(looks))


def _neighbours(chains: Sequence[Chain], apart_m: float) -> list[list[Chain]]:
    """Chains in groups with gaps no wider than ``apart_m`` [m]."""
    groups: list[list[Chain]] = []
    reach = 0.0
    for chain in sorted(chains, key=lambda one: one.newest.section):
        section = chain.newest.section
        if groups and section.from_m - reach <= apart_m:
            groups[-1].append(chain)
        else:
            groups.append([chain])
            reach = section.to_m
        reach = max(reach, section.to_m)
    return groups


def _zone(
    group: Sequence[Chain],
    past: Sequence[Inspection],
    clock: Clock,
    diameter_m: float,
    left: Section,
) -> Zone:
    places: list[float] = []
    for chain in group:
        places += chain.places_m()
    whole = Section(min(places), max(places))
    looks: list[Look] = []
    for on, same_day in groupby(past, key=lambda one: one.on):
        of_day = list(same_day)
        ids = {one.inspection_id for one in of_day}
        new = sum(chain.new_in(ids) for chain in group)
        found_by = [method for chain in group for method in chain.methods_in(ids)]
        by_pass = [m for one in of_day if (m := _best_over(one, whole)) is not None]
        methods = found_by or by_pass
        if methods:
            weakest = max(methods, key=_LOOKING.index)
            looks.append(Look(clock=max(clock.at(on), 0.5), method=weakest, new=new, on=on))
    start = whole.from_m
    gone = not whole.overlaps(left)
    kept = [place for place in places if gone or left.from_m <= place <= left.to_m]
    zone = Zone(
        name=f"the rope at {whole.from_m:.2f} m"
        if whole.length_m < 0.01
        else f"the rope from {whole.from_m:.2f} m to {whole.to_m:.2f} m",
        looks=tuple(looks),
        length_d=max(UNIT_D, whole.length_m / diameter_m),
        places_d=tuple(sorted((place - start) / diameter_m for place in places)),
        exposure="bending",
        marked=all(chain.named for chain in group),
        gone=gone,
        section=whole,
    )
    if len(kept) < len(places) and not gone:
        return replace(zone, places_d=None, length_d=UNIT_D)
    return zone


def _best_over(inspection: Inspection, section: Section) -> Method | None:
    """The closest method that went over all of a section, ``None`` if none did."""
    for method in _LOOKING:
        if any(piece.contains(section) for piece in covered(inspection, method)):
            return method
    return None
