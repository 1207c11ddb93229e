"""A rope like KQ-1's, built by hand: dossier and assessment for pictures and paper. Invented."""

from dataclasses import replace
from datetime import date
from fractions import Fraction
from typing import Any

from ropewright.geometry import ExposedSection, Exposure, RopePlace, Section
from ropewright.inspection import (
    BreakGroup,
    BrokenWires,
    Conditions,
    Crane,
    Damage,
    DiameterReading,
    Dossier,
    Event,
    ExaminedItem,
    HiddenSection,
    Inspection,
    Installation,
    Instrument,
    Mark,
    PartFinding,
    Pass,
    Permission,
    Person,
    ReferenceDiameter,
    Release,
    Rigging,
    UnseenAcceptance,
    Waviness,
)
from ropewright.rope import (
    Certificate,
    Cut,
    Rope,
    RopeHistory,
    StrandNumbers,
    build_construction,
)
from ropewright.rules.ruling import Assessment, Found, RuleSetUsed, Ruling, Step, Verdict

#: What a person may type that other programs take for orders.
HOSTILE = (
    'Grease #panic("x") *bold* <b>&amp;</b> _i_ $x$ @ref \\ end // `raw` [a](b) 50 % ~ ^ {} "q"'
)
EMOJI = "crack? 😀⚠️ 索 \u202e\u200d\x07"
MADE_ON = date(2026, 11, 20)


def mm(text: str) -> Fraction:
    return Fraction(text)


def place(at: float, err: float = 1.0, rel: float = 0.02) -> RopePlace:
    return RopePlace(at_m=at, abs_err_m=err, rel_err_m=rel)


def breaks(
    finding_id: str, at: float, groups: list[tuple[str, str, int, int | None]], **more: Any
) -> BrokenWires:
    err = more.pop("err", 1.0)
    return BrokenWires(
        finding_id=finding_id,
        place=place(at, err),
        groups=tuple(
            BreakGroup(from_mm=mm(low), to_mm=mm(high), count=count, strand=strand)
            for low, high, count, strand in groups
        ),
        offset_err_mm=mm("2"),
        method="feel",
        **more,
    )


def diameter(finding_id: str, at: float, *readings: str) -> DiameterReading:
    return DiameterReading(
        finding_id=finding_id,
        place=place(at),
        readings_mm=tuple(map(mm, readings)),
        instrument="plate caliper 2",
        method="gauge",
    )


ROPE = Rope(
    rope_id="KQ-1 hoist",
    nominal_diameter_mm=mm("20"),
    construction=build_construction(name="35(W)x7", given=StrandNumbers(core="steel")),
    length_m=420.0,
    lay_type="lang",
    lay_hand="left",
    grade_n_per_mm2=mm("1960"),
    finish="galvanised",
    certificate=Certificate(number="KQ-C-0417", issued_on=date(2024, 12, 2),
                            minimum_breaking_force_kn=mm("282")),
)  # fmt: skip

CRANE = Crane(
    crane_id="KQ-1",
    kind="trolley-jib tower crane",
    site="Kestrel Quay, hospital extension",
    site_address="Quay Road 4, Brackwater",
    zone="Europe/Lisbon",
    owner="crane owner (invented)",
    owner_address="Basin Street 12, Brackwater",
    safe_working_load="8 t at 2 falls",
    built="2017",
)

