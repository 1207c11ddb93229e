"""Planner and inspector at work, in a real browser."""

from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped]
from playwright.sync_api import Browser, expect

from tests.unit.web.conftest import PASSWORD
from tests.web.conftest import Watched, log_in

ROPE = "/ropes/KQ-1%20hoist"
AXE = Axe()
#: WCAG 2.2 A and AA with everything before them.
WCAG = {
    "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
    "resultTypes": ["violations"],  # of what is in order one place is told, not every one
}


def check(one: Watched) -> None:
    """Axe finds nothing, nothing went wrong, and the page is no wider than its screen."""
    found = AXE.run(one.page, options=WCAG)
    assert len(found.response["passes"]) > 5  # it did look
    broken = [
        (each["id"], [node["html"][:120] for node in each["nodes"][:3]])
        for each in found.response["violations"]
    ]
    assert broken == [], one.page.url
    assert one.problems == [], one.page.url
    wide = one.page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    assert wide <= 0, f"{one.page.url} is {wide} px too wide"


def test_planner_sees_what_to_do_and_puts_an_order_together(browser: Browser, address: str) -> None:
    one = log_in(browser, address, "planner")
    page = one.page
    first = page.locator("article").first
    expect(first).to_contain_text("KQ-1 hoist")
    expect(first).to_contain_text("remove from service")
    expect(first).to_contain_text("Replace the rope")
    check(one)
    first.get_by_role("link", name="KQ-1 hoist").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("KQ-1 hoist")
    expect(page.locator("section.verdict")).to_contain_text("29 CFR 1926.1413(a)(2)(ii)(A)(2)")
    check(one)
    page.get_by_role("link", name="How this comes about").click()
    expect(page.locator("ol.steps li").first).to_be_visible()
    check(one)
    page.go_back()
    page.get_by_role("link", name="Order sheet").click()
    check(one)
    page.get_by_label("certificate", exact=False).first.fill("by the maker, with breaking test")
    page.get_by_role("button", name="Keep this order").click()
    expect(page.get_by_role("status")).to_contain_text("second person")
    for path in ("/handover", "/rules", "/people", "/me", "/audit", "/exchange", "/set-up"):
        page.goto(f"{address}{path}")
        check(one)
    assert all(url.startswith((address, "data:", "blob:")) for url in one.asked)


def test_inspector_holds_looks_releases_and_signs(browser: Browser, address: str) -> None:
    one = log_in(browser, address, "inspector")
    page = one.page
    page.goto(f"{address}/ropes/KQ-4%20hoist")
    page.get_by_text("Put on hold", exact=True).first.click()
    page.get_by_label("Why").first.fill("bang when lowering")
    page.get_by_role("button", name="Put on hold").click()
    expect(page.get_by_role("status").first).to_contain_text("on hold")
    page.get_by_text("Release", exact=True).click()
    page.get_by_label("Evidence").fill("whole rope by eye and hand: nothing new")
    page.get_by_role("button", name="Release in my name").click()
    expect(page.get_by_role("status").first).to_contain_text("Released")
    check(one)
    page.goto(f"{address}{ROPE}/places")
    expect(page.get_by_text("come first", exact=False).first).to_be_visible()
    check(one)
    page.goto(f"{address}{ROPE}/inspections/2026-11-09")
    check(one)
    page.goto(f"{address}/cranes/KQ-1%20hoist")
    slider = page.get_by_role("slider", name="Hook height")
    before = page.locator("[data-drawing]").get_attribute("src")
    slider.fill("20")
    expect(page.locator("[data-drawing]")).not_to_have_attribute("src", before or "")
    check(one)


def test_keyboard_alone_reaches_the_first_rope(browser: Browser, address: str) -> None:
    one = log_in(browser, address, "planner")
    page = one.page
    page.keyboard.press("Tab")
    expect(page.locator(":focus")).to_have_text("Skip to the content")
    check(one)  # the link that has come into view lies over nothing
    page.keyboard.press("Enter")
    for _ in range(4):
        page.keyboard.press("Tab")
        if "/ropes/" in (page.locator(":focus").get_attribute("href") or ""):
            break
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("KQ-1 hoist")


def test_wrong_password_is_said_plainly(browser: Browser, address: str) -> None:
    context = browser.new_context()
    one = Watched(context.new_page())
    one.page.goto(f"{address}{ROPE}")
    one.page.get_by_label("Name").fill("inspector")
    one.page.get_by_label("Password").fill("something else")
    one.page.get_by_role("button", name="Log in").click()
    expect(one.page.get_by_role("alert")).to_contain_text("do not go together")
    one.page.get_by_label("Password").fill(PASSWORD)
    one.page.get_by_role("button", name="Log in").click()
    expect(one.page.get_by_role("heading", level=1)).to_have_text("KQ-1 hoist")
