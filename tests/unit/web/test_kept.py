"""Kept pages: nobody sees an old page, another person's page, or another session's proof."""

import re
from dataclasses import replace
from importlib import resources
from typing import Any

import pytest

from ropewright.logbook.erasing import erase
from ropewright.web.judged import Warmer
from ropewright.web.kept import KeptPages
from ropewright.web.pages.rope import prepare
from tests.unit.web.conftest import Served
from tests.unit.web.test_api import ROPE, event, send

PATH = f"/ropes/{ROPE}"
PAGES = ("/", PATH, f"{PATH}/history", "/audit", "/handover", f"{PATH}/chart.svg")


def tokens(page: str) -> set[str]:
    return set(re.findall(r'name="csrf" value="([^"]*)"', page))


def without_tokens(page: str) -> str:
    return re.sub(r'name="csrf" value="[^"]*"', "", page)


# --- the shelf itself -------------------------------------------------------------------------


def test_text_holds_for_what_it_was_made_from_only() -> None:
    kept = KeptPages(10_000)
    assert kept.get("a", 1) is None
    assert kept.put("a", 1, "grüne Seite") == "grüne Seite".encode()
    assert kept.get("a", 1) == "grüne Seite".encode()
    assert kept.has("a", 1)
    for place, made_from in (("a", 2), ("b", 1)):
        assert kept.get(place, made_from) is None
        assert not kept.has(place, made_from)
    kept.put("a", 2, "newer")
    assert kept.get("a", 1) is None
    assert kept.get("a", 2) == b"newer"


