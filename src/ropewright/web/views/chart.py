"""What can be chosen on the rope chart, each thing in words; and the cuts and turns of the rope."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Final

from ropewright.desk.chart_places import ChartPlace, chart_key
from ropewright.geometry import Section
from ropewright.inspection import RopeFinding
from ropewright.plan.trouble import NOT_LISTED
from ropewright.rope import Cut, RopeHistory
from ropewright.web.addresses import in_address
from ropewright.web.catalogue import Catalogue
from ropewright.web.readable import day_words
from ropewright.web.views.rope import finding_words

#: The headings of the list, in the order of the page.
KINDS: Final = ("finding", "mark", "trouble", "ruling")


@dataclass(frozen=True, slots=True, kw_only=True)
class ChosenLine:
    """One thing on the chart: what it is, and where it is told in full.

    ``links`` are addresses with their words; ``rests_on`` keys of findings on this page.
    """

    place: ChartPlace
    what: str
    said: str
    links: tuple[tuple[str, str], ...]
    rests_on: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """A cut or a turn end for end; a cut with the rope it took, in rope position."""

    on: date
    words: str
    section: Section | None
    reason: str


def chosen_lines(one: ChartPlace, path: str, texts: Catalogue) -> ChosenLine:
    """One thing on the chart in words.

    Parameters
    ----------
    one
        The thing.
    path
        Address of the rope.
    texts
        The catalogue.
    """
    if one.finding is not None and one.inspection is not None:
        to = f"{path}/inspections/{in_address(one.inspection.inspection_id)}"
        return ChosenLine(
            place=one,
            what=finding_words(one.finding, texts),
            said=_found_words(one.finding, one.inspection.on, texts),
            links=(
                (to, texts.t("chart.to-inspection", id=one.inspection.inspection_id)),
                *(
                    (f"{path}/why/{by.ruling_id}", f"{by.citation}: {by.words}")
                    for by in one.rulings
                ),
            ),
        )
    if one.mark is not None:
        of = texts.t("chart.mark-of", what=one.mark.made_of) if one.mark.made_of else ""
        on = texts.t("chart.mark-on", day=day_words(one.mark.on)) if one.mark.on else ""
        said = ", ".join(part for part in (of, on) if part)
        return ChosenLine(
            place=one, what=texts.t("chart.mark", name=one.mark.name), said=said, links=()
        )
    if one.ruling is not None:
        ruling = one.ruling
        return ChosenLine(
            place=one,
            what=ruling.words,
            said=ruling.citation,
            links=((f"{path}/why/{ruling.ruling_id}", texts.t("chart.to-why")),),
            rests_on=tuple((chart_key("finding", name), name) for name in ruling.finding_ids),
        )
    spot = one.spot
    if spot is None:
        raise ValueError("a place on the chart is a finding, a mark, a ruling or a spot")
    named = [f"{by.rule} {by.clause}" for by in spot.lists if by != NOT_LISTED]
    listed = f" {texts.t('chart.named-by', names='; '.join(named))}" if named else ""
    return ChosenLine(place=one, what=spot.item, said=f"{spot.words}.{listed}", links=())


def _found_words(finding: RopeFinding, on: date, texts: Catalogue) -> str:
    if finding.method is None:
        return texts.t("chart.found-on", id=finding.finding_id, day=day_words(on))
    method = texts.word("method", finding.method)
    return texts.t("chart.found", id=finding.finding_id, day=day_words(on), method=method)


def changes(history: RopeHistory, texts: Catalogue) -> tuple[Changed, ...]:
    """The cuts and turns of a rope, the oldest first.

    Parameters
    ----------
    history
        What was done to the rope.
    texts
        The catalogue.
    """
    return tuple(_changes(history, texts))


def _changes(history: RopeHistory, texts: Catalogue) -> Iterator[Changed]:
    low, high, turned = 0.0, history.original_length_m, False
    for step in history.steps:
        if not isinstance(step, Cut):
            turned = not turned
            yield Changed(
                on=step.on, words=texts.t("chart.turned"), section=None, reason=step.reason
            )
            continue
        if (step.end == "A") != turned:
            gone = Section(low, low + step.length_m)
            low = gone.to_m
        else:
            gone = Section(high - step.length_m, high)
            high = gone.from_m
        yield Changed(
            on=step.on, words=texts.t("chart.cut", end=step.end), section=gone, reason=step.reason
        )
