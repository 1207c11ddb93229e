"""What a section is exposed to when its parts differ: the stricter reading, or 'not known'."""

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ropewright.geometry import (
    DRUM_LAYERS,
    SHEAVE_KINDS,
    ExposedSection,
    Exposure,
    Section,
    exposure_over,
)

exposures = st.builds(
    Exposure,
    drum=st.sampled_from(DRUM_LAYERS),
    sheaves=st.sampled_from(SHEAVE_KINDS),
    crossover=st.sampled_from([True, False, None]),
    near_end=st.sampled_from([True, False, None]),
    bends=st.sampled_from([True, False, None]),
)
whole = Section(0, 10)
sections = st.tuples(st.integers(0, 10), st.integers(0, 10)).map(
    lambda ends: Section(float(min(ends)), float(max(ends)))
)
exposed_lists = st.lists(
    st.builds(lambda s, e: ExposedSection(section=s, exposure=e), sections, exposures), max_size=5
)


def two(left: Exposure, right: Exposure) -> Exposure:
    """The exposure of a section whose two halves differ."""
    return exposure_over(
        whole,
        [
            ExposedSection(section=Section(0, 5), exposure=left),
            ExposedSection(section=Section(5, 10), exposure=right),
        ],
    )


@pytest.mark.parametrize(
    ("left", "right", "expected"),
    [
        ("single", "single", "single"),
        ("multi", "multi", "multi"),
        ("none", "none", "none"),
        ("single", "multi", "unknown"),
        ("none", "multi", "unknown"),
        ("unknown", "multi", "unknown"),
    ],
)
def test_drum_layers_are_known_only_where_all_parts_agree(
    left: str, right: str, expected: str
) -> None:
    merged = two(Exposure(drum=left), Exposure(drum=right))  # type: ignore[arg-type]
    assert merged.drum == expected


@pytest.mark.parametrize(
    ("left", "right", "expected"),
    [
        ("steel", "plastic", "plastic"),
        ("unknown", "plastic", "plastic"),
        ("steel", "unknown", "unknown"),
        ("none", "unknown", "unknown"),
        ("none", "steel", "steel"),
        ("none", "none", "none"),
    ],
)
def test_plastic_sheaves_anywhere_count_for_the_whole(left: str, right: str, expected: str) -> None:
    merged = two(Exposure(sheaves=left), Exposure(sheaves=right))  # type: ignore[arg-type]
    assert merged.sheaves == expected


@pytest.mark.parametrize(
    ("left", "right", "every", "any_"),
    [
        (True, True, True, True),
        (True, False, False, True),
        (True, None, None, True),
        (False, None, False, None),
        (False, False, False, False),
        (None, None, None, None),
    ],
)
def test_crossover_needs_every_part_and_bending_needs_one(
    left: bool | None, right: bool | None, every: bool | None, any_: bool | None
) -> None:
    merged = two(
        Exposure(crossover=left, near_end=left, bends=left),
        Exposure(crossover=right, near_end=right, bends=right),
    )
    assert merged.crossover is every
    assert merged.near_end is any_
    assert merged.bends is any_


def test_a_part_nothing_is_said_about_is_unknown() -> None:
    said = [
        ExposedSection(
            section=Section(0, 9.9),
            exposure=Exposure(drum="multi", sheaves="steel", crossover=True, bends=False),
        )
    ]
    merged = exposure_over(whole, said)
    assert merged == Exposure()
    assert exposure_over(Section(1, 2), said) == said[0].exposure
    rest = Exposure(drum="multi", sheaves="steel", crossover=False, near_end=False, bends=False)
    filled = exposure_over(whole, said, otherwise=rest)
    assert (filled.drum, filled.sheaves, filled.crossover) == ("multi", "steel", False)


def test_nothing_said_at_all_is_unknown_or_the_rest() -> None:
    assert exposure_over(whole, []) == Exposure()
    rest = Exposure(drum="single", sheaves="steel")
    assert exposure_over(whole, [], otherwise=rest) == rest


def test_a_break_on_a_boundary_belongs_to_both_sides() -> None:
    said = [
        ExposedSection(section=Section(0, 5), exposure=Exposure(drum="none", bends=False)),
        ExposedSection(section=Section(5, 10), exposure=Exposure(drum="multi", bends=True)),
    ]
    merged = exposure_over(Section(5, 5), said)
    assert (merged.drum, merged.bends) == ("unknown", True)


def test_unknowns_are_named_in_words() -> None:
    assert Exposure().unknowns == (
        "drum layers", "sheave material", "whether this section bends",
    )  # fmt: skip
    assert Exposure(drum="none", sheaves="steel", bends=True).unknowns == ()


@given(exposed_lists, sections)
def test_the_order_of_the_parts_does_not_matter(
    exposed: list[ExposedSection], section: Section
) -> None:
    expected = exposure_over(section, exposed)
    for order in list(permutations(exposed))[:24]:
        assert exposure_over(section, order) == expected


def as_strict(left: Exposure, right: Exposure) -> bool:
    """Whether ``right`` never allows a milder reading than ``left``."""
    sheaves = {"none": 0, "steel": 0, "unknown": 1, "plastic": 1}
    return (
        (right.drum == left.drum or right.drum == "unknown")
        and sheaves[right.sheaves] >= sheaves[left.sheaves]
        and (right.crossover is not True or left.crossover is True)
        and (right.bends is not False or left.bends is False)
        and (right.near_end is not False or left.near_end is False)
    )


@given(exposed_lists, sections, st.integers(0, 5))
def test_a_longer_section_is_never_read_more_mildly(
    exposed: list[ExposedSection], section: Section, by: int
) -> None:
    assert as_strict(
        exposure_over(section, exposed), exposure_over(section.widened(float(by)), exposed)
    )
