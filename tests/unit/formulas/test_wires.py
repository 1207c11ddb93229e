"""The number of wires that count."""

import pytest

from ropewright.errors import InputError
from ropewright.formulas import load_bearing_outer_wires


def test_n_of_6x36() -> None:
    # Published (second-hand): 6x36 has n = 216.
    assert load_bearing_outer_wires(outer_strands=6, wires_per_outer_strand=36) == 216


@pytest.mark.parametrize(("strands", "wires"), [(0, 19), (6, 0), (-6, 19)])
def test_numbers_are_above_zero(strands: int, wires: int) -> None:
    with pytest.raises(InputError, match="above zero"):
        load_bearing_outer_wires(outer_strands=strands, wires_per_outer_strand=wires)
