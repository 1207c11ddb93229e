"""Pages as people see them: all open, nothing inline, nothing typed lost, forms become entries."""

import hashlib
import html
import re
import uuid
from html.parser import HTMLParser
from typing import Any

import pytest

from ropewright.demo import demo_case
from ropewright.desk.open_book import Draft
from ropewright.logbook.taking import entry_of
from tests.unit.web.conftest import PASSWORD, Served
from tests.unit.web.test_api import event, send, states

ROPE = "/ropes/KQ-1 hoist"
PAGES = (
    "/", "/?group=due", "/?group=crane&q=KQ-1", ROPE, f"{ROPE}/places", f"{ROPE}/history",
    f"{ROPE}/order", f"{ROPE}/rules", f"{ROPE}/rules?try=iso-4309-2010",
    f"{ROPE}/inspections/2026-11-09",
    f"{ROPE}/why/us-29cfr-1926-1413/rr-breaks-30d/1", "/cranes/KQ-1 hoist",
    "/cranes/KQ-1 trolley", f"{ROPE}/fitting", "/rules", "/rules/iso-4309-2017",
    "/rules/iso-4309-2017?against=iso-4309-2010", "/handover", "/audit", "/exchange", "/people",
    "/me", "/set-up", "/ropes/KQ-4 hoist",
)  # fmt: skip


class _Page(HTMLParser):
    """What the content policy and a reader would stumble over."""

    def __init__(self) -> None:
        super().__init__()
        self.inline: list[str] = []
        self.outside: list[str] = []
        self.ids: list[str] = []
        self.heads: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if tag == "style" or (tag == "script" and "src" not in given):
            self.inline.append(tag)
        for name, value in attrs:
            if name == "style" or name.startswith("on"):
                self.inline.append(f"{tag} {name}")
            if name in ("src", "href", "action") and re.match(r"(https?:)?//", value or ""):
                self.outside.append(f"{tag} {value}")
            if name == "id" and value:
                self.ids.append(value)
        if tag in ("h1", "h2", "h3"):
            self.heads.append(tag)


@pytest.mark.parametrize("path", PAGES)
def test_page_opens_with_nothing_inline_and_nothing_from_outside(path: str, shared: Served) -> None:
    answer = shared.browser("inspector" if path != "/set-up" else "keeper").get(path)
    assert answer.status_code == 200, answer.text
    page = _Page()
    page.feed(answer.text)
    assert page.inline == []
    assert page.outside == []
    assert len(page.ids) == len(set(page.ids))
    assert page.heads[0] == "h1"
    assert page.heads.count("h1") == 1
    assert "a person decides and signs" in answer.text


def test_pages_say_that_data_are_invented(shared: Served) -> None:
    client = shared.browser("planner")
    for path in ("/", ROPE, f"{ROPE}/places", "/cranes/KQ-1 hoist", f"{ROPE}/order"):
        assert "Invented data" in client.get(path).text, path


def test_no_page_calls_a_rope_safe_or_fit(shared: Served) -> None:
    client = shared.browser("inspector")
    for path in PAGES[:12]:
        assert not re.search(r"rope is (safe|fit)\b", client.get(path).text), path


def _post(served: Served, client: Any, path: str, **form: str) -> Any:
    return client.post(path, data={"csrf": served.csrf(client), **form})


def _kinds(served: Served, rope: str = "KQ-1 hoist") -> list[str]:
    return [one.kind for one in served.tools.book.lines(rope, most=3)]


def test_hold_and_release_by_name_on_evidence(served: Served) -> None:
    operator, inspector = served.browser("operator"), served.browser("inspector")
    rope = "/ropes/KQ-4 hoist"
    assert _post(served, operator, f"{rope}/hold", reason="bang when lowering").status_code == 303
    record = served.tools.book.stand("KQ-4 hoist").record
    ((name, hold),) = record["holds"].items()
    assert hold["why"] == "bang when lowering"
    assert "bang when lowering" in operator.get("/handover").text
    refused = _post(served, operator, f"{rope}/release", of=name, evidence="looked")
    assert refused.status_code == 403
    empty = _post(served, inspector, f"{rope}/release", of=name, evidence="  ")
    assert empty.status_code == 400
    assert "evidence" in empty.text
    said = "whole rope by eye and hand, nothing found"
    assert _post(served, inspector, f"{rope}/release", of=name, evidence=said).status_code == 303
    dossier = served.tools.book.dossier("KQ-4 hoist")
    release = next(one.release for one in dossier.events if one.event_id == name)
    assert release is not None
    assert (release.by, release.evidence) == ("the inspector, inspector", said)


