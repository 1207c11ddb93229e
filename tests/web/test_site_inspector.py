"""The seven ropes of the site as its inspector meets them: hold, compare, correct, confirm, sign.

What a page has to say stands in docs/demo.md; what an inspector may do in `ropewright.web.gate`.
"""

import re
import uuid
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.unit.web.conftest import PASSWORD
from tests.web.conftest import AtDesk
from tests.web.test_site_planner import first_metres
from tests.web.test_stories import check

WIDE = 1440


@pytest.fixture
def page(at_desk: AtDesk) -> Page:
    """The inspector's."""
    return at_desk("inspector", WIDE).page


def sent(page: Page, site: str, rope: str, *entries: tuple[str, dict[str, Any]]) -> None:
    """Entries as the inspector's phone sends them once it has a signal."""
    body = {
        "device": {"id": "phone 1", "sent_at": "2026-11-10T09:00:00+00:00"},
        "entries": [
            {
                "id": str(uuid.uuid4()), "kind": kind, "rope_id": rope, "payload": payload,
                "happened_at": "2026-11-10T08:30:00+00:00",
                "typed_at": "2026-11-10T08:31:00+00:00",
            }
            for kind, payload in entries
        ],
    }  # fmt: skip
    answer = page.request.post(f"{site}/api/v1/entries", data=body, headers={"origin": site})
    assert answer.ok, answer.text()
    assert [one["state"] for one in answer.json()["results"]] == ["taken"] * len(entries)


def test_kq_1_hoist_finding_is_put_right_by_an_addition(site: str, page: Page) -> None:
    page.goto(f"{site}/ropes/KQ-1%20hoist/inspections/2026-11-09")
    findings = page.get_by_role("table", name="Findings")
    expect(findings).to_contain_text("5 broken wires")
    findings.get_by_role("link", name="2026-11-A", exact=True).click()
    content = page.get_by_role("textbox", name=re.compile("^Content"))
    was = content.input_value()
    assert "blue mark 7" in was
    page.get_by_label("this content").check()
    content.fill(was.replace("blue mark 7", "blue mark 7, seen again"))
    page.get_by_role("button", name="Add the correction").click()
    expect(page.get_by_label("Why")).to_be_focused()  # no reason, no correction
    page.get_by_label("Why").fill("the mark was looked at again")
    page.get_by_role("button", name="Add the correction").click()
    expect(page.get_by_role("heading", name="Put right by")).to_be_visible()
    expect(page.locator("main")).to_contain_text("the mark was looked at again")
    assert "seen again" not in page.locator("dl.pairs").first.inner_text()  # it stays as it was
    page.goto(f"{site}/ropes/KQ-1%20hoist/inspections/2026-11-09")
    expect(page.get_by_role("table", name="Findings")).to_contain_text("blue mark 7, seen again")
    page.goto(f"{site}/ropes/KQ-1%20hoist")
    expect(page.locator("section.verdict")).to_contain_text("5 broken wires in 30 d")


def test_kq_1_hoist_grew_from_none_to_five(site: str, page: Page) -> None:
    for inspection, said in (("2026-09-09", None), ("2026-10-09", "1 broken wire"),
                             ("2026-11-09", "5 broken wires")):  # fmt: skip
        page.goto(f"{site}/ropes/KQ-1%20hoist/inspections/{inspection}")
        if said is None:
            expect(page.get_by_role("table", name="Findings")).to_have_count(0)
        else:
            expect(page.get_by_role("table", name="Findings")).to_contain_text(said)
    matched = page.get_by_role("table", name="Last time and now").locator("tr", has_text="-10-A")
    expect(matched).to_contain_text("2026-11-A: 5 broken wires")
    expect(matched).to_contain_text("same")
    answer(page, "the same")
    expect(matched).to_contain_text("confirmed")
    kept = page.locator("main li", has_text="2026-11-A is the same as 2026-10-A: ")
    expect(kept).to_contain_text("the inspector")


def test_kq_1_trolley_value_from_memory_is_held_against_a_copy(site: str, page: Page) -> None:
    page.goto(f"{site}/ropes/KQ-1%20trolley/rules")
    page.locator("summary", has_text="0 of").first.click()
    table = page.get_by_role("group", name="Values from memory")
    row = table.locator("tbody tr").first
    clause = row.locator("th").inner_text().split("\n")[0]
    row.locator("summary").click()
    row.get_by_label("Edition of your copy").fill("fifth edition, 2017")
    row.get_by_role("button", name="Confirm in my name").click()
    expect(page.get_by_role("status")).to_contain_text("Your confirmation is recorded")
    done = table.locator("tbody tr", has_text=clause).first
    expect(done).to_contain_text("the inspector")
    expect(done).to_contain_text("10 Nov 2026: agrees, fifth edition, 2017")


