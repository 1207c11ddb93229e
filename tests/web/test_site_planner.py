"""The seven ropes of the site as its planner meets them: what each says, and what to do about it.

What a page has to say stands in docs/demo.md and in the site's own table of ropes; the planner's
rights stand in `ropewright.web.gate`.
"""

import re

import pytest
from playwright.sync_api import Page, expect

from tests.web.conftest import AtDesk
from tests.web.test_stories import check

WIDE = 1440


@pytest.fixture
def page(at_desk: AtDesk) -> Page:
    """The planner's."""
    return at_desk("planner", WIDE).page


def open_rope(page: Page, site: str, rope: str) -> None:
    """From the board, as people do it."""
    page.goto(f"{site}/")
    page.get_by_role("link", name=rope, exact=True).click()
    expect(page.get_by_role("heading", level=1)).to_have_text(rope)


def first_metres(text: str) -> float:
    """The first place that a row of a table names [m]."""
    found = re.search(r"([0-9.]+) m\b", text)
    assert found is not None, text
    return float(found[1])


def test_board_says_in_order_what_to_do(site: str, page: Page) -> None:
    """By hand, from the seven stories: two to remove, one to decide, two incomplete, two to watch;
    among those to remove nothing says which is the more urgent."""
    page.goto(f"{site}/")
    ropes = page.locator("article h3").all_text_contents()
    assert [sorted(part) for part in (ropes[:2], ropes[2:3], ropes[3:5], ropes[5:])] == [
        ["KQ-1 hoist", "KQ-2 hoist"], ["KQ-4 hoist"], ["KQ-1 trolley", "KQ-5 hoist"],
        ["KQ-2 luffing", "KQ-3 hoist"],
    ]  # fmt: skip
    summary = page.locator("p.sum")
    for words in ("2 to remove", "1 to be decided", "2 incomplete", "2 to monitor"):
        expect(summary).to_contain_text(words)
    first = page.locator("article", has_text="KQ-1 hoist")
    expect(first).to_contain_text("Replace the rope")
    expect(first).to_contain_text("before further use")
    expect(first).to_contain_text(re.compile(r"Order by\s*10 Nov 2026, today"))
    expect(page.get_by_text("Invented data").first).to_be_visible()


def test_kq_1_hoist_is_removed_and_a_new_rope_ordered(site: str, page: Page) -> None:
    open_rope(page, site, "KQ-1 hoist")
    verdict = page.locator("section.verdict")
    expect(verdict).to_contain_text("Remove from service", ignore_case=True)
    expect(verdict).to_contain_text("5 broken wires in 30 d from 296.1 m to 296.7 m ± 1.0 m")
    expect(verdict).to_contain_text("limit 4 or more")
    expect(verdict).to_contain_text("29 CFR 1926.1413(a)(2)(ii)(A)(2)")
    expect(verdict).to_contain_text("Replace the rope, before further use")
    sets = page.get_by_role("group", name="Rule sets side by side").locator("tbody tr")
    expect(sets.filter(has_text="29 CFR 1926.1413")).to_contain_text("remove from service")
    expect(sets.filter(has_text="ISO 4309:2017")).not_to_contain_text("remove from service")
    found = page.get_by_role("group", name="Findings on the rope")
    expect(found).to_contain_text("where the rope climbs from layer 2 to layer 3")
    expect(found).to_contain_text("same as 2026-10-A")
    expect(page.locator("#forecast ~ p").first).to_contain_text("Limit reached", ignore_case=True)
    expect(page.locator(".verdict dl.pairs", has_text="Order by")).to_contain_text("now")
    page.get_by_role("link", name="How this comes about").click()
    expect(page.locator("ol.steps")).to_contain_text("30 × 20 mm = 600 mm")
    origin = page.locator("dl.pairs", has_text="Clause number")
    expect(origin).to_contain_text("read in the rule itself")
    page.go_back()
    page.get_by_role("link", name="Places and plan").click()
    passes = page.get_by_role("group", name="Passes")
    expect(passes).to_contain_text(re.compile(r"HAND OFF .*2026-11-A: protruding wires"))

    page.goto(f"{site}/ropes/KQ-1%20hoist/order")
    expect(page.locator(".caution")).to_contain_text("The crane's manual decides")
    page.get_by_label("Rope kept for cuts in its life").fill("12 metres or so")
    page.get_by_role("button", name="Work it out").click()
    expect(page.get_by_role("alert")).to_contain_text("rope kept for cuts")
    page.get_by_label("Rope kept for cuts in its life").fill("12 m")
    page.get_by_label("Rope in clamp, sockets and seizings").fill("1.5 m")
    page.get_by_role("button", name="Work it out").click()
    # By hand: the path asks for 419.95 m; 12 m for cuts and 1.5 m in the ends come to that.
    length = page.get_by_label("Length", exact=True)
    assert float(length.input_value()) >= 419.95 + 12 + 1.5
    page.get_by_role("button", name="Keep this order").click()
    expect(page.get_by_role("status")).to_contain_text("A second person checks it")
    page.get_by_role("button", name="Keep my check").click()
    expect(page.get_by_role("alert")).to_contain_text("not the one who made it")


