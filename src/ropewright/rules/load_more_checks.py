"""Reading the checks of ``more_checks`` from a clause."""

from collections.abc import Callable, Mapping
from fractions import Fraction
from typing import Final, Literal, get_args

from ropewright.errors import TableError
from ropewright.inspection import (
    DAMAGE_WORDS,
    MECHANISM_CLASSES,
    SET_UP_MEASURES,
    SET_UP_UNITS,
    SET_UP_WORDS,
)
from ropewright.rules.fields import Fields
from ropewright.rules.more_checks import (
    GrowthCheck,
    MeasuredWithinCheck,
    MetallicLossCheck,
    NoLimitCheck,
    SetUpCheck,
    UnjudgedCheck,
)
from ropewright.rules.reading import named_table, one_of, read_window
from ropewright.rules.ruling import Comparison
from ropewright.rules.tables import Table, check_cells

MoreChecks = (
    GrowthCheck
    | MetallicLossCheck
    | NoLimitCheck
    | SetUpCheck
    | MeasuredWithinCheck
    | UnjudgedCheck
)
MoreReader = Callable[[Fields, Mapping[str, Table], set[str]], MoreChecks]

_COMPARE: Final[tuple[Comparison, ...]] = get_args(Comparison)
_AGAINST: Final[tuple[Literal["lay hand"], ...]] = ("lay hand",)
#: Every kind of finding on the rope, as findings name themselves.
FINDING_KINDS: Final[tuple[str, ...]] = (
    "broken wires", "diameter", "waviness", "metallic loss", *DAMAGE_WORDS,
)  # fmt: skip


def _metallic_loss(
    fields: Fields, tables: Mapping[str, Table], used: set[str]
) -> MetallicLossCheck:
    bands = named_table(fields, "bands", tables, used)
    limit = fields.percent_or_none("limit_percent")
    one_of(fields, {"limit_percent": limit, "bands": bands})
    column = ""
    if bands is not None:
        column = fields.text("column")
        check_cells(bands, ("rating", column), factors=False)
        _full_rating(bands, column)
    return MetallicLossCheck(
        of=fields.choice("of", ("metallic area", "breaking force"), default="metallic area"),
        compare=fields.choice("compare", _COMPARE),
        window=read_window(fields) if fields.has("window") else fields.text_or_none("window"),
        limit_percent=limit,
        bands=bands,
        column=column,
    )


def _full_rating(table: Table, column: str) -> None:
    full = [row for row in table.rows if row.number("rating") == Fraction(100)]
    if len(full) != 1 or full[0].number(column) is None:
        raise TableError(
            field=f"column {column}",
            expected="one row rated 100 with a value",
            given=[row.cells[column] for row in full],
            file=table.name,
        )


def _no_limit(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> NoLimitCheck:
    return NoLimitCheck(findings=fields.words("findings", FINDING_KINDS))


def _set_up(fields: Fields, tables: Mapping[str, Table], used: set[str]) -> SetUpCheck:
    measure = fields.choice("measure", SET_UP_MEASURES)
    if measure in SET_UP_WORDS:
        return _set_up_words(fields, measure)
    table = named_table(fields, "table", tables, used)
    least, most = fields.exact_or_none("least"), fields.exact_or_none("most")
    one_of(fields, {"least": least, "most": most, "table": table})
    column = ""
    if table is not None:
        column = fields.text("column")
        check_cells(table, (column,), factors=False)
        _mechanism_rows(table, column)
    return SetUpCheck(
        measure=measure,
        unit=fields.choice("unit", SET_UP_UNITS[measure]),
        least=least,
        most=most,
        table=table,
        column=column,
        rotation_resistant_classes_up=fields.whole(
            "rotation_resistant_classes_up", least=0, default=0
        ),
    )


def _set_up_words(fields: Fields, measure: str) -> SetUpCheck:
    against = fields.choice_or_none("against", _AGAINST)
    if against is not None and measure != "drum hand":
        raise fields.error("against", expected="only with the measure drum hand", given=measure)
    words: tuple[str, ...] = fields.words(
        "words", SET_UP_WORDS[measure], optional=against is not None
    )
    one_of(fields, {"words": words or None, "against": against})
    return SetUpCheck(measure=measure, words=words, against=against)


def _mechanism_rows(table: Table, column: str) -> None:
    """One row for each mechanism class, in order, none of them empty."""
    classes = tuple(row.cells.get("mechanism", "") for row in table.rows)
    if classes != MECHANISM_CLASSES or any(row.number(column) is None for row in table.rows):
        raise TableError(
            field="column mechanism",
            expected=f"one row with a value for each of {', '.join(MECHANISM_CLASSES)}, in order",
            given=list(classes),
            file=table.name,
        )


def _measured_within(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> MeasuredWithinCheck:
    return MeasuredWithinCheck(
        months=fields.whole("months", least=1), places=fields.whole("places", least=1)
    )


def _growth(fields: Fields, _t: Mapping[str, Table], _u: set[str]) -> GrowthCheck:
    return GrowthCheck(
        first=fields.whole("first", least=2),
        window=read_window(fields),
        doubled_by=fields.whole("doubled_by", least=1),
    )


#: The word in a clause's key ``check`` and what reads the rest of it.
MORE_CHECKS: Final[Mapping[str, MoreReader]] = {
    "growth": _growth,
    "metallic loss": _metallic_loss,
    "no limit": _no_limit,
    "set-up": _set_up,
    "unjudged finding": lambda _f, _t, _u: UnjudgedCheck(),
    "measured within": _measured_within,
}
