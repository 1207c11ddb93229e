"""Judging one rope: choose its rule sets, assess it, make the record of it."""

import json
from collections.abc import Sequence
from datetime import date
from typing import Any, Protocol

from ropewright.inspection import Dossier
from ropewright.rules import OWN_CHECKS, Assessment, RuleSet, assess, assessment_as_data
from ropewright.units import as_plain_data


class RuleShelf(Protocol):
    """Where rule sets come from."""

    def names(self) -> tuple[str, ...]:
        """Names of all rule sets that can be asked for."""

    def get(self, name: str) -> RuleSet:
        """The rule set with a name; an unknown name is an error that lists near ones."""


def choose_rule_sets(
    dossier: Dossier, shelf: RuleShelf, *, added: Sequence[str] = ()
) -> tuple[RuleSet, ...]:
    """The installation's rule sets, those added on top, and our own checks, each once."""
    names = dict.fromkeys((*dossier.installation.rules, *added))
    names.pop(OWN_CHECKS, None)
    return tuple(shelf.get(name) for name in (*names, OWN_CHECKS))


def judge(
    dossier: Dossier,
    shelf: RuleShelf,
    as_of: date,
    *,
    software: str,
    added: Sequence[str] = (),
) -> Assessment:
    """Assess a rope with its own rule sets and any that are added."""
    return assess(dossier, choose_rule_sets(dossier, shelf, added=added), as_of, software=software)


def record_of(dossier: Dossier, assessment: Assessment, *, case_file: str, case_hash: str) -> bytes:
    """The record that goes with a report: canonical JSON, same input, same bytes."""
    data: dict[str, Any] = {
        "record": 1,
        "invented": dossier.invented,
        "case_file": case_file,
        "case_sha256": case_hash,
        "dossier": as_plain_data(dossier),
        "assessment": assessment_as_data(assessment),
    }
    return (json.dumps(data, ensure_ascii=False, indent=1) + "\n").encode()
