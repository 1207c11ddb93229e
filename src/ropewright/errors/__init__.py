"""Every error this tool raises on purpose, in one tree.

::

    RopewrightError              exit  http   kind
    ├── InputError                  2   400   input
    │   ├── QuantityError           2   400   quantity
    │   ├── CaseFileError           2   400   case-file
    │   ├── FindingsFileError       2   400   findings-file
    │   ├── DutyLogError            2   400   duty-log
    │   ├── RuleFileError           2   400   rule-file
    │   ├── TableError              2   400   table
    │   ├── HistoryError            2   400   history
    │   ├── UnknownNameError        2   404   unknown-name
    │   ├── BookError               2   400   book
    │   │   ├── EntryConflictError  2   409   entry-conflict
    │   │   ├── NewerBookError      2   409   newer-book
    │   │   └── BrokenChainError    2   409   broken-chain
    │   └── InputErrors             2   400   several
    ├── StoreError                  4   503   store
    ├── OutputError                 4   500   output
    └── RenderError                 4   500   render

An input error says four things: which file, which field, what is expected, what was
given.  Exit code 1 is never used here: it means 'remove' or 'decide' and belongs to a
verdict.  What a user typed is always shown escaped, quoted and shortened, so that no
text from outside can break a line of output.
"""

import difflib
from collections.abc import Iterable
from enum import Enum
from os import PathLike
from typing import Any, ClassVar, Final, Self, final

from ropewright.errors.given import GIVEN_LENGTH, escaped, show_given

__all__ = [
    "BookError",
    "BrokenChainError",
    "CaseFileError",
    "DutyLogError",
    "EntryConflictError",
    "FindingsFileError",
    "GIVEN_LENGTH",
    "HistoryError",
    "InputError",
    "InputErrors",
    "NOT_STATED",
    "NewerBookError",
    "NotStated",
    "OutputError",
    "QuantityError",
    "RenderError",
    "RopewrightError",
    "RuleFileError",
    "StoreError",
    "TableError",
    "UnknownNameError",
    "raise_if_any",
    "show_given",
]


@final
class NotStated(Enum):
    """Type of the mark for 'this error is not about a given value'."""

    NOT_STATED = "not stated"


NOT_STATED: Final = NotStated.NOT_STATED


def _rebuild(cls: type["RopewrightError"], state: dict[str, Any]) -> "RopewrightError":
    error = cls.__new__(cls, state["message"])
    error.__dict__.update(state)
    return error


class RopewrightError(Exception):
    """Root of all errors raised on purpose; never raised itself.

    Parameters
    ----------
    message
        What is wrong, in a few plain words; may be left out when `expected` says it.
    file
        The file it is about.
    field
        Path of the field inside the file, such as ``inspection[2].finding[1].count``.
    expected
        What would have been right, as the end of a sentence 'expected ...'.
    given
        What was there instead.
    hint
        What to do about it.
    """

    exit_code: ClassVar[int] = 4
    http_status: ClassVar[int] = 500
    kind: ClassVar[str] = "error"

    message: str | None
    file: str | None
    field: str | None
    expected: str | None
    given: str | None
    hint: str | None

    def __init__(
        self,
        message: str | None = None,
        *,
        file: str | PathLike[str] | None = None,
        field: str | None = None,
        expected: str | None = None,
        given: object = NOT_STATED,
        hint: str | None = None,
    ) -> None:
        super().__init__(message)
        if message is None and expected is None:
            raise TypeError("an error needs a message or what was expected")
        self.message = message
        self.file = None if file is None else str(file)
        self.field = field
        self.expected = expected
        self.given = None if given is NOT_STATED else show_given(given)
        self.hint = hint

    def __reduce__(self) -> tuple[Any, ...]:
        return _rebuild, (type(self), dict(self.__dict__))

    def _copy(self, **changes: object) -> Self:
        twin = type(self).__new__(type(self), self.message)
        twin.__dict__.update(self.__dict__ | changes)
        twin.__cause__ = self.__cause__
        return twin

    def _sentence(self) -> str:
        asked = [] if self.expected is None else [f"expected {self.expected}"]
        if self.given is not None:
            asked.append(f"given {self.given}")
        said = [] if self.message is None else [self.message]
        text = "; ".join(said + [", ".join(asked)] * bool(asked))
        return text if self.hint is None else f"{text} ({self.hint})"

    def __str__(self) -> str:
        places = [part for part in (self.file, self.field) if part]
        return escaped(": ".join([*places, self._sentence()]))

    def as_dict(self) -> dict[str, Any]:
        """Return the one JSON shape that every error of this tool has.

        Keys: ``error`` (the kind), ``message``, ``file``, ``field``, ``expected``,
        ``given``, ``hint`` (each text or null) and ``errors`` (the parts of a bundle,
        each in this same shape; empty for a single error).
        """
        return {
            "error": self.kind,
            "message": str(self),
            "file": self.file,
            "field": self.field,
            "expected": self.expected,
            "given": self.given,
            "hint": self.hint,
            "errors": [],
        }

    def with_file(self, file: str | PathLike[str]) -> Self:
        """Return a copy that names `file`; a file already named stays, being the nearer one."""
        return self if self.file is not None else self._copy(file=str(file))

    def within(self, prefix: str) -> Self:
        """Return a copy whose field path starts with `prefix`.

        Examples
        --------
        >>> InputError(field="count", expected="a whole number", given="x").within(
        ...     "finding[2]"
        ... ).field
        'finding[2].count'
        """
        if not prefix:
            return self
        if not self.field:
            return self._copy(field=prefix)
        joint = "" if self.field.startswith("[") else "."
        return self._copy(field=f"{prefix}{joint}{self.field}")