def test_event_on_a_day_to_come_is_refused_and_nothing_typed_is_lost(served: Served) -> None:
    client = served.browser("operator")
    answer = _post(
        served, client, f"{ROPE}/event", kind="snag", on="2027-01-01", remark="caught a formwork"
    )
    assert answer.status_code == 400
    assert "not in the future" in answer.text
    assert "caught a formwork" in answer.text
    assert "event" not in _kinds(served)


def test_verdict_is_taken_note_of_with_what_it_was_made_from(served: Served) -> None:
    client = served.browser("planner")
    assert _post(served, client, f"{ROPE}/accept", remark="ordered").status_code == 303
    (line,) = served.tools.book.lines("KQ-1 hoist", most=1)
    assert line.payload["level"] == "remove"
    assert set(line.payload["rules"]) >= {"iso-4309-2017", "us-29cfr-1926-1413"}


def test_correction_is_another_entry(served: Served) -> None:
    client = served.browser("inspector")
    lines = served.tools.book.lines("KQ-1 hoist", most=5000)
    mark = next(one for one in lines if one.kind == "mark")
    path = f"{ROPE}/correct/{mark.entry_id}"
    assert _post(served, client, path, reason="", how="withdraw").status_code == 400
    assert _post(served, client, path, reason="wrong rope", how="withdraw").status_code == 303
    assert served.tools.book.dossier("KQ-1 hoist").marks == ()
    assert served.tools.book.line(mark.entry_id) is not None
    assert "wrong rope" in client.get(f"{ROPE}/entries/{mark.entry_id}").text


def test_correction_that_would_break_the_rope_is_refused_with_what_was_typed(
    served: Served,
) -> None:
    client = served.browser("inspector")
    lines = served.tools.book.lines("KQ-1 hoist", most=5000)
    rope = next(one for one in lines if one.kind == "rope")
    answer = _post(
        served, client, f"{ROPE}/correct/{rope.entry_id}",
        reason="typing error", how="change", payload='{"rope": {}}',
    )  # fmt: skip
    assert answer.status_code == 400
    assert html.escape('{"rope": {}}') in answer.text.replace("&#34;", "&quot;")
    assert client.get(ROPE).status_code == 200


def test_signing_wants_the_password_and_freezes_the_report(served: Served) -> None:
    client = served.browser("inspector")
    begun = {"inspection_id": "I-9", "kind": "monthly", "on": "2026-11-10"}
    sent = send(
        client,
        event(kind="inspection begun", payload=begun),
        event(kind="inspection finished", payload={"inspection_id": "I-9"}),
    )
    assert states(sent) == ["taken", "taken"]
    path = f"{ROPE}/inspections/I-9"
    assert _post(served, client, f"{path}/sign", password="wrong password").status_code == 403
    assert _post(served, client, f"{path}/sign", password=PASSWORD).status_code == 303
    (line,) = served.tools.book.lines("KQ-1 hoist", most=1)
    assert line.kind == "inspection signed"
    frozen = client.get(f"{path}/signed.pdf").content
    assert hashlib.sha256(frozen).hexdigest() == line.payload["report_sha256"]
    assert line.payload["seal"].startswith(served.tools.book.book_id)
    assert _post(served, client, f"{path}/sign", password=PASSWORD).status_code == 409


def test_unfinished_inspection_is_not_signed(served: Served) -> None:
    client = served.browser("inspector")
    begun = {"inspection_id": "I-8", "kind": "monthly", "on": "2026-11-10"}
    send(client, event(kind="inspection begun", payload=begun))
    answer = _post(served, client, f"{ROPE}/inspections/I-8/sign", password=PASSWORD)
    assert answer.status_code == 409


def test_rope_is_set_up_with_little(served: Served) -> None:
    client = served.browser("keeper")
    form = {
        "rope.id": "KQ-7 hoist", "crane.id": "KQ-7", "crane.kind": "telescopic crane",
        "rope.diameter": "19 mm", "rope.construction": "35(W)x7", "rope.length": "210 m",
        "rigging.falls": "4", "rigging.hook_low": "0 m", "rigging.hook_high": "40 m",
        "rules": "iso-4309-2017",
    }  # fmt: skip
    wrong = _post(served, client, "/set-up", **{**form, "rope.diameter": "19 metres of rope"})
    assert wrong.status_code == 400
    assert "rope.diameter" in wrong.text
    assert "19 metres of rope" in wrong.text
    assert 'value="KQ-7 hoist"' in wrong.text
    assert _post(served, client, "/set-up", **form).status_code == 303
    dossier = served.tools.book.dossier("KQ-7 hoist")
    assert dossier.rigging[0].falls == 4
    assert client.get("/ropes/KQ-7 hoist").status_code == 200
    assert client.get("/ropes/KQ-7 hoist/places").status_code == 200


