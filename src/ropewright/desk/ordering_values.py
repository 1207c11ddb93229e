"""Fields of an order as a person types them."""

from collections.abc import Callable, Iterable, Mapping
from datetime import date
from typing import Final

from ropewright.desk.ordering import ORDER_WORDS
from ropewright.desk.ordering_model import OrderValue
from ropewright.errors import InputError, UnknownNameError
from ropewright.units import (
    metres,
    parse_force,
    parse_length,
    parse_mass,
    parse_number,
    parse_stress,
)

_LONGEST: Final = 500


def _one_of(*words: str) -> Callable[[str], OrderValue]:
    def read(text: str) -> OrderValue:
        if text not in words:
            raise InputError(expected="one of " + ", ".join(words), given=text)
        return text

    return read


def _yes_no(text: str) -> OrderValue:
    known = {"yes": True, "no": False}
    if text.casefold() not in known:
        raise InputError(expected="yes or no", given=text)
    return known[text.casefold()]


def _day(text: str) -> OrderValue:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise InputError(expected="a day like 2026-11-10", given=text) from None


def _text(text: str) -> OrderValue:
    if not text.isprintable() or len(text) > _LONGEST:
        raise InputError(expected=f"up to {_LONGEST} printable characters", given=text)
    return text


_READERS: Final[Mapping[str, Callable[[str], OrderValue]]] = {
    "length_m": lambda text: metres(parse_length(text)),
    "diameter_mm": parse_length,
    "reel_bore_mm": parse_length,
    "grade_n_per_mm2": parse_stress,
    "breaking_force_kn": parse_force,
    "reel_mass_kg": parse_mass,
    "lead_weeks": parse_number,
    "needed_by": _day,
    "lay_hand": _one_of("right", "left"),
    "lay_type": _one_of("ordinary", "lang"),
    "drum_hand": _one_of("right", "left", "not grooved"),
    "drum_grooving": _one_of("smooth", "helical", "parallel"),
    "rotation_resistant": _yes_no,
    "plastic_core": _yes_no,
    "compacted": _yes_no,
}


def read_order_values(texts: Iterable[str]) -> dict[str, OrderValue]:
    """Fields stated as ``KEY=VALUE``; the key may be the field's words.

    Returns
    -------
    dict
        Values by key, in the unit the key names [-].

    Raises
    ------
    UnknownNameError
        If an order has no such field.
    InputError
        If a value cannot be read; names the field.

    Examples
    --------
    >>> read_order_values(["end_b=fused and tapered", "Lay: right or left hand=left"])
    {'end_b': 'fused and tapered', 'lay_hand': 'left'}
    """
    by_words = {words.casefold(): key for key, words in ORDER_WORDS.items()}
    stated: dict[str, OrderValue] = {}
    for text in texts:
        name, mark, value = (part.strip() for part in text.partition("="))
        if not mark or not value:
            raise InputError(field="--set", expected="KEY=VALUE", given=text)
        key = by_words.get(name.casefold(), name)
        if key not in ORDER_WORDS:
            raise UnknownNameError(
                what="a field of an order", given=name, known=ORDER_WORDS, field="--set"
            )
        try:
            stated[key] = _READERS.get(key, _text)(value)
        except InputError as error:
            error.field = f"--set {key}"
            raise
    return stated
