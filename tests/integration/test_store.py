"""The book on both databases: nothing changes, nothing is lost, nothing stands there twice."""

import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import DBAPIError

from ropewright.errors import (
    BookError,
    EntryConflictError,
    InputError,
    StoreError,
    UnknownNameError,
)
from ropewright.inspection import Person
from ropewright.logbook import (
    Book,
    Hand,
    create_book,
    erase,
    new_entry,
    open_book,
    rebuild,
    take_in_dossier,
    verify,
)
from ropewright.logbook import payloads as p
from ropewright.logbook.canon import canonical, corrected
from ropewright.logbook.engine import connect
from ropewright.logbook.people import ERASED
from tests.unit.logbook.samples import (
    DAY,
    NOBODY,
    NOON,
    a_dossier,
    begun,
    case_dossiers,
    cluster,
)

CASES = dict(case_dossiers())
ROPES = {one.rope.rope_id: one for one in CASES.values()}


def raw(engine: Engine, *statements: str) -> None:
    """Do something behind the book's back."""
    with engine.connect() as conn:
        for statement in statements:
            conn.exec_driver_sql(statement)
        conn.commit()


def behind(book: Book, address: str, *statements: str) -> None:
    """Change the database as somebody with full access to it could: triggers off first."""
    if book.engine.dialect.name == "sqlite":
        names = "entries_in_turn entries_no_update entries_no_delete book_no_update".split()
        off = [f"DROP TRIGGER IF EXISTS {name}" for name in names]
    else:
        off = ["SET session_replication_role = replica"]
    engine = connect(address).execution_options(ropewright_writes=True)
    try:
        raw(engine, *off, *statements)
    finally:
        engine.dispose()


# --- Adding and reading -----------------------------------------------------------------------


@pytest.mark.parametrize("name", ["KQ-1", "KQ-1-trolley", "full.toml"])
def test_a_rope_goes_in_and_comes_out_and_again_is_harmless(book: Book, name: str) -> None:
    one = CASES[name]
    first = take_in_dossier(book, one)
    seal = book.seal()
    again = take_in_dossier(book, one)
    assert (len(first.already), len(again.taken), len(again.already)) == (0, 0, len(first.taken))
    assert book.seal() == seal
    assert book.dossier(one.rope.rope_id) == one
    assert verify(book, [seal]).problems == ()
    assert len(again.lines()) == len(first.taken)


def test_a_book_that_was_closed_says_the_same(book: Book, address: str, tmp_path: Path) -> None:
    for one in ROPES.values():
        take_in_dossier(book, one)
    standing, seal = book.standing(), book.seal()
    book.close()
    again = open_book(address, photo_folder=tmp_path / "photos")
    assert (again.standing(), again.seal()) == (standing, seal)
    assert {rope: again.dossier(rope) for rope in again.rope_ids()} == ROPES
    again.close()


def test_the_same_entry_five_times_is_one(book: Book) -> None:
    entry = cluster(1)
    receipts = [book.append([entry])[0] for _ in range(5)]
    assert [receipt.already for receipt in receipts] == [False, True, True, True, True]
    assert len({(receipt.sequence, receipt.book_hash) for receipt in receipts}) == 1
    assert book.seal().sequence == 1
    twice = book.append([cluster(2), cluster(2)])
    assert {receipt.sequence for receipt in twice} == {2}


def test_the_same_id_with_other_content_is_refused_and_nothing_is_written(book: Book) -> None:
    book.append([cluster(1)])
    with pytest.raises(EntryConflictError) as caught:
        book.append([cluster(2), cluster(1, count=2)])
    assert caught.value.http_status == 409
    assert cluster(1).entry_id in str(caught.value)
    with pytest.raises(EntryConflictError):
        book.append([cluster(3), cluster(3, count=2)])
    assert book.seal().sequence == 1