def test_set_up_wants_a_rule_because_none_is_a_default(served: Served) -> None:
    client = served.browser("keeper")
    form = {
        "rope.id": "R", "crane.id": "C", "rope.diameter": "19 mm",
        "rope.construction": "35(W)x7", "rope.length": "210 m",
    }  # fmt: skip
    answer = _post(served, client, "/set-up", **form)
    assert answer.status_code == 400
    assert "rules" in answer.text


def test_rigging_grows_by_a_dated_entry(served: Served) -> None:
    client = served.browser("rope-fitter")
    before = served.tools.book.dossier("KQ-1 hoist").rigging
    form = {"r.falls": "4", "r.hook_high": "80", "valid_from": "2026-11-10"}
    assert _post(served, client, "/cranes/KQ-1 hoist", **form).status_code == 303
    after = served.tools.book.dossier("KQ-1 hoist").rigging
    assert len(after) == len(before) + 1
    assert (after[-1].falls, after[-1].hook_high_m) == (4, 80.0)
    assert after[-1].reeving == before[-1].reeving
    wrong = _post(served, client, "/cranes/KQ-1 hoist", **{**form, "r.hook_high": "high"})
    assert wrong.status_code == 400
    assert "hook_high" in wrong.text


def test_order_is_checked_by_a_second_person(served: Served) -> None:
    planner, keeper = served.browser("planner"), served.browser("keeper")
    form = {"f.length_m": "445", "f.certificate_type": "by the maker"}
    assert _post(served, planner, f"{ROPE}/order", **form).status_code == 303
    (line,) = served.tools.book.lines("KQ-1 hoist", most=1)
    assert line.payload["length_m"] == "445"
    check = {"order_id": line.payload["order_id"], "agrees": "yes"}
    assert _post(served, planner, f"{ROPE}/order-check", **check).status_code == 400
    assert _post(served, keeper, f"{ROPE}/order-check", **check).status_code == 303
    assert 'data-label="Checked">agrees</td>' in planner.get(f"{ROPE}/order").text  # no remark
    record = served.tools.book.stand("KQ-1 hoist").record
    assert record["orders"][line.payload["order_id"]]["checked"] is True


def test_order_of_what_the_sheet_proposes_can_be_kept_as_it_is(served: Served) -> None:
    """Every value that the sheet fills in is one that the book takes."""
    client = served.browser("planner")
    page = client.get(f"{ROPE}/order").text
    found = re.findall(r'name="(f\.[a-z_0-9]+)" value="([^"]*)"', page)
    form = {name: html.unescape(value) for name, value in found if value}
    assert len(form) > 5
    answer = _post(served, client, f"{ROPE}/order", **form)
    assert answer.status_code == 303, re.findall(r'role="alert">([^<]*)', answer.text)


def test_rules_of_a_rope_are_chosen_confirmed_and_permitted(served: Served) -> None:
    client = served.browser("inspector")
    assert _post(served, client, f"{ROPE}/rules", rules="").status_code == 400
    assert _post(served, client, f"{ROPE}/rules", rules="iso-4309-2017").status_code == 303
    assert served.tools.book.dossier("KQ-1 hoist").installation.rules == ("iso-4309-2017",)
    confirm = {
        "rule_set": "iso-4309-2017", "clause_id": "rr-breaks-30d",
        "edition": "own copy of 2017", "agrees": "yes",
    }  # fmt: skip
    assert _post(served, client, f"{ROPE}/confirm", **confirm).status_code == 303
    (one,) = served.tools.book.dossier("KQ-1 hoist").installation.confirmed
    assert (one.by, one.agrees) == ("the inspector, inspector", True)
    wrong = _post(served, client, f"{ROPE}/confirm", **{**confirm, "clause_id": "none"})
    assert wrong.status_code == 400


def test_handover_is_taken_by_name(served: Served) -> None:
    client = served.browser("operator")
    unseen = _post(served, client, "/handover", rope="KQ-1 hoist", remark="")
    assert unseen.status_code == 409  # nobody says what they were shown
    shown = re.search(r'value="KQ-1 hoist">\s*<input[^>]* name="shown" value="(\w+)"', unseen.text)
    assert shown is not None
    taken = _post(served, client, "/handover", rope="KQ-1 hoist", remark="", shown=shown[1])
    assert taken.status_code == 303
    (line,) = served.tools.book.lines("KQ-1 hoist", most=1)
    assert line.kind == "handover taken"
    assert any("remove from service" in one for one in line.payload["told"])


