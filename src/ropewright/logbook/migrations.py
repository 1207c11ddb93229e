"""How a logbook's tables came to be: named steps, each done once, each in one transaction."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from sqlalchemy import Connection, Engine, inspect, select, text

from ropewright.errors import BookError, NewerBookError
from ropewright.logbook import access_tables
from ropewright.logbook.canon import instant_text
from ropewright.logbook.engine import reading, writing
from ropewright.logbook.tables import MIGRATIONS


@dataclass(frozen=True, slots=True)
class Migration:
    """One step; its name is kept in the book once it is done."""

    name: str
    run: Callable[[Connection], None]


def _statements(*statements: str) -> Callable[[Connection], None]:
    """A step of plain statements: it stays what it was when the tables move on."""

    def run(conn: Connection) -> None:
        for statement in statements:
            conn.execute(text(statement))

    return run


_ENTRIES: Final = (
    """CREATE TABLE book (
        one INTEGER NOT NULL PRIMARY KEY CHECK (one = 1),
        book_id VARCHAR(36) NOT NULL,
        made_at VARCHAR(40) NOT NULL)""",
    """CREATE TABLE entries (
        sequence BIGINT NOT NULL PRIMARY KEY,
        entry_id VARCHAR(36) NOT NULL UNIQUE,
        rope_id TEXT NOT NULL,
        rope_sequence INTEGER NOT NULL,
        kind VARCHAR(40) NOT NULL,
        happened_on DATE,
        arrived_at VARCHAR(40) NOT NULL,
        content TEXT NOT NULL,
        book_hash VARCHAR(64) NOT NULL,
        rope_hash VARCHAR(64) NOT NULL)""",
    "CREATE UNIQUE INDEX entries_of_rope ON entries (rope_id, rope_sequence)",
)

_BY_KIND: Final = "CREATE INDEX entries_of_kind ON entries (kind, sequence)"

_PERSONS_AND_PHOTOS: Final = (
    """CREATE TABLE persons (
        person_id VARCHAR(36) NOT NULL PRIMARY KEY,
        salt VARCHAR(64),
        data TEXT,
        erased_at VARCHAR(40))""",
    """CREATE TABLE photos (
        sha256 VARCHAR(64) NOT NULL PRIMARY KEY,
        media_type VARCHAR(40) NOT NULL,
        size_bytes BIGINT NOT NULL,
        erased_at VARCHAR(40))""",
)

_STANDING: Final = """CREATE TABLE standing (
        rope_id TEXT NOT NULL PRIMARY KEY,
        sequence BIGINT NOT NULL REFERENCES entries (sequence),
        data TEXT NOT NULL)"""


_REFUSAL: Final = "entries of a logbook are never changed or deleted: add a correction"
_IN_TURN: Final = "an entry of a logbook comes after the last one"

_SQLITE_GUARDS: Final = (
    # REPLACE deletes without asking a trigger for DELETE; so an insert has to come in its turn.
    f"""CREATE TRIGGER entries_in_turn BEFORE INSERT ON entries
        WHEN NEW.sequence <> (SELECT coalesce(max(sequence), 0) + 1 FROM entries)
          OR EXISTS (SELECT 1 FROM entries WHERE entry_id = NEW.entry_id)
          OR EXISTS (SELECT 1 FROM entries
                     WHERE rope_id = NEW.rope_id AND rope_sequence = NEW.rope_sequence)
        BEGIN SELECT RAISE(ABORT, '{_IN_TURN}'); END""",
    f"""CREATE TRIGGER entries_no_update BEFORE UPDATE ON entries
        BEGIN SELECT RAISE(ABORT, '{_REFUSAL}'); END""",
    f"""CREATE TRIGGER entries_no_delete BEFORE DELETE ON entries
        BEGIN SELECT RAISE(ABORT, '{_REFUSAL}'); END""",
    f"""CREATE TRIGGER book_no_update BEFORE UPDATE ON book
        BEGIN SELECT RAISE(ABORT, '{_REFUSAL}'); END""",
    f"""CREATE TRIGGER book_no_delete BEFORE DELETE ON book
        BEGIN SELECT RAISE(ABORT, '{_REFUSAL}'); END""",
    f"""CREATE TRIGGER book_only_one BEFORE INSERT ON book
        WHEN EXISTS (SELECT 1 FROM book)
        BEGIN SELECT RAISE(ABORT, '{_REFUSAL}'); END""",
)

_POSTGRES_GUARDS: Final = (
    f"""CREATE FUNCTION logbook_refuse() RETURNS trigger LANGUAGE plpgsql AS
        $$ BEGIN RAISE EXCEPTION '{_REFUSAL}'; END $$""",
    f"""CREATE FUNCTION logbook_in_turn() RETURNS trigger LANGUAGE plpgsql AS
        $$ BEGIN
          IF NEW.sequence <> (SELECT coalesce(max(sequence), 0) + 1 FROM entries) THEN
            RAISE EXCEPTION '{_IN_TURN}';
          END IF;
          RETURN NEW;
        END $$""",
    """CREATE TRIGGER entries_in_turn BEFORE INSERT ON entries
        FOR EACH ROW EXECUTE FUNCTION logbook_in_turn()""",
    """CREATE TRIGGER entries_no_change BEFORE UPDATE OR DELETE ON entries
        FOR EACH ROW EXECUTE FUNCTION logbook_refuse()""",
    """CREATE TRIGGER entries_no_truncate BEFORE TRUNCATE ON entries
        FOR EACH STATEMENT EXECUTE FUNCTION logbook_refuse()""",
    """CREATE TRIGGER book_no_change BEFORE UPDATE OR DELETE ON book
        FOR EACH ROW EXECUTE FUNCTION logbook_refuse()""",
    """CREATE TRIGGER book_no_truncate BEFORE TRUNCATE ON book
        FOR EACH STATEMENT EXECUTE FUNCTION logbook_refuse()""",
)


def _guards(conn: Connection) -> None:
    is_sqlite = conn.dialect.name == "sqlite"
    for statement in _SQLITE_GUARDS if is_sqlite else _POSTGRES_GUARDS:
        conn.execute(text(statement))


def _nothing(_conn: Connection) -> None:
    """A step for new kinds of entries: older versions refuse the book, the tables stay."""


MIGRATIONS_IN_ORDER: Final[tuple[Migration, ...]] = (
    Migration("0001 entries", _statements(*_ENTRIES)),
    Migration("0002 entries are never changed", _guards),
    Migration("0003 persons and photos", _statements(*_PERSONS_AND_PHOTOS)),
    Migration("0004 standing", _statements(_STANDING)),
    Migration("0005 access", _statements(*access_tables.STATEMENTS)),
    Migration("0006 comparisons, trials, forecasts", _nothing),
    Migration("0007 fitting steps", _nothing),
    Migration("0008 glances", _statements(*access_tables.GLANCE_STATEMENTS)),
    Migration("0009 entries by kind", _statements(_BY_KIND)),
)


def done(engine: Engine) -> tuple[str, ...] | None:
    """Names of the steps behind a database, ``None`` if it is no logbook.  Writes nothing."""
    with reading(engine) as conn:
        if not inspect(conn).has_table(MIGRATIONS.name):
            return None
        names = conn.execute(select(MIGRATIONS.c.name).order_by(MIGRATIONS.c.name)).scalars()
        return tuple(names)


def pending(
    engine: Engine, steps: Sequence[Migration] = MIGRATIONS_IN_ORDER
) -> tuple[Migration, ...]:
    """Steps that are still to be done.  Writes nothing.

    Raises
    ------
    BookError
        If the database is no logbook.
    NewerBookError
        If it has a step behind it that this version does not know.
    """
    names = done(engine)
    if names is None:
        raise BookError("is not a logbook", hint="make one with: ropewright logbook init BOOK")
    unknown = sorted(set(names) - {step.name for step in steps})
    if unknown:
        raise NewerBookError(
            "was written by a newer version of ropewright; nothing was touched",
            expected=f"no step beyond {steps[-1].name!r}",
            given=unknown[-1],
            hint="open it with that version, or a newer one",
        )
    return tuple(step for step in steps if step.name not in names)


def migrate(
    engine: Engine, now: datetime, steps: Sequence[Migration] = MIGRATIONS_IN_ORDER
) -> tuple[str, ...]:
    """Do what is still to be done; gives the names of the steps done now.

    Parameters
    ----------
    engine
        The database of a logbook.
    now
        The moment to write down.
    steps
        All steps in order.
    """
    made = []
    for step in pending(engine, steps):
        with writing(engine) as conn:
            already = select(MIGRATIONS.c.name).where(MIGRATIONS.c.name == step.name)
            if conn.execute(already).first() is None:  # another program may have been quicker
                step.run(conn)
                conn.execute(MIGRATIONS.insert().values(name=step.name, done_at=instant_text(now)))
                made.append(step.name)
    return tuple(made)


def start(engine: Engine) -> None:
    """Make the table of steps in an empty database.

    Raises
    ------
    BookError
        If there is something in it already.
    """
    with writing(engine) as conn:
        if inspect(conn).get_table_names():
            raise BookError("is not empty", expected="an empty database for a new logbook")
        MIGRATIONS.create(conn)
