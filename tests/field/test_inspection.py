"""A whole inspection without a signal, from the card to the book, and what can go wrong with it.

Expected: what the rules say of the same rope once the entries are in the book.
"""

import io
import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

from PIL import Image
from playwright.sync_api import expect

from ropewright.desk.judging import judge
from ropewright.inspection import BrokenWires, DiameterReading
from ropewright.intake import PackageShelf
from ropewright.logbook import check_entry
from tests.field.phone import Phone
from tests.field.serving import ROPE, Served

SIX_D = "us-29cfr-1926-1413/rr-breaks-6d"


PUT_PHOTO = """({ entry, data }) => new Promise((resolve) => {
  const opening = indexedDB.open('ropewright-field', 1);
  opening.onsuccess = () => {
    const change = opening.result.transaction('photos', 'readwrite');
    const blob = new Blob([Uint8Array.from(data)], { type: 'image/jpeg' });
    change.objectStore('photos').put({ id: 'p-1', entry_id: entry, blob, state: 'waiting' });
    change.oncomplete = () => { opening.result.close(); resolve(); };
  };
})"""


def entries_of(server: Served) -> list[str]:
    return [one.entry.kind for one in server.book.entries(ROPE)]


def test_a_whole_inspection_offline(phone: Phone, server: Served, tmp_path: Path) -> None:
    picture = tmp_path / "photo.jpg"
    Image.new("RGB", (40, 30), "grey").save(picture)
    phone.start()
    phone.context.set_offline(True)
    phone.page.reload()
    phone.sees("Open marks")  # it starts without a server
    code = phone.begin()

    phone.to_stop()
    phone.snag("97.2")  # far from everything that is known: (396.04 - 2 x 97.2) m = 201.6 m
    phone.sees("201.6 m ±")
    phone.tap("Broken wires")
    phone.one_break(None, "3")
    phone.says(SIX_D, "below")
    phone.one_break("120", "9")  # exactly 6 d: closed interval, two wires count

    phone.page.reload()  # the phone went dark: nothing typed is lost
    phone.sees("120 mm")
    phone.says(SIX_D, "not assessable")
    phone.sees("Count it closely: it may be over the limit.")
    phone.pick("Was the strip laid on, and are the offsets right?", "Yes")
    phone.says(SIX_D, "reached")
    phone.sees("A discard limit is reached")
    phone.tap("Save")
    phone.title("Saved")
    phone.tap("Photo with a scale")
    phone.page.locator("#photo").set_input_files(picture)
    expect(phone.page.get_by_alt_text("Photo taken now")).to_be_visible()
    phone.tap("Go on")

    phone.tap("More at this place")
    phone.tap("Diameter")
    phone.keys("20.3")
    phone.keys("20.2")
    phone.pick("Tension while measuring", "Empty hook")
    phone.tap("Save")
    phone.tap("Back to the pass")
    phone.tick_all()
    phone.tap("All understood")
    phone.tap("The rope has stopped")
    phone.tick_all()
    phone.tap("The pass is finished")
    phone.tap("All of it, all round")
    phone.tap("End of the inspection")
    phone.pick("Drum", "Seen")
    phone.pick("Sheaves", "Not seen")
    phone.tick_all()
    phone.tap("Finish")
    phone.title("Finished, not yet signed")
    phone.sees("hook to 97.2 m at tower head platform")

    phone.send(gets_through=False)
    phone.sees("No answer from the server")
    waiting = [one for one in phone.store("entries") if one["state"] == "waiting"]
    assert len(waiting) > 8

    phone.context.set_offline(False)
    phone.send()
    states = {one["state"] for one in phone.store("entries")}
    assert states == {"sent"}, [one["reason"] for one in phone.store("entries")]
    before = len(server.book.entries(ROPE))
    phone.send()  # the same again changes nothing
    assert len(server.book.entries(ROPE)) == before

    for one in server.book.entries(ROPE):
        check_entry(one.entry)
    dossier = server.dossier()
    inspection = next(one for one in dossier.inspections if one.inspection_id == code)
    assert inspection.finished
    assert inspection.signed_by == ""
    assert [one.method for one in inspection.passes] == ["eye-round"]
    assert {one.item: one.state for one in inspection.examined} == {
        "drum": "seen", "sheaves": "not seen", "limit switches": "seen",
    }  # fmt: skip
    cluster = next(one for one in inspection.findings if isinstance(one, BrokenWires))
    assert [(str(g.from_mm), g.strand, g.site) for g in cluster.groups] == [
        ("0", 3, "crown"), ("120", 9, "crown"),
    ]  # fmt: skip
    assert abs(cluster.place.at_m - (396.0436 - 2 * 97.2)) < 0.005
    reading = next(one for one in inspection.findings if isinstance(one, DiameterReading))
    assert [str(one) for one in reading.readings_mm] == ["203/10", "101/5"]
    assert (reading.tension, cluster.method) == ("empty hook", "eye")
    judged = judge(dossier, PackageShelf(), inspection.on, software="tests")
    of_cluster = [
        one for one in judged.rulings
        if cluster.finding_id in one.finding_ids and f"{one.rule_set}/{one.clause_id}" == SIX_D
    ]  # fmt: skip
    assert [one.status for one in of_cluster] == ["reached"]  # as the phone said
    photos = [one.entry for one in server.book.entries(ROPE) if one.entry.kind == "photo"]
    assert len(photos) == 1
    assert cluster.finding_id in photos[0].payload
    phone.rope()
    phone.tap("Fetch a fresh card")
    shown = phone.page.locator(f"[data-finding='{cluster.finding_id}'] img.photo")
    expect(shown).to_be_visible()
    assert entries_of(server).count("warning shown") == 1
    assert "handover taken" in entries_of(server)


