"""Where on the rope is that, and how does it come back in front of a person."""

from collections.abc import Iterable
from datetime import date
from typing import Final

from ropewright.desk.place_questions import (
    AtPoint,
    BroughtBack,
    FromMark,
    Near,
    OnDrum,
    Question,
    Whereabouts,
)
from ropewright.errors import InputError, UnknownNameError
from ropewright.geometry import (
    AT_DRUM,
    DrumZone,
    InspectionPoint,
    PathPlace,
    PlaceOnDrum,
    RopePlace,
    Section,
    SeenAtPoint,
    SeenFromEnd,
    SeenFromMark,
    SeenOnDrum,
    Sighting,
    drum_zones,
    locate,
    on_drum,
    what_would_help,
)
from ropewright.geometry.sighting import CountedFrom
from ropewright.inspection import Dossier, Mark, RiggedHoist, hoist_on
from ropewright.inspection.evidence import evidence_on
from ropewright.plan import known_hands_off, on_path, places_of, position_words, reaches_of

NEAR_M: Final = 3.0  # marks and findings this near, beyond the ± of both, are named; own choice
ROPE_ORDER: Final = "rope order"


def where_is(dossier: Dossier, question: Question, on: date) -> Whereabouts:
    """The place on the rope that somebody means.

    Raises
    ------
    InputError
        If a number is missing, wrong or impossible; names which.
    """
    rigged = hoist_on(dossier, on)
    sighting, words = _sighting(dossier, rigged, question, on)
    return _whereabouts(dossier, rigged, sighting, words, on)


def bring_back(
    dossier: Dossier, what: str | float, on: date, *, point: str | None = None
) -> BroughtBack:
    """Crane positions that bring a mark, a finding or a place back in front of a person.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    what
        Name of a mark, id of a finding, or a rope position [m].
    on
        The day.
    point
        Where the person stands; all places if not given.
    """
    rigged = hoist_on(dossier, on)
    rope, words = _meant(dossier, what, on)
    path = dossier.history.at(on)
    place = on_path(rope, path)
    if place is None:
        low, high = path.in_service
        raise InputError(
            field="what",
            expected=f"a place on the rope that is left, {low:.1f} to {high:.1f} m",
            given=f"{rope.at_m:.1f} m, cut off",
        )
    places = places_of(rigged)
    if point is not None:
        name = _pick(
            point, [one.name for one in places], what="a place where a person can be", field="point"
        )
        places = tuple(one for one in places if one.name == name)
    reaches, failed = reaches_of(rigged, place, at=places)
    return BroughtBack(
        asked_as=words,
        on=on,
        by_payout=rigged.by_payout,
        path=place,
        rope_m=rope.at_m,
        reaches=reaches,
        not_reached=failed,
        asked=rigged.asked,
        cautions=_cautions(dossier, rope, on),
    )


def _cautions(dossier: Dossier, rope: RopePlace, on: date) -> tuple[str, ...]:
    err = rope.abs_err_m + rope.rel_err_m
    here = Section(rope.at_m, rope.at_m).widened(err)
    return tuple(
        f"HAND OFF while the rope runs: {one.why}, {one.section.from_m:.1f} to "
        f"{one.section.to_m:.1f} m. Stop and isolate before a hand comes near."
        for one in known_hands_off(evidence_on(dossier, on))
        if one.section.overlaps(here)
    )


# --- From words to a sighting -----------------------------------------------------------------


def _pick(given: str, names: Iterable[str], *, what: str, field: str) -> str:
    """The one name that is meant: spelt in any case, or a part of it that only one has."""
    known = list(names)
    asked = given.strip().casefold()
    same = [name for name in known if name.casefold() == asked]
    part = [name for name in known if asked and asked in name.casefold()]
    if same or len(part) == 1:
        return (same or part)[0]
    if part:
        raise InputError(field=field, expected=f"one of {', '.join(part)}", given=given)
    raise UnknownNameError(what=what, given=given, known=known, field=field)


