"""Pages for a person who chose feet, inches and pounds: nothing is left that only metres tell.

Figures by hand unless said otherwise: 1 ft = 0.3048 m and 1 in = 25.4 mm exactly.
"""

import html
import re
from typing import Any
from urllib.parse import quote

import pytest

from ropewright.geometry import Section
from ropewright.picture.frame import frame_for
from ropewright.web.pages.crane import last_set_up, rigging_with, values_of
from ropewright.web.pages.order import order_payload
from ropewright.web.us_units import us_drawing, us_page
from tests.unit.web.conftest import TODAY, Served

ROPE = "/ropes/KQ-1 hoist"
INSPECTION = f"{ROPE}/inspections/2026-11-09"
CRANE = "/cranes/KQ-1 hoist"
NUMBER = r"(?<![\w.,/-])[0-9]+(?:\.[0-9]+)?…? ?(?:mm|cm|m|kg|t|kN)(?![\w/²³])"
US = re.compile(r"[0-9] ?(?:ft|in|lbf?)\b")


def us_person(served: Served, login: str = "inspector") -> Any:
    client = served.browser(login)
    form = {"csrf": served.csrf(client), "units": "us", "hand": "right", "theme": "auto"}
    assert client.post("/me", data=form).status_code == 303
    return client


def said_on(page: str) -> list[str]:
    """The text of a page, piece by piece; no values of fields, no drawings."""
    plain = re.sub(r"<(script|style|textarea|title|svg|select|datalist)\b.*?</\1>", "", page,
                   flags=re.DOTALL)  # fmt: skip
    return [html.unescape(one).strip() for one in re.split(r"<[^>]*>", plain) if one.strip()]


def alert(answer: Any) -> str:
    found = re.search(r'role="alert">([^<]*)', answer.text)
    assert found is not None
    return html.unescape(found[1])


@pytest.fixture(scope="module")
def client(shared: Served) -> Any:
    return us_person(shared)


PAGES = [
    "/", "/handover", "/audit", "/rules", "/set-up", "/exchange", "/me", ROPE, f"{ROPE}/places",
    f"{ROPE}/order", f"{ROPE}/fitting", f"{ROPE}/history", f"{ROPE}/rules", f"{ROPE}/wear",
    INSPECTION, CRANE, "/ropes/KQ-1 trolley", "/ropes/KQ-1 trolley/places", "/ropes/KQ-4 hoist",
    "/ropes/KQ-4 hoist/places", "/cranes/KQ-4 hoist", "/ropes/KQ-4 hoist/order",
]  # fmt: skip


@pytest.mark.parametrize("path", PAGES)
def test_no_page_says_a_figure_in_metric_units_alone(path: str, client: Any) -> None:
    answer = client.get(path)
    assert answer.status_code == 200
    alone = [one for one in said_on(answer.text) if re.search(NUMBER, one) and not US.search(one)]
    assert alone == []


def test_derivations_and_entries_too(client: Any) -> None:
    page = client.get(ROPE).text
    paths = [html.unescape(one) for one in re.findall(r'href="(/ropes/[^"]*/why/[^"]*)"', page)]
    paths += [
        html.unescape(one) for one in re.findall(r'href="(/ropes/[^"]*/entries/[^"]*)"', page)
    ]
    assert len(paths) > 5
    for path in dict.fromkeys(paths):
        texts = said_on(client.get(path).text)
        assert [one for one in texts if re.search(NUMBER, one) and not US.search(one)] == []


@pytest.mark.parametrize(
    ("path", "words"),
    [  # by hand: 296.1 m = 971.457 ft, 296.7 m = 973.425 ft, 1.0 m = 3.281 ft
        ("/", "296.1 m to 296.7 m ± 1.0 m (971.5 ft to 973.4 ft ± 3.3 ft)"),
        (ROPE, "296.1 m to 296.7 m ± 1.0 m (971.5 ft to 973.4 ft ± 3.3 ft)"),
        (ROPE, "1378.0 ft"),  # 420 m = 1377.953 ft
        (f"{ROPE}/places", "hook 354.3 ft ± 2.3 ft"),  # 108.0 m = 354.331 ft, 0.7 m = 2.297 ft
        (f"{ROPE}/places", "hook 0.0 to 541.3 ft"),  # 165.0 m = 541.339 ft
        (f"{ROPE}/fitting", "20.50 mm (0.8071 in)"),  # 20.5 / 25.4 = 0.80709
        (f"{ROPE}/order", "= 0.787 in"),  # 20 / 25.4 = 0.78740
        (INSPECTION, "973"),
        (CRANE, "like 200 ft; now 541 ft"),  # 61 m = 200.13 ft, 165 m = 541.34 ft
        ("/set-up", "like 3/4 in"),
    ],
)
def test_known_places_stand_in_feet(path: str, words: str, client: Any) -> None:
    assert words in html.unescape(client.get(path).text)