def test_kq_1_hoist_is_read_at_the_crane(site: str, at_desk: AtDesk) -> None:
    """By hand: 7.90 m stay on the drum with the hook down, 1.572 m to a turn: about five turns."""
    one = at_desk("planner", WIDE)
    page = one.page
    page.goto(f"{site}/cranes/KQ-1%20hoist")
    form = page.locator("details", has_text=re.compile("^Wraps counted"))
    form.locator("summary").click()
    for wraps in ("9", "5,1"):
        form.get_by_label("Hook height read then").fill("0")
        form.get_by_label("Radius read then").fill("30")
        form.get_by_label("Layer, 1 on the barrel").fill("1")
        form.get_by_label("Wraps on that layer").fill(wraps)
        form.get_by_role("button", name="Add the reading").click()
        if wraps == "9":
            expect(page.get_by_role("alert")).to_contain_text("wraps counted")
            expect(form.get_by_label("Wraps on that layer")).to_have_value("9")
            one.problems[:] = [each for each in one.problems if "400" not in each]
            check(one)
    expect(page.get_by_role("table", name="Readings")).to_contain_text("wraps counted 2026-11-10")
    check(one)


def test_kq_1_trolley_waits_for_its_second_reading(site: str, page: Page) -> None:
    open_rope(page, site, "KQ-1 trolley")
    verdict = page.locator("section.verdict")
    expect(verdict).to_contain_text("Inspection incomplete")
    expect(verdict).to_contain_text("the second reading at right angles missing")
    expect(verdict).to_contain_text("29 CFR 1926.1413(a)(2)(ii)(B)")
    expect(verdict).to_contain_text("Measure twice at right angles at the same place")
    found = page.get_by_role("group", name="Findings on the rope")
    expect(found).to_contain_text("corrosion")
    expect(found).to_contain_text("wipes off")
    label = page.request.get(f"{site}/ropes/KQ-1%20trolley/label.pdf")
    assert label.body().startswith(b"%PDF")


def test_kq_2_hoist_hid_a_birdcage_on_its_drum(site: str, page: Page) -> None:
    open_rope(page, site, "KQ-2 hoist")
    verdict = page.locator("section.verdict")
    expect(verdict).to_contain_text("Remove from service", ignore_case=True)
    expect(verdict).to_contain_text("birdcage at 265.81 m ± 1.0 m")
    expect(verdict).to_contain_text("29 CFR 1926.1413(a)(2)(iii)(A)")
    history = page.get_by_role("group", name="History")
    expect(history).to_contain_text("slack rope")
    expect(history).to_contain_text("release")
    looked = page.get_by_role("group", name="Inspections", exact=True)
    looked.get_by_role("link", name="2026-10-05").click()
    expect(page.get_by_text("Not seen:", exact=True)).to_be_visible()
    expect(page.locator("main")).to_contain_text("190.0 m to 281.0 m")
    expect(page.locator("main")).to_contain_text("wound on the drum under other layers")
    page.goto(f"{site}/ropes/KQ-2%20hoist/places")
    page.get_by_label("Where you stand").fill("drum platform")
    page.get_by_label("Hook height read").fill("2 m")
    page.get_by_label("Jib angle").fill("80 deg")
    page.get_by_role("button", name="Where is that?").click()
    answer = page.get_by_role("region", name="Answer")
    expect(answer).to_contain_text(re.compile(r"265\.6\d? m ± 1\.(06|1) m"))
    expect(answer).to_contain_text("layer 1, wrap 11 from the motor-side flange (20 from the")
    expect(answer).to_contain_text("2026-11-A (birdcage)")


