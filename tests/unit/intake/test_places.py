"""Places and counts: by the steel or by the path of a day, through cuts and turns."""

from fractions import Fraction

import pytest

from ropewright.errors import InputError
from ropewright.geometry import Section
from ropewright.inspection import BrokenWires, Damage, RopeFinding, Waviness
from ropewright.intake import read_case
from tests.unit.intake.reading import groups_of

HEAD = """\
schema = 1
[rope]
diameter = "20 mm"
construction = "6x36WS"
length = "120 m"
lay_length = "130 mm"
[installation]
rules = ["any"]
"""
CUT = '[[history]]\nkind = "cut"\non = 2026-03-10\nend = "A"\nlength = "5 m"\n'
TURN = '[[history]]\nkind = "end-for-end"\non = 2026-06-01\n'
INSPECTED = '[[inspection]]\nkind = "periodic"\non = 2026-11-09\n'


def finding(text: str, *, history: str = "", inspected: str = INSPECTED) -> RopeFinding:
    case = read_case(f"{HEAD}{history}{inspected}[[inspection.finding]]\n{text}", file="case.toml")
    return case.dossier.inspections[0].findings[0]


def breaks(text: str, *, history: str = "", inspected: str = INSPECTED) -> BrokenWires:
    found = finding(f'kind = "broken wires"\n{text}', history=history, inspected=inspected)
    assert isinstance(found, BrokenWires)
    return found


# By hand: rope of 120 m; 5 m cut off at end A leave 5 m .. 120 m; after the turn the path begins
# at 120 m and runs down to 5 m.
@pytest.mark.parametrize(
    ("history", "path_m", "rope_m"),
    [
        ("", 30, 30),
        (CUT, 0, 5),
        (CUT, 30, 35),
        (CUT, 115, 120),
        (TURN, 30, 90),
        (CUT + TURN, 0, 120),
        (CUT + TURN, 30, 90),
        (CUT + TURN, 115, 5),
    ],
)
def test_a_path_position_is_worked_back_to_the_steel(
    history: str, path_m: int, rope_m: float
) -> None:
    found = breaks(f'at_path = "{path_m} m"\ncount = 1', history=history)
    assert found.place.at_m == pytest.approx(rope_m, abs=1e-9)


def test_a_rope_position_stays_what_it_is() -> None:
    assert breaks('at = "30 m"\ncount = 1', history=CUT + TURN).place.at_m == 30


def test_an_inspection_before_the_cut_of_its_day_sees_the_whole_rope() -> None:
    day = INSPECTED.replace("2026-11-09", "2026-03-10")
    with pytest.raises(InputError, match=r"left on 2026-03-10: 5\.00 m"):
        breaks('at = "3 m"\ncount = 1', history=CUT, inspected=day)
    before = f"{day}before_changes = true\n"
    assert breaks('at = "3 m"\ncount = 1', history=CUT, inspected=before).place.at_m == 3
    by_path = breaks('at_path = "3 m"\ncount = 1', history=CUT, inspected=before)
    assert by_path.place.at_m == 3


def test_both_errors_of_a_place_are_kept_apart() -> None:
    found = breaks('at = "30 m"\nat_err = "± 1 m"\nbetween_err = "20 mm"\ncount = 1')
    assert (found.place.abs_err_m, found.place.rel_err_m) == (1.0, 0.02)


@pytest.mark.parametrize(
    ("over", "length_mm"),
    [
        ("120 mm", Fraction(120)),
        ("6 d", Fraction(120)),
        ("30 d", Fraction(600)),
        ("2.5 d", Fraction(50)),
        ("1 lay", Fraction(130)),
        ("3/4 in", Fraction("19.05")),
    ],
)
def test_a_count_has_a_length(over: str, length_mm: Fraction) -> None:
    found = breaks(f'at = "30 m"\ncount = 6\nover = "{over}"')
    assert groups_of(found) == [(0, length_mm, 6)]


def test_a_count_between_two_places_has_their_exact_distance() -> None:
    found = breaks('from = "23.40 m"\nto = "23.52 m"\ncount = 6')
    (group,) = found.groups
    assert found.place.at_m == 23.4
    assert group.to_mm == 120


