"""Logs that come as bytes with a form: laid in a folder of their own while they are counted."""

import csv
import gzip
import re
import tempfile
import zlib
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from pydantic import ValidationError

from ropewright.errors import DutyLogError, InputError, raise_if_any
from ropewright.intake.duty.lift_list import kind_of_file
from ropewright.intake.duty.mapping import (
    KEYS,
    LogMapping,
    MappingModel,
    mapping_from_headings,
    mapping_of_model,
    read_mapping,
)
from ropewright.intake.duty.opening import OpenedLogs, open_logs
from ropewright.intake.duty.reading import PARQUET_ENDINGS
from ropewright.intake.problems import problems_of

MOST_UNPACKED: Final = 400_000_000
"""What a packed log may hold [bytes]; own choice, some weeks of a log by the second."""
MOST_SAMPLES: Final = 40_000_000
"""Samples of one log in Parquet; own choice, more than a year by the second."""
_PIECE: Final = 1_000_000
_LONGEST: Final = 10_000
_DELIMITERS: Final = (",", ";", "\t", "|")

#: What a form may say beside the columns, and where it stands in a mapping.
_WHOLE: Final = ("zone", "decimal")
_COUNTING: Final = ("block", "greatest_load")


@contextmanager
def uploaded_logs(
    logs: Sequence[tuple[str, bytes]], said: Mapping[str, str]
) -> Iterator[OpenedLogs]:
    """Open logs that came as bytes; they are gone when this ends.

    Parameters
    ----------
    logs
        Name and content of each.
    said
        What the form says of the columns: by their keys of a mapping file the headings, with
        ``_unit`` behind the key the units; ``time_unit``, ``zone``, ``decimal``, ``with_block``
        (``no`` if loads lack the block), ``block``, ``greatest_load``; or under ``text`` a whole
        mapping file.  Nothing is as if it was not there.

    Raises
    ------
    InputError
        If a log cannot be read, by its own name.
    """
    with tempfile.TemporaryDirectory(prefix="ropewright-log-") as folder:
        try:
            files = [_laid(Path(folder, str(count)), *one) for count, one in enumerate(logs)]
            yield open_logs(files, _mapping(files, said, Path(folder)))
        except InputError as error:
            raise DutyLogError(_without(str(error), folder)) from None


def _without(words: str, folder: str) -> str:
    """The words of an error without the folder, which nobody knows."""
    return re.sub(re.escape(folder) + r"/(?:[0-9]+/)?", "", words)


def _laid(folder: Path, name: str, content: bytes) -> Path:
    last = name.replace("\\", "/").rpartition("/")[2]
    plain = re.sub(r"[^\w .()+-]", "_", last)[-100:].strip(". ")
    if not plain:
        raise DutyLogError(field="log", expected="a file with a name", given=name)
    if not content:
        raise DutyLogError(file=plain, expected="a log", given="an empty file")
    folder.mkdir()
    path = folder / plain
    path.write_bytes(content)
    ending = path.suffix.lower()
    if ending == ".gz":
        _check_packed(path)
    elif ending in PARQUET_ENDINGS:
        _check_samples(path)
    return path


def _check_packed(path: Path) -> None:
    whole = 0
    try:
        with gzip.open(path) as stream:
            while piece := stream.read(_PIECE):
                whole += len(piece)
                if whole > MOST_UNPACKED:
                    raise DutyLogError(
                        file=path, given="more",
                        expected=f"at most {MOST_UNPACKED // 10**6} MB when unpacked",
                        hint="give a shorter log, or count it with the command line",
                    )  # fmt: skip
    except (OSError, EOFError, zlib.error) as error:
        raise DutyLogError(f"cannot be unpacked: {error}", file=path) from None


