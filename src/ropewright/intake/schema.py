"""The published JSON Schema of case files, and the tables of keys in the manual."""

import json
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, Final

from pydantic import BaseModel

from ropewright.inspection import DAMAGE_WORDS, PART_WORDS, SET_UP_UNITS, SET_UP_WORDS
from ropewright.intake.case_model import SCHEMA, CaseModel
from ropewright.intake.columns import COLUMNS
from ropewright.intake.models import InstallationModel
from ropewright.intake.problems import kinds_of, models_in

SCHEMA_FILE: Final = "case-file.schema.json"
MANUAL_FILE: Final = "case-file.md"
BEGIN: Final = "<!-- keys: written by ropewright.intake.schema, do not edit below -->"
END: Final = "<!-- keys: end -->"
TITLE: Final = f"Case file, version {SCHEMA}"


def case_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of case files.

    It describes the tables after TOML has been read, with dates as text.  What it accepts may
    still be refused by the reader, which also knows units, the rope's length and its history.
    """
    made = CaseModel.model_json_schema(by_alias=True)
    schema: dict[str, Any] = _without_null(made)
    # The reader asks for the rules itself, so that it can say which are known.
    schema["$defs"]["InstallationModel"]["required"] = ["rules"]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **schema,
        "title": TITLE,
    }


def case_schema_text() -> str:
    """Return the JSON Schema as the text of its file."""
    return json.dumps(case_schema(), indent=2, ensure_ascii=False, sort_keys=True) + "\n"


def _without_null(node: Any) -> Any:  # noqa: ANN401  any JSON
    """TOML knows no null: a key is there or it is not."""
    if isinstance(node, list):
        return [_without_null(one) for one in node]
    if not isinstance(node, dict):
        return node
    plain = {
        key: _without_null(value)
        for key, value in node.items()
        if not (key == "default" and value is None)
        and not (key == "title" and isinstance(value, str))
    }
    if "anyOf" in plain:
        kept = [one for one in plain["anyOf"] if one != {"type": "null"}]
        if len(kept) == 1:
            del plain["anyOf"]
            plain = {**kept[0], **plain}
        else:
            plain["anyOf"] = kept
    return plain


def write_published(docs: Path) -> None:
    """Write the JSON Schema and the manual's tables of keys anew into the folder `docs`."""
    docs.joinpath(SCHEMA_FILE).write_text(case_schema_text(), encoding="utf-8")
    manual = docs / MANUAL_FILE
    manual.write_text(with_key_tables(manual.read_text(encoding="utf-8")), encoding="utf-8")


def with_key_tables(manual: str) -> str:
    """Return the text of the manual with its tables of keys put in anew."""
    head, begin, rest = manual.partition(BEGIN)
    _, end, tail = rest.partition(END)
    return f"{head}{begin}\n\n{key_tables()}\n{end}{tail}"


# --- The manual -------------------------------------------------------------------------------


def key_tables() -> str:
    """Return the reference part of the manual: every table with its keys, in Markdown."""
    parts = [part for path, model in _tables(CaseModel, "") for part in _one_table(path, model)]
    return "\n".join([*parts, *_words(), *_columns()]) + "\n"


def _tables(model: type[BaseModel], path: str) -> Iterator[tuple[str, type[BaseModel]]]:
    yield path, model
    for name, info in model.model_fields.items():
        key = info.alias or name
        inner = f"{path}.{key}" if path else key
        for one in models_in(info.annotation):
            yield from _tables(one, inner)


def _one_table(path: str, model: type[BaseModel]) -> Iterator[str]:
    kinds = kinds_of(model)
    heading = f"`{path}`" if path else "Top of the file"
    if path == "inspection.finding":
        heading += f" with kind {_listed(kinds)}"
    yield f"### {heading}"
    yield ""
    yield (model.__doc__ or "").strip().replace("``", "`")
    yield ""
    yield "| key | what | example |"
    yield "| --- | --- | --- |"
    schema = _without_null(model.model_json_schema(by_alias=True))
    own = [name for name in model.model_fields if name in model.__annotations__]
    for name in dict.fromkeys([*own, *model.model_fields]):
        info = model.model_fields[name]
        key = info.alias or name
        is_needed = info.is_required() or (model is InstallationModel and key == "rules")
        shown = f"**`{key}`**" if is_needed else f"`{key}`"
        what = (info.description or "").replace("|", "\\|")
        words = _choices(schema["properties"][key])
        examples = ", ".join(f"`{_toml(one)}`" for one in info.examples or ())
        yield f"| {shown} | {what}{words} | {examples} |"
    yield ""


def _choices(schema: dict[str, Any]) -> str:
    words = schema.get("enum")
    return "" if not words else f": {_listed(words)}"


def _toml(value: object) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(one)}" for key, one in value.items()) + " }"
    return json.dumps(value, ensure_ascii=False)


def _words() -> Iterator[str]:
    yield from ("### Words for damage", "", "| kind | forms | grades |", "| --- | --- | --- |")
    for kind, (forms, grades) in DAMAGE_WORDS.items():
        if forms or grades:
            yield f"| `{kind}` | {_listed(forms)} | {_listed(grades)} |"
    yield from ("", "### Words for parts", "", "| part | what may be wrong |", "| --- | --- |")
    for part, states in PART_WORDS.items():
        yield f"| `{part}` | {_listed(states)} |"
    yield from ("", "### Measures of the set-up", "", "| measure | unit or words |")
    yield "| --- | --- |"
    for measure, units in (*SET_UP_UNITS.items(), *SET_UP_WORDS.items()):
        yield f"| `{measure}` | {_listed(units)} |"
    yield ""


def _listed(words: Iterable[str]) -> str:
    return ", ".join(f"`{word}`" for word in words)


def _columns() -> Iterator[str]:
    yield "### Columns of a list of findings"
    yield ""
    yield "| column | holds | what |"
    yield "| --- | --- | --- |"
    for name, (kind, words) in COLUMNS.items():
        yield f"| `{name}` | {kind} | {words.replace('|', chr(92) + '|')} |"
