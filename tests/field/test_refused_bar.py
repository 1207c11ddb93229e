"""The bar at the top tells by word and sign how many entries were refused, on every screen."""

from collections.abc import Callable

from playwright.sync_api import expect

from tests.field.phone import Phone
from tests.field.screens import PUT, REFUSED

GONE = """(id) => new Promise((resolve, reject) => {
  const opening = indexedDB.open('ropewright-field', 1);
  opening.onsuccess = () => {
    const change = opening.result.transaction('entries', 'readwrite');
    change.objectStore('entries').delete(id);
    change.oncomplete = () => { opening.result.close(); resolve(); };
    change.onerror = () => reject(change.error);
  };
})"""


def test_the_bar_never_says_all_sent_while_an_entry_is_refused(
    new_phone: Callable[..., Phone],
) -> None:
    """As when another window of the phone was told no: this one says so with its next screen."""
    phone = new_phone(service_workers="block")
    phone.start_without_worker()
    chip = phone.page.locator(".chip")
    expect(chip).to_have_text("All sent")
    expect(chip.locator("svg")).to_have_count(0)
    for count in (1, 2):
        phone.page.evaluate(PUT, ["entries", REFUSED | {"id": f"e-{count}", "order": count}])
        for address in ("/settings", "/", "/waiting"):
            phone.open(address)
            expect(chip).to_have_text(f"{count} refused: mend")
            expect(chip.locator("svg")).to_be_visible()
    phone.page.reload()
    expect(chip).to_have_text("2 refused: mend")
    chip.click()
    phone.title("Waiting to be sent")
    expect(phone.page.get_by_role("button", name="Mend it")).to_have_count(2)
    waits = REFUSED | {"id": "e-1", "state": "waiting", "order": 1}
    phone.page.evaluate(PUT, ["entries", waits])
    phone.open("/")
    expect(chip).to_have_text("1 refused: mend")  # the worse of the two is said
    for name in ("e-1", "e-2"):
        phone.page.evaluate(GONE, name)
    phone.open("/settings")
    expect(chip).to_have_text("All sent")


def test_a_refused_entry_is_told_as_soon_as_the_server_says_no(
    new_phone: Callable[..., Phone],
) -> None:
    phone = new_phone(service_workers="block")
    phone.start_without_worker()
    phone.page.evaluate(PUT, ["entries", REFUSED | {"state": "waiting", "reason": ""}])
    phone.open("/settings")
    expect(phone.page.locator(".chip")).to_have_text("1 waiting")
    phone.open("/waiting")
    phone.tap("Send now")
    expect(phone.page.locator(".chip")).to_have_text("1 refused: mend")
    phone.sees("but not all: 1 refused")