def _check_samples(path: Path) -> None:
    try:
        import polars
    except ImportError:
        return  # reading it says what is missing
    try:
        count = int(polars.scan_parquet(path).select(polars.len()).collect().item())
    except (OSError, polars.exceptions.PolarsError):
        return  # reading it says what is wrong
    if count > MOST_SAMPLES:
        raise DutyLogError(
            file=path, expected=f"at most {MOST_SAMPLES} samples", given=count,
            hint="give a shorter log, or count it with the command line",
        )  # fmt: skip


# --- What the form says of the columns --------------------------------------------------------


def _mapping(files: Sequence[Path], said: Mapping[str, str], folder: Path) -> LogMapping | None:
    stated = {name: text.strip() for name, text in said.items() if text.strip()}
    text = stated.pop("text", "")
    if text:
        if stated:
            raise DutyLogError(
                field="mapping", expected="fields, or the text of a mapping file",
                given=f"both: {', '.join(sorted(stated))}",
            )  # fmt: skip
        path = folder / "mapping"
        path.write_text(text, encoding="utf-8")
        return read_mapping(path)
    if not stated or not files:
        return None
    try:
        return mapping_of_form(stated, files[0])
    except InputError as error:
        raise DutyLogError(_on_form(str(error))) from None


def _on_form(words: str) -> str:
    """The words of an error with the names that fields have on a form, not in a file."""
    words = words.replace("counting.block", "mass of the hook block")
    words = words.replace("counting.greatest_load", "greatest load")
    words = re.sub(r"columns\.(\w+)\.unit", r"unit of \1", words)
    return re.sub(r"columns\.(\w+)(?:\.\w+)?", r"\1", words)


def mapping_of_form(stated: Mapping[str, str], log: Path) -> LogMapping:
    """A mapping out of single fields; what they leave open the log's own headings say.

    Parameters
    ----------
    stated
        The fields that were filled in, as in `uploaded_logs`.
    log
        The first log.

    Raises
    ------
    InputError
        If a field cannot be read, or fields and headings together do not say where the crane is.
    """
    tables = _tables(stated)
    is_list = kind_of_file(log) != "log"
    base: LogMapping | None = None
    if "time" not in tables["columns"]:
        if is_list:
            base = LogMapping(time="", columns={})
        else:
            base = mapping_from_headings(_headings(log), file=str(log))
        tables["columns"]["time"] = {"column": base.time or "time"}
    try:
        model = MappingModel.model_validate(tables)
    except ValidationError as error:
        raise_if_any(list(problems_of(error, MappingModel, tables)))
        raise
    made = mapping_of_model(model, "mapping")
    if base is not None:
        made = replace(made, columns={**base.columns, **made.columns})
    return made


def _tables(stated: Mapping[str, str]) -> dict[str, Any]:
    columns: dict[str, dict[str, Any]] = {}
    for key in ("time", *KEYS):
        if key in stated:
            columns[key] = {"column": stated[key]}
        if f"{key}_unit" in stated and key in stated:
            columns[key]["unit"] = stated[f"{key}_unit"]
    if stated.get("with_block") == "no":
        if "load" not in columns:
            raise DutyLogError(
                field="load", expected="the heading of the loads that lack the hook block",
                given=None,
            )  # fmt: skip
        columns["load"]["with_block"] = False
    tables: dict[str, Any] = {"schema": 1, "columns": columns}
    tables |= {name: stated[name] for name in _WHOLE if name in stated}
    counting = {name: stated[name] for name in _COUNTING if name in stated}
    if counting:
        tables["counting"] = counting
    return tables


def _headings(log: Path) -> list[str]:
    if log.suffix.lower() in PARQUET_ENDINGS:
        try:
            import polars
        except ImportError:
            return []
        return list(polars.read_parquet_schema(log))
    opener = gzip.open if log.suffix.lower() == ".gz" else Path.open
    with opener(log, "rt", encoding="utf-8-sig", errors="replace", newline="") as stream:
        for _ in range(20):
            line = stream.readline(_LONGEST)
            if line.strip():
                delimiter = max(_DELIMITERS, key=line.count)
                return [one.strip() for one in next(csv.reader([line], delimiter=delimiter))]
    return []
