"""Templates and what they may call: places and days in words, signs for levels."""

from collections.abc import Mapping
from datetime import date, datetime
from fractions import Fraction
from typing import Final

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from ropewright.units import exact_decimal, fixed_decimal
from ropewright.web.catalogue import Catalogue
from ropewright.web.readable import day_words, said_days, short_figures
from ropewright.web.us_units import either, in_units

#: One shape for each level, so that no colour is needed to tell them apart.
LEVEL_SIGNS: Final[Mapping[str, str]] = {
    "remove": '<path d="M3 3h14v14H3z" fill="currentColor"/>'
    '<path d="M6 6l8 8M14 6l-8 8" stroke="var(--paper)" stroke-width="2"/>',
    "decide": '<path d="M10 1l9 9-9 9-9-9z" fill="currentColor"/>'
    '<path d="M10 5.5v6M10 13v2" stroke="var(--paper)" stroke-width="2"/>',
    "incomplete": '<circle cx="10" cy="10" r="7.5" fill="none" stroke="currentColor" '
    'stroke-width="2.5" stroke-dasharray="4.4 3.4"/>',
    "monitor": '<circle cx="10" cy="10" r="7.5" fill="none" stroke="currentColor" '
    'stroke-width="2"/><circle cx="10" cy="10" r="3" fill="currentColor"/>',
    "clear": '<path d="M2 10h16" stroke="currentColor" stroke-width="2.5"/>',
    "none": '<path d="M10 2l9 16H1z" fill="none" stroke="currentColor" stroke-width="2"/>',
}


def level_sign(level: str | None) -> Markup:
    """The shape of a level, to stand before its words."""
    inner = LEVEL_SIGNS[level or "none"]
    return Markup(
        f'<svg class="sign" viewBox="0 0 20 20" width="20" height="20" aria-hidden="true">'
        f"{inner}</svg>"
    )


def day(value: date | str | None) -> str:
    """A day as 9 Nov 2026."""
    if value is None or value == "":
        return "–"
    if isinstance(value, str):
        value = date.fromisoformat(value)
    return day_words(value)


def moment(value: datetime | None) -> str:
    """A moment as 9 Nov 2026 07:30 UTC."""
    return "–" if value is None else f"{value.day} {value:%b %Y %H:%M} UTC"


def place(value: float | None, units: str = "metric") -> str:
    """A place along the rope, ``value`` [m] from end A, in the person's units."""
    if value is None:
        return "–"
    if units == "us":
        return f"{value / 0.3048:.1f} ft"
    return f"{value:.1f} m"


def typed_place(value: float, units: str = "metric") -> str:
    """A place ``value`` [m] as it would be typed, in feet to a hundredth or metres to a tenth."""
    return f"{value / 0.3048:.2f} ft" if units == "us" else f"{value:.1f} m"


def exact(value: Fraction | int | None) -> str:
    """An exact number ``value`` [-] as a decimal."""
    return "–" if value is None else exact_decimal(Fraction(value))


def rounded(value: Fraction | int | None, digits: int = 2) -> str:
    """An exact number ``value`` [-] in so many decimals, for reading only."""
    return "–" if value is None else fixed_decimal(Fraction(value), digits)


def headed(words: str) -> str:
    """Words with a capital at their head; the rest stays."""
    return words[:1].upper() + words[1:]


def percent(value: Fraction | float | None) -> str:
    """A share ``value`` [-] as a percentage."""
    return "" if value is None else f"{float(value) * 100:.0f} %"


def environment(texts: Catalogue, software: str) -> Environment:
    """The templates, with everything escaped that a person typed."""
    made = Environment(
        loader=PackageLoader("ropewright.web", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )

    def level_words(level: str | None) -> str:
        return texts[f"level.{level or 'none'}"]

    made.globals.update(
        t=texts.t, tn=texts.tn, word=texts.word, sign=level_sign, level_words=level_words,
        software=software, either=either,
    )  # fmt: skip
    made.filters.update(
        day=day,
        moment=moment,
        place=place,
        in_units=in_units,
        typed_place=typed_place,
        exact=exact,
        headed=headed,
        rounded=rounded,
        said_days=said_days,
        short_figures=short_figures,
        percent=percent,
        svg=Markup,
    )
    return made