def test_two_phones_and_a_refused_entry_that_is_mended(
    new_phone: Callable[..., Phone], server: Served
) -> None:
    """Notes written for an inspection the book does not know yet are refused, kept and mended."""
    first, second = new_phone(), new_phone()
    first.start()
    code = first.begin()
    second.start()
    second.tap("I have read this")
    second.tap("Inspect the rope")
    second.page.get_by_text("Join an inspection").click()
    wrong = f"{code[:-4]}zzzz"
    second.page.get_by_label("Code of the inspection").fill(wrong)
    second.tap("Join", exact=True)
    second.tap("Something on a part")
    second.pick("Which part?", "Sheave")
    second.pick("What is wrong?", "Groove worn")
    second.tap("Save")
    second.title("Saved")
    second.open("/waiting")
    second.tap("Send now")
    second.sees("Refused:")
    refused = [one for one in second.store("entries") if one["state"] == "refused"]
    assert [one["sent"]["kind"] for one in refused] == ["part finding"]
    assert refused[0]["reason"]
    second.page.reload()
    second.sees("Refused:")

    second.tap("Mend it")
    field = second.page.get_by_label("Inspection id")
    assert field.input_value() == wrong
    field.fill(code)
    second.tap("Send it again")
    second.title("Waiting to be sent")
    expect(second.page.get_by_text("Waiting: 0")).to_be_visible()
    assert {one["state"] for one in second.store("entries")} == {"sent"}

    first.send()
    third = new_phone()  # the book knows it now: nothing has to be typed
    third.start_without_worker()
    third.tap("I have read this")
    third.tap("Inspect the rope")
    third.page.get_by_text("Join an inspection").click()
    third.tap(f"Join {code}")
    third.title("Plan")
    third.sees(f"Inspection {code}")
    found = next(one for one in server.dossier().inspections if one.inspection_id == code)
    assert [one.part for one in found.part_findings] == ["sheave"]
    assert not found.finished


def test_a_file_carries_what_waits_to_another_phone(
    new_phone: Callable[..., Phone], server: Served, tmp_path: Path
) -> None:
    first, second = new_phone(accept_downloads=True), new_phone()
    first.start()
    first.context.set_offline(True)
    first.rope("hold")
    first.pick("What happened?", "Shock load")
    first.tap("On hold now")
    first.sees("On hold. Nothing is lifted.")
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "grey").save(picture, format="JPEG")
    given = {"entry": first.store("entries")[0]["id"], "data": list(picture.getvalue())}
    first.page.evaluate(PUT_PHOTO, given)
    first.open("/waiting")
    with first.page.expect_download() as saving:
        first.tap("Save what waits to a file")
    kept = tmp_path / "waiting.json"
    saving.value.save_as(kept)
    assert json.loads(kept.read_text())["waiting_entries"] == 1

    second.open("/waiting")
    second.page.locator("#load").set_input_files(kept)
    second.sees("1 taken from the file.")
    second.send()
    assert [one["state"] for one in second.store("entries")] == ["sent"]
    assert "hold" in entries_of(server)
    assert "photo" in entries_of(server)
    first.context.set_offline(False)
    first.send()  # both phones have it: the book takes it once
    assert [one["state"] for one in first.store("entries")] == ["sent"]
    assert [entries_of(server).count(kind) for kind in ("hold", "photo")] == [1, 1]
    other = tmp_path / "other.json"
    other.write_text('{"a": 1}')
    second.page.locator("#load").set_input_files(other)
    second.sees("That is no file of waiting entries.")


