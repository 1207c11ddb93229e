"""One snag, from the phone to the report: every step names the one before.

The page ``docs/golden-thread.md`` tells the same story; its blocks are sent and compared here.
"""

import html
import json
import re
import uuid
from pathlib import Path
from typing import Any

from tests.unit.paper.pdf import Pdf
from tests.unit.web.conftest import Served
from tests.unit.web.test_api import ROPE, event, send, states

PAGE = Path(__file__).resolve().parents[3] / "docs" / "golden-thread.md"
DAY = "2026-11-10"


def _blocks() -> dict[str, str]:
    """The blocks of the page by what they show."""
    text = PAGE.read_text(encoding="utf-8")
    return dict(re.findall(r"```\w+ from=([^\n]+)\n(.*?)```", text, flags=re.DOTALL))


def _snag() -> list[dict[str, Any]]:
    """A periodic inspection, by eye and by feel, that finds what the page's entry says."""
    passes = [
        event(
            kind="pass",
            payload={
                "inspection_id": DAY,
                "what": {"method": method, "section": {"from_m": "0", "to_m": "420"}},
            },
        )
        for method in ("eye-round", "feel")
    ]
    begun = {"inspection_id": DAY, "kind": "periodic", "on": DAY}
    return [
        event(kind="inspection begun", payload=begun),
        *passes,
        json.loads(_blocks()["phone"]),
        event(kind="inspection finished", payload={"inspection_id": DAY}),
    ]


def _words(page: str) -> str:
    """The words of a page as a person reads them."""
    text = re.sub(r"<[^>]+>", " ", page)
    return re.sub(r"\s+([:;,.])", r"\1", " ".join(html.unescape(text).split()))


def test_one_snag_from_the_phone_to_the_report(served: Served) -> None:
    """Published: 29 CFR 1926.1413(a)(2)(ii)(A)(2): rotation-resistant rope, two broken wires in
    6 d, four in 30 d; of 20 mm these are 120 and 600 mm, and five lie within 100 mm."""
    client = served.browser("inspector")
    entries = _snag()
    cluster = entries[3]

    # phone -> logbook
    assert states(send(client, *entries)) == ["taken"] * 5
    assert states(send(client, *entries)) == ["known"] * 5
    line = served.tools.book.line(cluster["id"])
    assert line is not None
    assert line.entry_id == str(uuid.UUID(cluster["id"]))
    assert line.payload["what"]["finding_id"] == "SNAG-1"

    # logbook -> ruling
    record = json.loads(client.get(f"/api/v1/ropes/{ROPE}/report.json").text)
    rulings = [one for one in record["assessment"]["rulings"] if "SNAG-1" in one["findings"]]
    governing = next(
        one for one in rulings if one["clause"] == "(a)(2)(ii)(A)(2)" and one["window"] == "30 d"
    )
    assert governing["status"] == "reached"
    assert (governing["found"]["lower"], governing["limit"]) == ("5", "4")

    # ruling -> sentence, on the page and in the report
    assert governing["ruling"] in record["assessment"]["verdict"]["governing"]
    why = client.get(f"/ropes/{ROPE}/why/{governing['ruling']}")
    assert "SNAG-1" in why.text
    page = client.get(f"/ropes/{ROPE}").text
    assert record["assessment"]["verdict"]["sentence"] in page
    assert client.get(f"/ropes/{ROPE}/report.pdf").content.startswith(b"%PDF")

    # and back: from the page of the inspection to the entry it came from
    inspection = client.get(f"/ropes/{ROPE}/inspections/{DAY}").text
    assert f"/entries/{cluster['id']}" in inspection
    entry = client.get(f"/ropes/{ROPE}/entries/{cluster['id']}").text
    assert line.rope_hash in entry


def test_the_page_of_the_golden_thread_says_what_comes_out(served: Served) -> None:
    """Regression only, for each line: what is right is tested above and in the rooms."""
    client, blocks = served.browser("inspector"), _blocks()
    sent = json.loads(blocks.pop("phone"))
    send(client, *_snag())
    record = json.loads(client.get(f"/api/v1/ropes/{ROPE}/report.json").text)["assessment"]
    told = json.loads(blocks.pop("ruling"))
    ruling = next(one for one in record["rulings"] if one["ruling"] == told["ruling"])
    assert {key: ruling[key] for key in told} == told
    assert record["verdict"]["governing"][0] == told["ruling"]
    assert blocks.pop("sentence").strip() == record["verdict"]["sentence"]

    opened = [one for one in record["rulings"] if one["clause_id"] == "breaks-strand"]
    asks = next(one for one in opened if sent["payload"]["what"]["finding_id"] in one["findings"])
    assert asks["status"] == "not assessable"
    for part in blocks.pop("open").splitlines():
        assert part in [asks["words"], *asks["missing"], *asks["how_to_get"]]

    pages = Pdf(client.get(f"/ropes/{ROPE}/report.pdf").content).pages
    shown = {
        "entry": _words(client.get(f"/ropes/{ROPE}/entries/{sent['id']}").text),
        "why": _words(client.get(f"/ropes/{ROPE}/why/{told['ruling']}").text),
        "inspection": client.get(f"/ropes/{ROPE}/inspections/{DAY}").text,
        "report page=1": pages[0],
        "report page=5": pages[4],
    }
    assert set(blocks) == set(shown)
    for name, block in blocks.items():
        for part in block.splitlines():
            assert part in shown[name], f"{name}: {part}"

    table = PAGE.read_text(encoding="utf-8").split("## 1.", maxsplit=1)[0]
    for named in (sent["id"], "SNAG-1", DAY, told["ruling"], record["verdict"]["level"]):
        assert f"`{named}`" in table
