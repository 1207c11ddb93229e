"""Metal or strength lost, by a magnetic rope test, over a length."""

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from ropewright.inspection import Inspection, MetallicLoss
from ropewright.rules.context import Context, Window
from ropewright.rules.model import Clause
from ropewright.rules.more_checks import MetallicLossCheck
from ropewright.rules.ruling import Found, Step
from ropewright.rules.words import number, place_words, threshold

_STATE_IT = "ask the tester for the loss over this length"


@dataclass(frozen=True, slots=True)
class _Loss:
    """What a stated loss says of a window: at least and at most, in percent."""

    lower: Fraction
    upper: Fraction | None
    step: Step


def check_metallic_loss(clause: Clause, check: MetallicLossCheck, context: Context) -> None:
    """One ruling for every loss found; without a test on record the clause does not apply."""
    losses = [(loss, by) for loss, by in context.evidence.metallic_losses() if loss.of == check.of]
    stated = [loss for loss, _ in losses]
    for loss, inspection in losses:
        _rule(clause, check, context, loss, inspection, stated)
    if losses:
        return
    tested = any(
        one.method == "mrt" for inspection in context.evidence.current for one in inspection.passes
    )
    if tested:
        context.add(clause, status="below", words=f"no loss of {check.of} found by the test",
                    share=Fraction(0))  # fmt: skip
    else:
        context.add(clause, status="not applicable", words="no magnetic rope test on record")


def _limit(check: MetallicLossCheck) -> Fraction:
    if check.bands is None:
        return check.limit_percent or Fraction(0)
    full = next(row for row in check.bands.rows if row.number("rating") == Fraction(100))
    return full.number(check.column) or Fraction(0)


def _rating(check: MetallicLossCheck, percent: Fraction) -> Fraction | None:
    if check.bands is None:
        return None
    rating = Fraction(0)
    for row in check.bands.rows:
        bound, printed = row.number(check.column), row.number("rating")
        if bound is None or printed is None or percent <= 0:
            continue
        if percent >= bound:
            rating = max(rating, printed)
    return rating


def _over(loss: MetallicLoss, window: Window | None) -> _Loss:
    """A loss adds up along the rope: a longer length holds at least what a shorter one does."""
    percent, over = loss.percent, loss.over_mm
    stated = f"over {number(over)} mm" if over is not None else "over a length nobody stated"
    if window is None or (over is not None and window.is_known and over == window.longest_mm):
        step = Step(says="loss as stated", value=f"{number(percent)} %", origin=stated)
        return _Loss(percent, percent, step)
    if over is None:
        step = Step(says="loss as stated", value=f"{number(percent)} % at most", origin=stated)
        return _Loss(Fraction(0), None, step)
    if over <= window.shortest_mm:
        step = Step(says="loss as stated", value=f"at least {number(percent)} %",
                    origin=f"{stated}, shorter than the window")  # fmt: skip
        return _Loss(percent, percent if over == window.longest_mm else None, step)
    shared = percent / ceil(over / window.shortest_mm)
    step = Step(
        says="loss as stated, over a longer length than the window",
        value=f"between {number(shared)} % and {number(percent)} %", origin=stated,
    )  # fmt: skip
    return _Loss(shared, percent, step)


def _rule(
    clause: Clause,
    check: MetallicLossCheck,
    context: Context,
    finding: MetallicLoss,
    inspection: Inspection,
    stated: list[MetallicLoss],
) -> None:
    window = None if check.window is None else context.window(check.window)
    loss, limit = _over(finding, window), _limit(check)
    sure = _passes(loss.lower, limit, check)
    may = loss.upper is None or _passes(loss.upper, limit, check)
    where = place_words(finding.section, finding.place.abs_err_m)
    over = f" over {check.window}" if check.window is not None else ""
    upper = loss.lower if loss.upper is None else loss.upper
    steps = (*((window.step,) if window is not None else ()), loss.step,
             Step(says="limit", value=threshold(f"{number(limit)} %", check.compare)))  # fmt: skip
    common: dict[str, object] = {
        "compare": check.compare,
        "limit": limit,
        "found": Found(lower=loss.lower, upper=upper, unit="%"),
        "share": upper / limit if limit else None,
        "window": check.window,
        "window_mm": None if window is None else window.longest_mm,
        "section": finding.section,
        "section_err_m": finding.place.abs_err_m,
        "finding_ids": (finding.finding_id,),
        "inspection_id": inspection.inspection_id,
        "steps": steps,
    }
    words = f"{number(finding.percent)} % of the {check.of} lost {where}; "
    words += f"limit {threshold(f'{number(limit)} %', check.compare)}{over}"
    if sure:
        context.add(clause, status="reached", words=words,
                    rating_percent=_rating(check, loss.lower), **common)  # fmt: skip
    elif may and _is_answered(finding, stated, window):
        context.add(clause, status="not applicable", **common,
                    words=f"{words}: the loss over this length is stated here as well")  # fmt: skip
    elif may:
        context.add(
            clause, status="not assessable", words=words,
            missing=(f"loss of {check.of}{over}",), how_to_get=(_STATE_IT,), **common,
        )  # fmt: skip
    else:
        context.add(clause, status="below", words=words,
                    rating_percent=_rating(check, upper), **common)  # fmt: skip


def _is_answered(finding: MetallicLoss, stated: list[MetallicLoss], window: Window | None) -> bool:
    """Whether the loss over just this window is stated at the same place by another finding."""
    return window is not None and any(
        one is not finding
        and window.is_known
        and one.over_mm == window.longest_mm
        and one.section.widened(one.place.rel_err_m).overlaps(finding.section)
        for one in stated
    )


def _passes(value: Fraction, limit: Fraction, check: MetallicLossCheck) -> bool:
    return value >= limit if check.compare == "reached" else value > limit
