"""The trend figure as a Vega-Lite specification: what was found, what may come, and by when."""

from collections.abc import Callable
from typing import Any, Final

from ropewright.forecast import TrendFigure
from ropewright.inspection.findings import Method
from ropewright.picture.canvas import brief, plain
from ropewright.picture.ink import Ink, ink_for
from ropewright.picture.lettering import folded
from ropewright.picture.trend_words import (
    date_rows,
    description,
    iso,
    subtitle_lines,
    title_lines,
)

USUAL_WIDTH: Final = 720
NARROW: Final = 480
FONT: Final = "IBM Plex Sans, system-ui, sans-serif"

#: What one pass of each kind sees of the breaks that are there; common practice, no source.
SEES: Final[dict[Method, str]] = {
    "eye": "eye: about half",
    "eye-round": "eye, all round: about 6 in 10",
    "feel": "feel: about 2 in 3 (ends flat: 4 in 10)",
    "mrt": "magnetic: about 7 in 10",
}
_SHAPES: Final[dict[Method, str]] = {
    "eye": "circle", "eye-round": "diamond", "feel": "square", "mrt": "triangle-up",
}  # fmt: skip
_LEAST_CHANCE: Final = 0.01  # the lower edge of the scale of chances, in %


def trend_spec(
    figure: TrendFigure,
    *,
    width_px: int = USUAL_WIDTH,
    print_grey: bool = False,
    headline: bool = True,
) -> dict[str, Any]:
    """The figure as a Vega-Lite specification, with its data inside.

    Parameters
    ----------
    figure
        What to show.
    width_px
        Width in user units; below 480 it is laid out for a phone.
    print_grey
        Whether to draw in greys only.
    headline
        Whether rope, date, outcome and reason stand over the figure.  Without it words stand
        beside the figure, and only dates that have a mark are said in it.

    Returns
    -------
    dict
        Plain data for JSON; it refers to nothing outside.
    """
    import altair as alt

    ink = ink_for(print_grey=print_grey)
    inner = max(220, width_px - 74)
    size = 11.5 if width_px >= NARROW else 11
    drawn = _Drawn(alt, figure, ink, inner, size, marked_only=not headline)
    parts = [drawn.dates(), drawn.counts()]
    if figure.chances:
        parts.append(drawn.chances())
    whole = alt.vconcat(*parts, spacing=16).resolve_legend(shape="independent")
    whole = whole.properties(background=ink.paper, padding=8)
    if headline:
        title = alt.TitleParams(
            text=title_lines(figure, inner + 50, size + 2.5),
            subtitle=subtitle_lines(figure, inner + 50, size),
            anchor="start",
            frame="bounds",
            fontSize=size + 2.5,
            subtitleFontSize=size,
            subtitleColor=ink.soft,
            color=ink.ink,
            offset=10,
        )
        whole = whole.properties(title=title)
    spec: dict[str, Any] = _configured(whole, ink, size).to_dict()
    spec["description"] = description(figure)
    return spec


def _configured(chart: Any, ink: Ink, size: float) -> Any:  # noqa: ANN401 - altair's own types
    return (
        chart.configure(font=FONT)
        .configure_axis(
            labelFontSize=size, titleFontSize=size, titleFontWeight="normal",
            labelColor=ink.ink, titleColor=ink.ink, gridColor=ink.hair, domainColor=ink.line,
            tickColor=ink.line, titleAlign="left",
        )
        .configure_view(stroke=None)
        .configure_legend(
            labelFontSize=size, titleFontSize=size, labelColor=ink.ink, titleColor=ink.ink,
            titleFontWeight="normal", labelLimit=400,
        )
    )  # fmt: skip


