"""Limits that stand alone in a clause against a second copy, typed separately."""

from fractions import Fraction

import pytest

from ropewright.rules.model import BreakCheck, Check, DiameterCheck, WaveCheck, WornWireCheck
from ropewright.rules.more_checks import MetallicLossCheck, SetUpCheck
from tests.unit.rules_more.test_tables_twice import (
    ASME_COLUMNS,
    SHELF,
    asme_id,
    asme_rows,
    clause_of,
    rows_of,
)


def _limit(check: Check) -> tuple[Fraction | None, str]:
    if isinstance(check, BreakCheck):
        return (check.share if check.limit is None else check.limit), check.compare
    if isinstance(check, DiameterCheck):
        return check.limit_percent, check.compare
    if isinstance(check, WornWireCheck):
        return check.share, check.compare
    if isinstance(check, WaveCheck):
        return check.share_of_diameter, check.compare
    assert isinstance(check, MetallicLossCheck)
    return check.limit_percent, check.compare


@pytest.mark.parametrize(
    "row", rows_of("other_limits.csv"), ids=lambda row: f"{row['rule set']}/{row['clause']}"
)
def test_single_limits(row: dict[str, str]) -> None:
    # kinds as the rule files say them
    check = clause_of(row["rule set"], row["clause"]).check
    limit, compare = _limit(check)
    assert (limit, compare) == (Fraction(row["limit"]), row["compare"])
    words = row["what"]
    if isinstance(check, BreakCheck) and " in " in words:
        window = {"one lay": "1 lay"}.get(words.rpartition(" in ")[2], words.rpartition(" in ")[2])
        assert check.window == window
    if isinstance(check, DiameterCheck) and "from nominal" in words:
        assert check.baseline == "nominal"
    if isinstance(check, DiameterCheck) and "baseline" in words:
        assert check.baseline == "measured in each third"
        assert check.percent_of == "baseline"


@pytest.mark.parametrize("row", rows_of("set_up_figures.csv"), ids=lambda row: row["clause"])
def test_figures_of_the_set_up(row: dict[str, str]) -> None:
    # kinds as the rule file says them
    check = clause_of("set-up-figures", row["clause"]).check
    assert isinstance(check, SetUpCheck)
    least = Fraction(row["at least"]) if row["at least"] else None
    most = Fraction(row["at most"]) if row["at most"] else None
    assert (check.least, check.most, check.unit) == (least, most, row["unit"])


def test_every_figure_of_the_set_up_was_typed_twice() -> None:
    typed = {row["clause"] for row in rows_of("set_up_figures.csv")}
    figures = {
        clause.clause_id
        for clause in SHELF.get("set-up-figures").clauses
        if isinstance(clause.check, SetUpCheck)
        and (clause.check.least is not None or clause.check.most is not None)
    }
    assert typed == figures


def test_limits_that_are_no_table_were_typed_twice() -> None:
    """Every clause of these sets with one number has its line in a second copy."""
    typed = {(row["rule set"], row["clause"]) for row in rows_of("other_limits.csv")}
    asme = {clause_id for clause_id, *_ in ASME_COLUMNS.values()}
    for name in ("us-30cfr-77-1434", "us-mi-r-408-11824", "on-reg-213-91-s168", "ships-code",
                 "hk-cap-313x-s38", "jp-crane-code-54", "cn-older", "din-15020-2",
                 "iso-4309-older", *(asme_id(one) for one in asme_rows())):  # fmt: skip
        for clause in SHELF.get(name).clauses:
            check = clause.check
            if isinstance(check, BreakCheck | DiameterCheck | WaveCheck | MetallicLossCheck):
                limit, _ = _limit(check)
                by_name = name.startswith("asme") and clause.clause_id in (*asme, "valley")
                assert limit is None or by_name or (name, clause.clause_id) in typed, (
                    f"{name}/{clause.clause_id}"
                )