def test_kq_1_trolley_says_where_and_what_is_missing(site: str, page: Page) -> None:
    page.goto(f"{site}/ropes/KQ-1%20trolley")
    page.get_by_role("link", name="How this comes about").click()
    asked = page.locator("dl.pairs", has_text="Missing").first
    expect(asked).to_contain_text("second reading at right angles")
    expect(asked).to_contain_text("measure twice at right angles at the same place")
    page.goto(f"{site}/ropes/KQ-1%20trolley/places")
    again = page.get_by_role("group", name="Find again").locator("tr", has_text="corrosion").first
    assert first_metres(again.inner_text()) < 1  # at end A, the jib tip's
    expect(again).to_contain_text("from its end A side")


def test_kq_2_hoist_stays_removed_whoever_releases_it(site: str, page: Page) -> None:
    page.goto(f"{site}/ropes/KQ-2%20hoist")
    page.locator("summary", has_text="Report an event").click()
    event = page.locator("form[action$='/event']")
    event.get_by_label("What happened").select_option("slack rope")
    event.get_by_label("In a few words").fill("hook set down while it was lowered on")
    event.get_by_role("button", name="Report; the rope is on hold").click()
    expect(page.get_by_role("status").first).to_contain_text("on hold until released")
    page.locator("summary", has_text="Release").click()
    page.get_by_label("Evidence").fill("drum looked at with the hook right down: birdcage")
    page.get_by_role("button", name="Release in my name").click()
    expect(page.get_by_role("status").first).to_contain_text("Released")
    verdict = page.locator("section.verdict")
    expect(verdict).to_contain_text("Remove from service", ignore_case=True)
    expect(verdict.locator(".hold")).to_be_visible()  # a criterion is reached all the same
    page.goto(f"{site}/ropes/KQ-3%20hoist")
    expect(page.locator("p.said")).to_have_count(0)  # a word for one rope is said there alone


def test_kq_2_hoist_section_that_was_not_seen_is_accepted_by_name(site: str, page: Page) -> None:
    page.goto(f"{site}/ropes/KQ-2%20hoist/inspections/2026-11-06")
    expect(page.get_by_text("Not seen:", exact=True)).to_be_visible()
    expect(page.locator("main")).to_contain_text("270.0 m to 281.0 m")
    page.locator("summary", has_text="Accept by name").click()
    form = page.locator("form[action$='/unseen']")
    form.get_by_label("Until").fill("2026-12-10")
    form.get_by_label("Why").fill("dead wraps: the new rope comes before then")
    form.get_by_role("button", name="Accept in my name").click()
    expect(page.locator("main")).to_contain_text("accepts until 10 Dec 2026")
    expect(page.get_by_text("Not seen:", exact=True)).to_be_visible()  # accepted is not seen


def test_kq_2_luffing_is_inspected_its_own_way(site: str, page: Page) -> None:
    page.goto(f"{site}/ropes/KQ-2%20luffing/places")
    expect(page.locator(".caution").first).to_contain_text("competent person come first")
    steps = page.locator("ol.steps")
    expect(steps).to_contain_text("This rope holds the jib")
    page.goto(f"{site}/cranes/KQ-2%20luffing")
    slider = page.get_by_role("slider", name="Jib angle")
    drawing = page.locator("[data-drawing]")
    before = drawing.get_attribute("src") or ""
    slider.fill("20")
    expect(drawing).not_to_have_attribute("src", before)
    assert drawing.evaluate("async one => { await one.decode(); return one.naturalWidth }") > 0


def test_kq_3_permission_is_a_choice_with_a_name(site: str, page: Page) -> None:
    page.goto(f"{site}/ropes/KQ-3%20hoist/rules")
    offered = page.locator("details", has_text="Twice the listed number of broken wires").first
    offered.locator("summary").click()
    offered.get_by_label("Why").fill("mechanism of class M5, by the crane's papers")
    offered.get_by_role("button", name="Use it, in my name").click()
    expect(page.get_by_role("status")).to_contain_text("The permission is recorded")
    expect(page.locator("main")).to_contain_text("the inspector, inspector, 10 Nov 2026.")
    expect(page.locator("main")).to_contain_text("mechanism of class M5, by the crane's papers")


def test_kq_3_rules_are_chosen_and_none_is_a_default(site: str, page: Page) -> None:
    page.goto(f"{site}/ropes/KQ-3%20hoist/rules")
    chosen = page.get_by_role("checkbox", checked=True)
    assert chosen.count() == 2  # by the case file
    for name in (re.compile("^ISO 4309:2017"), re.compile("^29 CFR 1926.1413")):
        page.get_by_role("checkbox", name=name).uncheck()
    page.get_by_role("button", name="These govern from now on").click()
    expect(page.get_by_role("alert")).to_contain_text("there is no default edition")


