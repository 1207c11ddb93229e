"""Where a rope is worn, and whether a cut helps: the page's lines."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from ropewright.desk.cutting import CutAdvice, CutOption
from ropewright.desk.wear_words import agreement_words, duty_words, opinion_words, quality_lines
from ropewright.desk.worn import Worn, WornPlace
from ropewright.geometry import Section
from ropewright.units import in_us
from ropewright.web.catalogue import Catalogue


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


def wear_view(worn: Worn, texts: Catalogue, units: str = "metric") -> WearView:
    """Put the answer together.

    Parameters
    ----------
    worn
        What was worked out.
    texts
        The words of the pages.
    units
        The person's units.
    """
    say = partial(_told, units)
    found, advice = worn.found, worn.advice
    counted = found.opinion.count
    return WearView(
        duty=duty_words(found),
        logs=found.log,
        quality=quality_lines(found.duty.quality),
        worn=tuple(_line(number, one, texts, units) for number, one in enumerate(worn.places, 1)),
        agreement=agreement_words(found.agreement),
        opinion=opinion_words(found.opinion),
        others=tuple(
            texts.t("wear.no-answer", model=one.card.title, why=one.why_not)
            if one.worst is None
            else say(
                texts.t(
                    "wear.worst-at",
                    model=one.card.title,
                    low=f"{one.worst.section.from_m:.0f}",
                    high=f"{one.worst.section.to_m:.0f}",
                )
            )
            for one in found.others
        ),
        model=f"{found.card.title}: {found.card.words}",
        notes=tuple(map(say, (*found.notes, *(() if counted is None else counted.notes)))),
        days_ahead=round(advice.period_days),
        verdict_first=advice.verdict_first,
        spare=say(_spare(advice, texts)),
        answer=say(advice.why_not or ("" if advice.options else advice.nothing)),
        cuts=tuple(_cut(one, texts, units) for one in advice.options),
        cautions=tuple(map(say, advice.cautions)),
    )


def _told(units: str, words: str) -> str:
    """Advice in the person's units."""
    return in_us(words) if units == "us" else words


def _line(number: int, one: WornPlace, texts: Catalogue, units: str) -> WornLine:
    say = partial(_told, units)
    return WornLine(
        number=number, section=one.worn.section, mean=f"{one.worn.mean:,.0f}",
        most=f"{one.worn.most:,.0f}", words=one.worn.words,
        place="" if one.first is None else one.first.place, look=tuple(map(say, _look(one, texts))),
        why_not=say(one.why_not), cautions=tuple(map(say, one.cautions)),
    )  # fmt: skip


def _look(one: WornPlace, texts: Catalogue) -> Iterator[str]:
    if one.first is not None:
        yield one.first.words
    if one.last is not None:
        yield texts.t("wear.look-to", crane=one.last.words)


def _spare(advice: CutAdvice, texts: Catalogue) -> str:
    if advice.plan is None:
        return ""
    limits = advice.plan.limits
    return texts.t(
        "wear.spare-is", spare=f"{limits.spare_m:.1f}", least=f"{limits.least_on_drum_m:.1f}",
        wraps=f"{limits.dead_wraps:g}",
    )  # fmt: skip


def _cut(one: CutOption, texts: Catalogue, units: str) -> CutLine:
    say = partial(_told, units)
    least = max(one.result.gained_least_days, 0.0)
    return CutLine(
        words=say(one.words),
        gains=texts.t("wear.gained", days=f"{one.result.gained_days:.0f}", least=f"{least:.0f}"),
        by_models=tuple(
            texts.t("wear.by-model", model=title, days=f"{days:+.0f}")
            for title, days in one.by_models
        ),
        why=tuple(map(say, one.why)),
        labour=tuple(map(say, one.labour)),
        after=say(texts.t("wear.hook-higher", m=f"{one.hook_higher_m:.2f}"))
        if one.hook_higher_m
        else "",
        gone=tuple(map(say, one.findings_gone)),
    )
