"""A served book on both stores: who may come in, entries taken by many at once, what is kept."""

import threading
import uuid
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from ropewright.demo import demo_case
from ropewright.desk.access import Account, Attempts, SessionRow, TokenRow
from ropewright.desk.open_book import Draft, Taken
from ropewright.errors import InputError
from ropewright.intake import PackageShelf, read_case
from ropewright.logbook import Book, backup, export_lines, open_book, restore, take_in_dossier
from ropewright.logbook.access import AccessTables
from ropewright.logbook.served import ServedBook

NOW = datetime(2026, 11, 10, 9, 0, tzinfo=UTC)
ROPE = "KQ-1 trolley"
MIRA = Account(person_id=str(uuid.uuid4()), login="Mira", name="Mira", roles=("inspector",))


@pytest.fixture
def served(book: Book) -> ServedBook:
    """A book with one rope."""
    known = PackageShelf().names()
    case = read_case(demo_case("KQ-1-trolley"), file="KQ-1-trolley.toml", known_rules=known)
    take_in_dossier(book, case.dossier)
    return ServedBook(book)


def event(name: str, person: str = "") -> Draft:
    payload = {"event_id": name, "kind": "snag", "on": "2026-11-10"}
    return Draft(
        entry_id=str(uuid.uuid4()), kind="event", rope_id=ROPE, payload=payload, person=person,
        role="operator",
    )  # fmt: skip


def test_accounts_sessions_and_tokens_are_kept(book: Book) -> None:
    access = AccessTables(book)
    access.put_account(MIRA)
    access.put_account(replace(MIRA, units="us", active=False))
    assert access.account_by_login(" MIRA ") == replace(
        MIRA, login="mira", units="us", active=False
    )
    with pytest.raises(InputError, match="nobody has"):
        access.put_account(replace(MIRA, person_id=str(uuid.uuid4()), login="mira"))
    row = SessionRow(
        token_hash="a" * 64, person_id=MIRA.person_id, csrf="c", made_at=NOW, seen_at=NOW
    )
    access.add_session(row)
    access.touch_session(row.token_hash, NOW + timedelta(hours=1))
    assert access.session(row.token_hash) == replace(row, seen_at=NOW + timedelta(hours=1))
    access.end_sessions_before(NOW + timedelta(hours=2))
    assert access.session(row.token_hash) is None
    token = TokenRow(
        token_id=str(uuid.uuid4()), token_hash="b" * 64, person_id=MIRA.person_id, name="screen",
        purpose="api", made_at=NOW,
    )  # fmt: skip
    access.add_token(token)
    assert access.token(token.token_hash) == token
    assert access.revoke_token(token.token_id, NOW)
    assert access.token(token.token_hash) is None
    access.put_attempts("n", Attempts(failures=5, wait_until=NOW))
    assert access.attempts("n") == Attempts(failures=5, wait_until=NOW)
    access.clear_attempts("n")
    assert access.attempts("n") == Attempts(failures=0, wait_until=None)


def test_who_may_come_in_is_not_exported(book: Book) -> None:
    AccessTables(book).put_account(replace(MIRA, password_hash="a hash of a password"))
    text = "\n".join(export_lines(book))
    assert "a hash of a password" not in text
    assert "mira" not in text


def test_many_at_once_lose_nothing_and_take_nothing_twice(served: ServedBook) -> None:
    """Eight devices send the same ten entries at the same moment: each is taken once."""
    person = served.note_person(name="operator one", role="operator")
    drafts = [event(f"E-{number}", person) for number in range(10)]
    before = served.newest()
    found: list[Taken] = []
    failed: list[BaseException] = []

    def send() -> None:
        try:
            found.extend(served.take(drafts))
        except BaseException as error:
            failed.append(error)

    threads = [threading.Thread(target=send) for _ in range(8)]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert failed == []
    states = [one.state for one in found]
    assert (states.count("taken"), states.count("known")) == (10, 70)
    assert served.newest() == before + 10
    assert served.check().problems == ()


def test_unknown_person_is_refused_and_the_rest_is_taken(served: ServedBook) -> None:
    taken = served.take([event("E-1", str(uuid.uuid4())), event("E-2")])
    assert [one.state for one in taken] == ["refused", "taken"]


def test_clock_that_moved_makes_no_other_entry(served: ServedBook) -> None:
    draft = replace(event("E-1"), clock_off_s=3)
    (first,) = served.take([draft])
    (again,) = served.take([replace(draft, clock_off_s=-40)])
    assert first == Taken(entry_id=draft.entry_id, state="taken", sequence=first.sequence)
    assert again == Taken(entry_id=draft.entry_id, state="known", sequence=first.sequence)


def test_glances_are_kept_and_replaced(served: ServedBook) -> None:
    served.keep_glances({"R1": ("1/2026-11-10", "{}"), "R2": ("2/2026-11-10", "{}")})
    served.keep_glances({"R1": ("3/2026-11-10", "[]")})
    served.keep_glances({})
    assert served.kept_glances() == {"R1": ("3/2026-11-10", "[]"), "R2": ("2/2026-11-10", "{}")}


def test_report_that_was_changed_is_not_handed_out(served: ServedBook, book: Book) -> None:
    sha256 = served.keep_report(b"%PDF signed")
    assert served.report(sha256) == b"%PDF signed"
    assert book.photo_folder is not None
    (book.photo_folder / "reports" / f"{sha256}.pdf").write_bytes(b"%PDF changed")
    with pytest.raises(InputError, match="was changed"):
        served.report(sha256)
    with pytest.raises(InputError, match="a report that was kept"):
        served.report("../../etc/passwd")


def test_signed_reports_are_in_the_backup(served: ServedBook, book: Book, tmp_path: Path) -> None:
    sha256 = served.keep_report(b"%PDF signed")
    backup(book, tmp_path / "site.zip")
    restore(tmp_path / "site.zip", tmp_path / "again.book")
    again = open_book(tmp_path / "again.book")
    assert ServedBook(again).report(sha256) == b"%PDF signed"
    again.close()
