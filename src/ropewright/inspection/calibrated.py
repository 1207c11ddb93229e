"""From calibration readings as stated to a hoist that agrees with them, or a named refusal."""

import math
from dataclasses import dataclass, fields, replace
from datetime import date
from functools import lru_cache
from typing import Final

from ropewright.errors import InputError, UnknownNameError
from ropewright.geometry import (
    AT_DRUM,
    Calibration,
    Found,
    Hoist,
    InspectionPoint,
    LayerChanged,
    MarkPassed,
    Observation,
    PathPlace,
    ReadingErrors,
    Residual,
    Tolerances,
    WrapsCounted,
    calibrate,
    locate,
)
from ropewright.geometry.observations import check_observation, observed_minus_computed_m
from ropewright.geometry.plausible import check_position
from ropewright.geometry.rows import NO_CORRECTIONS
from ropewright.geometry.sighting import SeenAtPoint
from ropewright.inspection.dossier import Dossier, Rigging
from ropewright.inspection.rigged import CalibrationReading, ReadingErrorFacts, ToleranceFacts


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingsFit:
    """What readings at the crane made of the stated numbers.

    ``left`` tells for each reading how far it still is from the fitted set-up, ``found`` what each
    free number became and its ± before and after; ``last_on`` is the day of the latest reading.
    """

    last_on: date
    left: tuple[Residual, ...]
    found: tuple[Found, ...]


def with_stated_errors(hoist: Hoist, rigging: Rigging) -> Hoist:
    """The hoist with its ± as stated, where any are."""
    if rigging.tolerance is None and rigging.reading_error is None:
        return hoist
    tolerances: Tolerances = replace(hoist.tolerances, **_stated(rigging.tolerance))
    readings: ReadingErrors = replace(hoist.readings, **_stated(rigging.reading_error))
    return replace(hoist, tolerances=tolerances, readings=readings)


def _stated(facts: ToleranceFacts | ReadingErrorFacts | None) -> dict[str, float]:
    if facts is None:
        return {}
    held = {one.name: getattr(facts, one.name) for one in fields(facts)}
    return {name: value for name, value in held.items() if value is not None}


def calibrated(
    dossier: Dossier, rigging: Rigging, hoist: Hoist, on: date
) -> tuple[Hoist, ReadingsFit] | None:
    """The hoist fitted to the readings known on a day; none if there are none.

    Parameters
    ----------
    dossier
        Whose marks and cuts the readings refer to.
    rigging
        The set-up with its readings.
    hoist
        The path model as stated.
    on
        The day; later readings are not known yet.

    Raises
    ------
    InputError
        If a reading cannot be, or contradicts the set-up or the other readings; it is named.
    """
    known = [one for one in rigging.readings if one.on <= on and _same_rope(one, dossier)]
    if not known:
        return None
    observed = tuple(_observation(one, dossier, rigging, hoist, on) for one in known)
    try:
        fitted = _fitted(hoist, observed)
    except InputError as error:
        if error.field in {one.name for one in known}:
            error.field = _field(error.field)
        raise
    last_on = max(one.on for one in known)
    fit = ReadingsFit(last_on=last_on, left=fitted.residuals, found=fitted.found)
    return fitted.hoist, fit


def _same_rope(reading: CalibrationReading, dossier: Dossier) -> bool:
    fitted = dossier.installation.fitted_on
    return fitted is None or reading.on >= fitted


@lru_cache(maxsize=64)
def _fitted(hoist: Hoist, observed: tuple[Observation, ...]) -> Calibration:
    return calibrate(hoist, observed)


#: Names of the crane's axes in the core, and the keys under which a reading states them.
_KEYS: Final = {
    "hook_m": "hook",
    "radius_m": "radius",
    "jib_deg": "jib",
    "boom_m": "boom",
    "boom_deg": "boom_angle",
    "drum_turns": "turns",
}


def _field(name: str | None) -> str:
    return f"reading '{name}'"


def _observation(
    reading: CalibrationReading, dossier: Dossier, rigging: Rigging, hoist: Hoist, on: date
) -> Observation:
    try:
        made = _made(reading, dossier, rigging, hoist, on)
        check_observation(made, hoist)
        check_position(hoist, reading.position)
        observed_minus_computed_m(made, hoist, NO_CORRECTIONS)
        if isinstance(made, MarkPassed):
            locate(SeenAtPoint(point=made.point, position=made.position), hoist)
    except InputError as error:
        field = (error.field or "").removeprefix(f"{reading.name}.").removeprefix("position.")
        field = _KEYS.get(field, field)
        error.field = f"{_field(reading.name)}{'.' if field else ''}{field}"
        raise
    return made


def _made(
    reading: CalibrationReading, dossier: Dossier, rigging: Rigging, hoist: Hoist, on: date
) -> Observation:
    longer = dossier.history.at(reading.on).length_m - dossier.history.at(on).length_m
    if reading.kind == "mark passed":
        return MarkPassed(
            name=reading.name,
            position=reading.position,
            point=_point(reading, rigging, hoist),
            mark=_mark(reading, dossier, hoist),
            longer_m=longer,
        )
    if reading.layer is None:
        raise InputError(field="layer", expected="the layer, 1 on the barrel", given=None)
    stated = {} if reading.err_turns is None else {"err_turns": reading.err_turns}
    if reading.kind == "layer full":
        return LayerChanged(
            name=reading.name, position=reading.position, layer=reading.layer, longer_m=longer,
            **stated,
        )  # fmt: skip
    if reading.wraps is None:
        raise InputError(field="wraps", expected="the wraps counted on that layer", given=None)
    return WrapsCounted(
        name=reading.name, position=reading.position, layer=reading.layer, wraps=reading.wraps,
        longer_m=longer, **stated,
    )  # fmt: skip


def _point(reading: CalibrationReading, rigging: Rigging, hoist: Hoist) -> InspectionPoint:
    known = {one.name: one.point for one in rigging.points if one.point is not None}
    for contact in hoist.reeving.contacts:
        known.setdefault(contact.name, InspectionPoint(name=contact.name, at=contact.name))
    known.setdefault("drum", AT_DRUM)
    if reading.point not in known:
        raise UnknownNameError(
            what="a place to look from", given=reading.point, known=list(known), field="point"
        )
    return known[reading.point]


def _mark(reading: CalibrationReading, dossier: Dossier, hoist: Hoist) -> PathPlace:
    if reading.taped_m is not None:
        own = hoist.readings.tape_m + hoist.readings.tape_share * reading.taped_m
        err = own if reading.taped_err_m is None else reading.taped_err_m
        return PathPlace(at_m=reading.taped_m, abs_err_m=err)
    marks = {mark.name: mark.place for mark in dossier.marks}
    if reading.mark not in marks:
        raise UnknownNameError(
            what="a mark of this rope", given=reading.mark, known=list(marks), field="mark"
        )
    place = marks[reading.mark]
    at_m = dossier.history.at(reading.on).to_path_m(place.at_m)
    err = math.hypot(place.abs_err_m, place.rel_err_m)
    return PathPlace(at_m=at_m, abs_err_m=err)