def test_one_broken_wire_needs_no_length_and_two_do() -> None:
    assert groups_of(breaks('at = "30 m"\ncount = 1')) == [(0, 0, 1)]
    with pytest.raises(InputError, match="a count needs a length"):
        breaks('at = "30 m"\ncount = 2')


LONG = """\
breaks = [
    { at = "0 mm", strand = 3 },
    { at = "14 mm", strand = 3, count = 2, site = "valley" },
    { from = "0 mm", to = "60 mm", count = 4 },
]
"""


def test_each_break_has_its_offset_strand_and_site() -> None:
    found = breaks(f'at = "30 m"\nsite = "unknown"\n{LONG}')
    assert groups_of(found, "from_mm", "to_mm", "count", "site", "strand") == [
        (0, 0, 1, "unknown", 3),
        (14, 14, 2, "valley", 3),
        (0, 60, 4, "unknown", None),
    ]
    assert found.count == 7


def test_offsets_run_the_way_the_place_counts() -> None:
    """On a turned rope a path runs against the steel, so its offsets do."""
    along = breaks(f'at_path = "30 m"\n{LONG}', history=TURN)
    assert along.place.at_m == 90
    assert groups_of(along, "from_mm", "to_mm") == [(0, 0), (-14, -14), (-60, 0)]
    by_steel = breaks(f'at = "90 m"\n{LONG}', history=TURN)
    assert groups_of(by_steel, "from_mm", "to_mm") == [(0, 0), (14, 14), (0, 60)]


@pytest.mark.parametrize(
    ("place", "expected"),
    [
        ('at = "60 m"\nlength = "2 m"', (60, 62)),
        ('from = "60 m"\nto = "62 m"', (60, 62)),
        ('at_path = "60 m"\nlength = "2 m"', (58, 60)),
        ('at = "60 m"', (60, 60)),
    ],
)
def test_damage_has_a_place_or_a_section(place: str, expected: tuple[float, float]) -> None:
    found = finding(f'kind = "abrasion"\ndepth = "1/3"\n{place}', history=TURN)
    assert isinstance(found, Damage)
    assert found.depth_share == Fraction(1, 3)
    assert (found.section.from_m, found.section.to_m) == pytest.approx(expected)


def test_a_wave_keeps_its_exact_gap() -> None:
    found = finding('kind = "waviness"\nat = "60 m"\nlength = "500 mm"\ngap = "1/16 in"')
    assert isinstance(found, Waviness)
    assert (found.gap_mm, found.length_m) == (Fraction("1.5875"), 0.5)


@pytest.mark.parametrize(
    "place",
    ['at = "119.9 m"\nlength = "300 mm"', 'at = "119.9 m"\nat_err = "50 mm"\nlength = "1 m"'],
)
def test_what_ends_beyond_the_rope_is_refused(place: str) -> None:
    with pytest.raises(InputError, match=r"finding\[1\]\.length: .*120\.00 m"):
        finding(f'kind = "abrasion"\n{place}')


@pytest.mark.parametrize(
    ("said", "history", "expected"),
    [
        ("whole = true", "", (0, 120)),
        ("whole = true", CUT, (5, 120)),
        ('from = "10 m"\nto = "20 m"', CUT, (10, 20)),
        ('from_path = "10 m"\nto_path = "20 m"', CUT, (15, 25)),
        ('from_path = "10 m"\nto_path = "20 m"', CUT + TURN, (100, 110)),
    ],
)
def test_passes_cover_sections_of_steel(
    said: str, history: str, expected: tuple[float, float]
) -> None:
    text = f'{HEAD}{history}{INSPECTED}[[inspection.pass]]\nmethod = "feel"\n{said}\n'
    (one,) = read_case(text, file="case.toml").dossier.inspections[0].passes
    assert one.section == Section(*expected)


def test_exposures_and_working_length_hold_for_the_rope_as_installed() -> None:
    text = HEAD.replace(
        'rules = ["any"]\n',
        'rules = ["any"]\nworking = { from = "0 m", to = "100 m" }\n'
        '[[installation.exposure]]\nwhole = true\nsheaves = "steel"\n',
    )
    installation = read_case(text + CUT, file="case.toml").dossier.installation
    assert installation.working == Section(0, 100)
    assert installation.exposed[0].section == Section(0, 120)
    assert installation.exposed[0].exposure.drum == "unknown"
