"""Where damage is to be expected: places from the geometry, named by published lists."""

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Final

from ropewright.errors import InputError
from ropewright.geometry import (
    Contact,
    CranePosition,
    CranePositions,
    Hoist,
    PathPlace,
    PathZone,
    Section,
    path_zones,
    trace,
    union,
)
from ropewright.inspection import ITEMS, Asked, Dossier, RiggedHoist
from ropewright.inspection.paths import ROOT_SHEAVE
from ropewright.plan.assumed import END_M
from ropewright.plan.model import Listed, Reach, TroubleSpot
from ropewright.plan.reach import reaches_of
from ropewright.plan.resting import has_hook
from ropewright.plan.travel import in_rope
from ropewright.rope import PathMap
from ropewright.rules import RuleSet, clauses_bearing
from ropewright.rules.model import ItemsCheck

#: Items of the lists that are places on the rope; the others are parts to look at.
ON_THE_ROPE: Final = (
    "end A fitting", "end B fitting", "drum anchorage", "flange points", "crossovers",
    "pick-up points", "equaliser", "reverse bends", "rope over sheaves", "load sensor sheave",
    "rubbing points", "hot places", "hidden parts",
)  # fmt: skip

_BY_A_PERSON: Final[Mapping[str, str]] = {
    "load sensor sheave": "the rope on the load sensor's sheave; state its place in the path",
    "rubbing points": "where the rope rubs on structure: look for polished steel and flat wires",
    "hot places": "near heat: furnaces, exhausts, welding",
    "hidden parts": "what ordinary inspections do not show: under guards, in clamps, dead wraps",
    "end B fitting": "the rope's end at the drum",
    "drum anchorage": "clamp, bolts and the rope in it",
    "pick-up points": "where the rope rests at regular stops: ask for the place by hook height",
    "rope over sheaves": "all rope that runs over sheaves",
}
_NOT_KNOWN: Final = "where it lies follows from path and drum: not known well enough yet"
#: A section shorter than this is looked at from one position of the crane [m]; own choice.
SHORT_M: Final = 5.0
NOT_LISTED: Final = Listed(
    rule="no chosen rule names it", clause="common practice, no source", provenance="own"
)


def listed_in(
    rule_sets: Sequence[RuleSet], dossier: Dossier, today: date
) -> dict[str, tuple[Listed, ...]]:
    """For every item, the lists of the chosen rules that name it and bear on this rope.

    Parameters
    ----------
    rule_sets
        The chosen rule sets.
    dossier
        The rope: a list may be written for one kind of rope or use alone.
    today
        The day of the inspection.
    """
    found: dict[str, list[Listed]] = {item: [] for item in ITEMS}
    for rule_set in rule_sets:
        for clause in clauses_bearing(dossier, rule_set, today):
            if not isinstance(clause.check, ItemsCheck):
                continue
            for item in clause.check.items:
                found.setdefault(item, []).append(
                    Listed(
                        rule=rule_set.short,
                        clause=clause.clause,
                        provenance=clause.provenance,
                    )
                )
    return {item: tuple(dict.fromkeys(lists)) for item, lists in found.items()}


def trouble_spots(
    rigged: RiggedHoist,
    path: PathMap,
    lists: Mapping[str, tuple[Listed, ...]],
    *,
    with_reach: bool = True,
) -> tuple[tuple[TroubleSpot, ...], tuple[TroubleSpot, ...]]:
    """Places on the rope where damage is to be expected, and parts to look at.

    Parameters
    ----------
    rigged
        The hoist of the day.
    path
        How rope and path belong together.
    lists
        As `listed_in` gives them.
    with_reach
        Whether to work out how a short one comes in front of a person, which takes most of the
        time.
    """
    spots: list[TroubleSpot] = []
    for item in ON_THE_ROPE:
        named = lists.get(item, ())
        made = list(_MAKERS[item](rigged)) if item in _MAKERS else []
        if not made and named and not _is_known_absent(item, rigged):
            made = [TroubleSpot(item=item, words=_BY_A_PERSON.get(item, _NOT_KNOWN))]
        for one in made:
            reach = _reach(rigged, one.sections) if with_reach else None
            spots.append(
                replace(
                    one, sections=in_rope(path, one.sections), lists=named or (NOT_LISTED,),
                    reach=reach,
                )
            )  # fmt: skip
    parts = tuple(
        TroubleSpot(item=item, words=item, lists=lists[item])
        for item in ITEMS
        if item not in ON_THE_ROPE and lists.get(item)
    )
    return tuple(spots), parts


