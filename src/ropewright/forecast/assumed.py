"""What a forecast takes for granted where nothing published speaks, in the register's form."""

from typing import Final

from ropewright.forecast.chains import SAME_PLACE_M
from ropewright.forecast.clock import RECENT_DAYS, USUAL_SPREAD
from ropewright.forecast.prior import DETECTION_WORDS, PRIORS_VERSION, Prior
from ropewright.forecast.record import SAME_ZONE_D
from ropewright.forecast.result import Policy
from ropewright.forecast.signs import DOUBLED_BY, FIRST_CLUSTER
from ropewright.forecast.usual_life import ENOUGH_ROPES, HOIST_TYPES
from ropewright.inspection import Assumption

_POLICY: Final = Policy()
_PRIOR: Final = Prior(life=1.0, life_from="")
_SHOWN: Final = "forecast of a rope, and its page in the report"

ASSUMED: Final[tuple[Assumption, ...]] = (
    Assumption(
        assumption_id="forecast-chance-taken",
        says=f"A chance of {100 * _POLICY.alpha:g} % of passing the limit before the next "
        f"inspection is taken; {100 * _POLICY.alpha_persons:g} % where persons are lifted or "
        "nobody says.",
        effect="sets the next inspection; never beyond the interval of rule, maker or person",
        shows=_SHOWN,
    ),
    Assumption(
        assumption_id="forecast-present-chance",
        says=f"Above a chance of {100 * _POLICY.alarm:g} % that the limit is reached today but "
        "unseen there is no date.",
        effect="asks for a closer look now instead of a date",
        shows=_SHOWN,
    ),
    Assumption(
        assumption_id="forecast-detection",
        says=f"{DETECTION_WORDS} What a pass missed it tends to miss again.",
        effect="more may be unseen than was found; shortens the interval after eye passes",
        shows=_SHOWN,
    ),
    Assumption(
        assumption_id="forecast-usual-life",
        says="Usual life of a rope, if nobody states it: "
        + ", ".join(f"{one.name} {one.years:g} years" for one in HOIST_TYPES)
        + f"; spread {_PRIOR.life_spread:g} in the logarithm. {ENOUGH_ROPES} ropes of one's own "
        "replace it.",
        effect="sets how long a clean rope may wait; the worst error is one far too long",
        shows=_SHOWN,
    ),
    Assumption(
        assumption_id="forecast-growth",
        says=f"Broken wires grow by {_PRIOR.steepness:g} e-folds over a usual life, spread "
        f"{_PRIOR.steepness_spread:g} in the logarithm; some places burst (gamma shape "
        + ", ".join(f"{value:g}" for value, _ in _PRIOR.clustering)
        + f"). Priors {PRIORS_VERSION}.",
        effect="a single find may become many within weeks; early dates come from here",
        shows=_SHOWN,
    ),
    Assumption(
        assumption_id="forecast-zone",
        says=f"Clusters no farther apart than {SAME_ZONE_D:g} rope diameters are one zone; "
        "zones of one exposure share their life, clean rope beside them teaches them nothing.",
        effect="idle rope cannot make a hot place look younger",
        shows=_SHOWN,
    ),
    Assumption(
        assumption_id="forecast-same-place",
        says="A finding that nobody named and the matching is not sure of is taken for the same "
        f"cluster within {SAME_PLACE_M:g} m beyond both their errors, its count as a total.",
        effect="the highest count stays; more may be unseen",
        shows=_SHOWN,
    ),
    Assumption(
        assumption_id="forecast-clock",
        says="Without a duty log a rope ages by days. With one it ages by damage, told in days of "
        f"average work; the pace to come is that of the last {RECENT_DAYS} days, never below the "
        f"average, spread {USUAL_SPREAD:g} in the logarithm where readings are few.",
        effect="a rope that works harder of late is looked at sooner",
        shows=_SHOWN,
    ),
    Assumption(
        assumption_id="forecast-old-clean-rope",
        says="A clean rope past half its usual life is given no more than at its last look before.",
        effect="only ever shortens",
        shows=_SHOWN,
    ),
    Assumption(
        assumption_id="forecast-shortest-interval",
        says=f"Below {_POLICY.useful_days:g} days, or below delivery and change, an interval is "
        "not worth planning for.",
        effect="plan the rope change",
        shows=_SHOWN,
    ),
    Assumption(
        assumption_id="forecast-signs-of-growth",
        says=f"A count that doubled between two inspections by at least {DOUBLED_BY}, not by a "
        f"closer method, or {FIRST_CLUSTER} broken wires within 6 d where none was known.",
        effect="competent person to decide now, whatever the model says",
        shows="assessment and forecast of a rope",
    ),
)
