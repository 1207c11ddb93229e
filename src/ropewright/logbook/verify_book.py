"""Checks an exported logbook without the tool that wrote it; needs nothing but Python.

    python verify_book.py BOOK.jsonl [--seal SEAL ...]
    python verify_book.py BOOK.zip [--seal SEAL ...]

Photos lie beside BOOK.jsonl in the folder BOOK.jsonl.photos, or in the zip; each is named by its
hash and is held against it.

Each line of the file is one JSON object.  Every entry carries two hashes: one in the chain of the
whole book and one in the chain of its rope.  A hash is SHA-256 over the hash before it and the
entry as stored, so an edited, inserted, deleted or moved entry breaks the chain where it stands.
A chain that was rewritten from some entry on holds in itself; only a seal that was written down
earlier (on a report, in a letter) tells.  A seal reads BOOK-ID/NUMBER/HASH.

Exit code 0: everything holds.  2: something does not, or the file cannot be read.
"""

import hashlib
import io
import json
import os
import sys
import zipfile
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

EXPORT_FORMAT = 1
BOOK_NAME = "book.jsonl"
PHOTOS_ENDING = ".photos"
MOST_PROBLEMS = 1000
ENTRY_KEYS = frozenset(
    "by clock_off_s entry happened_at happened_on kind payload rope schema typed_at".split()
)


def _hash(*parts: str) -> str:
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def first_link(book_id: str) -> str:
    """The hash that stands before the first entry of a book."""
    return _hash("ropewright logbook 1", book_id)


def book_link(before: str, sequence: int, rope_sequence: int, arrived_at: str, content: str) -> str:
    """The hash of an entry in the chain of the whole book."""
    return _hash("book", before, str(sequence), str(rope_sequence), arrived_at, content)


def first_rope_link(rope_id: str) -> str:
    """The hash that stands before the first entry of a rope."""
    return _hash("ropewright rope 1", rope_id)


def rope_link(before: str, rope_sequence: int, arrived_at: str, content: str) -> str:
    """The hash of an entry in the chain of its rope."""
    return _hash("rope", before, str(rope_sequence), arrived_at, content)


def person_link(salt: str, data: str) -> str:
    """The hash by which the chain vouches for what is kept of a person elsewhere."""
    return _hash("person", salt, data)


def canonical_text(data: object) -> str:
    """The one text of a JSON value: sorted keys, no spaces, nothing escaped without need."""
    return json.dumps(
        data, ensure_ascii=False, sort_keys=True, separators=(",", ":"), allow_nan=False
    )


@dataclass(frozen=True)
class Row:
    """An entry as stored: its content and what the book added when it arrived."""

    sequence: int
    rope_sequence: int
    arrived_at: str
    content: str
    book_hash: str
    rope_hash: str
    columns: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class Problem:
    """What does not hold, and at which entry (0: the book as a whole)."""

    sequence: int
    says: str

    def __str__(self) -> str:
        return f"entry {self.sequence}: {self.says}" if self.sequence else f"book: {self.says}"


