"""The tables of a logbook, as SQLAlchemy sees them; the migrations make them."""

from typing import Final

from sqlalchemy import (
    BigInteger,
    Column,
    Date,
    ForeignKey,
    Integer,
    MetaData,
    String,
    Table,
    Text,
)

METADATA: Final = MetaData()

MIGRATIONS: Final = Table(
    "migrations",
    METADATA,
    Column("name", String(100), primary_key=True),
    Column("done_at", String(40), nullable=False),
)

#: One row: which book this is.
BOOK: Final = Table(
    "book",
    METADATA,
    Column("one", Integer, primary_key=True),
    Column("book_id", String(36), nullable=False),
    Column("made_at", String(40), nullable=False),
)

#: Never changed, never deleted.  ``content`` is the canonical text that is hashed; the columns
#: beside it are copies to search by, and `verify` compares them.
ENTRIES: Final = Table(
    "entries",
    METADATA,
    Column("sequence", BigInteger, primary_key=True, autoincrement=False),
    Column("entry_id", String(36), nullable=False, unique=True),
    Column("rope_id", Text, nullable=False),
    Column("rope_sequence", Integer, nullable=False),
    Column("kind", String(40), nullable=False),
    Column("happened_on", Date),
    Column("arrived_at", String(40), nullable=False),
    Column("content", Text, nullable=False),
    Column("book_hash", String(64), nullable=False),
    Column("rope_hash", String(64), nullable=False),
)

#: Kept apart so that it can be erased; the chain holds a salted hash of it.
PERSONS: Final = Table(
    "persons",
    METADATA,
    Column("person_id", String(36), primary_key=True),
    Column("salt", String(64)),
    Column("data", Text),
    Column("erased_at", String(40)),
)

PHOTOS: Final = Table(
    "photos",
    METADATA,
    Column("sha256", String(64), primary_key=True),
    Column("media_type", String(40), nullable=False),
    Column("size_bytes", BigInteger, nullable=False),
    Column("erased_at", String(40)),
)

#: Derived from the entries and nothing else; `rebuild` makes it anew, bit for bit.
STANDING: Final = Table(
    "standing",
    METADATA,
    Column("rope_id", Text, primary_key=True),
    Column(
        "sequence",
        BigInteger,
        ForeignKey("entries.sequence"),
        nullable=False,
    ),
    Column("data", Text, nullable=False),
)
