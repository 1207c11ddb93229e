"""Small words that errors of this room share."""

import difflib
from collections.abc import Iterable, Sequence
from typing import TypeVar

from ropewright.errors import CaseFileError, InputError, show_given

Error = TypeVar("Error", bound=InputError)


def given_in_words(error: Error, words: str) -> Error:
    """Return the error with what was given told in our words, so without quotes round them."""
    error.given = words
    return error


def as_case_error(error: InputError, field: str | None) -> CaseFileError:
    """Return the same complaint as a case file error about a field; nothing is quoted twice."""
    made = CaseFileError(
        error.message,
        field=field,
        expected=error.expected or (None if error.message else "another value"),
        hint=error.hint,
    )
    made.given = error.given
    return made


def not_both(key: str, other: str) -> CaseFileError:
    """Return the error for two keys of which only one may be there."""
    error = CaseFileError(field=key, expected=f"{key} or {other}, not both")
    return given_in_words(error, "both of them")


def quoted(names: Iterable[str]) -> str:
    """Names in quotes, with commas between."""
    return ", ".join(show_given(name) for name in names)


def near(names: Iterable[str], given: object) -> list[str]:
    """Up to four of the names that look like what was given, the nearest first."""
    by_fold = {_plain(name): name for name in names}
    asked = _plain(str(given)[:80])
    found = difflib.get_close_matches(asked, by_fold, n=4, cutoff=0.6)
    inside = [name for name in by_fold if len(asked) > 3 and (asked in name or name in asked)]
    return [by_fold[name] for name in dict.fromkeys([*found, *inside])][:4]


def _plain(name: str) -> str:
    return name.casefold().replace("-", "_").replace(" ", "_")


def one_of(names: Sequence[str], given: object) -> tuple[str, str | None]:
    """What was expected where one of several words may stand, and a hint at a near one."""
    close = near(names, given)
    expected = f"one of {quoted(names)}" if len(names) > 1 else quoted(names)
    return expected, f"near ones: {quoted(close)}" if close and len(names) > 4 else None
