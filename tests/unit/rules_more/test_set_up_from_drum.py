"""Figures of the set-up that geometry works out of the rigging, judged without being stated."""

from datetime import date

from ropewright.demo import demo_case
from ropewright.desk import judge
from ropewright.intake import PackageShelf, read_case

SHELF = PackageShelf()


def test_the_demo_drum_is_measured_by_geometry_and_judged() -> None:
    """By hand: the demo states drum and pitch, so pitch over rope diameter is worked out."""
    dossier = read_case(demo_case("KQ-1"), file="KQ-1", known_rules=SHELF.names()).dossier
    done = judge(dossier, SHELF, date(2026, 11, 10), software="test", added=["set-up-figures"])
    drum = [
        one
        for one in done.rulings
        if one.rule_set == "set-up-figures" and any("worked out" in s.origin for s in one.steps)
    ]
    assert any("1.045 d" in one.words for one in drum)  # 20.9 mm / 20 mm, by hand
    assert {"below", "reached"} & {one.status for one in drum}
    assert done.verdict.level == "remove"
