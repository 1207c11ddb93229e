"""The examples read without a complaint, are labelled, and use the whole format."""

import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from ropewright.inspection import BrokenWires, DiameterReading
from ropewright.intake import load_case
from ropewright.intake.case_model import CaseModel
from ropewright.intake.problems import models_in

EXAMPLES = Path(__file__).parents[3] / "examples"
FILES = sorted(EXAMPLES.glob("*.toml"))
RULES = ("house-template", "iso-4309-2017", "us-29cfr-1926-1413")


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_an_example_reads_without_doubt(path: Path) -> None:
    case = load_case(path, known_rules=RULES)
    assert case.warnings == ()
    assert case.dossier.invented
    assert "nvented" in path.read_text(encoding="utf-8").split("schema")[0]


def test_the_minimal_example_has_about_a_dozen_lines() -> None:
    lines = (EXAMPLES / "minimal.toml").read_text(encoding="utf-8").splitlines()
    said = [line for line in lines if line.strip() and not line.startswith(("#", "["))]
    assert len(said) <= 12


def _tables(model: type[BaseModel], path: str = "") -> set[str]:
    found = {path}
    for name, info in model.model_fields.items():
        for inner in models_in(info.annotation):
            found |= _tables(inner, f"{path}.{info.alias or name}")
    return found


def _used(data: Any, path: str = "") -> set[str]:
    if isinstance(data, list):
        return {one for item in data if isinstance(item, dict) for one in _used(item, path)}
    found = {path}
    for key, value in data.items():
        if isinstance(value, dict) or (isinstance(value, list) and value):
            found |= _used(value, f"{path}.{key}")
    return found


def test_the_full_example_uses_every_table() -> None:
    with (EXAMPLES / "full.toml").open("rb") as file:
        used = _used(tomllib.load(file))
    assert _tables(CaseModel) <= used


# ISO 4309:2017, 6.3.1, worked figures; from memory (facts: MEM-m), arithmetic checked by hand.
@pytest.mark.parametrize(
    ("name", "percent"), [("slight", "4.25"), ("very-high", "6.75"), ("discard", "7.5")]
)
def test_the_worked_figures_come_out_exactly(name: str, percent: str) -> None:
    dossier = load_case(EXAMPLES / f"worked-diameter-{name}.toml").dossier
    (reading,) = dossier.inspections[0].findings
    assert isinstance(reading, DiameterReading)
    reference = dossier.installation.reference
    assert reference is not None
    assert reference.measured_mm is not None
    assert reading.measured_mm is not None
    lost = reference.measured_mm - reading.measured_mm
    assert lost / dossier.rope.nominal_diameter_mm * 100 == Fraction(percent)


def test_us_units_are_taken_exactly() -> None:
    dossier = load_case(EXAMPLES / "overhead-us-units.toml").dossier
    assert dossier.rope.nominal_diameter_mm == Fraction("19.05")  # by hand: 0.75 × 25.4
    assert dossier.rope.lay_length_mm == Fraction("120.65")  # by hand: 4.75 × 25.4
    breaks, reading = dossier.inspections[-1].findings
    assert isinstance(breaks, BrokenWires)
    assert breaks.place.at_m == 12.3952  # by hand: 488 × 25.4 mm
    assert isinstance(reading, DiameterReading)
    # by hand: .735 in and 47/64 in
    assert reading.readings_mm == (Fraction("18.669"), Fraction(47, 64) * Fraction("25.4"))


def test_both_lists_of_the_example_are_read() -> None:
    case = load_case(EXAMPLES / "findings-list.toml")
    october, november = case.dossier.inspections
    assert [one.kind for one in october.findings] == ["broken wires", "diameter"]
    assert [one.kind for one in november.findings] == [
        "broken wires", "broken wires", "diameter", "diameter", "corrosion",
    ]  # fmt: skip
    cluster = november.findings[0]
    assert isinstance(cluster, BrokenWires)
    assert [group.strand for group in cluster.groups] == [2, 5, 2]
    assert set(case.findings_files) == {"findings.csv", "findings.xlsx"}
