"""The order of a new rope, from what is known of crane, drum and the rope that is on it.

What is not known stays 'to be filled in'; nothing is guessed.  The rope on the crane says what
was fitted, not what belongs there: every field taken from it is to be held against the manual.
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction
from typing import Final

from ropewright.desk.ordering_length import length_field, reel_fields
from ropewright.desk.ordering_model import (
    TO_FILL,
    Known,
    OrderField,
    OrderSheet,
    OrderValue,
    OrderWish,
)
from ropewright.errors import InputError, UnknownNameError
from ropewright.forecast import RopeForecast
from ropewright.inspection import Dossier
from ropewright.rope import Rope, diameter_tolerance
from ropewright.units import exact_decimal, show_length_mm

_TOLERANCES: Final = "EN 12385-4"
_NO_WISH: Final = OrderWish()

#: Words of every field, by key, in the order of the sheet.
ORDER_WORDS: Final[Mapping[str, str]] = {
    "purpose": "For",
    "length_m": "Length",
    "diameter_mm": "Nominal diameter",
    "tolerance": "Diameter, new and unloaded",
    "construction": "Construction",
    "rotation_resistant": "Rotation-resistant",
    "lay_hand": "Lay: right or left hand",
    "lay_type": "Lay: ordinary or Lang",
    "core": "Core",
    "plastic_core": "Plastic in the core",
    "compacted": "Strands compacted",
    "grade_n_per_mm2": "Rope grade",
    "breaking_force_kn": "Minimum breaking force",
    "finish": "Finish of the wires",
    "lubricant": "Lubricant",
    "end_a": "End A (dead end)",
    "end_b": "End B (drum)",
    "certificate_type": "Certificate",
    "reel": "Reel size",
    "reel_mass_kg": "Mass of the rope",
    "reel_bore_mm": "Reel bore",
    "spooling_direction": "Spooling direction",
    "drum_grooving": "Drum grooving",
    "drum_hand": "Drum groove hand",
    "needed_by": "Needed by",
    "lead_weeks": "Delivery time",
    "deliver_to": "Deliver to",
}
_ASK: Final[Mapping[str, str]] = {
    "diameter_mm": "from the crane's manual",
    "tolerance": "follows from the drum's grooving, which is not stated",
    "construction": "from the crane's manual",
    "rotation_resistant": "from the crane's manual",
    "lay_hand": "the other hand than the drum's grooves",
    "lay_type": "ordinary or Lang, from the crane's manual",
    "core": "from the crane's manual",
    "plastic_core": "from the crane's manual; a person cannot see what breaks under plastic",
    "compacted": "from the crane's manual",
    "grade_n_per_mm2": "from the crane's manual",
    "breaking_force_kn": "from the crane's manual",
    "finish": "bright or galvanised",
    "drum_grooving": "smooth, helical or parallel",
    "lubricant": "with what it is dressed by the maker",
    "end_a": "fused and tapered, seized, or fitted with which socket",
    "end_b": "fused and tapered, seized, or fitted",
    "certificate_type": "which kind, and what it must state",
    "spooling_direction": "wound on the reel from above or below, and which end is outside",
    "deliver_to": "place, and what unloads the reel there",
    "lead_weeks": "ask the maker; for special ropes 8 to 16 weeks are usual (common practice)",
    "drum_hand": "look at the drum: grooves rise to the right or to the left",
}


def order_sheet(
    dossier: Dossier,
    today: date,
    *,
    wish: OrderWish = _NO_WISH,
    forecast: RopeForecast | str | None = None,
) -> OrderSheet:
    """The order sheet of a new rope for a hoist.

    Parameters
    ----------
    dossier
        Crane, rigging and the rope that is on it.
    today
        The day of the order.
    wish
        What a person states beyond that.
    forecast
        When the rope has to be changed, or why nobody can say.

    Raises
    ------
    UnknownNameError
        If a field is stated that an order does not have.
    """
    for key in wish.stated:
        if key not in ORDER_WORDS:
            raise UnknownNameError(
                what="a field of an order", given=key, known=ORDER_WORDS, field="--set"
            )
    wish = _with_stated(wish)
    length = length_field(dossier, today, wish)
    stated_m = wish.stated.get("length_m")
    length_m = stated_m if isinstance(stated_m, float) else length.value
    found = {
        one.key: one
        for one in (
            _purpose(dossier),
            length,
            *_rope_fields(dossier.rope, fitted=_fitted(dossier)),
            _tolerance(dossier, today),
            *reel_fields(dossier.rope, length_m if isinstance(length_m, float) else None),
            *_drum_fields(dossier, today),
            _needed_by(today, wish, forecast),
        )
    }
    fields = tuple(
        _stated(key, wish, found.get(key) or _asked(key)) for key in ORDER_WORDS
    )  # fmt: skip
    return OrderSheet(
        rope_id=dossier.rope.rope_id,
        crane=dossier.crane.crane_id,
        hoist=dossier.installation.hoist,
        site=dossier.crane.site,
        made_on=today,
        fields=_hands_checked(fields),
        invented=dossier.invented,
    )


def _with_stated(wish: OrderWish) -> OrderWish:
    """The wish with delivery time and day taken from the fields a person stated."""
    weeks, day = wish.stated.get("lead_weeks"), wish.stated.get("needed_by")
    if isinstance(weeks, Fraction):
        wish = replace(wish, lead_weeks=weeks)
    if isinstance(day, date):
        others = {key: value for key, value in wish.stated.items() if key != "needed_by"}
        wish = replace(wish, needed_by=day, stated=others)
    return wish


def _fitted(dossier: Dossier) -> str:
    on = dossier.installation.fitted_on
    return f"rope fitted {on.isoformat()}" if on else "rope that is on"


def _asked(key: str) -> OrderField:
    return OrderField(key=key, words=ORDER_WORDS[key], shown=_ASK.get(key, ""))


def _field(
    key: str, value: OrderValue, shown: str, source: str, *, how: Known = "known", look: str = ""
) -> OrderField:
    if value is None or value == "":
        return _asked(key)
    return OrderField(
        key=key, words=ORDER_WORDS[key], value=value, shown=shown, how=how, source=source, look=look
    )


def _stated(key: str, wish: OrderWish, known: OrderField) -> OrderField:
    """The field as a person states it; what it would have been stays in sight."""
    value = wish.stated.get(key)
    if key == "lead_weeks" and value is None and wish.lead_weeks is not None:
        value = wish.lead_weeks
    if value is None:
        return known
    was = f"instead of {known.shown}" if known.how != TO_FILL and known.value != value else ""
    return replace(
        known,
        value=value,
        shown=show_value(key, value),
        how="stated",
        source=f"stated by {wish.stated_by or 'whoever made the order'}",
        look=was,
    )


def show_value(key: str, value: OrderValue) -> str:
    """A ``value`` [-] as a person reads it, with the unit its key names."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = exact_decimal(value) if isinstance(value, Fraction) else str(value)
    if isinstance(value, float):
        text = f"{value:g}"
    for ending, unit in (
        ("_mm", "mm"), ("_n_per_mm2", "N/mm²"), ("_kn", "kN"), ("_kg", "kg"), ("_weeks", "weeks"),
        ("_m", "m"),
    ):  # fmt: skip
        if key.endswith(ending):
            return f"{text} {unit}"
    return text