def _is_known_absent(item: str, rigged: RiggedHoist) -> bool:
    """Tell whether the geometry is known well enough to say that there is no such place."""
    if item in ("flange points", "crossovers"):
        return not rigged.asked_for_drum
    if item in ("equaliser", "reverse bends", "end A fitting", "rope over sheaves"):
        return not rigged.by_payout
    return False


def _end_a(rigged: RiggedHoist) -> Iterator[TroubleSpot]:
    if rigged.hoist.reeving.end_a == "drum":
        words = "the rope's end at drum A, its clamp and the dead wraps there"
    else:
        words = f"the fitting and the last {END_M:g} m before it"
    yield _spot("end A fitting", words, [Section(0.0, END_M)])


def _flange_points(rigged: RiggedHoist) -> Iterator[TroubleSpot]:
    for zone in _zones(rigged):
        if zone.kind == "layer change":
            side = f", drum {zone.side}" if rigged.hoist.reeving.end_a == "drum" else ""
            words = f"the rope climbs from layer {zone.layer} to {zone.layer + 1}{side}"
            yield _spot("flange points", words, [zone.section])


def _crossovers(rigged: RiggedHoist) -> Iterator[TroubleSpot]:
    zones = [zone for zone in _zones(rigged) if zone.kind != "layer change"]
    for layer in sorted({zone.layer for zone in zones}):
        mine = [zone for zone in zones if zone.layer == layer]
        low = min(zone.section.from_m for zone in mine)
        high = max(zone.section.to_m for zone in mine)
        if mine[0].kind == "crossover":
            each = sum(zone.section.length_m for zone in mine) / len(mine)
            words = f"layer {layer}: {len(mine)} crossovers of {each:.2f} m, evenly spread"
        else:
            words = f"layer {layer}: each wrap crosses the layer below, the drum does not fix where"
        yield _spot("crossovers", words, [Section(low, high)])


def _zones(rigged: RiggedHoist) -> tuple[PathZone, ...]:
    try:
        return path_zones(rigged.hoist)
    except InputError:  # rope length, drum or limits are not known
        return ()


def _pick_up(rigged: RiggedHoist) -> Iterator[TroubleSpot]:
    """The rope that rests on sheaves and drum with the hook at its lowest: lifts begin there."""
    hoist = rigged.hoist
    position = _lowest(hoist)
    if position is None or not has_hook(rigged):
        return
    found = trace(hoist, CranePositions.one(position))
    still = [
        Section(float(found.start_m[number][0]), float(found.end_m[number][0]))
        for number, contact in enumerate(hoist.reeving.contacts)
        if contact.on == "crane" and contact.turns
    ]
    out = float(found.out_m[0])
    if out == out:
        still.append(Section(max(out - 0.5, 0.0), out + 0.5))
    words = (
        "lifts from the lowest hook height: rope on the sheaves fixed to the crane and where it "
        "leaves the drum; other regular pick-up heights: ask for the place by hook height"
    )
    yield _spot("pick-up points", words, still)


def _lowest(hoist: Hoist) -> CranePosition | None:
    axes = {}
    for axis in hoist.reeving.axes:
        bounds = hoist.travel.range_of(axis)
        if bounds is None:
            return None
        axes[axis] = bounds[0] if axis == "hook_m" else sum(bounds) / 2
    return CranePosition(**axes) if axes else None


