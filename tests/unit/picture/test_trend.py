"""The trend figure: what it shows, that it stands alone, and that it is the same every time."""

import json
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from dataclasses import replace
from datetime import date, timedelta

import pytest

from ropewright.forecast import (
    ChanceDay,
    CourseDay,
    SeenThen,
    TrendFigure,
)
from ropewright.picture import trend_picture, trend_spec, trend_spec_json
from ropewright.picture.trend_words import date_rows

FITTED, TODAY = date(2025, 1, 1), date(2026, 1, 1)

#: Invented.
FIGURE = TrendFigure(
    rope_id="invented <rope> & co",
    title="",
    invented=True,
    fitted_on=FITTED,
    begins=FITTED,
    as_of=TODAY,
    ends=date(2026, 7, 1),
    where="the rope at 40.00 m",
    limit=10,
    window="6 d",
    limit_words="10 broken wires in 6 d, house rule 1",
    looks=(
        SeenThen(on=date(2025, 4, 1), method="eye", known=0, new=0, unseen=0.2),
        SeenThen(on=date(2025, 8, 1), method="feel", known=1, new=1, unseen=0.6, closer=True),
        SeenThen(on=TODAY, method="feel", known=3, new=2, unseen=1.1),
    ),
    course=tuple(
        CourseDay(on=TODAY + timedelta(days=30 * step), low=3, middle=3 + step, high=5 + 3 * step)
        for step in range(6)
    ),
    chances=tuple(
        ChanceDay(on=TODAY + timedelta(days=30 * step), chance=0.001 * 4**step)
        for step in range(5)
    ),
    alpha=0.002,
    headline="next inspection by 2026-01-20",
    why="Because 3 broken wires are known.",
    next_inspection=date(2026, 1, 20),
    bounded_by="this forecast",
    order_by=date(2026, 3, 1),
    order_now=False,
    decide=("first cluster: 3 broken wires within 6 d",),
    early=date(2026, 4, 1),
    middle=date(2026, 11, 1),
    late=None,
    back_test="2 recommendations were followed by a look",
)  # fmt: skip
BARE = replace(
    FIGURE, looks=(), course=(), chances=(), next_inspection=None, order_by=None, early=None,
    middle=None,
)  # fmt: skip


def words_in(svg: str) -> str:
    return " ".join("".join(one.itertext()) for one in ET.fromstring(svg).iter())


@pytest.mark.parametrize("width", [360, 720, 1200])
def test_dates_limit_and_looks_are_told_in_words(width: int) -> None:
    said = re.sub(r"\s+", " ", words_in(trend_picture(FIGURE, width_px=width)))
    for words in ("20 Jan 2026", "Invented data", "limit: 10 broken wires", "eye: about half"):
        assert words in said
    assert "order the new rope by 1 Mar 2026" in said
    assert "later than shown" in said


def test_what_was_found_is_drawn_as_it_was() -> None:
    spec = trend_spec(FIGURE)
    layers = [one for one in spec["vconcat"][1]["layer"] if "data" in one]
    values = [spec["datasets"][one["data"]["name"]] for one in layers]
    steps = next(rows for rows in values if "most" in rows[0] and len(rows) == 5)
    # by hand: none at fitting, 0, 1 and 3 at the looks, still 3 today
    assert [row["count"] for row in steps] == [0, 0, 1, 3, 3]
    assert [round(row["most"], 6) for row in steps[1:4]] == [0.2, 1.6, 4.1]
    assert [rows[0]["count"] for rows in values if rows[0].get("count") == 10]


def test_a_date_beyond_the_figure_is_told_in_words_without_a_mark() -> None:
    day = FIGURE.ends + timedelta(days=400)
    rows = date_rows(replace(FIGURE, order_by=day))
    (row,) = [one for one in rows if "order the new rope" in one["words"]]
    assert f"{day.day} {day:%b %Y}" in row["words"]
    assert row["mark"] == ""
    (row,) = [one for one in date_rows(FIGURE) if "order the new rope" in one["words"]]
    assert row["mark"]


def test_beside_a_page_only_dates_with_a_mark_are_said_in_the_figure() -> None:
    rows = date_rows(FIGURE, marked_only=True)
    assert all(row["mark"] or row["to"] for row in rows[:-1])
    assert rows[-1]["words"] == f"upright line: today, {TODAY.day} {TODAY:%b %Y}"
    said = words_in(trend_picture(FIGURE, headline=False, width_px=380))
    assert "competent person" not in said  # that stands in words beside it


def test_it_refers_to_nothing_outside_itself() -> None:
    spec = trend_spec(FIGURE)
    said = json.dumps({key: value for key, value in spec.items() if key != "$schema"})
    assert '"url"' not in said
    assert "http" not in said
    assert json.loads(trend_spec_json(FIGURE)) == json.loads(json.dumps(spec))
    svg = trend_picture(FIGURE)
    assert not re.search(r"(href|src)=\"(?!#)", svg)


def test_the_same_bytes_whatever_was_drawn_before() -> None:
    """Ids of the drawing library count up within a process."""
    first = trend_picture(FIGURE)
    assert trend_picture(BARE) != first
    assert trend_picture(FIGURE) == first
    code = (
        "from tests.unit.picture.test_trend import FIGURE; import sys;"
        "from ropewright.picture import trend_picture;"
        "sys.stdout.buffer.write(trend_picture(FIGURE).encode())"
    )
    fresh = subprocess.run(  # our own code in a process of its own
        [sys.executable, "-c", code], capture_output=True, check=True
    ).stdout
    assert fresh.decode() == first


def test_a_grey_print_has_only_greys() -> None:
    svg = trend_picture(FIGURE, print_grey=True)
    for red, green, blue in re.findall(r"#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})\b", svg):
        assert red == green == blue


def test_without_looks_or_dates_it_says_so() -> None:
    said = words_in(trend_picture(BARE))
    assert "no date for the next inspection" in said


def test_it_has_a_name_and_a_description_for_those_who_cannot_see_it() -> None:
    root = ET.fromstring(trend_picture(FIGURE, headline=False))
    title, desc = root[0], root[1]
    assert title.text is not None
    assert "invented <rope> & co" in title.text
    assert desc.text is not None
    assert "limit 10" in desc.text
    assert "Invented data" in desc.text
    assert root.get("role") == "img"


@pytest.mark.parametrize("headline", [True, False])
@pytest.mark.parametrize("width", [360, 720])
def test_no_upright_line_runs_through_the_words_on_top(width: int, headline: bool) -> None:
    """By brute force: every piece of a line against the rows of every lettering."""
    spec = trend_spec(FIGURE, width_px=width, headline=headline)
    lines: list[tuple[float, float]] = []
    rows: list[tuple[float, float]] = []
    for layer in spec["vconcat"][0]["layer"]:
        mark, values = layer["mark"], spec["datasets"][layer["data"]["name"]]
        if mark["type"] == "rule":
            assert {"y", "y2"} <= set(layer["encoding"])  # not from top to bottom
            lines += [(one["row"], one["end"]) for one in values]
        elif mark["type"] == "text":
            high = mark["lineHeight"]
            rows += [(one["row"], one["row"] + high * len(one["words"])) for one in values]
    assert lines
    assert len(rows) >= (5 if headline else 4)
    slack = 4.0  # the last line of a row ends above its height; a descender is no wider
    crossed = [
        (line, row) for line in lines for row in rows
        if line[0] < row[1] - slack and line[1] > row[0]
    ]  # fmt: skip
    assert crossed == []
