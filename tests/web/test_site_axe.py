"""Every page of every rope, at a desk and on a phone, and every state a page can be in.

`check` asks axe for WCAG 2.2 A and AA, for errors in the browser, and for the width.  Rows of one
table come from one line of a template: once the whole page was found to be within its width, all
but the first of a long table are taken out, as axe takes seconds for hundreds of them.
"""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Browser, Page, expect

from ropewright.demo import demo_names, demo_rope
from ropewright.web.addresses import in_address
from tests.web.conftest import AtDesk, Watched, log_in
from tests.web.test_stories import check

WIDTHS = (1440, 390)
ROPES = tuple(demo_rope(name).rope_id for name in demo_names())
BELOW = ("", "/places", "/order", "/fitting", "/wear", "/rules", "/history")
#: Pages of no one rope, and who sees most on them.
OTHERS = (
    ("planner", "/"), ("planner", "/?group=due&q=KQ"), ("planner", "/set-up"),
    ("inspector", "/handover"), ("inspector", "/rules"), ("inspector", "/me"),
    ("inspector", "/rules/iso-4309-2017?against=iso-4309-2010"),
    ("keeper", "/people"), ("keeper", "/audit"), ("keeper", "/exchange"),
)  # fmt: skip


FEW = """() => {
  const few = (parts, most) => [...parts].slice(most).forEach((one) => one.remove());
  document.querySelectorAll("tbody").forEach((one) => few(one.rows, 8));
  document.querySelectorAll("ul, ol, dl, select").forEach((one) => few(one.children, 16));
}"""


def look(one: Watched, widths: tuple[int, ...] = ()) -> None:
    """Hold a page against its width as a whole, then all else against its first rows.

    The page is looked at in each of the ``widths`` [px], without any as wide as it is.
    """
    for width in widths or (0,):
        sized(one.page, width)
        wide = one.page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
        assert wide <= 0, f"{one.page.url} is {wide} px too wide"
    one.page.evaluate(FEW)
    for width in widths or (0,):
        sized(one.page, width)
        check(one)


def sized(page: Page, width: int) -> None:
    """Make the window so many pixels wide, if that is asked for."""
    if width:
        page.set_viewport_size({"width": width, "height": 844 if width < 600 else 900})


def refused(one: Watched) -> None:
    """Forget that the browser noted the refusal that was asked for."""
    one.problems[:] = [each for each in one.problems if not re.search("40[0-9]", each)]


def unfold(page: Page) -> None:
    """Open everything that is folded."""
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")


@pytest.mark.parametrize("rope", ROPES)
def test_every_page_of_a_rope(site: str, at_desk: AtDesk, rope: str) -> None:
    one = at_desk("inspector", 1440)
    page, path = one.page, f"{site}/ropes/{in_address(rope)}"
    for below in BELOW:
        page.goto(f"{path}{below}")
        expect(page.get_by_text("Invented data, for demonstration only").first).to_be_visible()
        unfold(page)
        look(one, WIDTHS)
    sized(page, 390)
    page.goto(path)
    look(one)  # as it comes, folded on a phone
    unfold(page)
    linked = [page.locator(f"a[href*='/{kind}/']").first for kind in ("why", "entries")]
    linked.append(
        page.get_by_role("group", name="Inspections", exact=True).get_by_role("link").last
    )
    for address in [each.get_attribute("href") for each in linked]:
        page.goto(f"{site}{address}")
        unfold(page)
        look(one, WIDTHS)
    page.goto(f"{site}/cranes/{in_address(rope)}")
    unfold(page)
    look(one, WIDTHS)
    sized(page, 1440)


def test_every_other_page(site: str, at_desk: AtDesk) -> None:
    for who, path in OTHERS:
        one = at_desk(who, 1440)
        one.page.goto(f"{site}{path}")
        unfold(one.page)
        look(one, WIDTHS)
        sized(one.page, 1440)


def test_dark_pages(site: str, at_desk: AtDesk) -> None:
    one = at_desk("inspector", 1440)
    page, path = one.page, "/ropes/KQ-1%20hoist"
    page.emulate_media(color_scheme="dark")
    last = f"{path}/inspections/2026-11-09"
    crane = "/cranes/KQ-1%20hoist"
    for where in (
        path,
        last,
        crane,
        *(path + below for below in BELOW[1:]),
        "/",
        "/handover",
        "/people",
    ):
        page.goto(f"{site}{where}")
        unfold(page)
        look(one)
    page.emulate_media(color_scheme="light")


