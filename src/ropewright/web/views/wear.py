"""Where a rope is worn, and whether a cut helps: the page's lines."""

from collections.abc import Iterator
from dataclasses import dataclass

from ropewright.desk.cutting import CutAdvice, CutOption
from ropewright.desk.wear_words import agreement_words, duty_words, opinion_words, quality_lines
from ropewright.desk.worn import Worn, WornPlace
from ropewright.geometry import Section


@dataclass(frozen=True, slots=True, kw_only=True)
class WornLine:
    """One worn section.  ``mean`` [-] and ``most`` [-] are in full bends; ``look`` says how."""

    number: int
    section: Section
    mean: str
    most: str
    words: str
    place: str
    look: tuple[str, ...]
    why_not: str
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLine:
    """One way to cut or turn, in words."""

    words: str
    gains: str
    by_models: tuple[str, ...]
    why: tuple[str, ...]
    labour: tuple[str, ...]
    after: str
    gone: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WearView:
    """The whole answer.

    ``days_ahead`` [days] is how far cuts were looked at; ``answer`` is there where none helps or
    none could be worked out.
    """

    duty: str
    logs: tuple[str, ...]
    quality: tuple[str, ...]
    worn: tuple[WornLine, ...]
    agreement: str
    opinion: str
    others: tuple[str, ...]
    model: str
    notes: tuple[str, ...]
    days_ahead: int
    verdict_first: str
    spare: str
    answer: str
    cuts: tuple[CutLine, ...]
    cautions: tuple[str, ...]


def wear_view(worn: Worn) -> WearView:
    """Put the answer together.

    Parameters
    ----------
    worn
        What was worked out.
    """
    found, advice = worn.found, worn.advice
    return WearView(
        duty=duty_words(found),
        logs=found.log,
        quality=quality_lines(found.duty.quality),
        worn=tuple(_line(number, one) for number, one in enumerate(worn.places, 1)),
        agreement=agreement_words(found.agreement),
        opinion=opinion_words(found.opinion),
        others=tuple(
            f"{one.card.title}: no answer; {one.why_not}"
            if one.worst is None
            else f"{one.card.title}: worst at {one.worst.section.from_m:.0f} to "
            f"{one.worst.section.to_m:.0f} m"
            for one in found.others
        ),
        model=f"{found.card.title}: {found.card.words}",
        notes=found.notes + (() if found.opinion.count is None else found.opinion.count.notes),
        days_ahead=round(advice.period_days),
        verdict_first=advice.verdict_first,
        spare=_spare(advice),
        answer=advice.why_not or ("" if advice.options else advice.nothing),
        cuts=tuple(_cut(one) for one in advice.options),
        cautions=advice.cautions,
    )


def _line(number: int, one: WornPlace) -> WornLine:
    return WornLine(
        number=number, section=one.worn.section, mean=f"{one.worn.mean:,.0f}",
        most=f"{one.worn.most:,.0f}", words=one.worn.words,
        place="" if one.first is None else one.first.place, look=tuple(_look(one)),
        why_not=one.why_not, cautions=one.cautions,
    )  # fmt: skip


def _look(one: WornPlace) -> Iterator[str]:
    if one.first is not None:
        yield one.first.words
    if one.last is not None:
        yield f"to {one.last.words}"


def _spare(advice: CutAdvice) -> str:
    if advice.plan is None:
        return ""
    limits = advice.plan.limits
    return (
        f"{limits.spare_m:.1f} m: {limits.least_on_drum_m:.1f} m are on the drum with the hook at "
        f"its lowest, {limits.dead_wraps:g} wraps must stay"
    )


def _cut(one: CutOption) -> CutLine:
    least = max(one.result.gained_least_days, 0.0)
    return CutLine(
        words=one.words,
        gains=f"{one.result.gained_days:.0f} days, {least:.0f} at least if the drum's measures are "
        "a little off",
        by_models=tuple(f"{title} {days:+.0f} days" for title, days in one.by_models),
        why=one.why,
        labour=one.labour,
        after=f"the hook hangs {one.hook_higher_m:.2f} m higher at the same drum position"
        if one.hook_higher_m
        else "",
        gone=one.findings_gone,
    )
