"""Places have a frame and two errors; frames do not mix."""

import pytest

from ropewright.errors import InputError
from ropewright.geometry import DrumPlace, PathPlace, RopePlace


def test_distance_is_measured_within_one_frame() -> None:
    assert RopePlace(at_m=3.5).distance_m(RopePlace(at_m=1.0)) == 2.5  # by hand


@pytest.mark.parametrize("other", [PathPlace(at_m=1.0), DrumPlace(at_m=1.0)])
def test_places_of_different_frames_do_not_mix(other: PathPlace | DrumPlace) -> None:
    with pytest.raises(TypeError, match="different frames"):
        RopePlace(at_m=3.5).distance_m(other)  # type: ignore[arg-type]
    with pytest.raises(TypeError, match="different frames"):
        other.distance_m(RopePlace(at_m=3.5))  # type: ignore[arg-type]


def test_places_of_different_frames_are_not_equal() -> None:
    assert RopePlace(at_m=1.0) != PathPlace(at_m=1.0)  # type: ignore[comparison-overlap]
    assert RopePlace(at_m=1.0) == RopePlace(at_m=1.0)


@pytest.mark.parametrize("field", ["abs_err_m", "rel_err_m"])
@pytest.mark.parametrize("value", [-0.1, float("nan"), float("inf")])
def test_errors_are_finite_and_not_negative(field: str, value: float) -> None:
    with pytest.raises(InputError, match=field):
        RopePlace(at_m=1.0, **{field: value})


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_a_place_is_a_finite_number(value: float) -> None:
    with pytest.raises(InputError, match="place"):
        RopePlace(at_m=value)