class ChainCheck:
    """Takes the entries of a book in order and gathers everything that does not hold.

    Parameters
    ----------
    book_id
        The id of the book.
    seals
        Hashes that were written down earlier, by entry number.
    """

    def __init__(self, book_id: str, seals: Mapping[int, Iterable[str]] | None = None) -> None:
        self.problems: list[Problem] = []
        self.sequence = 0
        self.book_hash = first_link(book_id)
        self.ropes: dict[str, tuple[int, str]] = {}
        self.persons: dict[str, str] = {}
        self.photos: set[str] = set()
        self.erased: set[str] = set()
        self._ids: set[str] = set()
        self._seals = {number: set(hashes) for number, hashes in (seals or {}).items()}
        self._held: set[int] = set()

    def say(self, sequence: int, says: str) -> None:
        """Note a problem; beyond a thousand only the first ones are kept."""
        if len(self.problems) < MOST_PROBLEMS:
            self.problems.append(Problem(sequence, says))

    def take(self, row: Row) -> None:
        """Check the next entry."""
        number = row.sequence
        if number != self.sequence + 1:
            self.say(number, f"entry {self.sequence + 1} should stand here")
        entry = self._parsed(row)
        want = book_link(self.book_hash, number, row.rope_sequence, row.arrived_at, row.content)
        if want != row.book_hash:
            self.say(number, "changed, or not the entry that followed here: book chain broken")
        if entry is not None:
            self._identity(row, entry)
            self._rope(row, str(entry["rope"]))
        self.sequence, self.book_hash = number, row.book_hash
        for seal in self._seals.get(number, ()):
            self._held.add(number)
            if seal != row.book_hash:
                self.say(number, "an earlier seal names another hash: the book was rewritten")

    def end(self) -> None:
        """Check what can only be seen at the end."""
        for number in sorted(set(self._seals) - self._held):
            if number == 0 and all(seal == self.book_hash for seal in self._seals[0]):
                continue
            self.say(
                0, f"an earlier seal speaks of entry {number}; the book ends at {self.sequence}"
            )

    def _parsed(self, row: Row) -> dict[str, Any] | None:
        try:
            entry = json.loads(row.content)
            good = isinstance(entry, dict) and set(entry) == ENTRY_KEYS
            good = good and canonical_text(entry) == row.content
        except (ValueError, RecursionError):
            good = False
        if not good:
            self.say(row.sequence, "its text is not an entry in the one way it can be written")
            return None
        for name, value in row.columns.items():
            if entry[name] != value:
                self.say(row.sequence, f"column {name} says {value!r}, the entry {entry[name]!r}")
        return dict(entry)

    def _identity(self, row: Row, entry: Mapping[str, Any]) -> None:
        if entry["entry"] in self._ids:
            self.say(row.sequence, f"id {entry['entry']} stands in the book twice")
        self._ids.add(entry["entry"])
        said = entry["payload"]
        if isinstance(said, dict):
            if entry["kind"] == "person":
                self.persons[str(said.get("person"))] = str(said.get("seal"))
            elif entry["kind"] == "photo":
                self.photos.add(str(said.get("sha256")))
            elif entry["kind"] == "erased":
                self.erased.add(str(said.get("ref")))

    def _rope(self, row: Row, rope_id: str) -> None:
        count, before = self.ropes.get(rope_id, (0, first_rope_link(rope_id)))
        if row.rope_sequence != count + 1:
            self.say(row.sequence, f"entry {count + 1} of rope {rope_id!r} should stand here")
        if rope_link(before, row.rope_sequence, row.arrived_at, row.content) != row.rope_hash:
            self.say(row.sequence, f"chain of rope {rope_id!r} broken")
        self.ropes[rope_id] = row.rope_sequence, row.rope_hash

    def person(self, person_id: str, salt: str | None, data: str | None) -> None:
        """Check what is kept of a person against what the chain vouches for."""
        seal = self.persons.get(person_id)
        if seal is None:
            self.say(0, f"person {person_id} is kept, but no entry speaks of them")
        elif data is None:
            if person_id not in self.erased:
                self.say(0, f"what was kept of person {person_id} is gone, and no entry says so")
        elif person_link(salt or "", data) != seal:
            self.say(0, f"what is kept of person {person_id} was changed")

    def photo(self, sha256: str, *, erased: bool) -> None:
        """Check that a photo is spoken of, and so is its end."""
        if sha256 not in self.photos:
            self.say(0, f"photo {sha256} is kept, but no entry speaks of it")
        if erased and sha256 not in self.erased:
            self.say(0, f"photo {sha256} was erased, and no entry says so")

    def missing(self, persons: Iterable[str], photos: Iterable[str]) -> None:
        """Check that nobody and nothing the entries speak of is missing altogether."""
        for person_id in sorted(set(self.persons) - set(persons)):
            self.say(0, f"person {person_id} is missing")
        for sha256 in sorted(self.photos - set(photos)):
            self.say(0, f"photo {sha256} is missing")


def read_seals(texts: Iterable[str], book_id: str) -> dict[int, set[str]]:
    """Seals by entry number; a seal of another book or in another form is a ValueError."""
    seals: dict[int, set[str]] = {}
    for text in texts:
        parts = text.strip().split("/")
        if len(parts) != 3 or not parts[1].isdigit() or len(parts[2]) != 64:
            raise ValueError(f"a seal reads BOOK-ID/NUMBER/HASH, not {text!r}")
        if parts[0] != book_id:
            raise ValueError(f"the seal {text!r} is of another book, not of {book_id}")
        seals.setdefault(int(parts[1]), set()).add(parts[2].lower())
    return seals


def row_of(line: Mapping[str, Any]) -> Row:
    """An entry from its line of an export; a line that is none is a ValueError."""
    names = ("sequence", "rope_sequence", "arrived_at", "content", "book_hash", "rope_hash")
    for name in names:
        if type(line.get(name)) is not (int if name.endswith("sequence") else str):
            raise ValueError(f"{name} is missing or of the wrong kind")
    return Row(**{name: line[name] for name in names})


