"""The crane of a rope: its set-up, a drawing that follows the hook, checks of the figures."""

import dataclasses
import typing
from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from typing import Any, Final
from urllib.parse import urlencode

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, Response

from ropewright.desk.crane_at import CraneAt, crane_at
from ropewright.desk.judging import judge
from ropewright.errors import InputError
from ropewright.inspection import Dossier, Rigging
from ropewright.rules import Ruling
from ropewright.rules.more_checks import SetUpCheck
from ropewright.units import exact_decimal, exact_in_us, parse_number
from ropewright.web.addresses import from_address, in_address, rope_path
from ropewright.web.corrected import contents_of
from ropewright.web.office import Here, Typed, Visit
from ropewright.web.saying import day_in, say
from ropewright.web.typed import read_length, with_point
from ropewright.web.us_units import us_drawing
from ropewright.web.views.set_up_checks import facts_checked
from ropewright.web.wording import said_by

router = APIRouter(include_in_schema=False)

SET_UP_RULES: Final = "set-up-figures"
#: How wide the crane is drawn [px], at a desk and on a phone.
DRAWING_WIDTHS: Final = (760, 380)

#: Fields asked for from the beginning: name in the form, key of its words, what it looks like.
FIRST_FIELDS: Final = (
    ("falls", "crane.falls", "2"),
    ("hook_low", "crane.hook-low", "0 m"),
    ("hook_high", "crane.hook-high", "61 m"),
)
DRUM_FIELDS: Final = (
    ("drum_diameter", "crane.drum-diameter", "480 mm"),
    ("wraps_per_layer", "crane.wraps-per-layer", "38"),
    ("dead_wraps", "crane.dead-wraps", "5"),
    ("sheave_diameter", "crane.sheave-diameter", "500 mm"),
)
#: Fields with a choice: name in the form, key of its words, values as the set-up has them.
CHOICE_FIELDS: Final = (
    ("drum_layers", "crane.drum-layers", ("single", "multi")),
    ("drum_grooving", "crane.drum-grooving", ("smooth", "helical", "parallel")),
    ("sheaves", "crane.sheaves", ("steel", "plastic")),
)
CHOICES: Final = tuple(name for name, _, _ in CHOICE_FIELDS)
#: Readings at the crane: kind, key of when it is read, fields beside where the crane stands.
READING_FORMS: Final = (
    (
        "wraps counted", "crane.wraps-counted",
        (("layer", "crane.layer", "1"), ("wraps", "crane.wraps", "5.2")),
    ),
    (
        "layer full", "crane.layer-full",
        (("layer", "crane.full-layer", "1"),),
    ),
    (
        "mark passed", "crane.mark-passed",
        (("point", "crane.point", ""), ("mark", "work.mark", ""),
         ("taped", "crane.taped", "96.2 m")),
    ),
)  # fmt: skip
#: The key of a reading for each axis of the crane.
AXIS_KEYS: Final = {
    "hook_m": "hook", "radius_m": "radius", "jib_deg": "jib", "boom_m": "boom",
    "boom_deg": "boom_angle",
}  # fmt: skip
_FIELD_OF: Final = {"wraps_per_layer": "drum_wraps_per_layer"}
_SHOWN: Final = frozenset((*(name for name, _, _ in (*FIRST_FIELDS, *DRUM_FIELDS)), *CHOICES))


@router.get("/cranes/{rope_id}")
def crane_page(visit: Here, rope_id: str) -> HTMLResponse:
    """Set-up, drawing and checks."""
    return show_crane(visit, from_address(rope_id))


def wanted_axes(query: Mapping[str, str]) -> dict[str, float]:
    """Positions asked for in an address; what is no number is passed over.

    Returns
    -------
    dict of str to float
        Values by axis [-], in metres or degrees as the axis' name says.
    """
    found = {}
    for axis in ("hook_m", "radius_m", "jib_deg", "boom_m", "boom_deg"):
        try:
            found[axis] = float(query[axis])
        except (KeyError, ValueError):
            continue
    return {axis: value for axis, value in found.items() if abs(value) < 1e6}


