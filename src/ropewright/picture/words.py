"""The short words of the pictures: places, days, findings, counts and limits."""

from datetime import date
from fractions import Fraction

from ropewright.geometry import RopePlace, Section
from ropewright.inspection import (
    BrokenWires,
    Damage,
    DiameterReading,
    Inspection,
    MetallicLoss,
    RopeFinding,
    Waviness,
)
from ropewright.rules.ruling import Ruling
from ropewright.units import exact_decimal, fixed_decimal


def short_number(value: Fraction) -> str:
    """The number ``value`` [-] in at most two decimals, without needless digits."""
    if (value * 100).denominator == 1:
        return exact_decimal(value)
    return fixed_decimal(value, 2)


def metres_words(place_m: float) -> str:
    """A rope position ``place_m`` [m] to the centimetre, without needless zeros."""
    return f"{place_m:.2f}".rstrip("0").rstrip(".")


def section_words(section: Section) -> str:
    """A section in words: 'at 23.4 m' or '12 m to 31.5 m'."""
    if section.length_m < 0.5:
        return f"at {metres_words((section.from_m + section.to_m) / 2)} m"
    return f"{metres_words(section.from_m)} m to {metres_words(section.to_m)} m"


def day_words(day: date) -> str:
    """A day as 9 Nov 2026."""
    return f"{day.day} {day:%b %Y}"


def ago_words(days: int) -> str:
    """How long ago something was, ``days`` [d] before, rounded where it is long ago."""
    if days <= 1:
        return "today" if days <= 0 else "1 day ago"
    if days < 100:
        return f"{days} days ago"
    if days < 730:
        return f"about {round(days * 12 / 365.25)} months ago"
    return f"about {days / 365.25:.1f} years ago"


def error_words(err_m: float) -> str:
    """The error ``err_m`` [m] of a place, with its sign; nothing for none."""
    return f" ± {metres_words(err_m)} m" if err_m else ""


def place_words(place: RopePlace) -> str:
    """A rope position with its error."""
    return f"{metres_words(place.at_m)} m{error_words(place.abs_err_m)}"


def wires(count: int) -> str:
    """'1 broken wire', '7 broken wires'."""
    return f"{count} broken wire{'' if count == 1 else 's'}"


def finding_words(finding: RopeFinding) -> str:
    """What was found, in a few words, without its place."""
    if isinstance(finding, BrokenWires):
        return wires(finding.count)
    if isinstance(finding, DiameterReading):
        return " / ".join(short_number(value) for value in finding.readings_mm) + " mm"
    if isinstance(finding, Waviness):
        return f"waviness, gap {short_number(finding.gap_mm)} mm"
    if isinstance(finding, MetallicLoss):
        return f"{short_number(finding.percent)} % of the {finding.of} lost"
    return ", ".join(word for word in (finding.kind, finding.form, finding.grade) if word)


def finding_title(finding: RopeFinding, inspection: Inspection) -> str:
    """A finding with its id, its place, how and when it was found."""
    how = f" by {finding.method}" if finding.method else ""
    words = f"{finding.finding_id}: {finding_words(finding)} at {place_words(finding.place)}"
    length = ""
    if isinstance(finding, Damage | Waviness) and finding.length_m:
        length = f" over {metres_words(finding.length_m)} m"
    return f"{words}{length}, found{how} on {inspection.on.isoformat()}"


def count_words(ruling: Ruling) -> str:
    """What a ruling counted or measured against its limit: '5 in 6 d, limit 4'."""
    found = ruling.found
    if found is None:
        return ruling.title
    number = short_number(found.upper)
    if not found.is_exact:
        number = f"{short_number(found.lower)}–{short_number(found.upper)}"
    unit = "" if ruling.window else f" {found.unit}"
    window = f" in {ruling.window}" if ruling.window else ""
    over = "more than " if ruling.compare == "more than" else ""
    limit = f", limit {over}{short_number(ruling.limit)}" if ruling.limit is not None else ""
    return f"{number}{unit}{window}{limit}"


def ruling_title(ruling: Ruling) -> str:
    """A ruling with its rule, edition, clause, status and place."""
    where = ""
    if ruling.section is not None:
        where = f", {section_words(ruling.section)}{error_words(ruling.section_err_m)}"
    return f"{ruling.citation}: {ruling.words} ({ruling.status}){where}"
