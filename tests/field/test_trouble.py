"""What goes wrong on a site: an answer that never comes, a full phone, a card that is too old.

Expected: written down before the app was tried; nothing lost, nothing twice, and it says so.
"""

import gzip
import io
import json
import re
from collections import Counter
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from importlib.resources import files
from pathlib import Path

from PIL import Image
from playwright.sync_api import Error, Route, expect

from ropewright.web.catalogue import FIELD_FILES
from tests.field.phone import Phone
from tests.field.serving import ROPE, Served
from tests.field.test_inspection import PUT_PHOTO

FIELD = Path(str(files("ropewright.web").joinpath("static/field")))
#: What the app may weigh on its way to the phone [bytes], compressed.
MOST_BYTES = 150_000

FULL = """(names) => {
  const put = IDBObjectStore.prototype.put;
  window.makeRoom = () => { IDBObjectStore.prototype.put = put; };
  IDBObjectStore.prototype.put = function (...given) {
    if (names.includes(this.name)) throw new DOMException('no room', 'QuotaExceededError');
    return put.apply(this, given);
  };
}"""


def kinds(server: Served) -> Counter[str]:
    return Counter(one.entry.kind for one in server.book.entries(ROPE))


def test_an_answer_that_is_lost_on_its_way(phone: Phone, server: Served) -> None:
    """The book has taken it, the phone never hears of it: it is sent again and counts once."""
    phone.start()
    before = kinds(server)
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "grey").save(picture, format="JPEG")
    reached: list[str] = []

    def dying(route: Route) -> None:
        answer = route.fetch()  # the server does its work ...
        assert answer.status == 200
        reached.append(route.request.url)
        with suppress(Error):  # the page may have gone meanwhile: then nobody hears it either
            route.abort("connectionreset")  # ... and is killed before it says so

    phone.page.route("**/api/v1/entries", dying)
    phone.tap("I have read this")
    phone.rope("hold")
    phone.pick("What happened?", "Shock load")
    phone.tap("On hold now")
    phone.sees("On hold. Nothing is lifted.")
    entry = next(one["id"] for one in phone.store("entries") if one["sent"]["kind"] == "hold")
    phone.page.evaluate(PUT_PHOTO, {"entry": entry, "data": list(picture.getvalue())})
    phone.send(gets_through=False)
    phone.sees("No answer from the server")
    assert reached
    taken = {"handover taken": 1, "hold": 1}
    assert kinds(server) - before == taken  # they are in the book
    assert {one["state"] for one in phone.store("entries")} == {"waiting"}  # the phone cannot know
    phone.page.reload()
    expect(phone.page.locator(".chip")).to_contain_text("3")  # both entries and the photo

    phone.page.unroute("**/api/v1/entries")
    phone.page.route("**/api/v1/photos", dying)  # now the photo's answer is lost
    phone.send(gets_through=False)
    expect(phone.page.locator(".chip")).to_have_text("1 waiting")
    phone.sees("No answer from the server")
    assert {one["state"] for one in phone.store("entries")} == {"sent"}
    assert [one["state"] for one in phone.store("photos")] == ["waiting"]
    phone.page.unroute("**/api/v1/photos")
    phone.send()
    assert {one["state"] for one in phone.store("photos")} == {"sent"}
    assert kinds(server) - before == {**taken, "photo": 1}


