"""The rope chart under mouse, finger and keys: zoom, pan, pinch, and what it tells of a sign."""

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.unit.web.conftest import PASSWORD
from tests.web.conftest import Watched, log_in
from tests.web.test_stories import check

ROPE = "/ropes/KQ-1%20hoist"
VIEW = ".chart-view svg"


@pytest.fixture(scope="module")
def desk(browser: Browser, address: str) -> Iterator[Watched]:
    """The planner at a desk."""
    one = log_in(browser, address, "planner")
    yield one
    assert one.problems == []
    one.page.context.close()


@pytest.fixture(scope="module")
def phone(browser: Browser, address: str) -> Iterator[Watched]:
    """The inspector with a phone that is touched."""
    context = browser.new_context(
        viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True
    )
    one = Watched(context.new_page())
    one.page.goto(f"{address}/")
    one.page.get_by_label("Name").fill("inspector")
    one.page.get_by_label("Password").fill(PASSWORD)
    one.page.get_by_role("button", name="Log in").tap()
    one.page.wait_for_url(f"{address}/")
    yield one
    assert one.problems == []
    context.close()


def to_chart(one: Watched, address: str, path: str = ROPE) -> Page:
    page = one.page
    page.goto(f"{address}{path}")
    expect(page.locator(VIEW)).to_be_visible()
    page.locator(".chart-view").evaluate("one => one.scrollIntoView({behavior: 'instant'})")
    return page


def box_of(page: Page) -> tuple[float, ...]:
    return tuple(
        float(part) for part in (page.locator(VIEW).get_attribute("viewBox") or "").split()
    )


def settled(page: Page) -> None:
    """Wait until the page has run out."""
    page.evaluate(
        """async () => {
          for (let still = 0, last = -1; still < 6; last = window.scrollY) {
            await new Promise(requestAnimationFrame);
            still = window.scrollY === last ? still + 1 : 0;
          }
        }"""
    )


class Fingers:
    """Fingers on the glass, as the browser's own protocol sends them."""

    def __init__(self, page: Page) -> None:
        self._page = page
        self._to = page.context.new_cdp_session(page)

    def send(self, kind: str, *points: tuple[float, float]) -> None:
        self._to.send(
            "Input.dispatchTouchEvent",
            {
                "type": kind,
                "touchPoints": [{"x": x, "y": y, "id": at} for at, (x, y) in enumerate(points)],
            },
        )

    def _lift(self) -> None:
        """Off the glass, and as long as a hand takes before it comes back: two frames at least."""
        self.send("touchEnd")
        self._page.evaluate(
            "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"
        )

    def drag(self, *way: tuple[float, float]) -> None:
        self.send("touchStart", way[0])
        for point in way[1:]:
            self.send("touchMove", point)
        self._lift()

    def pinch(self, middle: tuple[float, float], first: float, last: float) -> None:
        """Two fingers side by side, ``first`` pixels apart and then ``last``."""
        x, y = middle
        for step in range(11):
            half = (first + (last - first) * step / 10) / 2
            self.send("touchMove" if step else "touchStart", (x - half, y), (x + half, y))
        self._lift()


def middle_of(page: Page, selector: str = ".chart-view") -> tuple[float, float]:
    box: Any = page.locator(selector).first.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


# --- zoom and pan ------------------------------------------------------------------------------


def test_chart_zooms_by_buttons_and_keys(desk: Watched, address: str) -> None:
    page = to_chart(desk, address)
    said = page.locator(".chart-bar output")
    expect(said).to_have_text("whole rope")
    whole = box_of(page)
    page.get_by_role("button", name="Closer").click()
    expect(said).to_contain_text(" m")
    assert box_of(page) != whole
    page.locator(".chart-view").focus()
    page.keyboard.press("0")
    expect(said).to_have_text("whole rope")
    page.keyboard.press("+")
    expect(said).not_to_have_text("whole rope")
    left = box_of(page)[0]
    page.keyboard.press("ArrowRight")
    assert box_of(page)[0] > left


def test_two_fingers_zoom_about_the_place_between_them(phone: Watched, address: str) -> None:
    page = to_chart(phone, address)
    whole = box_of(page)
    x, _ = middle_of(page)
    spot = (x, 300.0)
    Fingers(page).pinch(spot, 60, 180)
    x0, y0, wide, high = box_of(page)
    # by hand: fingers three times as far apart show a third as much
    assert wide == pytest.approx(whole[2] / 3, rel=0.02)
    view: Any = page.locator(".chart-view").bounding_box()
    across, down = (spot[0] - view["x"]) / view["width"], (spot[1] - view["y"]) / view["height"]
    # what lay between the fingers still does
    assert x0 + across * wide == pytest.approx(whole[0] + across * whole[2], abs=2)
    assert y0 + down * high == pytest.approx(whole[1] + down * whole[3], abs=2)
    Fingers(page).pinch(spot, 200, 40)
    assert box_of(page) == pytest.approx(whole)