INSTALLATION = Installation(
    hoist="hoist",
    fitted_on=date(2025, 1, 14),
    mechanism_class="M4",
    persons_lifted=False,
    exposed=(
        ExposedSection(section=Section(6.2, 60), exposure=Exposure(
            drum="none", sheaves="steel", crossover=False, near_end=False, bends=True)),
        ExposedSection(section=Section(60, 415), exposure=Exposure(
            drum="multi", sheaves="steel", crossover=None, near_end=False, bends=True)),
        ExposedSection(section=Section(286, 288.5), exposure=Exposure(
            drum="multi", sheaves="steel", crossover=True, near_end=False, bends=True)),
        ExposedSection(section=Section(331, 333), exposure=Exposure(
            drum="multi", sheaves="steel", crossover=True, near_end=False, bends=True)),
        ExposedSection(section=Section(415, 420), exposure=Exposure(
            drum="unknown", sheaves="none", crossover=None, near_end=True, bends=None)),
    ),
    working=Section(6.2, 405),
    reference=ReferenceDiameter(
        on=date(2025, 1, 28), tension="empty hook",
        readings=(diameter("R1", 9, "20.6", "20.5"), diameter("R2", 10, "20.6", "20.5"),
                  diameter("R3", 11, "20.6", "20.5")),
    ),
    rules=("iso-4309-2017", "us-29cfr-1926-1413"),
    permissions=(Permission(rule_set="iso-4309-2017", permission="double-m5-m8",
                            by="lifting manager", on=date(2026, 1, 5), reason="not used: M4"),),
    interval_days=90,
    interval_by="competent person",
    lubricant="type approved by the crane manual",
)  # fmt: skip

INSPECTOR = Person(
    role="competent person, rope inspector",
    name="",
    qualification="wire rope examiner, level 2; lifting equipment",
    competence="competent",
    certificate="WRE-2231",
    certificate_expires=date(2027, 6, 30),
    employer="examining body (invented)",
    address="Harbour Walk 9, Brackwater",
    independent=True,
)
OPERATOR = Person(role="crane operator", competence="trained", employer="crane owner (invented)")

CLUSTER = breaks(
    "F1", 287.1,
    [("0", "0", 1, 3), ("18", "18", 1, 3), ("41", "41", 1, 4), ("55", "62", 2, 11),
     ("160", "160", 1, 4), ("380", "380", 1, 9)],
    remark="At the crossover of layer 2. " + HOSTILE, crossover_damage=None,
    ends_broken_off=True, photos=("IMG_2201.jpg",), same_as="E1",
)  # fmt: skip

FINDINGS = (
    CLUSTER,
    breaks("F2", 332.0, [("0", "0", 1, 7), ("70", "70", 1, None)], remark=EMOJI),
    breaks("F3", 41.3, [("0", "0", 1, None)]),
    diameter("F4", 12.0, "20.5", "20.4"),
    diameter("F5", 287.4, "19.7", "19.5"),
    diameter("F6", 332.2, "20.0", "19.9"),
    diameter("F7", 398.0, "20.2"),
    Damage(finding_id="F8", place=place(330.6), damage="flat", grade="slight", length_m=1.8,
           method="eye", remark="wraps rub where the rope climbs to layer 3"),
    Damage(finding_id="F9", place=place(14.2), damage="corrosion", form="external",
           grade="wipes off", length_m=2.4, method="eye"),
    Waviness(finding_id="F10", place=place(201.0), gap_mm=mm("1.1"), length_m=0.5, method="gauge"),
)  # fmt: skip

INSPECTION = Inspection(
    inspection_id="KQ-1-2026-11-18",
    kind="periodic",
    on=date(2026, 11, 18),
    by=(INSPECTOR, OPERATOR),
    passes=(
        Pass(method="eye", section=Section(6.2, 405), point="tower head platform",
             hook_from_m=61, hook_to_m=2, rope_speed_m_per_s=0.25),
        Pass(method="eye-round", section=Section(280, 295), point="tower head platform"),
        Pass(method="eye-round", section=Section(6.2, 20), point="end A, block down"),
        Pass(method="feel", section=Section(20, 390), point="tower head platform"),
        Pass(method="gauge", section=Section(286, 289), point="tower head platform"),
    ),
    hidden=(HiddenSection(section=Section(120, 150), cause="grease"),
            HiddenSection(section=Section(418, 420), cause="drum clamp")),
    accepted=(UnseenAcceptance(section=Section(405, 420), by="lifting manager",
                               until=date(2026, 12, 18),
                               reason="dead wraps; block cannot reach the ground"),),
    examined=(
        ExaminedItem(item="end A fitting", state="seen"),
        ExaminedItem(item="drum anchorage", state="not seen", remark="behind the guard"),
        ExaminedItem(item="sheaves", state="seen"),
        ExaminedItem(item="crossovers", state="seen"),
        ExaminedItem(item="equaliser", state="not fitted"),
    ),
    conditions=Conditions(light="overcast, head lamp", weather="dry, 9 °C", wind="4 m/s",
                          rope_cleaned=True, grease="right", tension="empty hook",
                          remark="radio check done, stop word agreed"),
    instruments=(
        Instrument(name="plate caliper 2", kind="caliper with plates", resolution_mm=mm("0.05"),
                   calibrated_on=date(2026, 2, 3), calibration_due=date(2027, 2, 3)),
        Instrument(name="sheave gauges", kind="groove gauges"),
    ),
    findings=FINDINGS,
    part_findings=(
        PartFinding(finding_id="P1", part="sheave", which="trolley sheave 2",
                    state="rope print in groove", measured={"groove radius": mm("10.4")},
                    remark="print about 0.3 mm deep"),
        PartFinding(finding_id="P2", part="spooling", which="layer 2, motor side",
                    state="gap in layer", dangerous=False),
    ),
    next_by=date(2027, 2, 18),
    remark="Block let down to 2 m; the lower limit switch stops it there.",
)  # fmt: skip

