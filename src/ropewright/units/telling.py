"""Metric figures inside a sentence, told in feet, inches and pounds to who thinks in those.

A sentence that is part of a record keeps its words and gets the other figure in brackets; a
sentence that only advises is told in the other units.  Both leave alone what only looks like a
figure: editions and clauses, dates, ids, '6 d', speeds, stresses, numbers with a comma, what
stands in both units already.
"""

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from ropewright.units.kinds import FOOT_MM, INCH_MM, POUND_FORCE_KN, POUND_KG
from ropewright.units.showing import fixed_decimal, show_feet_inches, show_inches


@dataclass(frozen=True, slots=True, kw_only=True)
class _Other:
    """A US unit: ``per`` [-] of it in one metric unit; ``steps`` are powers of ten [-].

    The figure is written in no finer step than the first and no coarser one than the second.
    """

    name: str
    per: Fraction
    steps: tuple[int, int]


_OTHERS: Final[Mapping[str, _Other]] = MappingProxyType(
    {
        "m": _Other(name="ft", per=1000 / FOOT_MM, steps=(-3, 0)),
        "mm": _Other(name="in", per=1 / INCH_MM, steps=(-4, -3)),
        "cm": _Other(name="in", per=10 / INCH_MM, steps=(-4, -2)),
        "kg": _Other(name="lb", per=1 / POUND_KG, steps=(-3, 0)),
        "t": _Other(name="lb", per=1000 / POUND_KG, steps=(-3, 0)),
        "kN": _Other(name="lbf", per=1 / POUND_FORCE_KN, steps=(0, 2)),
    }
)
#: A whole number of metres, kilograms or kilonewtons still shows so many digits.
_LEAST_DIGITS: Final = 3

_GAP: Final = "[ \u00a0\u2009\u202f]?"
_NUMBER: Final = r"[-−+]?[0-9]+(?:\.[0-9]+)?…?"
_UNIT: Final = r"(?:mm|cm|m|kg|kN|t)(?![\w/²³^·])"
_JOIN: Final = r"(?: to | and | ± |–)"
_FIGURES: Final = re.compile(
    rf"(?<![\w.,/…−-])(?:{_NUMBER}(?:{_GAP}{_UNIT})?{_JOIN})*{_NUMBER}{_GAP}{_UNIT}"
)
_ONE: Final = re.compile(rf"({_NUMBER})(?:({_GAP})({_UNIT}))?")
_SINGLE: Final = re.compile(rf"(?<![\w.,/…−-])({_NUMBER})({_GAP})({_UNIT})")
_US: Final = r"(?:ft|in|lb|lbf)"
_SAID_AFTER: Final = re.compile(rf" (?:\([^()]*[0-9] ?{_US}\)|= [0-9][^=()]* {_US}\b)")
_SAID_BEFORE: Final = re.compile(rf"[0-9] ?{_US} \((?:± )?$")
#: Before a figure: another number that may belong to it, as in a list or a product.
_MORE_BEFORE: Final = re.compile(r"[0-9)] ?(?:[,;/×·*+=−-]|or) ?$")


def us_beside(text: str) -> str:
    """The text with US units in brackets after each metric figure; its own words stay.

    Parameters
    ----------
    text
        A sentence; figures in m, mm, cm, kg, t or kN, ranges and ± among them.

    Examples
    --------
    >>> us_beside("2 broken wires in 6 d at 41.2 m ± 0.5 m")
    '2 broken wires in 6 d at 41.2 m ± 0.5 m (135.2 ft ± 1.6 ft)'
    """
    return _told(text, lambda found, other, _: f"{found} ({other})")


def in_us(text: str) -> str:
    """The text with its metric figures told in US units instead.

    Where a number before a figure may belong to it ('5 × 1.5 m', '3, 4 m'), the metric figure
    stays and the other one stands in brackets.

    Parameters
    ----------
    text
        A sentence; figures in m, mm, cm, kg, t or kN, ranges and ± among them.

    Examples
    --------
    >>> in_us("hook 14.0 to 17.0 m, radius 30 m")
    'hook 45.9 to 55.8 ft, radius 98.4 ft'
    """
    return _told(text, lambda found, other, more: f"{found} ({other})" if more else other)