def test_plan_says_hand_off_where_a_finding_stands_out(served: Served) -> None:
    page = served.browser("inspector").get(f"{ROPE}/places").text
    rows = re.findall(r"<tr>\s*<th scope=\"row\"[^>]*>(.*?)</th>", page, re.DOTALL)
    wires = [one for one in rows if "2026-11-A" in one]
    assert wires
    assert all("HAND OFF" in one for one in wires)
    assert any("2026-11-B" in one and "HAND OFF" not in one for one in rows)  # a diameter


def test_audit_tells_a_book_that_holds_from_one_that_does_not(served: Served) -> None:
    client = served.browser("keeper")
    seal = served.tools.book.seal()
    assert "It holds" in _post(served, client, "/audit", seals=seal).text
    changed = seal[:-4] + ("0000" if not seal.endswith("0000") else "1111")
    assert "does not hold" in _post(served, client, "/audit", seals=changed).text
    assert _post(served, client, "/audit", seals="no seal").status_code == 400


def test_case_file_is_taken_in_with_an_account_of_every_line(served: Served) -> None:
    client = served.browser("keeper")
    file = {"file": ("KQ-3.toml", demo_case("KQ-3").encode(), "application/toml")}
    answer = client.post("/exchange/case", data={"csrf": served.csrf(client)}, files=file)
    assert answer.status_code == 200
    assert answer.text.count("<li>taken: ") > 50
    assert "KQ-3 hoist" in {one.rope_id for one in served.tools.book.stands()}
    broken = {"file": ("x.toml", b"schema = 1\n[rope]\nid = 7\n", "application/toml")}
    refused = client.post("/exchange/case", data={"csrf": served.csrf(client)}, files=broken)
    assert refused.status_code == 400
    assert "nothing was taken in" in refused.text


def test_what_goes_out_is_the_whole_book(shared: Served) -> None:
    client = shared.browser("planner")
    lines = client.get("/exchange/book.jsonl").text.splitlines()
    entries = [one for one in lines if '"line":"entry"' in one]
    assert len(entries) == shared.tools.book.newest()
    assert client.get("/exchange/findings.csv").text.startswith("rope")


def test_where_is_it_answers_from_the_form(shared: Served) -> None:
    client = shared.browser("inspector")
    page = client.get(f"{ROPE}/places", params={"mark": "7", "beyond": "2"}).text
    mark = shared.tools.book.dossier("KQ-1 hoist").marks[0]
    assert f"{mark.place.at_m + 2:.1f} m ±" in page  # 2 m beyond, by hand
    wrong = client.get(f"{ROPE}/places", params={"hook": "high up", "point": "tower head"})
    assert wrong.status_code == 200
    assert "hook height" in wrong.text


def test_us_units_on_the_page(served: Served) -> None:
    client = served.browser("inspector")
    form = {"units": "us", "hand": "right", "theme": "dark"}
    assert _post(served, client, "/me", **form).status_code == 303
    page = client.get(ROPE).text
    assert 'data-theme="dark"' in page
    assert "1378.0 ft" in page  # by hand: 420 m / 0.3048 m = 1377.95


def test_unjudgeable_rope_says_why(served: Served) -> None:
    """A rope whose installation was withdrawn: loud, and nothing else breaks."""
    client = served.browser("keeper")
    lines = served.tools.book.lines("KQ-1 trolley", most=5000)
    target = next(one for one in lines if one.kind == "installation")
    payload = {"corrects": target.entry_id, "reason": "test"}
    draft = Draft(
        entry_id=str(uuid.uuid4()), kind="correction", rope_id="KQ-1 trolley", payload=payload
    )
    book = served.tools.book._book  # type: ignore[attr-defined]
    book.append([entry_of(draft)])
    page = client.get("/ropes/KQ-1 trolley")
    assert page.status_code == 200
    assert "cannot be judged" in page.text
    assert "Cannot be judged" in client.get("/").text
    hold = _post(served, client, "/ropes/KQ-1 trolley/hold", reason="bang when lowering")
    assert hold.status_code == 303  # whoever cannot judge it can still stop it
    assert "bang when lowering" in client.get("/ropes/KQ-1 trolley").text.split("Entries")[0]
    assert 'action="/ropes/KQ-1%20trolley/hold"' in page.text


