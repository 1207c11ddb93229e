"""The API: entries that come once, twice, broken or out of order; photos; cards."""

import io
import json
import uuid
from datetime import timedelta
from typing import Any

import pytest
from PIL import Image

from tests.unit.web.conftest import Served

ROPE = "KQ-1 hoist"


def event(**more: Any) -> dict[str, Any]:
    """An event as a phone sends it."""
    name = str(uuid.uuid4())
    return {
        "id": name,
        "kind": "event",
        "rope_id": ROPE,
        "happened_at": "2026-11-10T08:30:00+01:00",
        "typed_at": "2026-11-10T08:31:00+01:00",
        "payload": {"event_id": f"E-{name[:8]}", "kind": "shock load", "on": "2026-11-10"},
        **more,
    }


def send(
    client: Any, *entries: Any, ahead_s: float = 0.0, served: Served | None = None
) -> dict[str, Any]:
    """Send entries; the answer of the server."""
    sent_at = "2026-11-10T09:00:00+00:00"
    if served is not None:
        sent_at = (served.clock.at + timedelta(seconds=ahead_s)).isoformat()
    body = {"device": {"id": "phone 1", "sent_at": sent_at}, "entries": list(entries)}
    answer = client.post("/api/v1/entries", json=body)
    assert answer.status_code == 200, answer.text
    found: dict[str, Any] = answer.json()
    return found


def states(answer: dict[str, Any]) -> list[str]:
    return [one["state"] for one in answer["results"]]


def test_entry_is_taken_once_and_known_afterwards(served: Served) -> None:
    client, one = served.browser("operator"), event()
    before = served.tools.book.newest()
    assert states(send(client, one)) == ["taken"]
    assert states(send(client, one)) == ["known"]
    assert served.tools.book.newest() == before + 1


def test_same_entry_is_known_when_the_clock_has_moved_since(served: Served) -> None:
    """A phone whose clock was set between two attempts sends the same entry."""
    client, one = served.browser("operator"), event()
    assert states(send(client, one, ahead_s=0, served=served)) == ["taken"]
    assert states(send(client, one, ahead_s=95, served=served)) == ["known"]


def test_device_clock_is_kept_with_the_entry(served: Served) -> None:
    """By hand: sent at 09:02:05 by the device, 09:00:00 by the book: 125 s ahead."""
    client, one = served.browser("operator"), event()
    assert send(client, one, ahead_s=125, served=served)["clock_offset_s"] == 125
    line = served.tools.book.line(one["id"])
    assert line is not None
    assert line.clock_off_s == 125
    assert line.happened_on is not None
    assert line.happened_on.isoformat() == "2026-11-10"
    assert line.happened_at is not None
    assert line.happened_at.isoformat() == "2026-11-10T07:30:00+00:00"


def test_same_id_with_other_content_is_refused(served: Served) -> None:
    client, one = served.browser("operator"), event()
    send(client, one)
    other = {**one, "payload": {**one["payload"], "kind": "slack rope"}}
    answer = send(client, other)
    assert states(answer) == ["refused"]
    assert answer["results"][0]["field"] == "id"


def test_same_entry_twice_in_one_sending_fares_as_the_first(served: Served) -> None:
    """A device that hears 'known' may forget the entry: never for one that was refused."""
    client, good = served.browser("operator"), event()
    _, lost, _ = _inspection("S-9")  # of an inspection that nobody began
    answer = send(client, good, lost, good, lost)
    assert states(answer) == ["taken", "refused", "known", "refused"]
    assert served.tools.book.line(lost["id"]) is None
    assert served.tools.book.line(good["id"]) is not None


def test_one_refused_entry_never_holds_up_the_others(served: Served) -> None:
    client = served.browser("operator")
    bad = [
        event(kind="no such kind"),
        event(id="not-a-uuid"),
        event(payload={"event_id": "E", "kind": "earthquake", "on": "2026-11-10"}),
        event(happened_at="yesterday"),
        event(rope_id=""),
        event(extra="field"),
        {"id": 7},
        event(payload={"event_id": "E", "kind": "snag", "on": "2026-11-10", "depth": 1.5}),
    ]
    good = [event(), event()]
    answer = send(client, good[0], *bad, good[1])
    assert states(answer) == ["taken", *["refused"] * len(bad), "taken"]
    assert all(one["reason"] and one["field"] for one in answer["results"][1:-1])


def test_refusal_names_the_field(served: Served) -> None:
    client = served.browser("operator")
    said = {"event_id": "E", "kind": "earthquake", "on": "2026-11-10"}
    (one,) = send(client, event(payload=said))["results"]
    assert one["field"] == "payload.kind"
    assert "shock load" in one["reason"]


@pytest.mark.parametrize(
    ("kind", "payload"),
    [
        ("release", {"of": "E", "release": {"on": "2026-11-10", "evidence": "looked"}}),
        ("inspection signed", {"inspection_id": "I"}),
        ("correction", {"corrects": str(uuid.uuid4()), "reason": "wrong"}),
        ("person", {"person": "x", "seal": "y"}),
        ("inspection begun", {"inspection_id": "I9", "kind": "annual", "on": "2026-11-10"}),
    ],
)
def test_operator_may_not_send_what_is_for_others(
    kind: str, payload: dict[str, Any], served: Served
) -> None:
    (one,) = send(served.browser("operator"), event(kind=kind, payload=payload))["results"]
    assert one["state"] == "refused"
    assert one["field"] == ("kind" if kind in ("inspection signed", "person") else "role")


