"""Good ropes come out clear, so that the laws are not kept by never being clear.

Every row is a rope of its own kind, well inspected, with nothing found; invented.
"""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

import pytest

from ropewright.geometry import ExposedSection, Exposure, RopePlace, Section
from ropewright.inspection import (
    BrokenWires,
    Conditions,
    Dossier,
    Event,
    ExaminedItem,
    HiddenSection,
    Pass,
    Release,
    Rigging,
)
from ropewright.rope import Cut, EndForEnd, RopeHistory
from tests.laws.building import (
    COMPETENT,
    EARLIER,
    FITTED,
    ISO,
    LATEST,
    QUALIFIED,
    TODAY,
    US,
    WHOLE,
    breaks,
    dossier,
    inspection,
    judged,
    level,
    pair,
    rope,
    whole_pass,
)

HOUSE = "house-template"


def good(the_rope: Any = None, kind: str = "annual", **more: Any) -> Dossier:
    """A good rope with one inspection and one reading on the reference diameter."""
    used = the_rope or rope()
    reading = pair(used.nominal_diameter_mm * Fraction("1.01"))
    return dossier(inspection(kind, LATEST, reading), the_rope=used, **more)


def one_exposure(**said: Any) -> dict[str, Any]:
    """The whole rope meets the same; no rigging says more."""
    stated = Exposure(**({"crossover": False, "near_end": None, "bends": True} | said))
    return {"exposed": (ExposedSection(section=WHOLE, exposure=stated),), "rigging": ()}


def with_passes(*passes: Pass) -> Dossier:
    reading = pair("20.2")
    return dossier(inspection("annual", LATEST, reading, passes=passes))


def with_annual_before(latest: Any, **more: Any) -> Dossier:
    """An annual inspection in February, then the latest one."""
    return dossier(inspection("annual", EARLIER, pair("20.2", name="D0")), latest, **more)


def not_fitted(*items: str) -> Dossier:
    latest = inspection("annual", LATEST, pair("20.2"))
    examined = tuple(
        replace(one, state="not fitted") if one.item in items else one for one in latest.examined
    )
    return dossier(replace(latest, examined=examined))


def inch(text: str) -> Fraction:
    return Fraction(text) * Fraction(254, 10)


