"""The words of the trend figure: its dates, its title, and all of it for those who cannot see."""

from datetime import date
from typing import Any

from ropewright.forecast import TrendFigure
from ropewright.forecast.reasons import percent
from ropewright.picture.canvas import brief, plain
from ropewright.picture.lettering import folded


def description(figure: TrendFigure) -> str:
    """The figure in words, for those who cannot see it."""
    parts = [f"{figure.headline[:1].upper()}{figure.headline[1:]}."]
    if figure.looks:
        last = figure.looks[-1]
        parts.append(
            f"{last.known} broken wires known within {figure.window} on {spoken(last.on)}, "
            f"limit {figure.limit}."
        )
    parts.append(figure.why)
    if figure.middle is not None:
        parts.append(f"The limit is passed as likely before as after {spoken(figure.middle)}.")
    parts.append(f"Earlier forecasts: {figure.back_test}.")
    if figure.invented:
        parts.append("Invented data for demonstration.")
    return brief(" ".join(parts), 900)


def title_lines(figure: TrendFigure, room: float, size: float) -> list[str]:
    """Rope, date and outcome, in lines ``room`` [-] wide at type size ``size`` [-]."""
    words = f"Rope {figure.rope_id} on {spoken(figure.as_of)}: {figure.headline}"
    return folded(plain(words), size, room / 1.1)


def subtitle_lines(figure: TrendFigure, room: float, size: float) -> list[str]:
    """Why, and how earlier forecasts came out, in lines ``room`` [-] wide, ``size`` [-] high."""
    lines = ["Invented data – demonstration"] if figure.invented else []
    for words in (figure.why, f"Earlier forecasts: {figure.back_test}."):
        lines += folded(plain(words), size, room / 1.09)
    return lines


def iso(day: date) -> str:
    """A day as data."""
    return day.isoformat()


def spoken(day: date) -> str:
    """A day for reading, as 9 Nov 2026."""
    return f"{day.day} {day:%b %Y}"


def date_rows(figure: TrendFigure, *, marked_only: bool = False) -> list[dict[str, Any]]:
    """What stands over the figure: each date in words, with its mark on the axis of days.

    Parameters
    ----------
    figure
        What to show.
    marked_only
        Whether words without a date are left out, because they stand beside the figure.
    """
    rows: list[dict[str, Any]] = []

    def add(words: str, on: date | None, mark: str = "", to: date | None = None) -> None:
        begins = None if on is None else iso(max(on, figure.begins))
        ends = None if to is None else iso(min(to, figure.ends))
        if on is not None and on > figure.ends:
            mark = ""  # a mark would lie beside the figure; the words give the date
        rows.append({"words": words, "on": begins, "to": ends or "", "mark": mark})

    for words in figure.decide:
        add(brief(f"competent person to decide now: {words}", 200), None)
    if figure.next_inspection is not None:
        by = f" ({figure.bounded_by})" if figure.bounded_by else ""
        add(
            brief(f"next inspection by {spoken(figure.next_inspection)}{by}", 110),
            figure.next_inspection,
            "diamond",
        )
    else:
        add("no date for the next inspection", None)
    if figure.order_now:
        add("order the new rope now", figure.as_of, "triangle-down")
    elif figure.order_by is not None:
        add(f"order the new rope by {spoken(figure.order_by)}", figure.order_by, "triangle-down")
    if figure.early is not None and figure.early <= figure.ends:
        late_words = "later than shown" if figure.late is None else spoken(figure.late)
        middle = f", as likely before as after {spoken(figure.middle)}" if figure.middle else ""
        add(
            f"limit passed: 9 in 10 between {spoken(figure.early)} and {late_words}{middle}",
            figure.early,
            to=figure.late or figure.ends,
        )
    now = figure.chances[0].chance if figure.chances else None
    today = "" if now is None else f": chance that the limit is reached but unseen {percent(now)}"
    if marked_only:
        rows = [row for row in rows if row["mark"] or row["to"]]
        today = ""
    add(f"upright line: today, {spoken(figure.as_of)}{today}", None)
    return rows