class ExportCheck:
    """Takes the lines of an export in order and gathers everything that does not hold."""

    def __init__(self, seals: Iterable[str] = ()) -> None:
        self.problems: list[Problem] = []
        self.chain: ChainCheck | None = None
        self._seals = tuple(seals)
        self._persons: list[Mapping[str, Any]] = []
        self._photos: list[Mapping[str, Any]] = []
        self._ended = False
        self.photos_held = 0
        self.photos_absent = 0

    def take(self, number: int, text: str) -> dict[str, Any] | None:
        """Check line ``number``; gives it back if it could be read."""
        try:
            line = json.loads(text)
            self._line(line)
        except (ValueError, RecursionError, KeyError, TypeError) as error:
            problems = self.problems if self.chain is None else self.chain.problems
            problems.append(Problem(0, f"line {number}: {error}"))
            return None
        return dict(line)

    def _line(self, line: object) -> None:
        if not isinstance(line, dict):
            raise ValueError("not an object")
        kind = line.get("line")
        if (self.chain is None) != (kind == "book"):
            raise ValueError("an export begins with one line of the book itself")
        if self._ended:
            raise ValueError("a line after the end")
        if self.chain is None:
            self._begin(line)
        else:
            self._next(kind, line, self.chain)

    def _begin(self, line: Mapping[str, Any]) -> None:
        if line["format"] != EXPORT_FORMAT:
            raise ValueError(f"format {line['format']!r} is not known here")
        self.chain = ChainCheck(line["book_id"], read_seals(self._seals, line["book_id"]))

    def _next(self, kind: object, line: Mapping[str, Any], chain: ChainCheck) -> None:
        if kind == "entry":
            chain.take(row_of(line))
        elif kind == "person":
            self._persons.append(line)
        elif kind == "photo":
            self._photos.append(line)
        elif kind == "end":
            self._ended = True
            if (line["entries"], line["book_hash"]) != (chain.sequence, chain.book_hash):
                chain.say(0, "the end speaks of another last entry: the book was shortened")
        else:
            raise ValueError("a line that is not known here")

    def photo_files(self, read: Callable[[str], "bytes | None"]) -> None:
        """Hold every photo that was sent along against its hash; ``read`` gives its bytes."""
        for line in self._photos:
            sha256 = str(line.get("sha256", ""))
            data = read(sha256)
            if line.get("erased_at") is not None:
                if data is not None:
                    self.problems.append(Problem(0, f"photo {sha256} was erased and is still here"))
            elif data is None:
                self.photos_absent += 1
            elif hashlib.sha256(data).hexdigest() != sha256:
                self.problems.append(Problem(0, f"photo {sha256} was changed"))
            else:
                self.photos_held += 1

    def end(self) -> list[Problem]:
        """Everything that does not hold."""
        if self.chain is None:
            return self.problems or [Problem(0, "there is no line")]
        for line in self._persons:
            self.chain.person(line.get("person", ""), line.get("salt"), line.get("data"))
        for line in self._photos:
            self.chain.photo(line.get("sha256", ""), erased=line.get("erased_at") is not None)
        self.chain.missing(
            (line.get("person", "") for line in self._persons),
            (line.get("sha256", "") for line in self._photos),
        )
        if not self._ended:
            self.chain.say(0, "the file ends before the end of the book: it was shortened")
        self.chain.end()
        return [*self.problems, *self.chain.problems]


def check_lines(lines: Iterable[str], seals: Iterable[str] = ()) -> ExportCheck:
    """Check a whole export; what does not hold is in ``end()`` of the result."""
    check = ExportCheck(seals)
    for number, text in enumerate(lines, start=1):
        if text.strip():
            check.take(number, text)
    return check


def check_file(name: str, seals: Iterable[str]) -> ExportCheck:
    """Check a file of lines, and the photos in the folder beside it."""

    def read(sha256: str) -> "bytes | None":
        place = os.path.join(name + PHOTOS_ENDING, os.path.basename(sha256))  # noqa: PTH118, PTH119
        if not os.path.isfile(place):  # noqa: PTH113
            return None
        with open(place, "rb") as photo:  # noqa: PTH123
            return photo.read()

    with open(name, encoding="utf-8", newline="\n") as lines:  # noqa: PTH123
        check = check_lines(lines, seals)
    check.photo_files(read)
    return check


def check_zip(name: str, seals: Iterable[str]) -> ExportCheck:
    """Check a zip of the lines and the photos."""
    with zipfile.ZipFile(name) as archive:
        names = set(archive.namelist())
        with archive.open(BOOK_NAME) as raw:
            check = check_lines(io.TextIOWrapper(raw, encoding="utf-8", newline="\n"), seals)
        check.photo_files(
            lambda sha256: archive.read(f"photos/{sha256}") if f"photos/{sha256}" in names else None
        )
    return check


def main(words: list[str]) -> int:
    """Check the export that is named and say what was found."""
    seals: list[str] = []
    files: list[str] = []
    rest = iter(words)
    for word in rest:
        if word == "--seal":
            seals.append(next(rest, ""))
        else:
            files.append(word)
    if len(files) != 1 or files[0] in ("-h", "--help"):
        sys.stderr.write(__doc__ or "")
        return 2
    try:
        check = (check_zip if files[0].lower().endswith(".zip") else check_file)(files[0], seals)
    except (OSError, UnicodeDecodeError, KeyError, zipfile.BadZipFile) as error:
        sys.stderr.write(f"{files[0]}: cannot be read: {error}\n")
        return 2
    problems = check.end()
    for problem in problems:
        sys.stdout.write(f"{problem}\n")
    if check.chain is not None and not problems:
        chain = check.chain
        sys.stdout.write(
            f"holds: {chain.sequence} entries, {len(chain.ropes)} chains, "
            f"{len(seals)} seals compared, {check.photos_held} photos, "
            f"last hash {chain.book_hash}\n"
        )
        if check.photos_absent:
            sys.stdout.write(f"{check.photos_absent} photos were not sent along: not checked\n")
    return 2 if problems else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
