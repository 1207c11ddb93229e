"""Shared by the tests of the case file reader: groups of broken wires as plain rows."""

from ropewright.inspection import BrokenWires, RopeFinding

Row = tuple[object, ...]


def groups_of(finding: RopeFinding, *names: str) -> list[Row]:
    """One row for each group of a cluster: its start, end and count, or the names asked for."""
    assert isinstance(finding, BrokenWires)
    asked = names or ("from_mm", "to_mm", "count")
    return [tuple(getattr(group, name) for name in asked) for group in finding.groups]