def _purpose(dossier: Dossier) -> OrderField:
    one = dossier.installation
    parts = [f"{one.purpose} rope of {dossier.crane.crane_id}, {dossier.crane.kind}"]
    if dossier.crane.safe_working_load:
        parts.append(f"safe working load {dossier.crane.safe_working_load}")
    if one.mechanism_class:
        parts.append(f"class {one.mechanism_class}")
    if one.persons_lifted is not None:
        parts.append("persons are lifted" if one.persons_lifted else "no persons are lifted")
    text = "; ".join(parts)
    return _field("purpose", text, text, "crane and installation")


def _rope_fields(rope: Rope, *, fitted: str) -> tuple[OrderField, ...]:
    make = rope.construction
    force = rope.breaking_force()
    by_paper = "certificate" if rope.certificate else fitted
    yes_no = {True: "yes", False: "no", None: ""}
    return (
        _field(
            "diameter_mm", rope.nominal_diameter_mm, show_length_mm(rope.nominal_diameter_mm),
            fitted,
        ),
        _field("construction", make.name, make.name, fitted),
        _field(
            "rotation_resistant", make.rotation_resistant, yes_no[make.rotation_resistant], fitted
        ),
        _field("lay_hand", rope.lay_hand, f"{rope.lay_hand} hand", fitted),
        _field("lay_type", rope.lay_type, f"{rope.lay_type} lay", fitted),
        _field("core", make.core, str(make.core), fitted),
        _field("plastic_core", rope.plastic, yes_no[rope.plastic], fitted),
        _field("compacted", make.compacted, yes_no[make.compacted], fitted),
        _field(
            "grade_n_per_mm2", rope.grade, "" if rope.grade is None
            else f"{exact_decimal(rope.grade)} N/mm²", by_paper,
        ),
        _field(
            "breaking_force_kn", None if force is None else force.value, "" if force is None
            else f"{float(force.value):.1f} kN or more", "" if force is None else force.source,
            look="worked out from a table, not from a certificate: ask the crane's manual"
            if force is not None and force.origin == "table" else "",
        ),
        _field("finish", rope.finish, rope.finish, fitted),
    )  # fmt: skip


