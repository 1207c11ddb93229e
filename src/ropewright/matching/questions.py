"""Questions for a person, in words: a finding that vanished, a count that fell."""

from ropewright.inspection import BrokenWires, Inspection, RopeFinding


def vanished(finding: RopeFinding, before: Inspection, after: Inspection) -> str:
    """The question about a finding that was not found again though its place was gone over."""
    where = f"{finding.kind} at {finding.place.at_m:.2f} m of {before.on}"
    if isinstance(finding, BrokenWires):
        ends = (
            "its ends were broken off, so a hand cannot feel them"
            if finding.ends_broken_off
            else "ends that broke off can no longer be felt"
        )
        wires, were = ("broken wire", "was") if finding.count == 1 else ("broken wires", "were")
        return (
            f"{finding.count} {wires} at {finding.place.at_m:.2f} m of {before.on} {were} not "
            f"found again on {after.on}: look there again by eye; {ends}. The count stays."
        )
    return f"{where} was not found again on {after.on}: look there again. It still counts."


def fewer_than_before(then: BrokenWires, now: BrokenWires) -> str:
    """The question about a count that fell; empty if it did not."""
    if now.count >= then.count:
        return ""
    return (
        f"{then.count} broken wires were counted at {then.place.at_m:.2f} m before and "
        f"{now.count} now: count again. The higher count stays."
    )
