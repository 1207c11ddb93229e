"""Lanes of coverage with their age: what was covered this time, when else, and what never was."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from ropewright.geometry import Section, subtract
from ropewright.inspection import Inspection, LastCovered, covered, intersection, last_covered
from ropewright.inspection.findings import Method
from ropewright.picture.lane import Band, BandLane
from ropewright.picture.scene import Scene
from ropewright.picture.words import ago_words, day_words, section_words

#: Lanes beside those of eye and hand; drawn only where the method was ever used.
OTHER_LANES: Final[tuple[tuple[Method, str], ...]] = (
    ("gauge", "Gauged"),
    ("internal", "Looked inside"),
    ("mrt", "Magnetic test"),
)
_DONE: Final[dict[Method, str]] = {
    "eye": "seen by eye",
    "eye-round": "seen all round",
    "feel": "felt by hand",
    "gauge": "gauged",
    "internal": "looked inside",
    "mrt": "magnetic test",
}


def age_lanes(scene: Scene, latest: Inspection) -> list[BandLane]:
    """Seen, felt, gauged and so on: with the day, also where it was on another day.

    Parameters
    ----------
    scene
        What is shown.
    latest
        The inspection whose coverage is judged.
    """
    lanes = [_eye_lane(scene, latest), _lane(scene, latest, "feel", "Felt by hand")]
    for method, label in OTHER_LANES:
        lane = _lane(scene, latest, method, label)
        used = tuple(one for one in lane.bands if not one.kind.endswith("never"))
        if used:
            lanes.append(replace(lane, bands=used))
    return lanes


def _eye_lane(scene: Scene, latest: Inspection) -> BandLane:
    all_round = scene.in_service(covered(latest, "eye-round"))
    one_side = subtract(scene.in_service(covered(latest, "eye")), all_round)
    bands = [
        *(_this_time(scene, latest, one, "dense", "eye-round", "all round") for one in all_round),
        *(_this_time(scene, latest, one, "sparse", "eye", "one side") for one in one_side),
        *_other_days(scene, "eye", (*all_round, *one_side)),
    ]
    return _made("eye", "Seen by eye", bands)


def _lane(scene: Scene, latest: Inspection, method: Method, label: str) -> BandLane:
    done = scene.in_service(covered(latest, method))
    bands = [_this_time(scene, latest, one, "dense", method, "") for one in done]
    bands += _other_days(scene, method, done)
    return _made(method, label, bands)


def _made(key: str, label: str, bands: list[Band]) -> BandLane:
    ordered = tuple(sorted(bands, key=lambda one: one.section))
    return BandLane(key=key, label=label, bands=ordered)


def _this_time(
    scene: Scene, latest: Inspection, section: Section, fill: str, method: Method, how: str
) -> Band:
    day = day_words(latest.on)
    ago = ago_words((scene.as_of - latest.on).days)
    band = Band(
        section=section,
        fill=fill,
        kind=method,
        words=f"{how}, {day}" if how else day,
        short=how,
        title=f"{how or _DONE[method]}, {day}, {ago}: {section_words(section)}",
    )
    return _with_all_round(scene, band) if method == "eye" else band


def _with_all_round(scene: Scene, band: Band) -> Band:
    """Where only one side was seen this time: when all of the section was seen all round."""
    first, last = band.section.from_m, band.section.to_m
    days = [
        one.on
        for one in _pieces(scene, "eye-round")
        if one.section.from_m < last and first < one.section.to_m
    ]
    known = [day for day in days if day is not None]
    if not known or len(known) < len(days):
        return replace(
            band, note="one side, never all round", note_short="never all round", age_d=None,
            title=f"{band.title}; never seen all round on record",
        )  # fmt: skip
    oldest = min(known)
    age_d = (scene.as_of - oldest).days
    words = f"all round last {day_words(oldest)}, {ago_words(age_d)}"
    return replace(
        band, note=f"one side; {words}", note_short=f"all round {ago_words(age_d)}", age_d=age_d,
        title=f"{band.title}; {words}",
    )  # fmt: skip


def _pieces(scene: Scene, method: Method) -> tuple[LastCovered, ...]:
    return last_covered(scene.dossier.inspections, method, scene.service, scene.as_of)


def _other_days(scene: Scene, method: Method, this_time: tuple[Section, ...]) -> Iterator[Band]:
    """What this inspection did not cover: by the newest one that did, or as never covered."""
    for piece in _pieces(scene, method):
        for section in subtract(intersection([piece.section], [scene.service]), this_time):
            yield _past(scene, method, section, piece)


def _past(scene: Scene, method: Method, section: Section, piece: LastCovered) -> Band:
    done, where = _DONE[method], section_words(section)
    if piece.by is None:
        return Band(
            section=section,
            fill="cross",
            kind=f"{method}-never",
            note=f"never {done}",
            note_short="never",
            title=f"never {done} on record: {where}",
            age_d=None,
        )
    days = (scene.as_of - piece.by.on).days
    ago, day = ago_words(days), day_words(piece.by.on)
    unfinished = "" if piece.by.finished else ", in an inspection that was not finished"
    return Band(
        section=section,
        fill="past",
        kind=f"{method}-past",
        note=f"last {day}, {ago}",
        note_short=ago,
        title=f"last {done} on {day}, {ago}{unfinished}: {where}",
        age_d=days,
    )
