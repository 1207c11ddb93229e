"""Reading the part of a clause that says what is checked."""

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Final, get_args

from ropewright.errors import TableError
from ropewright.inspection import (
    BREAK_SITES,
    DAMAGE_WORDS,
    EVENT_KINDS,
    INSPECTION_KINDS,
    ITEMS,
    MECHANISM_CLASSES,
    METHODS,
    PART_WORDS,
)
from ropewright.inspection.findings import Method
from ropewright.rules import model
from ropewright.rules.fields import Fields
from ropewright.rules.load_more_checks import MORE_CHECKS
from ropewright.rules.reading import named_table, one_of, parse_window, read_window
from ropewright.rules.ruling import Comparison
from ropewright.rules.tables import Table, check_cells

__all__ = ["CHECKS", "FULL_RATING", "Reader", "parse_window", "read_check", "read_when"]

FULL_RATING: Final = Fraction(100)
"""Rating of a reached criterion toward discard [%]."""
_COMPARE: Final = get_args(Comparison)
_SHARES: Final[tuple[model.ShareOf, ...]] = get_args(model.ShareOf)
_BASELINES: Final[tuple[model.Baseline, ...]] = get_args(model.Baseline)
_CORES: Final = ("fibre", "steel", "parallel-closed", "plastic-coated steel")

Reader = Callable[[Fields, Mapping[str, Table], set[str]], model.Check]


def read_when(fields: Fields | None) -> model.When:
    """Read the conditions of a clause or column."""
    if fields is None:
        return model.When()
    when = model.When(
        rotation_resistant=fields.flag_or_none("rotation_resistant"),
        constructions=fields.words("constructions", optional=True),
        mechanism=fields.words("mechanism", MECHANISM_CLASSES, optional=True),
        diameter_over_mm=fields.exact_or_none("diameter_over_mm"),
        diameter_up_to_mm=fields.exact_or_none("diameter_up_to_mm"),
        drum_layers=fields.choice_or_none("drum_layers", ("single", "multi")),
        grooving=fields.words("grooving", ("smooth", "helical", "parallel"), optional=True),
        use=fields.choice_or_none("use", ("running", "standing")),
        lay_type=fields.choice_or_none("lay_type", ("ordinary", "lang")),
        core=fields.words("core", _CORES, optional=True),
        persons_lifted=fields.flag_or_none("persons_lifted"),
        purposes=fields.words("purposes", optional=True),
        zone=fields.choice_or_none("zone", ("single", "multi")),
    )
    fields.done()
    return when


def read_check(
    kind: str, fields: Fields, tables: Mapping[str, Table], used: set[str]
) -> model.Check:
    """Read what a clause checks, by the word in its key ``check``."""
    return CHECKS[kind](fields, tables, used)


def _columns(fields: Fields, table: Table | None) -> tuple[model.Column, ...]:
    columns = []
    for one in fields.tables("columns"):
        columns.append(
            model.Column(
                column=one.text("column"),
                when=read_when(one.table_or_none("when")),
                doubled_by=one.text_or_none("doubled_by"),
            )
        )
        one.done()
    if columns and table is None:
        raise fields.error(
            "columns", expected="columns only together with a table", given="no table"
        )
    if table is not None and not columns:
        raise fields.error("columns", expected="at least one column", given="none")
    return tuple(columns)


def _breaks(fields: Fields, tables: Mapping[str, Table], used: set[str]) -> model.Check:
    table = named_table(fields, "table", tables, used)
    columns = _columns(fields, table)
    limit, share = fields.exact_or_none("limit"), fields.percent_or_none("share")
    one_of(fields, {"limit": limit, "share": share, "table": table})
    if table is not None:
        strands = ("strands_from", "strands_to") if "strands_from" in table.heads else ()
        check_cells(table, ("n_from", "n_to", *strands), factors=False)
        check_cells(table, tuple(column.column for column in columns), factors=True)
    return model.BreakCheck(
        sites=fields.words("sites", BREAK_SITES),
        window=read_window(fields),
        compare=fields.choice("compare", _COMPARE),
        per=fields.choice("per", ("rope", "strand"), default="rope"),
        where=fields.choice(
            "where", ("anywhere", "at an end", "not at an end"), default="anywhere"
        ),
        limit=limit,
        share=share,
        share_of=fields.choice("share_of", _SHARES) if share is not None else None,
        rounding=fields.choice("rounding", ("up", "none"), default="none"),
        table=table,
        columns=columns,
        thick_rows_up=fields.whole("thick_rows_up", least=0, default=0),
        steel_sheaves_only=fields.flag("steel_sheaves_only", default=False),
        protruding_only=fields.flag("protruding_only", default=False),
        wear_factors=_wear_factors(fields, tables, used),
        rated=fields.flag("rated", default=False),
    )


def _wear_factors(fields: Fields, tables: Mapping[str, Table], used: set[str]) -> Table | None:
    table = named_table(fields, "wear_factors", tables, used)
    if table is not None:
        check_cells(table, ("worn_percent", "factor"), factors=False)
    return table


