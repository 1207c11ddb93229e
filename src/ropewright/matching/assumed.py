"""What the matching takes for granted where nothing published speaks, in the register's form."""

from typing import Final

from ropewright.inspection import Assumption
from ropewright.matching.alignment import MARK_ERR_M, SPOT_ERR_M, STRETCH, USUAL_SHIFT_M
from ropewright.matching.pairing import SURE

_SHOWN: Final = "forecast of a rope, and 'logbook match'"

ASSUMED: Final[tuple[Assumption, ...]] = (
    Assumption(
        assumption_id="matching-shift",
        says=f"Where no ± is stated, all places of one pass may be shifted by ± {USUAL_SHIFT_M:g} "
        f"m and stretched by ± {1000 * STRETCH:g} mm a metre; a finding lies ± {SPOT_ERR_M:g} m, "
        f"a mark ± {MARK_ERR_M:g} m among the others.",
        effect="widens what counts as the same place; doubtful patterns make every pair doubtful",
        shows=_SHOWN,
    ),
    Assumption(
        assumption_id="matching-sure",
        says=f"From {100 * SURE:g} % on a pair counts as the same finding without a person.",
        effect="below it the counts are taken as totals, and a person is asked",
        shows=_SHOWN,
    ),
    Assumption(
        assumption_id="matching-vanished",
        says="Steel does not heal: a finding that vanished without a cut stays, its count too, "
        "until a person names why; even then the count stays.",
        effect="never lowers a count",
        shows=_SHOWN,
    ),
)
