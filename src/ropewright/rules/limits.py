"""What a clause compares with, in one plain phrase for lists and catalogues."""

from collections.abc import Callable
from typing import Any, Final

from ropewright.rules import model
from ropewright.rules.model import Clause
from ropewright.rules.more_checks import (
    GrowthCheck,
    MeasuredWithinCheck,
    MetallicLossCheck,
    NoLimitCheck,
    SetUpCheck,
    UnjudgedCheck,
)
from ropewright.rules.words import baseline_words, listing, number, threshold, ways_words


def limit_words(clause: Clause) -> str:
    """The limit of a clause in words, such as ``4 or more broken wires in 30 d``."""
    check = clause.check
    if isinstance(check, model.BreakCheck):
        return _breaks(check)
    if isinstance(check, model.DiameterCheck):
        return _diameter(check)
    if isinstance(check, model.WaveCheck):
        bends = "that bends" if check.section_bends else "that never bends"
        return (
            f"gap of {threshold(str(check.share_of_diameter), check.compare)} of the nominal "
            f"diameter on a section {bends}"
        )
    if isinstance(check, model.FoundCheck):
        detail = [*check.forms, *check.grades]
        extra = f" ({' or '.join(detail)})" if detail else ""
        return f"found: {' or '.join(check.findings)}{extra}"
    if isinstance(check, model.GradedCheck):
        grades = listing([f"{grade} {number(value)} %" for grade, value in check.ratings.items()])
        return f"{check.finding} rated {number(check.limit_percent)} % toward discard: {grades}"
    return _other(check)


def table_words(name: str) -> str:
    """What a table is called, from the name of its file.

    Examples
    --------
    >>> table_words("iso-4309-2017/breaks-single-layer-ropes.csv")
    "'breaks single layer ropes'"
    """
    words = name.rsplit("/", maxsplit=1)[-1].removesuffix(".csv").replace("-", " ")
    return f"'{words}'"


def _breaks(check: model.BreakCheck) -> str:
    if check.table is not None:
        table = f"the number in table {table_words(check.table.name)}, by construction,"
        what = f"{threshold(table, check.compare)} broken wires"
    elif check.share is not None:
        what = f"{threshold(f'{number(check.share)} %', check.compare)} of the {check.share_of}"
    else:
        what = f"{threshold(number(check.limit or 0), check.compare)} broken wires"
    sites = "" if "crown" in check.sites else f" ({' or '.join(check.sites)})"
    strand = " in one strand" if check.per == "strand" else ""
    strand += ", standing out" if check.protruding_only else ""
    strand += ", fewer where outer wires are worn" if check.wear_factors is not None else ""
    where = "" if check.where == "anywhere" else f", {check.where}"
    return f"{what}{sites}{strand} in {check.window}{where}"


def _diameter(check: model.DiameterCheck) -> str:
    if check.table is not None:
        what = f"the percentage in table {table_words(check.table.name)}, by core,"
    elif check.steps is not None:
        what = f"the millimetres in table {table_words(check.steps.name)}, by diameter,"
    elif check.limit_mm is not None:
        what = f"{number(check.limit_mm)} mm"
    else:
        what = f"{number(check.limit_percent or 0)} %"
    words = f"{check.change} from the {baseline_words(check.baseline)}: "
    words += threshold(what, check.compare)
    return f"{words} of the {check.percent_of} diameter" if check.limit_percent else words


def _bunched(check: model.BunchedCheck) -> str:
    return (
        f"{check.least} broken wires in {check.strands} neighbouring strands "
        f"in {check.window}, where rope does not spool"
    )


def _part(check: model.PartCheck) -> str:
    states = f": {', '.join(check.states)}" if check.states else ", any finding"
    return f"{', '.join(check.parts)}{states}"


def _coverage(check: model.CoverageCheck) -> str:
    wraps = f" and {number(check.extra_wraps)} wraps more" if check.extra_wraps else ""
    return f"{check.of}{wraps} covered by {ways_words(check.by)}"


