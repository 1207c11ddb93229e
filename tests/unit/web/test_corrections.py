"""Corrections: who may make them, in whose name, and that no form undoes them."""

import re
import uuid
from typing import Any

import pytest

from ropewright.desk.open_book import Line
from tests.unit.web.conftest import Served
from tests.unit.web.test_api import ROPE, event, send, states

PATH = f"/ropes/{ROPE}"


def post(served: Served, client: Any, path: str, **form: str) -> Any:
    return client.post(path, data={"csrf": served.csrf(client), **form})


def newest(served: Served, kind: str) -> Line:
    return served.tools.book.lines(ROPE, kinds={kind}, most=1)[0]


def withdrawn(entry_id: str) -> dict[str, Any]:
    return event(kind="correction", payload={"corrects": entry_id, "reason": "not needed"})


@pytest.mark.parametrize("login", ["planner", "keeper"])
def test_a_hold_is_not_lifted_by_a_correction_of_somebody_who_may_not_release(
    served: Served, login: str
) -> None:
    client = served.browser(login)
    assert post(served, client, f"{PATH}/hold", reason="bang when lowering").status_code == 303
    hold = newest(served, "hold")
    assert "Put it right" not in client.get(f"{PATH}/entries/{hold.entry_id}").text
    refused = post(served, client, f"{PATH}/correct/{hold.entry_id}", reason="x", how="withdraw")
    assert refused.status_code == 400
    (one,) = send(client, withdrawn(hold.entry_id))["results"]
    assert (one["state"], one["field"]) == ("refused", "role")
    assert "bang when lowering" in str(served.tools.book.stand(ROPE).record["holds"])
    inspector = served.browser("inspector")
    assert "Put it right" in inspector.get(f"{PATH}/entries/{hold.entry_id}").text
    assert states(send(inspector, withdrawn(hold.entry_id))) == ["taken"]


@pytest.mark.parametrize("kind", ["cluster", "reading", "event"])
def test_what_was_found_is_withdrawn_by_those_who_judge(served: Served, kind: str) -> None:
    entry = newest(served, kind) if kind != "event" else None
    if entry is None:
        send(served.browser("operator"), event())
        entry = newest(served, "event")
    (one,) = send(served.browser("planner"), withdrawn(entry.entry_id))["results"]
    assert (one["state"], one["field"]) == ("refused", "role")


def test_an_entry_that_is_not_there_yet_is_corrected_as_a_grave_one(served: Served) -> None:
    (one,) = send(served.browser("keeper"), withdrawn(str(uuid.uuid4())))["results"]
    assert (one["state"], one["field"]) == ("refused", "role")


def test_what_holds_nothing_back_is_put_right_by_the_office(served: Served) -> None:
    mark = newest(served, "mark")
    assert states(send(served.browser("planner"), withdrawn(mark.entry_id))) == ["taken"]


def test_a_correction_speaks_for_nobody_else(served: Served) -> None:
    """The one who said it first may stay; a third person may not come in."""
    inspector, examiner = served.browser("inspector"), served.browser("external-examiner")
    me = inspector.get("/api/v1/me").json()["person_id"]
    planner = served.tools.access.account_by_login("planner")
    assert planner is not None
    post(served, inspector, f"{PATH}/hold", reason="bang")
    hold = newest(served, "hold").payload["hold_id"]
    post(served, inspector, f"{PATH}/release", of=hold, evidence="whole rope by eye")
    entry = newest(served, "release")
    assert entry.payload["release"]["by"]["person"] == me

    def changed(person: str) -> dict[str, Any]:
        said = {**entry.payload["release"], "by": {"person": person}, "evidence": "eye and hand"}
        payload = {
            "corrects": entry.entry_id,
            "reason": "x",
            "payload": {"of": hold, "release": said},
        }
        return event(kind="correction", payload=payload)

    (one,) = send(examiner, changed(planner.person_id))["results"]
    assert (one["state"], one["field"]) == ("refused", "payload.payload.release.by")
    assert states(send(examiner, changed(me))) == ["taken"]


