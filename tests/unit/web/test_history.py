"""Every entry of a rope, so many at a time: nothing twice, nothing left out, whatever comes in."""

import re
import uuid
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import pytest

from ropewright.desk.open_book import Draft, Line
from ropewright.errors import InputError
from ropewright.web.views.history import SHOWN, read_sought
from tests.unit.web.conftest import Served
from tests.unit.web.test_api import ROPE, event, send

PATH = f"/ropes/{ROPE}/history"
FIRST = date(2026, 1, 1)


def lubrications(served: Served, count: int) -> None:
    """So many entries of an invented rope, two on each day."""
    drafts = [
        Draft(
            entry_id=str(uuid.uuid4()), kind="lubrication", rope_id=ROPE,
            payload={"lubricant": f"can {number}"},
            happened_on=FIRST + timedelta(days=number // 2),
        )
        for number in range(count)
    ]  # fmt: skip
    taken = served.tools.book.take(drafts)
    assert {one.state for one in taken} == {"taken"}, taken[0]


def numbers(page: str) -> list[int]:
    return [int(one) for one in re.findall(r'<td data-label="No\." class="num">(\d+)</td>', page)]


def older(page: str) -> str | None:
    found = re.search(r'href="([^"]+)">Older entries<', page)
    return None if found is None else found[1].replace("&amp;", "&")


def walk(client: Any, path: str) -> Iterator[str]:
    at: str | None = path
    while at is not None:
        answer = client.get(at)
        assert answer.status_code == 200, answer.text
        yield answer.text
        at = older(answer.text)


def test_older_pages_hold_every_entry_once(served: Served) -> None:
    lubrications(served, 230)
    client = served.browser("planner")
    pages = [numbers(page) for page in walk(client, PATH)]
    assert [len(page) for page in pages[:-1]] == [SHOWN] * (len(pages) - 1)
    every = [number for page in pages for number in page]
    own = served.tools.book.lines(ROPE, most=10_000)
    assert every == [one.rope_sequence for one in own]
    assert every == list(range(len(own), 0, -1))


def test_entry_that_comes_meanwhile_moves_no_older_page(served: Served) -> None:
    lubrications(served, 120)
    client = served.browser("planner")
    second = older(client.get(PATH).text)
    assert second is not None
    before = numbers(client.get(second).text)
    send(served.browser("operator"), event())
    assert numbers(client.get(second).text) == before
    assert "Newest entries</a>" in client.get(second).text
    assert f"Entries before no. {before[0] + 1}</h2>" in client.get(second).text


def test_whole_book_is_listed_the_same_way(served: Served) -> None:
    lubrications(served, 120)
    client = served.browser("planner")
    every = [number for page in walk(client, "/audit") for number in numbers(page)]
    assert every == list(range(served.tools.book.newest(), 0, -1))


# --- looking for some -------------------------------------------------------------------------


def plainly(lines: Any, kind: str, first: date | None, last: date | None) -> list[Line]:
    """The same by another way: every entry looked at, one after the other."""
    found = []
    for one in lines:
        on = one.happened_on or one.arrived_at.date()
        if kind and one.kind != kind:
            continue
        if (first and on < first) or (last and on > last):
            continue
        found.append(one)
    return found


@pytest.mark.parametrize("kind", ["", "lubrication", "finding", "installation"])
@pytest.mark.parametrize(
    ("first", "last"),
    [
        (None, None),
        (date(2026, 1, 10), None),
        (None, date(2026, 1, 10)),
        (date(2026, 1, 10), date(2026, 1, 10)),
        (date(2026, 1, 3), date(2026, 11, 10)),
        (date(1990, 1, 1), date(1990, 1, 2)),
    ],
)
def test_found_by_kind_and_day(
    kind: str, first: date | None, last: date | None, many: Served
) -> None:
    """Second formulation: `plainly`."""
    book = many.tools.book
    for rope in (ROPE, None):
        every = book.lines(rope, most=10_000)
        wanted = plainly(every, kind, first, last)
        kinds = {kind} if kind else ()
        found = book.lines(rope, kinds=kinds, days=(first, last), most=10_000)
        assert [one.sequence for one in found] == [one.sequence for one in wanted]
        number = "sequence" if rope is None else "rope_sequence"
        limit = getattr(every[len(every) // 2], number)
        part = book.lines(rope, kinds=kinds, days=(first, last), before=limit, most=7)
        smaller = [one for one in wanted if getattr(one, number) < limit][:7]
        assert [one.sequence for one in part] == [one.sequence for one in smaller]
    query = {"kind": kind, "since": first or "", "until": last or ""}
    client = many.browser("planner")
    if kind and kind not in book.kinds(ROPE):
        assert client.get(PATH, params=query).status_code == 400
        return
    page = client.get(PATH, params=query).text
    wanted = plainly(book.lines(ROPE, most=10_000), kind, first, last)
    assert numbers(page) == [one.rope_sequence for one in wanted[:SHOWN]]
    assert ("No entry of that kind on those days" in page) == (not wanted)


@pytest.fixture(scope="module")
def many(shared: Served) -> Served:
    """The shared book with many more entries."""
    lubrications(shared, 60)
    return shared


def test_what_is_looked_for_goes_along_to_older_pages(served: Served) -> None:
    lubrications(served, 130)
    client = served.browser("planner")
    pages = list(walk(client, f"{PATH}?kind=lubrication&since=2026-01-05"))
    every = [number for page in pages for number in numbers(page)]
    assert len(pages) == 2
    assert len(every) == 130 - 8  # by hand: two on each of the four days before
    assert all('value="lubrication" selected' in page for page in pages)
    assert all('value="2026-01-05"' in page for page in pages)


def test_kinds_are_counted(many: Served) -> None:
    """Second formulation: counted one by one."""
    book = many.tools.book
    for rope in (ROPE, "KQ-4 hoist", None):
        lines = book.lines(rope, most=10_000)
        counted = {kind: sum(one.kind == kind for one in lines) for kind in {x.kind for x in lines}}
        assert book.kinds(rope) == counted


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ("since=yesterday", "since"),
        ("until=2026-13-01", "until"),
        ("since=2026-02-01&until=2026-01-01", "2026-02-01 or later"),
        ("before=-1", "before"),
        ("before=x", "before"),
        ("before=99999999999999999999", "before"),
        ("kind=nonsense", "kind"),
    ],
)
@pytest.mark.parametrize("path", [PATH, "/audit"])
def test_what_cannot_be_read_is_said(path: str, query: str, words: str, shared: Served) -> None:
    answer = shared.browser("planner").get(f"{path}?{query}")
    assert answer.status_code == 400
    assert words in answer.text


def test_nothing_is_guessed_from_what_cannot_be_read() -> None:
    with pytest.raises(InputError):
        read_sought("", "2026-02-30", "", "")
    assert read_sought("", "", "", "").all


# --- corrections ------------------------------------------------------------------------------


def test_correction_stands_beside_what_it_puts_right(served: Served) -> None:
    """Also where the other one is on another page, or of a kind that is not looked for."""
    inspector = served.browser("inspector")
    target = served.tools.book.lines(ROPE, kinds={"cluster", "finding"}, newest_first=False)[0]
    payload = {"corrects": target.entry_id, "reason": "counted on another rope"}
    send(inspector, event(kind="correction", payload=payload))
    correction = served.tools.book.lines(ROPE, kinds={"correction"}, most=1)[0]
    lubrications(served, 150)
    there = f"/entries/{target.entry_id}"
    back = f"/entries/{correction.entry_id}"
    by_kind = inspector.get(f"{PATH}?kind=correction").text
    assert numbers(by_kind) == [correction.rope_sequence]
    assert there in by_kind
    assert "Puts right <a href" in by_kind
    page = inspector.get(f"{PATH}?kind={target.kind}&before={target.rope_sequence + 1}").text
    assert numbers(page)[0] == target.rope_sequence
    assert back in page
    assert "Put right by <a href" in page
    audit = inspector.get("/audit?kind=correction").text
    assert there in audit
