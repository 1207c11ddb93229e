"""What a model refused, said as a case file error: which field, what is expected, what was given.

Paths count from 1, as a person counts the ``[[inspection]]`` blocks of a file from its top.
"""

from collections.abc import Mapping, Sequence
from typing import Any, Final, Literal, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo
from pydantic_core import ErrorDetails

from ropewright.errors import CaseFileError, InputError
from ropewright.intake.wording import as_case_error, near, one_of, quoted

Path = tuple[str | int, ...]

MAX_PROBLEMS: Final = 200
"""So many refusals are put into words; a file with more is hardly a case file."""

_PLAIN: Final = {
    "string_type": 'text in quotes, such as "…"',
    "int_type": "a whole number without quotes",
    "int_from_float": "a whole number",
    "int_parsing": "a whole number",
    "int_parsing_size": "a whole number of reasonable size",
    "float_type": "a number without quotes",
    "finite_number": "a finite number",
    "bool_type": "true or false, without quotes",
    "date_type": "a date such as 2026-11-09, without quotes",
    "date_from_datetime_inexact": "a date such as 2026-11-09, without a time",
    "list_type": "a list in square brackets [ ]",
    "model_type": "a table of keys",
    "model_attributes_type": "a table of keys",
    "dict_type": "a table of keys",
    "string_too_short": "text that is not empty",
}


def dotted(path: Path) -> str:
    """A path as the reader of a TOML file would write it, counting from 1."""
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            text += f".{part}" if text else part
    return text


def problems_of(error: ValidationError, root: type[BaseModel], data: object) -> list[InputError]:
    """Every refusal of a model as a case file error with its path in the file.

    Parameters
    ----------
    error
        What the model raised.
    root
        The model that was asked.
    data
        What it was asked about.
    """
    items = error.errors(include_url=False)[:MAX_PROBLEMS]
    misspelt = {loc for item in items for loc in _meant(item, items, root, data)}
    return [_problem(item, root, data) for item in items if item["loc"] not in misspelt]


def _meant(
    item: ErrorDetails, items: Sequence[ErrorDetails], root: type[BaseModel], data: object
) -> list[Path]:
    """Locations of missing keys that an unknown key of the same table stands for."""
    if item["type"] != "extra_forbidden":
        return []
    owner = _model_at(item["loc"][:-1], root, data)
    close = [] if owner is None else near(keys_of(owner), item["loc"][-1])
    return [
        other["loc"]
        for other in items
        if other["type"] == "missing"
        and other["loc"][:-1] == item["loc"][:-1]
        and other["loc"][-1] in close
    ]


def _problem(item: ErrorDetails, root: type[BaseModel], data: object) -> InputError:
    kind = item["type"]
    context = item.get("ctx", {})
    path = without_tags(item["loc"], data)
    given = item["input"]
    field = dotted(path)
    inner = context.get("error")
    if kind == "ropewright" and isinstance(inner, InputError):
        return as_case_error(inner, field)
    if kind == "missing":
        return _missing(path, item["loc"], root, data)
    if kind == "extra_forbidden":
        return _unknown_key(path, item["loc"], root, data)
    if kind == "literal_error":
        words = _literals(item, root, data)
        if words == ["True"]:
            return CaseFileError(field=field, expected="true, or no such key", given=given)
        return _not_a_choice(field, words, given)
    if kind == "union_tag_not_found":
        model_names = _tags(item["loc"], root, data)
        return CaseFileError(
            field=f"{field}.kind", expected=f"one of {quoted(model_names)}", given=None
        )
    if kind == "union_tag_invalid":
        tag = given.get("kind") if isinstance(given, Mapping) else given
        return _not_a_choice(f"{field}.kind", _tags(item["loc"], root, data), tag)
    expected, hint = _plain(kind, context, path, given)
    if expected is None:
        return CaseFileError(item["msg"], field=field, given=given)
    return CaseFileError(field=field, expected=expected, given=given, hint=hint)


def _not_a_choice(field: str, names: Sequence[str], given: object) -> CaseFileError:
    expected, hint = one_of(names, given)
    return CaseFileError(field=field, expected=expected, given=given, hint=hint)


def _plain(
    kind: str, context: Mapping[str, Any], path: Path, given: object
) -> tuple[str | None, str | None]:
    if kind in ("list_type", "model_type", "model_attributes_type"):
        return _brackets(kind, path, given)
    if kind in _PLAIN:
        return _PLAIN[kind], None
    bounds = {
        "greater_than_equal": ("ge", "at least {}"),
        "greater_than": ("gt", "more than {}"),
        "less_than_equal": ("le", "at most {}"),
        "string_too_long": ("max_length", "at most {} characters"),
        "too_long": ("max_length", "at most {} of them"),
        "too_short": ("min_length", "at least {} of them"),
    }
    if kind in bounds:
        key, words = bounds[kind]
        return words.format(context[key]), None
    return None, None


