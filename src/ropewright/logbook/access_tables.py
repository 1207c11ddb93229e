"""Tables beside the record: who may come in, and what was judged.  Not chained, not exported."""

from typing import Final

from sqlalchemy import Boolean, Column, Integer, String, Table, Text

from ropewright.logbook.tables import METADATA

ACCOUNTS: Final = Table(
    "access_accounts",
    METADATA,
    Column("person_id", String(36), primary_key=True),
    Column("login", String(100), nullable=False, unique=True),
    Column("name", Text, nullable=False),
    Column("roles", Text, nullable=False),
    Column("password_hash", Text, nullable=False),
    Column("active", Boolean, nullable=False),
    Column("units", String(20), nullable=False),
    Column("hand", String(20), nullable=False),
    Column("theme", String(20), nullable=False),
)

SESSIONS: Final = Table(
    "access_sessions",
    METADATA,
    Column("token_hash", String(64), primary_key=True),
    Column("person_id", String(36), nullable=False),
    Column("csrf", String(64), nullable=False),
    Column("made_at", String(40), nullable=False),
    Column("seen_at", String(40), nullable=False),
)

TOKENS: Final = Table(
    "access_tokens",
    METADATA,
    Column("token_id", String(36), primary_key=True),
    Column("token_hash", String(64), nullable=False, unique=True),
    Column("person_id", String(36), nullable=False),
    Column("name", Text, nullable=False),
    Column("purpose", String(20), nullable=False),
    Column("made_at", String(40), nullable=False),
    Column("revoked_at", String(40)),
)

ATTEMPTS: Final = Table(
    "access_attempts",
    METADATA,
    Column("name_hash", String(64), primary_key=True),
    Column("failures", Integer, nullable=False),
    Column("wait_until", String(40)),
)

#: What was judged of each rope, so that a server that starts need not judge all of them again.
GLANCES: Final = Table(
    "glances",
    METADATA,
    Column("rope_id", Text, primary_key=True),
    Column("made_from", Text, nullable=False),
    Column("data", Text, nullable=False),
)

GLANCE_STATEMENTS: Final = (
    """CREATE TABLE glances (
        rope_id TEXT NOT NULL PRIMARY KEY,
        made_from TEXT NOT NULL,
        data TEXT NOT NULL)""",
)

#: The step that makes them: plain statements, so that it stays what it was.
STATEMENTS: Final = (
    """CREATE TABLE access_accounts (
        person_id VARCHAR(36) NOT NULL PRIMARY KEY,
        login VARCHAR(100) NOT NULL UNIQUE,
        name TEXT NOT NULL,
        roles TEXT NOT NULL,
        password_hash TEXT NOT NULL,
        active BOOLEAN NOT NULL,
        units VARCHAR(20) NOT NULL,
        hand VARCHAR(20) NOT NULL,
        theme VARCHAR(20) NOT NULL)""",
    """CREATE TABLE access_sessions (
        token_hash VARCHAR(64) NOT NULL PRIMARY KEY,
        person_id VARCHAR(36) NOT NULL,
        csrf VARCHAR(64) NOT NULL,
        made_at VARCHAR(40) NOT NULL,
        seen_at VARCHAR(40) NOT NULL)""",
    """CREATE TABLE access_tokens (
        token_id VARCHAR(36) NOT NULL PRIMARY KEY,
        token_hash VARCHAR(64) NOT NULL UNIQUE,
        person_id VARCHAR(36) NOT NULL,
        name TEXT NOT NULL,
        purpose VARCHAR(20) NOT NULL,
        made_at VARCHAR(40) NOT NULL,
        revoked_at VARCHAR(40))""",
    """CREATE TABLE access_attempts (
        name_hash VARCHAR(64) NOT NULL PRIMARY KEY,
        failures INTEGER NOT NULL,
        wait_until VARCHAR(40))""",
)
