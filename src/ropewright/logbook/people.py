"""Who is meant: entries hold ids only; names and papers are kept apart and can be erased."""

import uuid
from collections.abc import Iterator
from typing import Final, Protocol

from ropewright.inspection import Person
from ropewright.logbook.canon import canonical, plain

ERASED: Final = "a person whose data were erased"


class People(Protocol):
    """Turns what is known of a person into an id and back."""

    def id_of(self, data: str) -> str:
        """The id of a person by the canonical text of what is known."""

    def data_of(self, person_id: str) -> str | None:
        """What is known of a person, ``None`` once it was erased."""


class MemoryPeople:
    """Persons kept in memory; new ones get a random id.

    Parameters
    ----------
    known
        Persons that are known already, by id.
    """

    def __init__(self, known: dict[str, str | None] | None = None) -> None:
        self._data: dict[str, str | None] = dict(known or {})
        self._ids = {data: one for one, data in self._data.items() if data is not None}
        self.new: dict[str, str] = {}

    def id_of(self, data: str) -> str:
        """The id of a person by the canonical text of what is known."""
        known = self._ids.get(data)
        if known is None:
            known = str(uuid.uuid4())
            self._ids[data] = known
            self._data[known] = data
            self.new[known] = data
        return known

    def data_of(self, person_id: str) -> str | None:
        """What is known of a person, ``None`` once it was erased."""
        return self._data.get(person_id)


class Unnamed:
    """Stands in where only the form of a payload is checked: an id is its own person."""

    def id_of(self, data: str) -> str:
        """The id that `data_of` put there."""
        known = plain(data)
        return str(known.get("words", known.get("role", "")))

    def data_of(self, person_id: str) -> str | None:
        """A person who has nothing but this id."""
        return canonical({"role": person_id, "words": person_id})


def words_of(data: str | None) -> str:
    """A person as one line of text."""
    if data is None:
        return ERASED
    known = plain(data)
    if "words" in known:
        return str(known["words"])
    return ", ".join(part for part in (known.get("name", ""), known.get("role", "")) if part)


def erased_person() -> Person:
    """What stands for a person whose data were erased."""
    return Person(role=ERASED)


def persons_in(data: object) -> Iterator[str]:
    """Ids of all persons in a payload."""
    if isinstance(data, dict):
        if set(data) == {"person"} and isinstance(data["person"], str):
            yield data["person"]
        else:
            for value in data.values():
                yield from persons_in(value)
    elif isinstance(data, list):
        for value in data:
            yield from persons_in(value)