def _brackets(kind: str, path: Path, given: object) -> tuple[str, str | None]:
    """A table where a list of tables stands, or the other way round: a matter of brackets."""
    names = ".".join(str(part) for part in path if isinstance(part, str))
    if kind == "list_type" and isinstance(given, dict):
        return f"double brackets: [[{names}]]", None
    if kind != "list_type" and isinstance(given, list):
        return f"single brackets, once: [{names}]", None
    return _PLAIN[kind], None


# --- Walking the models along a path ----------------------------------------------------------


def without_tags(loc: Path, data: object) -> Path:
    """A location without the names of union members, which are no part of the file."""
    path: list[str | int] = []
    for part in loc:
        if isinstance(part, str) and isinstance(data, Mapping) and data.get("kind") == part:
            continue  # the tag of a union, not a key
        path.append(part)
        if isinstance(part, int):
            data = data[part] if isinstance(data, list) and part < len(data) else None
        else:
            data = data.get(part) if isinstance(data, Mapping) else None
    return tuple(path)


def _field_at(loc: Path, root: type[BaseModel], data: object) -> FieldInfo | None:
    owner = _model_at(loc[:-1], root, data)
    if owner is None or not loc:
        return None
    for name, info in owner.model_fields.items():
        if (info.alias or name) == loc[-1]:
            return info
    return None


def _model_at(loc: Path, root: type[BaseModel], data: object) -> type[BaseModel] | None:
    """The model that a location lies in."""
    current: type[BaseModel] | None = root
    for part in without_tags(loc, data):
        if isinstance(part, int):
            data = data[part] if isinstance(data, list) and part < len(data) else None
            continue
        data = data.get(part) if isinstance(data, Mapping) else None
        if current is None:
            return None
        current = _model_in(_annotation(current, part), loc)
    return current


def _annotation(model: type[BaseModel], key: str) -> object:
    for name, info in model.model_fields.items():
        if (info.alias or name) == key:
            return info.annotation
    return None


def models_in(annotation: object) -> list[type[BaseModel]]:
    """The models behind an annotation: one, the members of a union, or none."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    return [model for arg in get_args(annotation) for model in models_in(arg)]


def _model_in(annotation: object, loc: Path) -> type[BaseModel] | None:
    """The model behind an annotation; in a union, the one whose tag stands in the location."""
    models = models_in(annotation)
    for model in models:
        if len(models) == 1 or any(part in kinds_of(model) for part in loc):
            return model
    return None


def kinds_of(model: type[BaseModel]) -> tuple[str, ...]:
    """The words that ``kind`` may have in one member of a union."""
    info = model.model_fields.get("kind")
    return tuple(_words(info.annotation)) if info is not None else ()


def _words(annotation: object) -> list[str]:
    if get_origin(annotation) is Literal:
        return [str(word) for word in get_args(annotation)]
    return [word for arg in get_args(annotation) for word in _words(arg)]


def _literals(item: ErrorDetails, root: type[BaseModel], data: object) -> list[str]:
    loc = item["loc"]
    while loc and isinstance(loc[-1], int):
        loc = loc[:-1]
    info = _field_at(loc, root, data)
    return _words(info.annotation) if info is not None else []


def _tags(loc: Path, root: type[BaseModel], data: object) -> list[str]:
    while loc and isinstance(loc[-1], int):
        loc = loc[:-1]
    info = _field_at(loc, root, data)
    models = models_in(info.annotation) if info is not None else []
    return [word for model in models for word in kinds_of(model)]


def _missing(path: Path, loc: Path, root: type[BaseModel], data: object) -> CaseFileError:
    info = _field_at(loc, root, data)
    words = info.description if info is not None and info.description else "this key"
    return CaseFileError(field=dotted(path), expected=words, given=None)


def _unknown_key(path: Path, loc: Path, root: type[BaseModel], data: object) -> CaseFileError:
    key = str(path[-1])
    owner = _model_at(loc[:-1], root, data)
    known = [] if owner is None else keys_of(owner)
    close = near(known, key)
    elsewhere = [] if close else _tables_with(key, root)
    hint = f'"{key}" is a key of {" and of ".join(elsewhere[:3])}' if elsewhere else None
    if close:
        expected = f"a known key, near ones are {quoted(close)}"
    elif elsewhere:
        expected = "a key that belongs to this table"
    else:
        expected = f"one of the keys {', '.join(known)}"
    return CaseFileError("unknown key", field=dotted(path), expected=expected, given=key, hint=hint)


def keys_of(model: type[BaseModel]) -> list[str]:
    """The keys of a model as they stand in the file."""
    return [info.alias or name for name, info in model.model_fields.items()]


def _tables_with(key: str, root: type[BaseModel], path: str = "") -> list[str]:
    """Headers of the tables in which a key may stand."""
    found: list[str] = []
    for name, info in root.model_fields.items():
        own = info.alias or name
        if own == key:
            found.append(f"[{path}]" if path else "the top of the file")
        inner = f"{path}.{own}" if path else own
        for model in models_in(info.annotation):
            found.extend(_tables_with(key, model, inner))
    return list(dict.fromkeys(found))
