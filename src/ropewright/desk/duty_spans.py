"""Days of a log over which set-up, rope and month stay the same, in the site's own time."""

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from ropewright.errors import InputError
from ropewright.inspection import Dossier


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """Days over which set-up, rope and month stay the same: ``start_ms`` [ms] to ``end_ms`` [ms].

    The times count from 1970, UTC; ``end_ms`` no longer belongs to it.
    """

    first: date
    last: date
    start_ms: int
    end_ms: int
    group: int


def zone_of(dossier: Dossier) -> ZoneInfo:
    """The site's time zone; UTC where none is stated.

    Raises
    ------
    InputError
        If there is no such zone.
    """
    name = dossier.crane.zone or "UTC"
    try:
        return ZoneInfo(name)
    except (KeyError, ValueError, OSError):
        raise InputError(
            field="crane.zone", expected="a time zone such as Europe/Oslo", given=name
        ) from None


def spans_between(dossier: Dossier, first: date, last: date) -> tuple[Span, ...]:
    """Days from a first to a last one, parted where set-up, rope or month changes.

    A cut or turn counts from the beginning of its day.

    Parameters
    ----------
    dossier
        The rope with its set-ups and its history.
    first, last
        The days, both included.
    """
    zone = zone_of(dossier)
    new_group = {one.valid_from for one in dossier.rigging}
    new_group |= {step.on for step in dossier.history.steps}
    begins = {first, *(day for day in new_group if first < day <= last)}
    month = first.replace(day=1)
    while month <= last:
        if month > first:
            begins.add(month)
        month = (month + timedelta(days=32)).replace(day=1)
    days = sorted(begins)
    spans: list[Span] = []
    group = 0
    for number, day in enumerate(days):
        group += day in new_group and number > 0
        beyond = days[number + 1] if number + 1 < len(days) else last + timedelta(days=1)
        spans.append(
            Span(
                first=day,
                last=beyond - timedelta(days=1),
                start_ms=_midnight_ms(day, zone),
                end_ms=_midnight_ms(beyond, zone),
                group=group,
            )
        )
    return tuple(spans)


def _midnight_ms(day: date, zone: ZoneInfo) -> int:
    return round(datetime.combine(day, time(), zone).astimezone(UTC).timestamp() * 1000)
