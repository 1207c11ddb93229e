"""What was given, shown as bounded text on one line, whatever it was."""

import itertools
from collections.abc import Mapping
from typing import Final

GIVEN_LENGTH: Final = 120
"""Longest text of what was given that an error shows, in characters."""


def escaped(text: str, also: str = "") -> str:
    """Return `text` on one line: every character that does not print is escaped."""
    out = []
    for char in text:
        if char == "\\" and also:
            out.append("\\\\")
        elif char and char in also:
            out.append("\\" + char)
        elif char.isprintable():
            out.append(char)
        else:
            out.append(char.encode("unicode_escape", "backslashreplace").decode("ascii"))
    return "".join(out)


def show_given(given: object) -> str:
    """Return what was given as quoted, escaped text of at most 120 characters.

    Parameters
    ----------
    given
        Anything: text as typed, a number, a list; `None` reads 'nothing'.

    Examples
    --------
    >>> show_given("20")
    '"20"'
    >>> show_given(None), show_given(True), show_given(20.5)
    ('nothing', 'true', '20.5')
    """
    shown = escaped(_show(given, depth=0))
    if len(shown) <= GIVEN_LENGTH:
        return shown
    end = '…"' if shown.startswith('"') else "…"
    return shown[: GIVEN_LENGTH - len(end)] + end


def _show(given: object, depth: int) -> str:
    """Return a bounded text; text is quoted the way case files quote it."""
    if isinstance(given, str):
        return '"' + escaped(given[: GIVEN_LENGTH + 1], also='"') + '"'
    if isinstance(given, Mapping | list | tuple | set | frozenset):
        if depth > 2:
            return "…"
        if isinstance(given, Mapping):
            pairs = itertools.islice(given.items(), 8)
            parts = [f"{_show(key, 3)} = {_show(value, depth + 1)}" for key, value in pairs]
        else:
            parts = [_show(part, depth + 1) for part in itertools.islice(given, 8)]
        inside = ", ".join(parts + ["…"] * (len(given) > 8))
        return f"{{{inside}}}" if isinstance(given, Mapping) else f"[{inside}]"
    if given is None or isinstance(given, bool):
        return "nothing" if given is None else str(given).lower()
    try:
        return str(given)
    except Exception:  # a number of thousands of digits, or a type that cannot be shown
        return f"a value of type {type(given).__name__} that cannot be shown"
