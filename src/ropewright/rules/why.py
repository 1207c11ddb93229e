"""The derivation of one ruling as steps a person can read and check by hand."""

from ropewright.rules.ruling import PROVENANCES, Ruling
from ropewright.rules.words import number, place_words

_PROVENANCE_WORDS = {
    "text": "read in the rule itself",
    "second-hand": "read in a second-hand source",
    "derived": "worked out from other printed values",
    "reconstructed": "reconstructed",
    "memory": "from memory - check against your own copy",
    "own": "Ropewright's own, not from any standard",
}
if set(_PROVENANCE_WORDS) != set(PROVENANCES):  # a new provenance needs its words
    raise RuntimeError("words missing for a provenance")

_STATUS_WORDS = {
    "below": "criterion not reached",
    "reached": "criterion reached",
    "not assessable": "cannot be judged yet",
    "not applicable": "does not apply",
    "not in force": "not in force on this date",
}


def provenance_words(provenance: str) -> str:
    """Where a value comes from, in words a reader understands."""
    return _PROVENANCE_WORDS[provenance]


def status_words(status: str) -> str:
    """A status in plain words."""
    return _STATUS_WORDS[status]


def why(ruling: Ruling) -> list[str]:
    """Lines that derive a ruling: clause, steps, comparison, what follows, what is missing."""
    value, number_of = (
        provenance_words(ruling.provenance),
        provenance_words(ruling.clause_provenance),
    )
    lines = [
        f"{ruling.citation}: {ruling.title}",
        f"  value: {value}; clause number: {number_of}",
        *([f"  {ruling.confirmed}"] if ruling.confirmed else []),
        f"  source: {ruling.source}",
        "",
        f"{ruling.words}",
    ]
    if ruling.section is not None:
        lines.append(f"  place: {place_words(ruling.section, ruling.section_err_m)}")
    if ruling.finding_ids:
        lines.append(f"  findings: {', '.join(ruling.finding_ids)}")
    if ruling.steps:
        lines.append("")
    for count, step in enumerate(ruling.steps, start=1):
        origin = f"   [{step.origin}]" if step.origin else ""
        lines.append(f"  {count}. {step.says}: {step.value}{origin}")
    lines.append("")
    lines.extend(_comparison(ruling))
    if ruling.status == "reached":
        lines.append(f"  what follows: {', or '.join(ruling.remedy)}")
        lines.append(f"  who: {ruling.who}; by when: {ruling.by_when}")
    for missing in ruling.missing:
        lines.append(f"  missing: {missing}")
    for get in ruling.how_to_get:
        lines.append(f"  how to get it: {get}")
    if ruling.note:
        lines.append(f"  note: {ruling.note}")
    lines.append(f"  rule files: SHA-256 {ruling.rules_hash}")
    return lines


def _comparison(ruling: Ruling) -> list[str]:
    verdict = f"  => {ruling.status}: {status_words(ruling.status)}"
    found = ruling.found
    if found is None or ruling.limit is None or ruling.compare is None:
        return [verdict]
    sign = {"reached": ">=", "more than": ">", "less than": "<"}[ruling.compare]
    value = number(found.lower)
    if not found.is_exact:
        value = f"{number(found.lower)} (sure) to {number(found.upper)} (possible)"
    lines = [f"  is {value} {sign} {number(ruling.limit)} {found.unit}?"]
    if ruling.share is not None:
        lines.append(f"  share of the limit: {float(ruling.share) * 100:.0f} %")
    return [*lines, verdict]
