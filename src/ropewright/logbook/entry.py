"""An entry: one thing that happened or was seen, as the person's device wrote it down."""

import json
import re
import uuid
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Final

from ropewright.errors import InputError
from ropewright.logbook.canon import (
    canonical,
    instant_text,
    plain,
    read_day,
    read_instant,
)
from ropewright.logbook.codec import Value, from_plain, to_plain
from ropewright.logbook.kinds import KIND_OF, ROLES, Role, kind_of
from ropewright.logbook.people import People, Unnamed, persons_in
from ropewright.logbook.verify_book import ENTRY_KEYS

ENTRY_SCHEMA: Final = 1
MOST_BYTES: Final = 1_000_000
_LONGEST_ROPE_ID: Final = 200
_UUID: Final = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
_NAMESPACE: Final = uuid.UUID("5f0c6a54-3d6e-5b0e-9d0d-6f6c1d5c9b11")
_UNNAMED: Final = Unnamed()


@dataclass(frozen=True, slots=True, kw_only=True)
class Hand:
    """Who made the entry, by id, and in which role."""

    person: str
    role: Role


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One entry, frozen.

    ``payload`` is the canonical text of its content.  ``happened_on`` is the day at the site
    (``None``: not dated, holds always), ``happened_at`` the moment and ``typed_at`` when it was
    typed, both by the device's clock, which was ``clock_off_s`` [s] ahead of the book's.  An
    entry of the book itself has no rope.
    """

    entry_id: str
    rope_id: str
    kind: str
    payload: str
    happened_on: date | None = None
    happened_at: datetime | None = None
    typed_at: datetime | None = None
    clock_off_s: int | None = None
    by: tuple[Hand, ...] = ()

    @property
    def content(self) -> str:
        """The canonical text of the whole entry: what is stored and hashed."""
        word = json.dumps
        by = [{"person": hand.person, "role": hand.role} for hand in self.by]
        off = "null" if self.clock_off_s is None else str(self.clock_off_s)
        on = "null" if self.happened_on is None else f'"{self.happened_on.isoformat()}"'
        at = "null" if self.happened_at is None else f'"{instant_text(self.happened_at)}"'
        typed = "null" if self.typed_at is None else f'"{instant_text(self.typed_at)}"'
        return (
            f'{{"by":{canonical(by) if by else "[]"},"clock_off_s":{off},'
            f'"entry":"{self.entry_id}","happened_at":{at},"happened_on":{on},'
            f'"kind":"{self.kind}","payload":{self.payload},'
            f'"rope":{word(self.rope_id, ensure_ascii=False)},"schema":{ENTRY_SCHEMA},'
            f'"typed_at":{typed}}}'
        )

    @property
    def persons(self) -> frozenset[str]:
        """Ids of all persons the entry speaks of."""
        named = persons_in(plain(self.payload)) if '"person":' in self.payload else ()
        return frozenset((*(hand.person for hand in self.by), *named))

    def read(self, people: People) -> Value:
        """Its content as the type its kind says.

        Raises
        ------
        InputError
            If the content does not fit its kind.
        """
        return from_plain(plain(self.payload), kind_of(self.kind).payload, people)


def new_entry(
    payload: Value,
    people: People,
    *,
    rope_id: str = "",
    entry_id: str | None = None,
    happened_on: date | None = None,
    happened_at: datetime | None = None,
    typed_at: datetime | None = None,
    clock_off_s: int | None = None,
    by: tuple[Hand, ...] = (),
) -> Entry:
    """An entry of content whose kind follows from its type; without an id it gets a new one.

    Parameters
    ----------
    payload
        The content: one of the types of `KINDS`.
    people
        Where persons get their ids.
    rope_id, entry_id, happened_on, happened_at, typed_at, clock_off_s, by
        As in `Entry`.
    """
    return Entry(
        entry_id=entry_id or str(uuid.uuid4()),
        rope_id=rope_id,
        kind=KIND_OF[type(payload)],
        payload=canonical(to_plain(payload, people)),
        happened_on=happened_on,
        happened_at=happened_at,
        typed_at=typed_at,
        clock_off_s=clock_off_s,
        by=by,
    )


def stable_id(*parts: str) -> str:
    """The id that follows from what an entry is about: the same words, the same id."""
    return str(uuid.uuid5(_NAMESPACE, canonical(list(parts))))


def check_entry(entry: Entry) -> Entry:
    """The entry, if everything in it has the form that its kind asks for.

    Raises
    ------
    InputError
        If anything is wrong; names the field.
    """
    if not _UUID.fullmatch(entry.entry_id):
        raise InputError(field="entry", expected="a UUID in lower case", given=entry.entry_id)
    kind = kind_of(entry.kind)
    if bool(entry.rope_id) != kind.of_rope:
        words = "the id of a rope" if kind.of_rope else "no rope: it belongs to the book itself"
        raise InputError(field="rope", expected=words, given=entry.rope_id)
    if entry.rope_id and not (
        entry.rope_id.isprintable()
        and entry.rope_id.strip() == entry.rope_id
        and len(entry.rope_id) <= _LONGEST_ROPE_ID
    ):
        raise InputError(
            field="rope", expected=f"up to {_LONGEST_ROPE_ID} printable characters",
            given=entry.rope_id,
        )  # fmt: skip
    for hand in entry.by:
        if hand.role not in ROLES:
            raise InputError(field="role", expected="one of " + ", ".join(ROLES), given=hand.role)
    if len(entry.payload) > MOST_BYTES:
        raise InputError(
            field="payload", expected=f"at most {MOST_BYTES} bytes", given=len(entry.payload)
        )
    data = plain(entry.payload)
    value = from_plain(data, kind.payload, _UNNAMED, path="payload")
    again = canonical(to_plain(value, _UNNAMED, hint=kind.payload))
    if again != entry.payload:
        raise InputError(field="payload", expected=f"the one text {again}", given=entry.payload)
    return entry


def parse_entry(content: str) -> Entry:
    """An entry from its canonical text.

    Raises
    ------
    InputError
        If it is no entry, or not written in the one way it can be.
    """
    data = plain(content)
    if not isinstance(data, dict) or set(data) != ENTRY_KEYS:
        raise InputError(field="entry", expected=", ".join(sorted(ENTRY_KEYS)), given=data)
    if data["schema"] != ENTRY_SCHEMA:
        raise InputError(field="schema", expected=f"{ENTRY_SCHEMA}", given=data["schema"])
    try:
        entry = Entry(
            entry_id=_text(data["entry"]),
            rope_id=_text(data["rope"]),
            kind=kind_of(_text(data["kind"])).name,
            payload=canonical(data["payload"]),
            happened_on=None if data["happened_on"] is None else read_day(data["happened_on"]),
            happened_at=_moment(data["happened_at"]),
            typed_at=_moment(data["typed_at"]),
            clock_off_s=data["clock_off_s"],
            by=tuple(Hand(**hand) for hand in data["by"]),
        )
        again = entry.content
    except (ValueError, TypeError) as error:
        raise InputError(field="entry", expected="an entry", given=content) from error
    if again != content:
        raise InputError(field="entry", expected=f"the one text {again}", given=content)
    return entry


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError
    return value


def _moment(value: object) -> datetime | None:
    return None if value is None else read_instant(value)


def trusted_entry(content: str) -> Entry:
    """An entry from text that a book holds: it was checked when it was taken in."""
    data = json.loads(content)
    on = data["happened_on"]
    return Entry(
        entry_id=data["entry"],
        rope_id=data["rope"],
        kind=data["kind"],
        payload=content[content.index('"payload":') + 10 : content.rindex(',"rope":')],
        happened_on=None if on is None else date.fromisoformat(on),
        happened_at=_moment(data["happened_at"]),
        typed_at=_moment(data["typed_at"]),
        clock_off_s=data["clock_off_s"],
        by=tuple(Hand(**hand) for hand in data["by"]),
    )


def with_payload(entry: Entry, payload: str, happened_on: date | None) -> Entry:
    """The entry as a correction has it."""
    return replace(entry, payload=payload, happened_on=happened_on)
