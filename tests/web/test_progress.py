"""The office follows an inspection while a phone sends it."""

from playwright.sync_api import Browser, expect

from tests.unit.web.test_api import event
from tests.web.conftest import log_in
from tests.web.test_stories import check

PATH = "/ropes/KQ-1%20hoist/inspections/I-live"


def test_page_follows_what_a_phone_sends(browser: Browser, address: str) -> None:
    phone = log_in(browser, address, "inspector", width=390).page

    def sent(kind: str, payload: dict[str, object]) -> None:
        answer = phone.request.post(
            f"{address}/api/v1/entries",
            data={
                "device": {"id": "phone 1", "sent_at": "2026-11-10T09:00:00+00:00"},
                "entries": [event(kind=kind, payload={"inspection_id": "I-live", **payload})],
            },
            headers={"origin": address},
        )
        assert answer.json()["results"][0]["state"] == "taken", answer.text()

    sent("inspection begun", {"kind": "monthly", "on": "2026-11-10"})
    one = log_in(browser, address, "planner")
    page = one.page
    page.clock.install()
    page.goto(f"{address}{PATH}")
    follows = page.get_by_role("region", name="How far it has come")
    expect(follows).to_contain_text("sent 1 entry")
    check(one)
    sent("pass", {"what": {"method": "feel", "section": {"from_m": "66", "to_m": "231"}}})
    page.clock.fast_forward(11_000)
    expect(follows).to_contain_text("sent 2 entries")
    expect(follows.get_by_role("row").filter(has_text="231.0 m to 396.0 m")).to_contain_text("50 %")
    again = follows.get_by_role("link", name="Load this page again")
    check(one)
    again.click()
    expect(page.get_by_role("table", name="Passes", exact=True)).to_contain_text(
        "66.0 m to 231.0 m"
    )
    check(one)