def test_choosing_rules_keeps_what_was_corrected(served: Served) -> None:
    """By hand: the day of fitting, put right, is still right after other rules are chosen."""
    client = served.browser("inspector")
    entry = newest(served, "installation")
    right = {**entry.payload, "fitted_on": "2025-01-20"}
    assert entry.payload["fitted_on"] != right["fitted_on"]
    payload = {"corrects": entry.entry_id, "reason": "wrong day", "payload": right}
    assert states(send(client, event(kind="correction", payload=payload))) == ["taken"]
    assert post(served, client, f"{PATH}/rules", rules="iso-4309-2017").status_code == 303
    installation = served.tools.book.dossier(ROPE).installation
    assert str(installation.fitted_on) == "2025-01-20"
    assert installation.rules == ("iso-4309-2017",)


def test_an_emptied_field_of_the_set_up_is_taken_away(served: Served) -> None:
    """What is not known any more is not known: the old figure does not stay in silence."""
    client, page = served.browser("keeper"), f"/cranes/{ROPE}"
    before = served.tools.book.dossier(ROPE).rigging[-1]
    assert before.drum_grooving is not None
    form = {"r.drum_grooving": "", "r.dead_wraps": "", "valid_from": "2026-11-10"}
    assert post(served, client, page, **form).status_code == 303
    after = served.tools.book.dossier(ROPE).rigging[-1]
    assert (after.drum_grooving, after.dead_wraps) == (None, None)
    assert after.reeving == before.reeving


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("r.falls", "²"),
        ("r.nothing.at_all", "1"),
        ("r.hook_high", "1,200"),
        ("r.dead_wraps", "1/3"),
    ],
)
def test_a_figure_that_is_none_is_refused_by_name(served: Served, field: str, text: str) -> None:
    form = {field: text, "valid_from": "2026-11-10"}
    answer = post(served, served.browser("keeper"), f"/cranes/{ROPE}", **form)
    assert answer.status_code == 400
    assert field.removeprefix("r.") in answer.text.split('role="alert">')[1].split("<")[0]


def test_the_newest_check_of_an_order_is_shown(served: Served) -> None:
    planner, keeper = served.browser("planner"), served.browser("keeper")
    assert post(served, planner, f"{PATH}/order", **{"f.length_m": "445"}).status_code == 303
    form = {"order_id": newest(served, "order").payload["order_id"]}
    post(served, keeper, f"{PATH}/order-check", **form, agrees="yes")
    post(served, keeper, f"{PATH}/order-check", **form, agrees="no", remark="wrong lay")
    assert re.search(
        r'data-label="Checked">does not agree: wrong lay', planner.get(f"{PATH}/order").text
    )


@pytest.mark.parametrize("text", ["1 200", "445 t", "1,200", "1/2"])
def test_an_order_refuses_a_figure_that_may_be_misread(served: Served, text: str) -> None:
    answer = post(served, served.browser("planner"), f"{PATH}/order", **{"f.length_m": text})
    assert answer.status_code == 400
    assert "length m" in answer.text


@pytest.mark.parametrize("text", ["445", "445 m", "445000 mm", "445,0"])
def test_an_order_takes_a_length_with_its_unit(served: Served, text: str) -> None:
    answer = post(served, served.browser("planner"), f"{PATH}/order", **{"f.length_m": text})
    assert answer.status_code == 303
    assert newest(served, "order").payload["length_m"] == "445"


def test_nobody_takes_over_what_came_after_the_page_was_loaded(served: Served) -> None:
    client = served.browser("operator")
    shown = re.search(
        rf'value="{ROPE}">\s*<input type="hidden" name="shown" value="([0-9a-f]+)"',
        client.get("/handover").text,
    )
    assert shown is not None
    form = {"rope": ROPE, "shown": shown[1]}
    post(served, served.browser("inspector"), f"{PATH}/hold", reason="bang when lowering")
    late = post(served, client, "/handover", **form)
    assert late.status_code == 409
    assert "bang when lowering" in late.text
    assert newest(served, "hold").sequence == served.tools.book.newest()


def test_a_password_that_is_too_short_changes_nothing_else(served: Served) -> None:
    keeper = served.browser("keeper")
    planner = served.tools.access.account_by_login("planner")
    assert planner is not None
    form = {"roles": "operator", "active": "yes", "password": "short"}
    assert post(served, keeper, f"/people/{planner.person_id}", **form).status_code == 400
    assert served.tools.access.account(planner.person_id) == planner