def show_crane(
    visit: Visit, rope_id: str, status: int = 200, *, problem: str = "", opened: str = ""
) -> HTMLResponse:
    """The page; after a form that was refused with what is wrong and which form it was."""
    tools = visit.office.tools
    dossier, today = tools.book.dossier(rope_id), tools.today()
    at: CraneAt | None = None
    missing = ""
    try:
        at = crane_at(dossier, today, wanted_axes(visit.request.query_params))
    except InputError as error:
        missing = said_by(error)
    rigging = dossier.rigging_at(today)
    asked = () if at is None else at.asked
    others = [
        one.rope_id
        for one in tools.book.stands()
        if one.record.get("crane") == dossier.crane.crane_id and one.rope_id != rope_id
    ]
    return visit.page(
        "crane.html", status, rope_id=rope_id, path_back=rope_path(rope_id), d=dossier,
        path_here=f"/cranes/{in_address(rope_id)}", at=at, missing=missing, rigging=rigging,
        widths=DRAWING_WIDTHS, drawing=_drawing_of(rope_id, at),
        others=[(one, f"/cranes/{in_address(one)}") for one in others],
        first=FIRST_FIELDS, drum=DRUM_FIELDS, choices=CHOICE_FIELDS,
        values=values_of(rigging, visit.person.units),
        asked=asked, looks={one.key: _looks_like(one.key) for one in asked},
        checks=facts_checked(_checks(visit, dossier)),
        fit=None if at is None else at.rigged.calibration, form=visit.form, problem=problem,
        opened=opened, reading_kinds=READING_FORMS, look_from=_look_from(rigging, at),
        may=visit.may("POST /cranes/{rope_id}"), today=today, axis_keys=AXIS_KEYS,
    )  # fmt: skip


def _drawing_of(rope_id: str, at: CraneAt | None) -> str:
    """The address of the drawing with the crane as the page shows it."""
    axes = () if at is None else at.axes
    asked = urlencode([(str(one.axis), one.here) for one in axes])
    return f"/cranes/{in_address(rope_id)}/drawing.svg?{asked}"


def _look_from(rigging: Rigging | None, at: CraneAt | None) -> list[str]:
    """Places where a mark may pass: where people stand, and the sheaves of the path."""
    stand = [] if rigging is None else [one.name for one in rigging.points if one.point]
    sheaves = [] if at is None else [one.name for one in at.rigged.hoist.reeving.contacts]
    return list(dict.fromkeys([*stand, *sheaves, "drum"]))


def _checks(visit: Visit, dossier: Dossier) -> tuple[Ruling, ...]:
    """What the set-up figures say of this crane, whatever rules the rope was given."""
    tools = visit.office.tools
    try:
        found = judge(
            dossier, tools.shelf, tools.today(), software=tools.software, added=[SET_UP_RULES]
        )
    except InputError:
        return ()
    order = {"reached": 0, "not assessable": 1, "below": 2}
    figures = {
        one.clause_id
        for one in tools.shelf.get(SET_UP_RULES).clauses
        if isinstance(one.check, SetUpCheck)
    }
    said = [
        one
        for one in found.rulings
        if one.rule_set == SET_UP_RULES and one.clause_id in figures and one.status in order
    ]
    return tuple(sorted(said, key=lambda one: (order[one.status], one.ruling_id)))


def values_of(rigging: Rigging | None, units: str = "metric") -> Typed:
    """The set-up as it would be typed; in feet and inches only where that is exact.

    Parameters
    ----------
    rigging
        The set-up.
    units
        The person's units.
    """
    if rigging is None:
        return Typed()
    made = Typed()
    for name, _, example in (*FIRST_FIELDS, *DRUM_FIELDS):
        field, unit = _named(Rigging, _FIELD_OF.get(name, name))
        value = getattr(rigging, field)
        if value is None:
            continue
        exact = value if isinstance(value, int | Fraction) else Fraction(repr(value))
        words = exact_decimal(Fraction(exact))
        typed = f"{words} {unit}" if unit and unit in example else words
        made[name] = exact_in_us(typed) if units == "us" else typed
    for name in CHOICES:
        if getattr(rigging, name) is not None:
            made[name] = getattr(rigging, name)
    return made


def _looks_like(key: str) -> str:
    """What the length behind a name of the case file may look like; nothing for other numbers."""
    try:
        _, _, unit = _behind(key)
    except InputError:
        return ""
    return {"m": "12 m", "mm": "500 mm"}.get(unit, "")


def _behind(key: str) -> tuple[type[Any], str, str]:
    """The dataclass, its field and the unit behind a name of the case file.

    Raises
    ------
    InputError
        If there is none.
    """
    head, _, rest = key.partition(".")
    if not rest:
        return Rigging, *_named(Rigging, _FIELD_OF.get(key, key))
    for one in typing.get_args(typing.get_type_hints(Rigging).get(head)):
        if isinstance(one, type) and dataclasses.is_dataclass(one):
            return one, *_named(one, rest)
    raise InputError(field=key, expected="a number of the set-up", given=key)


