"""What must not go wrong in a hurry: hands near wires found today, double taps, wrong answers.

Expected: written down before the app was tried.
"""

import re
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.field.phone import Phone
from tests.field.screens import CLUSTER, NEAR, PUT, REFUSED, WORK
from tests.field.serving import ROPE, Served
from tests.field.test_screens import show


@pytest.fixture
def ready(phone: Phone) -> Phone:
    phone.start_without_worker()
    return phone


def test_a_pass_by_hand_knows_the_wires_found_today(ready: Phone) -> None:
    """By hand: read at hook 97.2 m, and by the map back again, its error to both sides."""
    page = show(ready, "/gate/4", {})
    note = page.locator(".note.danger", has_text="found today: 2 at 201.6 m")
    expect(note).to_be_visible()
    low, high = (float(one) for one in re.findall(r"([\d.]+) m(?: and|,)", note.inner_text())[:2])
    assert low < 97.2 < high
    assert high - low == pytest.approx(0.84 + 0.22, abs=0.11)  # two falls: metres of rope halved
    expect(show(ready, "/gate/0", {}).locator(".note.danger")).to_have_count(0)  # by eye


def test_a_place_beside_wires_says_hand_off_also_for_those_of_today(ready: Phone) -> None:
    place = {"how": "crane", "map": 0, "pass": 0, "position": {"hook_m": 97.2}, "read": True}
    show(ready, "/place", {"place": place})
    ready.sees("HAND OFF while the rope runs")
    ready.rope()
    mark = ready.page.locator(".item:not([data-finding])", has_text="Mark 7")
    expect(mark).to_contain_text("HAND OFF while the rope runs")


def test_a_second_tap_saves_nothing_twice(ready: Phone, server: Served) -> None:
    groups = CLUSTER["groups"]
    page = show(ready, "/cluster", {"found": NEAR, "cluster": {"groups": groups, "strip": True}})
    page.get_by_role("button", name="Save", exact=True).dblclick()
    ready.title("Saved")
    page.wait_for_timeout(300)
    kinds = [one["sent"]["kind"] for one in ready.store("entries")]
    assert kinds.count("cluster") == 1
    ready.rope("hold")
    ready.pick("What happened?", "Shock load")
    page.get_by_role("button", name="On hold now").dblclick()
    ready.sees("On hold. Nothing is lifted.")
    page.wait_for_timeout(300)
    kinds = [one["sent"]["kind"] for one in ready.store("entries")]
    assert kinds.count("hold") == 1
    assert server.address


def test_a_pass_that_ended_where_it_cannot_says_why_and_counts_for_nothing(ready: Phone) -> None:
    show(ready, "/passed/0", {"passed": {"early": True}})
    ready.keys("-40")
    ready.sees("That is below the ground (0.0 m). Read again.")
    assert ready.store("entries") == []
    assert len(ready.store("work")[0]["inspection"]["passes"]) == len(WORK["inspection"]["passes"])


def test_what_is_accepted_as_unseen_stays_with_its_section(ready: Phone) -> None:
    """Accepted for rope 0 to 66 m; a later pass sees that, and nobody accepted the other end."""
    draft: dict[str, Any] = {
        "end": {"items": {"drum": None}, "accepted": {"0-66": {"by": True, "until": "2026-12-01"}}}
    }
    show(ready, "/end", draft)
    ready.sees("No place or part is ticked")  # an answer that was taken back is none
    accepted = ready.page.locator("[data-unseen] .tick[aria-checked='true']")
    expect(accepted).to_have_count(1)
    pieces = [{"from_m": 0.0, "to_m": 396.0}]
    work = WORK["inspection"]
    more = work | {"passes": [{"at": 0, "method": "eye", "sections": pieces}]}
    ready.open()
    ready.page.locator("body[data-screen=ropes]").wait_for()
    ready.page.evaluate(PUT, ["work", {"rope_id": ROPE, "inspection": more, "draft": draft}])
    ready.rope("end")
    expect(ready.page.locator("[data-unseen]")).to_have_count(1)
    expect(accepted).to_have_count(0)


def test_a_check_that_could_not_see_all_has_not_nothing_to_report(
    ready: Phone, server: Served
) -> None:
    items = ready.store("cards")[0]["card"]["lists"]["shift"]
    answers = dict.fromkeys(items, "ok") | {"drum": "not-seen"}
    show(ready, "/shift", {"shift": {"answers": answers, "words": {}, "marks": True}})
    ready.tap("Finish the check")
    ready.sees("Could not be seen: Drum")
    expect(ready.page.get_by_text("nothing to report")).to_have_count(0)
    ready.send()
    shift = [one for one in server.dossier().inspections if one.kind == "shift"][-1]
    assert {one.item: one.state for one in shift.examined}["drum"] == "not seen"
    said = [one for one in ready.store("entries") if one["sent"]["kind"] == "inspection finished"]
    assert [one["sent"]["payload"]["remark"] for one in said] == ["Could not be seen: Drum"]


def test_a_wrong_code_or_answer_is_not_taken_for_another(ready: Phone) -> None:
    ready.tap("I have read this")
    ready.tap("Inspect the rope")
    ready.page.get_by_text("Join an inspection").click()
    ready.page.get_by_label("Code of the inspection").fill("k7")
    ready.tap("Join", exact=True)
    ready.sees("That is no code of an inspection.")

    group = {"from_mm": "0", "to_mm": "0", "count": 1, "protruding": True}
    sent = REFUSED["sent"] | {"payload": {"inspection_id": "x", "what": {"groups": [group]}}}
    ready.page.evaluate(PUT, ["entries", REFUSED | {"sent": sent}])
    ready.page.route("**/api/v1/entries", lambda route: route.abort())
    ready.open("/waiting/mend/e-2")
    ready.page.get_by_label("Protruding").fill("yes")
    ready.page.get_by_label("Count").fill("")
    ready.tap("Send it again")
    ready.title("Waiting to be sent")
    kept = next(one for one in ready.store("entries") if one["id"] == "e-2")
    mended = kept["sent"]["payload"]["what"]["groups"][0]
    assert (mended["protruding"], mended["count"]) == ("yes", "")  # never false, never zero