EARLIER = Inspection(
    inspection_id="KQ-1-2026-08-20",
    kind="periodic",
    on=date(2026, 8, 20),
    by=(INSPECTOR,),
    passes=(Pass(method="eye", section=Section(0, 390)),
            Pass(method="feel", section=Section(20, 380))),
    findings=(breaks("E1", 287.3, [("0", "0", 1, 3), ("20", "20", 1, 3)]),),
)  # fmt: skip

DOSSIER = Dossier(
    crane=CRANE,
    rope=ROPE,
    installation=INSTALLATION,
    history=RopeHistory(
        original_length_m=420.0,
        steps=(Cut(on=date(2026, 3, 9), end="A", length_m=6.2, reason="worn at the block"),),
    ),
    rigging=(
        Rigging(valid_from=date(2025, 1, 14), falls=2, drum_layers="multi",
                drum_grooving="parallel", drum_diameter_mm=mm("480"), sheaves="steel",
                hook_low_m=2.0, hook_high_m=61.0, dead_wraps=4.0),
    ),
    marks=(
        Mark(name="7", place=place(286.9), made_of="blue paint", on=date(2026, 8, 20)),
        Mark(name="8", place=place(331.8), made_of="blue paint", on=date(2026, 8, 20)),
        Mark(name="zero", place=place(6.2, 0.0), made_of="white paint"),
    ),
    events=(
        Event(event_id="EV1", kind="slack rope", on=date(2026, 10, 2), section=Section(300, 410),
              remark="block landed on the slab",
              release=Release(by="lifting manager", on=date(2026, 10, 3),
                              evidence="inspection after the event")),
    ),
    inspections=(EARLIER, INSPECTION),
    people=(INSPECTOR, OPERATOR),
    invented=True,
    title="Kestrel Quay, KQ-1 hoist rope",
)  # fmt: skip

ISO: dict[str, Any] = {
    "rule_set": "iso-4309-2017", "rule_title": "ISO 4309:2017", "edition": "2017",
    "provenance": "memory", "clause_provenance": "memory", "rules_hash": "a1" * 32,
    "source": "ISO 4309:2017, Table 4, recalled; no stored text found",
    "inspection_id": "KQ-1-2026-11-18",
}  # fmt: skip
CFR: dict[str, Any] = {
    "rule_set": "us-29cfr-1926-1413", "rule_title": "29 CFR 1926.1413", "edition": "2010",
    "provenance": "text", "clause_provenance": "text", "rules_hash": "b2" * 32,
    "source": "29 CFR 1926.1413, text", "inspection_id": "KQ-1-2026-11-18",
}  # fmt: skip
OWN: dict[str, Any] = {
    "rule_set": "own-checks", "rule_title": "Ropewright's own checks", "edition": "1",
    "provenance": "own", "clause_provenance": "own", "rules_hash": "c3" * 32,
    "source": "Ropewright, assumption register", "inspection_id": "KQ-1-2026-11-18",
}  # fmt: skip


def counted(lower: int, upper: int, unit: str = "broken wires") -> Found:
    return Found(lower=Fraction(lower), upper=Fraction(upper), unit=unit)