def us_figures(text: str) -> tuple[str, ...]:
    """Each metric figure of a text with the other one, for a place beside it.

    Examples
    --------
    >>> us_figures("hoist rope, safe working load 8 t; 20.4 to 20.8 mm")
    ('8 t = 17637 lb', '20.4 to 20.8 mm = 0.803 to 0.819 in')
    """
    return tuple(f"{one[0]} = {_other(one[0])}" for one in _FIGURES.finditer(text))


def _told(text: str, say: Callable[[str, str, bool], str]) -> str:
    def one(match: re.Match[str]) -> str:
        before = text[max(0, match.start() - 12) : match.start()]
        if _SAID_AFTER.match(text, match.end()) or _SAID_BEFORE.search(before):
            return match[0]
        return say(match[0], _other(match[0]), bool(_MORE_BEFORE.search(before)))

    return _FIGURES.sub(one, text)


def _other(figures: str) -> str:
    """Figures that belong together in the other units; each takes its own or the next unit."""
    parts = list(_ONE.finditer(figures))
    unit = ""
    units = []
    for part in reversed(parts):
        unit = part[3] or unit
        units.append(unit)
    made, done = [], 0
    for part, each in zip(parts, reversed(units), strict=True):
        made.append(figures[done : part.start()])
        made.append(_figure(part[1], _OTHERS[each]))
        if part[3]:
            made.append(f"{part[2]}{_OTHERS[each].name}")
        done = part.end()
    return "".join(made)


def _figure(number: str, other: _Other) -> str:
    """A number as written, in the other unit, in the step that is next below the metric one."""
    sign, digits = (number[0], number[1:]) if number[0] in "-−+" else ("", number)
    plain = digits.rstrip("…")
    value = Fraction(plain) * other.per
    _, _, decimals = plain.partition(".")
    finest, coarsest = other.steps
    step = math.floor(math.log10(other.per)) - len(decimals)
    if not decimals and value:
        step = min(step, math.floor(math.log10(value)) - _LEAST_DIGITS + 1)
    step = max(finest, min(coarsest, step))
    shown = fixed_decimal(value, -step) if step <= 0 else _to_tens(value, step)
    return f"{sign if shown.strip('0.') else ''}{shown}"


def _to_tens(value: Fraction, step: int) -> str:
    return str(math.floor(value / 10**step + Fraction(1, 2)) * 10**step)


def exact_in_us(text: str) -> str:
    """A length as typed, in feet or inches to 1/64 if that is exact; else as it was.

    Examples
    --------
    >>> exact_in_us("23.3934 m"), exact_in_us("508 mm"), exact_in_us("0.4 m")
    ('76 ft 9 in', '20 in', '0.4 m')
    """
    match = _ONE.fullmatch(text)
    if match is None or match[3] not in ("m", "mm"):
        return text
    length_mm = Fraction(match[1]) * (1000 if match[3] == "m" else 1)
    if not length_mm:
        return "0 ft" if match[3] == "m" else "0 in"
    shown = show_feet_inches(length_mm) if match[3] == "m" else show_inches(length_mm)
    return text if shown.startswith("≈") else shown


def us_example(text: str) -> str:
    """Words with an example of what to type, the example as the trade writes it in US units.

    Such an example stands for no figure: it is rounded to what is handy.

    Examples
    --------
    >>> us_example("like 23.4 m"), us_example("like 480 mm"), us_example("like 8 t, block included")
    ('like 76 ft 9 in', 'like 18 7/8 in', 'like 17600 lb, block included')
    """
    return _SINGLE.sub(lambda match: _handy(match[1], match[3]), text)


def _handy(number: str, unit: str) -> str:
    other = _OTHERS[unit]
    value = Fraction(number.rstrip("…")) * other.per
    if unit == "m":
        if "." not in number:
            return f"{round(value)} ft"
        return show_feet_inches(round(value * 12) * INCH_MM)
    if other.name == "in":
        return show_inches(Fraction(round(value * 8), 8) * INCH_MM)
    return f"{_to_tens(value, 2 if value >= 1000 else 1)} {other.name}"