def test_metric_people_see_no_feet(shared: Served) -> None:
    client = shared.browser("planner")
    for path in PAGES:
        assert not [one for one in said_on(client.get(path).text) if re.search(r"[0-9] ft\b", one)]


def test_programs_are_told_metres_whoever_asks(shared: Served, client: Any) -> None:
    metric = shared.browser("inspector")
    path = f"/api/v1{quote(ROPE)}/report.json"
    assert client.get(path).json()["assessment"] == metric.get(path).json()["assessment"]
    assert client.get("/api/v1/ropes").json() == metric.get("/api/v1/ropes").json()


# --- Drawings ---------------------------------------------------------------------------------


def test_the_chart_has_feet_for_the_one_and_metres_for_the_other(
    shared: Served, client: Any
) -> None:
    feet = client.get(f"{ROPE}/chart.svg").text
    assert "feet from end A" in feet
    assert ">1200<" in feet  # by hand: 420 m are 1378 ft, so the scale goes on to 1200
    assert client.get(f"{ROPE}/chart.svg").text == feet
    metres = shared.browser("planner").get(f"{ROPE}/chart.svg").text
    assert "metres from end A" in metres
    assert ">1200<" not in metres


def test_a_scale_in_feet_counts_round_feet_at_their_places() -> None:
    frame = frame_for(width=1100, shown=Section(0, 420), feet=True)
    scale = frame.scale(10)
    assert [number for _, number in scale] == [0, 200, 400, 600, 800, 1000, 1200]
    for place, number in scale:
        assert place == pytest.approx(number * 0.3048)


def test_the_crane_is_drawn_with_feet(client: Any) -> None:
    svg = client.get(f"{CRANE}/drawing.svg?hook_m=41.2&radius_m=30").text
    assert "hook 135.2 ft" in svg  # 135.171
    assert ">541 ft<" in svg
    assert " m<" not in svg


def test_words_torn_by_the_end_of_a_line_are_not_half_told() -> None:
    torn = "<text>hook 14.0 to</text><text>17.0 m here</text>"
    assert "hook 14.0 to</text>" in us_drawing(torn)
    assert "17.0 m (55.8 ft) here" in us_drawing(torn)
    assert us_drawing("<text>2</text><text>14.0 m</text>") == "<text>2</text><text>45.9 ft</text>"
    assert us_drawing("<style>a{width:2 m}</style>") == "<style>a{width:2 m}</style>"


# --- Forms ------------------------------------------------------------------------------------


def test_fields_and_choices_keep_what_they_hold() -> None:
    for kept in (
        '<input name="x" value="4 m">', "<option>mark at 4 m</option>", '<option value="4 m">',
        "<textarea>4 m</textarea>", "<code>4 m</code>", "<title>4 m</title>", "<svg>4 m</svg>",
    ):  # fmt: skip
        assert us_page(f"{kept}<p>4.0 m</p>") == f"{kept}<p>4.0 m (13.1 ft)</p>"
    assert us_page('<input placeholder="like 12 m">') == '<input placeholder="like 39 ft">'
    assert us_page('<input name="x" inputmode="decimal">') == '<input name="x">'
    assert us_page('<span class="hint">like 23.4 m</span>').endswith("like 76 ft 9 in</span>")


@pytest.mark.parametrize("field", ["hook", "radius"])
def test_a_bare_number_in_an_address_is_refused_by_name(field: str, client: Any) -> None:
    asked = {"point": "tower head", "hook": "76 ft 9 in", "radius": "98 ft", field: "23.4"}
    page = client.get(f"{ROPE}/places", params=asked)
    assert alert(page).startswith(field)
    assert "ft or m" in alert(page)
    assert 'value="23.4"' in page.text  # what was typed is still there
    asked[field] = "23.4 m"
    assert 'role="alert"' not in client.get(f"{ROPE}/places", params=asked).text


def test_feet_and_metres_ask_for_the_same_place(client: Any) -> None:
    feet = {"point": "tower head", "hook": "76 ft 9 in", "radius": "98 ft"}
    metres = {"point": "tower head", "hook": "23.3934 m", "radius": "29.8704 m"}
    one, other = (client.get(f"{ROPE}/places", params=asked).text for asked in (feet, metres))
    answer = re.compile(r"<strong>([0-9.]+ ft ± [0-9.]+ ft)</strong>")
    assert answer.findall(one)[:1] == answer.findall(other)[:1] != []


def test_the_set_up_takes_feet_and_inches_and_shows_them_again(served: Served) -> None:
    client = us_person(served)
    form = {"csrf": served.csrf(client), "valid_from": TODAY.isoformat()}
    wrong = client.post(CRANE, data={**form, "r.hook_high": "541"})
    assert wrong.status_code == 400
    assert "hook_high" in alert(wrong)
    assert client.post(CRANE, data={**form, "r.hook_high": "540 ft 9 in"}).status_code == 303
    (line,) = served.tools.book.lines("KQ-1 hoist", most=1)
    assert line.payload["hook_high_m"] == "164.8206"  # by hand: 6489 in × 0.0254 m
    assert 'value="540 ft 9 in"' in client.get(CRANE).text
    metric = served.browser("planner")  # a bare number means metres to who sees metres there
    form["csrf"] = served.csrf(metric)
    assert metric.post(CRANE, data={**form, "r.hook_high": "164"}).status_code == 303