def _interval(check: model.IntervalCheck) -> str:
    if check.months is not None:
        every = f"{check.months} months"
    elif check.days is not None:
        every = f"{check.days} days"
    else:
        every = "the interval stated by the competent person"
    broken = ", once a broken wire is on record" if check.if_broken else ""
    return f"{' or '.join(check.kinds)} inspection not older than {every}{broken}"


def _after_event(check: model.AfterEventCheck) -> str:
    release = " and release by name" if check.needs_release else ""
    return f"after an event: {' or '.join(check.kinds)} inspection{release}"


def _metallic_loss(check: MetallicLossCheck) -> str:
    over = f" over {check.window}" if check.window is not None else ""
    if check.bands is not None:
        name = check.bands.name.split("/")[-1]
        return f"{check.of} lost{over}: {threshold(f'the percentage in {name}', check.compare)}"
    percent = threshold(f"{number(check.limit_percent or 0)} %", check.compare)
    return f"{percent} of the {check.of} lost{over}"


def _set_up(check: SetUpCheck) -> str:
    if check.against is not None:
        return f"{check.measure}: the other hand than the lay of the rope"
    if check.words:
        return f"{check.measure}: {' or '.join(check.words)}"
    unit = f" {check.unit}" if check.unit != "-" else ""
    if check.table is not None:
        up = check.rotation_resistant_classes_up
        classes = "class" if up == 1 else "classes"
        more = f", rotation-resistant ropes {up} {classes} up" if up else ""
        name = table_words(check.table.name)
        return f"{check.measure}: at least the figure in table {name}, by mechanism class{more}"
    if check.least is not None:
        return f"{check.measure}: at least {number(check.least)}{unit}"
    return f"{check.measure}: at most {number(check.most or 0)}{unit}"


def _measured_within(check: MeasuredWithinCheck) -> str:
    return (
        f"diameter measured at {check.places} or more places, or a magnetic rope test, "
        f"not older than {check.months} months"
    )


def _idle(check: model.IdleCheck) -> str:
    how_long = f"{check.months} months" if check.months > 1 else "a month"
    words = f"{how_long} or more" if check.compare == "reached" else f"more than {how_long}"
    return f"idle for {words}: {' or '.join(check.kinds)} inspection"


_OTHER: Final[dict[type, Callable[[Any], str]]] = {
    model.BunchedCheck: _bunched,
    model.WornWireCheck: lambda c: (
        f"outer wires worn by {threshold(str(c.share), c.compare)} of their diameter"
    ),
    model.EventCheck: lambda c: f"event on record: {' or '.join(c.events)}",
    model.PartCheck: _part,
    model.CoverageCheck: _coverage,
    model.ItemsCheck: lambda c: f"examined: {', '.join(c.items)}",
    model.ReadingsCheck: lambda c: f"diameter pairs taken: {c.places}",
    model.PersonCheck: lambda c: f"inspected by a {' or '.join(c.competence)} person",
    model.GreaseCheck: lambda _: "lubricant hides the wires",
    model.IntervalCheck: _interval,
    model.IdleCheck: _idle,
    model.AfterEventCheck: _after_event,
    model.CombinedCheck: lambda c: (
        f"ratings of different kinds within {c.window} add up to {number(c.limit_percent)} %"
    ),
    model.VanishedCheck: lambda _: "an earlier finding was not found again",
    model.UnnamedCheck: lambda _: "a finding that no clause of the chosen rules names",
    MetallicLossCheck: _metallic_loss,
    NoLimitCheck: lambda c: f"no number in this rule for {', '.join(c.findings)}",
    SetUpCheck: _set_up,
    MeasuredWithinCheck: _measured_within,
    UnjudgedCheck: lambda _: "damage in a form or grade that no clause judges",
    GrowthCheck: lambda c: (
        f"the count doubled by at least {c.doubled_by} between two inspections, or {c.first} "
        f"broken wires within {c.window} where none was known"
    ),
}


def _other(check: model.Check) -> str:
    return _OTHER[type(check)](check)
