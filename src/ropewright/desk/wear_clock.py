"""A clock for the forecast that counts damage instead of days."""

from collections.abc import Sequence
from datetime import date

from ropewright.forecast import Clock
from ropewright.geometry import Section
from ropewright.inspection import Dossier
from ropewright.inspection.evidence import Evidence
from ropewright.wear.top_sections import top_sections
from ropewright.wear.wear_map import DutyPiece, WearMap, wear_map


def damage_clock(
    dossier: Dossier, pieces: Sequence[DutyPiece], worn: WearMap, evidence: Evidence
) -> tuple[Clock | None, Section | None]:
    """A clock that counts damage instead of days, at the place that matters for the forecast.

    That place is the cluster with the most broken wires, else the most worn section.  Between
    fitting and the log's first day the log's own pace is taken.

    Parameters
    ----------
    dossier
        Everything known of the rope.
    pieces
        The duty piece by piece.
    worn
        The map they make.
    evidence
        What counts on the day.
    """
    fitted = dossier.installation.fitted_on
    found = evidence.broken_wires()
    top = top_sections(worn, most=1)
    if fitted is None or not (found or top):
        return None, None
    if found:
        finding = max((one for one, _ in found), key=lambda one: one.count)
        place = finding.section.widened(max(finding.place.abs_err_m, 0.5))
    else:
        place = top[0].section
    place = _within(place, worn.in_service)
    added = [
        (piece, wear_map([piece], dossier.history.at(evidence.as_of)).total_in(place, worn))
        for piece in pieces
    ]
    days, whole = sum(piece.days for piece, _ in added), sum(damage for _, damage in added)
    if whole <= 0 or days <= 0:
        return None, place
    rate = whole / days
    readings: list[tuple[date, float]] = []
    total = rate * max((pieces[0].first - fitted).days, 0)
    if pieces[0].first > fitted:
        readings.append((pieces[0].first, total))
    for piece, damage in added:
        total += damage
        readings.append((min(piece.last, evidence.as_of), total))
    return Clock(fitted_on=fitted, readings=_one_a_day(readings), rate=rate), place


def _one_a_day(readings: Sequence[tuple[date, float]]) -> tuple[tuple[date, float], ...]:
    return tuple(sorted(dict(readings).items()))


def _within(place: Section, whole: Section) -> Section:
    low = min(max(place.from_m, whole.from_m), whole.to_m - 0.1)
    return Section(low, max(min(place.to_m, whole.to_m), low + 0.1))
