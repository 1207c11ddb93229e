"""Pages on paper: what was said stays, what is only to be pressed goes, no side is cut."""

from typing import Literal

import pytest
from playwright.sync_api import Browser, expect

from tests.web.conftest import log_in

ROPE = "/ropes/KQ-1%20hoist"
#: The narrower of the two usual papers, A4, less 14 mm of margin at each side, at 96 dots an inch.
WIDE = round((210 - 28) / 25.4 * 96)


PAGES = ("/", ROPE, f"{ROPE}/places", f"{ROPE}/wear", f"{ROPE}/order", f"{ROPE}/fitting")


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_pages_print_without_navigation_and_fit_the_paper(
    browser: Browser, address: str, theme: Literal["light", "dark"]
) -> None:
    """By hand: the width of the paper; black on white whatever the screen shows."""
    page = log_in(browser, address, "inspector").page
    page.set_viewport_size({"width": WIDE, "height": 900})
    page.emulate_media(media="print", color_scheme=theme)
    for path in PAGES:
        page.goto(f"{address}{path}")
        for gone in ("header nav", "button", "form.lines", "input[type=file]", "nav.toc"):
            assert page.locator(f"{gone}:visible").count() == 0, f"{path}: {gone}"
        assert page.evaluate("document.documentElement.scrollWidth") <= WIDE, path
        colours = page.locator("body").evaluate(
            "one => [getComputedStyle(one).color, getComputedStyle(one).backgroundColor]"
        )
        assert colours == ["rgb(0, 0, 0)", "rgb(255, 255, 255)"], path
        expect(page.locator("h1")).to_be_visible()
        expect(page.locator(".foot")).to_contain_text("It advises; a person decides and signs.")


def test_what_is_folded_on_the_screen_is_unfolded_on_paper(browser: Browser, address: str) -> None:
    page = log_in(browser, address, "inspector").page
    page.goto(f"{address}{ROPE}")
    note = page.locator("td details:not([open])").first
    folded = note.evaluate("one => one.getBoundingClientRect().height")
    page.emulate_media(media="print")
    assert note.evaluate("one => one.getBoundingClientRect().height") > 1.5 * folded


def test_board_on_paper_says_what_it_was_narrowed_to(browser: Browser, address: str) -> None:
    page = log_in(browser, address, "inspector").page
    page.goto(f"{address}/?q=trolley")
    page.emulate_media(media="print")
    expect(page.get_by_label("Find")).to_have_value("trolley")
    expect(page.get_by_label("Find")).to_be_visible()
    page.goto(f"{address}/")
    expect(page.locator(".narrow-it")).to_be_hidden()