def test_one_finger_moves_the_drawing_once_it_is_nearer_and_the_page_before(
    phone: Watched, address: str
) -> None:
    page = to_chart(phone, address)
    x, _ = middle_of(page)
    before = page.evaluate("window.scrollY")
    Fingers(page).drag(*((x, 500.0 - 20 * step) for step in range(12)))
    page.wait_for_function("before => window.scrollY > before + 60", arg=before)
    settled(page)
    assert box_of(page)[0] == 0  # the drawing stayed
    page.locator(".chart-view").evaluate("one => one.scrollIntoView({behavior: 'instant'})")
    Fingers(page).pinch((x, 300.0), 60, 180)
    near, still = box_of(page), page.evaluate("window.scrollY")
    Fingers(page).drag(*((x - 10 * step, 300.0 - 6 * step) for step in range(9)))
    moved = box_of(page)
    assert moved[0] > near[0] + 10
    assert moved[1] > near[1] + 5
    assert page.evaluate("window.scrollY") == still
    # at the drawing's foot the page goes on, so that nobody is held fast in it
    for _ in range(4):
        Fingers(page).drag(*((x, 600.0 - 40 * step) for step in range(13)))
    page.wait_for_function("still => window.scrollY > still + 60", arg=still)


# --- choosing ----------------------------------------------------------------------------------


def test_a_sign_tells_where_to_stand_and_keeps_the_hand_off(desk: Watched, address: str) -> None:
    page = to_chart(desk, address)
    page.mouse.click(*middle_of(page, f"{VIEW} g.breaks g.flag"))
    told = page.locator(".chart-told")
    expect(told).to_contain_text("5 broken wires")
    expect(told).to_contain_text("HAND OFF")
    expect(told).to_contain_text("Stand at")
    expect(told).to_contain_text("hook ")
    expect(told).to_contain_text("± 1.0 m")
    expect(told).to_contain_text("layer ")
    expect(told).not_to_contain_text("runs away")  # no direction for a hand where wires stand out
    check(desk)
    told.get_by_role("link", name="29 CFR 1926.1413(a)(2)(ii)(A)(2)").first.click()
    expect(page.locator("ol.steps li").first).to_be_visible()


def test_keys_go_from_sign_to_sign(desk: Watched, address: str) -> None:
    page = to_chart(desk, address)
    page.locator(".chart-view").focus()
    page.keyboard.press("Tab")
    first = page.evaluate("document.activeElement.getAttribute('data-keys')")
    assert first
    page.keyboard.press("Enter")
    expect(page.locator(".chart-told article").first).to_be_visible()
    page.keyboard.press("ArrowRight")
    second = page.evaluate("document.activeElement.getAttribute('data-keys')")
    assert second
    assert second != first
    assert page.locator(f"{VIEW} [role=button][tabindex='0']").count() == 1
    page.keyboard.press("Escape")
    expect(page.locator(".chart-told article")).to_have_count(0)
    page.keyboard.press("Tab")  # and out of the drawing again
    assert page.evaluate("document.activeElement.closest('.chart-view')") is None


def test_every_sign_is_told_by_the_server(desk: Watched, address: str) -> None:
    """Stepped through from the first to the last, none is left with its bare title."""
    page = to_chart(desk, address, "/ropes/KQ-4%20hoist")
    many = page.locator(f"{VIEW} [role=button]").count()
    assert many > 5
    page.get_by_role("button", name="Next").click()
    expect(page.locator(".chart-told article").first).to_be_visible()  # the list has come
    bare = page.evaluate(
        """async many => {
          let bare = 0;
          for (let n = 0; n < many; n += 1) {
            document.querySelector("[data-after]").click();
            await new Promise((done) => setTimeout(done));
            if (!document.querySelector(".chart-told article h3")?.textContent) bare += 1;
          }
          return bare;
        }""",
        many,
    )
    assert bare == 0


def test_a_section_without_a_story_says_what_it_is(desk: Watched, address: str) -> None:
    page = to_chart(desk, address)
    page.mouse.click(*middle_of(page, f"{VIEW} g.feel-past"))
    expect(page.locator(".chart-told")).to_contain_text("last felt by hand on 12 Jan 2026")


def test_a_finger_need_not_hit_a_sign_exactly(phone: Watched, address: str) -> None:
    page = to_chart(phone, address)
    x, y = middle_of(page, f"{VIEW} g.marks g.flag")
    page.touchscreen.tap(x + 20, y + 12)
    expect(page.locator(".chart-told h3").first).to_have_text("mark 7")
    small = page.locator(".chart-bar button, .chart-step button").evaluate_all(
        "all => all.map(one => one.getBoundingClientRect()).filter(b => b.height < 44).length"
    )
    assert small == 0
    check(phone)


def test_the_list_works_without_script(browser: Browser, address: str, desk: Watched) -> None:
    kept = desk.page.context.storage_state()
    context = browser.new_context(java_script_enabled=False, storage_state=kept)
    page = context.new_page()
    page.goto(f"{address}{ROPE}")
    page.get_by_role("link", name="Everything on the chart").click()
    for words in ("Findings", "Marks", "Where damage is to be expected"):
        expect(page.get_by_role("heading", name=words)).to_be_visible()
    expect(page.locator("article", has_text="5 broken wires").first).to_contain_text("HAND OFF")
    expect(page.locator(".caution")).to_be_visible()
    context.close()


@pytest.mark.parametrize("who", ["desk", "phone"])
def test_the_list_is_clean(who: str, request: pytest.FixtureRequest, address: str) -> None:
    one: Watched = request.getfixturevalue(who)
    to_chart(one, address, f"{ROPE}/chart")
    check(one)