@pytest.mark.parametrize("name", ["KQ-1 hoist", "KQ-4 hoist"])
def test_a_set_up_kept_as_it_is_shown_changes_nothing(name: str, shared: Served) -> None:
    rigging = shared.tools.book.dossier(name).rigging_at(TODAY)
    stated = last_set_up(_Asking(shared), name)  # type: ignore[arg-type]
    for units in ("metric", "us"):
        shown = {f"r.{key}": words for key, words in values_of(rigging, units).items()}
        kept = rigging_with(stated, shown, units)
        told = rigging_with(stated, {}, units)
        for key in ("hook_low_m", "hook_high_m", "drum_diameter_mm", "sheave_diameter_mm"):
            assert float(kept[key]) == float(told[key])


class _Asking:
    """Somebody whose office has the tools of a served book."""

    def __init__(self, served: Served) -> None:
        self.office = served


def test_readings_at_the_crane_need_their_unit(served: Served) -> None:
    client = us_person(served)
    form = {
        "csrf": served.csrf(client), "c.kind": "wraps counted", "c.on": "2026-11-09",
        "c.hook": "0", "c.radius": "98.4", "c.layer": "1", "c.wraps": "5.1",
    }  # fmt: skip
    wrong = client.post(f"{CRANE}/reading", data=form)
    assert wrong.status_code == 400
    assert alert(wrong).startswith("radius")
    assert (
        client.post(f"{CRANE}/reading", data={**form, "c.radius": "98 ft 5 in"}).status_code == 303
    )
    rigging = served.tools.book.dossier("KQ-1 hoist").rigging_at(TODAY)
    assert rigging is not None
    assert rigging.readings[0].position.radius_m == pytest.approx(29.9974)  # 1181 in × 0.0254


def test_what_was_not_seen_is_accepted_in_feet(served: Served) -> None:
    client = us_person(served)
    form = {"csrf": served.csrf(client), "until": "2026-12-01", "reason": "dead wraps"}
    page = client.get(INSPECTION).text
    assert 'value="1352.03 ft"' in page  # by hand: 412.1 m = 1352.034 ft
    bare = client.post(f"{INSPECTION}/unseen", data={**form, "from": "1352.03", "to": "1378"})
    assert bare.status_code == 400
    assert alert(bare).startswith("from")
    form |= {"from": "1352.03 ft", "to": "1377.95 ft"}
    assert client.post(f"{INSPECTION}/unseen", data=form).status_code == 303
    (line,) = served.tools.book.lines("KQ-1 hoist", most=1)
    assert line.payload["what"]["section"] == {"from_m": "412.099", "to_m": "419.999"}


@pytest.mark.parametrize(
    ("key", "typed", "kept"),
    [
        ("diameter_mm", "3/4 in", "19.05"),
        ("length_m", "1000 ft", "304.8"),
        ("length_m", "420 m", "420"),
        ("reel_mass_kg", "200 lb", "90.718474"),
        ("min_breaking_force_kn", "283 kN", "283"),
        ("delivery_weeks", "8", "8"),
    ],
)
def test_an_order_takes_both_units_and_keeps_metric_ones(key: str, typed: str, kept: str) -> None:
    for units in ("metric", "us"):
        assert order_payload({f"f.{key}": typed}, "o", units)[key] == kept


@pytest.mark.parametrize("key", ["diameter_mm", "length_m", "reel_mass_kg"])
def test_an_order_in_us_units_needs_the_unit(key: str) -> None:
    assert order_payload({f"f.{key}": "20"}, "o")[key] == "20"
    with pytest.raises(Exception, match="a number with its unit"):
        order_payload({f"f.{key}": "20"}, "o", "us")


def test_an_order_kept_as_it_is_shown_is_the_same_for_both(served: Served) -> None:
    kept = []
    for client in (us_person(served, "planner"), served.browser("keeper")):
        page = client.get("/ropes/KQ-4 hoist/order").text
        fields = {
            name: html.unescape(value)
            for name, value in re.findall(r'name="(f\.[^"]+)" value="([^"]*)"', page)
        }
        assert fields["f.diameter_mm"] in ("13 mm", "13")
        form = {"csrf": served.csrf(client), **fields}
        assert client.post("/ropes/KQ-4 hoist/order", data=form).status_code == 303
        (line,) = served.tools.book.lines("KQ-4 hoist", most=1)
        kept.append({key: one for key, one in line.payload.items() if key != "order_id"})
    assert kept[0] == kept[1]
    assert kept[0]["diameter_mm"] == "13"