def test_kq_2_luffing_has_its_own_plan_and_cautions(site: str, page: Page) -> None:
    open_rope(page, site, "KQ-2 luffing")
    expect(page.locator("section.verdict")).to_contain_text("In service, monitor")
    forecast = page.locator("#forecast ~ p, #forecast ~ dl")
    expect(forecast.filter(has_text="compacted strands").first).to_contain_text(
        "broken ends lie flat and are hardly seen"
    )
    page.get_by_role("link", name="Places and plan").click()
    passes = page.get_by_role("group", name="Passes")
    row = passes.locator("tr", has_text="luffing drum platform")
    expect(row).to_contain_text("jib 15.0 to 80.0 deg")
    expect(row).to_contain_text("62.7 m to 150.5 m")
    expect(passes).to_contain_text("raise the jib: the rope runs away from")
    expect(page.locator("main")).to_contain_text(
        "This rope holds the jib: the maker's procedure for laying the jib down"
    )
    plan = page.request.get(f"{site}/ropes/KQ-2%20luffing/plan.pdf")
    assert plan.body().startswith(b"%PDF")
    page.get_by_label("Where you stand").fill("luffing drum platform")
    page.get_by_label("Jib angle").fill("15")
    page.get_by_role("button", name="Where is that?").click()
    # By hand, from the plan: the drum shows 62.7 to 150.5 m between the two ends of the travel.
    expect(page.get_by_role("region", name="Answer")).to_contain_text(
        re.compile(r"(62\.7|150\.5)\d? m ±")
    )


def test_kq_3_keeps_its_places_through_cuts_and_a_turn(site: str, page: Page) -> None:
    open_rope(page, site, "KQ-3 hoist")
    verdict = page.locator("section.verdict")
    expect(verdict).to_contain_text("In service, monitor")
    looked = page.get_by_role("group", name="Inspections", exact=True).locator("tbody tr")
    expect(looked).to_have_count(7)
    history = page.get_by_role("group", name="History")
    assert history.locator("tr", has=page.get_by_role("link", name="cut", exact=True)).count() == 2
    expect(history.get_by_role("link", name="end for end", exact=True)).to_have_count(1)
    page.get_by_role("link", name="Places and plan").click()
    again = page.get_by_role("group", name="Find again").locator("tr", has_text="2026-11-05-A")
    assert abs(first_metres(again.inner_text()) - 122.65) <= 0.5
    for inspection in ("2025-06-16", "2025-12-15", "2026-03-20", "2026-11-05"):
        page.goto(f"{site}/ropes/KQ-3%20hoist/inspections/{inspection}")
        wave = page.get_by_role("table", name="Findings").locator("tr", has_text="wav")
        assert abs(first_metres(wave.inner_text()) - 122.65) <= 0.5, inspection
    page.goto(f"{site}/ropes/KQ-3%20hoist/rules")
    expect(page.get_by_role("button", name="These govern from now on")).to_have_count(0)
    page.get_by_label("Rule set").select_option("iso-4309-2010")
    page.get_by_role("button", name="Judge by it today").click()
    expect(page.get_by_role("status")).to_contain_text("ISO 4309:2010")
    expect(page.get_by_role("status")).to_contain_text("Nothing was changed")