def percent(value: str) -> Found:
    return Found(lower=mm(value), upper=mm(value), unit="%")


AT_F1 = Section(287.071, 287.191)
RULINGS = (
    Ruling(
        ruling_id="us-29cfr-1926-1413/rotation-resistant-6d/1",
        clause_id="rotation-resistant-6d", clause="(a)(2)(ii)(A)(2)",
        title="broken wires in 6 d, rotation-resistant rope", status="reached",
        words="5 broken wires in 6 d at 287.13 m ± 1.0 m; limit 2 (reached)", compare="reached",
        found=counted(5, 5), limit=Fraction(2), share=Fraction(5, 2), window="6 d",
        window_mm=mm("120"), section=AT_F1, section_err_m=1.0, demand="remove",
        remedy=("replace the rope", "cut it out if the damage is local",
                "follow the maker's removal criterion if approved in writing for this rope"),
        who="competent person", by_when="before further use", finding_ids=("F1",),
        steps=(Step(says="counting window 6 d", value="6 × 20 mm = 120 mm"),), **CFR,
    ),
    Ruling(
        ruling_id="us-29cfr-1926-1413/rotation-resistant-30d/1",
        clause_id="rotation-resistant-30d", clause="(a)(2)(ii)(A)(2)",
        title="broken wires in 30 d, rotation-resistant rope", status="reached",
        words="7 broken wires in 30 d at 287.29 m ± 1.0 m; limit 4 (reached)", compare="reached",
        found=counted(7, 7), limit=Fraction(4), share=Fraction(7, 4), window="30 d",
        window_mm=mm("600"), section=Section(286.99, 287.59), section_err_m=1.0, demand="remove",
        remedy=("replace the rope", "cut it out if the damage is local"),
        who="competent person", by_when="before further use", finding_ids=("F1",), **CFR,
    ),
    Ruling(
        ruling_id="iso-4309-2017/breaks-rotation-resistant-6d/1",
        clause_id="breaks-rotation-resistant-6d", clause="Table 4, RCN 23-2",
        title="broken wires in 6 d, rotation-resistant rope", status="reached",
        words="5 broken wires in 6 d at 287.13 m ± 1.0 m; limit 3 (reached)", compare="reached",
        found=counted(5, 5), limit=Fraction(3), share=Fraction(5, 3), window="6 d",
        window_mm=mm("120"), section=AT_F1, section_err_m=1.0, demand="remove",
        remedy=("replace the rope",), who="competent person", by_when="at once",
        finding_ids=("F1",), rating_percent=Fraction(100),
        note="n = 112 after the Seale rule; single-layer column, because nobody says that the "
        "breaks come from crossovers", **ISO,
    ),
    Ruling(
        ruling_id="iso-4309-2017/breaks-rotation-resistant-30d/1",
        clause_id="breaks-rotation-resistant-30d", clause="Table 4, RCN 23-2",
        title="broken wires in 30 d, rotation-resistant rope", status="reached",
        words="7 broken wires in 30 d at 287.29 m ± 1.0 m; limit 5 (reached)", compare="reached",
        found=counted(7, 7), limit=Fraction(5), share=Fraction(7, 5), window="30 d",
        window_mm=mm("600"), section=Section(286.99, 287.59), section_err_m=1.0, demand="remove",
        remedy=("replace the rope",), who="competent person", by_when="at once",
        finding_ids=("F1",), **ISO,
    ),
    Ruling(
        ruling_id="iso-4309-2017/breaks-rotation-resistant-6d/2",
        clause_id="breaks-rotation-resistant-6d", clause="Table 4, RCN 23-2",
        title="broken wires in 6 d, rotation-resistant rope", status="below",
        words="2 broken wires in 6 d at 332.04 m ± 1.0 m; limit 3 (reached)", compare="reached",
        found=counted(2, 2), limit=Fraction(3), share=Fraction(2, 3), window="6 d",
        window_mm=mm("120"), section=Section(331.975, 332.095), section_err_m=1.0,
        demand="remove", finding_ids=("F2",), **ISO,
    ),
    Ruling(
        ruling_id="us-29cfr-1926-1413/rotation-resistant-6d/2",
        clause_id="rotation-resistant-6d", clause="(a)(2)(ii)(A)(2)",
        title="broken wires in 6 d, rotation-resistant rope", status="not assessable",
        words="between 1 and 2 broken wires in 6 d at 332.04 m ± 1.0 m; limit 2 (reached)",
        compare="reached", found=counted(1, 2), limit=Fraction(2), share=Fraction(1), window="6 d",
        window_mm=mm("120"), section=Section(331.975, 332.095), section_err_m=1.0,
        demand="remove", missing=("an exact count",),
        how_to_get=("count it closely: lay a strip of the window's length on the worst spot",),
        finding_ids=("F2",), **CFR,
    ),
    Ruling(
        ruling_id="iso-4309-2017/uniform-diameter/1", clause_id="uniform-diameter",
        clause="6.3.1, Table 5", title="uniform decrease in diameter", status="below",
        words="19.6 mm at 287.40 m: 4.75 % below the reference diameter; limit 5 % (reached)",
        compare="reached", baseline="reference diameter 20.55 mm", found=percent("4.75"),
        limit=Fraction(5), share=mm("0.95"), rating_percent=Fraction(80),
        section=Section(287.4, 287.4), section_err_m=1.0, demand="remove", finding_ids=("F5",),
        **ISO,
    ),
    Ruling(
        ruling_id="us-29cfr-1926-1413/diameter/1", clause_id="diameter",
        clause="(a)(2)(ii)(B)", title="diameter below nominal", status="below",
        words="19.6 mm at 287.40 m: 2 % below nominal; limit 5 % (more than)",
        compare="more than", baseline="nominal diameter 20 mm", found=percent("2"),
        limit=Fraction(5), share=mm("0.4"), section=Section(287.4, 287.4), section_err_m=1.0,
        demand="remove", finding_ids=("F5",), **CFR,
    ),
    Ruling(
        ruling_id="iso-4309-2017/uniform-diameter/2", clause_id="uniform-diameter",
        clause="6.3.1, Table 5", title="uniform decrease in diameter", status="not assessable",
        words="one reading of 20.2 mm at 398.00 m: a second at right angles is missing",
        baseline="reference diameter 20.55 mm", section=Section(398, 398), section_err_m=1.0,
        missing=("the second reading at right angles",),
        how_to_get=("measure twice at right angles at one place",), finding_ids=("F7",), **ISO,
    ),
    Ruling(
        ruling_id="iso-4309-2017/combined/1", clause_id="combined", clause="Annex F",
        title="combined effect at one place", status="reached",
        words="ratings 100 % and 80 % add up to 180 % at 287.1 m to 287.5 m ± 1.0 m",
        compare="reached", found=percent("180"), limit=Fraction(100), share=mm("1.8"),
        section=Section(287.1, 287.5), section_err_m=1.0, demand="decide",
        remedy=("competent person decides",), who="competent person", by_when="at once",
        finding_ids=("F1", "F5"), **ISO,
    ),
    Ruling(
        ruling_id="iso-4309-2017/periodic-coverage/1", clause_id="periodic-coverage",
        clause="5.3", title="whole length seen at the periodic inspection",
        status="not assessable",
        words="45.0 m of the whole rope not covered by eye (lifting manager accepts this until "
        "2026-12-18: dead wraps; block cannot reach the ground)",
        section=Section(120, 420), missing=("eye: 120.0 m to 150.0 m and 405.0 m to 420.0 m",),
        how_to_get=("inspect these sections by eye; clean them first",), **ISO,
    ),
    Ruling(
        ruling_id="us-29cfr-1926-1413/grease/1", clause_id="grease", clause="(d)",
        title="lubricant that hides the rope", status="reached",
        words="grease hides the wires: 120.0 m to 150.0 m", share=Fraction(1),
        section=Section(120, 150), demand="decide", remedy=("clean the section", "inspect again"),
        who="competent person", by_when="at this inspection", **CFR,
    ),
    Ruling(
        ruling_id="iso-4309-2017/waviness-bending/1", clause_id="waviness-bending",
        clause="6.6.2", title="waviness, rope that bends", status="below",
        words="gap 1.1 mm at 201.25 m ± 1.0 m; limit 2 mm (reached)", compare="reached",
        found=Found(lower=mm("1.1"), upper=mm("1.1"), unit="mm"), limit=Fraction(2),
        share=mm("0.55"), section=Section(201, 201.5), section_err_m=1.0, demand="remove",
        finding_ids=("F10",), **ISO,
    ),
    Ruling(
        ruling_id="us-29cfr-1926-1413/standing/1", clause_id="standing",
        clause="(a)(2)(ii)(A)(3)", title="standing ropes", status="not applicable",
        words="does not apply to this rope or use", **CFR,
    ),
    Ruling(
        ruling_id="iso-4309-2017/mrt/1", clause_id="mrt", clause="5.6",
        title="magnetic rope test", status="not in force", words="not in force on this date", **ISO,
    ),
    Ruling(
        ruling_id="own-checks/vanished/1", clause_id="vanished", clause="own 3",
        title="earlier finding not found again", status="below",
        words="no earlier finding is left unanswered", **OWN,
    ),
)  # fmt: skip

