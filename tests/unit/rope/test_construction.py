"""Where the make of a rope comes from, and that it never contradicts itself."""

import pickle
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.errors import InputError, UnknownNameError
from ropewright.rope import (
    CORES,
    Construction,
    StrandNumbers,
    build_construction,
    catalogue,
    construction_names,
    is_rotation_resistant_category,
)


def _origin(construction: Construction, field: str) -> tuple[str, str | None]:
    found = construction.origin_of(field)
    assert found is not None
    return found.origin, found.table_value


@pytest.mark.parametrize("row", catalogue(), ids=lambda row: row.name)
def test_every_listed_construction_by_name(row: Any) -> None:
    made = build_construction(name=row.name)
    assert made.name == row.name
    assert made.outer_strands == row.outer_strands
    assert made.wires_per_outer_strand == row.wires_per_outer_strand
    assert made.load_bearing_outer_wires == row.load_bearing_outer_wires
    assert made.thick_outer_wires == row.thick_outer_wires
    assert made.rotation_resistant == row.rotation_resistant
    assert made.compacted == row.compacted
    assert (made.origin, made.provenance) == ("table", row.wires_provenance)
    assert (made.core, made.total_wires, made.differences) == (None, None, ())


def test_numbers_alone() -> None:
    made = build_construction(
        name="8x35 special",
        given=StrandNumbers(
            outer_strands=8, wires_per_outer_strand=35, rotation_resistant=False, core="steel"
        ),
    )
    assert made.name == "8x35 special"
    assert made.load_bearing_outer_wires == 280
    assert made.thick_outer_wires is False  # more than 19 wires in a strand
    assert (made.core, made.rotation_resistant) == ("steel", False)
    assert (made.origin, made.provenance, made.factors_class) == ("given numbers", None, None)
    assert _origin(made, "load_bearing_outer_wires") == ("worked out", None)


def test_the_certificate_wins_field_by_field_and_differences_are_kept() -> None:
    made = build_construction(
        name="6x36WS",
        given=StrandNumbers(wires_per_outer_strand=31, core="fibre"),
        certificate=StrandNumbers(wires_per_outer_strand=41),
    )
    assert made.wires_per_outer_strand == 41
    assert made.load_bearing_outer_wires == 246
    assert made.core == "fibre"
    assert (made.origin, made.provenance) == ("certificate", None)
    assert {one.field: one.table_value for one in made.differences} == {
        "wires_per_outer_strand": "36",
        "load_bearing_outer_wires": "216",
    }


def test_n_of_the_certificate_gives_the_wires_of_a_strand() -> None:
    made = build_construction(
        name="6x36WS", certificate=StrandNumbers(load_bearing_outer_wires=186)
    )
    assert (made.outer_strands, made.wires_per_outer_strand) == (6, 31)
    assert _origin(made, "wires_per_outer_strand") == ("worked out", "36")


def test_other_facts_leave_the_counts_with_the_table() -> None:
    made = build_construction(name="6x36WS", given=StrandNumbers(core="steel", total_wires=265))
    assert (made.origin, made.provenance) == ("table", "second-hand")
    assert (made.core, made.total_wires) == ("steel", 265)


def test_n_alone_is_enough_to_count_by() -> None:
    made = build_construction(given=StrandNumbers(load_bearing_outer_wires=208))
    assert made.load_bearing_outer_wires == 208
    assert (made.outer_strands, made.wires_per_outer_strand) == (None, None)
    assert made.name == "given by numbers"
    assert made.origin == "given numbers"


def test_strands_follow_from_n_and_wires() -> None:
    made = build_construction(
        given=StrandNumbers(load_bearing_outer_wires=208, wires_per_outer_strand=26)
    )
    assert made.outer_strands == 8


def test_a_category_number_alone_is_enough() -> None:
    made = build_construction(category_number="23-2")
    assert (made.rotation_resistant, made.load_bearing_outer_wires) == (True, None)
    assert build_construction(name="special", category_number="09").rotation_resistant is False


@pytest.mark.parametrize(
    ("numbers", "thick", "origin"),
    [
        (StrandNumbers(outer_strands=6, wires_per_outer_strand=19), True, "assumed"),
        (StrandNumbers(load_bearing_outer_wires=114), True, "assumed"),
        (StrandNumbers(outer_strands=6, load_bearing_outer_wires=114), True, "assumed"),
        (StrandNumbers(outer_strands=6, wires_per_outer_strand=20), False, "worked out"),
        (
            StrandNumbers(outer_strands=6, wires_per_outer_strand=19, thick_outer_wires=False),
            False,
            "given numbers",
        ),
    ],
)
def test_thick_wires_are_assumed_where_nobody_says_they_are_not(
    numbers: StrandNumbers, thick: bool, origin: str
) -> None:
    made = build_construction(given=numbers)
    assert made.thick_outer_wires is thick
    assert _origin(made, "thick_outer_wires")[0] == origin