def test_a_changed_case_file_is_refused_unless_a_reason_is_given(book: Book) -> None:
    one = CASES["full.toml"]
    take_in_dossier(book, one)
    changed = replace(one, installation=replace(one.installation, lubricant="another dressing"))
    with pytest.raises(EntryConflictError, match="installation"):
        take_in_dossier(book, changed)
    account = take_in_dossier(book, changed, correct="the wrong tin was noted")
    assert (len(account.corrected), len(account.taken)) == (1, 0)
    assert book.dossier(one.rope.rope_id) == changed
    seal = book.seal()
    assert take_in_dossier(book, changed, correct="again").corrected == ()
    assert book.seal() == seal
    # back to the first word, and to the second once more: the newest correction holds
    for wanted in (one, changed, one):
        assert len(take_in_dossier(book, wanted, correct="changed mind").corrected) == 1
        assert book.dossier(one.rope.rope_id) == wanted
    assert rebuild(book).changed == ()
    assert verify(book).problems == ()


def test_a_past_day_and_a_past_knowledge_can_be_read(book: Book) -> None:
    one = CASES["KQ-1"]
    rope = one.rope.rope_id
    take_in_dossier(book, one)
    known = book.now()
    days = sorted(inspection.on for inspection in one.inspections)
    late = begun(rope, "late", days[0])
    book.append([late])
    assert len(book.dossier(rope).inspections) == len(days) + 1
    assert len(book.dossier(rope, known_by=known).inspections) == len(days)
    assert len(book.dossier(rope, as_of=days[0]).inspections) == days.count(days[0]) + 1
    assert book.standing_on(rope, days[0])["last"]["on"] == days[0].isoformat()
    assert book.standing_on(rope, days[-1])["last"]["on"] == days[-1].isoformat()
    with pytest.raises(UnknownNameError, match="near ones"):
        book.dossier(rope[:-1])


def test_entries_refer_to_what_the_book_knows(book: Book) -> None:
    stranger = "00000000-0000-4000-8000-000000000000"
    with pytest.raises(InputError, match="the book knows"):
        book.append([replace(cluster(1), by=(Hand(person=stranger, role="inspector"),))])
    correction = new_entry(
        _correction(corrects=stranger, reason="x"), NOBODY, rope_id="rope 1", happened_on=DAY
    )
    with pytest.raises(InputError, match="same rope"):
        book.append([correction])
    book.append([cluster(1)])
    wrong = new_entry(
        _correction(corrects=cluster(1).entry_id, reason="x", payload={"inspection_id": "I1"}),
        NOBODY,
        rope_id="rope 1",
    )
    with pytest.raises(InputError, match="what: is missing"):
        book.append([wrong])
    assert book.seal().sequence == 1


def _correction(**said: Any) -> Any:
    from ropewright.logbook.bookkeeping import Correction

    return Correction(**said)


def test_clocks_that_are_off_by_hours_change_no_order(book: Book) -> None:
    hours = (5, -7, 0, 11, -3)
    for number, off in enumerate(hours, start=1):
        said = NOON + timedelta(hours=off, minutes=number)
        book.append(
            [replace(cluster(number), happened_at=said, typed_at=said, clock_off_s=off * 3600)]
        )
    stored = book.entries("rope 1")
    assert [one.row.sequence for one in stored] == [1, 2, 3, 4, 5]
    happened = [corrected(one.entry.happened_at or NOON, one.entry.clock_off_s) for one in stored]
    assert happened == [NOON + timedelta(minutes=number) for number in range(1, 6)]
    assert verify(book).problems == ()


def test_a_book_whose_own_clock_runs_back_still_holds(address: str) -> None:
    moments = iter([NOON] * 3 + [NOON - timedelta(hours=5)] * 9)
    one = create_book(address, now=lambda: next(moments))
    one.append([cluster(1)])
    one.append([cluster(2)])
    arrived = [stored.arrived_at for stored in one.entries("rope 1")]
    assert arrived[1] < arrived[0]
    assert verify(one).problems == ()
    one.close()


# --- Two at once ------------------------------------------------------------------------------


