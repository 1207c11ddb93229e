"""Photos beside what they show; what every page of an invented rope says."""

import re
from datetime import UTC, datetime
from typing import Any

from ropewright.desk.open_book import Line
from ropewright.web.catalogue import load_texts
from ropewright.web.views.photos import by_finding, of_inspection, pictures_of
from tests.unit.web.conftest import Served
from tests.unit.web.test_api import _inspection, _jpeg, event, send

ROPE = "/ropes/KQ-1 hoist"


def line(number: int, kind: str = "photo", **payload: Any) -> Line:
    """An entry of the book."""
    return Line(
        sequence=number, rope_sequence=number, entry_id=f"e{number}", rope_id="R", kind=kind,
        says="", payload=payload, happened_on=None, happened_at=None, typed_at=None,
        clock_off_s=None, arrived_at=datetime(2026, 11, 10, tzinfo=UTC), by=(), book_hash="",
        rope_hash="",
    )  # fmt: skip


def test_photo_of_a_finding_stands_in_its_row(served: Served) -> None:
    client = served.browser("inspector")
    begun, cluster, finished = _inspection("S-7")
    send(client, begun, cluster, finished)
    for page in (ROPE, f"{ROPE}/inspections/S-7"):
        assert "/api/v1/photos/" not in client.get(page).text
    form, file = {"entry_id": cluster["id"]}, {"file": ("p.jpg", _jpeg(), "image/jpeg")}
    sha256 = client.post("/api/v1/photos", data=form, files=file).json()["sha256"]
    for page in (ROPE, f"{ROPE}/inspections/S-7"):
        rows = re.findall(r"<tr>.*?</tr>", client.get(page).text, re.DOTALL)
        (row,) = [one for one in rows if f'src="/api/v1/photos/{sha256}"' in one]
        assert 'data-label="Finding">' in row
        assert ">S-7-A<" in row
        assert 'alt="Photo of finding S-7-A"' in row


def test_words_of_a_photo_say_what_it_shows() -> None:
    lines = [
        line(2, sha256="b", finding_id="F", caption="six broken wires", scale_in_frame=True),
        line(1, sha256="a", inspection_id="I"),
        line(3, kind="mark", sha256="c"),
        line(4, sha256="b", finding_id="F", caption="six broken wires", scale_in_frame=True),
    ]
    found = pictures_of(lines, load_texts())
    assert [one.path for one in found] == ["/api/v1/photos/a", "/api/v1/photos/b"]
    assert [one.shows for one in found] == [
        "Photo of the inspection",
        "Photo of finding F, with a scale in it: six broken wires",
    ]
    assert by_finding(found) == {"F": (found[1],)}


def test_photo_of_a_finding_is_not_shown_again_with_the_inspection() -> None:
    lines = [
        line(1, sha256="a", inspection_id="I"),
        line(2, sha256="b", inspection_id="I", finding_id="F"),
        line(3, sha256="c", inspection_id="I", finding_id="a finding that is gone"),
        line(4, sha256="d", inspection_id="J"),
    ]
    found = of_inspection(pictures_of(lines, load_texts()), "I", {"F"})
    assert [one.path[-1] for one in found] == ["a", "c"]  # none is lost


def test_every_page_of_an_invented_rope_says_so(shared: Served) -> None:
    client = shared.browser("inspector")
    dossier = shared.tools.book.dossier("KQ-1 hoist")
    entry = shared.tools.book.lines("KQ-1 hoist", most=1)[0].entry_id
    ruling = re.search(r"/why/([^\"]+)\"", client.get(ROPE).text)
    assert ruling is not None
    last = dossier.inspections[-1].inspection_id
    paths = [
        "/", "/handover", "/audit", ROPE, "/cranes/KQ-1 hoist", f"{ROPE}/why/{ruling[1]}",
        f"{ROPE}/entries/{entry}", f"{ROPE}/inspections/{last}",
        *(f"{ROPE}/{one}" for one in ("places", "history", "order", "rules", "fitting", "wear")),
    ]  # fmt: skip
    for path in paths:
        answer = client.get(path)
        assert answer.status_code == 200, path
        assert "Invented data" in answer.text, path


def test_handover_says_when_a_person_took_over(served: Served) -> None:
    """Not when the entry arrived, which may be days later; both where they differ."""
    client = served.browser("operator")
    me = client.get("/api/v1/me").json()["person_id"]
    taken = event(
        kind="handover taken", happened_at="2026-11-08T14:00:00+00:00",
        payload={"by": {"person": me}, "told": ["remove from service"]},
    )  # fmt: skip
    assert send(client, taken)["results"][0]["state"] == "taken"
    page = client.get("/handover").text
    assert "Last taken over 8 Nov 2026 14:00 UTC" in page
    assert "the entry arrived 10 Nov 2026 09:00 UTC" in page
