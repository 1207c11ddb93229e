"""A phone in a person's hand: what they tap, type and read."""

import re
from typing import Any

from playwright.sync_api import BrowserContext, Locator, Page, ViewportSize, expect

from tests.field.serving import ROPE

SIZE: ViewportSize = {"width": 390, "height": 844}
READY = """async () => {
  await navigator.serviceWorker.ready;
  const names = await caches.keys();
  for (const name of names) if (await (await caches.open(name)).match('/field/complete')) return 1;
  return 0;
}"""
READ_STORE = """(name) => new Promise((resolve, reject) => {
  const opening = indexedDB.open('ropewright-field', 1);
  opening.onerror = () => reject(opening.error);
  opening.onsuccess = () => {
    const asked = opening.result.transaction(name).objectStore(name).getAll();
    asked.onsuccess = () => { opening.result.close(); resolve(asked.result); };
  };
})"""


class Phone:
    """One phone on one server."""

    def __init__(self, context: BrowserContext, address: str) -> None:
        self.context = context
        self.address = address
        self.page: Page = context.new_page()
        self.problems: list[str] = []
        self.page.on("pageerror", lambda error: self.problems.append(str(error)))

    # --- looking --------------------------------------------------------------------------------

    def open(self, route: str = "") -> None:
        """Go to a screen by its address."""
        self.page.goto(f"{self.address}/field/#{route}")

    def rope(self, *parts: object) -> None:
        """Go to a screen of the rope."""
        self.open("/".join(["/rope", ROPE.replace(" ", "%20"), *map(str, parts)]))

    def sees(self, text: str | re.Pattern[str]) -> Locator:
        """A text must be on the screen."""
        found = self.page.get_by_text(text).first
        expect(found).to_be_visible()
        return found

    def title(self, text: str) -> None:
        """The screen's title must be this."""
        expect(self.page.locator("h1")).to_have_text(text)

    def store(self, name: str) -> list[dict[str, Any]]:
        """Everything the phone keeps in one of its stores."""
        found: list[dict[str, Any]] = self.page.evaluate(READ_STORE, name)
        return found

    # --- doing ----------------------------------------------------------------------------------

    def tap(self, name: str, *, exact: bool = False) -> None:
        """Tap a button or link by its words."""
        self.page.get_by_role("button", name=name, exact=exact).first.click()

    def pick(self, question: str, answer: str) -> None:
        """Answer a question that is asked with big buttons."""
        group = self.page.get_by_role("group", name=question, exact=True)
        chosen = group.get_by_role("button", name=answer, exact=True)
        chosen.click()

    def keys(self, digits: str) -> None:
        """Type a number on the giant keypad."""
        pad = self.page.locator(".keypad")
        for digit in digits:
            name = "Plus or minus" if digit == "-" else digit
            pad.get_by_role("button", name=name, exact=True).click()
        pad.locator(".enter").click()

    def tick_all(self) -> None:
        """Tick everything that is there to be ticked."""
        ticks = self.page.locator("main .tick")
        expect(ticks.first).to_be_visible()
        for number in range(ticks.count()):
            one = ticks.nth(number)
            if one.get_attribute("aria-checked") != "true":
                one.click()
                expect(one).to_have_attribute("aria-checked", "true")

    # --- whole pieces of work -------------------------------------------------------------------

    def start(self) -> None:
        """Fetch the rope's card where there is a signal, and wait until the app is kept."""
        self.start_without_worker()
        for _ in range(60):
            if self.page.evaluate(READY):
                break
            self.page.wait_for_timeout(100)
        assert self.page.evaluate(READY)

    def start_without_worker(self) -> None:
        """Fetch the rope's card where there is a signal."""
        self.open()
        self.page.locator("a.rope", has_text=ROPE).click()
        self.tap("Fetch the card")
        self.sees("Open marks")

    def begin(self) -> str:
        """Read what is open and begin a periodic inspection; gives its code."""
        self.tap("I have read this")
        self.tap("Inspect the rope")
        self.pick("Which inspection?", "Periodic")
        self.pick("Grease on the rope", "Right")
        self.tap("Begin", exact=True)
        self.title("Plan")
        code = self.page.get_by_text(re.compile(r"^Inspection \d")).inner_text()
        return code.removeprefix("Inspection ")

    def to_stop(self, number: int = 0) -> None:
        """Through the gate of a pass, the pass itself, until everything stands."""
        self.page.locator(f"article.pass[data-pass='{number}']").get_by_role("button").click()
        self.tick_all()
        self.tap("All understood")
        self.tap("The rope has stopped")
        self.title("Stopped")
        self.tick_all()

    def snag(self, hook: str) -> None:
        """Take the height, read it back, accept the place."""
        self.tap("Something found")
        self.keys(hook)
        self.tap("The operator says: the same")
        self.tap("Right: what is it?")

    def one_break(self, offset: str | None, strand: str, site: str = "Crown") -> None:
        """One broken wire of a cluster."""
        self.tap("First broken wire" if offset is None else "Next broken wire")
        if offset is not None:
            self.keys(offset)
        self.keys(strand)
        self.pick("Where did the wire break?", site)
        self.pick("Does the end stand out?", "Yes")
        self.title("Broken wires")

    def says(self, limit: str, status: str) -> None:
        """What the screen says of a limit."""
        found = self.page.locator(f".ruling[data-limit='{limit}']").first
        expect(found).to_have_attribute("data-status", status)

    def send(self, *, gets_through: bool = True) -> None:
        """Send what waits and wait until nothing does any more."""
        self.open("/waiting")
        self.title("Waiting to be sent")
        self.tap("Send now")
        if gets_through:
            expect(self.page.locator(".chip")).to_have_text("All sent", timeout=20_000)