def test_two_writers_wait_for_each_other(book: Book, address: str, tmp_path: Path) -> None:
    others = [open_book(address, photo_folder=tmp_path / "photos") for _ in range(2)]

    def write(writer: int) -> int:
        for number in range(25):
            others[writer].append([cluster(number, f"rope {number % 3}", salt=str(writer))])
        return writer

    with ThreadPoolExecutor(2) as pool:
        assert sorted(pool.map(write, range(2))) == [0, 1]
    checked = verify(book)
    assert (checked.entries, checked.problems) == (50, ())
    assert rebuild(book).changed == ()
    for other in others:
        other.close()


def test_two_who_send_the_same_entry_get_the_same_receipt(book: Book, address: str) -> None:
    others = [open_book(address) for _ in range(4)]
    start = threading.Barrier(4)

    def send(other: Book) -> tuple[int, str]:
        start.wait()
        (receipt,) = other.append([cluster(7)])
        return receipt.sequence, receipt.book_hash

    with ThreadPoolExecutor(4) as pool:
        assert len(set(pool.map(send, others))) == 1
    assert book.seal().sequence == 1
    for other in others:
        other.close()


def test_a_failure_half_way_leaves_nothing_behind(book: Book) -> None:
    take_in_dossier(book, a_dossier())
    before = book.seal(), book.standing()

    def half(people: Any) -> Any:
        people.id_of(canonical({"words": "somebody new"}))
        return [cluster(1), replace(cluster(2), payload="{}")]

    with pytest.raises(InputError):
        book.append_made(half)
    assert (book.seal(), book.standing()) == before
    assert verify(book).problems == ()


# --- Nothing is changed -----------------------------------------------------------------------


def _copied(sequence: str, entry_id: str, rope_sequence: str, verb: str = "INSERT") -> str:
    return (
        f"{verb} INTO entries SELECT {sequence}, {entry_id}, rope_id, {rope_sequence}, kind, "
        "happened_on, arrived_at, content, book_hash, rope_hash FROM entries WHERE sequence = 1"
    )


CHANGES = [
    "UPDATE entries SET content = content || ' ' WHERE sequence = 2",
    "UPDATE entries SET arrived_at = 'x'",
    "DELETE FROM entries WHERE sequence = 3",
    "DELETE FROM entries",
    "UPDATE book SET book_id = 'x'",
    "DELETE FROM book",
    "INSERT INTO book VALUES (2, 'x', 'x')",
    _copied("9", "'x'", "9"),
    _copied("0", "'x'", "9"),
    _copied("1", "'x'", "9") + " ON CONFLICT (sequence) DO UPDATE SET content = 'x'",
]
ONLY_HERE = {
    "sqlite": [
        _copied("2", "'x'", "9", "INSERT OR REPLACE"),
        _copied("4", "entry_id", "9", "INSERT OR REPLACE"),
        _copied("4", "'x'", "1", "INSERT OR REPLACE"),
        "REPLACE INTO book VALUES (1, 'x', 'x')",
    ],
    "postgresql": ["TRUNCATE entries CASCADE", "TRUNCATE book"],
}


def test_the_database_itself_refuses_every_change(book: Book, address: str) -> None:
    book.append([cluster(number) for number in range(1, 4)])
    before = book.entries("rope 1")
    for statement in (*CHANGES, *ONLY_HERE[book.engine.dialect.name]):
        engine = connect(address).execution_options(ropewright_writes=True)
        with pytest.raises(DBAPIError):
            raw(engine, statement)
        engine.dispose()
    assert book.entries("rope 1") == before
    assert verify(book).problems == ()


def _swap(one: int, two: int) -> list[str]:
    """Two entries change places."""
    names = ("entry_id", "kind", "happened_on", "arrived_at", "content")
    which = f"sequence IN ({one}, {two})"
    other = f"CASE entries.sequence WHEN {one} THEN {two} ELSE {one} END"
    return [
        f"CREATE TABLE swap AS SELECT sequence, {', '.join(names)} FROM entries WHERE {which}",
        f"UPDATE entries SET entry_id = 'a' || sequence WHERE {which}",
        *(
            f"UPDATE entries SET {name} = (SELECT {name} FROM swap WHERE sequence = {other}) "
            f"WHERE {which}"
            for name in names
        ),
    ]


