"""What counts on a date, told as short stories; expected outcomes are by hand.

The place is 50 m unless a story says otherwise; the rope is 200 m long.  ``MARCH`` is the latest
thorough inspection, ``FEBRUARY`` the one before it, both over the whole rope.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from ropewright.geometry import RopePlace, Section
from ropewright.inspection import (
    ExaminedItem,
    HiddenSection,
    Inspection,
    Pass,
)
from ropewright.inspection.evidence import Evidence, evidence_on
from ropewright.rope import Cut, EndForEnd, RopeHistory
from tests.laws.building import (
    TODAY,
    breaks,
    damage,
    dossier,
    inspection,
    pair,
    part,
    wave,
)

JANUARY, FEBRUARY, MARCH = date(2026, 1, 5), date(2026, 2, 5), date(2026, 3, 5)
SOME_DAY_LATER = date(2026, 3, 8)


def evidence(*inspections: Inspection, today: date = TODAY, **more: Any) -> Evidence:
    return evidence_on(dossier(*inspections, **more), today)


def annual(on: date, *findings: Any, **more: Any) -> Inspection:
    return inspection("annual", on, *findings, **more)


def shift(on: date, *findings: Any, **more: Any) -> Inspection:
    return inspection("shift", on, *findings, **more)


def seen_only(from_m: float, to_m: float) -> dict[str, Any]:
    """Passes over one section instead of the whole rope."""
    return {"passes": (Pass(method="eye", section=Section(from_m, to_m)),)}


def elsewhere(*findings: Any) -> Any:
    return [replace(one, place=RopePlace(at_m=150.0)) for one in findings]


# ---- stories about findings on the rope ------------------------------------------------------


@dataclass(frozen=True)
class Story:
    """Inspections, and which findings then count, are a question, or were cut off."""

    says: str
    inspections: Callable[[], list[Inspection]]
    counts: tuple[str, ...]
    questions: tuple[str, ...] = ()
    cut_off: tuple[str, ...] = ()
    history: RopeHistory | None = None


STORIES = [
    Story(
        "the findings of the latest thorough inspection count",
        lambda: [annual(MARCH, breaks(0, name="new"))],
        ("new",),
    ),
    Story(
        "a shift check after it adds its findings and hides none",
        lambda: [
            annual(MARCH, breaks(0, name="old")),
            shift(SOME_DAY_LATER, damage("kink", name="new")),
        ],
        ("old", "new"),
    ),
    Story(
        "a shift check after it that found nothing hides nothing and asks nothing",
        lambda: [annual(MARCH, breaks(0, name="old")), shift(SOME_DAY_LATER)],
        ("old",),
    ),
    Story(
        "without a thorough inspection the findings of all shift checks count",
        lambda: [
            shift(FEBRUARY, breaks(0, name="one")),
            shift(MARCH, breaks(0, at_m=60, name="two")),
        ],
        ("one", "two"),
    ),
    Story(
        "an earlier finding stays where its place was not looked at again",
        lambda: [annual(FEBRUARY, breaks(0, name="old")), annual(MARCH, **seen_only(60, 200))],
        ("old",),
    ),
    Story(
        "an earlier finding stays where grease hid its place from the eye and no hand felt it",
        lambda: [
            annual(FEBRUARY, breaks(0, name="old")),
            annual(MARCH, hidden=(HiddenSection(section=Section(45, 55)),), **seen_only(0, 200)),
        ],
        ("old",),
    ),
    Story(
        "looked at and not found again: it stays and is a question",
        lambda: [annual(FEBRUARY, breaks(0, name="old")), annual(MARCH)],
        ("old",),
        ("old",),
    ),
    Story(
        "felt under grease and not found again: it stays and is a question",
        lambda: [
            annual(FEBRUARY, breaks(0, name="old")),
            annual(MARCH, hidden=(HiddenSection(section=Section(45, 55)),)),
        ],
        ("old",),
        ("old",),
    ),
    Story(
        "the question stays when the next inspection does not look there at all",
        lambda: [
            annual(JANUARY, breaks(0, name="old")),
            annual(FEBRUARY),
            annual(MARCH, **seen_only(60, 200)),
        ],
        ("old",),
        ("old",),
    ),
    Story(
        "nobody looked but an unfinished inspection and a shift check: it stays, no question",
        lambda: [
            annual(date(2026, 1, 5), breaks(0, name="old")),
            annual(FEBRUARY, finished=False),
            shift(FEBRUARY),
            annual(MARCH, **seen_only(60, 200)),
        ],
        ("old",),
    ),
    Story(
        "found again with as many breaks as close together: the later count replaces it",
        lambda: [
            annual(FEBRUARY, breaks(0, 40, name="old")),
            annual(MARCH, breaks(0, 40, 300, at_m=50.1, name="new")),
        ],
        ("new",),
    ),
    Story(
        "found again with fewer breaks: both stay and it is a question",
        lambda: [
            annual(FEBRUARY, breaks(0, 40, 80, name="old")),
            annual(MARCH, breaks(0, 40, name="new")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "as many breaks but spread over a metre are not the same close cluster",
        lambda: [
            annual(FEBRUARY, breaks(0, 40, 80, name="old")),
            annual(MARCH, breaks(0, 300, 600, name="new")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "a coarse count over two metres does not confirm a close one",
        lambda: [
            annual(FEBRUARY, breaks(0, 40, 80, name="old")),
            annual(MARCH, breaks(0, count=3, length_mm=2000, name="new")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "a close count answers a coarse one",
        lambda: [
            annual(FEBRUARY, breaks(0, count=3, length_mm=900, name="old")),
            annual(MARCH, breaks(0, 20, 850, name="new")),
        ],
        ("new",),
    ),
    Story(
        "two clusters of one inspection together answer the one of the last",
        lambda: [
            annual(FEBRUARY, breaks(0, 300, name="old")),
            annual(MARCH, breaks(0, name="new 1"), breaks(0, at_m=50.3, name="new 2")),
        ],
        ("new 1", "new 2"),
    ),
    Story(
        "the same breaks found in two later inspections are not added up to answer it",
        lambda: [
            annual(JANUARY, breaks(0, 10, 20, 30, name="old")),
            annual(FEBRUARY, breaks(0, 10, name="between")),
            annual(MARCH, breaks(0, 10, name="new")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "breaks found again in the middle of three inspections only: a question",
        lambda: [
            annual(JANUARY, breaks(0, name="one")),
            annual(FEBRUARY, breaks(0, 30, name="two")),
            annual(MARCH),
        ],
        ("two",),
        ("two",),
    ),
    Story(
        "a valley break that is called a crown break now: both stay and it is a question",
        lambda: [
            annual(FEBRUARY, breaks(0, site="valley", name="old")),
            annual(MARCH, breaks(0, site="crown", name="new")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "three in one strand then, each in a strand of its own now: both stay, a question",
        lambda: [
            annual(FEBRUARY, breaks(0, 10, 20, strands=(2, 2, 2), name="old")),
            annual(MARCH, breaks(0, 10, 20, strands=(1, 3, 5), name="new")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "in neighbouring strands, numbered from another strand now: answered",
        lambda: [
            annual(FEBRUARY, breaks(0, 10, strands=(1, 2), name="old")),
            annual(MARCH, breaks(0, 10, strands=(4, 5), name="new")),
        ],
        ("new",),
    ),
    Story(
        "taped again a few millimetres apart: answered",
        lambda: [
            annual(FEBRUARY, breaks(0, 96, 250, name="old")),
            annual(MARCH, breaks(0, 98, 255, 390, name="new")),
        ],
        ("new",),
    ),
    Story(
        "a break of unknown kind may turn out to be on the crown",
        lambda: [
            annual(FEBRUARY, breaks(0, site="unknown", name="old")),
            annual(MARCH, breaks(0, site="crown", name="new")),
        ],
        ("new",),
    ),
    Story(
        "two metres away is not the same place, however wide its error is",
        lambda: [
            annual(FEBRUARY, breaks(0, name="old")),
            annual(MARCH, breaks(0, place=RopePlace(at_m=52.0, abs_err_m=3.0), name="new")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "two metres away and named as the same by a person: the later one replaces it",
        lambda: [
            annual(FEBRUARY, breaks(0, name="old")),
            annual(MARCH, breaks(0, 30, at_m=52.0, name="new", same_as="old")),
        ],
        ("new",),
    ),
    Story(
        "named as the same but fewer: both stay and it is a question",
        lambda: [
            annual(FEBRUARY, breaks(0, 30, name="old")),
            annual(MARCH, breaks(0, at_m=52.0, name="new", same_as="old")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "a shift check that counts more at the same cluster replaces its count",
        lambda: [
            annual(MARCH, breaks(0, name="old")),
            shift(SOME_DAY_LATER, breaks(0, 50, name="new", same_as="old")),
        ],
        ("new",),
    ),
    Story(
        "a shift check that counts fewer at the same cluster replaces nothing",
        lambda: [
            annual(MARCH, breaks(0, 50, name="old")),
            shift(SOME_DAY_LATER, breaks(0, name="new", same_as="old")),
        ],
        ("old", "new"),
        ("old",),
    ),
    Story(
        "a shift check that counts breaks at the same place, not named as the same: both count",
        lambda: [
            annual(MARCH, breaks(0, name="old")),
            shift(SOME_DAY_LATER, breaks(0, 50, name="new")),
        ],
        ("old", "new"),
    ),
    Story(
        "fewer in the middle, as many again at last: answered",
        lambda: [
            annual(JANUARY, breaks(0, 10, 20, name="one")),
            annual(FEBRUARY, breaks(0, name="two", same_as="one")),
            annual(MARCH, breaks(0, 10, 20, name="three", same_as="two")),
        ],
        ("three",),
    ),
    Story(
        "fewer in the middle and fewer at last: the first count stays a question",
        lambda: [
            annual(JANUARY, breaks(0, 10, 20, name="one")),
            annual(FEBRUARY, breaks(0, name="two", same_as="one")),
            annual(MARCH, breaks(0, name="three", same_as="two")),
        ],
        ("three", "one"),
        ("one",),
    ),
    Story(
        "a birdcage that is called a wave now does not vanish",
        lambda: [
            annual(FEBRUARY, damage("birdcage", name="old")),
            annual(MARCH, wave("1", name="new", same_as="old")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "corrosion does not heal: pitted then and rough now is a question",
        lambda: [
            annual(FEBRUARY, damage("corrosion", form="external", grade="pitted", name="old")),
            annual(MARCH, damage("corrosion", form="external", grade="rough", name="new")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "corrosion that grew is replaced by what it is now",
        lambda: [
            annual(FEBRUARY, damage("corrosion", form="external", grade="wipes off", name="old")),
            annual(MARCH, damage("corrosion", form="external", grade="rough", name="new")),
        ],
        ("new",),
    ),
    Story(
        "corrosion inside is not answered by rust outside",
        lambda: [
            annual(FEBRUARY, damage("corrosion", form="internal", name="old")),
            annual(MARCH, damage("corrosion", form="external", grade="rough", name="new")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "corrosion on twenty metres is not answered by rust on one",
        lambda: [
            annual(FEBRUARY, damage("corrosion", grade="rough", length_m=20, name="old")),
            annual(MARCH, damage("corrosion", grade="rough", length_m=1, name="new")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "corrosion on twenty metres named as the same on one metre: both stay, a question",
        lambda: [
            annual(FEBRUARY, damage("corrosion", grade="rough", length_m=20, name="old")),
            annual(
                MARCH, damage("corrosion", grade="rough", length_m=1, name="new", same_as="old")
            ),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "corrosion on twenty metres named as the same on twenty and more elsewhere: answered",
        lambda: [
            annual(FEBRUARY, damage("corrosion", grade="rough", length_m=20, name="old")),
            annual(
                MARCH,
                damage("corrosion", grade="rough", at_m=52, length_m=21, name="new", same_as="old"),
            ),
        ],
        ("new",),
    ),
    Story(
        "corrosion recorded in two pieces that join answers the long one",
        lambda: [
            annual(FEBRUARY, damage("corrosion", grade="rough", length_m=20, name="old")),
            annual(
                MARCH,
                damage("corrosion", grade="rough", length_m=12, name="new 1"),
                damage("corrosion", grade="pitted", at_m=62, length_m=8, name="new 2"),
            ),
        ],
        ("new 1", "new 2"),
    ),
    Story(
        "a grade that nobody states any more is a question",
        lambda: [
            annual(FEBRUARY, damage("bend", grade="severe", name="old")),
            annual(MARCH, damage("bend", name="new")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "a person's own rating that fell is a question",
        lambda: [
            annual(FEBRUARY, damage("corrosion", rating_percent=Fraction(80), name="old")),
            annual(MARCH, damage("corrosion", rating_percent=Fraction(40), name="new")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "wires less worn than last time are a question",
        lambda: [
            annual(FEBRUARY, damage("abrasion", depth_share=Fraction(1, 3), name="old")),
            annual(MARCH, damage("abrasion", depth_share=Fraction(1, 4), name="new")),
        ],
        ("new", "old"),
        ("old",),
    ),
    Story(
        "a wave that grew is replaced, one that shrank is a question",
        lambda: [
            annual(FEBRUARY, wave("1", name="grew"), wave("3", at_m=70, name="shrank")),
            annual(MARCH, wave("2", name="new 1"), wave("2", at_m=70, name="new 2")),
        ],
        ("new 1", "new 2", "shrank"),
        ("shrank",),
    ),
    Story(
        "an unfinished inspection counts with what it found and is never the base",
        lambda: [
            annual(FEBRUARY, breaks(0, name="old")),
            annual(MARCH, damage("kink", at_m=70, name="new"), finished=False),
        ],
        ("old", "new"),
    ),
    Story(
        "an unfinished inspection that found nothing asks nothing",
        lambda: [annual(FEBRUARY, breaks(0, name="old")), annual(MARCH, finished=False)],
        ("old",),
    ),
    Story(
        "an inspection after the day in question does not exist yet",
        lambda: [annual(MARCH, breaks(0, name="old")), annual(date(2026, 4, 1), damage("kink"))],
        ("old",),
    ),
    Story(
        "findings on rope that was cut off leave",
        lambda: [annual(MARCH, breaks(0, at_m=195, name="gone"), breaks(0, name="old"))],
        ("old",),
        cut_off=("gone",),
        history=RopeHistory(
            original_length_m=200, steps=(Cut(on=SOME_DAY_LATER, end="B", length_m=10),)
        ),
    ),
    Story(
        "after a turn end for end, a cut at end B takes the steel that was at end A",
        lambda: [annual(MARCH, breaks(0, at_m=195, name="stays"), breaks(0, at_m=5, name="gone"))],
        ("stays",),
        cut_off=("gone",),
        history=RopeHistory(
            original_length_m=200,
            steps=(EndForEnd(on=MARCH), Cut(on=SOME_DAY_LATER, end="B", length_m=10)),
        ),
    ),
    Story(
        "a cut that is planned for later takes nothing yet",
        lambda: [annual(MARCH, breaks(0, at_m=195, name="old"))],
        ("old",),
        history=RopeHistory(
            original_length_m=200, steps=(Cut(on=date(2026, 4, 1), end="B", length_m=10),)
        ),
    ),
    Story(
        "a finding whose error reaches the rope that is left stays",
        lambda: [annual(MARCH, breaks(0, place=RopePlace(at_m=190.5, abs_err_m=1.0), name="old"))],
        ("old",),
        history=RopeHistory(
            original_length_m=200, steps=(Cut(on=SOME_DAY_LATER, end="B", length_m=10),)
        ),
    ),
    Story(
        "until the new end was looked at and nothing was found there",
        lambda: [
            annual(FEBRUARY, breaks(0, place=RopePlace(at_m=190.5, abs_err_m=1.0), name="gone")),
            annual(MARCH),
        ],
        (),
        cut_off=("gone",),
        history=RopeHistory(
            original_length_m=200, steps=(Cut(on=date(2026, 2, 6), end="B", length_m=10),)
        ),
    ),
]


@pytest.mark.parametrize("story", STORIES, ids=[story.says for story in STORIES])
def test_what_counts(story: Story) -> None:
    more: dict[str, Any] = {} if story.history is None else {"history": story.history}
    found = evidence(*story.inspections(), **more)
    assert sorted(one.finding.finding_id for one in found.seen) == sorted(story.counts)
    assert sorted(q.earlier.finding.finding_id for q in found.questions) == sorted(story.questions)
    assert sorted(one.finding.finding_id for one in found.cut_off) == sorted(story.cut_off)


# ---- stories about diameter readings ---------------------------------------------------------

# the reference is 20.2 mm: below it a rope wears, above it it swells


@pytest.mark.parametrize(
    ("says", "earlier", "later", "counts"),
    [
        ("a thin place stays until it is measured again", [pair("19", name="old")],
         [pair("20", at_m=150, name="new")], ["new", "old"]),
        ("thinner now: the later reading replaces it", [pair("19.5", name="old")],
         [pair("19", name="new")], ["new"]),
        ("the same again: the later reading replaces it", [pair("19", name="old")],
         [pair("19", name="new")], ["new"]),
        ("thicker now: both count, for steel does not grow back", [pair("19", name="old")],
         [pair("19.5", name="new")], ["new", "old"]),
        ("swollen, and less so now: both count", [pair("21", name="old")],
         [pair("20.5", name="new")], ["new", "old"]),
        ("swollen more now: the later reading replaces it", [pair("20.5", name="old")],
         [pair("21", name="new")], ["new"]),
        ("half a pair stays a question until its place is measured again",
         [replace(pair("19", name="old"), readings_mm=(Fraction(19),))],
         [pair("20", at_m=150, name="new")], ["new", "old"]),
        ("a whole pair answers half a one",
         [replace(pair("19", name="old"), readings_mm=(Fraction(19),))],
         [pair("20", name="new")], ["new"]),
        ("half a pair does not replace a whole one", [pair("19", name="old")],
         [replace(pair("18", name="new"), readings_mm=(Fraction(18),))], ["new", "old"]),
    ],
)  # fmt: skip
def test_which_readings_count(
    says: str, earlier: list[Any], later: list[Any], counts: list[str]
) -> None:
    found = evidence(annual(FEBRUARY, *earlier), annual(MARCH, *later))
    assert sorted(one.finding_id for one, _ in found.diameters()) == counts, says
    assert found.questions == ()  # readings scatter: a thicker one is no question


# ---- stories about parts ---------------------------------------------------------------------


def test_a_bad_part_stays_until_it_was_examined_again() -> None:
    old = annual(FEBRUARY, parts=[part("sheave", "crack")])
    without = tuple(one for one in annual(MARCH).examined if one.item != "sheaves")
    not_seen = (*without, ExaminedItem(item="sheaves", state="not seen"))
    assert len(evidence(old, annual(MARCH)).parts) == 0
    assert len(evidence(old, annual(MARCH, examined=without)).parts) == 1
    assert len(evidence(old, annual(MARCH, examined=not_seen)).parts) == 1
    assert len(evidence(old, shift(SOME_DAY_LATER)).parts) == 1
    assert len(evidence(old, annual(MARCH, finished=False)).parts) == 1


def test_a_bad_end_stays_until_both_ends_were_examined() -> None:
    old = annual(FEBRUARY, parts=[part("wedge socket", "crack")])
    one_end = tuple(one for one in annual(MARCH).examined if one.item != "end A fitting")
    no_such = (*one_end, ExaminedItem(item="end A fitting", state="not fitted"))
    neither = tuple(
        ExaminedItem(item=item, state="not fitted") for item in ("end A fitting", "end B fitting")
    )
    assert len(evidence(old, annual(MARCH)).parts) == 0
    assert len(evidence(old, annual(MARCH, examined=one_end)).parts) == 1
    assert len(evidence(old, annual(MARCH, examined=no_such)).parts) == 0
    assert len(evidence(old, annual(MARCH, examined=neither)).parts) == 1


# ---- which inspection is judged --------------------------------------------------------------


def test_the_latest_finished_thorough_inspection_is_the_base() -> None:
    first, second = annual(FEBRUARY), inspection("monthly", MARCH)
    unfinished = inspection("periodic", SOME_DAY_LATER, finished=False)
    check = shift(SOME_DAY_LATER)
    found = evidence(check, unfinished, second, first)  # the record's order of days is not needed
    assert found.base == second == found.latest
    assert found.later == (check, unfinished)
    assert found.current == (second, check, unfinished)
    assert found.past == (first, second, check, unfinished)


def test_without_a_base_the_newest_inspection_is_judged() -> None:
    older, newer = shift(FEBRUARY), shift(MARCH)
    found = evidence(older, newer)
    assert found.base is None
    assert found.latest == newer
    assert found.current == (older, newer)


def test_without_any_inspection_nothing_is_judged() -> None:
    found = evidence(annual(MARCH), today=JANUARY)
    assert found.base is None
    assert found.latest is None
    assert found.seen == ()
    assert found.past == ()


def test_the_service_section_follows_the_cuts() -> None:
    history = RopeHistory(
        original_length_m=200.0,
        steps=(
            Cut(on=FEBRUARY, end="A", length_m=3),
            EndForEnd(on=MARCH),
            Cut(on=SOME_DAY_LATER, end="A", length_m=5),
        ),
    )
    one = annual(MARCH)
    assert evidence(one, today=JANUARY, history=history).service == Section(0, 200)
    assert evidence(one, today=FEBRUARY, history=history).service == Section(3, 200)
    assert evidence(one, history=history).service == Section(3, 195)  # by hand


def test_questions_say_what_changed() -> None:
    why = {
        q.earlier.finding.finding_id: q.why
        for q in evidence(
            annual(
                FEBRUARY,
                breaks(0, 10, 20, 30, name="fewer"),
                damage("kink", at_m=70, name="gone"),
                damage("birdcage", at_m=90, name="renamed"),
                damage("bend", at_m=110, grade="severe", name="milder"),
            ),
            shift(date(2026, 2, 20), breaks(0, name="only one that day")),
            annual(
                MARCH,
                breaks(0, 10, name="a"),
                wave("1", at_m=90, name="b", same_as="renamed"),
                damage("bend", at_m=110, grade="slight", name="c"),
            ),
        ).questions
    }
    assert why == {
        "fewer": "4 were counted then and 2 now",
        "gone": "its place was looked at and it was not found",
        "renamed": "it is called waviness now",
        "milder": "it was graver then than it is said to be now",
    }


def test_findings_come_sorted_by_kind() -> None:
    found = evidence(
        annual(MARCH, breaks(0), pair("20.2"), wave("1"), damage("kink")),
    )
    assert [one.finding_id for one, _ in found.broken_wires()] == ["B1"]
    assert [one.finding_id for one, _ in found.diameters()] == ["D1"]
    assert [one.finding_id for one, _ in found.waves()] == ["W1"]
    assert [one.finding_id for one, _ in found.damage()] == ["X1"]