def _equaliser(rigged: RiggedHoist) -> Iterator[TroubleSpot]:
    for contact in rigged.hoist.reeving.contacts:
        if not contact.turns:
            words = f"the rope on the {contact.name}, which hardly turns, and 1 m each side"
            where = _swept(rigged.hoist, contact)
            yield _spot("equaliser", words, [where.widened(1.0)] if where else [])


def _swept(hoist: Hoist, contact: Contact) -> Section | None:
    """All rope that a contact ever holds."""
    try:
        grid = hoist.travel.grid(hoist.reeving.axes, 3)
    except InputError:
        return None
    found = trace(hoist, grid)
    number = hoist.reeving.index(contact.name)
    low, high = float(found.start_m[number].min()), float(found.end_m[number].max())
    return Section(max(low, 0.0), high) if high > low else None


def _reverse_bends(rigged: RiggedHoist) -> Iterator[TroubleSpot]:
    hoist = rigged.hoist
    contacts = hoist.reeving.contacts
    asked = {one.key: one for one in rigged.asked_for_bends}
    for one, other in itertools.pairwise(contacts):
        if other.name == ROOT_SHEAVE and "reeving.root_bend" in asked:
            yield _not_stated(asked["reeving.root_bend"])
        elif one.sense != other.sense:
            swept = [_swept(hoist, one), _swept(hoist, other)]
            sections = [part for part in swept if part is not None]
            words = f"bent one way at the {one.name}, the other way at the {other.name}"
            yield _spot("reverse bends", words, _shared(sections))
    if contacts and "reeving.drum_bend" in asked:
        yield _not_stated(asked["reeving.drum_bend"])
    elif contacts and contacts[-1].sense != hoist.reeving.drum_sense:
        held, wound = _swept(hoist, contacts[-1]), _wound(hoist)
        words = f"bent one way at the {contacts[-1].name}, the other way on the drum"
        both = _shared([part for part in (held, wound) if part is not None])
        yield _spot("reverse bends", words, both)


def _not_stated(asked: Asked) -> TroubleSpot:
    words = f"not stated {asked.words} ({asked.key}): look there"
    return TroubleSpot(item="reverse bends", words=words)


def _wound(hoist: Hoist) -> Section | None:
    """All rope that is ever wound on at end B's drum."""
    if hoist.rope_m is None:
        return None
    try:
        grid = hoist.travel.grid(hoist.reeving.axes, 3)
    except InputError:
        return None
    first = float(trace(hoist, grid).out_m.min())
    return Section(max(first, 0.0), hoist.rope_length_m()) if first == first else None


def _shared(sections: Sequence[Section]) -> list[Section]:
    if len(sections) < 2:
        return list(sections)
    low = max(one.from_m for one in sections)
    high = min(one.to_m for one in sections)
    return [Section(low, high)] if high > low else []


def _over_sheaves(rigged: RiggedHoist) -> Iterator[TroubleSpot]:
    swept = [_swept(rigged.hoist, contact) for contact in rigged.hoist.reeving.contacts]
    sections = union(part for part in swept if part is not None)
    if sections:
        yield _spot("rope over sheaves", "all rope that runs over a sheave", sections)


def _spot(item: str, words: str, sections: Sequence[Section]) -> TroubleSpot:
    """A spot whose sections still lie on today's path."""
    return TroubleSpot(item=item, words=words, sections=tuple(sections))


def _reach(rigged: RiggedHoist, sections: Sequence[Section]) -> Reach | None:
    """How a short spot on today's path comes in front of a person."""
    if not sections or sections[0].length_m >= SHORT_M:
        return None
    middle = (sections[0].from_m + sections[0].to_m) / 2
    ways, _ = reaches_of(rigged, PathPlace(at_m=max(middle, 0.0)))
    return ways[0] if ways else None


_MAKERS: Final = {
    "end A fitting": _end_a,
    "flange points": _flange_points,
    "crossovers": _crossovers,
    "pick-up points": _pick_up,
    "equaliser": _equaliser,
    "reverse bends": _reverse_bends,
    "rope over sheaves": _over_sheaves,
}