VERDICT = Verdict(
    level="remove",
    governing=tuple(one.ruling_id for one in RULINGS[:4]),
    on_hold=True,
    hold_reasons=("a discard criterion is reached",),
    remedy=("replace the rope", "cut it out if the damage is local",
            "follow the maker's removal criterion if approved in writing for this rope"),
    who="competent person",
    by_when="before further use",
    sentence="Remove from service: 5 broken wires in 6 d at 287.13 m ± 1.0 m; limit 2 (reached). "
    "29 CFR 1926.1413, (a)(2)(ii)(A)(2) (3 more).",
    unseen=(Section(405, 420),),
)  # fmt: skip

ASSESSMENT = Assessment(
    rope_id="KQ-1 hoist",
    as_of="2026-11-20",
    software="ropewright 0.1.0",
    verdict=VERDICT,
    rulings=RULINGS,
    rule_sets=(
        RuleSetUsed(rule_set="iso-4309-2017", title="ISO 4309, Cranes, wire ropes, care and "
                    "maintenance, inspection and discard", edition="2017", rules_hash="a1" * 32,
                    why_used="chosen for this installation",
                    notice="Most figures rest on memory: check them against your own copy."),
        RuleSetUsed(rule_set="us-29cfr-1926-1413", title="29 CFR 1926.1413, Wire rope, inspection",
                    edition="2010", rules_hash="b2" * 32, why_used="chosen for this installation"),
        RuleSetUsed(rule_set="own-checks", title="Ropewright's own checks", edition="1",
                    rules_hash="c3" * 32, why_used="used beside every chosen rule"),
    ),
    assumptions=(
        "A hand pass finds 0.4 of the crown breaks on rotation-resistant rope.",
        "Lay length not measured: the longest plausible lay of 7.25 d is used.",
    ),
    inspections_used=("KQ-1-2026-11-18",),
)  # fmt: skip


def with_findings(*findings: Any, dossier: Dossier = DOSSIER) -> Dossier:
    """The sample with other findings in its latest inspection."""
    latest = replace(dossier.inspections[-1], findings=findings)
    return replace(dossier, inspections=(*dossier.inspections[:-1], latest))


def clear_case() -> tuple[Dossier, Assessment]:
    """The same rope with nothing found, all seen, nothing reached; not invented data."""
    latest = replace(
        INSPECTION, findings=(), part_findings=(), hidden=(), accepted=(),
        passes=(Pass(method="eye-round", section=Section(0, 420)),
                Pass(method="feel", section=Section(0, 420))),
    )  # fmt: skip
    dossier = replace(DOSSIER, inspections=(latest,), events=(), invented=False)
    verdict = Verdict(
        level="clear", governing=(), on_hold=False, hold_reasons=(), remedy=(), who="",
        by_when="", sentence="No discard criterion reached.",
    )  # fmt: skip
    rulings = tuple(
        replace(one, status="below", section=None, share=Fraction(0), found=None, finding_ids=(),
                words="nothing found")
        for one in RULINGS[:6]
    )  # fmt: skip
    return dossier, replace(ASSESSMENT, verdict=verdict, rulings=rulings)