def test_longest_unused_goes_first_and_size_is_bounded() -> None:
    """By hand: packed, a thousand different letters stay above 100 bytes; three do not fit."""
    text = "".join(chr(0x4E00 + (number * number) % 20_000) for number in range(1000))
    one = KeptPages(1_000_000)
    one.put("a", 1, text)
    size = one._have
    kept = KeptPages(2 * size + size // 2)
    kept.put("a", 1, text)
    kept.put("b", 1, text)
    assert kept.get("a", 1) is not None
    kept.put("c", 1, text)
    assert [kept.has(name, 1) for name in "abc"] == [True, False, True]
    small = KeptPages(10)
    small.put("a", 1, text)
    assert small.get("a", 1) is None  # one that is too large is not kept, and nothing breaks


def test_replaced_texts_do_not_count_any_more() -> None:
    kept = KeptPages(100_000)
    for number in range(1000):
        kept.put("a", number, "x" * 5000)
    assert kept.room
    kept.put("b", 1, "y")
    assert kept.has("a", 999)


# --- pages ------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", PAGES)
def test_kept_page_is_the_page_that_was_made(path: str, shared: Served) -> None:
    client = shared.browser("inspector")
    made, kept = client.get(path), client.get(path)
    assert made.status_code == 200
    assert without_tokens(kept.text) == without_tokens(made.text)


def test_new_entry_shows_on_every_page_at_once(served: Served) -> None:
    reader = served.browser("planner")
    before = {path: without_tokens(reader.get(path).text) for path in PAGES[:-1]}
    send(served.browser("operator"), event())
    for path, page in before.items():
        after = without_tokens(reader.get(path).text)
        assert after != page, path
        assert ("shock load" if path != "/" else "on hold") in after, path


def test_chart_follows_new_entries(served: Served) -> None:
    reader = served.browser("planner")
    before = reader.get(f"{PATH}/chart.svg").text
    found = served.tools.book.lines(ROPE, kinds={"cluster", "finding"}, most=1)[0]
    payload = {"corrects": found.entry_id, "reason": "counted on another rope"}
    answer = send(served.browser("inspector"), event(kind="correction", payload=payload))
    assert [one["state"] for one in answer["results"]] == ["taken"]
    assert reader.get(f"{PATH}/chart.svg").text != before


def test_next_day_makes_another_page(served: Served) -> None:
    reader = served.browser("planner")
    before = {path: without_tokens(reader.get(path).text) for path in ("/", PATH)}
    served.clock.wait(86_400)
    reader = served.browser("planner")
    for path, page in before.items():
        after = without_tokens(reader.get(path).text)
        assert after != page, path
        assert served.clock.today().isoformat() in after or "11 Nov 2026" in after


@pytest.mark.parametrize("order", [("operator", "inspector"), ("inspector", "operator")])
def test_who_may_not_release_never_gets_the_page_of_who_may(
    order: tuple[str, str], served: Served
) -> None:
    send(served.browser("operator"), event())
    for login in order:
        page = served.browser(login).get(PATH).text
        assert (f'action="{PATH.replace(" ", "%20")}/release"' in page) == (login == "inspector")


@pytest.mark.parametrize("first", ["metric", "us"])
def test_each_has_their_own_units(first: str, served: Served) -> None:
    access = served.tools.access
    account = access.account_by_login("planner")
    assert account is not None
    access.put_account(replace(account, units="us"))
    browsers = {"metric": served.browser("inspector"), "us": served.browser("planner")}
    feet = re.compile(r"[0-9] ft\b")
    for path in PAGES:
        for units in (first, *({"metric", "us"} - {first})):
            browsers[units].get(path)
            page = browsers[units].get(path).text
            assert units == "us" or not feet.search(page), path
            if units == "us" and path in (PATH, f"{PATH}/chart.svg"):
                assert feet.search(page), path


def test_name_that_was_erased_is_on_no_page_any_more(served: Served) -> None:
    reader, paths = served.browser("planner"), (PATH, f"{PATH}/history", "/audit")
    send(served.browser("operator"), event())
    names = served.tools.book.names()
    who = next(one for one, name in names.items() if name.startswith("the operator"))
    assert all(names[who] in reader.get(path).text for path in paths)
    erase(served.tools.book._book, "person", who, reason="asked for it")  # type: ignore[attr-defined]
    assert not any(names[who] in reader.get(path).text for path in paths)


def test_proof_of_a_form_is_of_this_session_and_another_in_every_answer(served: Served) -> None:
    one, other = served.browser("operator"), served.browser("planner")
    pages = [client.get(PATH).text for client in (one, one, other, other)]
    found = [tokens(page) for page in pages]
    assert all(len(each) == 1 for each in found)
    assert len(set.union(*found)) == 4
    for token in (*found[0], *found[1]):
        form = {"csrf": token, "reason": "bang when lowering"}
        assert other.post(f"{PATH}/hold", data=form).status_code == 403
        assert one.post(f"{PATH}/hold", data=form).status_code == 303
    assert "<form-token>" not in "".join(pages)
    assert "<middle-of-the-page>" not in "".join(pages)


@pytest.mark.parametrize("token", ["", "x", "AAAA", "*" * 60, "é" * 60, "A" * 116])
def test_text_that_is_no_proof_is_refused(token: str, shared: Served) -> None:
    client = shared.browser("operator")
    form = {"csrf": token, "reason": "x"}
    assert client.post(f"{PATH}/hold", data=form).status_code == 403


def test_form_that_was_refused_is_not_kept(served: Served) -> None:
    client = served.browser("operator")
    plain = without_tokens(client.get(PATH).text)
    form = {"csrf": served.csrf(client), "reason": ""}
    assert client.post(f"{PATH}/hold", data=form).status_code == 400
    assert without_tokens(client.get(PATH).text) == plain


def test_kept_middles_take_nothing_from_a_visit_but_what_is_in_their_key() -> None:
    """By hand: units and the right to release are in the key; the rest is the same for all."""
    known = {
        "caller.units", "visit.office", "visit.may('POST /ropes/{rope_id}/release')",
    }  # fmt: skip
    folder = resources.files("ropewright.web").joinpath("templates")
    kept = (
        "rope_main.html", "board_main.html", "history_main.html", "audit_entries.html",
        "handover_main.html", "chart_main.html", "parts.html", "tables.html", "entry_pages.html",
        "forms.html", "documents.html", "chart_figure.html", "charts.html",
    )  # fmt: skip
    asked = re.compile(r"\b(?:caller\.(?!\()\w+|visit\.\w+(?:\('[^']*'\))?|here\b(?!\)))")
    for name in kept:
        text = folder.joinpath(name).read_text(encoding="utf-8")
        found = set(re.findall(r"(?:\{\{|\{%).*?(?:\}\}|%\})", text, re.DOTALL))
        used = {one for part in found for one in asked.findall(part)}
        if name in ("history_main.html",):
            used.discard("here")  # its own variable
        assert used <= known, name


# --- made ready before anybody asks ----------------------------------------------------------


@pytest.fixture
def ready(served: Served) -> Served:
    """All pages made ready in one round, as the background does."""
    office = served.app.state.office
    warmer = Warmer(
        served.tools, office.judged, prepare=lambda stand: prepare(office, stand), every_s=0
    )
    warmer._round((served.tools.book.newest(), served.tools.today()))
    return served


def test_page_made_ready_is_the_page_of_whoever_asks(ready: Served, monkeypatch: Any) -> None:
    office = ready.app.state.office
    with monkeypatch.context() as patched:
        patched.setattr(office.judged, "_judge", lambda *_: pytest.fail("judged anew"))
        pages = {login: ready.browser(login).get(PATH).text for login in ("operator", "inspector")}
    office.ropes = KeptPages(1_000_000)
    for login, page in pages.items():
        assert without_tokens(ready.browser(login).get(PATH).text) == without_tokens(page)


def test_round_makes_nothing_twice_and_only_the_changed_rope_anew(ready: Served) -> None:
    office, stands = ready.app.state.office, ready.tools.book.stands()
    assert not any(prepare(office, one) for one in stands)
    send(ready.browser("operator"), event())
    made = [one.rope_id for one in ready.tools.book.stands() if prepare(office, one)]
    assert made == [ROPE]


def test_round_breaks_off_when_something_new_came(served: Served) -> None:
    office = served.app.state.office

    def while_at_it(stand: Any) -> bool:
        send(served.browser("operator"), event())
        return prepare(office, stand)

    warmer = Warmer(served.tools, office.judged, prepare=while_at_it, every_s=0)
    for stand in served.tools.book.stands():
        office.judged.glance(stand)
    assert not warmer._round((served.tools.book.newest(), served.tools.today()))


def test_pages_wait_while_people_ask(served: Served, monkeypatch: pytest.MonkeyPatch) -> None:
    """No longer than the longest rest, so that they are made at last."""
    monkeypatch.setattr("ropewright.web.judged.LONGEST_REST_S", 0.3)
    office = served.app.state.office
    assert not office.busy()
    served.browser("planner")
    assert office.busy()
    asked: list[bool] = []

    def busy() -> bool:
        asked.append(True)
        return True

    warmer = Warmer(
        served.tools, office.judged, prepare=lambda stand: prepare(office, stand), busy=busy
    )
    for stand in served.tools.book.stands():
        office.judged.glance(stand)
    assert warmer._round((served.tools.book.newest(), served.tools.today()))
    assert asked
    assert not any(prepare(office, one) for one in served.tools.book.stands())


def test_rope_that_cannot_be_shown_does_not_keep_the_others_from_it(served: Served) -> None:
    office, done = served.app.state.office, []

    def broken(stand: Any) -> bool:
        if stand.rope_id == ROPE:
            raise ValueError("no")
        done.append(stand.rope_id)
        return True

    warmer = Warmer(served.tools, office.judged, prepare=broken, every_s=0)
    assert warmer._round((served.tools.book.newest(), served.tools.today()))
    assert set(done) == {one.rope_id for one in served.tools.book.stands()} - {ROPE}


def test_nothing_is_made_ready_where_it_would_push_others_out(ready: Served) -> None:
    office = ready.app.state.office
    office.ropes = KeptPages(1)
    office.ropes._have = 1
    assert not any(prepare(office, one) for one in ready.tools.book.stands())
