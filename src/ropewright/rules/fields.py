"""Strict reading of one table of a rule file: every key is asked for, none is left over."""

import difflib
import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from fractions import Fraction
from typing import Any, Final, TypeVar, cast

from ropewright.errors import RuleFileError

_PERCENT: Final = re.compile(r"(\d{1,3}(?:\.\d{1,6})?) %", re.ASCII)
_DECIMAL: Final = re.compile(r"\d{1,9}(?:\.\d{1,9})?", re.ASCII)
_RATIO: Final = re.compile(r"(\d{1,6})/([1-9]\d{0,5})", re.ASCII)
_MISSING: Final = object()

Choice = TypeVar("Choice", bound=str)


class Fields:
    """The keys of one table, handed out once each; ``done`` refuses what nobody asked for."""

    def __init__(self, data: Mapping[str, Any], *, path: str, file: str) -> None:
        self._data = data
        self._path = path
        self._file = file
        self._asked: list[str] = []

    def error(self, key: str, *, expected: str, given: object) -> RuleFileError:
        """A rule file error for one key of this table."""
        return RuleFileError(
            field=f"{self._path}.{key}" if self._path else key,
            expected=expected,
            given=given,
            file=self._file,
        )

    def _take(self, key: str, default: object) -> object:
        self._asked.append(key)
        if key in self._data:
            return self._data[key]
        if default is _MISSING:
            raise self.error(key, expected=f"the key '{key}'", given="nothing")
        return default

    def has(self, key: str) -> bool:
        """Whether a key is given."""
        return key in self._data

    def text(self, key: str, default: str | None = None) -> str:
        """A text that is not empty; with a default, the key may be absent."""
        value = self._take(key, _MISSING if default is None else default)
        if not isinstance(value, str) or (not value.strip() and default is None):
            raise self.error(key, expected="a text", given=value)
        return value

    def text_or_none(self, key: str) -> str | None:
        """A text that is not empty, or nothing when the key is absent."""
        return self.text(key) if self._asked_and_present(key) else None

    def choice(self, key: str, allowed: Sequence[Choice], default: Choice | None = None) -> Choice:
        """One of a list of words."""
        value = self._take(key, _MISSING if default is None else default)
        if value not in allowed:
            raise self.error(key, expected=f"one of {', '.join(allowed)}", given=value)
        return cast(Choice, value)

    def choice_or_none(self, key: str, allowed: Sequence[Choice]) -> Choice | None:
        """One of a list of words, or nothing when the key is absent."""
        return self.choice(key, allowed) if self._asked_and_present(key) else None

    def _asked_and_present(self, key: str) -> bool:
        if key in self._data:
            return True
        self._asked.append(key)
        return False

    def words(
        self, key: str, allowed: Sequence[Choice] | None = None, *, optional: bool = False
    ) -> tuple[Choice, ...]:
        """A list of texts, each one of ``allowed`` if that is given."""
        value = self._take(key, () if optional else _MISSING)
        if not isinstance(value, list | tuple) or (not value and not optional):
            raise self.error(key, expected="a list of texts", given=value)
        for one in value:
            if not isinstance(one, str) or (allowed is not None and one not in allowed):
                expected = "texts" if allowed is None else f"each one of {', '.join(allowed)}"
                raise self.error(key, expected=expected, given=one)
        return tuple(cast(Sequence[Choice], value))

    def whole(self, key: str, *, least: int, default: int | None = None) -> int:
        """A whole number of at least ``least``."""
        value = self._take(key, _MISSING if default is None else default)
        if isinstance(value, bool) or not isinstance(value, int) or value < least:
            raise self.error(key, expected=f"a whole number of at least {least}", given=value)
        return value

    def whole_or_none(self, key: str, *, least: int) -> int | None:
        """A whole number, or nothing when the key is absent."""
        return self.whole(key, least=least) if self._asked_and_present(key) else None

    def flag(self, key: str, *, default: bool) -> bool:
        """True or false."""
        value = self._take(key, default)
        if not isinstance(value, bool):
            raise self.error(key, expected="true or false", given=value)
        return value

    def flag_or_none(self, key: str) -> bool | None:
        """True or false, or nothing when the key is absent."""
        return self.flag(key, default=False) if self._asked_and_present(key) else None

    def exact(self, key: str) -> Fraction:
        """An exact number [-]: a whole number, or text such as ``"0.5"`` or ``"1/3"``."""
        value = self._take(key, _MISSING)
        if isinstance(value, int) and not isinstance(value, bool) and value >= 0:
            return Fraction(value)
        if isinstance(value, str):
            ratio = _RATIO.fullmatch(value)
            if ratio:
                return Fraction(int(ratio[1]), int(ratio[2]))
            if _DECIMAL.fullmatch(value):
                return Fraction(value)
        raise self.error(key, expected='a whole number, or text like "0.5" or "1/3"', given=value)

    def exact_or_none(self, key: str) -> Fraction | None:
        """An exact number [-], or nothing when the key is absent."""
        return self.exact(key) if self._asked_and_present(key) else None

    def percent(self, key: str) -> Fraction:
        """A percentage typed as text such as ``"7.5 %"`` [%]."""
        value = self._take(key, _MISSING)
        match = _PERCENT.fullmatch(value) if isinstance(value, str) else None
        if match is None:
            raise self.error(key, expected='a percentage as text like "7.5 %"', given=value)
        return Fraction(match[1])

    def percent_or_none(self, key: str) -> Fraction | None:
        """A percentage [%], or nothing when the key is absent."""
        return self.percent(key) if self._asked_and_present(key) else None

    def day_or_none(self, key: str) -> date | None:
        """A date, or nothing when the key is absent."""
        if not self._asked_and_present(key):
            return None
        value = self._take(key, _MISSING)
        if not isinstance(value, date) or isinstance(value, datetime):
            raise self.error(key, expected="a date like 2017-10-01", given=value)
        return value

    def table_or_none(self, key: str) -> "Fields | None":
        """A nested table, or nothing when the key is absent."""
        if not self._asked_and_present(key):
            return None
        value = self._take(key, _MISSING)
        if not isinstance(value, dict):
            raise self.error(key, expected="a table", given=value)
        return Fields(value, path=f"{self._path}.{key}".lstrip("."), file=self._file)

    def tables(self, key: str) -> list["Fields"]:
        """A list of nested tables; an absent key is an empty list."""
        value = self._take(key, ())
        if not isinstance(value, list | tuple) or any(not isinstance(one, dict) for one in value):
            raise self.error(key, expected=f"tables, each begun with [[{key}]]", given=value)
        return [
            Fields(one, path=f"{self._path}.{key}[{number}]".lstrip("."), file=self._file)
            for number, one in enumerate(value, start=1)
        ]

    def keys(self) -> tuple[str, ...]:
        """All keys that are given."""
        return tuple(self._data)

    def done(self) -> None:
        """Refuse keys that nobody asked for.

        Raises
        ------
        RuleFileError
            Naming the key, the nearest allowed ones and all allowed ones.
        """
        for key in self._data:
            if key not in self._asked:
                allowed = sorted(set(self._asked))
                near = difflib.get_close_matches(key, allowed, n=1)
                raise RuleFileError(
                    field=f"{self._path}.{key}" if self._path else key,
                    expected=f"one of the keys {', '.join(allowed)}",
                    given=f"the unknown key '{key}'",
                    file=self._file,
                    hint=f"did you mean '{near[0]}'?" if near else None,
                )
