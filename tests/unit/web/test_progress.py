"""What the office sees of an inspection while phones send it; expected figures are by hand."""

import re
from typing import Any

from tests.unit.web.conftest import Served
from tests.unit.web.test_api import ROPE as NAME
from tests.unit.web.test_api import event, send

PATH = "/ropes/KQ-1 hoist/inspections/I-7"


def _words(page: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", page).split())


def _pass(low: str, high: str) -> dict[str, Any]:
    what = {"method": "feel", "section": {"from_m": low, "to_m": high}}
    return event(kind="pass", payload={"inspection_id": "I-7", "what": what})


def test_an_open_inspection_says_how_far_it_has_come(served: Served) -> None:
    assert NAME == "KQ-1 hoist"
    inspector, planner = served.browser("inspector"), served.browser("planner")
    begun = {"inspection_id": "I-7", "kind": "monthly", "on": "2026-11-10"}
    send(inspector, event(kind="inspection begun", payload=begun), _pass("66", "231"))
    page = planner.get(PATH).text
    assert 'data-progress="/ropes/KQ-1%20hoist/inspections/I-7/progress"' in page
    said = _words(planner.get(f"{PATH}/progress").text)
    assert "inspector sent 2 entries, the last one 10 Nov 2026" in said
    # 330 m pass the tower head platform, from 66 m to 396 m: half of it was felt
    assert "50 % 50 % 231.0 m to 396.0 m" in said
    assert "Parts still to look at: drum, spooling" in said
    before = re.findall(r'data-stand="(\d+)"', planner.get(f"{PATH}/progress").text)
    send(inspector, _pass("231", "396"))
    after = planner.get(f"{PATH}/progress").text
    assert "inspector sent 3 entries" in _words(after)
    assert "100 % 100 % nothing" in _words(after)
    assert before != re.findall(r'data-stand="(\d+)"', after)


def test_a_finished_inspection_asks_for_nothing_more(served: Served) -> None:
    client = served.browser("planner")
    page = client.get("/ropes/KQ-1 hoist/inspections/2026-11-09").text
    assert "data-progress" not in page


def test_without_a_path_the_page_says_what_is_missing(served: Served) -> None:
    client = served.browser("keeper")
    case = {
        "rope.id": "R1", "crane.id": "C1", "crane.kind": "telescopic crane",
        "rope.diameter": "19 mm", "rope.construction": "35(W)x7", "rope.length": "210 m",
        "rules": "iso-4309-2017", "csrf": served.csrf(client),
    }  # fmt: skip
    assert client.post("/set-up", data=case, follow_redirects=False).status_code == 303
    begun = {"inspection_id": "I-7", "kind": "monthly", "on": "2026-11-10"}
    inspector = served.browser("inspector")
    send(inspector, event(rope_id="R1", kind="inspection begun", payload=begun))
    said = inspector.get("/ropes/R1/inspections/I-7/progress")
    assert said.status_code == 200
    assert "falls" in said.text
    assert inspector.get("/ropes/R1/inspections/none/progress").status_code in (400, 404)