def _named(kind: type[Any], name: str) -> tuple[str, str]:
    """The field of a dataclass behind a name of the case file, and its unit.

    Raises
    ------
    InputError
        If there is none.
    """
    known = {one.name for one in dataclasses.fields(kind)}
    for unit in ("m", "mm", "deg", ""):
        field = f"{name}_{unit}" if unit else name
        if field in known:
            return field, unit
    raise InputError(field=name, expected="a number of the set-up", given=name)


def rigging_with(
    data: dict[str, Any], form: Mapping[str, str], units: str = "metric"
) -> dict[str, Any]:
    """The content of a rigging entry with what was typed put into it.

    Parameters
    ----------
    data
        The rigging as it stands in the book, as plain data.
    form
        Fields by their name in the case file; nested ones with a dot, as they are asked for.
    units
        The person's units.

    Raises
    ------
    InputError
        If a number cannot be read; names the field.
    """
    made = {key: dict(value) if isinstance(value, dict) else value for key, value in data.items()}
    for name, text in form.items():
        if not name.startswith("r."):
            continue
        key, words = name[2:], text.strip()
        if not words:
            if key in _SHOWN:  # the form shows what stands there: an emptied field takes it away
                made.pop(_named(Rigging, _FIELD_OF.get(key, key))[0], None)
            continue
        if key in CHOICES:
            made[key] = words
            continue
        kind, field, unit = _behind(key)
        head, _, rest = key.partition(".")
        into = made.setdefault(head, {}) if rest else made
        into[field] = _value(words, unit, kind, field, key, units)
    return made


def _value(words: str, unit: str, kind: type[Any], field: str, key: str, units: str) -> Any:  # noqa: ANN401
    hint = str(typing.get_type_hints(kind)[field])
    if unit in ("m", "mm"):
        length_mm = read_length(words, key, unit, signed=True, units=units)
        return exact_decimal(length_mm / 1000 if unit == "m" else length_mm)
    if "int" in hint and "Fraction" not in hint:
        if not words.isdecimal():
            raise InputError(field=key, expected="a whole number", given=words)
        return int(words)
    if "float" in hint or "Fraction" in hint:
        return exact_decimal(parse_number(with_point(words), field=key, signed=True))
    return words


def last_set_up(visit: Visit, rope_id: str, until: date | None = None) -> dict[str, Any]:
    """The content of the newest set-up as the book has it, corrections applied; may be empty.

    Parameters
    ----------
    visit
        Who asks.
    rope_id
        The rope.
    until
        Set-ups from a later day on do not count.
    """
    stated = contents_of(visit.office.tools.book, rope_id, "rigging")
    by_day = {str(said["valid_from"]): said for said in stated}
    days = [day for day in by_day if until is None or day <= until.isoformat()]
    return dict(by_day[max(days)]) if days else {}


@router.post("/cranes/{rope_id}")
def change_crane(visit: Here, rope_id: str) -> Response:
    """Add a dated set-up: what was typed, on top of what the book has."""
    name = from_address(rope_id)
    try:
        on = day_in(visit, "valid_from")
        payload = rigging_with(last_set_up(visit, name), visit.form, visit.person.units)
    except InputError as error:
        return show_crane(visit, name, 400, problem=said_by(error))
    payload["valid_from"] = on.isoformat()
    taken = say(visit, "rigging", name, payload, on)
    if taken.state == "refused":
        return show_crane(visit, name, 400, problem=taken.reason)
    return visit.back_to(f"/cranes/{in_address(name)}", visit.t("crane.kept"))


@router.get("/cranes/{rope_id}/drawing.svg")
def drawing(visit: Here, rope_id: str, width: int = DRAWING_WIDTHS[0]) -> Response:
    """The crane from the side at a position, in one of the widths."""
    drawn = width if width in DRAWING_WIDTHS else DRAWING_WIDTHS[0]
    tools = visit.office.tools
    dossier, today = tools.book.dossier(from_address(rope_id)), tools.today()
    at = crane_at(dossier, today, wanted_axes(visit.request.query_params))
    svg = tools.crane_elevation(dossier, today, position=at.position, width_px=drawn)
    svg = us_drawing(svg) if visit.person.units == "us" else svg
    return visit.drawing(svg.encode())