def _set(values: str, sequence: int) -> str:
    return f"UPDATE entries SET {values} WHERE sequence = {sequence}"


NO_STANDING = "DELETE FROM standing"
TAMPERING: dict[str, list[str]] = {
    "edit": [_set("content = replace(content, '\"F2\"', '\"F9\"')", 2)],
    "edit of a date beside it": [_set("happened_on = '2020-01-01'", 2)],
    "edit of the time of arrival": [_set("arrived_at = '2020-01-01T00:00:00Z'", 2)],
    "deletion": [NO_STANDING, "DELETE FROM entries WHERE sequence = 2"],
    "deletion, closed up": [
        NO_STANDING,
        "DELETE FROM entries WHERE sequence = 2",
        _set("sequence = 2, rope_sequence = 2", 3),
        _set("sequence = 3, rope_sequence = 3", 4),
    ],
    "insertion": [
        NO_STANDING,
        _set("sequence = 5, rope_sequence = 5", 4),
        _copied("4", "'x'", "4"),
    ],
    "reorder": _swap(2, 3),
}


@pytest.mark.parametrize("how", TAMPERING)
def test_tampering_is_found_where_it_was_done(book: Book, address: str, how: str) -> None:
    book.append([cluster(number) for number in range(1, 5)])
    seal = book.seal()
    assert verify(book, [seal]).problems == ()
    behind(book, address, *TAMPERING[how])
    problems = verify(book, [seal]).problems
    assert problems, how
    assert 1 not in {problem.sequence for problem in problems}
    assert verify(book).problems, "found without a seal too"


def test_only_an_earlier_seal_tells_that_a_book_was_shortened(book: Book, address: str) -> None:
    book.append([cluster(number) for number in range(1, 5)])
    seals = [book.seal(number) for number in (2, 4)]
    behind(book, address, "DELETE FROM standing", "DELETE FROM entries WHERE sequence > 3")
    assert verify(book).problems == ()
    assert verify(book, seals[:1]).problems == ()
    assert "the book ends at 3" in str(verify(book, seals).problems[0])


def test_only_an_earlier_seal_tells_that_a_whole_chain_was_rewritten(
    book: Book, address: str, tmp_path: Path
) -> None:
    book.append([cluster(number) for number in range(1, 5)])
    seal = book.seal()
    arrived = book.entries("rope 1")[0].arrived_at
    forged = create_book(
        str(tmp_path / "forged"),
        now=lambda: arrived,
        book_id=book.book_id,
        made_at=book.made_at,
    )
    forged.append([cluster(number, count=1 if number != 2 else 3) for number in range(1, 5)])
    assert verify(forged).problems == ()
    (problem,) = verify(forged, [seal]).problems
    assert (problem.sequence, "rewritten" in problem.says) == (4, True)
    assert verify(forged, [book.seal(1)]).problems == ()
    with pytest.raises(InputError, match="seal of this book"):
        verify(book, [create_book(str(tmp_path / "other")).seal()])
    forged.close()


# --- Standing ---------------------------------------------------------------------------------


def test_standing_is_rebuilt_bit_for_bit(book: Book, address: str) -> None:
    for one in ROPES.values():
        take_in_dossier(book, one)

    def table() -> list[tuple[Any, ...]]:
        with book.reader() as conn:
            rows = conn.execute(text("SELECT rope_id, sequence, data FROM standing ORDER BY 1"))
            return [tuple(row) for row in rows]

    before = table()
    assert rebuild(book).changed == ()
    assert table() == before
    behind(
        book,
        address,
        "UPDATE standing SET data = '{}' WHERE rope_id >= 'KQ-1' AND rope_id < 'KQ-2'",
    )
    found = rebuild(book)
    assert (found.ropes, len(found.changed)) == (len(ROPES), 2)
    assert table() == before
    behind(book, address, "DELETE FROM standing")
    assert len(rebuild(book).changed) == len(ROPES)
    assert table() == before