class _Drawn:
    """The three parts of the figure, one below the other on one axis of days."""

    def __init__(
        self,
        alt: Any,  # noqa: ANN401 - the library, brought in late
        figure: TrendFigure,
        ink: Ink,
        width: float,
        size: float,
        *,
        marked_only: bool,
    ) -> None:
        self.alt, self.figure, self.ink, self.width, self.size = alt, figure, ink, width, size
        self.marked_only = marked_only
        self.domain = [iso(figure.begins), iso(figure.ends)]

    def _x(self, *, axis: bool = True) -> Any:  # noqa: ANN401
        alt = self.alt
        days = alt.Axis(
            format="%b %Y", tickCount=max(2, round(self.width / 110)), labelOverlap=True, title=None
        )
        scale = alt.Scale(type="utc", domain=self.domain, nice=False)
        return alt.X("on:T", scale=scale, axis=days if axis else None)

    def _data(self, rows: list[dict[str, Any]]) -> Any:  # noqa: ANN401
        return self.alt.Chart(self.alt.InlineData(values=rows))

    # --- dates ---

    def dates(self) -> Any:  # noqa: ANN401
        """Each date that matters, in words with its mark below on the axis of days."""
        alt, ink = self.alt, self.ink
        words, marks, height = self._rows()
        y = alt.Y("row:Q", scale=alt.Scale(domain=[0, height], reverse=True), axis=None)
        text = self._data(words).encode(x=alt.value(0), y=y, text="words:N")
        style = {
            "align": "left", "baseline": "top", "fontSize": self.size, "color": ink.ink,
            "lineHeight": self.size + 3,
        }  # fmt: skip
        # the upright line stands beside the marks only, never in the words between them
        beside = [
            {"on": iso(self.figure.as_of), "row": row["row"] - 6, "end": row["row"] + 6}
            for row in marks
        ]
        layers = []
        if beside:
            layers.append(
                self._data(beside)
                .mark_rule(color=ink.ink, strokeWidth=1.2)
                .encode(x=self._x(axis=False), y=y, y2="end:Q")
            )
        spans = [row for row in marks if row["to"]]
        if spans:
            layers.append(
                self._data(spans)
                .mark_bar(height=7, color=ink.rope, stroke=ink.ink, strokeWidth=0.8)
                .encode(x=self._x(axis=False), x2="to:T", y=y)
            )
        signs = [row for row in marks if row["mark"]]
        if signs:
            layers.append(
                self._data(signs)
                .mark_point(filled=True, size=90, color=ink.ink, opacity=1)
                .encode(
                    x=self._x(axis=False), y=y, shape=alt.Shape("mark:N", scale=None, legend=None)
                )
            )
        layers.append(text.mark_text(**style))
        return alt.layer(*layers).properties(width=self.width, height=height)

    def _rows(self) -> tuple[list[dict[str, Any]], list[dict[str, Any]], float]:
        """Words and marks of the dates, laid out downwards, and the height they take."""
        words: list[dict[str, Any]] = []
        marks: list[dict[str, Any]] = []
        down = 0.0
        for row in date_rows(self.figure, marked_only=self.marked_only):
            lines = self.folded(row["words"])
            words.append({"row": down, "words": lines})
            down += len(lines) * (self.size + 3) + 2
            if row["mark"] or row["to"]:
                marks.append(row | {"row": down + 5})
                down += 14
            down += 3
        return words, marks, down + 2

    def folded(self, words: str) -> list[str]:
        """Words in lines that have room; a typeface wider than ours is reckoned with."""
        return folded(plain(words), self.size * 1.09, self.width)

    def _titled(self, title: str, below: str) -> Any:  # noqa: ANN401
        return self.alt.TitleParams(
            text=self.folded(title), subtitle=self.folded(below), anchor="start", frame="group",
            fontSize=self.size, subtitleFontSize=self.size, subtitleColor=self.ink.soft,
            color=self.ink.ink, offset=6,
        )  # fmt: skip

    def _today(self) -> Any:  # noqa: ANN401
        return (
            self._data([{"on": iso(self.figure.as_of)}])
            .mark_rule(color=self.ink.ink, strokeWidth=1.2)
            .encode(x=self._x())
        )

    # --- counts ---

    def counts(self) -> Any:  # noqa: ANN401
        """Known broken wires with what may be unseen, the course to come, the limit."""
        alt, figure = self.alt, self.figure
        top = max(
            1.3 * figure.limit,
            *(look.known + (look.unseen or 0.0) + 1 for look in figure.looks),
            2.0,
        )
        axis = alt.Axis(title=None, tickMinStep=1, format="d", tickCount=6)

        def y(name: str = "count") -> Any:  # noqa: ANN401
            return alt.Y(f"{name}:Q", scale=alt.Scale(domain=[0, top], nice=False), axis=axis)

        layers = [*self._course(y, top), self._today(), *self._limit(y), *self._looks(y)]
        below = "steps: known" + (
            "; thin line up: expected unseen" if any(one.unseen for one in figure.looks) else ""
        )
        if figure.course:
            below += "; to come: 9 in 10 courses lie in the grey, half above the dots"
        title = f"Broken wires in {figure.window} at the fullest place, {figure.where}"
        return alt.layer(*layers).properties(
            width=self.width, height=190, title=self._titled(title, below)
        )

    def _course(self, y: Callable[..., Any], top: float) -> list[Any]:
        figure, ink = self.figure, self.ink
        if not figure.course:
            return []
        rows = [
            {
                "on": iso(one.on),
                "count": min(one.middle, top),
                "low": min(one.low, top),
                "high": min(one.high, top),
            }
            for one in figure.course
        ]
        band = (
            self._data(rows)
            .mark_area(color=ink.rope, opacity=0.45, interpolate="step-after", clip=True)
            .encode(x=self._x(), y=y("low"), y2="high:Q")
        )
        middle = (
            self._data(rows)
            .mark_line(
                color=ink.ink, strokeDash=[2, 3], strokeWidth=1.6, interpolate="step-after",
                clip=True,
            )
            .encode(x=self._x(), y=y())
        )  # fmt: skip
        return [band, middle]

    def _limit(self, y: Callable[..., Any]) -> list[Any]:
        figure, ink = self.figure, self.ink
        rows = [{"count": figure.limit, "words": brief(f"limit: {figure.limit_words}", 90)}]
        line = (
            self._data(rows)
            .mark_rule(color=ink.grave, strokeWidth=2.2, strokeDash=[8, 3])
            .encode(y=y())
        )
        lines = self.folded(str(rows[0]["words"]))
        text = self._data([{"count": figure.limit, "words": lines}]).encode(
            x=self.alt.value(2), y=y(), text="words:N"
        )
        style = {
            "align": "left", "baseline": "bottom", "dy": -3 - (len(lines) - 1) * (self.size + 2),
            "fontSize": self.size, "color": ink.grave, "lineHeight": self.size + 2,
        }  # fmt: skip
        # a rim in the colour of the paper keeps the words readable where they cross a line
        rim = text.mark_text(**style | {"stroke": ink.paper, "strokeWidth": 4})
        return [line, rim, text.mark_text(**style)]

    def _looks(self, y: Callable[..., Any]) -> list[Any]:
        alt, figure, ink = self.alt, self.figure, self.ink
        rows: list[dict[str, Any]] = [
            {
                "on": iso(one.on),
                "count": one.known,
                "most": one.known + (one.unseen or 0.0),
                "how": SEES[one.method],
            }
            for one in figure.looks
        ]
        if not rows:
            return []
        # a new rope has no broken wire; what an old one had before its first look nobody knows
        fitted = {"on": iso(figure.fitted_on), "count": 0, "most": 0, "how": rows[0]["how"]}
        start = [fitted] if figure.begins == figure.fitted_on else []
        end = rows[-1] | {"on": iso(figure.as_of)}
        known = (
            self._data([*start, *rows, end])
            .mark_line(color=ink.ink, strokeWidth=2, interpolate="step-after")
            .encode(x=self._x(), y=y())
        )
        unseen = (
            self._data([row for row in rows if row["most"] >= row["count"] + 0.1])
            .mark_rule(color=ink.soft, strokeWidth=1.6)
            .encode(x=self._x(), y=y(), y2="most:Q")
        )
        methods = [method for method in SEES if any(one.method == method for one in figure.looks)]
        in_a_row = len(methods) < 3 and self.width + 74 >= NARROW
        shape = alt.Shape(
            "how:N",
            scale=alt.Scale(
                domain=[SEES[method] for method in methods],
                range=[_SHAPES[method] for method in methods],
            ),
            legend=alt.Legend(
                title=self.folded("One look sees, of the breaks that are there"),
                orient="bottom", direction="horizontal" if in_a_row else "vertical", labelLimit=0,
                symbolSize=70, columnPadding=44, titleLimit=0,
            ),
        )  # fmt: skip
        points = (
            self._data(rows)
            .mark_point(filled=True, color=ink.ink, opacity=1, size=64)
            .encode(x=self._x(), y=y(), shape=shape)
        )
        return [known, unseen, points]

    # --- chances ---

    def chances(self) -> Any:  # noqa: ANN401
        """The chance that the limit is passed, on a scale on which the small ones show."""
        alt, figure, ink = self.alt, self.figure, self.ink
        axis = alt.Axis(title=None, values=[0.01, 0.1, 1, 10, 100], format="~g")
        scale = alt.Scale(type="log", domain=[_LEAST_CHANCE, 100], nice=False, clamp=True)
        y = alt.Y("chance:Q", scale=scale, axis=axis)
        rows = [
            {"on": iso(one.on), "chance": max(_LEAST_CHANCE, 100 * one.chance)}
            for one in figure.chances
        ]
        line = (
            self._data(rows)
            .mark_line(color=ink.ink, strokeWidth=2, clip=True)
            .encode(x=self._x(), y=y)
        )
        taken = {"chance": 100 * figure.alpha, "words": f"look again at {100 * figure.alpha:g} %"}
        level = (
            self._data([taken])
            .mark_rule(color=ink.grave, strokeWidth=1.6, strokeDash=[8, 3])
            .encode(y=y)
        )
        words = (
            self._data([taken])
            .mark_text(align="left", baseline="bottom", dy=-3, fontSize=self.size, color=ink.grave)
            .encode(x=alt.value(2), y=y, text="words:N")
        )
        title = "Chance that a limit has been passed by then, %"
        below = "each step up is ten times more; look again before the line crosses the dashed one"
        return alt.layer(level, line, self._today(), words).properties(
            width=self.width, height=110, title=self._titled(title, below)
        )
