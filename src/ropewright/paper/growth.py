"""The page 'How fast it grows': what was seen when, what may come, what to do by when."""

from typing import Any, Final

from ropewright.forecast import Band, Forecast, RopeForecast, TrendFigure
from ropewright.forecast.reasons import percent, span
from ropewright.paper.tables import Table, cell, table
from ropewright.paper.words import cut

MOST_LOOKS: Final = 12
_LONGEST: Final = 400
CAUTION: Final = (
    "A forecast only ever shortens the interval of the rule, the maker or the competent person. It "
    "speaks of broken wires that grow by bending; a shock load, a slack rope or a jumped sheave "
    "ends it. It advises; a person decides and signs."
)


def growth_page(found: RopeForecast, figure: TrendFigure) -> dict[str, Any]:
    """What the page says, without its figure.

    Parameters
    ----------
    found
        The forecast of the rope.
    figure
        What its trend figure shows.
    """
    result = found.forecast
    return {
        "headline": result.headline[:1].upper() + result.headline[1:],
        "why": cut(result.because, _LONGEST),
        "decide": [
            f"Competent person to decide now: {cut(words, _LONGEST)}" for words in result.decide
        ],
        "left": _dates(result),
        "right": _rests_on(result, figure),
        "looks": _looks(figure),
        "cases": [
            f"{row.treatment}: {row.when}: {row.why}. {row.action[:1].upper()}{row.action[1:]}."
            for row in result.rows
        ],
        "caution": CAUTION,
    }


def _dates(result: Forecast) -> list[list[str]]:
    rows = [["Next inspection", _next(result)]]
    if result.order_now:
        rows.append(["Order by", "now"])
    elif result.order_by is not None:
        rows.append(["Order by", str(result.order_by)])
    if result.plan_change:
        rows.append(["Rope change", "plan it now"])
    rows.append(["Limit", cut(result.governing or "see page 1", 160)])
    band = result.band
    if band is not None:
        rows.append(["Limit passed", _band_words(band)])
    if result.present_chance is not None and result.curve is not None:
        rows.append(["Reached but unseen today", f"chance {percent(result.present_chance)}"])
    if result.missing:
        rows.append(["Missing", cut("; ".join(result.missing), _LONGEST)])
    return rows


def _band_words(band: Band) -> str:
    far = "more than a hundred years from now"
    if band.early is None:
        return f"{far}, 19 times in 20"
    middle = (
        f"as likely before as after {band.median}" if band.median else f"more likely than not {far}"
    )
    return f"{middle}; 9 in 10 between {band.early} and {band.late or far}"


def _next(result: Forecast) -> str:
    if result.next_inspection is None:
        return "no date: decide first" if result.decide else "no date"
    return f"by {result.next_inspection}, bounded by {result.bounded_by}"


def _rests_on(result: Forecast, figure: TrendFigure) -> list[list[str]]:
    prior = result.prior
    rows = [["Earlier forecasts", figure.back_test]]
    if result.curve is not None:
        if result.doubling is not None:
            rows.append(["Count doubles in", f"about {span(result.doubling)}, if it goes on so"])
        if result.unseen is not None:
            rows.append(["Expected unseen", f"{result.unseen:.1f} broken wires"])
        rows.append(["Later date if", cut(result.lengthen, _LONGEST)])
        rows.append(["Chance taken", f"{result.alpha * 100:g} % until the next look"])
        rows.append(["Usual life taken", f"{span(prior.life)} ({prior.life_from})"])
    rows.append(["Made with", f"model {result.version}, priors {prior.version}"])
    return rows


def _looks(figure: TrendFigure) -> Table:
    shown = figure.looks[-MOST_LOOKS:]
    left = len(figure.looks) - len(shown)
    guessed = any(one.unseen is not None for one in shown)
    return table(
        f"What each look found and could see: {figure.where}, in {figure.window}",
        [
            ("Day", "auto"),
            ("How", "auto"),
            ("New", "auto"),
            ("Known", "auto"),
            *([("Expected unseen there", "auto")] if guessed else []),
            ("Remark", "1fr"),
        ],
        [
            (
                cell(str(one.on)),
                cell(one.method),
                cell(str(one.new)),
                cell(str(one.known)),
                *([cell("–" if one.unseen is None else f"{one.unseen:.1f}")] if guessed else []),
                cell(
                    "a closer look than before: more found need not be growth" if one.closer else ""
                ),
            )
            for one in shown
        ],
        note=f"{left} earlier looks are not shown." if left else "",
        empty="Nobody has looked at this place yet.",
    )
