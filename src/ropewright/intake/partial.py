"""A case file without its malformed entries, so that the rest can be checked in the same run.

What is left out must not make the rest look wrong: the whole entry of a list goes, never a
single key that something else may need, and numbers in paths stay those of the file.
"""

import re
from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from typing import Any, Final, TypeAlias

from ropewright.intake.problems import dotted, without_tags

Spot: TypeAlias = tuple[int | str, ...]

#: Tables whose unknown or malformed keys can go without anything else missing them.
_LOOSE: Final = re.compile(r"(crane\.\w+|[^.\[\]]+|inspection\[\d+\]\.[^.\[\]]+)")
_PART: Final = re.compile(r"([^.\[\]]+)|\[(\d+)\]")


@dataclass(slots=True)
class Remainder:
    """What is left of a case file, and which entries of which lists are gone."""

    tables: dict[str, Any]
    gone: dict[str, list[int]] = field(default_factory=dict)

    def original(self, path: str) -> str:
        """The path in the file of a path in what is left of it."""
        told = ""
        for match in _PART.finditer(path):
            if match[1] is not None:
                told += f".{match[1]}" if told else match[1]
                continue
            number = int(match[2])
            for removed in self.gone.get(told, ()):
                number += removed <= number
            told += f"[{number}]"
        return told


def without_malformed(
    tables: dict[str, Any], spots: Sequence[tuple[Spot, bool]]
) -> Remainder | None:
    """Leave out the entries of lists in which something is malformed.

    Parameters
    ----------
    tables
        The case file as read.
    spots
        Where something is wrong, as the models say it, and whether it is an unknown key.

    Returns
    -------
    Remainder or None
        ``None`` if something is wrong that no entry of a list holds.
    """
    rest = Remainder(deepcopy(tables))
    keys: set[Spot] = set()
    entries: set[Spot] = set()
    for loc, is_unknown_key in spots:
        path = without_tags(loc, tables)
        loose = _LOOSE.fullmatch(dotted(path)) is not None
        if loose and (is_unknown_key or path[0] == "crane"):
            keys.add(path)
            continue
        numbers = [place for place, part in enumerate(path) if isinstance(part, int)]
        if not numbers:
            return None
        entries.add(path[: numbers[-1] + 1])
    # From the end, so that the numbers of what is still to go stay true.
    for path in sorted(keys | entries, key=_order, reverse=True):
        holder = _reach(rest.tables, path[:-1])
        last = path[-1]
        if not _has(holder, last):
            continue
        del holder[last]
        if isinstance(last, int):
            rest.gone.setdefault(dotted(path[:-1]), []).append(last + 1)
    for removed in rest.gone.values():
        removed.sort()
    return rest


def _order(path: Spot) -> tuple[tuple[int, str], ...]:
    return tuple((part, "") if isinstance(part, int) else (-1, part) for part in path)


def _reach(tables: dict[str, Any], path: Spot) -> Any:  # noqa: ANN401  what TOML holds
    node: Any = tables
    for part in path:
        if not _has(node, part):
            return None
        node = node[part]
    return node


def _has(node: object, part: int | str) -> bool:
    if isinstance(node, list):
        return isinstance(part, int) and part < len(node)
    return isinstance(node, dict) and part in node