def answer(page: Page, said: str) -> None:
    """Answer the first pair that was matched, in one's own name."""
    row = page.get_by_role("table", name="Last time and now").locator("tr", has_text="-10-A")
    row.locator("summary").first.click()
    row.get_by_label("It is").first.select_option(said)
    row.get_by_label("Why").first.fill("both photos laid side by side")
    row.get_by_role("button", name="Keep, in my name").first.click()
    expect(page.get_by_role("status").first).to_contain_text("Your answer is kept")


def test_kq_4_pair_is_overruled_and_no_count_goes_down(site: str, page: Page) -> None:
    page.goto(f"{site}/ropes/KQ-4%20hoist/inspections/2026-11-09")
    answer(page, "not the same")
    expect(page.locator("main")).to_contain_text("not the same")
    page.goto(f"{site}/ropes/KQ-4%20hoist")
    expect(page.locator("section.verdict")).to_contain_text("Competent person to decide")
    found = page.get_by_role("group", name="Findings on the rope")
    expect(found).to_contain_text("9 broken wires over 218 mm")


def test_kq_4_part_and_grease_stand_on_the_page(site: str, page: Page) -> None:
    page.goto(f"{site}/ropes/KQ-4%20hoist")
    verdict = page.locator("section.verdict")
    expect(verdict).to_contain_text("wrap climbed out of groove")
    expect(verdict).to_contain_text("26.4 m to 27.8 m")
    expect(verdict).to_contain_text("grease")
    expect(page.get_by_role("group", name="Findings on parts")).to_contain_text("wrap climbed")
    expect(page.get_by_role("group", name="Passes")).to_contain_text("26.4 m to 27.8 m")


def test_kq_5_first_inspection_from_the_phone_to_the_signature(site: str, page: Page) -> None:
    """As phones send it: begun, a part seen, all seen, finished; then signed at the desk."""
    which = {"inspection_id": "first-2"}
    sent(page, site, "KQ-5 hoist",
         ("inspection begun", {**which, "kind": "first", "on": "2026-11-10"}),
         ("pass", {**which, "what": {"method": "eye-round",
                                     "section": {"from_m": "0", "to_m": "200"}}}))  # fmt: skip
    page.goto(f"{site}/ropes/KQ-5%20hoist/inspections/first-2")
    expect(page.get_by_text("Still to see", exact=False)).to_be_visible()
    expect(page.locator("main")).to_contain_text("200.0 m to 295.0 m")
    expect(page.get_by_role("button", name="Sign in my name")).to_have_count(0)
    sent(page, site, "KQ-5 hoist",
         ("pass", {**which, "what": {"method": "eye-round",
                                     "section": {"from_m": "0", "to_m": "295"}}}),
         ("inspection finished", which))  # fmt: skip
    page.reload()
    expect(page.locator("main")).to_contain_text("nothing: eye or hand went over the whole rope")
    page.get_by_label("Your password, once more").fill("not the password")
    page.get_by_role("button", name="Sign in my name").click()
    expect(page.get_by_role("alert")).to_be_visible()
    page.get_by_label("Your password, once more").fill(PASSWORD)
    page.get_by_role("button", name="Sign in my name").click()
    expect(page.get_by_role("status")).to_contain_text("Signed in your name")
    frozen = page.get_by_role("link", name="The report as it was signed (PDF)")
    path = frozen.get_attribute("href")
    assert path is not None
    first = page.request.get(f"{site}{path}").body()
    assert first.startswith(b"%PDF")
    page.goto(f"{site}/ropes/KQ-5%20hoist")
    expect(page.locator("section.verdict")).to_contain_text("Inspection incomplete")
    expect(page.locator("section.verdict")).to_contain_text("reference diameter")
    sent(page, site, "KQ-5 hoist",
         ("hold", {"hold_id": "hold-1", "on": "2026-11-10", "reason": "not run in"}))  # fmt: skip
    assert page.request.get(f"{site}{path}").body() == first  # frozen as it was signed


def test_inspector_keeps_the_tool_but_not_its_people(site: str, at_desk: AtDesk) -> None:
    """By `gate`: an inspector adds nobody and takes in no whole book."""
    one = at_desk("inspector", WIDE)
    page = one.page
    page.goto(f"{site}/people")
    expect(page.get_by_role("button", name="Add")).to_have_count(0)
    page.goto(f"{site}/exchange")
    expect(page.get_by_role("button", name="Take the book in")).to_have_count(0)
    page.goto(f"{site}/audit")
    seal = page.locator("p.hash").inner_text()
    page.get_by_label(re.compile("Seals of earlier days")).fill(seal)
    page.get_by_role("button", name="Check the whole book").click()
    expect(page.get_by_role("status")).to_contain_text("It holds:")
    expect(page.get_by_role("status")).to_contain_text("1 earlier seal compared")
    check(one)