def test_operator_may_begin_a_shift_check(served: Served) -> None:
    client = served.browser("operator")
    said = {"inspection_id": "S-1", "kind": "shift", "on": "2026-11-10"}
    assert states(send(client, event(kind="inspection begun", payload=said))) == ["taken"]


def test_entries_of_somebody_else_are_refused(served: Served) -> None:
    client = served.browser("operator")
    planner = served.tools.access.account_by_login("planner")
    assert planner is not None
    (one,) = send(client, event(person_id=planner.person_id))["results"]
    assert (one["state"], one["field"]) == ("refused", "person_id")


def test_who_and_in_which_role_is_kept(served: Served) -> None:
    client, one = served.browser("lift-supervisor"), event()
    send(client, one)
    account = served.tools.access.account_by_login("lift-supervisor")
    line = served.tools.book.line(one["id"])
    assert line is not None
    assert account is not None
    assert line.by == ((account.person_id, "lift supervisor"),)


def _inspection(name: str) -> list[dict[str, Any]]:
    """A shift check with one broken wire, in the order in which it happened."""
    found = {
        "inspection_id": name,
        "what": {
            "finding_id": f"{name}-A",
            "place": {"at_m": "120", "abs_err_m": "1", "rel_err_m": "0.05"},
            "groups": [{"from_mm": "0", "to_mm": "0", "count": 1}],
        },
    }
    begun = {"inspection_id": name, "kind": "shift", "on": "2026-11-10"}
    return [
        event(kind="inspection begun", payload=begun),
        event(kind="cluster", payload=found),
        event(kind="inspection finished", payload={"inspection_id": name}),
    ]


def test_order_of_entries_within_one_sending_does_not_matter(served: Served) -> None:
    """The finding before its inspection: both are taken."""
    client = served.browser("operator")
    begun, cluster, finished = _inspection("S-2")
    assert states(send(client, finished, cluster, begun)) == ["taken"] * 3
    dossier = served.tools.book.dossier(ROPE)
    one = next(one for one in dossier.inspections if one.inspection_id == "S-2")
    assert one.finished
    assert [finding.finding_id for finding in one.findings] == ["S-2-A"]


def test_entry_that_nothing_stands_behind_is_refused_and_spoils_nothing(served: Served) -> None:
    """A finding of an inspection that nobody began would make the rope unreadable."""
    client = served.browser("operator")
    _, cluster, _ = _inspection("S-3")
    assert states(send(client, cluster)) == ["refused"]
    assert served.tools.book.dossier(ROPE).rope.rope_id == ROPE


def test_broken_bodies_have_their_documented_answers(served: Served) -> None:
    client = served.browser("operator")
    as_json = {"content-type": "application/json"}
    assert client.post("/api/v1/entries", content=b"{", headers=as_json).status_code == 400
    assert client.post("/api/v1/entries", json={"entries": []}).status_code == 422
    late = {"device": {"id": "p", "sent_at": "2026-11-10"}, "entries": []}
    assert client.post("/api/v1/entries", json=late).status_code == 400
    many = {"device": {"id": "p", "sent_at": "2026-11-10T09:00:00Z"}, "entries": [{}] * 501}
    assert client.post("/api/v1/entries", json=many).status_code == 422
    huge = client.post("/api/v1/entries", content=b" " * 8_000_001)
    assert huge.status_code == 413
    assert huge.headers["content-type"] == "application/json"
    answer = client.get("/api/v1/ropes/KQ-9/card")
    assert answer.status_code == 404
    assert answer.json()["error"] == "unknown-name"


def _jpeg(size: tuple[int, int] = (40, 30)) -> bytes:
    made = io.BytesIO()
    exif = Image.Exif()
    exif[0x010E] = "where it was taken"
    Image.new("RGB", size, "grey").save(made, "JPEG", exif=exif)
    return made.getvalue()


def test_photo_is_kept_and_shown_without_what_it_tells(served: Served) -> None:
    client = served.browser("operator")
    begun, cluster, _ = _inspection("S-4")
    send(client, begun, cluster)
    form = {"entry_id": cluster["id"]}
    file = {"file": ("p.jpg", _jpeg(), "image/jpeg")}
    sha256 = client.post("/api/v1/photos", data=form, files=file).json()["sha256"]
    again = client.post("/api/v1/photos", data=form, files=file)
    assert again.json()["sha256"] == sha256
    shown = client.get(f"/api/v1/photos/{sha256}")
    assert shown.headers["content-type"] == "image/jpeg"
    assert b"where it was taken" not in shown.content
    photos = [one for one in served.tools.book.lines(ROPE) if one.kind == "photo"]
    assert [one.payload["finding_id"] for one in photos] == ["S-4-A"]


