"""Rules as data, and what they say of a rope.

This room knows rule sets (one published standard or regulation in one edition), their clauses,
limits and demands with provenance, and judges a dossier clause by clause.  Every comparison
with a cited limit happens here.  It refuses to know the clock, files and the network: rule
files come in as text, the date as an argument.  It never says a rope is safe.
"""

from ropewright.inspection.assumption import Assumption
from ropewright.rules.as_data import assessment_as_data, assessment_as_json, ruling_as_data
from ropewright.rules.assess import assess
from ropewright.rules.assumptions import ASSUMPTIONS
from ropewright.rules.bearing import clauses_bearing
from ropewright.rules.duties import DueDuty, DutyPlan, Hold, duties_of
from ropewright.rules.duty_data import duties_as_data
from ropewright.rules.limits import limit_words, table_words
from ropewright.rules.load import load_rule_set, rules_hash
from ropewright.rules.model import OWN_CHECKS, Clause, Duty, PermissionRule, RuleSet, Source
from ropewright.rules.resolved import (
    BunchedLimit,
    ClauseWords,
    CountLimit,
    DiameterLimit,
    Figure,
    FoundLimit,
    OfficeLimit,
    PartLimit,
    ResolvedLimit,
    WaveLimit,
    WornLimit,
    resolved_limits,
)
from ropewright.rules.ruling import (
    LEVEL_WORDS,
    LEVELS,
    PROVENANCES,
    STATUSES,
    Assessment,
    Found,
    Level,
    RuleSetUsed,
    Ruling,
    Step,
    Verdict,
)
from ropewright.rules.why import provenance_words, status_words, why

__all__ = [
    "ASSUMPTIONS",
    "Assessment",
    "Assumption",
    "BunchedLimit",
    "Clause",
    "ClauseWords",
    "CountLimit",
    "DiameterLimit",
    "DueDuty",
    "Duty",
    "DutyPlan",
    "Figure",
    "Found",
    "FoundLimit",
    "Hold",
    "LEVELS",
    "LEVEL_WORDS",
    "Level",
    "OWN_CHECKS",
    "OfficeLimit",
    "PROVENANCES",
    "PartLimit",
    "PermissionRule",
    "ResolvedLimit",
    "RuleSet",
    "RuleSetUsed",
    "Ruling",
    "STATUSES",
    "Source",
    "Step",
    "Verdict",
    "WaveLimit",
    "WornLimit",
    "assess",
    "assessment_as_data",
    "assessment_as_json",
    "clauses_bearing",
    "duties_as_data",
    "duties_of",
    "limit_words",
    "load_rule_set",
    "provenance_words",
    "resolved_limits",
    "rules_hash",
    "ruling_as_data",
    "status_words",
    "table_words",
    "why",
]
