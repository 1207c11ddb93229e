"""Strict loader of rule sets: text of the files in, one frozen rule set out."""

import hashlib
import re
import tomllib
from collections.abc import Mapping
from typing import Any, Final

from ropewright.errors import RuleFileError
from ropewright.inspection import EVENT_KINDS, INSPECTION_KINDS, MECHANISM_CLASSES
from ropewright.rules.fields import Fields
from ropewright.rules.load_checks import CHECKS, read_check, read_when
from ropewright.rules.model import Clause, Duty, PermissionRule, RuleSet, Source
from ropewright.rules.ruling import LEVELS, PROVENANCES
from ropewright.rules.tables import Table, read_table

RULES_FILE: Final = "rules.toml"
_AT_LINE: Final = re.compile(r"\(at line (\d+), column \d+\)")
_ID: Final = "small letters, digits, dots and hyphens"
_REMEDIES: Final = (
    "replace the rope", "cut the damaged part out", "shorten and re-make the end",
    "re-make the end", "re-spool under tension", "inspect again", "inspect closer",
    "open the rope and look inside", "find the cause", "clean and inspect",
    "repair or replace the part", "keep out of service", "watch at every inspection",
    "measure", "lubricate", "put the set-up right", "have the rope tested",
)  # fmt: skip


def load_rule_set(files: Mapping[str, str], *, name: str) -> RuleSet:
    """Build a rule set from the text of its files.

    Parameters
    ----------
    files : mapping of str to str
        File name to text; ``rules.toml`` and the tables it names.
    name : str
        Folder or file name shown in messages.

    Raises
    ------
    RuleFileError, TableError
        Naming file, key, what is expected and what was given.
    """
    if RULES_FILE not in files:
        raise RuleFileError(
            field=RULES_FILE, expected=f"a file {RULES_FILE}", given=sorted(files), file=name
        )
    is_file = name.endswith(".toml")
    shown = name if is_file else f"{name}/{RULES_FILE}"
    beside = name[: name.rfind("/") + 1] if is_file else f"{name}/"
    head = Fields(_toml(files[RULES_FILE], file=shown), path="", file=shown)
    schema = head.whole("schema", least=1)
    if schema != 1:
        raise head.error("schema", expected="1", given=schema)
    tables = {
        table_name: read_table(text, file=f"{beside}{table_name}")
        for table_name, text in sorted(files.items())
        if table_name.endswith(".csv")
    }
    rule_set_id = _identifier(head, "id")
    sources = tuple(_source(fields) for fields in head.tables("source"))
    known = _unique(head, "source", [source.source_id for source in sources])
    used: set[str] = set()
    clauses = tuple(_clause(f, known, tables, used) for f in head.tables("clause"))
    _unique(head, "clause", [clause.clause_id for clause in clauses])
    permissions = tuple(_permission(f, known) for f in head.tables("permission"))
    _unique(head, "permission", [one.permission_id for one in permissions])
    duties = tuple(_duty(f, known) for f in head.tables("duty"))
    _unique(head, "duty", [duty.duty_id for duty in duties])
    rule_set = RuleSet(
        rule_set_id=rule_set_id,
        title=head.text("title"),
        short=head.text("short"),
        edition=head.text("edition"),
        in_force_from=head.day_or_none("in_force_from"),
        in_force_to=head.day_or_none("in_force_to"),
        notice=head.text("notice", default=""),
        template=head.flag("template", default=False),
        rules_hash=rules_hash(files),
        sources=sources,
        clauses=clauses,
        permissions=permissions,
        duties=duties,
        tables=tables,
    )
    head.done()
    if not clauses and not duties:
        raise head.error("clause", expected="at least one clause or duty", given="none")
    for table_name in tables:
        if table_name not in used:
            raise RuleFileError(
                field=table_name,
                expected="every table to be read by a clause",
                given="a table that no clause names",
                file=name,
            )
    _permissions_exist(head, clauses, permissions)
    return rule_set


def _toml(text: str, *, file: str) -> dict[str, Any]:
    """Tables of a rule file; a key written twice is named."""
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise RuleFileError(
            field="file", expected="a few levels of brackets", given="far too many", file=file
        ) from None
    except ValueError as problem:
        says = str(problem)
        found = _AT_LINE.search(says)
        line = int(found[1]) if found else text.count("\n") + 1
        row = text.splitlines()[line - 1].strip() if text.strip() else ""
        twice = says.startswith(("Cannot overwrite", "Cannot declare", "Cannot mutate"))
        name = row.split("=")[0].strip(" []")
        raise RuleFileError(
            None if twice else f"not readable as TOML: {says}",
            field=f"line {line}",
            expected=f"'{name}' once" if twice else "TOML, every key once",
            given=f"'{name}' again" if twice else row,
            file=file,
        ) from problem


