"""Where rule sets come from: those of this package, a folder of one's own, or one file."""

import re
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Final

from ropewright.errors import RuleFileError, UnknownNameError
from ropewright.rules import RuleSet, load_rule_set

RULES_FILE: Final = "rules.toml"
MAX_BYTES: Final = 2_000_000
"""Largest rule file or table that is read, in bytes; printed tables have some kilobytes."""

_NAMED_TABLE: Final = re.compile(r"""["']([^"'\n/\\]+\.csv)["']""")


class _Shelf:
    """Rule sets in folders beside each other: ``NAME/rules.toml`` and its tables."""

    _stays_the_same = False

    def __init__(self, root: Traversable, *, shown: str) -> None:
        self._root = root
        self._shown = shown
        self._read: dict[str, RuleSet] = {}

    def names(self) -> tuple[str, ...]:
        """Names of all rule sets of this shelf, sorted."""
        return tuple(
            sorted(
                one.name
                for one in self._root.iterdir()
                if one.is_dir() and (one / RULES_FILE).is_file()
            )
        )

    def rule_files(self, name_or_path: str) -> dict[str, str]:
        """Text of the files of a rule set: ``rules.toml`` and its tables, by file name.

        Raises
        ------
        UnknownNameError
            If there is no such rule set; near names are shown.
        RuleFileError
            If a file cannot be read.
        """
        names = self.names()
        if name_or_path in names:
            return _files_of(self._root / name_or_path, shown=self._file(name_or_path))
        if _looks_like_path(name_or_path):
            return _files_at(Path(name_or_path))
        raise UnknownNameError(
            what="a rule set",
            given=name_or_path,
            known=names,
            hint="a rule file of your own is named by its path, such as ./house.toml",
        )

    def get(self, name_or_path: str) -> RuleSet:
        """The rule set with a name, or the one in a folder or file given by its path.

        Raises
        ------
        UnknownNameError
            If there is no such rule set; near names are shown.
        RuleFileError, TableError
            If a file cannot be read or says something impossible.
        """
        name = name_or_path
        if name in self._read:
            return self._read[name]
        known = name in self.names()
        rule_set = load_rule_set(
            self.rule_files(name), name=self._file(name) if known else Path(name).as_posix()
        )
        if known and self._stays_the_same:
            self._read[name] = rule_set
        return rule_set

    def _file(self, name: str) -> str:
        return f"{self._shown}/{name}" if self._shown else name


class PackageShelf(_Shelf):
    """The rule sets that come with this package; others by their path."""

    _stays_the_same = True

    def __init__(self) -> None:
        super().__init__(resources.files("ropewright.rules") / "data", shown="")


class FolderShelf(_Shelf):
    """Rule sets in a folder of one's own, one folder for each.

    Parameters
    ----------
    folder
        Where they lie.

    Raises
    ------
    RuleFileError
        If there is no such folder.
    """

    def __init__(self, folder: Path) -> None:
        if not folder.is_dir():
            raise RuleFileError(
                file=str(folder), expected="a folder of rule sets", given="no such folder"
            )
        super().__init__(folder, shown=str(folder))


def _looks_like_path(text: str) -> bool:
    return "/" in text or "\\" in text or text.endswith(".toml")


def _files_at(path: Path) -> dict[str, str]:
    """Files of a rule set given by its path: a folder, or one rule file with its tables."""
    try:
        if path.is_dir():
            return _files_of(path, shown=str(path))
        if not path.is_file():
            raise RuleFileError(
                file=str(path),
                expected="a rule file, or a folder with a file rules.toml",
                given="no such file or folder",
            )
    except (OSError, ValueError) as problem:  # a name too long, or with a null in it
        raise _unreadable(str(path), problem) from None
    text = _text(path, shown=str(path))
    files = {RULES_FILE: text}
    for table in dict.fromkeys(_NAMED_TABLE.findall(text)):
        beside = path.parent / table
        if beside.is_file():
            files[table] = _text(beside, shown=str(beside))
    return files


def _files_of(folder: Traversable, *, shown: str) -> dict[str, str]:
    try:
        inside = sorted(folder.iterdir(), key=lambda one: one.name)
    except OSError as problem:
        raise _unreadable(shown, problem) from None
    return {
        one.name: _text(one, shown=f"{shown}/{one.name}")
        for one in inside
        if one.is_file() and (one.name == RULES_FILE or one.name.endswith(".csv"))
    }


def _text(file: Traversable, *, shown: str) -> str:
    try:
        data = file.read_bytes()
    except OSError as problem:
        raise _unreadable(shown, problem) from None
    if len(data) > MAX_BYTES:
        raise RuleFileError(
            file=shown,
            expected=f"a file of at most {MAX_BYTES // 1_000_000} MB",
            given=f"{len(data)} bytes",
        )
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = data.count(b"\n", 0, problem.start) + 1
        raise RuleFileError(
            file=shown,
            field=f"line {line}",
            expected="text saved as UTF-8",
            given=f"byte 0x{data[problem.start]:02x}",
        ) from None
    return text.replace("\r\n", "\n")


def _unreadable(shown: str, problem: Exception) -> RuleFileError:
    reason = problem.strerror if isinstance(problem, OSError) else None
    return RuleFileError(
        file=shown, expected="a file that can be read", given=reason or str(problem)
    )
