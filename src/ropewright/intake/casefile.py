"""Reading a case file: bytes in, one dossier out, or every error of the file at once."""

import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from pydantic import ValidationError

from ropewright.errors import CaseFileError, InputError, raise_if_any
from ropewright.inspection import Dossier, exposures_on
from ropewright.intake.build import build_dossier
from ropewright.intake.case_model import SCHEMA, CaseModel
from ropewright.intake.decode import MAX_BYTES, text_of, toml_of, too_large
from ropewright.intake.findings_list import Lists
from ropewright.intake.lines import LineFinder
from ropewright.intake.partial import Remainder, without_malformed
from ropewright.intake.places import Findings
from ropewright.intake.problems import problems_of
from ropewright.intake.wording import as_case_error, given_in_words

MAX_ERRORS: Final = 100
"""So many errors of one file are shown; beyond that the file is probably not a case file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseFile:
    """A case file that has been read.

    Parameters
    ----------
    dossier
        Everything it says, ready to be judged.
    schema
        Version of the case file format.
    file
        Its name as given by the caller.
    sha256
        Hash of its bytes.
    findings_files
        Name and hash of every list of findings that it refers to.
    warnings
        What a person should look at again; nothing was refused because of it.
    """

    dossier: Dossier
    schema: int
    file: str
    sha256: str
    findings_files: Mapping[str, str] = field(default_factory=dict)
    warnings: tuple[str, ...] = ()


def load_case(path: str | Path, *, known_rules: Sequence[str] | None = None) -> CaseFile:
    """Read the case file at a path, with the lists of findings beside it.

    Parameters
    ----------
    path
        The case file.
    known_rules
        Ids of the rule sets that may be named; ``None`` takes any name.

    Raises
    ------
    InputError
        If there is no such file, or anything in it is wrong: one error, or a bundle.
    """
    place = Path(path)
    data = _bytes_of(place)
    return read_case(data, file=str(path), known_rules=known_rules, folder=place.parent)


def read_case(
    text: str | bytes,
    *,
    file: str,
    known_rules: Sequence[str] | None = None,
    folder: Path | None = None,
) -> CaseFile:
    """Read a case file from its text or bytes.

    Parameters
    ----------
    text
        The whole file.
    file
        Its name, for errors and reports.
    known_rules
        Ids of the rule sets that may be named; ``None`` takes any name.
    folder
        Where lists of findings are looked for; without one they cannot be named.

    Raises
    ------
    InputError
        If anything is wrong: one error, or `InputErrors` with every error of the file.
    """
    data = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
    plain = text_of(data, file=file)
    tables = toml_of(plain, file=file)
    _check_schema(tables, file)
    found = Findings()
    lists = Lists(folder=folder, case_file=file)
    case, complaints, rest = _validated(tables)
    dossier: Dossier | None = None
    if case is not None:
        dossier = build_dossier(case, found=found, known_rules=known_rules, lists=lists)
        loose = [] if complaints else found.loose
        complaints += [_in_the_file(error, rest) for error in (*loose, *found.errors)]
    _raise(complaints, file=file, text=plain)
    if case is None or dossier is None:  # not reached: without a case there was a complaint
        raise CaseFileError("cannot be read", file=file)
    return CaseFile(
        dossier=dossier,
        schema=case.schema_,
        file=file,
        sha256=hashlib.sha256(data).hexdigest(),
        findings_files=dict(lists.hashes),
        warnings=(*found.warnings, *_against_the_path(dossier)),
    )


def _against_the_path(dossier: Dossier) -> tuple[str, ...]:
    """Exposures that the path of the newest day on file contradicts, in words."""
    days = [one.valid_from for one in dossier.rigging] + [one.on for one in dossier.inspections]
    return exposures_on(dossier, max(days)).contradictions if days else ()


def _bytes_of(path: Path) -> bytes:
    file = str(path)
    try:
        if path.is_dir():
            raise given_in_words(
                CaseFileError(file=file, expected="a case file in TOML"), "a folder"
            )
        size = path.stat().st_size
        if size > MAX_BYTES:
            raise too_large(size, file=file)
        return path.read_bytes()
    except FileNotFoundError:
        raise given_in_words(
            CaseFileError(file=file, expected="a case file in TOML"), "no such file"
        ) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise CaseFileError(f"cannot be read: {reason}", file=file) from None


def _check_schema(tables: Mapping[str, Any], file: str) -> None:
    """The version comes first: under another one every other complaint would mislead."""
    given = tables.get("schema")
    if given is None:
        raise CaseFileError(
            file=file, field="schema", expected=f"schema = {SCHEMA} at the top", given=None
        )
    if given is True or given != SCHEMA:
        raise CaseFileError(
            file=file,
            field="schema",
            expected=f"{SCHEMA}, the version of the case file format that is known here",
            given=given,
        )


# --- Every error at once ----------------------------------------------------------------------


def _validated(
    tables: dict[str, Any],
) -> tuple[CaseModel | None, list[InputError], Remainder]:
    """The case, what is wrong with its form, and what was left out to read the rest."""
    try:
        return CaseModel.model_validate(tables), [], Remainder(tables)
    except ValidationError as error:
        complaints = problems_of(error, CaseModel, tables)
        spots = [(item["loc"], item["type"] == "extra_forbidden") for item in error.errors()]
    rest = without_malformed(tables, spots)
    if rest is None:
        return None, complaints, Remainder(tables)
    try:
        return CaseModel.model_validate(rest.tables), complaints, rest
    except ValidationError:
        return None, complaints, rest


def _in_the_file(error: InputError, rest: Remainder) -> InputError:
    """The complaint with the path that its field has in the whole file."""
    if error.file is not None or not error.field or not rest.gone:
        return error
    return as_case_error(error, rest.original(error.field))


def _raise(complaints: Sequence[InputError], *, file: str, text: str) -> None:
    """Raise what was collected, each with its line, in the order of the file."""
    finder = LineFinder(text)
    placed: list[tuple[int, InputError]] = []
    for error in complaints:
        line = None if error.file is not None or not error.field else finder.line_of(error.field)
        placed.append((line or len(text), _with_line(error, line).with_file(file)))
    placed.sort(key=lambda pair: pair[0])
    unique = {str(error): error for _, error in placed}
    shown = list(unique.values())
    if len(shown) > MAX_ERRORS:
        more = CaseFileError(f"and at least {len(shown) - MAX_ERRORS} more problems", file=file)
        shown = [*shown[:MAX_ERRORS], more]
    raise_if_any(shown)


def _with_line(error: InputError, line: int | None) -> InputError:
    if line is None or re.match(r"line \d", error.field or ""):
        return error
    made = as_case_error(error, error.field)
    made.hint = f"line {line}" if error.hint is None else f"line {line}; {error.hint}"
    return made
