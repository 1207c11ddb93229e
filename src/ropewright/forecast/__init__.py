"""When the break limit may be passed, when to look next, when to order.

This room knows how broken wires multiply, how badly they are found, and how to turn what was
found into a chance, a date and a band; the course of other measures; the usual life of ropes;
how past recommendations came out.  It refuses to know any rule: limits, windows, the clock and
the interval that must not be passed are handed in.  It only ever shortens an interval.  Where
visible breaks do not tell the truth it gives no date but an action.
"""

from ropewright.forecast.as_data import forecast_as_data
from ropewright.forecast.assumed import ASSUMED
from ropewright.forecast.back_test import (
    Outcome,
    Recommendation,
    Score,
    back_test,
    score,
)
from ropewright.forecast.cases import CASES, TREATMENTS, Case, Situation, rows_for, unstated
from ropewright.forecast.clock import Clock, working_days
from ropewright.forecast.figure import ChanceDay, CourseDay, SeenThen, TrendFigure, trend_of
from ropewright.forecast.fitting import FINE, Fit, Grid, fit
from ropewright.forecast.forecasting import USUAL, forecast
from ropewright.forecast.of_dossier import RopeForecast, forecast_of, stated_caps
from ropewright.forecast.prior import (
    PRIORS_VERSION,
    Detection,
    Finds,
    Prior,
    detection_prior,
)
from ropewright.forecast.record import RopeRecord, record_of_rope
from ropewright.forecast.result import MODEL_VERSION, STATES, Band, Cap, Forecast, Policy
from ropewright.forecast.signs import signs_of_growth
from ropewright.forecast.stored import stored_outcomes, to_store
from ropewright.forecast.times import Curve, curve_of
from ropewright.forecast.trend import (
    CORROSION_STEPS,
    MEASURES,
    NoTrend,
    Reading,
    Trend,
    corrosion_course,
    trend,
)
from ropewright.forecast.trial import OwnDetection, own_detection
from ropewright.forecast.usual_life import (
    HOIST_TYPES,
    HoistType,
    Learnt,
    PastRope,
    learn,
    prior_for,
    usual_life_days,
)
from ropewright.forecast.zone import Limit, Look, Zone

__all__ = [
    "ASSUMED",
    "Band",
    "CASES",
    "CORROSION_STEPS",
    "Cap",
    "Case",
    "ChanceDay",
    "Clock",
    "CourseDay",
    "Curve",
    "Detection",
    "FINE",
    "Finds",
    "Fit",
    "Forecast",
    "Grid",
    "HOIST_TYPES",
    "HoistType",
    "Learnt",
    "Limit",
    "Look",
    "MEASURES",
    "MODEL_VERSION",
    "NoTrend",
    "Outcome",
    "OwnDetection",
    "PRIORS_VERSION",
    "PastRope",
    "Policy",
    "Prior",
    "Reading",
    "Recommendation",
    "RopeForecast",
    "RopeRecord",
    "STATES",
    "Score",
    "SeenThen",
    "Situation",
    "TREATMENTS",
    "Trend",
    "TrendFigure",
    "USUAL",
    "Zone",
    "back_test",
    "corrosion_course",
    "curve_of",
    "detection_prior",
    "fit",
    "forecast",
    "forecast_as_data",
    "forecast_of",
    "learn",
    "own_detection",
    "prior_for",
    "record_of_rope",
    "rows_for",
    "score",
    "signs_of_growth",
    "stated_caps",
    "stored_outcomes",
    "to_store",
    "trend",
    "trend_of",
    "unstated",
    "usual_life_days",
    "working_days",
]
