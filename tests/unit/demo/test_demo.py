"""The invented site: labelled, without people or firms, the same for the same seed."""

import ast
import io
import itertools
import os
import random
import re
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest
from PIL import Image

from ropewright import demo
from ropewright.demo import (
    SITE,
    USUAL_SEED,
    demo_case,
    demo_lifts,
    demo_names,
    demo_notes,
    demo_photos,
    demo_rope,
)
from ropewright.demo.breaking import Break, WornPlace, breaks_at, most_in_a_strand, most_within
from ropewright.errors import UnknownNameError
from ropewright.inspection import BrokenWires, DiameterReading, Dossier
from ropewright.intake import read_case
from ropewright.intake.duty import read_lifts

RULES = ("iso-4309-2017", "us-29cfr-1926-1413")
KNOWN = (*RULES, "asme-b30-2-2011")


def dossier(name: str) -> Dossier:
    case = read_case(demo_case(name), file=f"{name}.toml", known_rules=KNOWN)
    assert case.warnings == ()
    return case.dossier


@pytest.mark.parametrize("name", demo_names())
def test_every_file_says_that_it_is_invented(name: str) -> None:
    text = demo_case(name)
    assert "invented" in text.split("schema")[0]
    assert dossier(name).invented
    assert dossier(name).crane.site.startswith("Kestrel Quay")


def test_the_site_has_its_seven_ropes() -> None:
    """By hand: the list of the site."""
    assert demo_names() == (
        "KQ-1", "KQ-1-trolley", "KQ-2", "KQ-2-luffing", "KQ-3", "KQ-4", "KQ-5",
    )  # fmt: skip
    assert [dossier(rope.name).rope.rope_id for rope in SITE] == [rope.rope_id for rope in SITE]
    assert all(rope.teaches for rope in SITE)


def test_a_rope_is_found_by_its_id_too() -> None:
    assert demo_rope("KQ-2 luffing").name == "KQ-2-luffing"
    assert demo_case("kq-4 hoist") == demo_case("KQ-4")


def test_the_same_seed_gives_the_same_site_in_another_process() -> None:
    """Neither the order of sets nor anything else of the machine gets into it."""
    code = (
        "import hashlib\n"
        "from ropewright.demo import demo_case, demo_names, demo_photos\n"
        "made = hashlib.sha256()\n"
        "for name in demo_names():\n"
        "    made.update(demo_case(name, 411).encode())\n"
        "    for photo in demo_photos(name, 411):\n"
        "        made.update(photo.data)\n"
        "print(made.hexdigest())\n"
    )
    said = {
        subprocess.run(
            [sys.executable, "-c", code], env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True, text=True, check=True, timeout=60,
        ).stdout
        for seed in ("1", "77")
    }  # fmt: skip
    assert len(said) == 1


@pytest.mark.parametrize("name", demo_names())
def test_another_seed_tells_it_with_other_figures(name: str) -> None:
    assert demo_case(name, 58) != demo_case(name, USUAL_SEED)


def test_the_generator_knows_nothing_of_what_judges_its_ropes() -> None:
    """Only errors and itself; the import contract holds the same, this one names the culprit."""
    for path in Path(demo.__file__).parent.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom):
                names = [node.module or ""]
            elif isinstance(node, ast.Import):
                names = [one.name for one in node.names]
            else:
                continue
            for name in names:
                own = name.startswith(("ropewright.demo", "ropewright.errors"))
                assert own or not name.startswith("ropewright"), f"{path.name} imports {name}"


@pytest.mark.parametrize("name", demo_names())
def test_pictures_are_small_readable_and_labelled(name: str) -> None:
    for photo in demo_photos(name):
        assert "invented data" in photo.caption
        assert len(photo.data) < 100_000
        with Image.open(io.BytesIO(photo.data)) as image:
            assert image.size == (960, 540)
            assert not image.getexif()


def test_every_picture_that_a_file_names_can_be_made() -> None:
    for name in demo_names():
        named = {
            photo
            for look in dossier(name).inspections
            for one in (*look.findings, *look.part_findings)
            for photo in one.photos
        }
        assert named <= {photo.name for photo in demo_photos(name)}


def test_notes_are_by_roles_and_in_order() -> None:
    notes = [note for name in demo_names() for note in demo_notes(name)]
    assert len({note.entry_id for note in notes}) == len(notes)
    for name in demo_names():
        moments = [note.at for note in demo_notes(name)]
        assert moments == sorted(moments)
    override = next(note for note in notes if note.kind == "limit override")
    assert override.with_person("an id")["by"] == {"person": "an id"}


@pytest.mark.parametrize("name", ["KQ-1", "KQ-2", "KQ-3", "KQ-4"])
def test_lists_of_lifts_are_read(name: str, tmp_path: Path) -> None:
    """By hand: one row a week and kind of lift, from the list's first day to the last week."""
    ((file, text),) = demo_lifts(name).items()
    (tmp_path / file).write_text(text, encoding="utf-8")
    record = read_lifts(tmp_path / file)
    assert record.origin == "lift list"
    assert record.first is not None
    assert record.last is not None
    weeks = (record.last - record.first).days // 7 + 1
    assert len(record.lifts) in (weeks, 2 * weeks)
    assert (date(2026, 11, 6) - record.last).days < 7
    for lift in record.lifts:
        assert lift.pick.hook_m is not None
        assert lift.place.hook_m is not None
        assert lift.over_m is not None
        assert lift.over_m >= max(lift.pick.hook_m, lift.place.hook_m)
    assert demo_lifts(name, 58) != demo_lifts(name)


