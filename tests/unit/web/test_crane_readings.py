"""Readings at the crane typed on its page: kept with the set-up, refused by name, by role."""

import html
import re
from typing import Any

import pytest

from ropewright.inspection import hoist_on
from ropewright.intake.typed_reading import typed_reading
from ropewright.intake.write_case import write_case
from tests.unit.web.conftest import TODAY, Served

PAGE = "/cranes/KQ-1 hoist"
#: By hand: 420 m of rope, 412.10 m of it off the drum with the hook down, 1.572 m in a turn.
WRAPS = {
    "c.kind": "wraps counted", "c.on": "2026-11-09", "c.hook": "0", "c.radius": "30",
    "c.layer": "1", "c.wraps": "5,1",
}  # fmt: skip


def _post(served: Served, client: Any, **form: str) -> Any:
    return client.post(f"{PAGE}/reading", data={"csrf": served.csrf(client), **form})


def _readings(served: Served) -> list[Any]:
    rigging = served.tools.book.dossier("KQ-1 hoist").rigging_at(TODAY)
    assert rigging is not None
    return list(rigging.readings)


def test_a_reading_is_kept_with_the_present_set_up(served: Served) -> None:
    client = served.browser("rope-fitter")
    before = served.tools.book.dossier("KQ-1 hoist")
    assert _post(served, client, **WRAPS).status_code == 303
    after = served.tools.book.dossier("KQ-1 hoist")
    (reading,) = _readings(served)
    assert (reading.layer, reading.wraps, reading.position.hook_m) == (1, 5.1, 0.0)
    assert reading.name == "wraps counted 2026-11-09"
    assert len(after.rigging) == len(before.rigging)
    assert after.rigging[-1].reeving == before.rigging[-1].reeving
    assert hoist_on(after, TODAY).calibration is not None
    page = client.get(PAGE).text
    assert "wraps counted 2026-11-09" in page
    assert "Left over" in page
    (line,) = served.tools.book.lines("KQ-1 hoist", most=1)
    assert (line.kind, str(line.happened_on), line.by[0][1]) == (
        "rigging", "2026-11-09", "rope fitter",
    )  # fmt: skip


def test_a_second_reading_keeps_the_first_and_the_case_file_reads_back(served: Served) -> None:
    client = served.browser("inspector")
    _post(served, client, **WRAPS)
    mark = {
        "c.kind": "mark passed", "c.on": "2026-11-10", "c.hook": "20 m", "c.radius": "30 m",
        "c.point": "tower head platform", "c.mark": "7",
    }  # fmt: skip
    wrong = _post(served, client, **mark)
    assert wrong.status_code == 400  # mark 7 is not there with the hook at 20 m
    assert "mark passed 2026-11-10" in html.unescape(wrong.text)
    full = WRAPS | {"c.on": "2026-11-10", "c.wraps": "5.05"}
    assert _post(served, client, **full).status_code == 303
    assert [one.wraps for one in _readings(served)] == [5.1, 5.05]
    dossier = served.tools.book.dossier("KQ-1 hoist")
    text = write_case(dossier, folder=None, heading="")
    shelf = served.tools.shelf
    again = served.tools.read_case(text, file="x.toml", known_rules=shelf.names()).dossier
    assert again.rigging == dossier.rigging


def test_a_contradiction_is_refused_by_name_and_nothing_typed_is_lost(served: Served) -> None:
    client = served.browser("inspector")
    newest = served.tools.book.newest()
    answer = _post(served, client, **WRAPS | {"c.wraps": "9", "c.name": "hook on the ground"})
    assert answer.status_code == 400
    said = html.unescape(answer.text)
    assert "reading 'hook on the ground'" in said
    for typed in ('value="9"', 'value="30"', 'value="hook on the ground"', 'value="2026-11-09"'):
        assert typed in said, typed
    assert re.search(r"<details open><summary>Wraps counted", said)
    assert served.tools.book.newest() == newest
    assert _readings(served) == []


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"c.wraps": ""}, "wraps"), ({"c.wraps": "many"}, "wraps"), ({"c.layer": "1.5"}, "layer"),
        ({"c.hook": "high"}, "hook"), ({"c.hook": ""}, "hook"), ({"c.on": "today"}, "on"),
        ({"c.on": "2026-11-11"}, "on"), ({"c.on": "2024-01-01"}, "on"), ({"c.kind": "x"}, "kind"),
        ({"c.taped": "3 m"}, "taped"), ({"c.hook": "400 m"}, "hook"),
        ({"c.kind": "mark passed", "c.layer": "", "c.wraps": ""}, "point"),
        ({"c.strange": "1"}, "strange"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_names_its_field(
    shared: Served, change: dict[str, str], field: str
) -> None:
    client = shared.browser("keeper")
    answer = _post(shared, client, **WRAPS | change)
    assert answer.status_code == 400
    (said,) = set(re.findall(r'<p class="warn" role="alert">([^<]*)</p>', answer.text))
    assert field in said.split(",")[0], said
    assert _readings(shared) == []


def test_only_roles_that_set_up_may_add_a_reading(served: Served) -> None:
    operator = served.browser("operator")
    assert _post(served, operator, **WRAPS).status_code == 403
    assert "Add the reading" not in operator.get(PAGE).text
    assert "Add the reading" in served.browser("planner").get(PAGE).text


def test_the_later_of_two_set_ups_of_one_day_counts(served: Served) -> None:
    client = served.browser("keeper")
    for high in ("80 m", "81 m"):
        form = {"csrf": served.csrf(client), "r.hook_high": high, "valid_from": "2026-11-10"}
        assert client.post(PAGE, data=form).status_code == 303
    rigging = served.tools.book.dossier("KQ-1 hoist").rigging_at(TODAY)
    assert rigging is not None
    assert rigging.hook_high_m == 81.0


def test_numbers_without_a_unit_are_metres_and_degrees() -> None:
    typed = {
        "kind": "layer full", "on": "2026-02-10", "hook": "26,1", "jib": "62.5", "layer": "2",
    }  # fmt: skip
    reading = typed_reading(typed, taken_names=[], valid_from=TODAY.replace(2025), fitted_on=None)
    assert (reading.position.hook_m, reading.position.jib_deg, reading.layer) == (26.1, 62.5, 2)
    same = typed_reading(
        typed, taken_names=[reading.name], valid_from=TODAY.replace(2025), fitted_on=None
    )
    assert same.name == f"{reading.name}, 2"
