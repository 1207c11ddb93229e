"""An older book opens, a newer one is left alone."""

from pathlib import Path

import pytest

from ropewright.errors import NewerBookError
from ropewright.logbook import create_book, open_book, rebuild, take_in_dossier, verify
from ropewright.logbook.engine import connect, writing
from ropewright.logbook.migrations import (
    MIGRATIONS_IN_ORDER,
    Migration,
    done,
    migrate,
    pending,
    start,
)
from ropewright.logbook.tables import BOOK, MIGRATIONS
from tests.unit.logbook.samples import NOON, a_dossier, cluster


def test_an_older_book_is_brought_up_to_date(address: str) -> None:
    engine = connect(address)
    start(engine)
    migrate(engine, NOON, MIGRATIONS_IN_ORDER[:2])
    with writing(engine) as conn:
        conn.execute(BOOK.insert().values(one=1, book_id="0" * 36, made_at="2026-01-01T00:00:00Z"))
    assert [step.name for step in pending(engine)] == [
        step.name for step in MIGRATIONS_IN_ORDER[2:]
    ]
    assert len(done(engine) or ()) == 2, "looking writes nothing"
    engine.dispose()
    one = open_book(address)
    assert done(one.engine) == tuple(step.name for step in MIGRATIONS_IN_ORDER)
    take_in_dossier(one, a_dossier())
    assert verify(one).problems == ()
    assert rebuild(one).changed == ()
    one.close()


def test_a_newer_book_is_refused_politely_and_not_touched(address: str) -> None:
    one = create_book(address)
    one.append([cluster(1)])
    seal = one.seal()
    with writing(one.engine) as conn:
        conn.execute(MIGRATIONS.insert().values(name="9999 wonders", done_at="2027"))
    with pytest.raises(NewerBookError) as caught:
        open_book(address)
    said = str(caught.value)
    assert "newer version" in said
    assert "nothing was touched" in said
    assert "9999 wonders" in said
    assert (caught.value.exit_code, caught.value.http_status) == (2, 409)
    assert one.seal() == seal
    one.close()


def test_a_step_that_fails_leaves_nothing_of_itself(address: str) -> None:
    one = create_book(address)

    def half(conn: object) -> None:
        conn.exec_driver_sql("CREATE TABLE half (x INTEGER)")  # type: ignore[attr-defined]
        raise RuntimeError("the power went")

    steps = (*MIGRATIONS_IN_ORDER, Migration("0005 half", half))
    with pytest.raises(RuntimeError):
        migrate(one.engine, NOON, steps)
    assert done(one.engine) == tuple(step.name for step in MIGRATIONS_IN_ORDER)
    with one.reader() as conn:
        assert not conn.dialect.has_table(conn, "half")
    one.close()


def test_two_who_open_an_old_book_at_once_do_each_step_once(tmp_path: Path) -> None:
    address = tmp_path / "b"
    engines = [connect(address), connect(address)]
    start(engines[0])
    migrate(engines[0], NOON, MIGRATIONS_IN_ORDER[:1])
    first = migrate(engines[1], NOON)
    assert len(first) == len(MIGRATIONS_IN_ORDER) - 1
    assert migrate(engines[0], NOON) == ()
    for engine in engines:
        engine.dispose()
