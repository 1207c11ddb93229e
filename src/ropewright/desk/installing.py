"""Fitting a rope as a guided task: which steps are done, what comes next, what does not agree.

Figures are put side by side; whether a rope keeps a tolerance is for a person with the papers.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from typing import Final, Literal, TypeAlias

from ropewright.desk.installing_checks import Compared, papers_compared, spooling_tension
from ropewright.desk.installing_steps import FITTING_STEPS, RELEASE, FittingStep
from ropewright.desk.ordering_model import OrderValue
from ropewright.errors import InputError
from ropewright.inspection import Dossier
from ropewright.rope import read_new_rope
from ropewright.units import exact_decimal, parse_length, show_length_mm

StepState: TypeAlias = Literal["done", "not right", "next", "open"]
_LEAST_REFERENCE_PLACES: Final = 3
_NO_GO: Final = Fraction(25, 1000)
_FULL_OVERSIZE: Final = Fraction(5, 100)


@dataclass(frozen=True, slots=True, kw_only=True)
class StepSaid:
    """What a person said of a step: done or not right, when, with what values."""

    done: bool
    by: str
    on: date | None = None
    values: Mapping[str, str] = field(default_factory=dict)
    remark: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingSaid:
    """What a logbook holds of a fitting; empty if none was begun.

    ``order`` [-] holds the fields of the order the rope was bought by, each in the unit its key
    names; ``order_checked`` whether a second person had agreed to it.
    """

    begun_on: date | None = None
    begun_by: str = ""
    order_name: str = ""
    order: Mapping[str, OrderValue] | None = None
    order_checked: bool = False
    steps: Mapping[str, StepSaid] = field(default_factory=dict)
    released_by: str = ""
    released_on: date | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class GuideStep:
    """One step as it stands, with the figures for it and what does not agree."""

    step: FittingStep
    state: StepState
    said: StepSaid | None = None
    figures: tuple[str, ...] = ()
    compared: tuple[Compared, ...] = ()
    wrong: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingGuide:
    """The whole task on a day."""

    rope_id: str
    crane: str
    hoist: str
    said: FittingSaid
    steps: tuple[GuideStep, ...]
    invented: bool = False

    @property
    def next_step(self) -> GuideStep | None:
        """The step that comes next, ``None`` when all are done."""
        return next((one for one in self.steps if one.state in ("next", "not right")), None)

    @property
    def missing(self) -> tuple[str, ...]:
        """Why the rope cannot be released yet."""
        return tuple(
            f"{one.step.key}: {words}"
            for one in self.steps
            if one.step.key != RELEASE and one.state != "done"
            for words in (
                ("not done",)
                if one.said is None or one.state in ("next", "open")
                else (one.wrong or (one.said.remark,))
            )
        )


def fitting_guide(dossier: Dossier, said: FittingSaid) -> FittingGuide:
    """What is done of fitting a rope, and what comes next.

    A step counts as done when a person said so; the reference measurement when it is in the book;
    papers only once they agree, or somebody wrote beside them why they need not.

    Parameters
    ----------
    dossier
        The new rope on its hoist.
    said
        What the logbook holds of the fitting.
    """
    made: list[GuideStep] = []
    next_found = said.begun_on is None
    for step in FITTING_STEPS:
        one = _as_it_stands(step, dossier, said)
        if one.state == "open" and not next_found:
            one = GuideStep(
                step=step, state="next", said=one.said, figures=one.figures,
                compared=one.compared, wrong=one.wrong,
            )  # fmt: skip
            next_found = True
        elif one.state == "not right":
            next_found = True
        made.append(one)
    return FittingGuide(
        rope_id=dossier.rope.rope_id,
        crane=dossier.crane.crane_id,
        hoist=dossier.installation.hoist,
        said=said,
        steps=tuple(made),
        invented=dossier.invented,
    )


def _as_it_stands(step: FittingStep, dossier: Dossier, said: FittingSaid) -> GuideStep:
    told = said.steps.get(step.key)
    figures: tuple[str, ...] = ()
    compared: tuple[Compared, ...] = ()
    wrong: tuple[str, ...] = ()
    if step.key == "papers":
        compared = papers_compared(dossier, said.order)
        wrong = tuple(_papers_wrong(compared, said, told))
    elif step.key == "measured":
        figures = tuple(_measured(dossier, told, said))
    elif step.key == "sheaves":
        figures = _gauges(dossier)
    elif step.key == "tension":
        figures = spooling_tension(dossier)
    elif step.key == "reference":
        figures = tuple(_reference_missing(dossier, said))
        done = not figures
        return GuideStep(step=step, state="done" if done else "open", said=told, figures=figures)
    elif step.key == RELEASE:
        figures = tuple(_first_inspection(dossier, said))
        if said.released_on is not None:
            told = StepSaid(done=True, by=said.released_by, on=said.released_on)
    state: StepState = "open"
    if told is not None:
        state = "done" if told.done and not wrong else "not right"
    return GuideStep(
        step=step, state=state, said=told, figures=figures, compared=compared, wrong=wrong
    )


def _papers_wrong(
    compared: tuple[Compared, ...], said: FittingSaid, told: StepSaid | None
) -> Iterator[str]:
    if said.order is not None and not said.order_checked:
        yield f"{said.order_name} was not checked by a second person"
    explained = told is not None and bool(told.remark)
    if not explained:
        yield from (one.words for one in compared if one.agrees is False)


def _measured(dossier: Dossier, told: StepSaid | None, said: FittingSaid) -> Iterator[str]:
    """Readings on the new rope beside its tolerance, as EN 12385-1 has them taken."""
    nominal = dossier.rope.nominal_diameter_mm
    ordered = None if said.order is None else said.order.get("tolerance")
    if ordered:
        yield f"ordered: {ordered}"
    text = "" if told is None else told.values.get("readings", "")
    if not text:
        return
    try:
        readings = [parse_length(part.strip()) for part in re.split(r"[,;]", text) if part.strip()]
        found = read_new_rope(readings, nominal_diameter_mm=nominal, standard="EN 12385-4")
    except InputError as error:
        yield f"readings: {error.expected}"
        return
    low, high = found.tolerance.low_percent, found.tolerance.high_percent
    yield (
        f"mean {show_length_mm(found.mean_mm, 2)}, {_percent(found.deviation_percent)} of nominal; "
        f"EN 12385-4: {exact_decimal(low)} to +{exact_decimal(high)} % "
        f"({found.tolerance.provenance})"
    )


def _percent(value: Fraction) -> str:
    return f"{float(value):+.2f} %"


def _gauges(dossier: Dossier) -> tuple[str, ...]:
    """Gauges for sheave grooves: new with full oversize, worn with half of it.

    Source: trade page on sheave gauges; new groove gauge carries the full oversize, worn 'no-go'
    = nominal + half the oversize.  Provenance: second-hand
    """
    nominal = dossier.rope.nominal_diameter_mm
    full, half = nominal * (1 + _FULL_OVERSIZE), nominal * (1 + _NO_GO)
    return (
        f"gauge of a new groove: {show_length_mm(full, 2)} (full oversize)",
        f"worn, no-go: {show_length_mm(half, 2)}; a smaller groove: change the sheave",
    )


def _first_inspection(dossier: Dossier, said: FittingSaid) -> Iterator[str]:
    """The release is a person's word; rules ask for an inspection after the hold beside it."""
    begun = said.begun_on
    if begun is not None and not any(
        one.finished and one.on >= begun for one in dossier.inspections
    ):
        yield (
            "to be recorded as well: an inspection of the whole rope as fitted, kind after-event; "
            "until then the rules keep it on hold"
        )


def _reference_missing(dossier: Dossier, said: FittingSaid) -> Iterator[str]:
    reference = dossier.installation.reference
    begun = said.begun_on
    if reference is None or (begun is not None and reference.on < begun):
        yield "to be recorded: reference diameter at three places"
    else:
        whole = [one for one in reference.readings if one.measured_mm is not None]
        if len(whole) < _LEAST_REFERENCE_PLACES:
            yield f"{len(whole)} of {_LEAST_REFERENCE_PLACES} places measured both ways"
        if not reference.tension:
            yield "to be recorded: under what tension"
    if dossier.rope.lay_length_mm is None:
        yield "to be recorded: lay length"