def test_a_full_phone_goes_on_and_hands_over_a_file(
    new_phone: Callable[..., Phone], server: Served, tmp_path: Path
) -> None:
    """Neither work nor entry can be kept: it stays on the screen and goes into a file."""
    phone, second = new_phone(accept_downloads=True), new_phone()
    before = kinds(server)
    phone.start()
    phone.begin()
    phone.page.evaluate(FULL, ["entries", "work"])
    phone.tap("Something on a part")
    phone.pick("Which part?", "Sheave")
    phone.sees("what you type is on this screen only")
    phone.pick("What is wrong?", "Groove worn")
    phone.tap("Save")
    phone.sees("This phone is full: the last step was not kept.")
    phone.sees("Not kept on this phone")
    expect(phone.page.get_by_text("Groove worn", exact=True)).to_be_visible()  # still there
    with phone.page.expect_download() as saving:
        phone.tap("Save this to a file")
    kept = tmp_path / "waiting.json"
    saving.value.save_as(kept)
    saved = json.loads(kept.read_text())["entries"]
    assert [one["sent"]["kind"] for one in saved] == ["part finding", "warning shown"]
    assert not {one["id"] for one in saved} & {one["id"] for one in phone.store("entries")}

    phone.send()  # what was kept before goes out all the same, and that makes room
    assert "waiting" not in {one["state"] for one in phone.store("entries")}
    second.open("/waiting")
    second.page.locator("#load").set_input_files(kept)
    second.sees("2 taken from the file.")
    second.send()
    assert (kinds(server) - before)["part finding"] == 1
    assert len(phone.problems) == 1  # said on the screen, as it was meant to
    phone.problems.clear()


def test_a_full_phone_with_room_again(
    new_phone: Callable[..., Phone], server: Served, tmp_path: Path
) -> None:
    """After room was made the same key works, and what is in the file as well counts once."""
    phone, second = new_phone(accept_downloads=True), new_phone()
    before = kinds(server)
    phone.start_without_worker()
    phone.begin()
    phone.page.evaluate(FULL, ["entries", "work"])
    phone.tap("Something on a part")
    phone.pick("Which part?", "Sheave")
    phone.pick("What is wrong?", "Groove worn")
    phone.tap("Save", exact=True)
    with phone.page.expect_download() as saving:
        phone.tap("Save this to a file")
    kept = tmp_path / "waiting.json"
    saving.value.save_as(kept)
    phone.page.evaluate("makeRoom()")
    phone.tap("Save", exact=True)
    phone.title("Saved")
    expect(phone.page.get_by_text("This phone is full")).to_have_count(0)
    assert [one["sent"]["kind"] for one in phone.store("entries")].count("part finding") == 1
    phone.send()
    second.open("/waiting")
    second.page.locator("#load").set_input_files(kept)
    second.send()
    assert {one["state"] for one in second.store("entries")} == {"sent"}
    assert (kinds(server) - before)["part finding"] == 1
    phone.problems.clear()


def test_a_card_that_is_too_old_gives_no_verdict_of_today(phone: Phone) -> None:
    """On its last day a card still holds; a day later nothing of it stands as today's."""
    phone.start()
    card = phone.store("cards")[0]["card"]
    verdict = phone.page.locator(".verdict")
    last = datetime.fromisoformat(card["expires_at"]).replace(hour=12, tzinfo=UTC)
    phone.context.set_offline(True)
    phone.page.clock.install(time=last)
    phone.page.reload()
    expect(verdict).to_contain_text(card["verdict"]["sentence"])
    phone.open()
    expect(phone.page.locator("a.rope", has_text=ROPE)).to_contain_text("card on this phone")

    phone.page.clock.set_system_time(last + timedelta(days=1))
    phone.open("/settings")
    phone.open()
    expect(phone.page.locator("a.rope", has_text=ROPE)).to_contain_text("card is old")
    phone.rope()
    expect(verdict).to_contain_text("No verdict for today: this card is out of date")
    expect(verdict).to_contain_text(f"On {card['made_at']} it was:")
    expect(verdict).not_to_contain_text(card["verdict"]["sentence"])
    phone.begin()
    phone.tap("Something on a part")
    phone.pick("Which part?", "Sheave")
    phone.pick("What is wrong?", "Groove worn")
    old = re.compile(f"By the card of {card['made_at']}.*no judgement of today")
    phone.sees(old)
    phone.rope("shift")
    phone.sees(old)


def test_the_app_is_light_enough_for_a_weak_signal() -> None:
    """All files that are kept on the phone, compressed one by one as a server would send them."""
    texts = [FIELD.parents[1] / "texts" / name for name in FIELD_FILES]
    paths = [*texts, *(one for one in FIELD.rglob("*") if one.is_file())]
    weight = sum(len(gzip.compress(one.read_bytes(), mtime=0)) for one in paths)
    assert weight <= MOST_BYTES, weight
