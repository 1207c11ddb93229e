"""One snag, from the phone to the report: every step names the one before."""

import json
import uuid
from typing import Any

from tests.unit.web.conftest import Served
from tests.unit.web.test_api import ROPE, event, send, states

PLACE = {"at_m": "200", "abs_err_m": "1", "rel_err_m": "0.05"}


def _snag() -> list[dict[str, Any]]:
    """A periodic inspection that finds five broken wires within 100 mm, by eye and by feel."""
    name = "2026-11-10"
    begun = {"inspection_id": name, "kind": "periodic", "on": name}
    wires = [{"from_mm": str(at), "to_mm": str(at), "count": 1} for at in (0, 25, 50, 75, 100)]
    what = {"finding_id": "SNAG-1", "place": PLACE, "groups": wires, "method": "feel"}
    passes = [
        event(
            kind="pass",
            payload={
                "inspection_id": name,
                "what": {"method": method, "section": {"from_m": "0", "to_m": "420"}},
            },
        )
        for method in ("eye-round", "feel")
    ]
    return [
        event(kind="inspection begun", payload=begun),
        *passes,
        event(kind="cluster", payload={"inspection_id": name, "what": what}),
        event(kind="inspection finished", payload={"inspection_id": name}),
    ]


def test_one_snag_from_the_phone_to_the_report(served: Served) -> None:
    """Published: 29 CFR 1926.1413(a)(2)(ii)(A)(2): rotation-resistant rope, four broken wires in
    30 d; 30 d of 20 mm are 600 mm, and five lie within 100 mm."""
    client = served.browser("inspector")
    entries = _snag()
    cluster = entries[3]

    # phone -> logbook
    assert states(send(client, *entries)) == ["taken"] * 5
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
    inspection = client.get(f"/ropes/{ROPE}/inspections/2026-11-10").text
    assert f"/entries/{cluster['id']}" in inspection
    entry = client.get(f"/ropes/{ROPE}/entries/{cluster['id']}").text
    assert line.rope_hash in entry
