"""What Ropewright takes for granted where no published rule speaks; each leans to safety."""

from typing import Final

from ropewright.inspection.assumption import Assumption
from ropewright.rules.ruling import Ruling

ASSUMPTIONS: Final[tuple[Assumption, ...]] = (
    Assumption(
        assumption_id="closed-window",
        says="A counting window is closed: breaks exactly one window apart count together.",
        effect="can only raise a count",
        shows="every ruling on broken wires",
    ),
    Assumption(
        assumption_id="unknown-lay",
        says="An unmeasured lay length lies between 6 d and 7.25 d (from memory).",
        effect="a count that passes the limit only in the longer window is not assessable",
        shows="rulings with a window of one lay",
    ),
    Assumption(
        assumption_id="unknown-stricter",
        says="Unknown lay type, core or drum layers: the stricter column is read.",
        effect="can only lower a limit",
        shows="derivation of every ruling that reads a table",
    ),
    Assumption(
        assumption_id="multi-layer-two-conditions",
        says="Multi-layer figures are read only if the whole section, with its error, lies in a "
        "crossover or flange zone of a multi-layer drum and a person says so of the damage.",
        effect="can only lower a limit",
        shows="derivation of every ruling that reads a break table",
    ),
    Assumption(
        assumption_id="unknown-sheaves",
        says="Unknown sheave material is treated as plastic: visible breaks do not tell enough.",
        effect="not assessable until the sheave material is stated",
        shows="rulings of rules written for steel sheaves",
    ),
    Assumption(
        assumption_id="end-zone",
        says="Breaks within 7.25 d of an end count as breaks at that end.",
        effect="can only bring the stricter end rule into play",
        shows="rulings on breaks at an end",
    ),
    Assumption(
        assumption_id="two-inspections",
        says="Counts of two inspections at one place may be the same breaks or more: the lower "
        "count takes one inspection, the upper count takes both.",
        effect="a count that passes the limit only together is not assessable",
        shows="rulings on broken wires with findings of two inspections",
    ),
    Assumption(
        assumption_id="same-finding-0.5m",
        says="Findings of one kind at most 0.5 m apart by their stated places are taken for the "
        "same one.",
        effect="decides whether an earlier finding counts as found again",
        shows="own check on earlier findings",
    ),
    Assumption(
        assumption_id="one-eye-pass-is-half",
        says="One eye pass sees one side: all-round looking, or an eye pass and a hand pass, "
        "are needed where a thorough inspection is asked for (common practice, no source).",
        effect="an eye pass alone leaves a thorough inspection incomplete",
        shows="rulings on coverage",
    ),
    Assumption(
        assumption_id="slight-diameter",
        says="A change of diameter below a fifth of a limit without printed grades is slight.",
        effect="such a change alone does not call for monitoring",
        shows="rulings on diameter of rules that print one percentage",
    ),
    Assumption(
        assumption_id="combined-30d",
        says="Damage of two kinds within 30 d of each other is at one place.",
        effect="can only raise a sum",
        shows="rulings on the combined effect",
    ),
    Assumption(
        assumption_id="one-valley-or-end-break",
        says="One valley break, or one break at an end, is for the competent person at once.",
        effect="'competent person to decide' before the published limit of two",
        shows="own checks",
    ),
    Assumption(
        assumption_id="higher-rating",
        says="Where a grade and a person's own rating are both given, the higher counts.",
        effect="can only raise a rating",
        shows="rulings on corrosion",
    ),
    Assumption(
        assumption_id="no-number",
        says="Where a chosen rule gives no number, the competent person decides, unless another "
        "chosen rule has a published number for that kind of finding; a house rule's own number "
        "does not count.",
        effect="'competent person to decide' on every such finding",
        shows="rulings of rules without numbers",
    ),
    Assumption(
        assumption_id="loss-adds-up",
        says="Metal lost adds up along the rope: a longer length holds at least what a shorter "
        "one does, and no more than was stated for it.",
        effect="a loss stated for another length than the window may be not assessable",
        shows="rulings on metallic loss",
    ),
    Assumption(
        assumption_id="wear-at-the-place",
        says="Worn outer wires lower the number of broken wires allowed where the wear may lie at "
        "the place, errors included; wear of unknown depth takes the smallest factor.",
        effect="can only lower a limit",
        shows="rulings of rules with factors for wear",
    ),
)


#: What a clause's name begins with, and the assumption that bears on it.
_BY_CLAUSE: Final = {
    "loss-": "loss-adds-up",
    "valley-one": "one-valley-or-end-break",
    "end-one": "one-valley-or-end-break",
    "combined": "combined-30d",
    "corrosion": "higher-rating",
}


#: Words in a step, in what is missing, or in a ruling, and the assumption that bears on them.
_BY_STEP: Final = {
    "lay length not measured": "unknown-lay",
    "outer wires are worn": "wear-at-the-place",
}


def _named_by(texts: set[str], words: dict[str, str]) -> set[str]:
    return {assumption for part, assumption in words.items() if any(part in text for text in texts)}


def assumptions_used(rulings: tuple[Ruling, ...]) -> tuple[str, ...]:
    """The assumptions that could bear on these rulings, in the order of the register."""
    bearing = [one for one in rulings if one.status not in ("not applicable", "not in force")]
    ids = {"unknown-stricter", "one-eye-pass-is-half", "same-finding-0.5m"}
    clauses = {one.clause_id for one in bearing}
    for start, assumption in _BY_CLAUSE.items():
        if any(clause.startswith(start) for clause in clauses):
            ids.add(assumption)
    if any("end" in clause.split("-") for clause in clauses):
        ids.add("end-zone")
    if any(one.window is not None for one in bearing):
        ids |= {"closed-window", "two-inspections", "multi-layer-two-conditions"}
    ids |= _named_by({step.says for one in bearing for step in one.steps}, _BY_STEP)
    ids |= _named_by(
        {text for one in bearing for text in one.missing}, {"sheave material": "unknown-sheaves"}
    )
    ids |= _named_by({one.words for one in bearing}, {"gives no number": "no-number"})
    ids |= _named_by({one.baseline or "" for one in bearing}, {"diameter": "slight-diameter"})
    return tuple(one.says for one in ASSUMPTIONS if one.assumption_id in ids)