def test_a_wrong_clock_is_recorded_and_shown(phone: Phone, server: Served) -> None:
    phone.start()
    phone.page.clock.install(time=datetime.now(UTC) + timedelta(hours=2))
    phone.page.reload()
    phone.tap("I have read this")
    phone.send()
    phone.sees("clock is 120 min ahead")
    taken = [one.entry for one in server.book.entries(ROPE) if one.entry.kind == "handover taken"]
    assert len(taken) == 1
    assert taken[0].clock_off_s is not None
    assert abs(taken[0].clock_off_s - 7200) < 60


def test_a_new_version_takes_over_as_a_whole(phone: Phone) -> None:
    """Fetched beside the old one, used from the next start on, and then the old one goes."""
    versions = "async () => (await caches.keys()).filter((name) => name.startsWith('app-')).sort()"
    phone.start()
    assert phone.page.evaluate(versions) == ["app-1"]
    phone.page.reload()  # the page has started: the worker looks for a newer version
    phone.sees("Open marks")
    for _ in range(100):
        if "app-2" in phone.page.evaluate(versions):
            break
        phone.page.wait_for_timeout(50)
    phone.page.wait_for_timeout(300)
    phone.context.set_offline(True)
    for _ in range(3):  # nobody can be asked for a file that is missing
        phone.page.reload()
        phone.sees("Open marks")
    assert "app-1" not in phone.page.evaluate(versions)


def test_a_phone_that_cannot_keep_an_entry_says_so(phone: Phone) -> None:
    """A full phone: the step is not taken, and the person is told at once."""
    phone.start_without_worker()
    full = """() => {
      const put = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = function (...given) {
        if (this.name === 'entries') throw new DOMException('no room', 'QuotaExceededError');
        return put.apply(this, given);
      };
    }"""
    phone.page.evaluate(full)
    phone.tap("I have read this")
    phone.sees("This phone is full: the last step was not kept.")
    phone.sees("no room")
    assert phone.store("entries") == []
    phone.page.reload()
    phone.sees("I have read this")  # it was not taken for read
    assert phone.problems == ["no room"]
    phone.problems.clear()  # it was meant to happen


def test_a_server_that_fails_loses_nothing(phone: Phone) -> None:
    """Whatever the server answers, the entry stays and the reason is shown."""
    phone.start()
    body = json.dumps({"error": "x", "message": "the book does not answer"})
    phone.page.route(
        "**/api/v1/entries",
        lambda route: route.fulfill(status=503, content_type="application/json", body=body),
    )
    phone.tap("I have read this")
    phone.send(gets_through=False)
    phone.sees("the book does not answer")
    assert phone.page.evaluate("navigator.onLine") is True
    assert [one["state"] for one in phone.store("entries")] == ["waiting"]
    phone.page.unroute("**/api/v1/entries")
    phone.send()
    assert [one["state"] for one in phone.store("entries")] == ["sent"]


def test_a_check_before_the_shift(phone: Phone, server: Served) -> None:
    phone.start()
    phone.rope("shift")
    for item in (
        "Limit switches: tried with the empty hook", "Rope sits in every sheave",
        "Falls hang untwisted", "Wedge, socket and pin at the dead end",
        "Drum: flanges, clamp, bolts", "Sheaves turn, keepers in place",
        "Hook block, hook and latch",
    ):  # fmt: skip
        phone.pick(item, "OK")
    phone.pick("Rope lies well on the drum", "Not OK")
    phone.pick("What is wrong?", "Slack layer")
    phone.tick_all()
    phone.tap("Finish the check")
    phone.sees("Checked, 1 to report")
    phone.send()
    assert {one["state"] for one in phone.store("entries")} == {"sent"}
    shift = [one for one in server.dossier().inspections if one.kind == "shift"][-1]
    assert shift.finished
    said = {one.item: one.remark for one in shift.examined}
    assert said["spooling"] == "Not OK: Slack layer"
    assert [(one.part, one.state) for one in shift.part_findings] == [("spooling", "slack layer")]
    judged = judge(server.dossier(), PackageShelf(), shift.on, software="tests")
    parts = [one for one in judged.rulings if shift.part_findings[0].finding_id in one.finding_ids]
    assert [one.status for one in parts] == ["reached"]  # a person has to decide on it
    assert len(said) == 8
