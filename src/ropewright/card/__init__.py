"""The field card: all that a person at one rope needs when no office can be asked.

This room knows how to put one rope on a card: limits worked out to numbers, maps from crane
position to rope position, the plan with its directions and cautions, what stands open from last
time, the trade's lists.  It takes limits from the rules, the plan from the plan, places from
the geometry.  It refuses to know clocks, files, screens and paper, and it judges nothing: what
cannot be worked out beforehand is on the card as a question for the office.
"""

from ropewright.card.as_data import CARD_SCHEMA, card_as_data
from ropewright.card.assumed import ASSUMED, GOOD_FOR_DAYS
from ropewright.card.cautions import Caution
from ropewright.card.drums import CardDrum, CardLayer
from ropewright.card.last_time import LastTime, Point
from ropewright.card.making import field_card
from ropewright.card.map_errors import MapAxis
from ropewright.card.maps import PlaceMap
from ropewright.card.model import FieldCard
from ropewright.card.schema import card_schema

__all__ = [
    "ASSUMED",
    "CARD_SCHEMA",
    "CardDrum",
    "CardLayer",
    "Caution",
    "FieldCard",
    "GOOD_FOR_DAYS",
    "LastTime",
    "MapAxis",
    "PlaceMap",
    "Point",
    "card_as_data",
    "card_schema",
    "field_card",
]
