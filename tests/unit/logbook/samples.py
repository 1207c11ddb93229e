"""Entries in few words, for the tests.  Everything here is invented."""

import itertools
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from ropewright.demo import demo_case, demo_names
from ropewright.inspection import Dossier, Person
from ropewright.intake import load_case, read_case
from tests.laws.building import dossier, inspection
from tests.unit.logbook.entries import DAY, NOBODY, begun, cluster

__all__ = ["DAY", "NOBODY", "NOON", "a_dossier", "begun", "case_dossiers", "cluster", "ticking"]

ROOT = Path(__file__).resolve().parents[3]
NOON = datetime(2026, 11, 10, 12, 0, tzinfo=UTC)


def ticking(start: datetime = NOON) -> Any:
    """A clock that moves on by a second each time it is read."""
    seconds = itertools.count()
    return lambda: start + timedelta(seconds=next(seconds))


def a_dossier(rope_id: str = "rope 1") -> Dossier:
    """A small dossier with a person in it."""
    one = dossier(inspection(by=(Person(role="rope inspector", name="inspector one"),)))
    return replace(one, rope=replace(one.rope, rope_id=rope_id))


def case_dossiers() -> Iterator[tuple[str, Dossier]]:
    """Every demo rope and every example that is a case file."""
    for name in demo_names():
        yield name, read_case(demo_case(name), file=f"{name}.toml").dossier
    for path in sorted((ROOT / "examples").glob("*.toml")):
        if path.read_text(encoding="utf-8").lstrip("# \n").find("[[inspection") >= 0:
            yield path.name, load_case(path).dossier
