"""One sentence why, and what would lengthen the interval."""

from collections.abc import Sequence

from ropewright.forecast.result import Forecast
from ropewright.forecast.zone import Zone


def percent(chance: float) -> str:
    """A chance [-] as a percentage in words, never rounded down to nothing."""
    if chance >= 0.9995:
        return "more than 99.9 %"
    if chance < 0.0005:
        return "less than 0.1 %"
    shown = f"{chance * 100:.1f}" if chance < 0.1 else f"{chance * 100:.0f}"
    return f"{shown} %"


def span(days: float | None) -> str:
    """A number of ``days`` [days] in the unit people would use."""
    if days is None:
        return "more than a hundred years"
    if days < 1:
        return "less than a day"
    if days < 60:
        return f"{days:.0f} days"
    if days < 730:
        return f"{days / 30.4375:.0f} months"
    return f"{days / 365.25:.1f} years"


def because(result: Forecast, zones: Sequence[Zone]) -> str:
    """Why the next inspection is when it is, in one sentence."""
    known = sum(zone.known for zone in zones if not zone.gone)
    found = _found(zones)
    half = (
        ""
        if not result.unseen or result.unseen < 0.5
        else (f", and about {result.unseen:.0f} more may be there unseen")
    )
    start = f"Because {found}{half}"
    if result.state == "look closer now":
        return (
            f"{start}: the chance that a limit is reached today but not seen is "
            f"{percent(result.present_chance or 0.0)}."
        )
    if result.bounded_by == "this forecast":
        return (
            f"{start}: after {span(result.lead_days)} the chance of having passed "
            f"{result.governing} would be more than {result.alpha * 100:g} %."
        )
    if result.state == "not assessable":
        return f"{start}; but nobody has stated the interval that must not be passed."
    longer = "could wait longer" if known == 0 else "would not need it sooner"
    return f"{start}, the forecast {longer}, and it never goes beyond {result.bounded_by}."


def _found(zones: Sequence[Zone]) -> str:
    here = [zone for zone in zones if not zone.gone]
    known = sum(zone.known for zone in here)
    looks = [look for zone in here for look in zone.looks]
    if not looks:
        return "nobody has looked at this rope yet"
    if known == 0:
        return f"no broken wire was found in {_times(max(len(zone.looks) for zone in here))}"
    last = max(look.clock for look in looks)
    new = sum(look.new for look in looks if look.clock == last)
    if known == 1:
        return "1 broken wire is known, " + ("found at the last look" if new else "not a new one")
    newly = "none of them new" if new == 0 else f"{new} of them new at the last look"
    return f"{known} broken wires are known, {newly}"


def _times(count: int) -> str:
    return "one look" if count == 1 else f"{count} looks"


def what_would_lengthen(
    result: Forecast, zones: Sequence[Zone], hopeful: float | None, room: float | None
) -> str:
    """What would give a later date, with the figure for a clean hand pass today.

    Parameters
    ----------
    result
        The forecast so far.
    zones
        The zones it was made from.
    hopeful
        Days the model would give after a hand pass today that finds nothing new [days].
    room
        Days until the next inspection is due in any case [days].
    """
    lead = result.lead_days
    if room is not None and (lead is None or lead >= room):
        return f"nothing: {result.bounded_by or 'the stated interval'} bounds it"
    if lead is not None and lead == hopeful and all(zone.known == 0 for zone in zones):
        return "nothing: a clean rope past half its usual life is never given longer"
    parts: list[str] = []
    if room is not None:
        hopeful = room if hopeful is None else min(hopeful, room)
    if lead is not None and (hopeful is None or hopeful > max(1.0, lead * 1.1)):
        parts.append(
            f"a hand pass today that finds nothing new would allow {span(hopeful)} "
            f"instead of {span(lead)}"
        )
    if any(zone.known and not zone.marked for zone in zones):
        parts.append("marks beside the breaks, so that new ones can be told from old")
    if result.prior.life_from.endswith("not stated"):
        parts.append("stating the usual life of ropes on this hoist")
    return "; ".join(parts) or "nothing that is known here"