def test_kq_4_grew_within_weeks(site: str, page: Page) -> None:
    open_rope(page, site, "KQ-4 hoist")
    verdict = page.locator("section.verdict")
    expect(verdict).to_contain_text("Competent person to decide")
    expect(verdict).to_contain_text("wrap climbed out of groove")
    expect(verdict).to_contain_text("grease")
    expect(page.locator("main")).to_contain_text("from 1 to 9")
    forecast = page.locator("#forecast ~ p").first
    expect(forecast).to_contain_text("closer now")
    trend = page.locator("img.trend")
    trend.scroll_into_view_if_needed()
    assert trend.evaluate("async one => { await one.decode(); return one.naturalWidth }") > 0
    for inspection, said in (("2026-09-28", None), ("2026-10-19", "1 broken wire"),
                             ("2026-11-09", "9 broken wires over 218 mm")):  # fmt: skip
        page.goto(f"{site}/ropes/KQ-4%20hoist/inspections/{inspection}")
        findings = page.get_by_role("table", name="Findings")
        if said is None:
            expect(findings).not_to_contain_text("broken")
        else:
            expect(findings).to_contain_text(said)
    expect(page.get_by_role("table", name="Passes")).to_contain_text("grease")


def test_kq_5_says_what_its_first_inspection_must_establish(site: str, page: Page) -> None:
    open_rope(page, site, "KQ-5 hoist")
    verdict = page.locator("section.verdict")
    expect(verdict).to_contain_text("Inspection incomplete")
    expect(verdict).to_contain_text("reference diameter of this installation missing")
    expect(verdict).to_contain_text("Run the new rope in, then measure at three places that do not")
    expect(page.locator("main")).to_contain_text("No reference diameter is known")
    page.goto(f"{site}/cranes/KQ-5%20hoist")
    checks = page.get_by_role("table", name="Checks of the set-up").locator("tbody tr")
    reset = checks.filter(has_text="limits reset after rope change: no")
    expect(reset).to_contain_text("not met: asked for: yes")
    reset.get_by_role("link").first.click()
    expect(page.locator("section.verdict")).to_contain_text("limits reset after rope change: no")


def test_calendar_tells_the_planner_what_is_due(site: str, page: Page) -> None:
    """By hand, from the stories: each rope's last look and what asks for the next one."""
    page.goto(f"{site}/me")
    page.locator("select[name=purpose]").select_option("calendar")
    page.locator("input[name=name]").fill("the office wall")
    page.get_by_role("button", name="Make a token").click()
    address = page.locator("p.hash").inner_text()
    told = page.request.get(address).text()
    assert told.startswith("BEGIN:VCALENDAR")
    for rope in ("KQ-1 hoist", "KQ-2 luffing", "KQ-3 hoist", "KQ-5 hoist"):
        assert rope in told.replace("\r\n ", "")
    assert "invented" in told.lower()


def test_edition_change_is_told_clause_by_clause(site: str, page: Page) -> None:
    page.goto(f"{site}/rules/iso-4309-2017")
    page.get_by_label("What would change").select_option("iso-4309-2010")
    page.get_by_role("button", name="Compare").click()
    expect(page.get_by_role("group", name="Differences")).to_be_visible()
    rows = page.get_by_role("group", name="Differences").locator("tbody tr")
    assert rows.count() > 0


def test_planner_may_not_sign_release_or_confirm(site: str, page: Page) -> None:
    """What `gate` keeps for inspector and external examiner is not offered to a planner."""
    page.goto(f"{site}/ropes/KQ-2%20hoist")
    page.locator("summary", has_text="Put on hold").click()
    page.get_by_label("Why").first.fill("birdcage: nobody lifts with it")
    page.get_by_role("button", name="Put on hold").click()
    expect(page.get_by_role("status").first).to_contain_text("on hold")
    expect(page.locator("summary", has_text="Release")).to_have_count(0)
    page.goto(f"{site}/ropes/KQ-4%20hoist/inspections/2026-11-09")
    expect(page.locator("summary", has_text="Answer")).to_have_count(0)
    page.goto(f"{site}/ropes/KQ-4%20hoist/rules")
    for button in ("These govern from now on", "Use it, in my name", "Confirm in my name"):
        expect(page.get_by_role("button", name=button)).to_have_count(0)
    page.goto(f"{site}/people")
    expect(page.get_by_role("button", name="Add")).to_have_count(0)
