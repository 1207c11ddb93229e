"""Ordering and fitting as a person types it.  Invented data."""

import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import click
import pytest
from click.testing import CliRunner, Result

from ropewright.cli.install_commands import install_command
from ropewright.cli.order_commands import order_check_command, order_command, orders_command
from ropewright.cli.order_tools import RopeChangeTools
from ropewright.desk import ORDER_WORDS, RuleShelf, split_address
from ropewright.intake import PackageShelf, load_case, read_case
from ropewright.logbook import LogbookDesk
from ropewright.paper import order_pdf
from tests.unit.logbook.samples import ROOT, ticking
from tests.unit.paper.pdf import Pdf

TOWER = ROOT / "examples" / "tower-crane-geometry.toml"
DAY = date(2026, 11, 25)
NEW = """
schema = 1
invented = true
[crane]
id = "crane 7"
safe_working_load = "8 t on 2 falls"
[rope]
id = "new rope"
diameter = "20 mm"
construction = "35(W)x7"
length = "434 m"
lay_hand = "left"
[rope.certificate]
number = "certificate 2 (invented)"
breaking_force = "283 kN"
[installation]
rules = ["iso-4309-2017"]
"""


@dataclass(frozen=True)
class Wired:
    """What the commands are given, as the wiring does it."""

    software: str
    today: Callable[[], date]
    shelf: RuleShelf
    load_case: Any
    load_from_book: Any
    book_and_rope: Callable[[str], tuple[str, str] | None]
    demo_names: Callable[[], tuple[str, ...]]
    rope_change: RopeChangeTools


def run(command: click.Command, *words: object) -> Result:
    desk = LogbookDesk("ropewright test", now=ticking())
    tools = Wired(
        "ropewright test", lambda: DAY, PackageShelf(), load_case, desk.load, split_address,
        lambda: (), RopeChangeTools(orders=desk, fitting=desk, order_pdf=order_pdf),
    )  # fmt: skip
    return CliRunner().invoke(command, [str(word) for word in words], obj=tools)


def ok(command: click.Command, *words: object) -> str:
    result = run(command, *words)
    assert result.exit_code == 0, result.output
    return result.output


def refused(command: click.Command, *words: object) -> str:
    result = run(command, *words)
    assert result.exit_code == 2, result.output
    assert "Traceback" not in result.output
    return result.output


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A book with the crane's rope and the new one."""
    path = tmp_path / "site.book"
    desk = LogbookDesk("test", now=ticking())
    desk.init(str(path))
    desk.take_in(str(path), load_case(TOWER).dossier)
    desk.take_in(str(path), read_case(NEW, file="new.toml").dossier)
    return path


def test_an_order_is_kept_checked_and_printed(book: Path, tmp_path: Path) -> None:
    rope = load_case(TOWER).dossier.rope.rope_id
    address = f"{book}#{rope}"
    said = ok(order_command, TOWER)
    assert "[ ] to be filled in" in said
    assert "fields to be filled in." in said
    assert "second person" in said
    assert "a rope of a logbook" in refused(order_command, TOWER, "--keep", "--by", "x")
    assert "--by" in refused(order_command, address, "--keep")
    pdf = tmp_path / "order.pdf"
    asked = ["--crops", "12 m", "--ends", "2 m", "--by", "planner one", "--keep", "--order", "O1"]
    said = ok(order_command, address, *asked, "--pdf", pdf)
    assert "ropewright order-check" in said
    text = " ".join(" ".join(Pdf(pdf.read_bytes()).pages).split())
    assert "Order O1" in text
    assert "Checked by a second person" in text
    missing = refused(order_check_command, address, "O1", "--by", "engineer one")
    assert "nothing is to be filled in" in missing
    data = json.loads(ok(order_command, address, *asked, "--json"))
    assert [one["key"] for one in data["fields"]] == list(ORDER_WORDS)
    stated = []
    for key in data["to_be_filled_in"]:
        values = {
            "length_m": "434 m", "reel_bore_mm": "90 mm", "reel_mass_kg": "800 kg",
            "needed_by": "2027-01-10", "lead_weeks": "12", "lay_hand": "left", "lay_type": "lang",
            "plastic_core": "no", "compacted": "yes", "rotation_resistant": "yes",
            "drum_hand": "right", "grade_n_per_mm2": "1960 N/mm2", "breaking_force_kn": "283 kN",
            "drum_grooving": "parallel",
        }  # fmt: skip
        stated += ["--set", f"{key}={values.get(key, 'as the manual says')}"]
    assert "Every field is filled in." in ok(order_command, address, *asked, *stated)
    assert "another person" in refused(order_check_command, address, "O1", "--by", "planner one")
    assert '"O1" checked' in ok(order_check_command, address, "O1", "--by", "engineer one")
    assert "checked by engineer one" in ok(orders_command, address)
    assert "no order" in ok(orders_command, f"{book}#new rope")


def test_fitting_is_shown_said_and_released(book: Path) -> None:
    address = f"{book}#new rope"
    said = ok(install_command, address)
    assert "Not begun" in said
    assert "INVENTED DATA" in said
    assert "--by" in refused(install_command, address, "--begin")
    assert "one of --begin" in refused(install_command, address, "--begin", "--release")
    said = ok(install_command, address, "--begin", "--by", "fitter one")
    assert "ON HOLD until it is released by name." in said
    assert "[>] papers" in said
    said = ok(install_command, address, "--done", "papers", "--value", "reel tag=1", "--by", "x")
    assert "[x] papers" in said
    assert "[>] measured" in said
    assert "Secure the free end" in said  # the caution stands at the step that is next
    said = ok(install_command, address, "--not-right", "sheaves", "--remark", "small", "--by", "x")
    assert "[!] sheaves" in said
    assert "the rope stays on hold" in refused(install_command, address, "--release", "--by", "x")
    assert "a place and two readings" in refused(
        install_command, address, "--reference", "12 m", "--by", "x"
    )
    three = [word for at in (12, 20, 30) for word in ("--reference", f"{at} m: 20.4 mm, 20.5 mm")]
    said = ok(
        install_command, address, *three, "--tension", "empty hook", "--lay", "130 mm", "--by", "x"
    )
    assert "[x] reference" in said
    everything = ok(install_command, address, "--all")
    assert "spool with 5.66 kN or more" in everything  # by hand: 283 kN × 0.02
    assert "BOOK#ROPE" in refused(install_command, "new rope")