def _bunched(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    return model.BunchedCheck(
        strands=fields.whole("strands", least=1),
        window=read_window(fields),
        least=fields.whole("least", least=2),
    )


def _diameter(fields: Fields, tables: Mapping[str, Table], used: set[str]) -> model.Check:
    table = named_table(fields, "table", tables, used)
    steps = named_table(fields, "steps", tables, used)
    columns = _columns(fields, table)
    percent = fields.percent_or_none("limit_percent")
    millimetres = fields.exact_or_none("limit_mm")
    one_of(
        fields,
        {"limit_percent": percent, "limit_mm": millimetres, "table": table, "steps": steps},
    )
    if table is not None:
        check_cells(table, ("rating", *(one.column for one in columns)), factors=False)
        if not any(row.number("rating") == FULL_RATING for row in table.rows):
            raise TableError(
                field="column rating",
                expected="a row rated 100",
                given=[row.cells["rating"] for row in table.rows],
                file=table.name,
            )
    if steps is not None:
        check_cells(steps, ("d_from_mm", "d_to_mm", "limit_mm"), factors=False)
    return model.DiameterCheck(
        change=fields.choice("change", ("decrease", "increase")),
        baseline=fields.choice("baseline", _BASELINES),
        compare=fields.choice("compare", _COMPARE),
        limit_percent=percent,
        limit_mm=millimetres,
        percent_of=fields.choice("percent_of", ("nominal", "baseline"), default="nominal"),
        table=table,
        columns=columns,
        steps=steps,
        except_crushed=fields.flag("except_crushed", default=False),
        local_only=fields.flag("local_only", default=False),
        rated=fields.flag("rated", default=False),
    )


def _wave(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    return model.WaveCheck(
        share_of_diameter=fields.exact("share_of_diameter"),
        section_bends=fields.flag("section_bends", default=True),
        compare=fields.choice("compare", _COMPARE),
    )


def _found(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    findings = fields.words("findings", tuple(DAMAGE_WORDS))
    forms = tuple(form for one in findings for form in DAMAGE_WORDS[one][0])
    grades = tuple(grade for one in findings for grade in DAMAGE_WORDS[one][1])
    return model.FoundCheck(
        findings=findings,
        forms=fields.words("forms", forms, optional=True),
        grades=fields.words("grades", grades, optional=True),
        on_bending_rope=fields.flag_or_none("on_bending_rope"),
    )


def _graded(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    finding = fields.choice("finding", tuple(DAMAGE_WORDS))
    forms, grades = DAMAGE_WORDS[finding]
    ratings = fields.table_or_none("ratings")
    if ratings is None:
        raise fields.error("ratings", expected="a table of grades", given="nothing")
    table = {grade: ratings.percent(grade) for grade in grades}
    ratings.done()
    return model.GradedCheck(
        finding=finding,
        forms=fields.words("forms", forms, optional=True),
        ratings=table,
        limit_percent=fields.percent("limit_percent"),
    )


def _worn(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    return model.WornWireCheck(
        share=fields.exact("share"), compare=fields.choice("compare", _COMPARE)
    )


def _event(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    return model.EventCheck(events=fields.words("events", EVENT_KINDS))


def _part(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    parts = fields.words("parts", tuple(PART_WORDS))
    states = tuple(dict.fromkeys(state for part in parts for state in PART_WORDS[part]))
    return model.PartCheck(parts=parts, states=fields.words("states", states, optional=True))


def _coverage(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    ways: list[tuple[Method, ...]] = []
    texts: tuple[str, ...] = fields.words("by")
    for text in texts:
        wanted = [part.strip() for part in text.split("+")]
        if any(one not in METHODS for one in wanted):
            raise fields.error(
                "by",
                expected=f"methods joined by '+', each one of {', '.join(METHODS)}",
                given=text,
            )
        ways.append(tuple(method for one in wanted for method in METHODS if method == one))
    return model.CoverageCheck(
        of=fields.choice("of", ("whole rope", "working length")),
        by=tuple(ways),
        extra_wraps=fields.exact_or_none("extra_wraps") or Fraction(0),
    )


def _items(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    return model.ItemsCheck(items=fields.words("items", ITEMS))


def _readings(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    return model.ReadingsCheck(places=fields.whole("places", least=1))


def _person(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    return model.PersonCheck(
        competence=fields.words("competence", ("trained", "competent", "qualified"))
    )


def _interval(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    months = fields.whole_or_none("months", least=1)
    days = fields.whole_or_none("days", least=1)
    stated = fields.flag("stated", default=False)
    one_of(fields, {"months": months, "days": days, "stated": stated or None})
    return model.IntervalCheck(
        kinds=fields.words("kinds", INSPECTION_KINDS), months=months, days=days, stated=stated,
        if_broken=fields.flag("if_broken", default=False),
    )  # fmt: skip


def _idle(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    return model.IdleCheck(
        months=fields.whole("months", least=1),
        kinds=fields.words("kinds", INSPECTION_KINDS),
        compare=fields.choice("compare", _COMPARE, default="more than"),
    )


def _after_event(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    return model.AfterEventCheck(
        kinds=fields.words("kinds", INSPECTION_KINDS),
        needs_release=fields.flag("needs_release", default=False),
    )


def _combined(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> model.Check:
    return model.CombinedCheck(
        limit_percent=fields.percent("limit_percent"), window=read_window(fields)
    )


#: The word in a clause's key ``check`` and what reads the rest of it.
CHECKS: Final[Mapping[str, Reader]] = {
    "broken wires": _breaks,
    "bunched breaks": _bunched,
    "diameter": _diameter,
    "waviness": _wave,
    "damage found": _found,
    "damage graded": _graded,
    "worn outer wires": _worn,
    "event": _event,
    "part": _part,
    "coverage": _coverage,
    "items examined": _items,
    "readings taken": _readings,
    "person": _person,
    "lubricant hides": lambda _f, _t, _u: model.GreaseCheck(),
    "interval": _interval,
    "idle time": _idle,
    "after event": _after_event,
    "combined effect": _combined,
    "earlier finding": lambda _f, _t, _u: model.VanishedCheck(),
    "unnamed finding": lambda _f, _t, _u: model.UnnamedCheck(),
    **MORE_CHECKS,
}
