"""Numbers and places in the plain words of rulings."""

from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Final

from ropewright.geometry import Section
from ropewright.inspection.findings import Method
from ropewright.units import exact_decimal

#: Methods as they are said behind 'by'.
METHOD_WORDS: Final[Mapping[Method, str]] = {
    "eye": "eye", "eye-round": "eye all round", "feel": "hand", "gauge": "gauge",
    "internal": "internal examination", "mrt": "magnetic rope test",
}  # fmt: skip


def ways_words(ways: Iterable[Iterable[Method]]) -> str:
    """Ways to cover rope, each by one or several methods.

    Examples
    --------
    >>> ways_words([["eye-round"], ["eye", "feel"]])
    'eye all round, or eye and hand'
    """
    return ", or ".join(" and ".join(METHOD_WORDS[method] for method in way) for way in ways)


def number(value: Fraction | int) -> str:
    """An exact ``value`` [-] as text, without needless digits."""
    if isinstance(value, int):
        return str(value)
    if value.denominator == 1:
        return str(value.numerator)
    return _decimal(value)


@lru_cache(maxsize=4096)
def _decimal(value: Fraction) -> str:
    return exact_decimal(value)


def count_words(lower: int, upper: int) -> str:
    """A count that may be uncertain, such as ``3`` or ``between 2 and 5``."""
    return str(upper) if lower == upper else f"between {lower} and {upper}"


def place_words(section: Section, err_m: float) -> str:
    """A place with its error ``err_m`` [m], such as ``at 23.40 m ± 1.0 m``."""
    if section.length_m < 0.5:
        middle = (section.from_m + section.to_m) / 2
        where = f"at {middle:.2f} m"
    else:
        where = f"from {section.from_m:.1f} m to {section.to_m:.1f} m"
    return where if err_m == 0 else f"{where} ± {err_m:.1f} m"


def baseline_words(baseline: str) -> str:
    """What a diameter is compared with, in words."""
    if baseline == "measured in each third":
        return "baseline diameter, measured in each third when new"
    return f"{baseline} diameter"


def listing(words: tuple[str, ...] | list[str]) -> str:
    """Words joined as 'a, b and c'."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def threshold(limit: str, compare: str) -> str:
    """A limit with its comparison in words: ``4 or more``, or ``more than 5 %``."""
    return f"{limit} or more" if compare == "reached" else f"more than {limit}"