GOOD: list[tuple[str, tuple[str, ...], Callable[[], Dossier]]] = [
    ("6x36WS, ordinary lay, steel core", (ISO, US), good),
    ("6x36WS, Lang lay", (ISO, US), lambda: good(rope(lay_type="lang"))),
    ("6x36WS, lay type not known", (ISO, US), lambda: good(rope(lay_type=None))),
    ("6x36WS, lay never measured", (ISO, US), lambda: good(rope(lay_in_d=None))),
    ("6x36WS, fibre core", (ISO, US), lambda: good(rope(core="fibre"))),
    ("6x36WS, core not known", (ISO, US), lambda: good(rope(core=None))),
    ("6x7 of 10 mm", (ISO, US), lambda: good(rope("6x7", diameter_mm=Fraction(10)))),
    ("6x19S, thick outer wires", (ISO, US), lambda: good(rope("6x19S"))),
    ("8x19S of 5/8 in", (ISO, US), lambda: good(rope("8x19S", diameter_mm=inch("5/8")))),
    ("8xK26WS, compacted", (ISO, US), lambda: good(rope("8xK26WS"))),
    ("8x41WS, more than 300 wires", (ISO, US), lambda: good(rope("8x41WS"))),
    ("35(W)x7, rotation-resistant", (ISO, US), lambda: good(rope("35(W)x7"))),
    ("35(W)xK7 of 22 mm", (ISO, US), lambda: good(rope("35(W)xK7", diameter_mm=Fraction(22)))),
    ("18x7, Lang lay", (ISO, US), lambda: good(rope("18x7", lay_type="lang"))),
    ("4x29F", (ISO, US), lambda: good(rope("4x29F"))),
    ("category number from the certificate", (ISO,), lambda: good(rope(given_rcn="08"))),
    ("ISO alone", (ISO,), good),
    ("29 CFR alone", (US,), good),
    ("a house rule alone", (HOUSE,), good),
    ("all three", (ISO, US, HOUSE), good),
    ("a standing rope", (ISO, US), lambda: good(use="standing", purpose="pendant")),
    ("persons lifted", (ISO, US), lambda: good(persons_lifted=True)),
    ("mechanism class M6", (ISO, US), lambda: good(mechanism_class="M6")),
    ("single-layer drum", (ISO, US),
     lambda: good(**one_exposure(drum="single", sheaves="steel"))),
    ("multi-layer drum without sheaves", (ISO, US),
     lambda: good(**one_exposure(drum="multi", sheaves="none"))),
    ("no drum at all, steel sheaves", (ISO, US),
     lambda: good(**one_exposure(drum="none", sheaves="steel"))),
    ("drum layers not known", (ISO, US),
     lambda: good(**one_exposure(drum="unknown", sheaves="steel"))),
    ("nothing said by section, all by the rigging", (ISO, US),
     lambda: good(exposed=(), rigging=(
         Rigging(valid_from=FITTED, drum_layers="single", sheaves="steel"),))),
    ("plastic sheaves that were changed for steel", (ISO, US),
     lambda: good(exposed=(), rigging=(
         Rigging(valid_from=FITTED, drum_layers="multi", sheaves="plastic"),
         Rigging(valid_from=EARLIER, drum_layers="multi", sheaves="steel")))),
    ("a monthly inspection after an annual one", (US,),
     lambda: with_annual_before(inspection("monthly", LATEST))),
    ("a monthly inspection with a reading after an annual one", (ISO, US),
     lambda: with_annual_before(
         inspection("monthly", LATEST, pair("20.2")), interval_days=60)),
    ("a periodic inspection", (ISO,), lambda: good(kind="periodic")),
    ("a first inspection", (ISO,), lambda: good(kind="first")),
    ("a shift check after the annual inspection", (ISO, US),
     lambda: dossier(inspection("annual", LATEST, pair("20.2")),
                     inspection("shift", date(2026, 3, 9), by=(COMPETENT,)))),
    ("one side by eye, and by hand", (ISO, US),
     lambda: with_passes(whole_pass("eye"), whole_pass("feel"))),
    ("looked all round in two parts", (ISO, US),
     lambda: with_passes(Pass(method="eye-round", section=Section(0, 120)),
                         Pass(method="eye-round", section=Section(110, 200)))),
    ("thin grease only", (ISO, US),
     lambda: dossier(inspection("annual", LATEST, pair("20.2"),
                                conditions=Conditions(grease="thin")))),
    ("no equaliser, no load sensor sheave, no hot places", (ISO, US),
     lambda: not_fitted("equaliser", "load sensor sheave", "hot places")),
    ("shortened twice and turned once", (ISO, US),
     lambda: good(history=RopeHistory(original_length_m=200.0, steps=(
         Cut(on=EARLIER, end="A", length_m=2), EndForEnd(on=EARLIER),
         Cut(on=date(2026, 2, 10), end="B", length_m=3))))),
    ("a broken wire that was cut off with its end", (ISO,),
     lambda: dossier(inspection("annual", EARLIER, breaks(0, at_m=198.5)),
                     inspection("annual", LATEST, pair("20.2")),
                     history=RopeHistory(original_length_m=200.0, steps=(
                         Cut(on=date(2026, 2, 10), end="B", length_m=3),)))),
    ("a snag, inspected and released by name", (ISO, US),
     lambda: good(events=(Event(event_id="snag", kind="snag", on=date(2026, 3, 1), release=Release(
         by="competent person of the site", on=LATEST, evidence="inspection of 2 March")),))),
    ("only the working length and five wraps were looked at", (ISO,),
     lambda: dossier(
         inspection("annual", LATEST, pair("20.2"),
                    passes=(Pass(method="eye-round", section=Section(0, 188)),)),
         working=Section(0, 180), drum_wrap_length_m=1.6)),
    ("a place hidden by grease that no rule asks for", (ISO,),
     lambda: dossier(
         inspection("annual", LATEST, pair("20.2"),
                    hidden=(HiddenSection(section=Section(190, 200)),)),
         working=Section(0, 180), drum_wrap_length_m=1.6)),
    ("exactly the reference diameter at three places", (ISO, US),
     lambda: dossier(inspection("annual", LATEST, *(
         pair("20.2", at_m=at, name=f"D{at}") for at in (5.0, 50.0, 150.0))))),
]  # fmt: skip


