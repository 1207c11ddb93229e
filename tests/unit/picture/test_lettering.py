"""Widths of words are never too small, flags never cross, axis steps are round."""

from pathlib import Path

import fontpkg_ibm_plex_sans
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont

from ropewright.geometry import Section
from ropewright.picture.frame import frame_for, round_step, ticks
from ropewright.picture.ink import as_grey, contrast, luminance
from ropewright.picture.lettering import folded, shortened, text_width
from ropewright.picture.packing import Flag, fly
from ropewright.picture.symbols import HALF

FACE = Path(fontpkg_ibm_plex_sans.ROOT) / "files" / "IBMPlexSans[wdth,wght].ttf"
PRINTABLE = "".join(map(chr, range(33, 127))) + "×±–—…·’µ°äöüéßλЖ≥≤"


@pytest.mark.parametrize("bold", [False, True])
def test_no_letter_is_wider_than_reckoned(bold: bool) -> None:
    face = ImageFont.truetype(str(FACE), 100)
    face.set_variation_by_axes([100, 700 if bold else 400])
    too_wide = [
        (letter, face.getlength(letter), text_width(letter, 100, bold=bold))
        for letter in PRINTABLE
        if face.getlength(letter) > text_width(letter, 100, bold=bold)
    ]
    assert not too_wide


@given(st.text(max_size=60), st.floats(20, 400))
def test_shortened_text_fits(text: str, room: float) -> None:
    kept = shortened(text, 11, room)
    assert text_width(kept, 11) <= room or kept in ("…", text)


@given(st.text(max_size=200), st.floats(40, 400))
def test_folded_text_keeps_every_letter(text: str, room: float) -> None:
    lines = folded(text, 11, room)
    assert "".join(lines).replace(" ", "") == "".join(text.split())


FLAGS = st.lists(st.builds(Flag, x=st.floats(10, 590), room=st.floats(0, 250)), max_size=12)


@given(FLAGS, st.integers(1, 9))
def test_flags_never_cross(flags: list[Flag], rows: int) -> None:
    flown = fly(flags, left=0, right=600, rows=rows)
    if flown is None:
        return
    assert len(flown) == len(flags)
    for at, one in enumerate(flown):
        assert 0 <= one.row < rows
        assert one.left >= -HALF - 1
        assert one.right <= 600 + HALF + 1
        for other in flown[:at]:
            if one.row == other.row:
                assert one.right <= other.left or other.right <= one.left
            high, low = (one, other) if one.row > other.row else (other, one)
            crosses = low.left < high.x < low.right and abs(low.x - high.x) > HALF
            assert one.row == other.row or not crosses


@given(FLAGS)
def test_flags_without_words_always_fly_if_there_are_rows_enough(flags: list[Flag]) -> None:
    bare = [Flag(x=one.x, room=0) for one in flags]
    flown = fly(bare, left=0, right=600, rows=2 * len(bare) + 1)
    near = any(
        HALF < abs(one.x - other.x) < 2 * HALF + 2
        for at, one in enumerate(bare)
        for other in bare[:at]
    )
    assert flown is not None or near


@given(st.floats(0.001, 5000), st.integers(1, 20))
def test_steps_are_round_and_few_enough(length: float, most: int) -> None:
    step = round_step(length, most)
    assert length / step <= most * (1 + 1e-6)
    assert f"{step:e}"[0] in "125" or f"{step:.3e}".startswith(("1.000", "2.000", "5.000"))


def test_ticks_lie_inside() -> None:
    # by hand: 413.8 m in at most ten parts: steps of 50 m from 50 m to 400 m
    assert ticks(Section(6.2, 420), 10) == [50, 100, 150, 200, 250, 300, 350, 400]


def test_a_place_outside_is_drawn_at_the_edge() -> None:
    frame = frame_for(width=720, shown=Section(0, 100))
    assert frame.x(-5) == frame.left
    assert frame.x(500) == frame.right
    assert frame.span(Section(50, 50), 6)[1] == pytest.approx(6)


def test_contrast_of_black_and_white() -> None:
    # by the definition: (1 + 0.05) / (0 + 0.05) = 21
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert luminance("#ffffff") == pytest.approx(1)


@given(st.integers(0, 0xFFFFFF))
def test_a_grey_is_as_light_as_its_colour(number: int) -> None:
    colour = f"#{number:06x}"
    # a grey has 256 steps; near white one step is 0.0092 of luminance
    assert luminance(as_grey(colour)) == pytest.approx(luminance(colour), abs=0.005)


def test_a_colour_that_is_none_is_refused() -> None:
    with pytest.raises(ValueError, match="#rrggbb"):
        luminance("red")
