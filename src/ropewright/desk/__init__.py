"""Use cases: what a person asks for, put together from facts and decisions.

This room knows the ports through which rule sets come in, and what one assessment needs.  It
refuses to know files, databases, paper and screens: those are behind the ports.
"""

from ropewright.desk.address import split_address
from ropewright.desk.assumed import AssumptionGroup, assumption_register
from ropewright.desk.foretelling import foretell, growth_of
from ropewright.desk.installing import (
    FittingGuide,
    FittingSaid,
    GuideStep,
    StepSaid,
    fitting_guide,
)
from ropewright.desk.installing_steps import FITTING_STEPS, RELEASE, FittingStep
from ropewright.desk.judging import RuleShelf, choose_rule_sets, judge, record_of
from ropewright.desk.ordering import ORDER_WORDS, order_sheet
from ropewright.desk.ordering_model import (
    ORDER_CAUTIONS,
    TO_FILL,
    OrderField,
    OrderSheet,
    OrderWish,
    order_as_data,
)
from ropewright.desk.ordering_values import read_order_values
from ropewright.desk.place_questions import (
    AtPoint,
    BroughtBack,
    FromEnd,
    FromMark,
    Near,
    OnDrum,
    Question,
    Whereabouts,
)
from ropewright.desk.places import bring_back, where_is
from ropewright.desk.planned import plan_for

__all__ = [
    "AssumptionGroup",
    "AtPoint",
    "BroughtBack",
    "FITTING_STEPS",
    "FittingGuide",
    "FittingSaid",
    "FittingStep",
    "FromEnd",
    "FromMark",
    "GuideStep",
    "Near",
    "ORDER_CAUTIONS",
    "ORDER_WORDS",
    "OnDrum",
    "OrderField",
    "OrderSheet",
    "OrderWish",
    "Question",
    "RELEASE",
    "RuleShelf",
    "StepSaid",
    "TO_FILL",
    "Whereabouts",
    "assumption_register",
    "bring_back",
    "choose_rule_sets",
    "fitting_guide",
    "foretell",
    "growth_of",
    "judge",
    "order_as_data",
    "order_sheet",
    "plan_for",
    "read_order_values",
    "record_of",
    "split_address",
    "where_is",
]