def test_thickness_of_a_listed_make_holds_only_while_its_wires_do() -> None:
    changed = build_construction(name="6x36WS", given=StrandNumbers(wires_per_outer_strand=19))
    assert changed.thick_outer_wires is True
    kept = build_construction(name="6x25F", given=StrandNumbers(wires_per_outer_strand=19))
    assert kept.thick_outer_wires is False


def test_compacted_strands_have_no_published_factors() -> None:
    assert build_construction(name="8x36WS").factors_class == "8x36"
    assert (
        build_construction(name="8x36WS", given=StrandNumbers(compacted=True)).factors_class is None
    )


@pytest.mark.parametrize(
    ("arguments", "field", "words"),
    [
        ({}, "construction", "expected a construction such as"),
        ({"given": StrandNumbers()}, "construction", "expected a construction such as"),
        (
            {
                "given": StrandNumbers(
                    outer_strands=6, wires_per_outer_strand=36, load_bearing_outer_wires=208
                )
            },
            "load_bearing_outer_wires",
            "6 outer strands × 36 wires = 216",
        ),
        (
            {"name": "6x36WS", "certificate": StrandNumbers(load_bearing_outer_wires=208)},
            "load_bearing_outer_wires",
            "a multiple of the 6 outer strands",
        ),
        (
            {"given": StrandNumbers(wires_per_outer_strand=36, load_bearing_outer_wires=208)},
            "load_bearing_outer_wires",
            "a multiple of the 36 wires",
        ),
        (
            {"name": "6x36WS", "given": StrandNumbers(total_wires=200)},
            "total_wires",
            "at least the 216 wires",
        ),
        (
            {"name": "6x36WS", "given": StrandNumbers(thick_outer_wires=True)},
            "thick_outer_wires",
            "19 wires or fewer",
        ),
        (
            {"name": "6x36WS", "category_number": "23-1"},
            "category_number",
            "not rotation-resistant",
        ),
        (
            {"name": "35(W)x7", "category_number": "09"},
            "category_number",
            "of a rotation-resistant rope",
        ),
    ],
)
def test_contradictions_are_refused(arguments: dict[str, Any], field: str, words: str) -> None:
    with pytest.raises(InputError) as caught:
        build_construction(**arguments)
    assert caught.value.field == field
    assert words in str(caught.value)


def test_an_unlisted_name_needs_numbers() -> None:
    with pytest.raises(UnknownNameError):
        build_construction(name="9x99", given=StrandNumbers(rotation_resistant=True))
    assert (
        build_construction(
            name="9x33", given=StrandNumbers(outer_strands=9, wires_per_outer_strand=33)
        ).load_bearing_outer_wires
        == 297
    )


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("outer_strands", 2),
        ("outer_strands", 41),
        ("wires_per_outer_strand", 0),
        ("load_bearing_outer_wires", -1),
        ("total_wires", 10**6),
        ("core", "wool"),
    ],
)
def test_numbers_that_no_rope_has_are_refused(field: str, value: Any) -> None:
    with pytest.raises(InputError) as caught:
        StrandNumbers(**{field: value})
    assert caught.value.field == field


def test_cores() -> None:
    assert CORES == ("fibre", "steel", "parallel-closed", "plastic-coated steel")


@pytest.mark.parametrize(
    ("number", "rotation_resistant"),
    [("01", False), ("13", False), ("21", True), ("23-1", True), ("31", True)],
)
def test_category_numbers(number: str, rotation_resistant: bool) -> None:
    assert is_rotation_resistant_category(number) is rotation_resistant


@pytest.mark.parametrize("number", ["", "1", "00", "14", "20", "32", "24-1", "23-4", "09 ", "ab"])
def test_what_is_no_category_number(number: str) -> None:
    with pytest.raises(InputError, match="category number of two digits"):
        is_rotation_resistant_category(number)


COUNTS = st.none() | st.integers(3, 60)
NUMBERS = st.builds(
    StrandNumbers,
    outer_strands=st.none() | st.integers(3, 20),
    wires_per_outer_strand=COUNTS,
    load_bearing_outer_wires=st.none() | st.integers(9, 400),
    thick_outer_wires=st.none() | st.booleans(),
    rotation_resistant=st.none() | st.booleans(),
    core=st.none() | st.sampled_from(CORES),
)


@given(st.none() | st.sampled_from(construction_names()), st.none() | NUMBERS, st.none() | NUMBERS)
def test_what_is_built_is_free_of_contradiction(
    name: str | None, numbers: StrandNumbers | None, certificate: StrandNumbers | None
) -> None:
    try:
        made = build_construction(name=name, given=numbers, certificate=certificate)
    except InputError as error:
        assert str(error).isprintable()  # noqa: PT017 - both ways are fine
        return
    strands, wires = made.outer_strands, made.wires_per_outer_strand
    n = made.load_bearing_outer_wires
    if strands is not None and wires is not None:
        assert n == strands * wires
    if certificate is not None and certificate.load_bearing_outer_wires is not None:
        assert n == certificate.load_bearing_outer_wires
    assert not (made.thick_outer_wires and wires is not None and wires > 19)
    assert pickle.loads(pickle.dumps(made)) == made