def _sighting(
    dossier: Dossier, rigged: RiggedHoist, question: Question, on: date
) -> tuple[Sighting, str]:
    if isinstance(question, AtPoint):
        point = _point(rigged, question.point)
        turns = question.position.drum_turns
        read = position_words(question.position, 2) if turns is None else f"{turns:g} turns"
        where = point.name if point.name.startswith("at ") else f"at {point.name}"
        return SeenAtPoint(point=point, position=question.position), f"{read}, seen {where}"
    if isinstance(question, OnDrum):
        return _on_drum(rigged, question)
    if isinstance(question, FromMark):
        mark = _mark(dossier, question.mark)
        place = on_path(mark.place, dossier.history.at(on))
        if place is None:
            raise InputError(field="mark", expected="a mark on rope that is left", given=mark.name)
        side = "beyond" if question.offset_m >= 0 else "before"
        words = f"{abs(question.offset_m):g} m {side} mark {mark.name}"
        return SeenFromMark(mark=place, offset_m=question.offset_m), words
    words = f"{question.tape_m:g} m by tape from end {question.end}"
    return SeenFromEnd(end=question.end, tape_m=question.tape_m), words


def _point(rigged: RiggedHoist, name: str) -> InspectionPoint:
    points = {one.name: one.point for one in places_of(rigged) if one.point is not None}
    stated = [one for one in points if name.strip().casefold() in one.casefold()]
    if len(stated) == 1 and name.strip():  # a place where people stand comes before a sheave
        return points[stated[0]]
    points.setdefault("drum", AT_DRUM)
    for contact in rigged.hoist.reeving.contacts:
        here = InspectionPoint(name=contact.name, at=contact.name)
        points.setdefault(contact.name, here)
    return points[_pick(name, points, what="a place to look from", field="point")]


def flange_names(rigged: RiggedHoist) -> tuple[str, str]:
    """What people call the flange at the clamp, and the far one."""
    facts = rigged.rigging.drum
    clamp, far = ("", "") if facts is None else (facts.clamp_flange, facts.far_flange)
    return clamp or "clamp flange", far or "far flange"


def _on_drum(rigged: RiggedHoist, question: OnDrum) -> tuple[Sighting, str]:
    rigged.drum()
    clamp, far = flange_names(rigged)
    called: dict[str, CountedFrom] = {
        clamp: "clamp",
        far: "far",
        "clamp flange": "clamp",
        "far flange": "far",
        ROPE_ORDER: "rope order",
    }
    if not question.counted_from:
        raise InputError(
            field="from",
            expected=f"where the wraps were counted from: {clamp}, {far}, or {ROPE_ORDER}",
            given=None,
        )
    flange = _pick(
        question.counted_from, called, what="where the wraps are counted from", field="from"
    )
    counted = called[flange]
    sighting = SeenOnDrum(
        layer=question.layer,
        wrap=question.wrap,
        part=question.part,
        counted_from=counted,
        side=question.side,
    )
    return sighting, f"layer {question.layer}, wrap {question.wrap} counted from {flange}"


def _mark(dossier: Dossier, name: str) -> Mark:
    asked = name.strip().casefold().removeprefix("mark ").strip()
    same = [mark for mark in dossier.marks if mark.name.casefold() == asked]
    part = [mark for mark in dossier.marks if asked and asked in _mark_words(mark)]
    if same or len(part) == 1:
        return (same or part)[0]
    names = [mark.name for mark in dossier.marks]
    raise UnknownNameError(what="a mark of this rope", given=name, known=names, field="mark")


def _mark_words(mark: Mark) -> str:
    return f"{mark.name} {mark.made_of}".casefold()


def _meant(dossier: Dossier, what: str | float, on: date) -> tuple[RopePlace, str]:
    if not isinstance(what, str):
        if not 0 <= what <= dossier.history.original_length_m:
            raise InputError(
                field="what",
                expected=f"a rope position from 0 to {dossier.history.original_length_m:g} m",
                given=f"{what:g} m",
            )
        return RopePlace(at_m=what), f"{what:g} m of rope position"
    for seen in evidence_on(dossier, on).seen:
        if seen.finding.finding_id.casefold() == what.strip().casefold():
            words = f"finding {seen.finding.finding_id}, {seen.finding.kind}"
            return seen.finding.place, words
    try:
        mark = _mark(dossier, what)
    except UnknownNameError:
        names = [mark.name for mark in dossier.marks]
        names += [seen.finding.finding_id for seen in evidence_on(dossier, on).seen]
        raise UnknownNameError(
            what="a mark, a finding that counts, or a rope position such as 41.2 m",
            given=what,
            known=names,
            field="what",
        ) from None
    return mark.place, f"mark {mark.name}"