class InputError(RopewrightError):
    """Something that was typed or handed in cannot be used."""

    exit_code = 2
    http_status = 400
    kind = "input"


class QuantityError(InputError):
    """A text is not a quantity with its unit."""

    kind = "quantity"


class CaseFileError(InputError):
    """A case file cannot be read or contradicts itself."""

    kind = "case-file"


class FindingsFileError(InputError):
    """A list of findings (CSV or spreadsheet) cannot be read."""

    kind = "findings-file"


class DutyLogError(InputError):
    """A duty log, its list of columns or a list of lifts cannot be read."""

    kind = "duty-log"


class RuleFileError(InputError):
    """A rule file has an unknown, missing, doubled or impossible entry."""

    kind = "rule-file"


class TableError(InputError):
    """A table of published figures cannot be read."""

    kind = "table"


class HistoryError(InputError):
    """Cuts and end-for-end turns contradict the rope, or a place is no longer on it."""

    kind = "history"


class UnknownNameError(InputError):
    """A name is not in the list it should come from; the nearest ones are shown.

    Parameters
    ----------
    what
        What the name stands for, with its article: 'a listed construction'.
    given
        The name as given.
    known
        All names that would have been accepted.
    field, file, hint
        As for every error.
    """

    http_status = 404
    kind = "unknown-name"

    near: tuple[str, ...]

    def __init__(
        self,
        *,
        what: str,
        given: object,
        known: Iterable[str],
        field: str | None = None,
        file: str | PathLike[str] | None = None,
        hint: str | None = None,
    ) -> None:
        names = list(known)
        by_fold = {name.casefold(): name for name in names}
        asked = str(given)[:GIVEN_LENGTH].casefold()
        found = difflib.get_close_matches(asked, by_fold, n=4, cutoff=0.5)
        near = tuple(by_fold[name] for name in found)
        if near:
            expected = f"{what}, near ones are " + ", ".join(show_given(name) for name in near)
        elif 0 < len(names) <= 8:
            expected = f"{what}, one of " + ", ".join(show_given(name) for name in names)
        else:
            expected = f"{what} ({len(names)} are known, none is near)"
        super().__init__(field=field, expected=expected, given=given, file=file, hint=hint)
        self.near = near


class InputErrors(InputError):  # noqa: N818 - several of them
    """Several input errors found in one reading, shown one per line.

    Parameters
    ----------
    errors
        At least one; bundles inside are unpacked.
    """

    kind = "several"

    errors: tuple[InputError, ...]

    def __init__(self, errors: Iterable[InputError]) -> None:
        flat: list[InputError] = []
        for error in errors:
            flat.extend(error.errors if isinstance(error, InputErrors) else [error])
        if not flat:
            raise TypeError("a bundle needs at least one error")
        count = "1 problem" if len(flat) == 1 else f"{len(flat)} problems"
        super().__init__(count)
        self.errors = tuple(flat)

    def __str__(self) -> str:
        return "\n".join(str(error) for error in self.errors)

    def as_dict(self) -> dict[str, Any]:
        """Return the one JSON shape, with every part under ``errors``."""
        return super().as_dict() | {
            "message": self.message,
            "errors": [error.as_dict() for error in self.errors],
        }

    def with_file(self, file: str | PathLike[str]) -> Self:
        """Return a copy in which every part names `file`."""
        return self._copy(errors=tuple(error.with_file(file) for error in self.errors))

    def within(self, prefix: str) -> Self:
        """Return a copy in which every part's field path starts with `prefix`."""
        return self._copy(errors=tuple(error.within(prefix) for error in self.errors))


class BookError(InputError):
    """A logbook is not there, is no logbook, or cannot take what was handed in."""

    kind = "book"


class EntryConflictError(BookError):
    """An entry with this id stands in the logbook already, with other content."""

    http_status = 409
    kind = "entry-conflict"


class NewerBookError(BookError):
    """A logbook was written by a newer version of this tool; nothing in it was touched."""

    http_status = 409
    kind = "newer-book"


class BrokenChainError(BookError):
    """A logbook was changed after the fact: its chain or an earlier seal does not hold."""

    http_status = 409
    kind = "broken-chain"


class StoreError(RopewrightError):
    """The database does not answer, is full or was locked for too long; nothing was written."""

    http_status = 503
    kind = "store"


class OutputError(RopewrightError):
    """A file that was asked for cannot be written."""

    kind = "output"


class RenderError(RopewrightError):
    """A report or picture cannot be drawn."""

    kind = "render"


def raise_if_any(errors: Iterable[InputError]) -> None:
    """Raise nothing for none, the one error for one, a bundle (InputErrors) for several."""
    found = list(errors)
    if len(found) == 1:
        raise found[0]
    if found:
        raise InputErrors(found)