def test_standing_does_not_depend_on_the_order_of_arrival(address: str, tmp_path: Path) -> None:
    """An offline phone may send the end of an inspection before its beginning."""
    finished = new_entry(p.InspectionFinished(inspection_id="I1"), NOBODY, rope_id="rope 1")
    one = create_book(address)
    other = create_book(str(tmp_path / "other"))
    for entry in (begun(), finished):
        one.append([entry])
    for entry in (finished, begun()):
        other.append([entry])
    assert one.standing() == other.standing()
    assert one.standing()[0]["last"]["id"] == "I1"
    assert rebuild(other).changed == ()
    one.close()
    other.close()


# --- Persons ----------------------------------------------------------------------------------


def test_a_person_can_be_erased_and_the_chain_still_holds(
    book: Book, address: str, tmp_path: Path
) -> None:
    name = "A Name That Stands Nowhere Else"
    one = a_dossier()
    first = replace(one.inspections[0], by=(Person(role="inspector", name=name),))
    take_in_dossier(book, replace(one, inspections=(first,)))
    seal = book.seal()
    with book.reader() as conn:
        query = text("SELECT person_id FROM persons WHERE data LIKE '%Nowhere%'")
        (person,) = conn.execute(query).scalars()
    with pytest.raises(BookError):
        erase(book, "person", "nobody", reason="asked for")
    erase(book, "person", person, reason="asked for")
    assert book.dossier("rope 1").inspections[0].by[0].role == ERASED
    assert verify(book, [seal]).problems == ()
    if book.engine.dialect.name == "sqlite":
        book.close()
        held = b"".join(path.read_bytes() for path in tmp_path.glob("site.book*"))
        assert name.encode() not in held
    behind(book, address, "UPDATE persons SET data = '{\"words\":\"x\"}', salt = 'x'")
    assert any("was changed" in str(problem) for problem in verify(book).problems)
    behind(book, address, "DELETE FROM persons")
    assert any("is missing" in str(problem) for problem in verify(book).problems)


def test_a_person_that_vanishes_without_a_word_is_noticed(book: Book, address: str) -> None:
    take_in_dossier(book, a_dossier())
    behind(book, address, "UPDATE persons SET data = NULL, salt = NULL")
    assert any("no entry says so" in str(problem) for problem in verify(book).problems)


# --- Opening ----------------------------------------------------------------------------------


def test_what_is_there_is_not_overwritten(book: Book, address: str) -> None:
    take_in_dossier(book, a_dossier())
    seal = book.seal()
    with pytest.raises(BookError, match=r"there already|not empty"):
        create_book(address)
    assert book.seal() == seal


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda path: path, "no such file"),
        (lambda path: path.mkdir() or path, "no such file"),
        (lambda path: path.write_bytes(b"x" * 5000) and path, "not a logbook"),
        (lambda path: path.write_bytes(b"") or path, "not a logbook"),
        (lambda _: "mysql://somewhere/x", "postgresql://"),
        (lambda _: "postgresql://", "."),
    ],
)
def test_what_is_no_book_is_refused_in_plain_words(
    tmp_path: Path, make: Callable[[Path], Any], words: str
) -> None:
    place = make(tmp_path / "thing")
    with pytest.raises((BookError, StoreError), match=words):
        open_book(str(place))


def test_a_password_is_never_shown() -> None:
    with pytest.raises(StoreError) as caught:
        open_book("postgresql://someone:hush@/x?host=/nowhere/at/all")
    assert "hush" not in str(caught.value)


def test_moments_are_kept_in_utc(book: Book) -> None:
    book.append([cluster(1)])
    assert book.entries("rope 1")[0].arrived_at.tzinfo is UTC
    assert book.entries("rope 1")[0].entry.happened_on == date(2026, 11, 10)
    assert isinstance(book.entries("")[:1], tuple)
    assert datetime.fromisoformat(book.made_at)
