"""Use cases: what a person asks for, put together from facts and decisions.

This room knows the ports through which rule sets come in, and what one assessment needs.  It
refuses to know files, databases, paper and screens: those are behind the ports.
"""

from ropewright.desk.address import split_address
from ropewright.desk.foretelling import foretell
from ropewright.desk.judging import RuleShelf, choose_rule_sets, judge, record_of

__all__ = ["RuleShelf", "choose_rule_sets", "foretell", "judge", "record_of", "split_address"]
