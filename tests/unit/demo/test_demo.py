"""The invented site: labelled, without people or firms, and telling its stories."""

import itertools
import re
from datetime import date

import pytest

from ropewright.demo import demo_case, demo_names
from ropewright.errors import UnknownNameError
from ropewright.inspection import BrokenWires, DiameterReading, Dossier
from ropewright.intake import read_case

RULES = ("iso-4309-2017", "us-29cfr-1926-1413")


def dossier(name: str) -> Dossier:
    case = read_case(demo_case(name), file=f"{name}.toml", known_rules=RULES)
    assert case.warnings == ()
    return case.dossier


@pytest.mark.parametrize("name", demo_names())
def test_every_file_says_that_it_is_invented(name: str) -> None:
    text = demo_case(name)
    assert "invented" in text.split("schema")[0]
    assert dossier(name).invented
    assert dossier(name).crane.site.startswith("Kestrel Quay")


@pytest.mark.parametrize("name", demo_names())
def test_people_are_roles(name: str) -> None:
    people = [person for one in dossier(name).inspections for person in one.by]
    assert people
    assert all(person.role and not person.name for person in people)
    assert not re.search(r"https?:|@|\b(GmbH|Ltd|Inc)\b", demo_case(name))


def test_names_are_found_in_any_case() -> None:
    assert demo_case("kq-1") == demo_case("KQ-1")
    with pytest.raises(UnknownNameError, match="KQ-1"):
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
