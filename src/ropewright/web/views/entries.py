"""An entry of the book as a line people can read."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from ropewright.desk.open_book import Line

_LONGEST: Final = 160

#: What of an entry's content is said first, by kind; otherwise every plain field.
_SAID: Final[Mapping[str, tuple[str, ...]]] = {
    "event": ("kind", "remark"),
    "hold": ("reason",),
    "release": ("of",),
    "cut": ("end", "length_m"),
    "re-termination": ("end", "fitting", "remark"),
    "re-spool": ("tension", "remark"),
    "lubrication": ("lubricant", "remark"),
    "re-zero": ("why", "remark"),
    "limit override": ("which", "reason"),
    "inspection begun": ("kind", "inspection_id"),
    "inspection finished": ("inspection_id", "next_by", "remark"),
    "inspection signed": ("inspection_id",),
    "correction": ("reason",),
    "verdict accepted": ("level", "sentence", "remark"),
    "order": ("order_id", "construction", "length_m", "needed_by"),
    "order checked": ("order_id", "agrees", "remark"),
    "rope taken off": ("why", "went_to"),
}

#: What is said with the names of its fields, where the values alone would not be understood.
_NAMED: Final[Mapping[str, tuple[str, ...]]] = {
    "page": ("title",),
    "crane": ("crane_id", "kind", "site"),
    "installation": ("hoist", "fitted_on", "rules"),
    "rigging": ("falls", "hook_low_m", "hook_high_m", "drum_layers", "remark"),
    "certificate": ("number", "maker", "standard"),
    "reference measurement": ("on", "tension"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """An entry: when, what, who, in words."""

    line: Line
    words: str
    who: str


def told(line: Line, names: Mapping[str, str]) -> Told:
    """An entry in words.

    Parameters
    ----------
    line
        The entry.
    names
        Known persons by id.
    """
    hands = [f"{names.get(person, 'a person')} ({role})" for person, role in line.by]
    return Told(line=line, words=said_words(line, names), who=", ".join(hands))


def said_words(line: Line, names: Mapping[str, str]) -> str:
    """What an entry says, in a few words."""
    data = dict(line.payload)
    if isinstance(data.get("what"), dict):
        data = {**data["what"], "inspection_id": data.get("inspection_id", "")}
    wanted = _SAID.get(line.kind)
    if line.kind in _NAMED:
        words = _plain({key: data[key] for key in _NAMED[line.kind] if key in data}, names)
    elif wanted is None:
        words = _plain(data, names)
    else:
        words = ", ".join(
            _word(name, data[name], names) for name in wanted if data.get(name) not in (None, "")
        )
    return words if len(words) <= _LONGEST else words[: _LONGEST - 1].rstrip() + "…"


def _word(name: str, value: Any, names: Mapping[str, str]) -> str:  # noqa: ANN401 - plain data
    if isinstance(value, bool):
        return f"{name.replace('_', ' ')}: {'yes' if value else 'no'}"
    if name.endswith("_m"):
        return f"{value} m"
    return _value(value, names)


def _value(value: Any, names: Mapping[str, str]) -> str:  # noqa: ANN401 - plain data
    if isinstance(value, dict):
        if set(value) == {"person"}:
            return names.get(value["person"], "a person")
        return _plain(value, names)
    if isinstance(value, list):
        return "; ".join(_value(one, names) for one in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value)


def _plain(data: Mapping[str, Any], names: Mapping[str, str]) -> str:
    return ", ".join(
        _named(key, value, names) for key, value in data.items() if value not in (None, "", [], {})
    )


def _named(key: str, value: Any, names: Mapping[str, str]) -> str:  # noqa: ANN401 - plain data
    """A field with its name, and its unit behind the value where the name ends in one."""
    name, _, unit = key.rpartition("_")
    if name and unit in ("m", "mm", "kn", "kg", "deg", "percent"):
        shown = {"kn": "kN", "deg": "°", "percent": "%"}.get(unit, unit)
        return f"{name.replace('_', ' ')} {_value(value, names)} {shown}"
    return f"{key.replace('_', ' ')} {_value(value, names)}"


def rows_of(
    data: Mapping[str, Any], names: Mapping[str, str], head: str = ""
) -> list[tuple[str, str]]:
    """Everything an entry says as pairs of field and value, nothing left out."""
    rows: list[tuple[str, str]] = []
    for key, value in data.items():
        name = f"{head}{key.replace('_', ' ')}"
        if isinstance(value, dict) and set(value) != {"person"}:
            rows.extend(rows_of(value, names, f"{name} · "))
        elif isinstance(value, list) and any(isinstance(one, dict) for one in value):
            for number, one in enumerate(value, start=1):
                if isinstance(one, dict):
                    rows.extend(rows_of(one, names, f"{name} {number} · "))
                else:
                    rows.append((f"{name} {number}", _value(one, names)))
        else:
            rows.append((name, _value(value, names)))
    return rows
