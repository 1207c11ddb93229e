"""Golden values of the growth model, worked out once by nested adaptive quadrature.

Made anew by test_golden_proof.py: scipy.integrate.quad over ln T and ln c, relative tolerance
1e-6, with shape 1, one detection assumption (eye .95/.05, hand .9/.9), ln T ~ N(ln 5, .8),
ln c ~ N(ln 8, .8) cut at 2.8 standard deviations, limit 5.  The tolerance asked for is 5e-4.
"""

from typing import Final

from ropewright.inspection.findings import Method

#: Clocks, methods, newly found, chance of the limit at 0, .25 and 1 after the last look.
GOLDEN: Final[
    tuple[tuple[tuple[float, ...], tuple[Method, ...], tuple[int, ...], tuple[float, ...]], ...]
] = (
    ((0.5, 1, 1.5, 2, 2.5, 3), ("feel",) * 6, (0,) * 6, (0.00000, 0.00361, 0.06764)),
    ((1, 1.5, 2), ("eye",) * 3, (1, 1, 2), (0.87665, 0.95755, 0.99466)),
    ((1.5, 2, 2.5, 3), ("eye", "eye", "eye", "feel"), (1, 1, 0, 2), (0.20569, 0.60641, 0.91730)),
)
