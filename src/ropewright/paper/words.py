"""The report's short words: figures, places, limits, sources."""

from collections.abc import Iterable, Sequence
from datetime import date
from fractions import Fraction
from typing import Final

from ropewright.geometry import Section, covered_length
from ropewright.rules import Ruling, provenance_words
from ropewright.units import exact_decimal, fixed_decimal

MEMORY: Final = "from memory – check against your copy"
UNKNOWN: Final = "not stated"
HOLD: Final = "\u00a0"  # a space at which no line is broken

_SHORT: Final = {
    "text": "read in the rule",
    "second-hand": "second-hand",
    "derived": "worked out",
    "reconstructed": "reconstructed",
    "memory": "from memory",
    "own": "our own",
}
_RESULT_WORDS: Final = {
    "reached": "reached",
    "below": "not reached",
    "not assessable": "cannot be judged yet",
    "not applicable": "does not apply",
    "not in force": "not in force",
}


def number(value: Fraction) -> str:
    """The number ``value`` [-] in at most three decimals, without needless digits."""
    if (value * 1000).denominator == 1:
        return exact_decimal(value)
    return f"≈ {fixed_decimal(value, 3)}"


def metres(value_m: float) -> str:
    """A rope position or length ``value_m`` [m], to the centimetre."""
    return f"{value_m:.2f}".rstrip("0").rstrip(".") + f"{HOLD}m"


def sections(pieces: Iterable[Section], most: int = 6) -> str:
    """Sections in words; beyond ``most`` only how many more there are."""
    shown = sorted(pieces)
    words = [f"{metres(one.from_m)} to {metres(one.to_m)}" for one in shown[:most]]
    more = f" and {len(shown) - most} more" if len(shown) > most else ""
    return ", ".join(words) + more


def place(section: Section | None, err_m: float) -> str:
    """Where a ruling or finding lies, with its error ``err_m`` [m]."""
    if section is None:
        return "no single place"
    if section.length_m < 0.005:
        where = f"at {metres(section.from_m)}"
    else:
        where = f"{metres(section.from_m)} to {metres(section.to_m)}"
    return f"{where} ±{HOLD}{metres(err_m)}" if err_m else where


def short_place(section: Section | None, err_m: float) -> str:
    """The same as `place`, in the fewest letters; ``err_m`` [m] is the error."""
    if section is None:
        return "–"
    start = metres(section.from_m)
    where = start if section.length_m < 0.005 else f"{start[:-2]}–{metres(section.to_m)}"
    return f"{where} ±{HOLD}{metres(err_m)}" if err_m else where


def share_of(pieces: Sequence[Section], whole: Section) -> str:
    """Length of sections and their share of the rope in service."""
    length = covered_length(pieces)
    percent = 100 * length / whole.length_m if whole.length_m else 0.0
    return f"{metres(length)} ({percent:.0f}{HOLD}%)"


def day(value: date | None) -> str:
    """A date as year, month, day."""
    return UNKNOWN if value is None else value.isoformat()


def cut(words: str, most: int) -> str:
    """The words, or their start with an ellipsis; the record holds the whole."""
    return words if len(words) <= most else words[: most - 1].rstrip() + "…"


def edition(words: str) -> str:
    """An edition without what is said of it in brackets."""
    return words.partition(" (")[0]


def first_up(text: str) -> str:
    """The text with its first letter as a capital."""
    return text[:1].upper() + text[1:]


def listing(words: Sequence[str]) -> str:
    """Words joined as 'a, b and c'."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def result(ruling: Ruling) -> str:
    """What became of a clause, in the trade's words."""
    if ruling.status == "reached":
        return f"reached: {ruling.level}"
    return _RESULT_WORDS[ruling.status]


def found(ruling: Ruling) -> str:
    """What was counted or measured, with its window."""
    if ruling.found is None:
        return ruling.words
    low, high = number(ruling.found.lower), number(ruling.found.upper)
    value = high if ruling.found.is_exact else f"{low} (sure) to {high} (possible)"
    window = ""
    if ruling.window:
        length = f" = {number(ruling.window_mm)} mm" if ruling.window_mm is not None else ""
        window = f" in {ruling.window}{length}"
    baseline = f", against the {ruling.baseline}" if ruling.baseline else ""
    return f"{value} {ruling.found.unit}{window}{baseline}"


def limit(ruling: Ruling, *, unit: bool = True) -> str:
    """The limit, how it is compared, and the share of it that was found."""
    if ruling.limit is None:
        return ""
    named = f" {ruling.found.unit}" if ruling.found is not None and unit else ""
    value = f"{number(ruling.limit)}{named}"
    plain = ruling.compare in ("more than", "less than")
    words = f"{ruling.compare} {value}" if plain else f"{value} or more"
    if ruling.share is None:
        return words
    percent = fixed_decimal(ruling.share * 100, 0)
    return f"{words} (found: {percent} % of it)" if unit else f"{words} ({percent} %)"


def is_from_memory(ruling: Ruling) -> bool:
    """Whether the value itself was read nowhere."""
    return ruling.provenance == "memory" and not ruling.confirmed


def source(ruling: Ruling) -> str:
    """Where value and clause number come from."""
    value, clause = _from(ruling.provenance), _from(ruling.clause_provenance)
    if ruling.confirmed:
        return ruling.confirmed
    if value == clause:
        return f"value and clause number {value}"
    return f"value {value}; clause number {clause}"


def short_source(ruling: Ruling) -> str:
    """The same in the fewest words."""
    value, clause = _SHORT[ruling.provenance], _SHORT[ruling.clause_provenance]
    if ruling.confirmed:
        return f"{value}, confirmed"
    return value if value == clause else f"{value}; clause {clause}"


def _from(provenance: str) -> str:
    return MEMORY if provenance == "memory" else provenance_words(provenance)
