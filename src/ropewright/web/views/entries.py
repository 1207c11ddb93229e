"""An entry of the book as a line people can read."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from ropewright.desk.open_book import Line
from ropewright.web.catalogue import Catalogue
from ropewright.web.views.entry_words import Said, line_words

_LONGEST: Final = 160

#: What of an entry's content is said first, by kind; otherwise every plain field.
_SAID: Final[Mapping[str, tuple[str, ...]]] = {
    "page": ("title",),
    "crane": ("crane_id", "kind", "site"),
    "certificate": ("number", "maker", "standard"),
    "permission": ("rule_set", "permission", "reason"),
    "event": ("kind", "remark"),
    "hold": ("reason",),
    "re-spool": ("tension", "remark"),
    "lubrication": ("lubricant", "remark"),
    "re-zero": ("why", "remark"),
    "limit override": ("which", "reason"),
    "correction": ("reason",),
    "verdict accepted": ("level", "sentence", "remark"),
    "order": ("order_id", "construction", "length_m", "needed_by"),
    "order checked": ("order_id", "agrees", "remark"),
    "rope taken off": ("why", "went_to"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """An entry: when, what, who, in words."""

    line: Line
    words: str
    who: str


def told(line: Line, names: Mapping[str, str], texts: Catalogue) -> Told:
    """An entry in words.

    Parameters
    ----------
    line
        The entry.
    names
        Known persons by id.
    texts
        The words.
    """
    said = Said(names, texts)
    hands = [_hand(said.person(person), role) for person, role in line.by]
    return Told(line=line, words=said_words(line, names, texts), who=", ".join(hands))


def _hand(name: str, role: str) -> str:
    """A name with its role, which is not said twice."""
    said = name.casefold() == role.casefold() or name.casefold().endswith(f", {role.casefold()}")
    return name if said else f"{name} ({role})"


def said_words(line: Line, names: Mapping[str, str], texts: Catalogue) -> str:
    """What an entry says, in a few words."""
    said = Said(names, texts)
    data = dict(line.payload)
    if isinstance(data.get("what"), dict):
        data = {**data["what"], "inspection_id": data.get("inspection_id", "")}
    wanted, own = _SAID.get(line.kind), line_words(line.kind, data, said)
    if own is not None:
        words = own
    elif wanted is None:
        words = _plain(data, said)
    else:
        words = ", ".join(
            _word(name, data[name], said) for name in wanted if data.get(name) not in (None, "")
        )
    return words if len(words) <= _LONGEST else words[: _LONGEST - 1].rstrip() + "…"


def _word(name: str, value: Any, said: Said) -> str:  # noqa: ANN401 - plain data
    if isinstance(value, bool):
        return f"{name.replace('_', ' ')}: {said.flag(value)}"
    if name.endswith("_m"):
        return f"{value} m"
    if name.endswith(("_by", "_on")):
        return said.day(value)
    return _value(value, said)


def _value(value: Any, said: Said) -> str:  # noqa: ANN401 - plain data
    if isinstance(value, dict):
        if set(value) == {"person"}:
            return said.person(value["person"])
        return _plain(value, said)
    if isinstance(value, list):
        return "; ".join(_value(one, said) for one in value)
    if isinstance(value, bool):
        return said.flag(value)
    return str(value)


def _plain(data: Mapping[str, Any], said: Said) -> str:
    return ", ".join(
        _named(key, value, said) for key, value in data.items() if value not in (None, "", [], {})
    )


def _named(key: str, value: Any, said: Said) -> str:  # noqa: ANN401 - plain data
    """A field with its name, and its unit behind the value where the name ends in one."""
    name, _, unit = key.rpartition("_")
    if name and unit in ("m", "mm", "kn", "kg", "deg", "percent"):
        shown = {"kn": "kN", "deg": "°", "percent": "%"}.get(unit, unit)
        return f"{name.replace('_', ' ')} {_value(value, said)} {shown}"
    return f"{key.replace('_', ' ')} {_value(value, said)}"


def rows_of(
    data: Mapping[str, Any], names: Mapping[str, str], texts: Catalogue
) -> list[tuple[str, str]]:
    """Everything an entry says as pairs of field and value, nothing left out."""
    return _rows(data, Said(names, texts), "")


def _rows(data: Mapping[str, Any], said: Said, head: str) -> list[tuple[str, str]]:
    rows: list[tuple[str, str]] = []
    for key, value in data.items():
        name = f"{head}{key.replace('_', ' ')}"
        if isinstance(value, dict) and set(value) != {"person"}:
            rows.extend(_rows(value, said, f"{name} · "))
        elif isinstance(value, list) and any(isinstance(one, dict) for one in value):
            for number, one in enumerate(value, start=1):
                if isinstance(one, dict):
                    rows.extend(_rows(one, said, f"{name} {number} · "))
                else:
                    rows.append((f"{name} {number}", _value(one, said)))
        else:
            rows.append((name, _value(value, said)))
    return rows