def test_other_ropes_have_no_list_of_lifts() -> None:
    assert demo_lifts("KQ-5") == {}


# ---- How wires break ---------------------------------------------------------------------------

PLACE = WornPlace(wires=120, strands=6, spread_mm=50.0, near_mm=80.0, evenness=12.0)


def test_a_broken_wire_makes_the_next_ones_come_sooner() -> None:
    """By simulation both ways: with load handed on, the ninth break comes earlier."""
    alone = WornPlace(
        wires=120, strands=6, spread_mm=50.0, near_mm=80.0, evenness=12.0,
        share_near=0.0, share_far=0.0,
    )  # fmt: skip
    ninth = [
        sum(breaks_at(place, 9, random.Random(seed))[8].life for seed in range(200)) / 200
        for place in (PLACE, alone)
    ]
    assert ninth[0] < ninth[1]


def test_without_load_handed_on_breaks_are_order_statistics() -> None:
    """By hand: a Weibull life to the power k is exponential, and among many wires the early
    breaks are a Poisson process; so the first of five over the fifth is the least of four
    uniform numbers, whose median is 1 - 0.5 ** (1 / 4).
    """
    alone = WornPlace(
        wires=120, strands=6, spread_mm=50.0, near_mm=80.0, evenness=12.0,
        share_near=0.0, share_far=0.0,
    )  # fmt: skip
    ratios = [breaks_at(alone, 5, random.Random(seed))[4].life ** 12 for seed in range(3000)]
    middle = sorted(1 / one for one in ratios)[1500]
    assert middle == pytest.approx(1 - 0.5**0.25, abs=0.012)  # 3 standard errors of the median


def test_strips_are_counted_with_both_ends() -> None:
    """By hand: 0 and 78 mm lie under a strip of 78 mm, 0 and 79 mm do not."""

    def at(along_mm: float, strand: int) -> Break:
        return Break(life=1.0, along_mm=along_mm, strand=strand, stands_out=True)

    assert most_within([at(0, 1), at(78, 2)], 78) == 2
    assert most_within([at(0, 1), at(79, 2)], 78) == 1
    assert most_within([], 78) == 0
    assert most_in_a_strand([at(0, 1), at(5, 1), at(9, 2)]) == 2


@pytest.mark.parametrize("name", demo_names())
def test_people_are_roles(name: str) -> None:
    people = [person for one in dossier(name).inspections for person in one.by]
    assert people
    assert all(person.role and not person.name for person in people)
    assert not re.search(r"https?:|@|\b(GmbH|Ltd|Inc)\b", demo_case(name))


def test_names_are_found_in_any_case() -> None:
    assert demo_case("kq-1") == demo_case("KQ-1")
    with pytest.raises(UnknownNameError, match="KQ-5"):
        demo_case("KQ-9")


def test_kq_1_has_five_breaks_at_a_crossover() -> None:
    rope = dossier("KQ-1")
    assert rope.rope.nominal_diameter_mm == 20
    assert rope.rope.construction.name == "35(W)x7"
    assert rope.installation.rules == RULES
    assert rope.installation.persons_lifted is False
    assert rope.installation.fitted_on == date(2025, 1, 9)
    latest = rope.inspections[-1]
    assert latest.on == date(2026, 11, 9)
    (cluster,) = [one for one in latest.findings if isinstance(one, BrokenWires)]
    offsets = [group.from_mm for group in cluster.groups]
    assert cluster.count == 5
    assert max(offsets) - min(offsets) <= 30 * 20
    # by hand: 0 and 96 mm lie within 120 mm, and no three do
    pairs = [b - a for a, b in itertools.pairwise(offsets)]
    assert sum(gap <= 6 * 20 for gap in pairs) == 1
    assert len({group.strand for group in cluster.groups}) == 5
    zone = [one for one in rope.installation.exposed if one.exposure.crossover]
    assert zone[0].section.contains(cluster.section.widened(cluster.place.abs_err_m))
    earlier = [
        sum(one.count for one in inspection.findings if isinstance(one, BrokenWires))
        for inspection in rope.inspections[-3:]
    ]
    assert earlier == [0, 1, 5]
    assert {hidden.cause for hidden in latest.hidden} == {"grease", "dead wraps on the drum"}


def test_kq_1_trolley_waits_for_a_reading() -> None:
    latest = dossier("KQ-1-trolley").inspections[-1]
    readings = [one for one in latest.findings if isinstance(one, DiameterReading)]
    assert sorted(len(one.readings_mm) for one in readings) == [1, 2]
    assert [one.kind for one in latest.findings].count("corrosion") == 1