# --- From the place to everything that is said of it ------------------------------------------


def _whereabouts(
    dossier: Dossier, rigged: RiggedHoist, sighting: Sighting, words: str, on: date
) -> Whereabouts:
    hoist = rigged.hoist
    place = locate(sighting, hoist)
    path = dossier.history.at(on)
    rope_m = path.to_rope_m(min(max(place.at_m, 0.0), path.length_m))
    rope = RopePlace(at_m=rope_m, abs_err_m=place.abs_err_m, rel_err_m=place.rel_err_m)
    drum = drum_place(rigged, place)
    helps = () if isinstance(sighting, SeenFromMark) else what_would_help(sighting, hoist)
    return Whereabouts(
        asked_as=words,
        on=on,
        by_payout=rigged.by_payout,
        path=place,
        rope=rope,
        drum=drum,
        flanges=flange_names(rigged),
        zones=() if drum is None else zone_words(rigged, drum),
        near=_near(dossier, rope, on),
        helps=helps[:3],
        asked=(*rigged.asked, *rigged.asked_for_drum),
        calibration=rigged.calibration,
    )


def drum_place(rigged: RiggedHoist, place: PathPlace) -> PlaceOnDrum | None:
    """Where a place lies once wound on; none if nobody knows, or it never gets onto the drum."""
    if rigged.asked_for_drum:
        return None
    try:
        return on_drum(place, rigged.hoist)
    except InputError:
        return None


def zone_words(rigged: RiggedHoist, drum: PlaceOnDrum) -> tuple[str, ...]:
    """What a place meets on the drum, as far as its ± lets one say."""
    err = drum.place.abs_err_m + drum.place.rel_err_m
    low, high = drum.place.at_m - err, drum.place.at_m + err
    words = []
    for zone in drum_zones(rigged.drum()):
        if zone.kind != "layer change" or zone.to_m < low or zone.from_m > high:
            continue
        sure = zone.from_m <= low and high <= zone.to_m
        may = "is" if sure else "may be"
        words.append(f"{may} where the rope climbs from layer {zone.layer} to {zone.layer + 1}")
    crossing = [zone for zone in drum_zones(rigged.drum()) if zone.kind != "layer change"]
    words += _crossing_words(crossing, low, high)
    return tuple(words)


def _crossing_words(zones: list[DrumZone], low: float, high: float) -> list[str]:
    touched = [zone for zone in zones if zone.from_m <= high and zone.to_m >= low]
    if not touched:
        return []
    if touched[0].kind == "crossover somewhere":
        return ["each wrap here crosses the layer below; the drum does not fix where in the turn"]
    if any(zone.from_m <= low and high <= zone.to_m for zone in touched):
        return ["in a crossover"]
    return ["in a crossover or between two: the ± is too wide to say; look at the drum"]


def _near(dossier: Dossier, rope: RopePlace, on: date) -> tuple[Near, ...]:
    found = []
    own = rope.abs_err_m + rope.rel_err_m
    known = [(f"mark {mark.name}", mark.place) for mark in dossier.marks]
    known += [
        (f"{seen.finding.finding_id} ({seen.finding.kind})", seen.finding.place)
        for seen in evidence_on(dossier, on).seen
    ]
    turned = dossier.history.at(on).turned
    for name, place in known:
        beyond = (rope.at_m - place.at_m) * (-1 if turned else 1)
        if abs(beyond) <= NEAR_M + own + place.abs_err_m + place.rel_err_m:
            found.append(Near(name=name, beyond_m=beyond))
    return tuple(sorted(found, key=lambda one: abs(one.beyond_m)))