@pytest.mark.parametrize(("rules", "make"), [row[1:] for row in GOOD], ids=[r[0] for r in GOOD])
def test_a_good_rope_is_clear(rules: tuple[str, ...], make: Callable[[], Dossier]) -> None:
    verdict = judged(make(), *rules).verdict
    assert verdict.level == "clear", verdict.sentence
    assert verdict.governing == ()
    assert not verdict.on_hold


def test_they_are_at_least_twenty_and_all_different() -> None:
    made = [(rules, make()) for _, rules, make in GOOD]
    assert len(made) >= 20
    assert len({repr(one) for one in made}) == len(made)


@pytest.mark.parametrize(("rules", "make"), [row[1:] for row in GOOD], ids=[r[0] for r in GOOD])
def test_and_is_not_any_more_with_one_broken_wire(
    rules: tuple[str, ...], make: Callable[[], Dossier]
) -> None:
    one = make()
    *earlier, last = one.inspections
    added: BrokenWires = breaks(0, place=RopePlace(at_m=60.0), name="new")
    worse = replace(one, inspections=(*earlier, replace(last, findings=(*last.findings, added))))
    assert level(worse, *rules) != "clear"


@pytest.mark.parametrize(
    ("says", "spoil"),
    [
        ("an item not examined", {"examined": tuple(
            one for one in inspection("annual", LATEST).examined if one.item != "crossovers")}),
        ("an item not seen", {"examined": tuple(
            ExaminedItem(item=one.item, state="not seen" if one.item == "crossovers" else "seen")
            for one in inspection("annual", LATEST).examined)}),
        ("half a metre not passed", {"passes": (
            Pass(method="eye-round", section=Section(0, 199.5)),
            Pass(method="feel", section=Section(0, 199.5)))}),
        ("one side only, by eye", {"passes": (whole_pass("eye"),)}),
        ("a place hidden by grease", {"hidden": (HiddenSection(section=Section(50, 51)),)}),
        ("nobody named", {"by": ()}),
        ("only a trained person", {"by": (replace(COMPETENT, competence="trained"),)}),
        ("an expired certificate", {"by": (
            replace(QUALIFIED, certificate_expires=date(2026, 3, 1)),)}),
        ("no reading", {"findings": ()}),
        ("half a pair", {"findings": (replace(pair("20.2"), readings_mm=(Fraction("20.2"),)),)}),
        ("state of the grease not said", {"conditions": Conditions()}),
        ("no date for the next inspection", {"next_by": None}),
        ("the next inspection is overdue", {"next_by": date(2026, 3, 9)}),
        ("not finished", {"finished": False}),
    ],
)  # fmt: skip
def test_each_single_gap_is_incomplete(says: str, spoil: dict[str, Any]) -> None:
    latest = replace(good().inspections[0], **spoil)
    assert level(dossier(latest), ISO, US) == "incomplete", says


@pytest.mark.parametrize(
    ("says", "changes", "expected"),
    [
        ("sheave material not known",
         one_exposure(drum="multi", sheaves="unknown"), "incomplete"),
        ("plastic sheaves", one_exposure(drum="multi", sheaves="plastic"), "incomplete"),
        ("no reference diameter", {"reference": None}, "incomplete"),
        ("a snag that nobody released", {"events": (
            Event(event_id="snag", kind="snag", on=date(2026, 3, 1)),)}, "incomplete"),
        ("a snag after the inspection", {"events": (
            Event(event_id="snag", kind="snag", on=TODAY, release=Release(
                by="competent person", on=TODAY, evidence="looked at it")),)}, "incomplete"),
        ("idle for more than three months and not inspected since",
         {"idle_since": date(2025, 12, 5)}, "incomplete"),
        ("contact with a power line", {"events": (
            Event(event_id="line", kind="power line", on=date(2026, 3, 1), release=Release(
                by="competent person", on=LATEST, evidence="looked at it")),)}, "remove"),
    ],
)  # fmt: skip
def test_each_single_doubt_about_the_rope_is_not_clear(
    says: str, changes: dict[str, Any], expected: str
) -> None:
    assert level(good(**changes), ISO, US) == expected, says