def _tolerance(dossier: Dossier, today: date) -> OrderField:
    """Parallel grooves for several layers want a rope that fills the groove.

    Common practice, no source: +2 to +4 % for parallel-grooved drums.  Else the standard's.
    """
    rigging = dossier.rigging_at(today)
    nominal = dossier.rope.nominal_diameter_mm
    if rigging is None or rigging.drum_grooving is None:
        return _asked("tolerance")
    if rigging.drum_grooving == "parallel":
        low, high = nominal * Fraction(102, 100), nominal * Fraction(104, 100)
        text = f"+2 to +4 %, {exact_decimal(low)} to {exact_decimal(high)} mm"
        return OrderField(
            key="tolerance", words=ORDER_WORDS["tolerance"], value=text, shown=text,
            how="worked out", source="parallel-grooved drum: common practice, no source",
            look="the drum maker's figure comes first",
        )  # fmt: skip
    try:
        found = diameter_tolerance(nominal, standard=_TOLERANCES)
    except InputError:
        return _asked("tolerance")
    low_percent, high_percent = (exact_decimal(x) for x in (found.low_percent, found.high_percent))
    text = (
        f"{low_percent} to +{high_percent} %, {exact_decimal(found.smallest_mm)} to "
        f"{exact_decimal(found.largest_mm)} mm"
    )
    return OrderField(
        key="tolerance", words=ORDER_WORDS["tolerance"], value=text, shown=text, how="worked out",
        source=f"{rigging.drum_grooving} drum: {_TOLERANCES} ({found.provenance})",
    )  # fmt: skip


def _drum_fields(dossier: Dossier, today: date) -> tuple[OrderField, ...]:
    rigging = dossier.rigging_at(today)
    grooving = None if rigging is None else rigging.drum_grooving
    layers = "" if rigging is None or rigging.drum_layers is None else f", {rigging.drum_layers}"
    hand = next(
        (
            one.value
            for one in dossier.installation.set_up
            if one.name == "drum hand" and isinstance(one.value, str)
        ),
        None,
    )
    return (
        _field(
            "drum_grooving", grooving, f"{grooving}{layers} layer" if layers else str(grooving),
            "" if rigging is None else f"set-up of {rigging.valid_from.isoformat()}",
        ),
        _field("drum_hand", hand, str(hand), "set-up as looked at"),
    )  # fmt: skip


def _hands_checked(fields: tuple[OrderField, ...]) -> tuple[OrderField, ...]:
    """A right-hand grooved drum takes left-hand lay rope and the other way round."""
    by_key = {one.key: one for one in fields}
    lay, drum = by_key["lay_hand"].value, by_key["drum_hand"].value
    if drum not in ("right", "left") or lay not in ("right", "left"):
        if drum == "not grooved":
            return fields
        look = "hold it against the drum: a right-hand groove takes left-hand lay, and the reverse"
    elif lay == drum:
        look = (
            f"a {drum}-hand grooved drum takes the other hand of lay: do not order before cleared"
        )
    else:
        return fields
    return tuple(replace(one, look=look) if one.key == "lay_hand" else one for one in fields)


def _needed_by(today: date, wish: OrderWish, forecast: RopeForecast | str | None) -> OrderField:
    key, words = "needed_by", ORDER_WORDS["needed_by"]
    if wish.needed_by is not None:
        by_forecast = _needed_by(today, replace(wish, needed_by=None), forecast)
        differs = by_forecast.how != TO_FILL and by_forecast.value != wish.needed_by
        looks = (
            _too_late(today, wish, wish.needed_by),
            f"instead of {by_forecast.shown}" if differs else "",
        )
        return OrderField(
            key=key, words=words, value=wish.needed_by, shown=_by_when(wish, wish.needed_by),
            how="stated", source=f"stated by {wish.stated_by or 'whoever made the order'}",
            look="; ".join(look for look in looks if look),
        )  # fmt: skip
    if forecast is None or isinstance(forecast, str):
        return OrderField(key=key, words=words, shown=forecast or "no forecast was made")
    found = forecast.forecast
    if found.state == "limit reached":
        return OrderField(
            key=key, words=words, value=today, shown=f"now: {found.because}", how="worked out",
            source="verdict",
        )  # fmt: skip
    early = None if found.band is None else found.band.early
    if early is None:
        return OrderField(key=key, words=words, shown=f"no date from the forecast: {found.because}")
    return OrderField(
        key=key, words=words, value=early, shown=_by_when(wish, early), how="worked out",
        source="forecast: the early end of when a limit may be passed",
        look=_too_late(today, wish, early),
    )  # fmt: skip


def _by_when(wish: OrderWish, needed: date) -> str:
    """The day it is needed, and the day to order it by where the delivery time is known."""
    if wish.lead_weeks is None:
        return needed.isoformat()
    order_by = needed - timedelta(days=float(wish.lead_weeks) * 7)
    return f"{needed.isoformat()}; order by {order_by.isoformat()}"


def _too_late(today: date, wish: OrderWish, needed: date) -> str:
    if wish.lead_weeks is None:
        return ""
    comes = today + timedelta(days=float(wish.lead_weeks) * 7)
    if comes <= needed:
        return ""
    return f"ordered today it comes about {comes.isoformat()}: {(comes - needed).days} days late"
