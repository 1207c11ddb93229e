"""From bytes to a plain dictionary: size, text encoding, and TOML itself."""

import re
import tomllib
from typing import Any, Final

from ropewright.errors import CaseFileError
from ropewright.intake.wording import given_in_words

MAX_BYTES: Final = 20_000_000
"""Largest file that is read, in bytes; a case file of a long-lived rope has some 100 kB."""

_OTHER_ENCODINGS: Final = (
    (b"\xff\xfe", "UTF-16"),
    (b"\xfe\xff", "UTF-16"),
)
_AT_LINE: Final = re.compile(r"\s*\(at (?:line (\d+), column (\d+)|end of document)\)\s*$")
_KEY_LINE: Final = re.compile(r"""\s*((?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*'|\s*\.\s*)+?)\s*=""")
_HEADER: Final = re.compile(r"\s*\[\[?\s*([^\[\]]+?)\s*\]")

# What the TOML reader says, and what to write instead: (part of its words, expected, hint).
_PLAIN_WORDS: Final = (
    ("Expected '=' after a key", "an equals sign after the key", None),
    ("Invalid date or datetime", "a date that exists, such as 2026-11-09", None),
    (
        "Expected newline or end of document",
        "the end of the line",
        "one entry on each line; a quantity stands in quotes, such as \"20 mm\"",
    ),
    ("Illegal character '\\n'", 'a closing quote " on the same line', None),
    ("Unterminated string", "a closing quote", None),
    ("Expected \"'''\"", "a closing quote '''", None),
    ("Unescaped '\\'", "a backslash written twice inside double quotes", None),
    ("Expected ']]'", "two closing brackets ]]", None),
    ("Expected ']' at the end", "a closing bracket ]", None),
    ("Invalid initial character for a key part", "the name of a key", None),
    ("Invalid statement", "a line such as key = value, or a [table]", None),
    ("Unclosed array", "a comma or a closing bracket ]", None),
    ("Unclosed inline table", "a comma or a closing brace }", None),
    (
        "Invalid value",
        "a value",
        "text and quantities stand in straight quotes, such as \"20 mm\"; dates and numbers do not",
    ),
)  # fmt: skip


def text_of(data: bytes, *, file: str) -> str:
    """Return the text of a UTF-8 file; a UTF-8 mark at its start is taken off.

    Raises
    ------
    CaseFileError
        If the file is too large, empty, or in another encoding.
    """
    if len(data) > MAX_BYTES:
        raise too_large(len(data), file=file)
    for mark, name in _OTHER_ENCODINGS:
        if data.startswith(mark):
            raise _not_utf_8(file, None, f"text saved as {name}")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise _not_utf_8(file, f"line {line}", f"byte 0x{data[error.start]:02x}") from None
    if not text.strip():
        raise given_in_words(
            CaseFileError(file=file, expected="a case file in TOML"), "an empty file"
        )
    return text


def too_large(size: int, *, file: str) -> CaseFileError:
    """Return the error for a file of `size` bytes."""
    error = CaseFileError(file=file, expected=f"a file of at most {MAX_BYTES // 1_000_000} MB")
    return given_in_words(error, f"{size} bytes")


def _not_utf_8(file: str, field: str | None, given: str) -> CaseFileError:
    error = CaseFileError(file=file, field=field, expected="text saved as UTF-8")
    return given_in_words(error, given)


def toml_of(text: str, *, file: str) -> dict[str, Any]:
    """Return the tables of a TOML text.

    Raises
    ------
    CaseFileError
        With line and column, and the key where one is written twice.
    """
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _syntax_error(str(error), text, file) from None
    except RecursionError:
        raise CaseFileError("brackets nested too deep", file=file) from None
    except ValueError as error:  # whole numbers of thousands of digits
        raise CaseFileError(f"not TOML: {error}", file=file) from None


def _syntax_error(says: str, text: str, file: str) -> CaseFileError:
    found = _AT_LINE.search(says)
    lines = text.replace("\r\n", "\n").split("\n")
    if found and found[1]:
        line, column = int(found[1]), int(found[2])
    else:
        line = max((n for n, row in enumerate(lines, 1) if row.strip()), default=1)
        column = len(lines[line - 1]) + 1
    words = _AT_LINE.sub("", says)
    row = lines[line - 1] if line <= len(lines) else ""
    where = f"line {line}, column {column}"
    twice = _written_twice(words, lines, line)
    if twice is not None:
        return given_in_words(CaseFileError(file=file, field=where, expected=twice[0]), twice[1])
    if words == "Invalid value" and _HEADER.match(row):
        return CaseFileError(
            file=file,
            field=where,
            expected="a closing bracket ] before the next table",
            given=row.strip(),
        )
    for part, expected, hint in _PLAIN_WORDS:
        if part in words:
            return CaseFileError(
                file=file, field=where, expected=expected, given=row.strip(), hint=hint
            )
    return CaseFileError(f"not TOML: {words}", file=file, field=where, given=row.strip())


def _written_twice(words: str, lines: list[str], line: int) -> tuple[str, str] | None:
    """What was expected and what is doubled, if that is what the TOML reader complains of."""
    inline = re.match(r"Duplicate inline table key '(.*)'", words)
    if inline:
        return f'the key "{inline[1]}" once', f'"{inline[1]}" twice in one pair of braces'
    if not words.startswith(("Cannot overwrite", "Cannot declare", "Cannot mutate")):
        return None
    for number in range(line, 0, -1):
        row = lines[number - 1]
        header = _HEADER.match(row)
        if header:
            name = header[1]
            return (
                f"the table [{name}] once, or double brackets [[{name}]] each time",
                f"{row.strip()} again",
            )
        key = _KEY_LINE.match(row)
        if key:
            return f'the key "{key[1]}" once', f'"{key[1]}" again'
    return None