def said_wrong(page: Page, site: str) -> None:
    page.goto(f"{site}/set-up")
    page.get_by_label("Name of the rope").fill("KQ-9 hoist")
    page.get_by_label(re.compile("^Crane")).fill("KQ-9")
    page.get_by_label("Rope diameter").fill("thick")
    page.get_by_label(re.compile("^Construction")).fill("6x36WS")
    page.get_by_label("Length as first installed").fill("100 m")
    page.get_by_role("button", name="Take the rope into the book").click()
    expect(page.get_by_role("alert")).to_contain_text("thick")


def wrong_place(page: Page, site: str) -> None:
    page.goto(f"{site}/ropes/KQ-1%20hoist/places?point=nowhere&hook=high")
    expect(page.get_by_role("alert")).to_be_visible()


def found_place(page: Page, site: str) -> None:
    page.goto(f"{site}/ropes/KQ-1%20hoist/places?mark=7&beyond=2.1+m")
    expect(page.get_by_role("region", name="Answer")).to_be_visible()


def wrong_length(page: Page, site: str) -> None:
    page.goto(f"{site}/ropes/KQ-1%20hoist/order?crops=some")
    expect(page.get_by_role("alert")).to_be_visible()


def other_rules(page: Page, site: str) -> None:
    page.goto(f"{site}/ropes/KQ-1%20hoist/rules?try=iso-4309-2010")
    expect(page.get_by_role("status")).to_contain_text("Nothing was changed")


def unknown_rope(page: Page, site: str) -> None:
    page.goto(f"{site}/ropes/KQ-99%20hoist")
    expect(page.get_by_role("link", name="To the board")).to_be_visible()


def unknown_page(page: Page, site: str) -> None:
    page.goto(f"{site}/nothing/here")
    expect(page.get_by_role("link", name="To the board")).to_be_visible()


def nothing_found(page: Page, site: str) -> None:
    page.goto(f"{site}/?q=no+such+rope")
    expect(page.get_by_role("heading", level=1)).to_be_visible()


def wrong_hash(page: Page, site: str) -> None:
    page.goto(f"{site}/audit")
    page.get_by_label(re.compile("Seals of earlier days")).fill("no seal")
    page.get_by_role("button", name="Check the whole book").click()
    expect(page.get_by_role("alert")).to_be_visible()


def done(page: Page, site: str) -> None:
    page.goto(f"{site}/me")
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_role("status")).to_be_visible()


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize(
    "state",
    [said_wrong, wrong_place, found_place, wrong_length, other_rules, unknown_rope, unknown_page,
     nothing_found, wrong_hash, done],
    ids=lambda one: one.__name__,
)  # fmt: skip
def test_every_state(
    site: str, at_desk: AtDesk, state: Callable[[Page, str], None], width: int
) -> None:
    one = at_desk("inspector", width)
    state(one.page, site)
    refused(one)
    look(one)


@pytest.mark.parametrize("width", WIDTHS)
def test_held_rope_and_refused_person(site: str, at_desk: AtDesk, width: int) -> None:
    """The operator puts a rope on hold, and may not set one up."""
    one = at_desk("operator", width)
    page = one.page
    page.goto(f"{site}/ropes/KQ-3%20hoist")
    page.locator("summary", has_text="Put on hold").click()
    page.get_by_label("Why").first.fill("strange noise at the boom head")
    page.get_by_role("button", name="Put on hold").click()
    expect(page.locator("p.said")).to_contain_text("on hold")
    unfold(page)
    look(one)
    page.goto(f"{site}/set-up")
    expect(page.get_by_role("link", name="To the board")).to_be_visible()
    refused(one)
    look(one)


@pytest.mark.parametrize("width", WIDTHS)
def test_empty_book(browser: Browser, empty_site: str, width: int) -> None:
    one = log_in(browser, empty_site, "keeper", width=width)
    expect(one.page.get_by_role("link", name="Set up the first one")).to_be_visible()
    for path in ("/", "/handover", "/audit", "/exchange", "/people"):
        one.page.goto(f"{empty_site}{path}")
        look(one)
    one.page.context.close()


@pytest.mark.parametrize("width", WIDTHS)
def test_logged_out(browser: Browser, site: str, width: int) -> None:
    one = Watched(browser.new_context(viewport={"width": width, "height": 844}).new_page())
    page = one.page
    page.goto(f"{site}/ropes/KQ-1%20hoist")
    refused(one)
    look(one)
    page.get_by_label("Name").fill("nobody")
    page.get_by_label("Password").fill("nothing that is right")
    page.get_by_role("button", name="Log in").click()
    expect(page.get_by_role("alert")).to_be_visible()
    refused(one)
    look(one)
    page.context.close()
