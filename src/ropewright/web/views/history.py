"""The entries of a rope or of the whole book, so many at a time, newest first."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final
from urllib.parse import urlencode

from ropewright.desk.open_book import Line, OpenBook
from ropewright.errors import InputError
from ropewright.web.catalogue import Catalogue
from ropewright.web.views.entries import Told, told

#: So many entries stand on one page.
SHOWN: Final = 100
#: Corrections that are looked through for what they put right.
_MOST: Final = 5000


@dataclass(frozen=True, slots=True, kw_only=True)
class Sought:
    """What is looked for: a kind, days from the first to the last, what is older than a number."""

    kind: str = ""
    first: date | None = None
    last: date | None = None
    before: int | None = None

    @property
    def all(self) -> bool:
        """Whether nothing was narrowed down."""
        return not self.kind and self.first is None and self.last is None


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """An entry; what it puts right, and what puts it right."""

    told: Told
    corrects: Line | None
    corrected_by: tuple[Line, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Entries:
    """One page of entries.

    ``older`` [-] is the number below which the next page begins, ``None`` on the last one;
    ``kinds`` is how many entries of each kind there are [-], ``total`` all of them [-].
    """

    sought: Sought
    rows: tuple[Row, ...]
    older: int | None
    kinds: Mapping[str, int]
    total: int

    @property
    def older_query(self) -> str:
        """The query of the page with older entries, narrowed down as this one."""
        sought = self.sought
        days = {"since": sought.first, "until": sought.last}
        asked = {name: on.isoformat() for name, on in days.items() if on is not None}
        kind = {"kind": sought.kind} if sought.kind else {}
        return urlencode({**kind, **asked, "before": self.older})


def read_sought(kind: str, since: str, until: str, before: str) -> Sought:
    """What is looked for, as typed.

    Parameters
    ----------
    kind
        A kind of entry; all if empty.
    since, until
        Days like ``2026-11-09``; open if empty.
    before
        A number of an entry [-]; from the newest if empty.

    Raises
    ------
    InputError
        If a day or number cannot be read, or the days are the wrong way round.
    """
    first, last = _day("since", since), _day("until", until)
    if first is not None and last is not None and last < first:
        raise InputError(field="until", expected=f"{first.isoformat()} or later", given=until)
    if before and not (before.isdecimal() and before.isascii() and len(before) < 16):
        raise InputError(field="before", expected="the number of an entry", given=before)
    return Sought(kind=kind.strip(), first=first, last=last, before=int(before) if before else None)


def _day(field: str, text: str) -> date | None:
    try:
        return date.fromisoformat(text.strip()) if text.strip() else None
    except ValueError:
        raise InputError(field=field, expected="a day like 2026-11-09", given=text) from None


def entries_of(book: OpenBook, rope_id: str | None, sought: Sought, texts: Catalogue) -> Entries:
    """One page of the entries of a rope, or of the whole book.

    Parameters
    ----------
    book
        The open book.
    rope_id
        The rope; ``None`` for everything.
    sought
        What is looked for.
    texts
        The catalogue of words.

    Raises
    ------
    InputError
        If there are no entries of that kind; names those that there are.
    """
    kinds = book.kinds(rope_id)
    if sought.kind and sought.kind not in kinds:
        raise InputError(field="kind", expected=", ".join(kinds), given=sought.kind)
    found = book.lines(
        rope_id, kinds={sought.kind} if sought.kind else (), most=SHOWN + 1,
        before=sought.before, days=(sought.first, sought.last),
    )  # fmt: skip
    lines = found[:SHOWN]
    names = book.names()
    # Of the whole book only what a correction puts right is told: one reading for each of them.
    later = book.lines(rope_id, kinds={"correction"}, most=_MOST) if rope_id is not None else ()
    rows = tuple(
        Row(
            told=told(one, names, texts), corrects=_corrected(book, one),
            corrected_by=_correcting(later, one),
        )
        for one in lines
    )  # fmt: skip
    older = None
    if len(found) > SHOWN:
        older = lines[-1].sequence if rope_id is None else lines[-1].rope_sequence
    return Entries(sought=sought, rows=rows, older=older, kinds=kinds, total=sum(kinds.values()))


def _corrected(book: OpenBook, line: Line) -> Line | None:
    which = line.payload.get("corrects") if line.kind == "correction" else None
    return None if which is None else book.line(str(which))


def _correcting(later: Sequence[Line], line: Line) -> tuple[Line, ...]:
    return tuple(one for one in later if one.payload.get("corrects") == line.entry_id)
