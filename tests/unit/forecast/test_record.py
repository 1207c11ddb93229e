"""From a dossier to zones, looks and situation, and the whole forecast of a dossier."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from ropewright.errors import InputError
from ropewright.forecast import (
    CASES,
    TREATMENTS,
    Limit,
    Situation,
    forecast_as_data,
    forecast_of,
    prior_for,
    record_of_rope,
    rows_for,
    trend_of,
)
from ropewright.geometry import ExposedSection, Exposure, RopePlace, Section
from ropewright.inspection import (
    BreakGroup,
    BrokenWires,
    Crane,
    Damage,
    Dossier,
    Inspection,
    Installation,
    Pass,
)
from ropewright.inspection.findings import BreakSite, Method
from ropewright.rope import Cut, Rope, RopeHistory, StrandNumbers, build_construction

WHOLE = Section(0.0, 100.0)
LIMITS = (Limit(count=10, window_d=6.0), Limit(count=20, window_d=30.0))


def breaks(
    name: str,
    at_m: float,
    count: int,
    *,
    same_as: str | None = None,
    method: Method = "feel",
    site: BreakSite = "crown",
) -> BrokenWires:
    return BrokenWires(
        finding_id=name,
        place=RopePlace(at_m=at_m),
        method=method,
        same_as=same_as,
        groups=(BreakGroup(from_mm=Fraction(0), to_mm=Fraction(0), count=count, site=site),),
    )


def look(on: date, *findings: BrokenWires | Damage, method: Method = "feel") -> Inspection:
    return Inspection(
        inspection_id=on.isoformat(),
        kind="periodic",
        on=on,
        passes=(Pass(method=method, section=WHOLE),),
        findings=findings,
    )


def dossier(*inspections: Inspection, history: RopeHistory | None = None) -> Dossier:
    construction = build_construction(
        name="6x19S",
        given=StrandNumbers(
            outer_strands=6, wires_per_outer_strand=19, rotation_resistant=False,
            compacted=False, core="fibre", thick_outer_wires=True,
        ),
    )  # fmt: skip
    return Dossier(
        crane=Crane(crane_id="invented"),
        rope=Rope(
            rope_id="invented",
            nominal_diameter_mm=Fraction(20),
            construction=construction,
            length_m=100.0,
            lay_type="ordinary",
        ),
        installation=Installation(
            hoist="hoist",
            fitted_on=date(2024, 1, 1),
            persons_lifted=False,
            interval_days=91,
            interval_by="competent person",
            exposed=(
                ExposedSection(
                    section=WHOLE,
                    exposure=Exposure(drum="single", sheaves="steel", near_end=False, bends=True),
                ),
            ),
        ),
        history=history or RopeHistory(original_length_m=100.0),
        inspections=inspections,
        invented=True,
    )


def test_named_findings_become_looks_with_what_was_new() -> None:
    record = record_of_rope(
        dossier(
            look(date(2025, 1, 1)),
            look(date(2025, 4, 1), breaks("a", 40.0, 1)),
            look(date(2025, 7, 1), breaks("b", 40.0, 3, same_as="a")),
        ),
        date(2025, 7, 1),
    )
    hot, rest = record.zones
    assert [one.new for one in hot.looks] == [0, 1, 2]  # by hand
    assert hot.marked
    assert [one.new for one in rest.looks] == [0, 0, 0]  # by hand
    assert rows_for(record.situation)[0].case_id == "ordinary"


def test_a_lower_count_never_takes_breaks_away() -> None:
    record = record_of_rope(
        dossier(
            look(date(2025, 4, 1), breaks("a", 40.0, 3)),
            look(date(2025, 7, 1), breaks("b", 40.0, 1, same_as="a")),
            look(date(2025, 8, 1)),
        ),
        date(2025, 8, 1),
    )
    assert [one.new for one in record.zones[0].looks] == [3, 0, 0]  # by hand


def test_findings_without_names_are_totals_and_said_so() -> None:
    record = record_of_rope(
        dossier(
            look(date(2025, 4, 1), breaks("a", 40.0, 1)),
            look(date(2025, 7, 1), breaks("b", 40.2, 2)),
        ),
        date(2025, 7, 1),
    )
    assert not record.zones[0].marked
    assert record.notes
    named = record_of_rope(
        dossier(
            look(date(2025, 4, 1), breaks("a", 40.0, 1)),
            look(date(2025, 7, 1), breaks("b", 40.2, 2)),
        ),
        date(2025, 7, 1),
        same={"b": "a"},
    )
    assert named.zones[0].marked


def test_breaks_far_apart_are_two_zones_and_near_ones_are_one() -> None:
    record = record_of_rope(
        dossier(
            look(date(2025, 4, 1), breaks("a", 40.0, 1), breaks("b", 40.3, 2), breaks("c", 70.0, 1))
        ),
        date(2025, 4, 1),
    )
    first, second, _ = record.zones
    assert (first.known, second.known) == (3, 1)
    # by hand: 0.3 m of a 20 mm rope are 15 d
    assert first.length_d == pytest.approx(15.0)
    assert first.most_in(6.0) == 2


def test_rope_that_was_cut_off_teaches_but_does_not_count() -> None:
    history = RopeHistory(
        original_length_m=100.0, steps=(Cut(on=date(2025, 5, 1), end="A", length_m=10.0),)
    )
    record = record_of_rope(
        dossier(look(date(2025, 4, 1), breaks("a", 4.0, 4)), history=history), date(2025, 6, 1)
    )
    assert record.zones[0].gone
    assert not record.zones[1].gone


@pytest.mark.parametrize(
    ("finding", "case"),
    [
        (breaks("a", 40.0, 1, site="valley"), "valley"),
        (breaks("a", 40.0, 1, site="end"), "termination"),
        (replace(breaks("a", 40.0, 1), crossover_damage=True), "crossover"),
        (
            Damage(finding_id="a", place=RopePlace(at_m=40.0), damage="corrosion", grade="pitted"),
            "corrosion",
        ),
    ],
)
def test_damage_that_is_not_bending_gives_no_date(finding: BrokenWires | Damage, case: str) -> None:
    told = dossier(look(date(2025, 4, 1), finding))
    found = forecast_of(told, date(2025, 4, 2), limits=LIMITS, prior=prior_for())
    assert found.forecast.state == "no date"
    assert found.forecast.rows[0].case_id == case
    # the stated interval still holds: by hand 1 April + 91 days
    assert found.forecast.next_inspection == date(2025, 7, 1)


def test_a_rope_without_a_day_of_fitting_has_no_age() -> None:
    told = dossier(look(date(2025, 4, 1)))
    with pytest.raises(InputError, match="fitted"):
        record_of_rope(
            replace(told, installation=replace(told.installation, fitted_on=None)),
            date(2025, 4, 2),
        )


def test_the_whole_forecast_as_data_and_figure() -> None:
    told = dossier(
        look(date(2025, 1, 1)),
        look(date(2025, 4, 1), breaks("a", 40.0, 1)),
        look(date(2025, 7, 1), breaks("b", 40.0, 2, same_as="a")),
    )
    found = forecast_of(
        told, date(2025, 7, 1), limits=LIMITS, prior=prior_for("bridge crane hoist"),
        lead_time_days=60.0,
    )  # fmt: skip
    data = forecast_as_data(found.forecast)
    assert data["state"] in ("inspect by", "look closer now")
    assert data["prior"]["version"] == "1"
    assert data["policy"]["alpha"] == 0.002
    assert found.outcomes
    figure = trend_of(told, found)
    assert [one.known for one in figure.looks] == [0, 1, 2]  # by hand
    assert [one.new for one in figure.looks] == [0, 1, 1]  # by hand


def test_every_row_of_the_table_says_what_to_do() -> None:
    assert {case.treatment for case in CASES} == set(TREATMENTS)
    assert all(case.action and case.why for case in CASES)
    assert rows_for(Situation())[0].case_id == "unstated"
