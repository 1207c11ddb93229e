"""Fitting, wear and photos in a real browser, on a desk and on a phone."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from ropewright.demo import USUAL_SEED, demo_lifts
from tests.web.conftest import log_in
from tests.web.test_stories import check

ROPE = "/ropes/KQ-4%20hoist"


@pytest.fixture(scope="module")
def lifts(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The list of lifts of KQ-4."""
    ((name, text),) = demo_lifts("KQ-4", USUAL_SEED).items()
    path = tmp_path_factory.mktemp("lifts") / name
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize("width", [1440, 390])
def test_planner_counts_a_log_and_sees_where_to_look(
    browser: Browser, address: str, lifts: Path, width: int
) -> None:
    one = log_in(browser, address, "planner", width=width)
    page = one.page
    page.goto(f"{address}{ROPE}")
    page.get_by_role("link", name="Wear and cuts").click()
    page.get_by_text("If the headings do not say what is what").click()
    check(one)
    page.get_by_label("Mass of the hook block").fill("heavy")
    page.get_by_label("Log or list of lifts").set_input_files(lifts)
    page.get_by_role("button", name="Count the log").click()
    expect(page.get_by_role("alert")).to_contain_text("block")
    expect(page.get_by_label("Mass of the hook block")).to_have_value("heavy")
    one.problems[:] = [each for each in one.problems if "400" not in each]  # it was refused
    check(one)
    page.get_by_label("Mass of the hook block").fill("200 kg")
    page.get_by_label("Log or list of lifts").set_input_files(lifts)
    page.get_by_role("button", name="Count the log").click()
    expect(page.get_by_role("heading", name="Look here first")).to_be_visible()
    first = page.get_by_role("group", name="Most worn sections").locator("tbody tr").first
    expect(first).to_contain_text("14.0 m to 17.0 m")
    expect(first).to_contain_text("HAND OFF while the rope runs")
    expect(page.locator(".caution")).to_contain_text("No rope is cut or turned".lower())
    check(one)
    assert all(url.startswith((address, "data:", "blob:")) for url in one.asked)


def test_rope_fitter_begins_and_writes_the_first_steps_down(browser: Browser, address: str) -> None:
    one = log_in(browser, address, "rope-fitter", width=390)
    page = one.page
    page.goto(f"{address}/ropes/KQ-1%20trolley/fitting")
    check(one)
    page.get_by_role("button", name="Begin to fit").click()
    expect(page.get_by_text("on hold", exact=True)).to_be_visible()
    papers = page.locator("li#papers")
    expect(papers).to_contain_text("No order in the book: nothing to hold the papers against")
    expect(papers.get_by_role("table")).to_contain_text("Lay hand and drum")
    expect(papers.get_by_role("table")).not_to_contain_text("Nominal diameter")
    papers.get_by_label("Remark").fill("tag hangs on the far side")
    papers.get_by_role("button", name="Keep, in my name").click()
    expect(page.get_by_role("alert")).to_contain_text("reel tag")
    expect(papers.get_by_label("Remark")).to_have_value("tag hangs on the far side")
    one.problems[:] = [each for each in one.problems if "400" not in each]  # it was refused
    check(one)
    papers.get_by_label("Reel tag").fill("4711")
    papers.get_by_role("button", name="Keep, in my name").click()
    expect(page.get_by_role("status")).to_have_text("Kept.")
    expect(page.locator("li#measured")).to_contain_text("next")
    page.locator("li#reference summary").click()
    check(one)


def test_log_that_is_too_large_is_said_before_it_is_sent(
    browser: Browser, address: str, tmp_path: Path
) -> None:
    one = log_in(browser, address, "planner")
    page = one.page
    page.goto(f"{address}{ROPE}/wear")
    large = tmp_path / "large.csv"
    large.write_bytes(b"a" * 26_000_001)
    field = page.get_by_label("Log or list of lifts")
    field.set_input_files(large)
    said = field.evaluate("one => one.validationMessage")
    assert "at most 26 MB" in said
    page.get_by_role("button", name="Count the log").click()
    expect(page.get_by_role("alert")).to_have_count(0)  # nothing was sent
    assert one.problems == []