def rules_hash(files: Mapping[str, str]) -> str:
    """SHA-256 over the names and texts of all files of a rule set, as hex digits."""
    digest = hashlib.sha256()
    for file_name in sorted(files):
        for part in (file_name, files[file_name]):
            data = part.encode()
            digest.update(len(data).to_bytes(8, "big"))
            digest.update(data)
    return digest.hexdigest()


def _identifier(fields: Fields, key: str) -> str:
    value = fields.text(key)
    if not all(c in "-." or "0" <= c <= "9" or "a" <= c <= "z" for c in value):
        raise fields.error(key, expected=_ID, given=value)
    return value


def _unique(head: Fields, key: str, ids: list[str]) -> frozenset[str]:
    for one in ids:
        if ids.count(one) > 1:
            raise head.error(f"{key}.id", expected=f"every {key} to have its own id", given=one)
    return frozenset(ids)


def _source(fields: Fields) -> Source:
    source = Source(
        source_id=_identifier(fields, "id"),
        what=fields.text("what"),
        provenance=fields.choice("provenance", PROVENANCES),
    )
    fields.done()
    return source


def _known_source(fields: Fields, known: frozenset[str]) -> str:
    source = fields.text("source")
    if source not in known:
        raise fields.error(
            "source", expected=f"one of the sources {', '.join(sorted(known))}", given=source
        )
    return source


def _clause(
    fields: Fields, known: frozenset[str], tables: Mapping[str, Table], used: set[str]
) -> Clause:
    kind = fields.choice("check", tuple(CHECKS))
    clause = Clause(
        clause_id=_identifier(fields, "id"),
        title=fields.text("title"),
        clause=fields.text("clause"),
        clause_provenance=fields.choice("clause_provenance", PROVENANCES),
        provenance=fields.choice("provenance", PROVENANCES),
        source=_known_source(fields, known),
        demand=fields.choice("demand", LEVELS),
        remedy=fields.words("remedy", _REMEDIES),
        who=fields.text("who"),
        by_when=fields.text("by_when"),
        when=read_when(fields.table_or_none("when")),
        at=fields.words("at", INSPECTION_KINDS, optional=True),
        needed_at=fields.words("needed_at", INSPECTION_KINDS, optional=True),
        in_force_from=fields.day_or_none("in_force_from"),
        in_force_to=fields.day_or_none("in_force_to"),
        note=fields.text("note", default=""),
        check=read_check(kind, fields, tables, used),
    )
    fields.done()
    return clause


def _permission(fields: Fields, known: frozenset[str]) -> PermissionRule:
    permission = PermissionRule(
        permission_id=_identifier(fields, "id"),
        title=fields.text("title"),
        clause=fields.text("clause"),
        clause_provenance=fields.choice("clause_provenance", PROVENANCES),
        provenance=fields.choice("provenance", PROVENANCES),
        source=_known_source(fields, known),
        factor=fields.exact("factor"),
        mechanism_classes=fields.words("mechanism_classes", MECHANISM_CLASSES),
        note=fields.text("note", default=""),
    )
    fields.done()
    return permission


def _duty(fields: Fields, known: frozenset[str]) -> Duty:
    duty = Duty(
        duty_id=_identifier(fields, "id"),
        kind=fields.choice("kind", INSPECTION_KINDS),
        title=fields.text("title"),
        who=fields.text("who"),
        every=fields.text("every"),
        record=fields.text("record"),
        keep=fields.text("keep"),
        clause=fields.text("clause"),
        clause_provenance=fields.choice("clause_provenance", PROVENANCES),
        provenance=fields.choice("provenance", PROVENANCES),
        source=_known_source(fields, known),
        months=fields.whole_or_none("months", least=1),
        days=fields.whole_or_none("days", least=1),
        keep_months=fields.whole_or_none("keep_months", least=1),
        kinds=fields.words("kinds", INSPECTION_KINDS, optional=True),
        after=fields.words("after", EVENT_KINDS, optional=True),
        when=read_when(fields.table_or_none("when")),
    )
    if duty.months is not None and duty.days is not None:
        raise fields.error("days", expected="months or days, not both", given=duty.days)
    fields.done()
    return duty


def _permissions_exist(
    head: Fields, clauses: tuple[Clause, ...], permissions: tuple[PermissionRule, ...]
) -> None:
    known = {one.permission_id for one in permissions}
    for clause in clauses:
        for column in getattr(clause.check, "columns", ()):
            if column.doubled_by is not None and column.doubled_by not in known:
                raise head.error(
                    f"clause {clause.clause_id}.columns.doubled_by",
                    expected=f"one of the permissions {', '.join(sorted(known)) or '(none)'}",
                    given=column.doubled_by,
                )