def test_person_answers_what_was_matched(served: Served) -> None:
    """KQ-1's cluster of November against that of October: named the same in the finding."""
    client = served.browser("inspector")
    path = f"{ROPE}/inspections/2026-11-09"
    page = client.get(path).text
    found = re.search(
        r'name="earlier" value="([^"]+)">\s*<input type="hidden" name="later" value="([^"]+)"',
        page,
    )
    assert found is not None
    form = {"earlier": found[1], "later": found[2], "answer": "not the same", "reason": "strand 4"}
    assert _post(served, client, f"{path}/same", **form).status_code == 303
    (said,) = served.tools.book.dossier("KQ-1 hoist").comparisons
    assert (said.earlier, said.later, said.same) == (found[1], found[2], False)
    answered = client.get(path).text
    assert f"{found[2]} is not the same as {found[1]}: strand 4" in answered
    bad = _post(served, client, f"{path}/same", **{**form, "answer": "who knows"})
    assert bad.status_code == 400


def test_fitting_goes_step_by_step_and_ends_in_a_release_by_name(served: Served) -> None:
    """The rope is on hold from the beginning; with steps open nobody releases it."""
    fitter, inspector = served.browser("rope-fitter"), served.browser("inspector")
    path = "/ropes/KQ-4 hoist/fitting"
    assert _post(served, fitter, path, step="papers", done="yes").status_code == 400
    assert _post(served, fitter, path, step="begin").status_code == 303
    guide = served.tools.book.fitting("KQ-4 hoist")
    assert guide.next_step is not None
    assert guide.next_step.step.key == "papers"
    hold = next(iter(served.tools.book.stand("KQ-4 hoist").record["holds"]))
    release = {"of": hold, "evidence": "looked at it"}
    refused = _post(served, inspector, "/ropes/KQ-4 hoist/release", **release)
    assert refused.status_code == 400
    assert "stays on hold" in refused.text
    empty = _post(served, fitter, path, step="papers", done="yes")
    assert empty.status_code == 400
    values = {f"value.{name}": "as read" for name, _ in guide.next_step.step.records}
    assert _post(served, fitter, path, step="papers", done="yes", **values).status_code == 303
    readings = {
        key: value
        for number, at in ((1, "5 m"), (2, "20"), (3, "40 m"))
        for key, value in (
            (f"at{number}", at), (f"one{number}", "13.3"), (f"other{number}", "13.2 mm"),
        )
    }  # fmt: skip
    wrong = _post(served, fitter, path, step="reference", **{**readings, "one2": "thick"})
    assert wrong.status_code == 400
    assert "place 2" in wrong.text
    done = _post(served, fitter, path, step="reference", tension="empty hook", **readings)
    assert done.status_code == 303
    reference = served.tools.book.dossier("KQ-4 hoist").installation.reference
    assert reference is not None
    assert reference.tension == "empty hook"
    assert len(reference.readings) == 3


def test_unseen_section_is_accepted_by_name_until_a_day(served: Served) -> None:
    client = served.browser("inspector")
    path = f"{ROPE}/inspections/2026-11-09"
    form = {"from": "412.1", "to": "420 m", "until": "2026-12-09", "reason": "dead wraps"}
    assert _post(served, client, f"{path}/unseen", **{**form, "until": "soon"}).status_code == 400
    assert _post(served, client, f"{path}/unseen", **{**form, "to": "far"}).status_code == 400
    back = {**form, "from": "420", "to": "412"}
    assert _post(served, client, f"{path}/unseen", **back).status_code == 400
    assert _post(served, client, f"{path}/unseen", **form).status_code == 303
    dossier = served.tools.book.dossier("KQ-1 hoist")
    one = next(one for one in dossier.inspections if one.inspection_id == "2026-11-09")
    said = one.accepted[-1]
    assert (said.by, said.until.isoformat()) == ("the inspector, inspector", "2026-12-09")
    assert (said.section.from_m, said.section.to_m) == (412.1, 420.0)
    assert "dead wraps" in client.get(path).text


def test_limit_that_was_bridged_greets_the_next_shift_until_it_is_tried(served: Served) -> None:
    client = served.browser("operator")
    bridged = {"which": "lower hook limit", "reason": "block down to look at the dead wraps"}
    assert _post(served, client, f"{ROPE}/limit", **bridged).status_code == 303
    assert "lower hook limit" in client.get("/handover").text
    (name,) = served.tools.book.stand("KQ-1 hoist").record["overrides"]
    assert _post(served, client, f"{ROPE}/limit", reset=name).status_code == 400
    assert _post(served, client, f"{ROPE}/limit", reset=name, tried="yes").status_code == 303
    assert served.tools.book.stand("KQ-1 hoist").record["overrides"] == {}