def test_photo_of_an_entry_that_is_not_there_yet_is_asked_for_later(served: Served) -> None:
    client = served.browser("operator")
    answer = client.post(
        "/api/v1/photos",
        data={"entry_id": str(uuid.uuid4())},
        files={"file": ("p.jpg", _jpeg(), "image/jpeg")},
    )
    assert answer.status_code == 409


def test_what_is_no_photo_is_refused(served: Served) -> None:
    client, one = served.browser("operator"), event()
    send(client, one)
    answer = client.post(
        "/api/v1/photos",
        data={"entry_id": one["id"]},
        files={"file": ("p.jpg", b"<svg onload=alert(1)>", "image/jpeg")},
    )
    assert answer.status_code == 400
    assert answer.json()["field"] == "photo"
    assert client.get("/api/v1/photos/..%2Fsite.book").status_code == 404


def test_card_and_list_of_ropes(shared: Served) -> None:
    client = shared.browser("operator")
    ropes = {one["rope_id"]: one for one in client.get("/api/v1/ropes").json()}
    assert ropes[ROPE]["verdict"] == "remove"
    assert ropes[ROPE]["on_hold"] is True
    card = client.get(f"/api/v1/ropes/{ROPE}/card").json()
    assert card["rope_id"] == ROPE
    assert card["book_head"] == shared.tools.book.rope_head(ROPE)


def test_me_says_who_is_there(shared: Served) -> None:
    found = shared.browser("inspector").get("/api/v1/me").json()
    assert found["roles"] == ["inspector"]
    assert found["single_user"] is False
    assert set(found) == {"person_id", "name", "roles", "units", "hand", "theme", "single_user"}


def test_description_names_every_documented_failure(shared: Served) -> None:
    found = shared.browser("operator").get("/api/openapi.json").json()
    for path, methods in found["paths"].items():
        for method in methods.values():
            assert {"400", "401", "403", "404", "409", "413", "422"} <= set(method["responses"]), (
                path
            )


def _deep(levels: int) -> dict[str, Any]:
    made: dict[str, Any] = {}
    for _ in range(levels):
        made = {"a": made}
    return made


@pytest.mark.parametrize(
    "hostile",
    [
        event(payload=_deep(600)),
        event(payload={"event_id": "\ud800", "kind": "snag", "on": "2026-11-10"}),
        event(payload={"event_id": "E", "kind": "snag", "on": "2026-11-10", "remark": "\x00"}),
        event(rope_id="../../etc/passwd"),
        event(rope_id="\u202eabc"),
        event(rope_id="x" * 300),
        event(kind="__class__"),
        event(happened_at="0001-01-01T00:00:00+14:00"),
        event(happened_on="2026-02-30"),
        event(payload="[1, 2"),
        event(payload='{"event_id": 1e999}'),
        event(payload={"event_id": "E", "kind": "snag", "on": "2026-11-10", "remark": "x" * 10**6}),
        event(kind="cluster", payload={"inspection_id": "x", "what": {"finding_id": None}}),
    ],
    ids=range(13),
)
def test_hostile_entry_has_its_answer_and_the_good_one_beside_it_is_taken(
    hostile: dict[str, Any], served: Served
) -> None:
    client, good = served.browser("operator"), event()
    sent_at = "2026-11-10T09:00:00+00:00"
    body = {"device": {"id": "p", "sent_at": sent_at}, "entries": [hostile, good]}
    answer = client.post(
        "/api/v1/entries", content=json.dumps(body), headers={"content-type": "application/json"}
    )
    assert answer.status_code == 200, answer.text
    assert [one["state"] for one in answer.json()["results"]][1] == "taken"
    assert client.get("/").status_code == 200
    assert client.get(f"/ropes/{ROPE}").status_code == 200


@pytest.mark.parametrize(
    ("kind", "payload", "field"),
    [
        ("handover taken", {"by": {"person": "P"}}, "payload.by"),
        (
            "release",
            {"of": "E", "release": {"by": {"person": "P"}, "on": "2026-11-10", "evidence": "x"}},
            "payload.release.by",
        ),
        ("handover taken", '{"by":{"person":"P"}}', "payload.by"),
    ],
)
def test_nobody_decides_in_the_name_of_another(
    kind: str, payload: Any, field: str, served: Served
) -> None:
    client = served.browser("inspector")
    planner = served.tools.access.account_by_login("planner")
    assert planner is not None
    forged = json.loads(json.dumps(payload).replace("P", planner.person_id, 1))
    (one,) = send(client, event(kind=kind, payload=forged))["results"]
    assert (one["state"], one["field"]) == ("refused", field)


def test_a_new_rope_is_not_released_past_its_fitting(served: Served) -> None:
    client = served.browser("inspector")
    me = client.get("/api/v1/me").json()["person_id"]
    release = {"by": {"person": me}, "on": "2026-11-10", "evidence": "looked"}
    said = {"of": "fitting 2026-11-10", "release": release}
    (one,) = send(client, event(kind="release", payload=said))["results"]
    assert (one["state"], one["field"]) == ("refused", "payload.of")
